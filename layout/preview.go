package layout

import (
	"image"
	"math"

	"golang.org/x/image/vector"

	"pipstake/label"
)

// Preview draws the job's pages as WritePDF would print them, one after the
// other, at dpi pixels in an inch; black is 0. It calls page with each, its
// number from 1 and the number of all. Errors are those of WritePDF, and from
// page.
func Preview(job Job, dpi int, page func(n, of int, img *image.Gray) error) error {
	pages, err := job.pages()
	if err != nil {
		return err
	}
	return previewSides(job.Stock.Paper, job.sides(pages), job.Gain, dpi, page)
}

func previewSides(p Paper, sides []side, gain, dpi int, page func(n, of int, img *image.Gray) error) error {
	b := &brush{dots: float64(dpi) / 25.4, gain: gain}
	w, h := pixels(wholeDots(p.W, sides), dpi), pixels(wholeDots(p.H, sides), dpi)
	for i, s := range sides {
		b.raster = vector.NewRasterizer(w, h)
		if err := b.side(s, p); err != nil {
			return err
		}
		ink := image.NewAlpha(image.Rect(0, 0, w, h))
		b.raster.Draw(ink, ink.Rect, image.Opaque, image.Point{})
		img := &image.Gray{Pix: ink.Pix, Stride: ink.Stride, Rect: ink.Rect}
		for j := range img.Pix {
			img.Pix[j] = 255 - img.Pix[j]
		}
		if err := page(i+1, len(sides), img); err != nil {
			return err
		}
	}
	return nil
}

// pixels is the length of a page, in points, at dpi pixels in an inch.
func pixels(points float64, dpi int) int { return int(math.Round(points * float64(dpi) / 72)) }

// brush draws on a raster. All outlines run clockwise, as those of letters do,
// so that the ink of overlapping ones adds up.
type brush struct {
	raster *vector.Rasterizer
	dots   float64 // pixels in a millimetre
	gain   int     // printer dots taken off the dark parts of codes
}

// side draws all that is on a page.
func (b *brush) side(s side, p Paper) error {
	page := placement{at: label.Rect{W: p.W, H: p.H}}
	if err := b.draw(page, s.texts, s.rules, nil); err != nil {
		return err
	}
	for _, l := range s.labels {
		if err := b.draw(l.placement, l.drawing.Texts, l.drawing.Rules, l.drawing.Circles); err != nil {
			return err
		}
		for _, c := range l.drawing.Codes {
			b.code(l.placement, c)
		}
	}
	return nil
}

// draw sets texts, rules and circles on a label, or on the page.
func (b *brush) draw(l placement, texts []label.Text, rules []label.Rule, circles []label.Circle) error {
	for _, t := range texts {
		if err := b.text(l, t); err != nil {
			return err
		}
	}
	for _, r := range rules {
		b.rule(l, r)
	}
	for _, c := range circles {
		b.circle(l, c)
	}
	return nil
}

// circle draws a round line as many short ones.
func (b *brush) circle(l placement, c label.Circle) {
	const parts = 48
	at := func(i int) (x, y float64) {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / parts)
		return c.X + c.R*cos, c.Y + c.R*sin
	}
	for i := range parts {
		x1, y1 := at(i)
		x2, y2 := at(i + 1)
		b.rule(l, label.Rule{X1: x1, Y1: y1, X2: x2, Y2: y2, Width: c.Width})
	}
}

// rect fills a rectangle of the page, in millimetres.
func (b *brush) rect(r label.Rect) {
	b.polygon([][2]float64{{r.X, r.Y}, {r.Right(), r.Y}, {r.Right(), r.Bottom()}, {r.X, r.Bottom()}})
}

// polygon fills a polygon on the page, clockwise, in millimetres.
func (b *brush) polygon(corners [][2]float64) {
	for i, c := range corners {
		x, y := float32(c[0]*b.dots), float32(c[1]*b.dots)
		if i == 0 {
			b.raster.MoveTo(x, y)
		} else {
			b.raster.LineTo(x, y)
		}
	}
	b.raster.ClosePath()
}

// rule draws a line, dash by dash where it is dashed.
func (b *brush) rule(l placement, r label.Rule) {
	length := math.Hypot(r.X2-r.X1, r.Y2-r.Y1)
	if length == 0 {
		return
	}
	x, y := (r.X2-r.X1)/length, (r.Y2-r.Y1)/length
	dash, gap := r.Dash, r.Gap
	if dash <= 0 {
		dash, gap = length, 0
	}
	for from := 0.0; from < length; from += dash + gap {
		to := min(length, from+dash)
		var corners [][2]float64
		for _, c := range [][2]float64{{from, -1}, {to, -1}, {to, 1}, {from, 1}} {
			side := c[1] * r.Width / 2
			px, py := l.point(r.X1+x*c[0]-y*side, r.Y1+y*c[0]+x*side)
			corners = append(corners, [2]float64{px, py})
		}
		b.polygon(corners)
	}
}

// code fills the ink of a code, on the printer's dots.
func (b *brush) code(l placement, c label.Code) {
	mm := 25.4 / float64(c.Symbol.DPI)
	side := float64(c.Symbol.Size * c.Symbol.Dots)
	x, y := l.codeDots(c)
	square := placement{label.Rect{X: float64(x), Y: float64(y), W: side, H: side}, l.turn}
	for _, k := range new(tiling).cover(c.Symbol, b.gain) {
		r := square.onPage(label.Rect{X: float64(k.x), Y: float64(k.y), W: float64(k.w), H: float64(k.h)})
		b.rect(label.Rect{X: r.X * mm, Y: r.Y * mm, W: r.W * mm, H: r.H * mm})
	}
}

// text draws a line of text.
func (b *brush) text(l placement, t label.Text) error {
	return t.Face.Outline(t.String, b.raster, func(along, below float64) (float32, float32) {
		along, below = along*t.Size, below*t.Size
		if t.Turn == label.Upward {
			along, below = below, -along
		}
		x, y := l.point(t.X+along, t.Baseline+below)
		return float32(x * b.dots), float32(y * b.dots)
	})
}
