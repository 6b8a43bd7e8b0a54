package layout

import (
	"bytes"
	"fmt"
	"io"
	"math"
	"slices"
	"time"

	"pipstake/label"
)

// TestSheet is a page to print on plain paper and hold against the stock, to
// find out how far a printer draws beside where it should.
//
// What it measures with stays where it is: the corner marks, the rules and the
// steps. Only the outlines of the cells are moved by the shift that is kept
// already. What is read off is therefore always the whole shift to keep.
type TestSheet struct {
	Stock    Stock
	Printer  string
	Kept     Shift
	Flip     Flip  // over which edge a sheet is turned, for a page to measure backs by
	KeptBack Shift // of backs
	Created  time.Time
	Adjust   string // the command that keeps a shift, up to its measures

	back bool // the page for backs
}

// Measures of a test sheet, in millimetres.
const (
	cornerInset  = 10.0
	smallInset   = 3.0   // of the corner marks on a small page
	smallPage    = 140.0 // the width below which a page is small
	cornerLength = 6.0
	stepSize     = 0.25
	steps        = 12  // to either side
	stepHeight   = 2.0 // of which a fifth stays white
	stepsLength  = (2*steps + 1) * stepHeight
	panelWidth   = 150.0
	panelHeight  = 112.0
	bodySize     = 3.2
	smallText    = 2.4
)

// WriteTestSheet writes the page. The error is a *label.GlyphError for a
// printer whose name the font cannot draw; others come from a stock that
// contradicts itself, and from w.
func WriteTestSheet(w io.Writer, t TestSheet) error {
	if err := t.Stock.Check(); err != nil {
		return err
	}
	sides := []side{t.side()}
	if t.Flip != NoFlip {
		sides = append(sides, t.behind().side())
	}
	for _, text := range sides[0].texts {
		if err := drawable(text.Face, text.String); err != nil {
			return err
		}
	}
	var out bytes.Buffer
	doc := document{paper: t.Stock.Paper, title: "Test sheet for " + t.Stock.Name, created: t.Created, flip: t.Flip}
	if err := doc.write(&out, sides); err != nil {
		return fmt.Errorf("laying out the test sheet: %w", err)
	}
	_, err := w.Write(out.Bytes())
	return err
}

// behind is the page that is printed behind the sheet.
func (t TestSheet) behind() TestSheet {
	s := &t.Stock
	if t.Flip.sideways(s.Paper) {
		s.Left = s.Paper.W - s.Left - float64(s.Columns-1)*s.PitchX - s.LabelW
	} else {
		s.Top = s.Paper.H - s.Top - float64(s.Rows-1)*s.PitchY - s.LabelH
	}
	t.Kept, t.back = t.KeptBack, true
	t.Adjust += " --back"
	return t
}

// Inset is how far the corner marks lie from the edges of the paper, in
// millimetres.
func (t TestSheet) Inset() float64 {
	if t.small() {
		return smallInset
	}
	return cornerInset
}

func (t TestSheet) small() bool { return t.Stock.Paper.W < smallPage || t.Stock.Paper.H < 180 }

// HasSteps reports whether the sheet has steps to read the shift off; else it is
// measured from the edges of the paper to a corner mark.
func (t TestSheet) HasSteps() bool {
	_, _, ok := t.steps()
	return ok
}

// side is all that stands on the page.
func (t TestSheet) side() side {
	var s side
	panel := t.panel()
	s.rules = t.outlines()
	for _, box := range slices.Concat(t.stepBoxes(), t.ladderBoxes(), []label.Rect{panel}) {
		var clear []label.Rule
		for _, r := range s.rules {
			clear = append(clear, clipOut(r, box)...)
		}
		s.rules = clear
	}
	t.corners(&s)
	if t.small() {
		t.smallWords(&s)
		return s
	}
	if x, y, ok := t.steps(); ok {
		t.stepsAcross(&s, x)
		t.stepsDown(&s, x, y)
	}
	if t.HasLadder() {
		t.ladders(&s)
	}
	left, foot := panel.X+15, panel.Bottom()-8
	s.measure(left, foot, left+checkRule, foot)
	s.measure(left, foot-checkRule, left, foot)
	t.words(&s, label.Rect{X: left + 8, Y: panel.Y + 1, W: panel.Right() - left - 10})
	return s
}

// panel is where the words and the rules stand; it is empty on a small page.
func (t TestSheet) panel() label.Rect {
	if t.small() {
		return label.Rect{}
	}
	p := t.Stock.Paper
	return label.Rect{X: (p.W - panelWidth) / 2, Y: 0.36 * p.H, W: panelWidth, H: panelHeight}
}

// outlines are the edges of the cells, moved by the shift that is kept; an edge
// that two cells share is there once.
func (t TestSheet) outlines() []label.Rule {
	if t.Stock.Kind == Roll {
		return nil
	}
	var rules []label.Rule
	for n := 1; n <= t.Stock.PerSheet(); n++ {
		c := t.Kept.move(t.Stock.Cell(n))
		for _, e := range [][4]float64{{c.X, c.Y, c.Right(), c.Y}, {c.X, c.Bottom(), c.Right(), c.Bottom()},
			{c.X, c.Y, c.X, c.Bottom()}, {c.Right(), c.Y, c.Right(), c.Bottom()}} {
			if r := line(e[0], e[1], e[2], e[3], hairline); !slices.ContainsFunc(rules, func(o label.Rule) bool { return sameLine(o, r) }) {
				rules = append(rules, r)
			}
		}
	}
	return rules
}

func line(x1, y1, x2, y2, width float64) label.Rule {
	return label.Rule{X1: x1, Y1: y1, X2: x2, Y2: y2, Width: width}
}

func sameLine(a, b label.Rule) bool {
	return math.Abs(a.X1-b.X1)+math.Abs(a.Y1-b.Y1)+math.Abs(a.X2-b.X2)+math.Abs(a.Y2-b.Y2) < slack
}

// clipOut takes the part inside a box out of an upright or level line.
func clipOut(r label.Rule, box label.Rect) []label.Rule {
	if r.X1 == r.X2 {
		if r.X1 <= box.X || r.X1 >= box.Right() {
			return []label.Rule{r}
		}
		return longer(line(r.X1, r.Y1, r.X1, min(r.Y2, box.Y), r.Width), line(r.X1, max(r.Y1, box.Bottom()), r.X1, r.Y2, r.Width))
	}
	if r.Y1 <= box.Y || r.Y1 >= box.Bottom() {
		return []label.Rule{r}
	}
	return longer(line(r.X1, r.Y1, min(r.X2, box.X), r.Y1, r.Width), line(max(r.X1, box.Right()), r.Y1, r.X2, r.Y1, r.Width))
}

// longer are the lines that run forward.
func longer(rules ...label.Rule) []label.Rule {
	return slices.DeleteFunc(rules, func(r label.Rule) bool { return r.X2 <= r.X1 && r.Y2 <= r.Y1 })
}

// corners are angles in the corners of the paper.
func (t TestSheet) corners(s *side) {
	const width = 0.3
	p, in := t.Stock.Paper, t.Inset()
	long := min(cornerLength, p.W/5, p.H/5)
	for _, x := range []float64{in, p.W - in} {
		for _, y := range []float64{in, p.H - in} {
			dx, dy := long, long
			if x > p.W/2 {
				dx = -long
			}
			if y > p.H/2 {
				dy = -long
			}
			s.rules = append(s.rules, line(x, y, x+dx, y, width), line(x, y, x, y+dy, width))
		}
	}
}

// measure draws a rule to measure, level or upright, with ticks at its ends
// and its length beside its middle.
func (s *side) measure(x1, y1, x2, y2 float64) {
	const width, tick = 0.2, 2.0
	length := x2 - x1 + y2 - y1
	words := fmt.Sprintf("%.0f mm", length)
	s.rules = append(s.rules, line(x1, y1, x2, y2, width))
	if x1 == x2 {
		s.rules = append(s.rules, line(x1-tick, y1, x1+tick, y1, width), line(x2-tick, y2, x2+tick, y2, width))
		s.write(x1-1-label.Regular.Width(words)*bodySize, (y1+y2)/2, bodySize, label.Regular, words)
		return
	}
	s.rules = append(s.rules, line(x1, y1-tick, x1, y1+tick, width), line(x2, y2-tick, x2, y2+tick, width))
	s.write((x1+x2)/2-label.Regular.Width(words)*bodySize/2, y1-1, bodySize, label.Regular, words)
}

// write sets a line of text.
func (s *side) write(x, baseline, size float64, face *label.Typeface, words string) {
	s.texts = append(s.texts, label.Text{X: x, Baseline: baseline, Size: size, Face: face, String: words})
}
