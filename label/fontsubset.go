package label

import (
	"fmt"
	"maps"
	"slices"

	"golang.org/x/image/font/sfnt"
)

// Subset returns a TrueType font that draws these characters as the typeface
// does, and holds nothing else. A library that embeds fonts reads it in a small
// part of the time that the whole one takes. Characters that the typeface lacks
// are left out. The bytes are the caller's.
func (t *Typeface) Subset(chars map[rune]bool) ([]byte, error) {
	tables, err := readFontTables(t.TTF)
	if err != nil {
		return nil, fmt.Errorf("the font %s %w", t.Called(), err)
	}
	b := newFontBuilder(tables, t.font)
	for _, char := range slices.Sorted(maps.Keys(chars)) {
		if glyph, err := t.font.GlyphIndex(&b.buf, char); err == nil && glyph != sfnt.GlyphIndex(0) {
			b.copy(char, glyph)
		}
	}
	return b.file()
}
