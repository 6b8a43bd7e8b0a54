package label

import (
	"encoding/binary"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"unicode"

	"codeberg.org/go-fonts/liberation/liberationsansregular"
	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
)

// taken is a good font taken apart, whose tables a test may spoil.
func taken(t testing.TB) fontTables {
	t.Helper()
	tables, err := readFontTables(slices.Clone(goregular.TTF))
	if err != nil {
		t.Fatal(err)
	}
	for tag, table := range tables {
		tables[tag] = slices.Clone(table)
	}
	return tables
}

// A font written anew draws every character of 16 bits as the file does, and as
// wide: golang.org/x/image/font/sfnt reads both. The fonts of the system add
// maps of other forms, where there are any.
func TestRewrittenFontDrawsTheSame(t *testing.T) {
	fonts := map[string][]byte{"Go": goregular.TTF, "Liberation": liberationsansregular.TTF}
	files, _ := filepath.Glob("/usr/share/fonts/truetype/*/*.ttf")
	for _, file := range files[:min(3, len(files))] {
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		fonts[filepath.Base(file)] = data
	}
	for name, file := range fonts {
		was, err := sfnt.Parse(file)
		if err != nil {
			t.Fatal(name, err)
		}
		face, err := NewTypeface("Names", "", file)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		is, em := face.font, fixed.I(int(was.UnitsPerEm()))
		var buf sfnt.Buffer
		drawn := 0
		for r := rune(0); r <= lastChar; r++ {
			if unicode.Is(unicode.M, r) { // never set; some have points for positions
				continue
			}
			i, err := was.GlyphIndex(&buf, r)
			if err != nil {
				t.Fatal(name, err)
			}
			j, err := is.GlyphIndex(&buf, r)
			if err != nil {
				t.Fatal(name, err)
			}
			want, wide, err := was.GlyphBounds(&buf, i, em, font.HintingNone)
			if err != nil {
				t.Fatal(name, err)
			}
			if j == 0 {
				if i != 0 && !want.Empty() && wide > 0 {
					t.Errorf("%s: %q is lost", name, r)
				}
				continue
			}
			drawn++
			got, now, err := is.GlyphBounds(&buf, j, em, font.HintingNone)
			const most = fixed.Int26_6(64) // a font unit, since parts may be scaled
			if off := max(abs26(got.Min.X-want.Min.X), abs26(got.Min.Y-want.Min.Y), abs26(got.Max.X-want.Max.X), abs26(got.Max.Y-want.Max.Y)); err != nil || off > most || now != wide {
				t.Errorf("%s: %q lies in %v, %v wide; it was in %v, %v wide (%v)", name, r, got, now, want, wide, err)
			}
			if was, is := contours(t, was, i, em), contours(t, is, j, em); !alike(was, is) {
				t.Errorf("%s: the outline of %q is %v; it was %v", name, r, is, was)
			}
		}
		if drawn < 600 {
			t.Errorf("%s: only %d characters are drawn", name, drawn)
		}
	}
}

// A font cut down to the letters of a name draws these as before and no others.
func TestSubset(t *testing.T) {
	const name = "Mørkeby × ♀ Äöß"
	chars := map[rune]bool{'\u0e01': true} // which none of the fonts has
	for _, r := range name {
		chars[r] = true
	}
	for _, whole := range []*Typeface{Regular, Bold, Signs} {
		ttf, err := whole.Subset(chars)
		if err != nil {
			t.Fatal(err)
		}
		small, err := openTypeface(whole.Name, ttf)
		if err != nil {
			t.Fatal(err)
		}
		for r := rune(0); r <= lastChar; r++ {
			if want := chars[r] && whole.Has(r); small.Has(r) != want {
				t.Fatalf("%s: %q is drawn: %v, want %v", whole.Name, r, small.Has(r), want)
			}
		}
		above, below := small.Extent(name)
		if a, b := whole.Extent(name); above != a || below != b || small.Width(name) != whole.Width(name) {
			t.Errorf("%s: %q measures otherwise", whole.Name, name)
		}
		tables, err := readFontTables(ttf)
		if err != nil {
			t.Fatal(err)
		}
		// A table's sum is that of its words, zeros added at its end; that of the head
		// does not count the sum of the file (OpenType 1.9.1, "Calculating checksums").
		for at, entry := 12+16*len(tables), ttf[12:]; len(entry) > 16 && len(tables) > 0; entry = entry[16:] {
			tag := string(entry[:4])
			table, known := tables[tag]
			if !known {
				break
			}
			padded := append(slices.Clone(table), 0, 0, 0)
			var sum uint32
			for i := range len(padded) / 4 {
				sum += uint32(padded[4*i])<<24 | uint32(padded[4*i+1])<<16 | uint32(padded[4*i+2])<<8 | uint32(padded[4*i+3])
			}
			if tag != "head" && binary.BigEndian.Uint32(entry[4:]) != sum {
				t.Errorf("%s: the sum of table %s is %08x, not %08x", whole.Name, tag, binary.BigEndian.Uint32(entry[4:]), sum)
			}
			end := at + len(table)
			for at += (len(table) + 3) &^ 3; end < at; end++ {
				if ttf[end] != 0 {
					t.Errorf("%s: table %s is followed by %d, not by zeros", whole.Name, tag, ttf[end])
				}
			}
			delete(tables, tag)
		}
		if len(tables) > 0 {
			t.Errorf("%s: %d tables are not in the list", whole.Name, len(tables))
		}
		tables, err = readFontTables(ttf)
		if err != nil {
			t.Fatal(err)
		}
		// Glyphs lie on addresses that 4 divides, as OpenType recommends of those of
		// 32 bits, and the widths of hhea are of its one format, 0.
		for _, at := range tables.places() {
			if at%4 != 0 {
				t.Errorf("%s: a glyph begins at %d", whole.Name, at)
			}
		}
		if format := binary.BigEndian.Uint16(tables["hhea"][32:]); format != 0 {
			t.Errorf("%s: the format of hhea is %d", whole.Name, format)
		}
		if format := binary.BigEndian.Uint16(tables["head"][52:]); format != 0 { // the one there is
			t.Errorf("%s: the format of glyphs is %d", whole.Name, format)
		}
		// A name table without names ends where its texts begin (OpenType 1.9.1, "name").
		if texts := int(binary.BigEndian.Uint16(tables["name"][4:])); texts != len(tables["name"]) {
			t.Errorf("%s: names begin at %d of %d bytes", whole.Name, texts, len(tables["name"]))
		}
		low := int16(binary.BigEndian.Uint16(tables["head"][38:]))
		_, deepest := whole.Extent("Mørkeby×♀Äöß")
		if want := -deepest * float64(whole.units) / 64; math.Abs(float64(low)-want) > 1 {
			t.Errorf("%s: head says that letters reach down to %d, not to %.0f", whole.Name, low, want)
		}
		if len(ttf)*10 > len(whole.TTF) {
			t.Errorf("%s: %d of %d bytes are left", whole.Name, len(ttf), len(whole.TTF))
		}
	}
}

// Characters in a row make one segment of the map; the last segment is that of
// U+FFFF, as the format wants it (OpenType 1.9.1, "cmap", format 4).
func TestSegmentsOfAMap(t *testing.T) {
	for text, segments := range map[string]uint16{"ABC": 2, "ACE": 4, "AB DE": 4} {
		chars := map[rune]bool{}
		for _, r := range text {
			chars[r] = true
		}
		ttf, err := Bold.Subset(chars)
		if err != nil {
			t.Fatal(err)
		}
		tables, err := readFontTables(ttf)
		if err != nil {
			t.Fatal(err)
		}
		cmap := tables["cmap"][12:]
		if got := binary.BigEndian.Uint16(cmap[6:]) / 2; got != segments {
			t.Errorf("%q makes %d segments, want %d", text, got, segments)
		}
		last := int(segments) - 1 // of each array: ends, beginnings, what to add; U+FFFF is to become glyph 0
		for array, want := range map[int]uint16{14: 0xffff, 16 + 2*int(segments): 0xffff, 16 + 4*int(segments): 1} {
			if got := binary.BigEndian.Uint16(cmap[array+2*last:]); got != want {
				t.Errorf("%q: the last segment has %04x at %d, want %04x", text, got, array, want)
			}
		}
	}
}

// A glyph is as costly as it has points: of a simple one the number is one more
// than that of its last point (OpenType 1.9.1, "glyf").
func TestPointsAreCounted(t *testing.T) {
	tables := taken(t)
	places, glyf, counts := tables.places(), tables["glyf"], tables.countPoints()
	simple := 0
	for i, n := range counts {
		data := glyf[places[i]:places[i+1]]
		if len(data) == 0 || int16(binary.BigEndian.Uint16(data)) <= 0 {
			continue
		}
		simple++
		last := int(binary.BigEndian.Uint16(data[8+2*binary.BigEndian.Uint16(data):]))
		if n != last+2 { // one more counts for the glyph itself
			t.Fatalf("glyph %d: %d points, and the last one is number %d", i, n, last)
		}
	}
	if simple < 100 {
		t.Errorf("only %d simple glyphs", simple)
	}
}

// contours are a glyph's outlines, each as the points that it goes through and
// bends towards; a point that comes back to the start of a contour is left out.
func contours(t *testing.T, f *sfnt.Font, glyph sfnt.GlyphIndex, em fixed.Int26_6) [][]fixed.Point26_6 {
	t.Helper()
	var buf sfnt.Buffer
	segments, err := f.LoadGlyph(&buf, glyph, em, nil)
	if err != nil {
		t.Fatal(err)
	}
	var all [][]fixed.Point26_6
	for _, s := range segments {
		if s.Op == sfnt.SegmentOpMoveTo {
			all = append(all, nil)
		}
		c := &all[len(all)-1]
		switch s.Op {
		case sfnt.SegmentOpQuadTo:
			*c = append(*c, s.Args[0], s.Args[1])
		default:
			*c = append(*c, s.Args[0])
		}
	}
	for i, c := range all {
		if n := len(c) - 1; n > 0 && c[n] == c[0] {
			all[i] = c[:n]
		}
	}
	return slices.DeleteFunc(all, func(c []fixed.Point26_6) bool { return len(c) < 2 })
}

// alike reports whether outlines have the same points, give or take a font unit.
func alike(a, b [][]fixed.Point26_6) bool {
	return slices.EqualFunc(a, b, func(a, b []fixed.Point26_6) bool {
		return slices.EqualFunc(a, b, func(p, q fixed.Point26_6) bool { return max(abs26(p.X-q.X), abs26(p.Y-q.Y)) <= 64 })
	})
}

func abs26(v fixed.Int26_6) fixed.Int26_6 { return max(v, -v) }

// What a file is instead of a TrueType font, and what is wrong with one, is said
// before anything is drawn with it. The table tags and flags are those of the
// OpenType specification 1.9.1.
func TestFontsRefused(t *testing.T) {
	spoil := func(change func(fontTables)) []byte {
		tables := taken(t)
		change(tables)
		return tables.file()
	}
	rights := func(flags uint16) []byte {
		return spoil(func(f fontTables) { binary.BigEndian.PutUint16(f["OS/2"][8:], flags) })
	}
	without := func(tag string) []byte { return spoil(func(f fontTables) { delete(f, tag) }) }
	for _, c := range []struct {
		name string
		file []byte
		says string
	}{
		{"nothing", nil, "is empty"},
		{"PDF", []byte("%PDF-1.7 and more"), "is no TrueType font"},
		{"PostScript", []byte("OTTO\x00\x01 and more"), "PostScript outlines"},
		{"collection", []byte("ttcf\x00\x01 and more"), "collection of fonts"},
		{"WOFF", []byte("wOFF\x00\x01 and more"), "(WOFF)"},
		{"WOFF2", []byte("wOF2\x00\x01 and more"), "(WOFF2)"},
		{"Type 1", []byte("%!PS-AdobeFont-1.0: Orchard"), "Type 1"},
		{"header alone", goregular.TTF[:9], "its list of tables is missing"},
		{"half a list", goregular.TTF[:12], "its list of tables is not whole"},
		{"half a file", goregular.TTF[:len(goregular.TTF)/2], "runs beyond the end of the file"},
		{"no outlines", without("glyf"), `lacks the table "glyf"`},
		{"no map", without("cmap"), `lacks the table "cmap"`},
		{"no widths", without("hmtx"), `lacks the table "hmtx"`},
		{"short head", spoil(func(f fontTables) { f["head"] = f["head"][:20] }), `"head" is too short`},
		{"no units", spoil(func(f fontTables) { clear(f["head"][18:20]) }), "0 units to the em"},
		{"loca astray", spoil(func(f fontTables) { copy(f["loca"][40:], "\xff\xff\xff\xff") }), `"loca" points outside its table "glyf"`},
		{"loca backward", spoil(func(f fontTables) { clear(f["loca"][80:88]) }), `"loca" points outside its table "glyf"`},
		{"short loca", spoil(func(f fontTables) { f["loca"] = f["loca"][:40] }), `"loca" is too short`},
		{"short loca of 16 bits", spoil(func(f fontTables) { clear(f["head"][50:52]); f["loca"] = f["loca"][:2*f.glyphs()] }), `"loca" is too short`},
		{"signs only", spoil(func(f fontTables) { f["cmap"] = cmapOf(3, 0, f["cmap"]) }), "font of signs"},
		{"Macintosh map only", spoil(func(f fontTables) { f["cmap"] = cmapOf(1, 0, f["cmap"]) }), "no map from Unicode's characters"},
		{"map astray", spoil(func(f fontTables) { f["cmap"] = append([]byte{0, 0, 0, 1, 0, 3, 0, 1}, 0, 1, 0, 0) }), `"cmap" points beyond its end`},
		{"restricted", rights(0x0002), "may not be embedded"},
		{"no subsets", rights(0x0108), "may not be embedded in part"},
		{"bitmaps only", rights(0x0200), "pictures of letters only"},
	} {
		if _, err := NewTypeface("Names", "", c.file); err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s: %v, want %q", c.name, err, c.says)
		}
	}
	for _, flags := range []uint16{0, 0x0004, 0x0008, 0x0006} { // the least restrictive one counts
		if _, err := NewTypeface("Names", "", rights(flags)); err != nil {
			t.Errorf("rights %#04x: %v", flags, err)
		}
	}
	for length, whole := range map[int]bool{9: false, 10: true} { // fsType is the last of ten bytes
		short := spoil(func(f fontTables) { f["OS/2"] = f["OS/2"][:length] })
		if _, err := NewTypeface("Names", "", short); (err == nil) != whole || err != nil && !strings.Contains(err.Error(), `"OS/2" is too short`) {
			t.Errorf("OS/2 of %d bytes: %v", length, err)
		}
	}
	for _, tag := range []string{"name", "post", "OS/2", "kern"} { // of which drawing needs none
		if _, err := NewTypeface("Names", "", without(tag)); err != nil {
			t.Errorf("without %s: %v", tag, err)
		}
	}
}

// cmapOf is a character map whose only record has the platform and encoding
// given and points to the first table of another one.
func cmapOf(platform, encoding uint16, other []byte) []byte {
	first := binary.BigEndian.Uint32(other[8:])
	m := []byte{0, 0, 0, 1}
	m = binary.BigEndian.AppendUint16(m, platform)
	m = binary.BigEndian.AppendUint16(m, encoding)
	m = binary.BigEndian.AppendUint32(m, 12)
	return append(m, other[first:]...)
}

// map12 is a character map of format 12 alone, with one group.
func map12(platform, encoding uint16, start, end, glyph uint32) []byte {
	m := []byte{0, 0, 0, 1}
	m = binary.BigEndian.AppendUint16(m, platform)
	m = binary.BigEndian.AppendUint16(m, encoding)
	for _, v := range []uint32{12, 12 << 16, 28, 0, 1, start, end, glyph} {
		m = binary.BigEndian.AppendUint32(m, v)
	}
	return m
}

// A font that maps its characters by format 12 alone draws them; characters
// beyond U+FFFD count as lacking, since they cannot be set in a PDF here, and do
// not stand for others.
func TestFormat12(t *testing.T) {
	tables := taken(t)
	whole, err := NewTypeface("Names", "", goregular.TTF)
	if err != nil {
		t.Fatal(err)
	}
	var buf sfnt.Buffer
	source, err := sfnt.Parse(goregular.TTF)
	if err != nil {
		t.Fatal(err)
	}
	a, err := source.GlyphIndex(&buf, 'A')
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct{ platform, encoding uint16 }{{3, 10}, {0, 4}, {0, 6}} {
		tables["cmap"] = map12(c.platform, c.encoding, 'A', 0x1ffff, uint32(a))
		face, err := NewTypeface("Names", "", tables.file())
		if err != nil {
			t.Fatal(err)
		}
		if got, want := face.Width("A"), whole.Width("A"); got != want || !face.Has('A') {
			t.Errorf("platform %d, encoding %d: A is %v em wide, want %v", c.platform, c.encoding, got, want)
		}
		if face.Has('@') || face.Has(0x10041) || face.Has(0x1ff41) {
			t.Errorf("platform %d, encoding %d: draws what it cannot", c.platform, c.encoding)
		}
	}
}

// A segment's delta counts for glyphs that come from its list as well; a glyph
// of 0 there stays what it is (format 4, idDelta).
func TestFormat4Delta(t *testing.T) {
	direct := words16(4, 0, 0, 4, 0, 0, 0, 'B', 0xffff, 0, 'A', 0xffff, 0x10000-'A', 1, 0, 0) // A is glyph 0, which stands for none, B is 1
	for glyphs, want := range map[int][]mapped{1: nil, 2: {{'B', 1}}} {
		if chars, err := readFormat4(direct, glyphs); err != nil || !slices.Equal(chars, want) {
			t.Errorf("of %d glyphs, reads %v, %v, want %v", glyphs, chars, err, want)
		}
	}

	var table []byte
	for _, v := range []uint16{4, 0, 0, 4, 0, 0, 0, 'B', 0xffff, 0, 'A', 0xffff, 5, 1, 4, 0, 7, 0} {
		table = binary.BigEndian.AppendUint16(table, v)
	}
	chars, err := readFormat4(table, 100)
	if want := []mapped{{'A', 12}}; err != nil || !slices.Equal(chars, want) {
		t.Errorf("reads %v, %v, want %v", chars, err, want)
	}
}

// A glyph that is made of others without end, and one that shows nothing for a
// letter, count as lacking, and the rest is drawn.
func TestGlyphsThatCannotBeDrawn(t *testing.T) {
	tables := taken(t)
	var buf sfnt.Buffer
	source, err := sfnt.Parse(goregular.TTF)
	if err != nil {
		t.Fatal(err)
	}
	places := tables.places()
	glyph := func(r rune) []byte {
		i, err := source.GlyphIndex(&buf, r)
		if err != nil {
			t.Fatal(err)
		}
		return tables["glyf"][places[i]:places[i+1]]
	}
	// W is made of itself, ten times over; M draws nothing.
	w, _ := source.GlyphIndex(&buf, 'W')
	data := binary.BigEndian.AppendUint16(nil, 0xffff)
	data = append(data, make([]byte, 8)...)
	for n := range 10 {
		more := uint16(0x0020)
		if n == 9 {
			more = 0
		}
		data = binary.BigEndian.AppendUint16(data, 0x0002|more)
		data = binary.BigEndian.AppendUint16(data, uint16(w))
		data = append(data, 0, 0)
	}
	copy(glyph('W'), data)
	clear(glyph('M')[:2])
	face, err := NewTypeface("Names", "orchard.ttf", tables.file())
	if err != nil {
		t.Fatal(err)
	}
	if face.Has('W') || face.Has('M') || !face.Has('N') || !face.Has(' ') {
		t.Errorf("W %v, M %v, N %v, space %v", face.Has('W'), face.Has('M'), face.Has('N'), face.Has(' '))
	}
	if _, err := faceFor("ệ", face); err == nil || !strings.Contains(err.Error(), "orchard.ttf") {
		t.Errorf("the error does not name the file: %v", err)
	}
}
