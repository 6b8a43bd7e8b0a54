package layout

import (
	"math"

	"pipstake/label"
)

// Cut marks are short hairlines on the lines to cut along: a ruler laid along
// two of them, or the edge of a guillotine, finds the cut, and little ink is
// left on the finished stakes. Pairs are cut out first. Where the margin of the
// page has room their marks stand in it, else on the edge of the stakes, as
// they do where cuts cross. The last cut, between the two of a pair, has the
// shortest marks, on the pair itself.
const (
	hairline     = 0.1 // mm
	marginLength = 4.0 // mm of a mark in the margin, half of that at the least
	marginGap    = 1.0 // mm from there to the stakes
	edgeLength   = 3.0 // mm of a mark on the edge of a stake
	pairLength   = 1.8 // mm of a mark between the two of a pair
)

// cut is a straight cut on the page, rightward or downward, in millimetres.
type cut struct{ x1, y1, x2, y2 float64 }

// cutMarks are the marks of a sheet to cut, around the given labels only: the
// rest of the sheet stays white for another time.
func (s Stock) cutMarks(places []Place) []label.Rule {
	if s.Kind != CutSheet {
		return nil
	}
	var marks []label.Rule
	seen := map[cut]bool{}
	for i := 0; i < len(places); i++ {
		first, last := places[i].Cell, places[i].Cell
		if first%2 == 1 && i+1 < len(places) && places[i+1].Cell == first+1 {
			i++
			last = first + 1
			marks = append(marks, s.marksBetween(first)...)
		}
		for _, c := range s.outline(first, last) {
			if !seen[c] {
				seen[c] = true
				marks = append(marks, s.marksAround(c)...)
			}
		}
	}
	return marks
}

// outline is the four cuts around the cells from first to last, which are one
// cell or a pair. Cuts that two neighbours share are equal.
func (s Stock) outline(first, last int) [4]cut {
	c1, r1 := s.place(first)
	c2, r2 := s.place(last)
	left, right := s.Left+float64(c1)*s.PitchX, s.Left+float64(c2+1)*s.PitchX
	top, foot := s.Top+float64(r1)*s.PitchY, s.Top+float64(r2+1)*s.PitchY
	return [4]cut{{left, top, left, foot}, {right, top, right, foot}, {left, top, right, top}, {left, foot, right, foot}}
}

// marksBetween are the marks of the cut between cell n and the next one, which
// is the other of its pair.
func (s Stock) marksBetween(n int) []label.Rule {
	c := s.outline(n, n)[3]
	if s.Turned {
		c = s.outline(n, n)[1]
	}
	a, b := s.inward(c, pairLength)
	return s.rules(a, b)
}

// marksAround are the marks at both ends of one of the cuts around a pair.
func (s Stock) marksAround(c cut) []label.Rule {
	a, b := s.inward(c, edgeLength)
	// The margins of a sheet to cut are equal on opposite sides.
	if c.x1 == c.x2 {
		if near, far, ok := s.inMargin(s.Top); ok {
			if math.Abs(c.y1-s.Top) < slack {
				a = cut{c.x1, c.y1 - far, c.x1, c.y1 - near}
			}
			if math.Abs(s.Paper.H-c.y2-s.Top) < slack {
				b = cut{c.x1, c.y2 + near, c.x1, c.y2 + far}
			}
		}
		return s.rules(a, b)
	}
	if near, far, ok := s.inMargin(s.Left); ok {
		if math.Abs(c.x1-s.Left) < slack {
			a = cut{c.x1 - far, c.y1, c.x1 - near, c.y1}
		}
		if math.Abs(s.Paper.W-c.x2-s.Left) < slack {
			b = cut{c.x2 + near, c.y1, c.x2 + far, c.y1}
		}
	}
	return s.rules(a, b)
}

// inMargin returns how far from the stakes a mark starts and ends in a margin so
// wide, and whether there is room for one.
func (s Stock) inMargin(width float64) (near, far float64, ok bool) {
	far = min(width-s.Edge(), marginGap+marginLength)
	return marginGap, far, far-marginGap >= marginLength/2
}

// inward are the two ends of a cut, each length long, as far inward as a
// printer reaches.
func (s Stock) inward(c cut, length float64) (a, b cut) {
	x1, y1 := max(c.x1, s.Edge()), max(c.y1, s.Edge())
	x2, y2 := min(c.x2, s.Paper.W-s.Edge()), min(c.y2, s.Paper.H-s.Edge())
	if c.x1 == c.x2 {
		return cut{c.x1, y1, c.x1, y1 + length}, cut{c.x1, y2 - length, c.x1, y2}
	}
	return cut{x1, c.y1, x1 + length, c.y1}, cut{x2 - length, c.y1, x2, c.y1}
}

// rules draws marks as hairlines, without those that no printer reaches.
func (s Stock) rules(marks ...cut) []label.Rule {
	reach := label.Rect{W: s.Paper.W, H: s.Paper.H}.Inset(s.Edge(), s.Edge(), s.Edge(), s.Edge())
	var rules []label.Rule
	for _, m := range marks {
		if reach.Contains(label.Rect{X: m.x1, Y: m.y1, W: m.x2 - m.x1, H: m.y2 - m.y1}) {
			rules = append(rules, label.Rule{X1: m.x1, Y1: m.y1, X2: m.x2, Y2: m.y2, Width: hairline})
		}
	}
	return rules
}
