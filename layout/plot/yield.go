package plot

import (
	"fmt"
	"image/color"
	"time"

	stdfont "golang.org/x/image/font"
	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"pipstake/ids/registry"
	"pipstake/ids/season"
	"pipstake/ids/words"
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
	flow := stages(y.Stages)
	set := shares("Fruit set with 95 % intervals (Wilson)", "fruit (% of flowers pollinated)", y.Set)
	up := shares("Germination with 95 % intervals (Wilson)", "seedlings up (% of seeds sown in pots that were counted)", y.Up)
	high := func(rows int) vg.Length { return rowHigh*vg.Length(rows) + rowsBeside }
	flowHigh, setHigh, upHigh := high(len(y.Stages))-0.8*vg.Centimeter, high(len(y.Set)), high(len(y.Up))
	return render(form, width, flowHigh+setHigh+upHigh, created, func(c draw.Canvas) {
		c.FillPolygon(color.White, []vg.Point{c.Min, {X: c.Max.X, Y: c.Min.Y}, c.Max, {X: c.Min.X, Y: c.Max.Y}})
		flow.Draw(draw.Crop(c, border, -border, setHigh+upHigh, -border))
		set.Draw(draw.Crop(c, border, -border, upHigh, -flowHigh-border))
		up.Draw(draw.Crop(c, border, -border, border, -flowHigh-setHigh-border))
	})
}

// rowPlot is a plot whose rows have names; the first stands at the top.
func rowPlot(title string, names []string) *plot.Plot {
	p := newPlot(title)
	p.Y.Min, p.Y.Max = 0.5, float64(len(names))+0.5
	p.Y.Width, p.Y.Tick.Length, p.Y.Padding = 0, 0, 4
	var ticks plot.ConstantTicks
	for i, name := range names {
		ticks = append(ticks, plot.Tick{Value: float64(len(names) - i), Label: words.Cut(name, mostLetters)})
	}
	p.Y.Tick.Marker = ticks
	return p
}

// stages is the upper part.
func stages(all []Stage) *plot.Plot {
	var names []string
	most := 1
	for _, s := range all {
		names = append(names, s.Name)
		most = max(most, s.Count.N)
	}
	p := rowPlot("From flower to tree", names)
	p.X.Min, p.X.Max = 0, float64(most)
	p.HideX()
	p.Add(stageBars(all))
	return p
}

// stageBars draw a bar for each stage with its number behind it.
type stageBars []Stage

func numberOf(s Stage) string {
	if !s.Count.Known {
		return "—"
	}
	return s.Count.String()
}

// Plot draws the bars.
func (bars stageBars) Plot(c draw.Canvas, p *plot.Plot) {
	x, y := p.Transforms(&c)
	style := textStyle(labelSize, stdfont.WeightNormal)
	style.Color = ink
	for i, s := range bars {
		row := float64(len(bars) - i)
		end := x(float64(s.Count.N))
		low, high := y(row-0.33), y(row+0.33)
		if s.Count.N > 0 {
			c.FillPolygon(tints[0], []vg.Point{{X: x(0), Y: low}, {X: end, Y: low}, {X: end, Y: high}, {X: x(0), Y: high}})
		}
		c.FillText(style, vg.Point{X: end + 5, Y: y(row)}.Add(textDrop), numberOf(s))
	}
}

// GlyphBoxes reserve the room for the numbers.
func (bars stageBars) GlyphBoxes(*plot.Plot) []plot.GlyphBox {
	var wide vg.Length
	for _, s := range bars {
		wide = max(wide, textStyle(labelSize, stdfont.WeightNormal).Width(numberOf(s)))
	}
	return []plot.GlyphBox{{X: 1, Y: 0.5, Rectangle: vg.Rectangle{Max: vg.Point{X: 8 + wide}}}}
}

// shares is one of the lower parts.
func shares(title, axis string, all []Share) *plot.Plot {
	var names []string
	for _, s := range all {
		names = append(names, s.Label)
	}
	p := rowPlot(title, names)
	p.X.Label.Text = axis
	p.X.Min, p.X.Max = 0, 100
	p.X.Tick.Marker = percentTicks()
	grid := plotter.NewGrid()
	grid.Horizontal.Width = 0
	grid.Vertical.Color = color.Gray{Y: 0xE4}
	p.Add(grid, shareRows(all))
	return p
}

// shareRows draw a dot with its interval for each group, and the count it rests
// on; a dash where nothing is known.
type shareRows []Share

func (rows shareRows) count(s Share) string {
	if !s.Part.Known() {
		return "—"
	}
	return fmt.Sprintf("%d of %d", s.Part.N, s.Part.Of)
}

// Plot draws the rows.
func (rows shareRows) Plot(c draw.Canvas, p *plot.Plot) {
	x, y := p.Transforms(&c)
	style := textStyle(labelSize, stdfont.WeightNormal)
	style.Color = ink
	line := draw.LineStyle{Color: tints[0], Width: lineThin}
	for i, s := range rows {
		row := y(float64(len(rows) - i))
		c.FillText(style, vg.Point{X: c.Max.X + 8, Y: row}.Add(textDrop), rows.count(s))
		if !s.Part.Known() {
			continue
		}
		low, high := x(100*s.Interval.Low), x(100*s.Interval.High)
		c.StrokeLine2(line, low, row, high, row)
		for _, end := range []vg.Length{low, high} {
			c.StrokeLine2(line, end, row-3, end, row+3)
		}
		c.DrawGlyphNoClip(draw.GlyphStyle{Color: tints[0], Radius: dotRadius + 1, Shape: draw.CircleGlyph{}}, vg.Point{X: x(100 * s.Part.Rate()), Y: row})
	}
}

// GlyphBoxes reserve the room for the counts.
func (rows shareRows) GlyphBoxes(*plot.Plot) []plot.GlyphBox {
	var wide vg.Length
	for _, s := range rows {
		wide = max(wide, textStyle(labelSize, stdfont.WeightNormal).Width(rows.count(s)))
	}
	return []plot.GlyphBox{{X: 1, Y: 0.5, Rectangle: vg.Rectangle{Max: vg.Point{X: 8 + wide}}}}
}
