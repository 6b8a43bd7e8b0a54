package plot

import (
	"fmt"
	"image/color"
	"time"

	"pipstake/label"
)

// point is a place on a picture, in millimetres from its upper left corner.
type point struct{ x, y float64 }

// surface takes what is drawn, in millimetres. What comes later covers what came
// before.
type surface interface {
	// line joins points by a line of some width; dash is the length of its strokes
	// and of the gaps between them, 0 for a solid line.
	line(c color.RGBA, width, dash float64, points ...point)
	// area fills a polygon whose corners run clockwise.
	area(c color.RGBA, corners ...point)
	// dot fills a circle.
	dot(c color.RGBA, middle point, radius float64)
	// text writes s from a point on its baseline to the right, or up.
	text(t textStyle, from point, upward bool, s string)
	// file returns the bytes of the picture's file.
	file() ([]byte, error)
}

// textStyle is how a text is written, its size the em in millimetres.
type textStyle struct {
	face *label.Typeface
	size float64
	tint color.RGBA
}

// width is how far a text runs, in millimetres.
func (t textStyle) width(s string) float64 { return t.size * t.face.Width(s) }

// drop is how far below the middle of its capital letters a text stands.
func (t textStyle) drop() float64 {
	above, _ := t.face.Extent("H")
	return t.size * above / 2
}

// render returns the file of a picture of w by h millimetres that paint draws on
// white.
func render(form string, w, h float64, created time.Time, paint func(surface)) ([]byte, error) {
	var s surface
	switch form {
	case "png":
		s = newPNG(w, h)
	case "svg":
		s = newSVG(w, h)
	case "pdf":
		s = newPDF(w, h, created)
	default:
		return nil, fmt.Errorf("there is no form %q of a plot", form)
	}
	s.area(white, point{}, point{w, 0}, point{w, h}, point{0, h})
	paint(s)
	data, err := s.file()
	if err != nil {
		return nil, fmt.Errorf("writing the plot: %w", err)
	}
	return data, nil
}
