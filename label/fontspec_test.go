package label

import (
	"bytes"
	"encoding/binary"
	"slices"
	"strings"
	"testing"

	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/sfnt"
)

func u16(table []byte, at int) int { return int(binary.BigEndian.Uint16(table[at:])) }
func i16(table []byte, at int) int { return int(int16(binary.BigEndian.Uint16(table[at:]))) }

// A font written anew says of itself what the OpenType specification 1.9.1 wants
// and what its outlines are: the box of each glyph and of all (glyf, head), the
// most points and contours (maxp), and a width and a side bearing for each glyph
// (hhea, hmtx).
func TestWhatAWrittenFontSaysOfItself(t *testing.T) {
	chars := map[rune]bool{}
	for _, r := range "Mørkeby ij×♀Äöß" {
		chars[r] = true
	}
	for _, whole := range []*Typeface{Regular, Signs} {
		ttf, err := whole.Subset(chars)
		if err != nil {
			t.Fatal(err)
		}
		tables, err := readFontTables(ttf)
		if err != nil {
			t.Fatal(err)
		}
		places, glyf, n := tables.places(), tables["glyf"], tables.glyphs()
		if n != len(chars)+1-lacking(whole, chars) || len(places) != n+1 || u16(tables["hhea"], 34) != n || len(tables["hmtx"]) != 4*n {
			t.Errorf("%s: %d glyphs, %d places, %d widths in %d bytes", whole.Name, n, len(places), u16(tables["hhea"], 34), len(tables["hmtx"]))
		}
		if places[0] != 0 || places[1] != 0 || int(places[n]) != len(glyf) {
			t.Errorf("%s: glyph 0 is not empty, or the outlines do not end where they should: %v", whole.Name, places)
		}
		most := [2]int{}
		all := [4]int{1 << 15, 1 << 15, -1 << 15, -1 << 15}
		for g := range n {
			data := glyf[places[g]:places[g+1]]
			if len(data) == 0 {
				if lsb := i16(tables["hmtx"], 4*g+2); lsb != 0 {
					t.Errorf("%s: the side bearing of the empty glyph %d is %d", whole.Name, g, lsb)
				}
				continue
			}
			contours, points, box := simpleGlyph(t, data)
			if got := [4]int{i16(data, 2), i16(data, 4), i16(data, 6), i16(data, 8)}; got != box {
				t.Errorf("%s: glyph %d says that it lies in %v, its points in %v", whole.Name, g, got, box)
			}
			if lsb := i16(tables["hmtx"], 4*g+2); lsb != box[0] {
				t.Errorf("%s: the side bearing of glyph %d is %d, its box begins at %d", whole.Name, g, lsb, box[0])
			}
			most = [2]int{max(most[0], points), max(most[1], contours)}
			for i := range 2 {
				all[i], all[2+i] = min(all[i], box[i]), max(all[2+i], box[2+i])
			}
		}
		if got := [2]int{u16(tables["maxp"], 6), u16(tables["maxp"], 8)}; got != most {
			t.Errorf("%s: maxp says %v points and contours, there are %v", whole.Name, got, most)
		}
		head := tables["head"]
		if got := [4]int{i16(head, 36), i16(head, 38), i16(head, 40), i16(head, 42)}; got != all {
			t.Errorf("%s: head says that all lies in %v, it lies in %v", whole.Name, got, all)
		}
		for what, ok := range map[string]bool{
			"head 1.0": bytes.HasPrefix(head, []byte{0, 1, 0, 0}), "magic": bytes.Equal(head[12:16], []byte{0x5f, 0x0f, 0x3c, 0xf5}),
			"long places": u16(head, 50) == 1, "hhea 1.0": bytes.HasPrefix(tables["hhea"], []byte{0, 1, 0, 0}),
			"maxp 1.0": bytes.HasPrefix(tables["maxp"], []byte{0, 1, 0, 0}), "two zones": u16(tables["maxp"], 14) == 2,
			"without names":                    bytes.Equal(tables["name"], []byte{0, 0, 0, 0, 0, 6}),
			"post 3.0":                         bytes.HasPrefix(tables["post"], []byte{0, 3, 0, 0}) && len(tables["post"]) == 32,
			"one map, for Windows and Unicode": bytes.HasPrefix(tables["cmap"], []byte{0, 0, 0, 1, 0, 3, 0, 1, 0, 0, 0, 12, 0, 4}),
			"of no language, with a pad":       u16(tables["cmap"], 16) == 0 && u16(tables["cmap"], 26+u16(tables["cmap"], 18)) == 0,
			"TrueType":                         bytes.HasPrefix(ttf, []byte{0, 1, 0, 0}),
		} {
			if !ok {
				t.Errorf("%s: not %s", whole.Name, what)
			}
		}
	}
}

// What a font says of its formats is written anew, whatever its file says.
func TestFormatsAreWrittenAnew(t *testing.T) {
	tables := taken(t)
	copy(tables["head"], words16(1, 1))       // version 1.1
	copy(tables["head"][12:], words16(7))     // no magic number
	copy(tables["head"][52:], words16(0x303)) // a format of glyphs that there is not
	copy(tables["hhea"], words16(1, 1))       // version 1.1
	copy(tables["hhea"][32:], words16(0x303)) // a format of widths that there is not
	copy(tables["maxp"][14:], words16(0x909)) // zones
	face, err := NewTypeface("Names", "", tables.file())
	if err != nil {
		t.Fatal(err)
	}
	written, err := readFontTables(face.TTF)
	if err != nil {
		t.Fatal(err)
	}
	for what, ok := range map[string]bool{
		"head 1.0": u16(written["head"], 2) == 0, "magic": u16(written["head"], 12) == 0x5f0f, "formats": u16(written["head"], 52) == 0 && u16(written["hhea"], 32) == 0,
		"hhea 1.0": u16(written["hhea"], 2) == 0, "two zones": u16(written["maxp"], 14) == 2,
	} {
		if !ok {
			t.Errorf("not %s", what)
		}
	}
}

func lacking(face *Typeface, chars map[rune]bool) (n int) {
	for r := range chars {
		if !face.Has(r) {
			n++
		}
	}
	return n
}

// simpleGlyph reads a simple glyph as OpenType describes it (glyf): its contours,
// points and box.
func simpleGlyph(t *testing.T, data []byte) (contours, points int, box [4]int) {
	t.Helper()
	contours = i16(data, 0)
	points = u16(data, 10+2*(contours-1)) + 1
	at := 10 + 2*contours
	at += 2 + u16(data, at) // instructions
	var flags []byte
	for len(flags) < points {
		f := data[at]
		flags = append(flags, f)
		if at++; f&8 != 0 {
			for range data[at] {
				flags = append(flags, f)
			}
			at++
		}
	}
	for axis := range 2 {
		short, same := byte(2)<<axis, byte(16)<<axis
		v, low, high := 0, 1<<15, -1<<15
		for _, f := range flags {
			switch {
			case f&short != 0 && f&same != 0:
				v, at = v+int(data[at]), at+1
			case f&short != 0:
				v, at = v-int(data[at]), at+1
			case f&same == 0:
				v, at = v+i16(data, at), at+2
			}
			low, high = min(low, v), max(high, v)
		}
		box[axis], box[2+axis] = low, high
	}
	if rest := len(data) - at; rest < 0 || rest > 3 || strings.Trim(string(data[at:]), "\x00") != "" {
		t.Errorf("a glyph of %d bytes is read to %d: % x", len(data), at, data[min(at, len(data)):])
	}
	return contours, points, box
}

// Platforms and encodings of a character map that mean Unicode (OpenType 1.9.1,
// "cmap", encoding records): 0 with any but 5, whose map is of variations, and 3
// with 1 or 10; 3 with 0 is a font of signs.
func TestMapsOfUnicode(t *testing.T) {
	tables := taken(t)
	whole := tables["cmap"]
	for platform := range uint16(5) {
		for encoding := range uint16(12) {
			tables["cmap"] = cmapOf(platform, encoding, whole)
			_, err := NewTypeface("Names", "", tables.file())
			unicode := platform == 0 && encoding != 5 || platform == 3 && (encoding == 1 || encoding == 10)
			says := "no map from Unicode"
			if platform == 3 && encoding == 0 {
				says = "font of signs"
			}
			if (err == nil) != unicode || err != nil && !strings.Contains(err.Error(), says) {
				t.Errorf("platform %d, encoding %d: %v", platform, encoding, err)
			}
		}
	}
}

// A font that draws a single letter is one, and a font that draws none is not.
func TestFontsOfOneLetterAndNone(t *testing.T) {
	var buf sfnt.Buffer
	source, err := sfnt.Parse(goregular.TTF)
	if err != nil {
		t.Fatal(err)
	}
	for char, says := range map[rune]string{'A': "", ' ': "draws no letter that can be read"} {
		glyph, err := source.GlyphIndex(&buf, char)
		if err != nil {
			t.Fatal(err)
		}
		tables := taken(t)
		tables["cmap"] = map12(3, 10, 'A', 'A', uint32(glyph))
		face, err := NewTypeface("Names", "", tables.file())
		if (err == nil) != (says == "") || err != nil && !strings.Contains(err.Error(), says) {
			t.Errorf("%q for A: %v", char, err)
		}
		if err == nil && !face.Has('A') {
			t.Error("A is not drawn")
		}
	}
}

// Of several maps of Unicode the one with the most characters counts, wherever it
// stands.
func TestTheLargestMapCounts(t *testing.T) {
	tables := taken(t)
	small, large := words16(4, 32, 0, 4, 0, 0, 0, 'A', 0xffff, 0, 'A', 0xffff, 30-'A', 1, 0, 0), words16(4, 32, 0, 4, 0, 0, 0, 'C', 0xffff, 0, 'A', 0xffff, 30-'A', 1, 0, 0)
	for _, maps := range [][2][]byte{{small, large}, {large, small}} {
		head := append(words16(0, 2, 0, 3), words32(20)...)
		head = append(append(head, words16(3, 1)...), words32(uint32(20+len(maps[0])))...)
		tables["cmap"] = slices.Concat(head, maps[0], maps[1])
		face, err := NewTypeface("Names", "", tables.file())
		if err != nil || !face.Has('A') || !face.Has('B') || !face.Has('C') || face.Has('D') {
			t.Errorf("%v", err)
		}
	}
}

// What is as long as it must be is read, and what is a byte shorter is refused
// (OpenType 1.9.1: head has 54 bytes, hhea 36, maxp 32; the em has 16 to 16,384
// units).
func TestFontsAtTheBounds(t *testing.T) {
	spoil := func(change func(fontTables)) []byte {
		tables := taken(t)
		change(tables)
		return tables.file()
	}
	for _, c := range []struct {
		name string
		file []byte
		says string // "" for fine
	}{
		{"a file of 11 bytes", goregular.TTF[:11], "its list of tables is missing"},
		{"a list cut by a byte", append(slices.Concat(goregular.TTF[:4], words16(1, 0, 0, 0)), make([]byte, 15)...), "its list of tables is not whole"},
		{"a list of one", append(slices.Concat(goregular.TTF[:4], words16(1, 0, 0, 0)), make([]byte, 16)...), `lacks the table "cmap"`},
		{"a list alone", goregular.TTF[:12+16*u16(goregular.TTF, 4)], "runs beyond the end of the file"},
		{"head", spoil(func(f fontTables) { f["head"] = f["head"][:53] }), `"head" is too short`},
		{"hhea", spoil(func(f fontTables) { f["hhea"] = f["hhea"][:35] }), `"hhea" is too short`},
		{"maxp", spoil(func(f fontTables) { f["maxp"] = f["maxp"][:31] }), `"maxp" is too short`},
		{"longer tables", spoil(func(f fontTables) {
			for _, tag := range []string{"head", "hhea", "maxp"} {
				f[tag] = append(f[tag], 1, 2, 3, 4)
			}
		}), ""},
		{"15 units", spoil(func(f fontTables) { copy(f["head"][18:], words16(15)) }), "15 units to the em"},
		{"16 units", spoil(func(f fontTables) { copy(f["head"][18:], words16(16)) }), ""},
		{"16384 units", spoil(func(f fontTables) { copy(f["head"][18:], words16(16384)) }), ""},
		{"16385 units", spoil(func(f fontTables) { copy(f["head"][18:], words16(16385)) }), "16385 units to the em"},
		{"cmap of 3 bytes", spoil(func(f fontTables) { f["cmap"] = f["cmap"][:3] }), `"cmap" is too short`},
		{"cmap of none", spoil(func(f fontTables) { f["cmap"] = words16(0, 0) }), "has no map"},
		{"cmap record cut by a byte", spoil(func(f fontTables) { f["cmap"] = words16(0, 1, 3, 1, 0, 12)[:11] }), `"cmap" is too short`},
		{"cmap record alone", spoil(func(f fontTables) { f["cmap"] = words16(0, 1, 1, 0, 0, 12) }), "has no map"},
		{"places cut by a byte", spoil(func(f fontTables) { f["loca"] = f["loca"][:len(f["loca"])-1] }), `"loca" is too short`},
		{"places of 32 bits", fontWith(t, glyphOf(t, 'B'), outlineOf(3)).file(), ""},
		{"places of 32 bits, cut", cutPlaces(fontWith(t, glyphOf(t, 'B'), outlineOf(3))).file(), `"loca" is too short`},
		{"places of 16 bits", spoil(halfPlaces), ""},
		{"places of 16 bits, cut", spoil(func(f fontTables) { halfPlaces(f); f["loca"] = f["loca"][:len(f["loca"])-1] }), `"loca" is too short`},
		{"outlines cut by a byte", spoil(func(f fontTables) { f["glyf"] = f["glyf"][:f.places()[f.glyphs()]-1] }), `"loca" points outside`},
		{"outlines as long as they are", spoil(func(f fontTables) { f["glyf"] = f["glyf"][:f.places()[f.glyphs()]] }), ""},
	} {
		face, err := NewTypeface("Names", "", c.file)
		if (err == nil) != (c.says == "") || err != nil && !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s: %v, want %q", c.name, err, c.says)
		}
		if err == nil && (!face.Has('A') || !face.Has('ø')) {
			t.Errorf("%s: letters are lost", c.name)
		}
	}
}

// cutPlaces takes a byte off the places of the outlines.
func cutPlaces(f fontTables) fontTables {
	f["loca"] = f["loca"][:len(f["loca"])-1]
	return f
}

// halfPlaces writes the places of the outlines as OpenType's short offsets, half
// of what they are.
func halfPlaces(f fontTables) {
	var loca []byte
	for _, p := range f.places() {
		loca = binary.BigEndian.AppendUint16(loca, uint16(p/2))
	}
	if last := f.places()[f.glyphs()]; last > 2*0xffff {
		panic("the outlines are too long for short offsets")
	}
	f["loca"] = loca
	clear(f["head"][50:52])
}

// Segments and groups may touch, and may have one character; glyph 0 and glyphs
// that are not there stand for none.
func TestMapsThatTouch(t *testing.T) {
	touching := words16(4, 40, 0, 6, 0, 0, 0, 'A', 'C', 0xffff, 0, 'A', 'B', 0xffff, 4-'A', 9-'B', 1, 0, 0, 0)
	want := []mapped{{'A', 4}, {'B', 9}, {'C', 10}}
	if got, err := readFormat4(touching, 11); err != nil || !slices.Equal(got, want) {
		t.Errorf("segments: %v, %v", got, err)
	}
	if got, err := readFormat4(touching, 10); err != nil || !slices.Equal(got, want[:2]) {
		t.Errorf("segments of a font of ten glyphs: %v, %v", got, err)
	}
	groups := append(words32(12<<16, 40, 0, 2), words32('A', 'A', 4, 'B', 'C', 9)...)
	if got, err := readFormat12(groups, 11); err != nil || !slices.Equal(got, want) {
		t.Errorf("groups: %v, %v", got, err)
	}
	if got, err := readFormat12(groups, 10); err != nil || !slices.Equal(got, want[:2]) {
		t.Errorf("groups of a font of ten glyphs: %v, %v", got, err)
	}
	none := append(words32(12<<16, 28, 0, 1), words32('A', 'B', 0)...)
	if got, err := readFormat12(none, 9); err != nil || !slices.Equal(got, []mapped{{'B', 1}}) {
		t.Errorf("from glyph 0 on: %v, %v", got, err)
	}
	for name, table := range map[string][]byte{
		"backward": append(words32(12<<16, 28, 0, 1), words32('B', 'A', 4)...),
		"overlap":  append(words32(12<<16, 40, 0, 2), words32('A', 'B', 4, 'B', 'C', 9)...),
		"cut":      words32(12<<16, 28, 0, 0)[:15],
		"cut far":  ascending(12)[:16+12*12-1],
	} {
		if got, err := readFormat12(table, 99); err != errCharacterMap {
			t.Errorf("%s: %v, %v", name, got, err)
		}
	}
	if got, err := readFormat12(ascending(12), 99); err != nil || len(got) != 12 {
		t.Errorf("twelve groups: %v, %v", got, err)
	}
	if got, err := readFormat12(words32(12<<16, 28, 0, 0), 99); err != nil || len(got) > 0 {
		t.Errorf("no groups: %v, %v", got, err)
	}
	zero := append(words32(12<<16, 28, 0, 1), words32(0, 1, 4)...)
	if got, err := readFormat12(zero, 99); err != nil || !slices.Equal(got, []mapped{{0, 4}, {1, 5}}) {
		t.Errorf("from the first character on: %v, %v", got, err)
	}
	if got, err := readFormat4(words16(4, 32, 0, 4, 0, 0, 0, 1, 0xffff, 0, 0, 0xffff, 4, 1, 0, 0), 99); err != nil || !slices.Equal(got, []mapped{{0, 4}, {1, 5}}) {
		t.Errorf("segments from the first character on: %v, %v", got, err)
	}
	last := append(words32(12<<16, 28, 0, 1), words32(0xfffc, 0x10000, 4)...)
	if got, err := readFormat12(last, 99); err != nil || !slices.Equal(got, []mapped{{0xfffc, 4}, {0xfffd, 5}}) {
		t.Errorf("up to the last character: %v, %v", got, err)
	}
}

// ascending is a map of format 12 with so many groups of a character each.
func ascending(groups uint32) []byte {
	m := words32(12<<16, 16+12*groups, 0, groups)
	for i := range groups {
		m = append(m, words32('A'+2*i, 'A'+2*i, 4)...)
	}
	return m
}

// A font is refused where its characters lie in more separate ranges than the map
// has bytes for: 65,535, of which each takes 8.
func TestCharactersInManyRanges(t *testing.T) {
	tables := taken(t)
	var buf sfnt.Buffer
	source, err := sfnt.Parse(goregular.TTF)
	if err != nil {
		t.Fatal(err)
	}
	a, err := source.GlyphIndex(&buf, '.')
	if err != nil {
		t.Fatal(err)
	}
	for n, fits := range map[int]bool{8187: true, 8188: false} { // 12 + 16 + 8 for each and for the end: 65,532 and 65,540
		m := append(words16(0, 1, 3, 10), words32(12, 12<<16, uint32(16+12*n), 0, uint32(n))...)
		for i := range n {
			m = append(m, words32(uint32(0x100+2*i), uint32(0x100+2*i), uint32(a))...)
		}
		tables["cmap"] = m
		face, err := NewTypeface("Names", "", tables.file())
		if (err == nil) != fits || err != nil && !strings.Contains(err.Error(), "too many separate ranges") {
			t.Errorf("%d ranges: %v", n, err)
		}
		if err == nil && (!face.Has(rune(0x100+2*(n-1))) || face.Has(0x101)) {
			t.Errorf("%d ranges: characters are lost, or others found", n)
		}
	}
}
