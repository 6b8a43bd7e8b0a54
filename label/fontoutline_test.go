package label

import (
	"encoding/binary"
	"fmt"
	"slices"
	"strings"
	"testing"

	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
)

// outlines is a font of glyphs with the data given, of which nothing is drawn.
func outlines(glyphs ...[]byte) fontTables {
	f := fontTables{"head": make([]byte, 54), "maxp": make([]byte, 32), "loca": words32(0)}
	binary.BigEndian.PutUint16(f["head"][50:], 1)
	binary.BigEndian.PutUint16(f["maxp"][4:], uint16(len(glyphs)))
	for _, g := range glyphs {
		f["glyf"] = append(f["glyf"], g...)
		f["loca"] = append(f["loca"], words32(uint32(len(f["glyf"])))...)
	}
	return f
}

// madeOf is a glyph of other glyphs (OpenType 1.9.1, "glyf", composite glyphs).
func madeOf(parts ...int) []byte {
	data := words16(-1, 0, 0, 0, 0)
	for i, p := range parts {
		more := 0x0020
		if i == len(parts)-1 {
			more = 0
		}
		data = append(data, words16(more, p, 0)...)
	}
	return data
}

// Glyphs cost as much as their parts do; what is made of itself, of glyphs that
// are not there, in too many layers, or is cut short, counts as unreadable.
func TestCostOfGlyphs(t *testing.T) {
	triangle := words16(1, 0, 0, 9, 9, 2) // the last point is number 2
	two := words16(2, 0, 0, 9, 9, 2, 6)   // two contours, of which the second ends with point 6
	const unread = mostPoints + 1
	for i, c := range []struct {
		glyphs [][]byte
		want   []int
	}{
		{[][]byte{nil, triangle, two}, []int{1, 4, 8}},
		{[][]byte{triangle, madeOf(0, 0), madeOf(1, 0)}, []int{4, 9, 14}},
		{[][]byte{madeOf(1), madeOf(0)}, []int{unread, unread}},
		{[][]byte{madeOf(0), triangle}, []int{unread, 4}},
		{[][]byte{madeOf(2), triangle}, []int{unread, 4}},
		{[][]byte{madeOf(1), triangle}, []int{5, 4}},
		{[][]byte{triangle[:11]}, []int{unread}},
		{[][]byte{two[:12]}, []int{unread}},
		{[][]byte{triangle[:9]}, []int{unread}},
		{[][]byte{words16(0, 0, 0, 9, 9)}, []int{1}}, // no contours, and nothing more
		{[][]byte{madeOf(0)[:10]}, []int{unread}},
		{[][]byte{madeOf(0)[:14]}, []int{unread}},
	} {
		if got := outlines(c.glyphs...).countPoints(); !slices.Equal(got, c.want) {
			t.Errorf("font %d: %v, want %v", i, got, c.want)
		}
	}
	for layers, fits := range map[int]bool{8: true, 9: false} {
		var glyphs [][]byte
		for n := range layers {
			glyphs = append(glyphs, madeOf(n+1))
		}
		got := outlines(append(glyphs, triangle)...).countPoints()
		if (got[0] <= mostPoints) != fits {
			t.Errorf("%d layers: %v", layers, got)
		}
	}
	for cut := range 6 { // of the six bytes of a second part
		data := append(words16(0x0020, 7, 0), words16(0, 9, 0)[:cut]...)
		if parts, ok := partsOf(data); ok {
			t.Errorf("a second part of %d bytes: %v", cut, parts)
		}
	}
	if parts, ok := partsOf(nil); ok {
		t.Errorf("no parts at all: %v", parts)
	}
}

// fontWith is a good font in which a glyph has other data.
func fontWith(t *testing.T, glyph sfnt.GlyphIndex, data []byte) fontTables {
	t.Helper()
	tables := taken(t)
	places, of := tables.places(), outlines()
	for g := range tables.glyphs() {
		piece := tables["glyf"][places[g]:places[g+1]]
		if g == int(glyph) {
			piece = data
		}
		of["glyf"] = append(of["glyf"], piece...)
		of["loca"] = append(of["loca"], words32(uint32(len(of["glyf"])))...)
	}
	tables["glyf"], tables["loca"] = of["glyf"], of["loca"]
	copy(tables["head"][50:], words16(1)) // places of 32 bits
	return tables
}

// glyphOf is the glyph of a letter in the font that fontWith changes.
func glyphOf(t *testing.T, r rune) sfnt.GlyphIndex {
	t.Helper()
	source, err := sfnt.Parse(goregular.TTF)
	if err != nil {
		t.Fatal(err)
	}
	glyph, err := source.GlyphIndex(new(sfnt.Buffer), r)
	if err != nil {
		t.Fatal(err)
	}
	return glyph
}

// outlineOf is the data of a glyph with so many points, of which three make a
// triangle and the others lie on the last of them.
func outlineOf(points int) []byte {
	data := words16(1, 0, 0, 100, 100, points-1, 0)
	flags := []byte{0x31, 0x33, 0x35} // at the origin; 100 to the right; 100 upward
	for left := points - 3; left > 0; {
		run := min(left, 256)
		flags = append(flags, 0x39, byte(run-1)) // where the one before is
		left -= run
	}
	data = append(append(data, flags...), 100, 100)
	for len(data)%4 != 0 {
		data = append(data, 0)
	}
	return data
}

// An outline of up to 12,999 points is drawn; a glyph that has one more counts as
// lacking.
func TestOutlinesOfManyPoints(t *testing.T) {
	a := glyphOf(t, 'A')
	for points, drawn := range map[int]bool{mostPoints - 1: true, mostPoints: false} { // one more counts for the glyph itself
		face, err := NewTypeface("Names", "", fontWith(t, a, outlineOf(points)).file())
		if err != nil {
			t.Fatal(err)
		}
		if face.Has('A') != drawn || !face.Has('B') {
			t.Errorf("%d points: drawn is %v, and the glyph beside it %v", points, face.Has('A'), face.Has('B'))
		}
	}
}

// A font whose characters stand for more than 16 million points is refused before
// any is drawn; characters that are not drawn do not count.
func TestFontsOfTooManyPoints(t *testing.T) {
	a := glyphOf(t, 'A')
	for points, says := range map[int]string{mostPoints - 1: "has outlines of too many points", mostPoints: "draws no letter that can be read"} {
		tables := fontWith(t, a, outlineOf(points))
		const chars = mostPointsOfAll/mostPoints + 1
		m := append(words16(0, 1, 3, 10), words32(12, 12<<16, 16+12*chars, 0, chars)...)
		for i := range uint32(chars) {
			m = append(m, words32(0x4e00+i, 0x4e00+i, uint32(a))...)
		}
		tables["cmap"] = m
		if _, err := NewTypeface("Names", "", tables.file()); err == nil || err.Error() != says {
			t.Errorf("%d characters of %d points: %v, want %q", chars, points, err, says)
		}
	}
}

// An outline is written as it is read: closed by itself, without contours of one
// point; one without area, and one too large for its numbers, is none.
func TestOutlinesThatAreKept(t *testing.T) {
	at := func(x, y int) [3]fixed.Point26_6 { return [3]fixed.Point26_6{{X: fixed.I(x), Y: fixed.I(y)}} }
	move := func(x, y int) sfnt.Segment { return sfnt.Segment{Op: sfnt.SegmentOpMoveTo, Args: at(x, y)} }
	line := func(x, y int) sfnt.Segment { return sfnt.Segment{Op: sfnt.SegmentOpLineTo, Args: at(x, y)} }
	curve := func(x1, y1, x2, y2 int) sfnt.Segment {
		s := sfnt.Segment{Op: sfnt.SegmentOpQuadTo, Args: at(x1, y1)}
		s.Args[1] = at(x2, y2)[0]
		return s
	}
	const most = 16383 // half of what 16 bits hold
	for _, c := range []struct {
		name string
		from sfnt.Segments
		want string // points, * for those off the outline, and the ends of contours
		ok   bool
	}{
		{"triangle", sfnt.Segments{move(0, 0), line(10, 0), line(10, -10)}, "0,0 10,0 10,10 [2]", true},
		{"closed triangle", sfnt.Segments{move(0, 0), line(10, 0), line(10, -10), line(0, 0)}, "0,0 10,0 10,10 [2]", true},
		{"bow", sfnt.Segments{move(0, 0), curve(5, -9, 10, 0)}, "0,0 5,9* 10,0 [2]", true},
		{"two contours", sfnt.Segments{move(0, 0), line(10, 0), line(10, -10), move(20, 0), line(30, -5)}, "0,0 10,0 10,10 20,0 30,5 [2 4]", true},
		{"a point between", sfnt.Segments{move(0, 0), line(10, 0), line(10, -10), move(50, 50), move(20, 0), line(30, -5)}, "0,0 10,0 10,10 20,0 30,5 [2 4]", true},
		{"a point twice between", sfnt.Segments{move(0, 0), line(10, 0), line(10, -10), move(50, 50), line(50, 50), move(20, 0), line(30, -5)}, "0,0 10,0 10,10 20,0 30,5 [2 4]", true},
		{"a point", sfnt.Segments{move(5, 5)}, "[]", true},
		{"level", sfnt.Segments{move(0, 5), line(10, 5)}, "[]", true},
		{"upright", sfnt.Segments{move(5, 0), line(5, 10)}, "[]", true},
		{"a line", sfnt.Segments{move(0, 0), line(1, 1)}, "0,0 1,-1 [1]", true},
		{"nothing", nil, "[]", true},
		{"large", sfnt.Segments{move(-most, most), line(most, 0), line(0, -most)}, fmt.Sprintf("-%d,-%d %d,0 0,%d [2]", most, most, most, most), true},
		{"too far right", sfnt.Segments{move(0, 0), line(most+1, 0), line(9, 9)}, "", false},
		{"too far left", sfnt.Segments{move(0, 0), line(-most-1, 0), line(9, 9)}, "", false},
		{"too far up", sfnt.Segments{move(0, 0), line(0, -most-1), line(9, 9)}, "", false},
		{"too far down", sfnt.Segments{move(0, 0), line(0, most+1), line(9, 9)}, "", false},
		{"the second too far", sfnt.Segments{move(0, 0), line(10, 0), line(10, -10), move(most+1, 0), move(most+1, 9)}, "", false},
		{"of another kind", sfnt.Segments{move(0, 0), {Op: sfnt.SegmentOpCubeTo}}, "", false},
	} {
		g, ok := newGlyph(c.from)
		var points []string
		for _, p := range g.points {
			points = append(points, fmt.Sprintf("%d,%d%s", p.x, p.y, map[bool]string{true: "*"}[p.curve]))
		}
		got := strings.TrimSpace(strings.Join(points, " ") + " " + fmt.Sprint(g.ends))
		if ok != c.ok || ok && got != c.want {
			t.Errorf("%s: %s, %v, want %s, %v", c.name, got, ok, c.want, c.ok)
		}
		if ok && len(g.points) > 0 {
			if contours, n, _ := simpleGlyph(t, g.appendTo(nil)); contours != len(g.ends) || n != len(g.points) {
				t.Errorf("%s: is written as %d contours of %d points", c.name, contours, n)
			}
		}
	}
}

// A letter that is drawn and has no width is none, and a mark that joins a letter
// may have none; a space shows nothing and has a width.
func TestWidthsOfKeptGlyphs(t *testing.T) {
	square, _ := newGlyph(sfnt.Segments{{Op: sfnt.SegmentOpMoveTo}, {Op: sfnt.SegmentOpLineTo, Args: [3]fixed.Point26_6{{X: 640}}}, {Op: sfnt.SegmentOpLineTo, Args: [3]fixed.Point26_6{{X: 640, Y: -640}}}})
	for _, c := range []struct {
		char    rune
		drawn   bool
		advance uint16
		kept    bool
	}{{'A', true, 500, true}, {'A', true, 0, false}, {'A', true, 1, true}, {'A', false, 500, false}, {'\u0301', true, 0, true}, {'\u0301', false, 0, false}, {' ', false, 300, true}, {'\u00a0', false, 0, true}} {
		b := fontBuilder{}
		g := newGlyphData{bounds: noBounds}
		if c.drawn {
			g = square
		}
		b.add(c.char, g, c.advance)
		if kept := len(b.chars) == 1; kept != c.kept {
			t.Errorf("%q, drawn %v, %d wide: kept is %v", c.char, c.drawn, c.advance, kept)
		}
	}
	var buf sfnt.Buffer
	for _, r := range "Mø ." {
		ttf, err := Regular.Subset(map[rune]bool{r: true})
		if err != nil {
			t.Fatal(err)
		}
		f, err := sfnt.Parse(ttf)
		if err != nil {
			t.Fatal(err)
		}
		i, _ := f.GlyphIndex(&buf, r)
		wide, err := f.GlyphAdvance(&buf, i, fixed.I(int(f.UnitsPerEm())), font.HintingNone)
		if want := Regular.Width(string(r)); err != nil || i != 1 || float64(wide)/64/float64(f.UnitsPerEm()) != want {
			t.Errorf("%q alone is %v wide, want %v em (%v)", r, wide, want, err)
		}
	}
}
