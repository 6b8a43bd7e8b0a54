package plot

import (
	"pipstake/ids/season"
	"pipstake/ids/words"
	"pipstake/label"
)

// mostLetters leave the rows more than half of the plot.
const mostLetters = 51

// rowsBeside is what a chart of rows takes besides them, in millimetres: its title,
// and its axis where it has one.
const rowsBeside = 26.0

// row is a proportion as a dot with its interval, and the counts that it rests on.
type row struct {
	name     string
	count    string // "—" where nothing is known
	known    bool   // the rate and its interval are
	rate     float64
	interval season.Interval
	expected float64 // what a dashed mark shows, from 0 to 1; negative for none
	look
}

// rowsChart draws proportions below one another.
func rowsChart(s surface, box label.Rect, title, axisTitle string, rows []row) {
	c := panel{title: title, x: percent(axisTitle)}
	var shown []string
	for _, r := range rows {
		shown = append(shown, words.Cut(r.name, mostLetters))
		c.beside = max(c.beside, r.text().width(r.count))
	}
	c.y = names(shown)
	c.beside += countApart
	f := c.draw(s, box)
	for i, r := range rows {
		r.draw(f, float64(len(rows)-i))
	}
}

// countApart is how far the counts stand from the right end of the axis.
const countApart = 2.8

// draw draws a row in its place on the frame.
func (r row) draw(f frame, at float64) {
	if r.expected >= 0 {
		f.line(ink, 0.28, dashLong, f.at(100*r.expected, at+0.5), f.at(100*r.expected, at-0.5))
	}
	text := r.text()
	f.text(text, point{f.values.Right() + countApart, f.at(0, at).y + text.drop()}, false, r.count)
	if !r.known {
		return
	}
	low, high := f.at(100*r.interval.Low, at), f.at(100*r.interval.High, at)
	f.line(r.tint, r.lineWidth(), 0, low, high)
	for _, end := range []point{low, high} {
		f.line(r.tint, r.lineWidth(), 0, point{end.x, end.y - 1.05}, point{end.x, end.y + 1.05})
	}
	f.dot(r.tint, f.at(100*r.rate, at), 1.4*dotRadius)
}
