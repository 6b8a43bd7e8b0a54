package label

import (
	"encoding/binary"
	"errors"
	"fmt"
	"math"
	"slices"
	"unicode"

	"golang.org/x/image/font"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
)

// rewriteFont reads a TrueType font of any origin and returns one that holds the
// same outlines and widths and nothing else: simple glyphs in the order of their
// characters, one character map, no instructions. A glyph that cannot be read,
// or that shows nothing though its character is visible, is left out, so that
// the font counts as lacking it. The error completes "the font …".
func rewriteFont(file []byte) ([]byte, error) {
	tables, err := readFontTables(file)
	if err != nil {
		return nil, err
	}
	chars, err := tables.characters()
	if err != nil {
		return nil, err
	}
	source, err := tables.open()
	if err != nil {
		return nil, fmt.Errorf("is damaged: %w", err)
	}
	points, total := tables.countPoints(), 0
	chars = slices.DeleteFunc(chars, func(m mapped) bool { return points[m.glyph] > mostPoints })
	for _, m := range chars {
		total += points[m.glyph]
	}
	if total > mostPointsOfAll {
		return nil, errors.New("has outlines of too many points")
	}
	b := newFontBuilder(tables, source)
	for _, m := range chars {
		b.copy(m.char, sfnt.GlyphIndex(m.glyph))
	}
	if len(b.chars) == 0 {
		return nil, errors.New("draws no letter that can be read")
	}
	return b.file()
}

// open has the font read by sfnt, without the tables of which it needs none and
// on which it is choosier than a font for names has to be.
func (t fontTables) open() (*sfnt.Font, error) {
	needed := fontTables{"cmap": cmapTable(nil), "post": postTable()}
	for _, tag := range neededTables {
		if tag != "cmap" {
			needed[tag] = t[tag]
		}
	}
	return sfnt.Parse(needed.file())
}

const (
	mostPoints      = 13_000     // of one glyph: written anew it has 5 bytes for each, and sfnt reads 64 KB
	mostPointsOfAll = 16_000_000 // of all that characters stand for
	mostDepth       = 8          // of glyphs made of others
)

// countPoints counts the points of each glyph's outline before any is drawn:
// glyphs that are made of others could take for ever. What cannot be read has
// more than mostPoints.
func (t fontTables) countPoints() []int {
	const unknown, unread = 0, mostPoints + 1
	places, glyf := t.places(), t["glyf"]
	counts := make([]int, t.glyphs())
	var count func(glyph, depth int) int
	count = func(glyph, depth int) int {
		if depth > mostDepth || glyph >= len(counts) {
			return unread
		}
		if counts[glyph] != unknown {
			return counts[glyph]
		}
		data := glyf[places[glyph]:places[glyph+1]]
		counts[glyph] = unread // should it be a part of itself
		n := 1                 // so that it counts as known
		switch contours := contoursOf(data); {
		case len(data) == 0:
		case len(data) < leastGlyph+2*max(contours, 0):
			n = unread
		case contours > 0:
			n += 1 + int(binary.BigEndian.Uint16(data[leastGlyph-2+2*contours:]))
		case contours < 0:
			parts, ok := partsOf(data[leastGlyph:])
			if !ok {
				n = unread
			}
			for _, part := range parts {
				n = min(unread, n+count(part, depth+1))
			}
		}
		counts[glyph] = n
		return n
	}
	for glyph := range counts {
		count(glyph, 0)
	}
	return counts
}

// leastGlyph is how many bytes a glyph's data have before its contours or parts.
const leastGlyph = 10

// contoursOf is the count of contours at the start of a glyph's data; negative
// for a glyph that is made of others, 0 where there is no data.
func contoursOf(data []byte) int {
	if len(data) < leastGlyph {
		return 0
	}
	return int(int16(binary.BigEndian.Uint16(data)))
}

// partsOf lists the glyphs that a glyph is made of.
func partsOf(data []byte) (parts []int, ok bool) {
	const words, scale, more, twoScales, matrix = 0x0001, 0x0008, 0x0020, 0x0040, 0x0080
	for len(data) >= 4 {
		flags := binary.BigEndian.Uint16(data)
		parts = append(parts, int(binary.BigEndian.Uint16(data[2:])))
		size := 6
		if flags&words != 0 {
			size = 8
		}
		switch {
		case flags&scale != 0:
			size += 2
		case flags&twoScales != 0:
			size += 4
		case flags&matrix != 0:
			size += 8
		}
		if size > len(data) {
			return nil, false
		}
		if flags&more == 0 {
			return parts, true
		}
		data = data[size:]
	}
	return nil, false
}

// fontBuilder collects the glyphs of a new font. Glyph 0, for what it lacks, is
// empty: it is never set.
type fontBuilder struct {
	source     *sfnt.Font
	buf        sfnt.Buffer
	em         fixed.Int26_6
	head, hhea []byte
	chars      []rune
	glyf       []byte
	loca       []byte
	hmtx       []byte
	bounds     glyphBounds
	points     int // of the largest glyph
	contours   int // of the one with the most
}

func newFontBuilder(from fontTables, source *sfnt.Font) *fontBuilder {
	b := &fontBuilder{source: source, em: fixed.I(int(source.UnitsPerEm())), head: from["head"], hhea: from["hhea"], bounds: noBounds}
	b.loca = binary.BigEndian.AppendUint32(nil, 0)
	b.loca = binary.BigEndian.AppendUint32(b.loca, 0)
	b.hmtx = make([]byte, 4)
	return b
}

// copy adds the source's glyph for a character, unless it cannot be read.
func (b *fontBuilder) copy(char rune, from sfnt.GlyphIndex) {
	segments, err := b.source.LoadGlyph(&b.buf, from, b.em, nil)
	if err != nil {
		return
	}
	g, ok := newGlyph(segments)
	advance, err := b.source.GlyphAdvance(&b.buf, from, b.em, font.HintingNone)
	if err != nil || !ok {
		return
	}
	b.add(char, g, uint16(advance.Round()))
}

// add takes a glyph for a character, behind those before it; one that would show
// nothing for a character that is to be seen is left out.
func (b *fontBuilder) add(char rune, g newGlyphData, advance uint16) {
	blank := unicode.Is(unicode.Zs, char)
	if !blank && (len(g.ends) == 0 || advance == 0 && !unicode.Is(unicode.M, char)) {
		return
	}
	b.chars = append(b.chars, char)
	left := int16(0)
	if len(g.ends) > 0 {
		b.glyf = g.appendTo(b.glyf)
		b.bounds.join(g.bounds)
		b.points, b.contours = max(b.points, len(g.points)), max(b.contours, len(g.ends))
		left = g.bounds.left
	}
	b.loca = binary.BigEndian.AppendUint32(b.loca, uint32(len(b.glyf)))
	b.hmtx = binary.BigEndian.AppendUint16(b.hmtx, advance)
	b.hmtx = binary.BigEndian.AppendUint16(b.hmtx, uint16(left))
}

// file writes the font.
func (b *fontBuilder) file() ([]byte, error) {
	glyphs := len(b.chars) + 1
	cmap := cmapTable(b.chars)
	if len(cmap) > math.MaxUint16 {
		return nil, errors.New("holds characters in too many separate ranges")
	}
	head := append([]byte(nil), b.head...)
	binary.BigEndian.PutUint32(head, 0x00010000)
	binary.BigEndian.PutUint32(head[12:], 0x5f0f3cf5)
	if b.bounds == noBounds {
		b.bounds = glyphBounds{}
	}
	for i, v := range []int16{b.bounds.left, b.bounds.bottom, b.bounds.right, b.bounds.top} {
		binary.BigEndian.PutUint16(head[36+2*i:], uint16(v))
	}
	binary.BigEndian.PutUint16(head[50:], 1) // loca has 32 bits
	binary.BigEndian.PutUint16(head[52:], 0)

	hhea := append([]byte(nil), b.hhea...)
	binary.BigEndian.PutUint32(hhea, 0x00010000)
	binary.BigEndian.PutUint16(hhea[32:], 0)
	binary.BigEndian.PutUint16(hhea[34:], uint16(glyphs))

	maxp := make([]byte, 32)
	binary.BigEndian.PutUint32(maxp, 0x00010000)
	for i, v := range []int{glyphs, b.points, b.contours} {
		binary.BigEndian.PutUint16(maxp[4+2*i:], uint16(v))
	}
	binary.BigEndian.PutUint16(maxp[14:], 2) // zones

	t := fontTables{"cmap": cmap, "glyf": b.glyf, "head": head, "hhea": hhea, "hmtx": b.hmtx, "loca": b.loca,
		"maxp": maxp, "name": {0, 0, 0, 0, 0, 6}, "post": postTable()}
	return t.file(), nil
}

// postTable says nothing of the names of glyphs (version 3).
func postTable() []byte {
	post := make([]byte, 32)
	binary.BigEndian.PutUint32(post, 0x00030000)
	return post
}

// cmapTable maps characters, which are in order, to the glyphs from 1 on (format
// 4).
func cmapTable(chars []rune) []byte {
	type segment struct{ first, last, glyph int }
	var segments []segment
	for i, c := range chars {
		if n := len(segments); n > 0 && segments[n-1].last+1 == int(c) {
			segments[n-1].last++
		} else {
			segments = append(segments, segment{int(c), int(c), i + 1})
		}
	}
	segments = append(segments, segment{0xffff, 0xffff, 0x10000}) // as the format wants it
	n := len(segments)
	power, exponent := 1, 0
	for 2*power <= n {
		power, exponent = 2*power, exponent+1
	}
	var t []byte
	put := func(values ...int) {
		for _, v := range values {
			t = binary.BigEndian.AppendUint16(t, uint16(v))
		}
	}
	put(0, 1, 3, 1, 0, 12) // one table, for Unicode, 12 bytes on
	put(4, 16+8*n, 0, 2*n, 2*power, exponent, 2*(n-power))
	for _, s := range segments {
		put(s.last)
	}
	put(0)
	for _, s := range segments {
		put(s.first)
	}
	for _, s := range segments {
		put(s.glyph - s.first)
	}
	for range segments {
		put(0)
	}
	return t
}

// file writes the tables as a font.
func (t fontTables) file() []byte {
	tags := t.tags()
	power, exponent := 1, 0
	for 2*power <= len(tags) {
		power, exponent = 2*power, exponent+1
	}
	file := binary.BigEndian.AppendUint32(nil, 0x00010000)
	for _, v := range []int{len(tags), 16 * power, exponent, 16 * (len(tags) - power)} {
		file = binary.BigEndian.AppendUint16(file, uint16(v))
	}
	offset := len(file) + 16*len(tags)
	for _, tag := range tags {
		file = append(file, tag...)
		file = binary.BigEndian.AppendUint32(file, checksum(t[tag]))
		file = binary.BigEndian.AppendUint32(file, uint32(offset))
		file = binary.BigEndian.AppendUint32(file, uint32(len(t[tag])))
		offset += (len(t[tag]) + 3) &^ 3
	}
	for _, tag := range tags {
		file = append(file, t[tag]...)
		file = append(file, 0, 0, 0)
		file = file[:len(file)&^3]
	}
	return file
}

// checksum adds up a table's 32-bit words.
func checksum(table []byte) (sum uint32) {
	for len(table) >= 4 {
		sum += binary.BigEndian.Uint32(table)
		table = table[4:]
	}
	for i, b := range table {
		sum += uint32(b) << (24 - 8*i)
	}
	return sum
}
