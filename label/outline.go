package label

import (
	"fmt"

	"golang.org/x/image/font"
	"golang.org/x/image/font/sfnt"
)

// Path takes the outlines of letters, which are closed curves: each begins with
// MoveTo. A vector.Rasterizer of golang.org/x/image is one.
type Path interface {
	MoveTo(x, y float32)
	LineTo(x, y float32)
	QuadTo(x1, y1, x2, y2 float32)
	ClosePath()
}

// Outline draws the letters of s, without kerning, into path. Each of their points
// goes through at: from ems along the line, counted from its start, and ems below
// the baseline to wherever path wants it.
func (t *Typeface) Outline(s string, path Path, at func(along, below float64) (x, y float32)) error {
	t.mu.Lock()
	defer t.mu.Unlock()
	start := 0.0
	for _, r := range s {
		index, err := t.font.GlyphIndex(&t.buf, r)
		if err != nil {
			return fmt.Errorf("font %s, character %q: %w", t.Name, r, err)
		}
		segments, err := t.font.LoadGlyph(&t.buf, index, t.units, nil)
		if err != nil {
			return fmt.Errorf("font %s, character %q: %w", t.Name, r, err)
		}
		for _, segment := range segments {
			var x, y [2]float32
			for i, p := range segment.Args[:2] {
				x[i], y[i] = at(start+t.ems(p.X), t.ems(p.Y))
			}
			switch segment.Op {
			case sfnt.SegmentOpMoveTo:
				path.ClosePath()
				path.MoveTo(x[0], y[0])
			case sfnt.SegmentOpLineTo:
				path.LineTo(x[0], y[0])
			case sfnt.SegmentOpQuadTo: // TrueType has no other curves
				path.QuadTo(x[0], y[0], x[1], y[1])
			}
		}
		advance, err := t.font.GlyphAdvance(&t.buf, index, t.units, font.HintingNone)
		if err != nil {
			return fmt.Errorf("font %s, character %q: %w", t.Name, r, err)
		}
		start += t.ems(advance)
	}
	path.ClosePath()
	return nil
}
