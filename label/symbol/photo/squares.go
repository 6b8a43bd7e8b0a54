package photo

import (
	"cmp"
	"slices"
)

// squares reads the codes that show as a square dark part of a scale: Data
// Matrix codes, and QR codes that lost corner patterns.
func (s *search) squares(sc *scale) {
	if sc.w*sc.h > mostSquares {
		return
	}
	tries := 0
	for _, gap := range []int{4, 9} {
		for _, q := range sc.parts(gap) {
			if s.settled(centre(q).times(sc.factor)) || tries == mostCandidates {
				continue
			}
			tries++
			for _, f := range likeliest(sc, q) {
				f = f.climb(sc, 1, 0.25, false)
				if f.known < leastTried {
					continue
				}
				f = f.climb(sc, 0.5, 0.05, true)
				if s.note(sc, &f, leastSeenUncertain) {
					break
				}
			}
		}
	}
}

// mostSquares is the largest scale on which square parts are looked for, in
// pixels: codes in them are no smaller than can be read on the next.
const mostSquares = 6_000_000

// leastClimbedSquare is how well a pattern must fit into a square before it is
// shifted: letters are squares, too.
const leastClimbedSquare = 0.4

// likeliest are the models, in the four ways they can be turned, that fit best
// into a square.
func likeliest(sc *scale, q pose) []fit {
	const most = 2
	var fits []fit
	try := func(models []*model) {
		for _, m := range models {
			if module := q.module(m.size); module < leastModule || module > mostModule {
				continue
			}
			for turn := range 4 {
				f := score(sc, m, pose{q[turn], q[(turn+1)%4], q[(turn+2)%4], q[(turn+3)%4]}, false)
				if f.known > leastClimbedSquare {
					fits = append(fits, f)
				}
			}
		}
	}
	try(dmModels())
	try(qrModels())
	slices.SortStableFunc(fits, func(a, b fit) int { return cmp.Compare(b.known, a.known) })
	return fits[:min(len(fits), most)]
}

// parts are the rectangles around dark parts of a scale that may be codes,
// where dark pixels nearer to each other than gap belong together.
func (sc *scale) parts(gap int) []pose {
	dark := make([]bool, len(sc.grey))
	for i := range dark {
		dark[i] = sc.above(i) < 0
	}
	reach := gap / 2
	area := spread(spread(dark, sc.w, sc.h, 1, sc.w, reach), sc.h, sc.w, sc.w, 1, reach)
	var found []pose
	var stack, part []int
	for start := range area {
		if !area[start] {
			continue
		}
		area[start] = false
		part = part[:0]
		for stack = append(stack[:0], start); len(stack) > 0; {
			i := stack[len(stack)-1]
			stack = stack[:len(stack)-1]
			part = append(part, i)
			x, y := i%sc.w, i/sc.w
			for _, n := range [4]struct {
				at int
				ok bool
			}{{i - 1, x > 0}, {i + 1, x+1 < sc.w}, {i - sc.w, y > 0}, {i + sc.w, y+1 < sc.h}} {
				if n.ok && area[n.at] {
					area[n.at] = false
					stack = append(stack, n.at)
				}
			}
		}
		if q, ok := sc.squarish(part, dark); ok {
			found = append(found, q)
		}
	}
	return found
}

// spread widens dark runs by reach along lines of n pixels, step apart; the
// lines are jump apart.
func spread(dark []bool, n, lines, step, jump, reach int) []bool {
	out := make([]bool, len(dark))
	for line := range lines {
		last := -reach - 1 // the last dark pixel seen
		for i := range n + reach {
			if i < n && dark[line*jump+i*step] {
				last = i
			}
			if at := i - reach; at >= 0 && last >= at-reach {
				out[line*jump+at*step] = true
			}
		}
	}
	return out
}

// squarish is the rectangle around the dark pixels of a part, if it may be a
// code by its size, shape and darkness.
func (sc *scale) squarish(part []int, dark []bool) (pose, bool) {
	const least, most = 14, 45 * mostModule
	if len(part) < least*least/2 {
		return pose{}, false
	}
	// The outermost dark pixels of each row are enough for the outline.
	ends := map[int][2]int{}
	minX, maxX, minY, maxY, inked := sc.w, 0, sc.h, 0, 0
	for _, i := range part {
		if !dark[i] {
			continue
		}
		x, y := i%sc.w, i/sc.w
		inked++
		minX, maxX, minY, maxY = min(minX, x), max(maxX, x), min(minY, y), max(maxY, y)
		if e, ok := ends[y]; ok {
			ends[y] = [2]int{min(e[0], x), max(e[1], x)}
		} else {
			ends[y] = [2]int{x, x}
		}
	}
	if wide, tall := maxX-minX, maxY-minY; min(wide, tall) < least || max(wide, tall) > most*3/2 {
		return pose{}, false
	}
	var points []Point
	for y, e := range ends {
		l, r, t := float64(e[0]), float64(e[1]+1), float64(y)
		points = append(points, Point{l, t}, Point{l, t + 1}, Point{r, t}, Point{r, t + 1})
	}
	q, area := rectangle(hull(points))
	a, b := q[1].minus(q[0]).length(), q[3].minus(q[0]).length()
	share := float64(inked) / area
	return q, min(a, b) >= least && max(a, b) < 1.7*min(a, b) && share > 0.25 && share < 0.85
}
