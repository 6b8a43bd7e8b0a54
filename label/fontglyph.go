package label

import (
	"encoding/binary"
	"math"

	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
)

// newGlyphData is an outline as a simple glyph, in font units.
type newGlyphData struct {
	points []glyphPoint
	ends   []int // the last point of each contour
	bounds glyphBounds
}

type glyphPoint struct {
	x, y  int16
	curve bool // it lies off the outline and bends it
}

// glyphBounds is the box around an outline, y upward.
type glyphBounds struct{ left, bottom, right, top int16 }

// noBounds is the box around nothing.
var noBounds = glyphBounds{math.MaxInt16, math.MaxInt16, math.MinInt16, math.MinInt16}

func (b *glyphBounds) join(o glyphBounds) {
	b.left, b.bottom = min(b.left, o.left), min(b.bottom, o.bottom)
	b.right, b.top = max(b.right, o.right), max(b.top, o.top)
}

// newGlyph makes a simple glyph of an outline, whose y runs downward, at one
// pixel a font unit; false where it does not fit into one.
func newGlyph(segments sfnt.Segments) (newGlyphData, bool) {
	g := newGlyphData{bounds: noBounds}
	start := 0
	ok := true
	add := func(p fixed.Point26_6, curve bool) {
		x, y := p.X.Round(), -p.Y.Round()
		if max(x, -x, y, -y) > math.MaxInt16/2 { // so that differences fit as well
			ok = false
			return
		}
		g.points = append(g.points, glyphPoint{int16(x), int16(y), curve})
	}
	end := func() {
		n := len(g.points)
		if n-start > 1 && g.points[n-1] == g.points[start] { // a contour closes by itself
			n--
		}
		g.points = g.points[:n]
		if n-start >= 2 {
			g.ends = append(g.ends, n-1)
			start = n
		}
		g.points = g.points[:start]
	}
	for _, s := range segments {
		switch s.Op {
		case sfnt.SegmentOpMoveTo:
			end()
			add(s.Args[0], false)
		case sfnt.SegmentOpLineTo:
			add(s.Args[0], false)
		case sfnt.SegmentOpQuadTo:
			add(s.Args[0], true)
			add(s.Args[1], false)
		default: // no TrueType outline has one
			return newGlyphData{}, false
		}
	}
	end()
	for _, p := range g.points {
		g.bounds.join(glyphBounds{p.x, p.y, p.x, p.y})
	}
	if len(g.points) > 0 && (g.bounds.left == g.bounds.right || g.bounds.bottom == g.bounds.top) {
		g = newGlyphData{bounds: noBounds} // without any area
	}
	return g, ok
}

// appendTo writes the glyph, to a length that 4 divides.
func (g newGlyphData) appendTo(to []byte) []byte {
	put := func(v int16) { to = binary.BigEndian.AppendUint16(to, uint16(v)) }
	put(int16(len(g.ends)))
	for _, v := range []int16{g.bounds.left, g.bounds.bottom, g.bounds.right, g.bounds.top} {
		put(v)
	}
	for _, e := range g.ends {
		put(int16(e))
	}
	put(0) // no instructions
	for _, p := range g.points {
		const onCurve = 0x01 // coordinates have 16 bits
		if p.curve {
			to = append(to, 0)
		} else {
			to = append(to, onCurve)
		}
	}
	last := glyphPoint{}
	for _, p := range g.points {
		put(p.x - last.x)
		last = p
	}
	last = glyphPoint{}
	for _, p := range g.points {
		put(p.y - last.y)
		last = p
	}
	for len(to)%4 != 0 {
		to = append(to, 0)
	}
	return to
}
