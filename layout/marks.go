package layout

import (
	"cmp"
	"maps"
	"math"
	"slices"

	"pipstake/label"
)

// Measures of lines to cut along, in millimetres.
const (
	hairline = 0.1 // their width
	overhang = 5.0 // how far they go on into the margins of the page
)

// cut is a straight line to cut along, rightward or downward, in millimetres.
type cut struct{ x1, y1, x2, y2 float64 }

// cutLines are the lines to cut along on a sheet that is cut, around the given
// labels only: the rest of the sheet stays white for another time. They go on into
// the margins of the page, so that a guillotine or a ruler finds both ends. Lines
// that touch are one.
func (s Stock) cutLines(places []Place) []label.Rule {
	if s.Kind != CutSheet {
		return nil
	}
	upright, level := map[int][]span{}, map[int][]span{} // by their place in thousandths of a millimetre
	for _, p := range places {
		for _, c := range s.outline(p.Cell) {
			if c.x1 == c.x2 {
				at := int(math.Round(c.x1 * 1000))
				upright[at] = append(upright[at], span{c.y1, c.y2})
			} else {
				at := int(math.Round(c.y1 * 1000))
				level[at] = append(level[at], span{c.x1, c.x2})
			}
		}
	}
	var rules []label.Rule
	for _, at := range slices.Sorted(maps.Keys(upright)) {
		x := float64(at) / 1000
		for _, l := range joined(upright[at]) {
			rules = append(rules, s.printed(cut{x, l.from, x, l.to})...)
		}
	}
	for _, at := range slices.Sorted(maps.Keys(level)) {
		y := float64(at) / 1000
		for _, l := range joined(level[at]) {
			rules = append(rules, s.printed(cut{l.from, y, l.to, y})...)
		}
	}
	return rules
}

// outline is the four cuts around a cell, those at the margins of the page drawn
// out into them.
func (s Stock) outline(n int) [4]cut {
	column, row := s.place(n)
	c := s.Cell(n)
	left, right, top, foot := c.X, c.Right(), c.Y, c.Bottom()
	farLeft, farRight, farTop, farFoot := left, right, top, foot
	if column == 0 {
		farLeft -= overhang
	}
	if column == s.Columns-1 {
		farRight += overhang
	}
	if row == 0 {
		farTop -= overhang
	}
	if row == s.Rows-1 {
		farFoot += overhang
	}
	return [4]cut{{left, farTop, left, farFoot}, {right, farTop, right, farFoot}, {farLeft, top, farRight, top}, {farLeft, foot, farRight, foot}}
}

// span is a part of a line, in millimetres.
type span struct{ from, to float64 }

// joined makes one of spans that touch.
func joined(spans []span) []span {
	slices.SortFunc(spans, func(a, b span) int { return cmp.Compare(a.from, b.from) })
	var out []span
	for _, s := range spans {
		if n := len(out); n > 0 && s.from <= out[n-1].to+slack {
			out[n-1].to = max(out[n-1].to, s.to)
			continue
		}
		out = append(out, s)
	}
	return out
}

// printed is the part of a cut that the printer reaches, as a hairline.
func (s Stock) printed(c cut) []label.Rule {
	edge := s.Edge()
	x1, y1, x2, y2 := max(c.x1, edge), max(c.y1, edge), min(c.x2, s.Paper.W-edge), min(c.y2, s.Paper.H-edge)
	if x2 < x1 || y2 < y1 || x1 == x2 && y1 == y2 {
		return nil
	}
	return []label.Rule{{X1: x1, Y1: y1, X2: x2, Y2: y2, Width: hairline}}
}
