package proof

import (
	"image"
	"math"
	"math/rand/v2"
	"slices"

	"pipstake/label"
)

// Reflectances, from 0 to 1, that are assumed of a label fresh from the
// printer and of what lies around it (common practice for toner on white
// film; not measured).
const (
	paperReflects  = 0.90
	inkReflects    = 0.06
	groundReflects = 0.30
)

// Print is a label as a printer sets it: every dot is ink or none. The label
// lies as it does on the page.
type Print struct {
	DPI  int
	dots *image.Gray // 0 for ink
	rest [2]float64  // where the label begins in the first dot, across and down, in dots
}

// Print prints the part of page n, from 1, that cell covers, in millimetres,
// with dpi dots in an inch. The printer's first dot lies right and down of the
// page's corner by parts of a dot from 0 to 1. A dot is ink where the page
// covers half of it or more.
func (d *Document) Print(n int, cell label.Rect, dpi int, right, down float64) (*Print, error) {
	scale := float64(dpi) / 25.4
	x, y := cell.X*scale+right, cell.Y*scale+down
	part := image.Rect(int(x), int(y), int(math.Ceil(x+cell.W*scale)), int(math.Ceil(y+cell.H*scale)))
	img, err := d.render(n, dpi, part, right, down)
	if err != nil {
		return nil, err
	}
	for i, v := range img.Pix {
		img.Pix[i] = 255
		if isDark(v) {
			img.Pix[i] = 0
		}
	}
	return &Print{dpi, img, [2]float64{x - float64(part.Min.X), y - float64(part.Min.Y)}}, nil
}

// Modules is a 2D code as it lies on a label.
type Modules struct {
	Outer label.Rect // with its quiet zone, on the label, in millimetres
	Size  int        // modules along a side, without the quiet zone
	Quiet int        // modules of the quiet zone along each side
	Dark  func(x, y int) bool
}

// dark is true for a dark module and false in the quiet zone and beyond.
func (m Modules) dark(x, y int) bool {
	return x >= 0 && y >= 0 && x < m.Size && y < m.Size && m.Dark(x, y)
}

// pitch is the side of a module in millimetres.
func (m Modules) pitch() float64 { return m.Outer.W / float64(m.Size+2*m.Quiet) }

// Replace prints a code instead of what lies in its place. A dot is ink where
// its centre lies in a dark module, so that modules come out uneven where they
// are no whole number of dots, as with any picture that is scaled to a width.
func (p *Print) Replace(m Modules) *Print {
	out := &Print{p.DPI, &image.Gray{Pix: slices.Clone(p.dots.Pix), Stride: p.dots.Stride, Rect: p.dots.Rect}, p.rest}
	scale := float64(p.DPI) / 25.4
	left, top := m.Outer.X*scale+p.rest[0], m.Outer.Y*scale+p.rest[1]
	side, module := m.Outer.W*scale, m.pitch()*scale
	for y := int(math.Round(top)); float64(y)+0.5 < top+side; y++ {
		for x := int(math.Round(left)); float64(x)+0.5 < left+side; x++ {
			mx := int(math.Floor((float64(x)+0.5-left)/module)) - m.Quiet
			my := int(math.Floor((float64(y)+0.5-top)/module)) - m.Quiet
			level := byte(255)
			if m.dark(mx, my) {
				level = 0
			}
			if (image.Point{X: x, Y: y}).In(out.dots.Rect) {
				out.dots.Pix[out.dots.PixOffset(x, y)] = level
			}
		}
	}
	return out
}

// ink is how much of a place is inked, from 0 to 1, when dots run into each
// other; x and y are in dots.
func (p *Print) ink(x, y float64) float64 {
	x, y = x-0.5, y-0.5
	ix, iy := math.Floor(x), math.Floor(y)
	fx, fy := x-ix, y-iy
	at := func(x, y int) float64 {
		if (image.Point{X: x, Y: y}).In(p.dots.Rect) && p.dots.Pix[p.dots.PixOffset(x, y)] == 0 {
			return 1
		}
		return 0
	}
	l, t := int(ix), int(iy)
	return (at(l, t)*(1-fx)+at(l+1, t)*fx)*(1-fy) + (at(l, t+1)*(1-fx)+at(l+1, t+1)*fx)*fy
}

// paper is the square of the given side around a point of the label, both in
// millimetres, as reflectances, with so many pixels a millimetre. Ink spreads by gain at each edge, in dots from
// 0 to 0.45, and roughens there; the label ends where the print does and lies
// on darker ground.
func (p *Print) paper(centre [2]float64, side, pitch, gain float64, rnd *rand.Rand) *plane {
	n := int(side * pitch)
	g := newPlane(n, n)
	scale := float64(p.DPI) / 25.4
	w, h := float64(p.dots.Rect.Dx()), float64(p.dots.Rect.Dy())
	for y := range n {
		for x := range n {
			mx := centre[0] + (float64(x)+0.5)/pitch - side/2
			my := centre[1] + (float64(y)+0.5)/pitch - side/2
			u, v := mx*scale+p.rest[0], my*scale+p.rest[1]
			level := paperReflects
			if u < p.rest[0] || v < p.rest[1] || u > w || v > h {
				level = groundReflects + 0.05*rnd.NormFloat64()
			} else if ink := p.ink(u, v); ink > 0 && (ink == 1 || ink+0.06*rnd.NormFloat64() > 0.5-gain) {
				level = inkReflects
			}
			g.v[y*n+x] = float32(level)
		}
	}
	return g
}
