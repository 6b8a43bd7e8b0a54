// Package plot draws pictures of the season: how groups of pots came up, with
// intervals, and the ancestors of a plant. It computes nothing that they show.
package plot

import (
	"cmp"
	"fmt"
	"image/color"
	"slices"
	"time"

	"pipstake/ids/season"
	"pipstake/ids/words"
	"pipstake/label"
)

// The chart has two parts. Above, a curve for each group shows how many percent
// were up on which day from sowing. Below, a row for each group shows its
// percentage as a dot with its interval. What lies wholly below the expectation
// is red and bold in both.

// MostGroups is the number of groups that can be told apart.
const MostGroups = 24

const (
	curvesHigh  = 90.0 // of the upper part, in millimetres
	labelApart  = 3.5  // between the names at the ends of two curves
	leaderWidth = 5.0  // of the line from a curve to its name
)

// Group is a group of pots, with what its row shows.
type Group struct {
	season.Group
	Interval season.Interval // of the rate, from 0 to 1
	Below    bool            // the interval lies wholly below what was expected
	Label    string          // beside the row; the curve bears the group's name
}

// Germination is the chart of how groups of pots came up.
type Germination struct {
	Groups []Group // at most MostGroups, each with a curve
	Method string  // that the intervals are of
}

// Draw returns the file of the chart, as "png", "svg" or "pdf"; the PDF says that
// it was made at created. The same chart gives the same bytes.
func (g Germination) Draw(form string, created time.Time) ([]byte, error) {
	var groups []plotted
	for i, group := range g.Groups {
		p := plotted{Group: group, look: look{tint: tints[i%len(tints)]}, name: words.Cut(words.OneLine(group.Name), mostLetters/2)}
		if p.Below {
			p.look = look{tint: alarm, strong: true}
		}
		groups = append(groups, p)
	}
	high := rowHigh*float64(len(groups)) + rowsBeside
	return render(form, width, curvesHigh+high, created, func(s surface) {
		curves(s, label.Rect{X: border, Y: border, W: width - 2*border, H: curvesHigh - border}, groups)
		var rows []row
		for _, p := range groups {
			rows = append(rows, row{name: p.Label, count: fmt.Sprintf("%d of %d", p.Up, p.Sown), known: true,
				rate: p.Rate(), interval: p.Interval, expected: p.Expected, look: p.look})
		}
		rowsChart(s, label.Rect{X: border, Y: curvesHigh + border, W: width - 2*border, H: high - 2*border},
			fmt.Sprintf("Germination with 95 %% intervals (%s)", g.Method), "germination (% of seeds sown); dashed: what is expected", rows)
	})
}

// plotted is a group as it is drawn.
type plotted struct {
	Group
	look
	name string // at the end of the curve
}

// look is how a group is drawn: strong where it lies below what was expected.
type look struct {
	tint   color.RGBA
	strong bool
}

// text is how the group's name and counts are written.
func (l look) text() textStyle {
	t := smallText
	t.tint = l.tint
	if l.strong {
		t.face = label.Bold
	}
	return t
}

func (l look) lineWidth() float64 {
	if l.strong {
		return lineThick
	}
	return lineThin
}

// dayTicks are marks of whole days, ten at most, in weeks where that can be.
func dayTicks(last float64) []tick {
	step := 1
	for _, next := range []int{2, 7, 14, 28, 56, 112, 364} {
		if last/float64(step) > 10 {
			step = next
		}
	}
	var ticks []tick
	for day := 0; float64(day) <= last; day += step {
		ticks = append(ticks, tick{float64(day), fmt.Sprint(day)})
	}
	return ticks
}

// curves draws the upper part.
func curves(s surface, box label.Rect, groups []plotted) {
	c := panel{title: "Seedlings up, in percent of the seeds sown", y: percent("up (% of seeds sown)"), x: axis{title: "days from sowing", to: 1, line: true}}
	for _, g := range groups {
		c.x.to = max(c.x.to, g.Curve[len(g.Curve)-1].Day)
		c.beside = max(c.beside, leaderWidth+g.text().width(g.name))
	}
	c.x.ticks = dayTicks(c.x.to)
	f := c.draw(s, box)
	for _, strong := range []bool{false, true} { // what is below comes on top
		for _, g := range groups {
			if g.strong == strong {
				g.curve(f)
			}
		}
	}
	endLabels(f, groups)
}

// points join what was up by each day of a count, from none on that of sowing.
func (g plotted) points(f frame) []point {
	var points []point
	for _, at := range g.Curve {
		points = append(points, f.at(at.Day, 100*at.Up/float64(g.Sown)))
	}
	return points
}

// curve draws the curve with a dot for each count.
func (g plotted) curve(f frame) {
	points := g.points(f)
	f.line(g.tint, g.lineWidth(), 0, points...)
	for _, at := range points[1:] {
		f.dot(g.tint, at, dotRadius)
	}
}

// endLabels writes each group's name beside the end of its curve, moved up or
// down where two would touch.
func endLabels(f frame, groups []plotted) {
	order := slices.Clone(groups)
	slices.SortStableFunc(order, func(a, b plotted) int { return cmp.Compare(a.Rate(), b.Rate()) })
	at := make([]float64, len(order)) // y on the picture, which runs down
	for i, g := range order {         // as low as may be, one above the other
		at[i] = f.at(0, 100*g.Rate()).y
		if i > 0 {
			at[i] = min(at[i], at[i-1]-labelApart)
		}
	}
	for i := len(at) - 1; i >= 0; i-- { // not above the top
		top := f.values.Y
		if i < len(at)-1 {
			top = at[i+1] + labelApart
		}
		at[i] = max(at[i], top)
	}
	for i, g := range order {
		ends := g.points(f)
		end, text := ends[len(ends)-1], g.text()
		from := point{f.values.Right() + leaderWidth, at[i]}
		f.line(grey, hairline, 0, point{end.x + 2*dotRadius, end.y}, point{from.x - 0.7, from.y})
		f.text(text, point{from.x, from.y + text.drop()}, false, g.name)
	}
}
