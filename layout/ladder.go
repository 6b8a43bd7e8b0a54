package layout

import (
	"slices"

	"pipstake/label"
)

// Ladders are short lines along each edge of a test sheet, each half a millimetre
// further inside than the one before: the first that is printed whole tells how
// much of that edge the printer leaves white.

// Measures of a ladder, in millimetres.
const (
	firstRung  = 2.0  // from the edge
	lastRung   = 8.0  // the same
	rungStep   = 0.5  // from rung to rung
	rungLength = 4.0  // along the edge, with the gap to the next
	laddersEnd = 18.0 // from a corner of the paper to the nearest rung
)

// HasLadder reports whether the sheet has ladders to read the white edge off.
func (t TestSheet) HasLadder() bool { return t.Stock.Kind != Roll && !t.small() }

// ladderLength is how long a ladder is along its edge.
func ladderLength() float64 { return ((lastRung-firstRung)/rungStep + 1) * rungLength }

// ladderStarts are where the ladders along the upper and the lower edge begin at
// the left, and those along the sides at their upper ends: clear of the steps.
func (t TestSheet) ladderStarts() (top, foot, sides float64) {
	p := t.Stock.Paper
	sides = p.H - laddersEnd - ladderLength()
	foot = (p.W - ladderLength()) / 2
	top = p.W - laddersEnd - ladderLength()
	box := label.Rect{X: top, W: ladderLength(), H: lastRung + 1 + smallText}
	if slices.ContainsFunc(t.stepBoxes(), box.Overlaps) {
		top = laddersEnd
	}
	return top, foot, sides
}

// ladders draws the four.
func (t TestSheet) ladders(s *side) {
	const width, gap = 0.2, 0.8
	p := t.Stock.Paper
	top, foot, sides := t.ladderStarts()
	for i := 0; firstRung+float64(i)*rungStep <= lastRung; i++ {
		in := firstRung + float64(i)*rungStep
		words := millimetres(in)
		wide := label.Regular.Width(words) * smallText
		from, to := float64(i)*rungLength+0.3, float64(i+1)*rungLength-0.3
		middle := (from + to) / 2
		s.rules = append(s.rules,
			line(top+from, in, top+to, in, width), line(foot+from, p.H-in, foot+to, p.H-in, width),
			line(in, sides+from, in, sides+to, width), line(p.W-in, sides+from, p.W-in, sides+to, width))
		const far = lastRung + gap // numbers stand where every printer prints
		s.write(top+middle-wide/2, far+0.75*smallText, smallText, label.Regular, words)
		s.write(foot+middle-wide/2, p.H-far, smallText, label.Regular, words)
		s.write(far, sides+middle+0.35*smallText, smallText, label.Regular, words)
		s.write(p.W-far-wide, sides+middle+0.35*smallText, smallText, label.Regular, words)
	}
}

// ladderBoxes are the places of the ladders, kept clear of outlines.
func (t TestSheet) ladderBoxes() []label.Rect {
	if !t.HasLadder() {
		return nil
	}
	const deep = lastRung + 1 + 2*smallText
	p := t.Stock.Paper
	top, foot, sides := t.ladderStarts()
	long := ladderLength()
	return []label.Rect{{X: top, W: long, H: deep}, {X: foot, Y: p.H - deep, W: long, H: deep},
		{Y: sides, W: deep, H: long}, {X: p.W - deep, Y: sides, W: deep, H: long}}
}
