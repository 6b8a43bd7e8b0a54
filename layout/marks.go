package layout

import "pipstake/label"

// Cut marks are short hairlines on the lines to cut along: a ruler laid along
// two of them, or the edge of a guillotine, finds the cut, and little ink is
// left on the finished stakes. Where the margin of the page has room they
// stand outside the stakes, else on the cut itself. The cut between the two of
// a pair has shorter ones: it is made last.
const (
	hairline   = 0.1 // mm
	markLength = 4.0 // mm
	pairLength = 1.4 // mm
	markGap    = 1.0 // mm between the stakes and a mark in the margin
)

// edge is a line to cut along one side of a stake, on the page in millimetres.
type edge struct{ x1, y1, x2, y2 float64 }

// cutMarks are the marks of a sheet to cut, around the given cells only: the
// rest of the sheet stays white for another time.
func (s Stock) cutMarks(places []Place) []label.Rule {
	if s.Kind != CutSheet {
		return nil
	}
	var marks []label.Rule
	seen := map[edge]bool{}
	for _, p := range places {
		for i, e := range s.edges(p.Cell) {
			if seen[e] {
				continue
			}
			seen[e] = true
			length := markLength
			if i == pairSide(p.Cell, s.Turned) {
				length = pairLength
			}
			marks = append(marks, s.marksOn(e, length)...)
		}
	}
	return marks
}

// edges are the left, upper, right and lower edge of cell n. Edges shared by
// two cells are equal.
func (s Stock) edges(n int) [4]edge {
	column, row := s.place(n)
	x1, x2 := s.Left+float64(column)*s.PitchX, s.Left+float64(column+1)*s.PitchX
	y1, y2 := s.Top+float64(row)*s.PitchY, s.Top+float64(row+1)*s.PitchY
	return [4]edge{{x1, y1, x1, y2}, {x1, y1, x2, y1}, {x2, y1, x2, y2}, {x1, y2, x2, y2}}
}

// pairSide is the edge of cell n, in the order of edges, that it shares with
// the other of its pair.
func pairSide(n int, turned bool) int {
	side := 3 // the lower one
	if turned {
		side = 2 // the right one
	}
	if n%2 == 0 {
		side -= 2
	}
	return side
}

// marksOn are the marks at both ends of an edge.
func (s Stock) marksOn(e edge, length float64) []label.Rule {
	// Along is the direction of the cut; the page reaches to most.
	upright := e.x1 == e.x2
	across, from, to, most, width := e.y1, e.x1, e.x2, s.Paper.W, s.Paper.H
	first, last := s.Left, s.Left+float64(s.Columns)*s.PitchX
	if upright {
		across, from, to, most, width = e.x1, e.y1, e.y2, s.Paper.H, s.Paper.W
		first, last = s.Top, s.Top+float64(s.Rows)*s.PitchY
	}
	if across < unprintable || across > width-unprintable {
		return nil // nothing prints there
	}
	var marks []label.Rule
	for _, span := range [2][2]float64{
		markAt(from, 1, from == first, length, most),
		markAt(to, -1, to == last, length, most),
	} {
		if upright {
			marks = append(marks, label.Rule{X1: across, Y1: span[0], X2: across, Y2: span[1], Width: hairline})
		} else {
			marks = append(marks, label.Rule{X1: span[0], Y1: across, X2: span[1], Y2: across, Width: hairline})
		}
	}
	return marks
}

// markAt is where the mark at one end of a cut starts and ends. The cut runs on
// from end in the direction inward, 1 or −1, on a page that is most wide.
func markAt(end, inward float64, outermost bool, length, most float64) [2]float64 {
	margin := end
	if inward < 0 {
		margin = most - end
	}
	if outermost && margin-unprintable >= markGap+length {
		return [2]float64{end - inward*markGap, end - inward*(markGap+length)}
	}
	start := end + inward*max(0, unprintable-margin)
	return [2]float64{start, start + inward*length}
}
