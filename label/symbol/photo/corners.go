package photo

import (
	"cmp"
	"math"
	"slices"
)

// candidate is a pose that a code may have, and the marks it was made from.
type candidate struct {
	fit
	marks []int
}

// corners reads the QR codes whose corner patterns show on a scale.
func (s *search) corners(sc *scale) {
	s.cornersOf(sc, sc.marks())
	if s.thorough && sc.w*sc.h <= mostSquares {
		s.cornersOf(sc, sc.sharpened().marks())
	}
}

func (s *search) cornersOf(sc *scale, marks []mark) {
	marks = slices.DeleteFunc(marks, func(m mark) bool { return s.settled(sc.onPicture(m.at)) })
	used := make([]bool, len(marks))
	s.settle(sc, s.triples(sc, marks), used, leastSeen)
	for i, m := range marks {
		if !s.thorough && !used[i] && s.ring(sc, m) > leastRing {
			s.doubt(sc, m.at, 8*m.side)
		}
		used[i] = used[i] || m.hits < 2
	}
	if s.thorough {
		s.settle(sc, s.pairs(sc, marks, used), used, leastSeenUncertain)
	}
}

// settle reads candidates, the likeliest first; those that fit least well or
// better count as seen.
func (s *search) settle(sc *scale, candidates []candidate, used []bool, least float64) {
	slices.SortStableFunc(candidates, func(a, b candidate) int { return cmp.Compare(b.known, a.known) })
	tries := 0
	for _, c := range candidates {
		if tries == mostCandidates || s.tired() {
			return
		}
		if slices.ContainsFunc(c.marks, func(i int) bool { return used[i] }) {
			continue
		}
		tries++
		f := s.climb(sc, c.fit, 0.8, 0.2, false)
		if f.known < leastTried {
			continue
		}
		f = s.climb(sc, f, 0.4, 0.05, true)
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
func (s *search) triples(sc *scale, marks []mark) []candidate {
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
				if count++; count > mostTriples || s.tired() {
					return found
				}
				if f, ok := s.corner(sc, a, b, c); ok {
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
func (s *search) corner(sc *scale, a, b, c mark) (fit, bool) {
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
			if f := s.score(sc, m, q, false); f.known > best.known {
				best = f
			}
		}
	}
	return best, best.known >= leastClimbed
}

// pairs are the poses that two marks make, where the third is lost.
func (s *search) pairs(sc *scale, marks []mark, used []bool) []candidate {
	var found []candidate
	count := 0
	for i, a := range marks {
		for j, b := range marks {
			if i == j || used[i] || used[j] || !related(a, b) {
				continue
			}
			if count++; count > mostTriples || s.tired() {
				return found
			}
			d := b.at.minus(a.at)
			third := func(at Point) mark { return mark{at, (a.side + b.side) / 2, 0} }
			for _, t := range [][3]mark{
				{a, b, third(a.at.plus(d.turned()))},
				{a, third(a.at.minus(d.turned())), b},
				{third(a.at.plus(d.times(0.5)).minus(d.turned().times(0.5))), b, a},
			} {
				if f, ok := s.corner(sc, t[0], t[1], t[2]); ok {
					found = append(found, candidate{f, []int{i, j}})
				}
			}
		}
	}
	return found
}
