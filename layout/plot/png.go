package plot

import (
	"bytes"
	"image"
	"image/color"
	"image/png"
	"math"

	"golang.org/x/image/vector"
)

// dpi is the resolution of a PNG, which is read on a screen.
const dpi = 200

// pixels in a millimetre of a PNG.
const pixels = dpi / 25.4

// pngSurface paints on a raster.
type pngSurface struct {
	img *image.RGBA
	err error // of a letter
}

func newPNG(w, h float64) *pngSurface {
	return &pngSurface{img: image.NewRGBA(image.Rect(0, 0, int(math.Round(w*pixels)), int(math.Round(h*pixels))))}
}

// fill paints what draw puts on a raster of its own: the part of the picture from
// low to high, in millimetres. Draw gets the raster, and what takes a point of the
// picture to it.
func (s *pngSurface) fill(c color.RGBA, low, high point, draw func(r *vector.Rasterizer, at func(point) (x, y float32))) {
	part := image.Rect(int(math.Floor(low.x*pixels)), int(math.Floor(low.y*pixels)), int(math.Ceil(high.x*pixels))+1, int(math.Ceil(high.y*pixels))+1).Intersect(s.img.Rect)
	if part.Empty() {
		return
	}
	r := vector.NewRasterizer(part.Dx(), part.Dy())
	draw(r, func(p point) (float32, float32) {
		return float32(p.x*pixels - float64(part.Min.X)), float32(p.y*pixels - float64(part.Min.Y))
	})
	r.Draw(s.img, part, image.NewUniform(c), image.Point{})
}

func (s *pngSurface) area(c color.RGBA, corners ...point) {
	low, high := corners[0], corners[0]
	for _, p := range corners {
		low, high = point{min(low.x, p.x), min(low.y, p.y)}, point{max(high.x, p.x), max(high.y, p.y)}
	}
	s.fill(c, low, high, func(r *vector.Rasterizer, at func(point) (float32, float32)) {
		for i, p := range corners {
			if x, y := at(p); i == 0 {
				r.MoveTo(x, y)
			} else {
				r.LineTo(x, y)
			}
		}
		r.ClosePath()
	})
}

func (s *pngSurface) line(c color.RGBA, width, dash float64, points ...point) {
	for i := 1; i < len(points); i++ {
		from, to := points[i-1], points[i]
		length := math.Hypot(to.x-from.x, to.y-from.y)
		if length == 0 {
			continue
		}
		x, y := (to.x-from.x)/length, (to.y-from.y)/length // along the line
		stroke, step := dash, 2*dash
		if dash == 0 {
			stroke, step = length, length
		}
		for start := 0.0; start < length; start += step {
			end := min(start+stroke, length)
			corner := func(along, beside float64) point {
				return point{from.x + x*along - y*beside, from.y + y*along + x*beside}
			}
			s.area(c, corner(start, -width/2), corner(end, -width/2), corner(end, width/2), corner(start, width/2))
		}
	}
}

func (s *pngSurface) dot(c color.RGBA, middle point, radius float64) {
	const parts = 48
	var corners []point
	for i := range parts {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / parts)
		corners = append(corners, point{middle.x + radius*cos, middle.y + radius*sin})
	}
	s.area(c, corners...)
}

func (s *pngSurface) text(t textStyle, from point, upward bool, text string) {
	wide := t.width(text) + t.size
	low, high := point{from.x - t.size, from.y - 2*t.size}, point{from.x + wide, from.y + t.size}
	if upward {
		low, high = point{from.x - 2*t.size, from.y - wide}, point{from.x + t.size, from.y + t.size}
	}
	s.fill(t.tint, low, high, func(r *vector.Rasterizer, at func(point) (float32, float32)) {
		err := t.face.Outline(text, r, func(along, below float64) (float32, float32) {
			if upward {
				along, below = below, -along
			}
			return at(point{from.x + along*t.size, from.y + below*t.size})
		})
		if err != nil {
			s.err = err
		}
	})
}

func (s *pngSurface) file() ([]byte, error) {
	var b bytes.Buffer
	if err := png.Encode(&b, s.img); err != nil {
		return nil, err
	}
	return b.Bytes(), s.err
}
