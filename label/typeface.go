package label

import (
	"fmt"

	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
)

// Typeface is a TrueType font with the measures that fitting text needs.
type Typeface struct {
	Name string // unique within a document, letters only
	TTF  []byte // the font file, to be embedded

	font            *sfnt.Font
	units           float64 // font units per em
	ascent, descent float64 // in ems, both positive
	capHeight       float64 // in ems
}

// Regular and Bold are the Go fonts, which hold the slashed zero, ×, ♀ and ♂.
var (
	Regular = mustTypeface("GoRegular", goregular.TTF)
	Bold    = mustTypeface("GoBold", gobold.TTF)
)

func mustTypeface(name string, ttf []byte) *Typeface {
	t, err := NewTypeface(name, ttf)
	if err != nil {
		panic(err) // the fonts are part of the program
	}
	return t
}

// NewTypeface reads a TrueType font. The error tells what is wrong with the
// file.
func NewTypeface(name string, ttf []byte) (*Typeface, error) {
	f, err := sfnt.Parse(ttf)
	if err != nil {
		return nil, fmt.Errorf("font %s: %w", name, err)
	}
	var buf sfnt.Buffer
	units := f.UnitsPerEm()
	m, err := f.Metrics(&buf, fixed.I(int(units)), 0)
	if err != nil {
		return nil, fmt.Errorf("font %s: %w", name, err)
	}
	em := func(v fixed.Int26_6) float64 { return float64(v) / 64 / float64(units) }
	return &Typeface{Name: name, TTF: ttf, font: f, units: float64(units),
		ascent: em(m.Ascent), descent: em(m.Descent), capHeight: em(m.CapHeight)}, nil
}

// Has reports whether the font draws r.
func (t *Typeface) Has(r rune) bool {
	var buf sfnt.Buffer
	g, err := t.font.GlyphIndex(&buf, r)
	return err == nil && g != 0
}

// Width is how far the text s runs, in ems; kerning is not used. A character
// that the font lacks counts as the font's empty box: ask Has first.
func (t *Typeface) Width(s string) float64 {
	var buf sfnt.Buffer
	var sum fixed.Int26_6
	for _, r := range s {
		g, err := t.font.GlyphIndex(&buf, r)
		if err != nil {
			continue
		}
		a, err := t.font.GlyphAdvance(&buf, g, fixed.I(int(t.units)), 0)
		if err != nil {
			continue
		}
		sum += a
	}
	return float64(sum) / 64 / t.units
}

// Points is a size in points (1/72 inch) as millimetres.
func Points(pt float64) float64 { return pt * 25.4 / 72 }
