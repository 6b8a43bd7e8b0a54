package layout

import (
	"fmt"
	"math"
	"strings"

	"pipstake/label"
)

// Steps are short lines across an edge of the labels, each a quarter of a
// millimetre beside the one before: where the real edge runs through them, one
// of them goes on in it, and its number is the shift.

// stepsReach is how far the steps and their numbers reach to either side of
// an edge, in millimetres.
const stepsReach = steps*stepSize + 5

// edge is an edge of labels: its x or y on the page, in millimetres, and what
// it is called.
type edge struct {
	at   float64
	name string
}

// steps are the edges that the steps lie on, an upright and a level one. There
// are none on a stock without edges to read them from, or without room.
func (t TestSheet) steps() (x, y edge, ok bool) {
	s := t.Stock
	if s.Kind != DieCut || t.small() {
		return edge{}, edge{}, false
	}
	x, okX := readable(edges(s.Left, s.LabelW, s.PitchX, s.Columns, "left", "right", "column"), unprintable, s.Paper.W-unprintable)
	y, okY := readable(edges(s.Top, s.LabelH, s.PitchY, s.Rows, "upper", "lower", "row"), unprintable, t.panel().Y)
	return x, y, okX && okY
}

// edges are the edges of n labels in a line, whose sides are called near and
// far.
func edges(first, size, pitch float64, n int, near, far, line string) []edge {
	var all []edge
	for i := range n {
		at := first + float64(i)*pitch
		if len(all) > 0 && at-all[len(all)-1].at < slack {
			all[len(all)-1].name = fmt.Sprintf("between %ss %d and %d", line, i, i+1)
		} else {
			all = append(all, edge{at, fmt.Sprintf("%s edge of %s %d", near, line, i+1)})
		}
		all = append(all, edge{at + size, fmt.Sprintf("%s edge of %s %d", far, line, i+1)})
	}
	return all
}

// readable is the edge with the most space around it that lies between from
// and to with its steps.
func readable(all []edge, from, to float64) (best edge, ok bool) {
	most := 0.0
	for i, e := range all {
		if e.at-stepsReach < from || e.at+stepsReach > to {
			continue
		}
		space := 2 * steps * stepSize
		if i > 0 {
			space = min(space, e.at-all[i-1].at)
		}
		if i+1 < len(all) {
			space = min(space, all[i+1].at-e.at)
		}
		if space > most+slack {
			most, best, ok = space, e, true
		}
	}
	return best, ok
}

// centre is the shift in the middle of the steps.
func centre(kept float64) float64 { return math.Round(kept*2) / 2 }

// eachStep gives the steps of an axis: how far each lies from the edge, whether
// it is a whole millimetre, and its place in the row.
func eachStep(kept float64, draw func(off float64, whole bool, at float64)) {
	for i := -steps; i <= steps; i++ {
		off := centre(kept) + float64(i)*stepSize
		draw(off, math.Abs(off-math.Round(off)) < 1e-9, float64(i+steps)*stepHeight)
	}
}

// stepWidth makes whole millimetres stand out.
func stepWidth(whole bool) float64 {
	if whole {
		return 0.3
	}
	return 0.15
}

// stepsTop is where the steps on an upright edge begin, in millimetres.
const stepsTop = cornerInset + 6

// stepsLeft is where the steps on a level edge begin, beside those at x.
func (t TestSheet) stepsLeft(x edge) float64 {
	if left := x.at + 24; left+stepsLength <= t.Stock.Paper.W-cornerInset {
		return left
	}
	return x.at - 10 - stepsLength
}

// stepBoxes are the places of the steps, kept clear of outlines: only the real
// cut shall run through them.
func (t TestSheet) stepBoxes() []label.Rect {
	x, y, ok := t.steps()
	if !ok {
		return nil
	}
	const reach = steps*stepSize + 4.5
	return []label.Rect{
		{X: x.at + centre(t.Kept.X) - reach, Y: stepsTop - 4, W: 2 * reach, H: stepsLength + 5},
		{X: t.stepsLeft(x) - 1, Y: y.at + centre(t.Kept.Y) - reach, W: stepsLength + 2, H: 2 * reach},
	}
}

// stepsAcross draws the steps that tell how far to move rightward. Numbers
// stand on the side of the step that is away from the edge.
func (t TestSheet) stepsAcross(s *side, x edge) {
	top := stepsTop
	eachStep(t.Kept.X, func(off float64, whole bool, at float64) {
		at += top
		s.rules = append(s.rules, line(x.at+off, at+stepHeight/10, x.at+off, at+stepHeight*9/10, stepWidth(whole)))
		if whole {
			words := signed(off)
			left := x.at + off + 1
			if off < 0 {
				left = x.at + off - 1 - label.Regular.Width(words)*smallText
			}
			s.write(left, at+stepHeight/2+0.35*smallText, smallText, label.Regular, words)
		}
	})
	s.heading(x.at+stepsReach+1.5, top+1.5, "dx", x.name)
}

// stepsDown draws the steps that tell how far to move downward, beside the
// steps at x.
func (t TestSheet) stepsDown(s *side, x, y edge) {
	left := t.stepsLeft(x)
	eachStep(t.Kept.Y, func(off float64, whole bool, at float64) {
		at += left
		s.rules = append(s.rules, line(at+stepHeight/10, y.at+off, at+stepHeight*9/10, y.at+off, stepWidth(whole)))
		if whole {
			words := signed(off)
			baseline := y.at + off + 1 + 0.7*smallText
			if off < 0 {
				baseline = y.at + off - 1
			}
			s.write(at+stepHeight/2-label.Regular.Width(words)*smallText/2, baseline, smallText, label.Regular, words)
		}
	})
	s.heading(left+stepsLength/2-1, y.at+centre(t.Kept.Y)-4, "dy", y.name)
}

// heading names an axis and the edge that its steps lie on.
func (s *side) heading(x, baseline float64, axis, name string) {
	s.write(x, baseline, bodySize, label.Bold, axis)
	s.write(x+label.Bold.Width(axis)*bodySize+1.5, baseline, smallText, label.Regular, name)
}

// signed writes a number with its sign.
func signed(v float64) string {
	if math.Abs(v) < 1e-9 {
		return "0"
	}
	return fmt.Sprintf("%+.0f", v)
}

// words says on the page what to do with it.
func (t TestSheet) words(s *side, box label.Rect) {
	baseline := box.Y + 5
	title := "Test sheet for "
	if t.back {
		title = "Test page for backs of "
	}
	s.write(box.X, baseline, 5, label.Bold, title+t.Stock.Name)
	baseline += 5.5
	s.write(box.X, baseline, smallText, label.Regular, t.keeps())
	baseline += 3
	for i, words := range t.instructions() {
		baseline += 3
		s.write(box.X, baseline+bodySize, bodySize, label.Bold, fmt.Sprint(i+1))
		for _, l := range wrapped(words, (box.W-6)/bodySize) {
			baseline += 1.3 * bodySize
			s.write(box.X+6, baseline-0.3*bodySize, bodySize, label.Regular, l)
		}
	}
}

// keeps returns the shift that the outlines are moved by.
func (t TestSheet) keeps() string {
	if t.Kept == (Shift{}) {
		return fmt.Sprintf("printer \"%s\": no shift is kept", t.Printer)
	}
	return fmt.Sprintf("printer \"%s\": the outlines are moved by the shift that is kept, dx %s, dy %s mm", t.Printer, millimetres(t.Kept.X), millimetres(t.Kept.Y))
}

// instructions are the steps to take, each a paragraph.
func (t TestSheet) instructions() []string {
	all := []string{"Measure both rules. Where they are not 100 mm long, the page was scaled: print it again at actual size (100 %), " +
		"with \"fit to page\" switched off. No shift mends that."}
	if t.HasSteps() {
		all = append(all, "Lay this page and a sheet of the labels edge on edge, and hold both against the light.",
			"At dx and at dy, find the step that the cut named there runs along, and read its number. From step to step it is 0.25 mm.")
	} else {
		all = append(all, "Measure from the left edge of the paper to the corner mark at the upper left, and from the upper edge to it.",
			fmt.Sprintf("dx is %.0f less the first, dy is %.0f less the second, in millimetres.", t.Inset(), t.Inset()))
	}
	adjust := t.Adjust + " --dx N --dy N"
	if t.HasLadder() && !t.back {
		all = append(all, "At each edge of the paper, find the first of the short lines that is printed whole. The largest of the four numbers is the margin that the printer needs.")
		adjust += " --margin N"
	}
	return append(all, "Type in:\n"+adjust,
		"Print this page again: the outlines have moved to where they should be. The marks to measure by never move.")
}

// smallWords says the least on a small page, as far as there is room, above
// the longest rule of whole tens of millimetres that goes on it.
func (t TestSheet) smallWords(s *side) {
	p, in := t.Stock.Paper, t.Inset()
	left, foot := in+2, p.H-in-3
	if long := math.Floor((p.W-2*left)/10) * 10; long > 0 {
		s.measure(left, foot, left+min(long, checkRule), foot)
	}
	baseline := in + 1
	for i, words := range []string{
		t.Stock.Name,
		fmt.Sprintf("dx = %.0f − left edge to mark", in),
		fmt.Sprintf("dy = %.0f − upper edge to mark", in),
	} {
		face := label.Regular
		if i == 0 {
			face = label.Bold
		}
		baseline += 1.3 * smallText
		if baseline > foot-bodySize-2 || left+face.Width(words)*smallText > p.W-left {
			return
		}
		s.write(left, baseline, smallText, face, words)
	}
}

// wrapped breaks words into lines of so many ems.
func wrapped(words string, ems float64) []string {
	var lines []string
	for part := range strings.SplitSeq(words, "\n") {
		first := len(lines)
		for _, w := range strings.Fields(part) {
			if n := len(lines); n > first && label.Regular.Width(lines[n-1]+" "+w) <= ems {
				lines[n-1] += " " + w
				continue
			}
			lines = append(lines, w)
		}
	}
	return lines
}
