package label

import (
	"fmt"
	"sync"
	"sync/atomic"

	"codeberg.org/go-fonts/liberation/liberationsansbold"
	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
)

// Typeface is a TrueType font with the measures that fitting text needs. It
// may be used from several goroutines.
type Typeface struct {
	Name string // unique within a document, letters only
	File string // the file that it was read from; "" for a font of the program
	TTF  []byte // the font, to be embedded

	font   *sfnt.Font
	units  fixed.Int26_6 // font units per em
	ascent float64       // of the font, accents included, in ems
	caps   float64       // the height of capital letters, in ems

	common [0x250]atomic.Pointer[glyph] // Latin letters, once measured
	mu     sync.Mutex                   // guards what follows
	buf    sfnt.Buffer
	others map[rune]glyph
}

// glyph is the measure of one character, in ems.
type glyph struct {
	known   bool // the font draws it
	advance float64
	above   float64 // ink above the baseline
	below   float64 // ink below the baseline
}

// Regular and Bold are the Go fonts, which hold the slashed zero, ×, ♀ and ♂.
var (
	Regular = mustTypeface("GoRegular", goregular.TTF)
	Bold    = mustTypeface("GoBold", gobold.TTF)
)

// Signs is for identifiers, which are read from afar. Its zero has no slash: far
// away a slashed one is taken for 6 or 8.
var Signs = mustTypeface("LiberationSansBold", liberationsansbold.TTF)

func mustTypeface(name string, ttf []byte) *Typeface {
	t, err := openTypeface(name, ttf)
	if err != nil {
		panic(err) // the fonts are part of the program
	}
	return t
}

// NewTypeface reads a TrueType font of any origin, called file in messages. The
// error completes "the font …" with what is wrong with it.
func NewTypeface(name, file string, ttf []byte) (*Typeface, error) {
	ttf, err := rewriteFont(ttf)
	if err != nil {
		return nil, err
	}
	t, err := openTypeface(name, ttf)
	if err != nil {
		return nil, fmt.Errorf("cannot be read: %w", err)
	}
	t.File = file
	return t, nil
}

// openTypeface reads a font that is known to be sound.
func openTypeface(name string, ttf []byte) (*Typeface, error) {
	f, err := sfnt.Parse(ttf)
	if err != nil {
		return nil, err
	}
	t := &Typeface{Name: name, TTF: ttf, font: f, units: fixed.I(int(f.UnitsPerEm())), others: map[rune]glyph{}}
	m, err := f.Metrics(&t.buf, t.units, font.HintingNone)
	if err != nil {
		return nil, err
	}
	t.ascent = t.ems(m.Ascent)
	t.caps, _ = t.Extent("H")
	return t, nil
}

// Called is what messages call the font.
func (t *Typeface) Called() string {
	if t.File != "" {
		return t.File
	}
	return t.Name
}

// Has reports whether the font draws r.
func (t *Typeface) Has(r rune) bool { return t.glyph(r).known }

// Width is how far the text s runs, in ems; kerning is not used. A character
// that the font lacks counts nothing: ask Has first.
func (t *Typeface) Width(s string) float64 {
	var sum float64
	for _, r := range s {
		sum += t.glyph(r).advance
	}
	return sum
}

// Extent is how far the ink of s reaches above and below the baseline, in ems.
func (t *Typeface) Extent(s string) (above, below float64) {
	for _, r := range s {
		g := t.glyph(r)
		above, below = max(above, g.above), max(below, g.below)
	}
	return above, below
}

func (t *Typeface) ems(v fixed.Int26_6) float64 { return float64(v) / float64(t.units) }

// glyph is the measure of r, kept from the first time it is asked for.
func (t *Typeface) glyph(r rune) glyph {
	common := r >= 0 && int(r) < len(t.common)
	if common {
		if g := t.common[r].Load(); g != nil {
			return *g
		}
	}
	t.mu.Lock()
	defer t.mu.Unlock()
	g, ok := t.others[r]
	if !ok {
		g = t.measure(r)
	}
	if common {
		t.common[r].Store(&g)
	} else {
		t.others[r] = g
	}
	return g
}

// measure reads a glyph from the font. The caller holds t.mu.
func (t *Typeface) measure(r rune) glyph {
	index, err := t.font.GlyphIndex(&t.buf, r)
	if err != nil || index == 0 {
		return glyph{}
	}
	b, advance, err := t.font.GlyphBounds(&t.buf, index, t.units, font.HintingNone)
	if err != nil {
		return glyph{}
	}
	return glyph{known: true, advance: t.ems(advance), above: t.ems(-b.Min.Y), below: t.ems(b.Max.Y)}
}

// em is the em, in millimetres, of type whose capital letters are so many
// millimetres high.
func (t *Typeface) em(caps float64) float64 { return caps / t.caps }

// Points is a size in points (1/72 inch) as millimetres.
func Points(pt float64) float64 { return pt * 25.4 / 72 }
