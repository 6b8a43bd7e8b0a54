package plot

import (
	"fmt"
	"image/color"

	"pipstake/label"
)

// Measures of the plots, in millimetres.
const (
	width     = 170.0
	rowHigh   = 5.5
	border    = 4.0
	headHigh  = 8.0 // the title, with the space below it
	axisApart = 2.2 // from what is drawn
	markLong  = 2.8
	dotRadius = 0.8
	hairline  = 0.18
	lineThin  = 0.42
	lineThick = 0.85
	dashLong  = 0.9
)

// The colours keep apart for colour-blind eyes as well.
var (
	white = color.RGBA{R: 0xFF, G: 0xFF, B: 0xFF, A: 0xFF}
	alarm = color.RGBA{R: 0xC4, G: 0x3C, B: 0x00, A: 0xFF}
	grey  = color.RGBA{R: 0x9A, G: 0x9A, B: 0x9A, A: 0xFF}
	pale  = color.RGBA{R: 0xE4, G: 0xE4, B: 0xE4, A: 0xFF}
	ink   = color.RGBA{R: 0x20, G: 0x20, B: 0x20, A: 0xFF}
	tints = []color.RGBA{
		{R: 0x00, G: 0x5A, B: 0x9C, A: 0xFF}, {R: 0x00, G: 0x80, B: 0x5E, A: 0xFF},
		{R: 0x8A, G: 0x3F, B: 0x86, A: 0xFF}, {R: 0x2B, G: 0x8F, B: 0xC7, A: 0xFF},
		{R: 0x9C, G: 0x74, B: 0x00, A: 0xFF}, ink,
	}
)

// How texts are written.
var (
	titleText = textStyle{label.Bold, label.Points(11), ink}
	axisText  = textStyle{label.Regular, label.Points(9.5), ink}
	smallText = textStyle{label.Regular, label.Points(8.5), ink}
)

// tick is a mark on an axis.
type tick struct {
	at   float64
	text string
}

// axis is a scale of values.
type axis struct {
	title    string
	from, to float64
	ticks    []tick
	line     bool // drawn, with a line across the picture at each tick; else the ticks are names only
}

// panel is one part of a picture: a title above two axes.
type panel struct {
	title  string
	x, y   axis
	beside float64 // what is kept free at the right, in millimetres
}

// frame is where the values of a panel lie on a surface, in millimetres.
type frame struct {
	surface
	panel
	values label.Rect
}

// at is the place of a pair of values.
func (f frame) at(x, y float64) point {
	return point{
		f.values.X + f.values.W*(x-f.panel.x.from)/(f.panel.x.to-f.panel.x.from),
		f.values.Bottom() - f.values.H*(y-f.panel.y.from)/(f.panel.y.to-f.panel.y.from),
	}
}

// draw draws the axes into box and returns the frame between them.
func (p panel) draw(s surface, box label.Rect) frame {
	names := 0.0
	for _, t := range p.y.ticks {
		names = max(names, smallText.width(t.text))
	}
	left := names + axisApart
	if p.y.line {
		left += markLong + 1
	}
	if p.y.title != "" {
		left += 1.5 * axisText.size
	}
	foot := 0.0
	if p.x.line {
		foot = axisApart + markLong + 1.2*smallText.size + 1.3*axisText.size
	}
	f := frame{s, p, box.Inset(left, headHigh, p.beside, foot)}
	s.text(titleText, point{box.X + (box.W-titleText.width(p.title))/2, box.Y + 0.35*headHigh + titleText.drop()}, false, p.title)
	if p.x.line {
		f.drawX(box)
	}
	f.drawY(box)
	return f
}

// drawX draws the axis below.
func (f frame) drawX(box label.Rect) {
	a, y := f.panel.x, f.values.Bottom()+axisApart
	f.line(grey, hairline, 0, point{f.values.X, y}, point{f.values.Right(), y})
	below := y + markLong + smallText.size
	for _, t := range a.ticks {
		x := f.at(t.at, f.panel.y.from).x
		if !f.panel.y.line {
			f.line(pale, hairline, 0, point{x, f.values.Y}, point{x, f.values.Bottom()})
		}
		f.line(grey, hairline, 0, point{x, y}, point{x, y + markLong})
		f.text(smallText, point{x - smallText.width(t.text)/2, below}, false, t.text)
	}
	wide := axisText.width(a.title) // in the middle, but not off the box
	x := max(box.X, min(f.values.X+(f.values.W-wide)/2, box.Right()-wide))
	f.text(axisText, point{x, below + 1.1*axisText.size}, false, a.title)
}

// drawY draws the axis at the left, or the names of rows.
func (f frame) drawY(box label.Rect) {
	a, x := f.panel.y, f.values.X-axisApart
	if a.line {
		f.line(grey, hairline, 0, point{x, f.values.Y}, point{x, f.values.Bottom()})
	}
	for _, t := range a.ticks {
		y := f.at(f.panel.x.from, t.at).y
		end := x
		if a.line {
			f.line(pale, hairline, 0, point{f.values.X, y}, point{f.values.Right(), y})
			f.line(grey, hairline, 0, point{x - markLong, y}, point{x, y})
			end -= markLong + 1
		}
		f.text(smallText, point{end - smallText.width(t.text), y + smallText.drop()}, false, t.text)
	}
	if a.title != "" {
		f.text(axisText, point{box.X + axisText.size, f.values.Y + (f.values.H+axisText.width(a.title))/2}, true, a.title)
	}
}

// percent is an axis of percent.
func percent(title string) axis {
	a := axis{title: title, to: 100, line: true}
	for p := 0; p <= 100; p += 20 {
		a.ticks = append(a.ticks, tick{float64(p), fmt.Sprint(p)})
	}
	return a
}

// names is an axis of rows with names; the first stands at the top, at the value
// len(names), the last at 1.
func names(all []string) axis {
	a := axis{from: 0.5, to: float64(len(all)) + 0.5}
	for i, name := range all {
		a.ticks = append(a.ticks, tick{float64(len(all) - i), name})
	}
	return a
}
