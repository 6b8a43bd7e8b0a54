package photo

import (
	"cmp"
	"math"
	"slices"
)

// mark is what looks like the corner pattern of a QR code: from edge to edge
// dark, light, dark, light and dark by 1:1:3:1:1 along any line through it.
type mark struct {
	at   Point
	side float64 // along the axes of the picture, in pixels
	hits float64 // rows that crossed it
}

// Bounds of the work on a picture of noise.
const (
	mostMarks      = 500
	mostTriples    = 20_000
	mostCandidates = 400
)

// leastModule is the smallest module that is looked for, in pixels of a scale.
const leastModule = 1.1

// mostModule is the largest; larger ones are found on a coarser scale.
const mostModule = 8

// marks finds the corner patterns on a scale.
func (sc *scale) marks() []mark {
	var found []mark
	edges := make([]float64, 0, sc.w)
	for y := 1; y < sc.h-1; y += 2 {
		var darkFirst bool
		edges, darkFirst = sc.edges(edges[:0], y*sc.w, 1, sc.w)
		first := 0
		if !darkFirst {
			first = 1
		}
		for i := first; i+5 < len(edges); i += 2 {
			side, ok := proportioned(edges[i : i+6])
			if !ok {
				continue
			}
			x := (edges[i+2] + edges[i+3]) / 2
			if m, ok := sc.confirmed(Point{x, float64(y) + 0.5}, side); ok {
				found = merged(found, m)
			}
		}
	}
	slices.SortStableFunc(found, func(a, b mark) int { return cmp.Compare(b.hits, a.hits) })
	return found[:min(len(found), mostMarks)]
}

// edges appends where a line of n pixels, step apart from the first, turns
// from light to dark or back, between pixels; the line's own start counts where
// it is dark. It tells whether the first edge leads into the dark.
func (sc *scale) edges(edges []float64, first, step, n int) ([]float64, bool) {
	before := sc.above(first)
	for i := 1; i < n; i++ {
		now := sc.above(first + i*step)
		if (before < 0) != (now < 0) {
			edges = append(edges, float64(i)-0.5+float64(before)/float64(before-now))
		}
		before = now
	}
	return edges, sc.above(first) >= 0
}

// proportioned reports whether six edges are those of a corner pattern, and
// its side.
func proportioned(e []float64) (side float64, ok bool) {
	side = e[5] - e[0]
	m := side / 7
	if m < leastModule || m > mostModule*1.5 {
		return 0, false
	}
	core := e[3] - e[2]
	if math.Abs(core-3*m) > 1.1*m {
		return 0, false
	}
	for _, run := range [4]float64{e[1] - e[0], e[2] - e[1], e[4] - e[3], e[5] - e[4]} {
		if math.Abs(run-m) > 0.7*m {
			return 0, false
		}
	}
	return side, true
}

// confirmed looks down and then across through what seems to be the middle of
// a corner pattern.
func (sc *scale) confirmed(p Point, side float64) (mark, bool) {
	down, ok := sc.through(p.Y, int(p.X), sc.w, sc.h, side)
	if !ok {
		return mark{}, false
	}
	p.Y = (down[2] + down[3]) / 2
	across, ok := sc.through(p.X, int(p.Y)*sc.w, 1, sc.w, side)
	if !ok {
		return mark{}, false
	}
	p.X = (across[2] + across[3]) / 2
	tall, wide := down[5]-down[0], across[5]-across[0]
	if tall > 1.6*wide || wide > 1.6*tall {
		return mark{}, false
	}
	return mark{p, (tall + wide) / 2, 1}, true
}

// through finds the six edges around a place on a line of n pixels, as edges
// does.
func (sc *scale) through(place float64, first, step, n int, side float64) (e [6]float64, ok bool) {
	at := min(max(int(place), 0), n-1)
	level := func(i int) int32 { return sc.above(first + i*step) }
	if level(at) >= 0 {
		return e, false
	}
	reach := int(1.2*side) + 2
	edge := func(i, j int) float64 { // from pixel i to its neighbour j
		return float64(i) + 0.5 + float64(j-i)*float64(level(i))/float64(level(i)-level(j))
	}
	for _, way := range [2]struct{ dir, first int }{{-1, 2}, {1, 3}} {
		dir, k := way.dir, way.first
		dark := true
		for i := at; k >= 0 && k < 6; i += dir {
			if i+dir < 0 || i+dir >= n || (i-at)*dir > reach {
				return e, false
			}
			if (level(i+dir) < 0) != dark {
				e[k] = edge(i, i+dir)
				dark = !dark
				k += dir
			}
		}
	}
	_, ok = proportioned(e[:])
	return e, ok
}

// merged adds a mark to those that are there.
func merged(marks []mark, m mark) []mark {
	for i := len(marks) - 1; i >= 0; i-- {
		b := &marks[i]
		if d := b.at.minus(m.at); math.Abs(d.X) > m.side/4 || math.Abs(d.Y) > m.side/4 || b.side > 1.5*m.side || m.side > 1.5*b.side {
			continue
		}
		share := 1 / (b.hits + 1)
		b.at = b.at.times(1 - share).plus(m.at.times(share))
		b.side = b.side*(1-share) + m.side*share
		b.hits++
		return marks
	}
	return append(marks, m)
}

// candidate is a pose that a code may have, and the marks it was made from.
type candidate struct {
	fit
	marks []int
}

// corners reads the QR codes whose corner patterns show on a scale.
func (s *search) corners(sc *scale) {
	s.cornersOf(sc, sc.marks())
	if sc.w*sc.h <= mostSquares {
		s.cornersOf(sc, sc.sharpened().marks())
	}
}

func (s *search) cornersOf(sc *scale, marks []mark) {
	marks = slices.DeleteFunc(marks, func(m mark) bool { return s.settled(m.at.times(sc.factor)) })
	used := make([]bool, len(marks))
	s.settle(sc, triples(sc, marks), used, leastSeen)
	for i, m := range marks {
		used[i] = used[i] || m.hits < 2
	}
	s.settle(sc, pairs(sc, marks, used), used, leastSeenUncertain)
}

// settle reads candidates, the likeliest first; those that fit least well or
// better count as seen.
func (s *search) settle(sc *scale, candidates []candidate, used []bool, least float64) {
	slices.SortStableFunc(candidates, func(a, b candidate) int { return cmp.Compare(b.known, a.known) })
	tries := 0
	for _, c := range candidates {
		if tries == mostCandidates {
			return
		}
		if slices.ContainsFunc(c.marks, func(i int) bool { return used[i] }) {
			continue
		}
		tries++
		f := c.climb(sc, 0.8, 0.2, false)
		if f.known < leastTried {
			continue
		}
		f = f.climb(sc, 0.4, 0.05, true)
		if s.note(sc, &f, least) {
			for _, i := range c.marks {
				used[i] = true
			}
		}
	}
}

// leastTried is how well a pattern must fit before its modules are read, and
// leastClimbed before it is shifted: correlations.
const (
	leastTried   = 0.5
	leastClimbed = 0.3
)

// triples are the poses that three marks make.
func triples(sc *scale, marks []mark) []candidate {
	var found []candidate
	count := 0
	for i, a := range marks {
		var near []int
		for j, b := range marks {
			if j != i && related(a, b) {
				near = append(near, j)
			}
		}
		for _, j := range near {
			for _, k := range near {
				b, c := marks[j], marks[k]
				if j == k || b.side > 1.7*c.side || c.side > 1.7*b.side {
					continue
				}
				across, down := b.at.minus(a.at), c.at.minus(a.at)
				la, ld := across.length(), down.length()
				// Clockwise, about at a right angle, about as long.
				if across.cross(down) < 0.85*la*ld || la > 1.6*ld || ld > 1.6*la {
					continue
				}
				if count++; count > mostTriples {
					return found
				}
				if f, ok := corner(sc, a, b, c); ok {
					found = append(found, candidate{f, []int{i, j, k}})
				}
			}
		}
	}
	return found
}

// related reports whether two marks may stand along the same code.
func related(a, b mark) bool {
	side := (a.side + b.side) / 2
	d := b.at.minus(a.at)
	if math.Abs(d.X) > 9*side || math.Abs(d.Y) > 9*side {
		return false
	}
	return a.side < 1.7*b.side && b.side < 1.7*a.side && d.length() > 1.2*side
}

// corner is the likeliest pose of a code whose upper left, upper right and
// lower left corner patterns are known.
func corner(sc *scale, a, b, c mark) (fit, bool) {
	across, down := b.at.minus(a.at), c.at.minus(a.at)
	// A line along an axis crosses a turned square on a longer way.
	along := across.times(1 / across.length())
	module := (a.side + b.side + c.side) / 21 * max(math.Abs(along.X), math.Abs(along.Y))
	span := (across.length() + down.length()) / 2 / module // modules between the centres
	var best fit
	for _, m := range qrModels() {
		between := float64(m.size - 7)
		if span < 0.75*between-1 || span > 1.3*between+1 {
			continue
		}
		x, y := across.times(1/between), down.times(1/between)
		at := func(u, v float64) Point { return a.at.plus(x.times(u - 3.5)).plus(y.times(v - 3.5)) }
		n := float64(m.size)
		for _, lean := range []float64{0, 0.06, -0.06} { // of the fourth corner, by perspective
			q := pose{at(0, 0), at(n, 0), at(n*(1+lean), n*(1+lean)), at(0, n)}
			if f := score(sc, m, q, false); f.known > best.known {
				best = f
			}
		}
	}
	return best, best.known >= leastClimbed
}

// pairs are the poses that two marks make, where the third is lost.
func pairs(sc *scale, marks []mark, used []bool) []candidate {
	var found []candidate
	for i, a := range marks {
		for j, b := range marks {
			if i == j || used[i] || used[j] || !related(a, b) {
				continue
			}
			d := b.at.minus(a.at)
			third := func(at Point) mark { return mark{at, (a.side + b.side) / 2, 0} }
			for _, t := range [][3]mark{
				{a, b, third(a.at.plus(d.turned()))},
				{a, third(a.at.minus(d.turned())), b},
				{third(a.at.plus(d.times(0.5)).minus(d.turned().times(0.5))), b, a},
			} {
				if f, ok := corner(sc, t[0], t[1], t[2]); ok {
					found = append(found, candidate{f, []int{i, j}})
				}
			}
		}
	}
	return found
}
