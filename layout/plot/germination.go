// Package plot draws pictures of the season: how groups of pots came up, with
// intervals, and the ancestors of a plant. It computes nothing that they show.
package plot

import (
	"fmt"
	"image/color"
	"math"
	"slices"
	"time"

	stdfont "golang.org/x/image/font"
	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"pipstake/ids/season"
	"pipstake/ids/words"
)

// The chart has two parts. Above, a curve for each group shows how many percent
// were up on which day from sowing. Below, a row for each group shows its
// percentage as a dot with its interval. What lies wholly below the expectation
// is red and bold in both.

// MostGroups is the number of groups that can be told apart.
const MostGroups = 24

// Measures of the plot in points.
const (
	width       = 17 * vg.Centimeter
	curvesHigh  = 9 * vg.Centimeter
	rowHigh     = 0.55 * vg.Centimeter
	rowsBeside  = 2.6 * vg.Centimeter // the axis and title of the rows
	border      = 0.4 * vg.Centimeter
	labelSize   = 8.5
	labelApart  = 10 // between the names at the ends of two curves
	lineThin    = 1.2
	lineStrong  = 2.4
	dotRadius   = 2.2
	leaderWidth = 14
)

// The colours keep apart for colour-blind eyes as well.
var (
	alarm = color.RGBA{R: 0xC4, G: 0x3C, B: 0x00, A: 0xFF}
	grey  = color.RGBA{R: 0x9A, G: 0x9A, B: 0x9A, A: 0xFF}
	ink   = color.RGBA{R: 0x20, G: 0x20, B: 0x20, A: 0xFF}
	tints = []color.Color{
		color.RGBA{R: 0x00, G: 0x5A, B: 0x9C, A: 0xFF}, color.RGBA{R: 0x00, G: 0x80, B: 0x5E, A: 0xFF},
		color.RGBA{R: 0x8A, G: 0x3F, B: 0x86, A: 0xFF}, color.RGBA{R: 0x2B, G: 0x8F, B: 0xC7, A: 0xFF},
		color.RGBA{R: 0x9C, G: 0x74, B: 0x00, A: 0xFF}, ink,
	}
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
		p := plotted{Group: group, tint: tints[i%len(tints)], name: words.Cut(words.OneLine(group.Name), mostLetters/2)}
		if p.Below {
			p.tint = alarm
		}
		groups = append(groups, p)
	}
	upper, lower := curves(groups), rows(groups, g.Method)
	high := rowHigh*vg.Length(len(groups)) + rowsBeside
	return render(form, width, curvesHigh+high, created, func(c draw.Canvas) {
		c.FillPolygon(color.White, []vg.Point{c.Min, {X: c.Max.X, Y: c.Min.Y}, c.Max, {X: c.Min.X, Y: c.Max.Y}})
		upper.Draw(draw.Crop(c, border, -border, high, -border))
		lower.Draw(draw.Crop(c, border, -border, border, -curvesHigh-border))
	})
}

// plotted is a group as it is drawn.
type plotted struct {
	Group
	tint color.Color
	name string // at the end of the curve
}

// style is how the group's name and count are written: bold where it lies below
// what was expected.
func (g plotted) style() draw.TextStyle {
	weight := stdfont.WeightNormal
	if g.Below {
		weight = stdfont.WeightBold
	}
	s := textStyle(labelSize, weight)
	s.Color = g.tint
	return s
}

// textDrop sets a text that is centred by its line box on the middle of its
// capital letters.
var textDrop = vg.Point{Y: 0.12 * labelSize}

// newPlot is an empty plot in the look of the labels.
func newPlot(title string) *plot.Plot {
	p := plot.New()
	p.TextHandler = fonts()
	p.Title.Text = title
	p.Title.TextStyle = textStyle(11, stdfont.WeightBold)
	p.Title.TextStyle.XAlign, p.Title.TextStyle.YAlign = draw.XCenter, draw.YTop
	p.Title.TextStyle.Color = ink
	p.Title.Padding = 6
	for _, axis := range []*plot.Axis{&p.X, &p.Y} {
		position, rotation := axis.Label.TextStyle, axis.Tick.Label
		axis.Label.TextStyle = textStyle(9.5, stdfont.WeightNormal)
		axis.Label.TextStyle.XAlign, axis.Label.TextStyle.YAlign, axis.Label.TextStyle.Rotation = position.XAlign, position.YAlign, position.Rotation
		axis.Tick.Label = textStyle(labelSize, stdfont.WeightNormal)
		axis.Tick.Label.XAlign, axis.Tick.Label.YAlign = rotation.XAlign, rotation.YAlign
		axis.LineStyle.Color, axis.Tick.LineStyle.Color = grey, grey
	}
	p.Legend.TextStyle = textStyle(labelSize, stdfont.WeightNormal)
	return p
}

// percentTicks are the marks of an axis of percent.
func percentTicks() plot.ConstantTicks {
	var ticks plot.ConstantTicks
	for p := 0; p <= 100; p += 20 {
		ticks = append(ticks, plot.Tick{Value: float64(p), Label: fmt.Sprint(p)})
	}
	return ticks
}

// dayTicks are marks of whole days, ten at most, in weeks where that can be.
func dayTicks(last float64) plot.ConstantTicks {
	step := 1
	for _, next := range []int{2, 7, 14, 28, 56, 112, 364} {
		if last/float64(step) > 10 {
			step = next
		}
	}
	var ticks plot.ConstantTicks
	for day := 0; float64(day) <= last; day += step {
		ticks = append(ticks, plot.Tick{Value: float64(day), Label: fmt.Sprint(day)})
	}
	return ticks
}

// curves is the upper part.
func curves(groups []plotted) *plot.Plot {
	p := newPlot("Seedlings up, in percent of the seeds sown")
	p.X.Label.Text = "days from sowing"
	p.Y.Label.Text = "up (% of seeds sown)"
	p.Y.Min, p.Y.Max = 0, 100
	p.Y.Tick.Marker = percentTicks()
	grid := plotter.NewGrid()
	grid.Vertical.Width = 0
	grid.Horizontal.Color = color.Gray{Y: 0xE4}
	p.Add(grid)
	last := 1.0
	for _, strong := range []bool{false, true} { // what is below comes on top
		for _, g := range groups {
			if g.Below == strong {
				p.Add(curve(g))
			}
			last = math.Max(last, g.Curve[len(g.Curve)-1].Day)
		}
	}
	p.X.Min, p.X.Max = 0, last
	p.X.Tick.Marker = dayTicks(last)
	p.Add(endLabels(groups))
	return p
}

// curve joins what was up by each day of a count, from none on that of sowing.
type curve plotted

func (g curve) points(c draw.Canvas, p *plot.Plot) []vg.Point {
	x, y := p.Transforms(&c)
	var points []vg.Point
	for _, at := range g.Curve {
		points = append(points, vg.Point{X: x(at.Day), Y: y(100 * at.Up / float64(g.Sown))})
	}
	return points
}

// Plot draws the curve with a dot for each count.
func (g curve) Plot(c draw.Canvas, p *plot.Plot) {
	width := vg.Length(lineThin)
	if g.Below {
		width = lineStrong
	}
	points := g.points(c, p)
	c.StrokeLines(draw.LineStyle{Color: g.tint, Width: width}, points)
	for _, at := range points[1:] {
		c.DrawGlyphNoClip(draw.GlyphStyle{Color: g.tint, Radius: dotRadius, Shape: draw.CircleGlyph{}}, at)
	}
}

// endLabels write each group's name beside the end of its curve, moved up or
// down where two would touch.
type endLabels []plotted

// Plot draws the names.
func (e endLabels) Plot(c draw.Canvas, p *plot.Plot) {
	order := slices.Clone(e)
	slices.SortStableFunc(order, func(a, b plotted) int { return int(math.Copysign(1, a.Rate()-b.Rate())) })
	_, y := p.Transforms(&c)
	at := make([]vg.Length, len(order))
	for i, g := range order { // as low as may be, one above the other
		at[i] = y(100 * g.Rate())
		if i > 0 {
			at[i] = max(at[i], at[i-1]+labelApart)
		}
	}
	for i := len(at) - 1; i >= 0; i-- { // not above the top
		top := c.Max.Y
		if i < len(at)-1 {
			top = at[i+1] - labelApart
		}
		at[i] = min(at[i], top)
	}
	for i, g := range order {
		ends := curve(g).points(c, p)
		end := ends[len(ends)-1]
		style := g.style()
		from := vg.Point{X: c.Max.X + leaderWidth, Y: at[i]}
		c.StrokeLines(draw.LineStyle{Color: grey, Width: 0.5}, []vg.Point{{X: end.X + 2*dotRadius, Y: end.Y}, {X: from.X - 2, Y: from.Y}})
		c.FillText(style, from.Add(textDrop), g.name)
	}
}

// GlyphBoxes reserve the room to the right.
func (e endLabels) GlyphBoxes(*plot.Plot) []plot.GlyphBox {
	var wide vg.Length
	for _, g := range e {
		wide = max(wide, g.style().Width(g.name))
	}
	return []plot.GlyphBox{{X: 1, Y: 0.5, Rectangle: vg.Rectangle{Max: vg.Point{X: leaderWidth + wide}}}}
}
