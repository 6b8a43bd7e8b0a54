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
	found := collection{cells: map[[2]int][]int{}}
	var edges []int32
	for y := 1; y < sc.h-1; y += 2 {
		edges = sc.dark.edges(edges[:0], y)
		for i := 0; i+5 < len(edges); i += 2 {
			e := edges[i : i+6]
			if !roughly(e) {
				continue
			}
			at := Point{float64(e[2]+e[3]) / 2, float64(y) + 0.5}
			if m, ok := sc.confirmed(at, float64(e[5]-e[0])); ok {
				found.add(m)
			}
		}
	}
	slices.SortStableFunc(found.marks, func(a, b mark) int { return cmp.Compare(b.hits, a.hits) })
	return found.marks[:min(len(found.marks), mostMarks)]
}

// roughly reports whether six edges, each between two pixels, may be those of a
// corner pattern.
func roughly(e []int32) bool {
	side := e[5] - e[0]
	if side < 7 || side > mostModule*12 {
		return false
	}
	slack := side + 14 // a seventh of it is a module and two pixels
	if core := 7 * (e[3] - e[2]); core < 3*side-slack || core > 3*side+slack {
		return false
	}
	for _, run := range [4]int32{e[1] - e[0], e[2] - e[1], e[4] - e[3], e[5] - e[4]} {
		if 7*run > side+slack {
			return false
		}
	}
	return true
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
// a corner pattern, with its side.
func (sc *scale) confirmed(p Point, side float64) (mark, bool) {
	down, ok := sc.through(p.Y, sc.h, side, func(i int) int { return sc.over(int(p.X), i) })
	if !ok {
		return mark{}, false
	}
	p.Y = (down[2] + down[3]) / 2
	across, ok := sc.through(p.X, sc.w, side, func(i int) int { return sc.over(i, int(p.Y)) })
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

// through finds the six edges of a corner pattern around a place on a line of n
// pixels, between pixels. It is told how much lighter each is than its
// threshold.
func (sc *scale) through(place float64, n int, side float64, over func(i int) int) (e [6]float64, ok bool) {
	at := min(max(int(place), 0), n-1)
	now := over(at)
	if now >= 0 {
		return e, false
	}
	reach := int(1.2*side) + 2
	for _, way := range [2]struct{ dir, first int }{{-1, 2}, {1, 3}} {
		dir, k := way.dir, way.first
		before := now
		for i := at; k >= 0 && k < 6; i += dir {
			if i+dir < 0 || i+dir >= n || (i-at)*dir > reach {
				return e, false
			}
			next := over(i + dir)
			if (next < 0) != (before < 0) {
				e[k] = float64(i) + 0.5 + float64(dir)*float64(before)/float64(before-next)
				k += dir
			}
			before = next
		}
	}
	_, ok = proportioned(e[:])
	return e, ok
}

// collection gathers marks, those of one place as one.
type collection struct {
	marks []mark
	cells map[[2]int][]int // the marks in each square of cellSide pixels
}

const cellSide = 32

func (c *collection) add(m mark) {
	cell := [2]int{int(m.at.X) / cellSide, int(m.at.Y) / cellSide}
	for dy := -1; dy <= 1; dy++ {
		for dx := -1; dx <= 1; dx++ {
			for _, i := range c.cells[[2]int{cell[0] + dx, cell[1] + dy}] {
				if c.marks[i].merged(m) {
					return
				}
			}
		}
	}
	c.cells[cell] = append(c.cells[cell], len(c.marks))
	c.marks = append(c.marks, m)
}

// merged adds a mark to one of the same place.
func (b *mark) merged(m mark) bool {
	if d := b.at.minus(m.at); math.Abs(d.X) > m.side/4 || math.Abs(d.Y) > m.side/4 || b.side > 1.5*m.side || m.side > 1.5*b.side {
		return false
	}
	share := 1 / (b.hits + 1)
	b.at = b.at.times(1 - share).plus(m.at.times(share))
	b.side = b.side*(1-share) + m.side*share
	b.hits++
	return true
}

// leastRing is how well a corner pattern must fit where a mark was found for it
// to be one without a doubt: a correlation.
const leastRing = 0.7

// ring is how well a corner pattern fits on a mark, turned by any angle: the
// best correlation.
func (s *search) ring(sc *scale, m mark) (best float64) {
	for step := range 6 {
		sin, cos := math.Sincos(float64(step) * math.Pi / 12)
		half := Point{cos, sin}.times(m.side / 2 * max(math.Abs(cos), math.Abs(sin)))
		corner := func(u, v float64) Point { return m.at.plus(half.times(u)).plus(half.turned().times(v)) }
		f := s.score(sc, ringModel(), pose{corner(-1, -1), corner(1, -1), corner(1, 1), corner(-1, 1)}, false)
		best = max(best, f.known)
	}
	return best
}
