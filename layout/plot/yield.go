package plot

import (
	"fmt"
	"time"

	"pipstake/ids/registry"
	"pipstake/ids/season"
	"pipstake/label"
)

// The chart of a yield has three parts. Above, a bar for each stage shows how
// many there were, from flower to tree. Below, a row for each group shows fruit
// set, then germination, as a dot with its interval and the counts behind it.

// Stage is one stage on the way from flower to tree.
type Stage struct {
	Name  string
	Count registry.Count
}

// Share is a group's proportion.
type Share struct {
	Label    string
	Part     season.Part
	Interval season.Interval // of one
}

// Yield is the chart of what became of crosses.
type Yield struct {
	Stages []Stage
	Set    []Share // fruit of flowers; at most MostGroups
	Up     []Share // of seeds sown
}

// Draw returns the file of the chart, as "png", "svg" or "pdf"; the PDF says that
// it was made at created. The same chart gives the same bytes.
func (y Yield) Draw(form string, created time.Time) ([]byte, error) {
	high := func(rows int) float64 { return rowHigh*float64(rows) + rowsBeside }
	flowHigh, setHigh, upHigh := high(len(y.Stages))-8, high(len(y.Set)), high(len(y.Up)) // the first has no axis
	return render(form, width, flowHigh+setHigh+upHigh, created, func(s surface) {
		box := func(top, high float64) label.Rect {
			return label.Rect{X: border, Y: top + border, W: width - 2*border, H: high - 2*border}
		}
		stages(s, box(0, flowHigh), y.Stages)
		rowsChart(s, box(flowHigh, setHigh), "Fruit set with 95 % intervals (Wilson)", "fruit (% of flowers pollinated)", shares(y.Set))
		rowsChart(s, box(flowHigh+setHigh, upHigh), "Germination with 95 % intervals (Wilson)", "seedlings up (% of seeds sown in pots that were counted)", shares(y.Up))
	})
}

// unknown is shown where a number is not known.
const unknown = "—"

// stages draws a bar for each stage with its number behind it.
func stages(s surface, box label.Rect, all []Stage) {
	c := panel{title: "From flower to tree", x: axis{to: 1}}
	var shown, numbers []string
	for _, stage := range all {
		number := unknown
		if stage.Count.Known {
			number = stage.Count.String()
		}
		shown, numbers = append(shown, stage.Name), append(numbers, number)
		c.x.to = max(c.x.to, float64(stage.Count.N))
		c.beside = max(c.beside, countApart+smallText.width(number))
	}
	c.y = names(shown)
	f := c.draw(s, box)
	for i, stage := range all {
		at, n := float64(len(all)-i), float64(stage.Count.N)
		if n > 0 {
			f.area(tints[0], f.at(0, at+0.33), f.at(n, at+0.33), f.at(n, at-0.33), f.at(0, at-0.33))
		}
		end := f.at(n, at)
		f.text(smallText, point{end.x + 1.8, end.y + smallText.drop()}, false, numbers[i])
	}
}

// shares are the rows of groups' proportions; a dash where nothing is known.
func shares(all []Share) []row {
	var rows []row
	for _, s := range all {
		r := row{name: s.Label, count: unknown, known: s.Part.Known(), interval: s.Interval, expected: -1, look: look{tint: tints[0]}}
		if r.known {
			r.count, r.rate = fmt.Sprintf("%d of %d", s.Part.N, s.Part.Of), s.Part.Rate()
		}
		rows = append(rows, r)
	}
	return rows
}
