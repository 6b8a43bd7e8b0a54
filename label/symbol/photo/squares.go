package photo

import (
	"cmp"
	"slices"
)

// squares reads the codes that show as a square dark part of a scale: Data
// Matrix codes, and on a thorough look QR codes that lost corner patterns.
func (s *search) squares(sc *scale) {
	if sc.w*sc.h > mostSquares {
		return
	}
	gaps := []int{2, 4, 9} // dark pixels that near belong together
	if !s.thorough {
		gaps = gaps[:2]
	}
	tries := 0
	for _, gap := range gaps {
		for _, q := range s.parts(sc, gap) {
			if s.settled(sc.onPicture(centre(q))) || tries == mostCandidates || s.tired() {
				continue
			}
			side := q[0].minus(q[2]).length()
			if !s.thorough && !sc.edged(q) {
				if side > leastDoubtedSide {
					s.doubt(sc, centre(q), side)
				}
				continue
			}
			tries++
			if !s.square(sc, q) {
				s.doubt(sc, centre(q), side)
			}
		}
	}
}

// square reads the code in a square, and reports whether it is settled: read,
// or nothing like a code.
func (s *search) square(sc *scale, q pose) bool {
	best := 0.0
	for _, f := range s.likeliest(sc, q) {
		f = s.climb(sc, f, 1, 0.25, false)
		if f.known < leastTried {
			continue
		}
		f = s.climb(sc, f, 0.5, 0.05, true)
		if s.note(sc, &f, leastSeenUncertain) {
			return true
		}
		best = max(best, f.known)
	}
	return best < leastDoubted
}

// leastDoubtedSide is the diagonal, in pixels, from which on whatever is square,
// and turns as often as a code, is looked at thoroughly.
const leastDoubtedSide = 60

// edged reports whether two sides of a square that meet are dark all along, as
// those of a Data Matrix are.
func (sc *scale) edged(q pose) bool {
	const points, least, inset = 24, 17, 1.3
	var dark [4]int
	c := centre(q)
	for i, a := range q {
		b := q[(i+1)%4]
		in := c.minus(a.plus(b).times(0.5))
		in = in.times(inset / max(in.length(), 1))
		for k := range points {
			p := a.plus(b.minus(a).times((float64(k) + 0.5) / points)).plus(in)
			if x, y := sc.nearest(p); sc.over(x, y) < 0 {
				dark[i]++
			}
		}
	}
	for i, n := range dark {
		if n >= least && dark[(i+1)%4] >= least {
			return true
		}
	}
	return false
}

// mostSquares is the largest scale on which square parts are looked for, in
// pixels, for the memory that it takes.
const mostSquares = 16_000_000

// leastDoubted is how well a pattern must fit into a square that was not read
// for it to be looked at thoroughly.
const leastDoubted = 0.6

// leastClimbedSquare is how well a pattern must fit into a square before it is
// shifted: letters are squares, too.
const leastClimbedSquare = 0.4

// likeliest are the models, in the four ways they can be turned, that fit best
// into a square.
func (s *search) likeliest(sc *scale, q pose) []fit {
	const most = 2
	var fits []fit
	try := func(models []*model) {
		for _, m := range models {
			if module := q.module(m.size); module < leastModule || module > mostModule {
				continue
			}
			for turn := range 4 {
				f := s.score(sc, m, pose{q[turn], q[(turn+1)%4], q[(turn+2)%4], q[(turn+3)%4]}, false)
				if f.known > leastClimbedSquare {
					fits = append(fits, f)
				}
			}
		}
	}
	try(dmModels())
	if s.thorough {
		try(qrModels())
	}
	slices.SortStableFunc(fits, func(a, b fit) int { return cmp.Compare(b.known, a.known) })
	return fits[:min(len(fits), most)]
}

// Bounds of a part that may be a code: its sides in pixels, and how many parts
// are looked at.
const (
	leastSide = 14
	mostSide  = 45 * mostModule
	mostParts = 5000
)

// parts are the rectangles around dark parts of a scale that may be codes,
// where dark pixels nearer to each other than gap belong together.
func (s *search) parts(sc *scale, gap int) []pose {
	turns := leastTurnsQuick
	if s.thorough {
		turns = leastTurns
	}
	var found []pose
	for _, part := range sc.dark.spread(gap/2).parts(leastSide, mostParts) {
		if q, ok := sc.squarish(part, turns); ok {
			found = append(found, q)
		}
	}
	return found
}

// How often at least the rows of a code, and its columns, turn from light to
// dark or back, on the mean, for a quick look and for a thorough one: a stone
// does so twice, a letter four times, the smallest code eight times, less where
// it is blurred.
const (
	leastTurnsQuick = 5
	leastTurns      = 3
)

// squarish is the rectangle around the dark pixels of a part, if it may be a
// code by its size and shape, its darkness, and how often rows and columns turn.
func (sc *scale) squarish(part []run, least int) (pose, bool) {
	first, tall := int(part[0].y), int(part[len(part)-1].y-part[0].y)+1
	ends := make([][2]int, tall) // the outermost dark pixels of each row
	for i := range ends {
		ends[i] = [2]int{sc.w, -1}
	}
	minX, maxX, inked, turned := sc.w, 0, 0, 0
	for _, r := range part {
		dark, turns, left, right := sc.dark.ink(int(r.y), int(r.x0), int(r.x1))
		if dark > 0 {
			e := &ends[int(r.y)-first]
			inked, turned = inked+dark, turned+turns
			minX, maxX = min(minX, left), max(maxX, right)
			e[0], e[1] = min(e[0], left), max(e[1], right)
		}
	}
	wide := maxX - minX + 1
	if min(wide, tall) < leastSide || max(wide, tall) > mostSide*3/2 || turned < least*tall {
		return pose{}, false
	}
	if sc.dark.turnsDown(minX, maxX+1, first, first+tall) < least*wide {
		return pose{}, false
	}
	if !sc.contrasts(minX, maxX, first, first+tall) {
		return pose{}, false
	}
	q, area := rectangle(outline(ends, first))
	a, b := q[1].minus(q[0]).length(), q[3].minus(q[0]).length()
	share := float64(inked) / area
	return q, min(a, b) >= leastSide && max(a, b) < 1.7*min(a, b) && share > 0.25 && share < 0.85
}

// leastContrast is how much darker, of 256, dark pixels of a code are than
// light ones on the mean; what noise makes of an even surface is less.
const leastContrast = 38

// contrasts reports whether dark and light pixels between columns and rows are
// told apart by more than a little noise.
func (sc *scale) contrasts(x0, x1, y0, y1 int) bool {
	var dark, light, darks, lights int
	step := max((x1-x0)/16, 1)
	for y := y0; y < y1; y += max((y1-y0)/16, 1) {
		for x := x0; x <= x1; x += step {
			v := int(sc.grey[y*sc.stride+x])
			if sc.over(x, y) < 0 {
				dark, darks = dark+v, darks+1
			} else {
				light, lights = light+v, lights+1
			}
		}
	}
	return darks > 0 && lights > 0 && 256*dark*lights < (256-leastContrast)*light*darks
}
