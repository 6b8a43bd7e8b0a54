package plot

import (
	"fmt"
	"image/color"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"pipstake/ids/words"
)

// mostLetters leave the rows more than half of the plot.
const mostLetters = 51

// rows is the lower part of the chart: the first group stands at the top.
func rows(groups []plotted, method string) *plot.Plot {
	p := newPlot(fmt.Sprintf("Germination with 95 %% intervals (%s)", method))
	p.X.Label.Text = "germination (% of seeds sown); dashed: what is expected"
	p.X.Min, p.X.Max = 0, 100
	p.X.Tick.Marker = percentTicks()
	p.Y.Min, p.Y.Max = 0.5, float64(len(groups))+0.5
	p.Y.Width, p.Y.Tick.Length, p.Y.Padding = 0, 0, 4
	var ticks plot.ConstantTicks
	for i, g := range groups {
		ticks = append(ticks, plot.Tick{Value: float64(len(groups) - i), Label: words.Cut(g.Label, mostLetters)})
	}
	p.Y.Tick.Marker = ticks
	grid := plotter.NewGrid()
	grid.Horizontal.Width = 0
	grid.Vertical.Color = color.Gray{Y: 0xE4}
	p.Add(grid, intervalRows(groups))
	return p
}

// intervalRows draw a dot with its interval for each group, what was expected,
// and the count it rests on.
type intervalRows []plotted

func (rows intervalRows) count(g plotted) string { return fmt.Sprintf("%d of %d", g.Up, g.Sown) }

// Plot draws the rows.
func (rows intervalRows) Plot(c draw.Canvas, p *plot.Plot) {
	x, y := p.Transforms(&c)
	for i, g := range rows {
		row := float64(len(rows) - i)
		expected := x(100 * g.Expected)
		c.StrokeLine2(draw.LineStyle{Color: ink, Width: 0.8, Dashes: []vg.Length{3, 2}}, expected, y(row-0.5), expected, y(row+0.5))
		low, high := x(100*g.Interval.Low), x(100*g.Interval.High)
		width := vg.Length(lineThin)
		if g.Below {
			width = lineStrong
		}
		line := draw.LineStyle{Color: g.tint, Width: width}
		c.StrokeLine2(line, low, y(row), high, y(row))
		for _, end := range []vg.Length{low, high} {
			c.StrokeLine2(line, end, y(row)-3, end, y(row)+3)
		}
		c.DrawGlyphNoClip(draw.GlyphStyle{Color: g.tint, Radius: dotRadius + 1, Shape: draw.CircleGlyph{}}, vg.Point{X: x(100 * g.Rate()), Y: y(row)})
		c.FillText(g.style(), vg.Point{X: c.Max.X + 8, Y: y(row)}.Add(textDrop), rows.count(g))
	}
}

// GlyphBoxes reserve the room for the counts.
func (rows intervalRows) GlyphBoxes(*plot.Plot) []plot.GlyphBox {
	var wide vg.Length
	for _, g := range rows {
		wide = max(wide, g.style().Width(rows.count(g)))
	}
	return []plot.GlyphBox{{X: 1, Y: 0.5, Rectangle: vg.Rectangle{Max: vg.Point{X: 8 + wide}}}}
}
