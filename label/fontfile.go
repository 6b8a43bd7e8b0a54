package label

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"maps"
	"slices"
)

// A font that a grower brings along is not handed on as it is: a library that
// embeds fonts may panic on a damaged one, or set boxes where it cannot read the
// character map. So the file is read and checked here, its outlines are read by
// golang.org/x/image/font/sfnt, and what is embedded is a font written anew
// (fontwrite.go). The formats are those of the OpenType specification 1.9.1.

// fontTables are the tables of a font file by their tags.
type fontTables map[string][]byte

// neededTables are those without which nothing can be drawn.
var neededTables = []string{"cmap", "glyf", "head", "hhea", "hmtx", "loca", "maxp"}

// readFontTables takes a TrueType file apart. The error says what the file is
// instead, or which table is damaged.
func readFontTables(file []byte) (fontTables, error) {
	if err := checkFontKind(file); err != nil {
		return nil, err
	}
	if len(file) < 12 {
		return nil, errors.New("is cut off: its list of tables is missing")
	}
	tables := fontTables{}
	records := file[12:]
	for range binary.BigEndian.Uint16(file[4:]) {
		if len(records) < 16 {
			return nil, errors.New("is cut off: its list of tables is not whole")
		}
		tag := string(records[:4])
		offset, length := binary.BigEndian.Uint32(records[8:]), binary.BigEndian.Uint32(records[12:])
		if uint64(offset)+uint64(length) > uint64(len(file)) {
			return nil, fmt.Errorf("is cut off or damaged: its table %q runs beyond the end of the file", tag)
		}
		tables[tag] = file[offset : offset+length]
		records = records[16:]
	}
	for _, tag := range neededTables {
		if len(tables[tag]) == 0 {
			return nil, fmt.Errorf("lacks the table %q, without which no letter can be drawn", tag)
		}
	}
	if err := tables.checkEmbedding(); err != nil {
		return nil, err
	}
	return tables, tables.checkPlaces()
}

// checkFontKind tells a TrueType font by its first bytes from what is often
// taken for one.
func checkFontKind(file []byte) error {
	for _, k := range []struct{ start, what string }{
		{"\x00\x01\x00\x00", ""},
		{"true", ""},
		{"OTTO", "has PostScript outlines, not TrueType ones"},
		{"ttcf", "is a collection of fonts, not a single one"},
		{"wOFF", "is packed for web pages (WOFF)"},
		{"wOF2", "is packed for web pages (WOFF2)"},
		{"%!PS-AdobeFont", "is a PostScript font (Type 1)"},
		{"\x80\x01", "is a PostScript font (Type 1)"},
	} {
		if bytes.HasPrefix(file, []byte(k.start)) {
			if k.what == "" {
				return nil
			}
			return errors.New(k.what)
		}
	}
	if len(file) == 0 {
		return errors.New("is empty")
	}
	return errors.New("is no TrueType font")
}

// checkEmbedding reports by an error that whoever made the font does not allow
// it to be put into a document in part (OS/2, fsType).
func (t fontTables) checkEmbedding() error {
	const (
		usage, restricted      = 0x000f, 0x0002
		noSubset, onlyPictures = 0x0100, 0x0200
	)
	os2 := t["OS/2"]
	if len(os2) == 0 { // fonts made for a Mac may lack it
		return nil
	}
	if len(os2) < 10 {
		return errors.New(`is damaged: its table "OS/2" is too short`)
	}
	switch rights := binary.BigEndian.Uint16(os2[8:]); {
	case rights&usage == restricted:
		return errors.New("may not be embedded in a document, says its maker (OS/2 fsType, restricted license)")
	case rights&noSubset != 0:
		return errors.New("may not be embedded in part, says its maker (OS/2 fsType, no subsetting)")
	case rights&onlyPictures != 0:
		return errors.New("may be embedded as pictures of letters only, says its maker (OS/2 fsType, bitmap embedding)")
	}
	return nil
}

// checkPlaces compares the tables' sizes, and the places of the outlines, with
// one another.
func (t fontTables) checkPlaces() error {
	for tag, least := range map[string]int{"head": 54, "hhea": 36, "maxp": 32} {
		if len(t[tag]) < least {
			return fmt.Errorf("is damaged: its table %q is too short", tag)
		}
		t[tag] = t[tag][:least]
	}
	if units := binary.BigEndian.Uint16(t["head"][18:]); units < 16 || units > 16384 {
		return fmt.Errorf("is damaged: %d units to the em, in its table \"head\"", units)
	}
	places, last := t.places(), uint32(0)
	if len(places) == 0 {
		return errors.New(`is damaged: its table "loca" is too short`)
	}
	for _, p := range places {
		if p < last || uint64(p) > uint64(len(t["glyf"])) {
			return errors.New(`is damaged: its table "loca" points outside its table "glyf"`)
		}
		last = p
	}
	return nil
}

// glyphs is how many glyphs the font has.
func (t fontTables) glyphs() int { return int(binary.BigEndian.Uint16(t["maxp"][4:])) }

// places are where the outlines of the glyphs begin in glyf, and where the last
// one ends; none where loca is too short for them.
func (t fontTables) places() []uint32 {
	loca, n := t["loca"], t.glyphs()+1
	places := make([]uint32, n)
	if binary.BigEndian.Uint16(t["head"][50:]) == 0 {
		if len(loca) < 2*n {
			return nil
		}
		for i := range places {
			places[i] = 2 * uint32(binary.BigEndian.Uint16(loca[2*i:]))
		}
		return places
	}
	if len(loca) < 4*n {
		return nil
	}
	for i := range places {
		places[i] = binary.BigEndian.Uint32(loca[4*i:])
	}
	return places
}

// mapped is a character with the glyph that draws it.
type mapped struct {
	char  rune
	glyph uint16
}

// characters reads the map of Unicode's characters up to U+FFFD to glyphs, in
// the order of the characters. Those beyond cannot be set in a PDF here, so the
// font counts as lacking them.
func (t fontTables) characters() ([]mapped, error) {
	cmap := t["cmap"]
	if len(cmap) < 4 {
		return nil, errors.New(`is damaged: its table "cmap" is too short`)
	}
	symbol := false
	var found []mapped
	records := cmap[4:]
	for range binary.BigEndian.Uint16(cmap[2:]) {
		if len(records) < 8 {
			return nil, errors.New(`is damaged: its table "cmap" is too short`)
		}
		platform, encoding := binary.BigEndian.Uint16(records), binary.BigEndian.Uint16(records[2:])
		offset := binary.BigEndian.Uint32(records[4:])
		records = records[8:]
		symbol = symbol || platform == 3 && encoding == 0
		if unicode := platform == 0 && encoding != 5 || platform == 3 && (encoding == 1 || encoding == 10); !unicode {
			continue
		}
		if uint64(offset)+2 > uint64(len(cmap)) {
			return nil, errors.New(`is damaged: its table "cmap" points beyond its end`)
		}
		read := readFormat4
		switch binary.BigEndian.Uint16(cmap[offset:]) {
		case 4:
		case 12:
			read = readFormat12
		default:
			continue
		}
		chars, err := read(cmap[offset:], t.glyphs())
		if err != nil {
			return nil, err
		}
		if len(chars) > len(found) {
			found = chars
		}
	}
	switch {
	case len(found) == 0 && symbol:
		return nil, errors.New("is a font of signs: nothing in it says which of them are letters")
	case len(found) == 0:
		return nil, errors.New("has no map from Unicode's characters to its glyphs")
	}
	return found, nil
}

// lastChar is the last character that is looked up; U+FFFE and U+FFFF are none.
const lastChar = 0xfffd

var errCharacterMap = errors.New(`is damaged: its table "cmap" contradicts itself`)

// readFormat4 reads a map from 16-bit characters by segments.
func readFormat4(table []byte, glyphs int) ([]mapped, error) {
	at := func(i int) int {
		if i+2 > len(table) {
			return -1
		}
		return int(binary.BigEndian.Uint16(table[i:]))
	}
	double := at(6)                   // twice the count of segments
	if double == 0 || double%2 != 0 { // odd as well where there is none
		return nil, errCharacterMap
	}
	var chars []mapped
	next := 0 // segments come in order, so no character comes twice
	for i := 14; i < 14+double; i += 2 {
		end, start := at(i), at(i+2+double)
		delta, place := at(i+2+2*double), i+2+3*double
		reach := at(place)
		if start > end || start < next || delta < 0 || reach < 0 {
			return nil, errCharacterMap
		}
		next = end + 1
		for c := start; c <= min(end, lastChar); c++ {
			glyph := c
			if reach != 0 {
				if glyph = at(place + reach + 2*(c-start)); glyph < 0 {
					return nil, errCharacterMap
				}
				if glyph == 0 {
					continue
				}
			}
			if glyph = (glyph + delta) & 0xffff; glyph > 0 && glyph < glyphs {
				chars = append(chars, mapped{rune(c), uint16(glyph)})
			}
		}
	}
	return chars, nil
}

// readFormat12 reads a map from 32-bit characters by groups.
func readFormat12(table []byte, glyphs int) ([]mapped, error) {
	if len(table) < 16 {
		return nil, errCharacterMap
	}
	groups := table[16:]
	count := uint64(binary.BigEndian.Uint32(table[12:]))
	if 12*count > uint64(len(groups)) {
		return nil, errCharacterMap
	}
	var chars []mapped
	next := uint64(0)
	for ; count > 0; count, groups = count-1, groups[12:] {
		start, end := uint64(binary.BigEndian.Uint32(groups)), uint64(binary.BigEndian.Uint32(groups[4:]))
		first := uint64(binary.BigEndian.Uint32(groups[8:]))
		if start > end || start < next {
			return nil, errCharacterMap
		}
		next = end + 1
		for c := start; c <= min(end, lastChar); c++ {
			if glyph := first + c - start; glyph > 0 && glyph < uint64(glyphs) {
				chars = append(chars, mapped{rune(c), uint16(glyph)})
			}
		}
	}
	return chars, nil
}

// tags are the tables' tags in order.
func (t fontTables) tags() []string { return slices.Sorted(maps.Keys(t)) }
