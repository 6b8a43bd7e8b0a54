// Package photo finds and reads the 2D codes on photographs: any number of
// them, at any angle, in uneven light. It knows nothing of what they say.
//
// A picture is looked at from coarse to fine. On each scale the three corner
// patterns of QR codes are searched for, then square dark parts, which may be
// Data Matrix codes or QR codes that lost a corner pattern. What was found is
// laid over the picture as a pattern of modules known in advance, and shifted
// until it fits best; only then are the other modules read.
//
// That is done quickly at first, and thoroughly where something that looks like
// a code was not read, on the scale on which it showed.
//
// # Decisions
//
// Error correction and text are left to label/symbol/decode, which weighs how
// sure each bit is. Work is bounded by counts of candidates, not by a clock, so
// the same picture gives the same answer. A pattern that fits and cannot be
// read is reported.
package photo

import (
	"cmp"
	"image"
	"slices"

	"pipstake/label/symbol/kind"
)

// Point is a place on a picture, in pixels from its upper left corner.
type Point struct{ X, Y float64 }

// Code is a 2D code on a picture.
type Code struct {
	Kind    kind.Kind
	Text    string   // "" where the code was seen but could not be read
	Corners [4]Point // of its modules, clockwise as the code stands upright
}

// Centre is the middle of the code.
func (c Code) Centre() Point { return centre(c.Corners) }

// Read finds the codes on a picture, in which white is 255: those that it
// could read and those that it only saw, each from top to bottom and then from
// left to right. Where nothing can be read, light and dark are exchanged for a
// second look. The work is bounded: on a picture of nothing but what looks like
// codes, those that are not reached count as seen, or are not found.
func Read(img *image.Gray) (read, unread []Code) {
	s := look(img, mostWork)
	if len(s.read) == 0 {
		if other := look(inverted(img), mostWork-s.work); len(other.read) > 0 {
			s = other
		}
	}
	return s.result()
}

// Glance is Read for one of many pictures of the same codes, such as those of
// a film: it takes a small part of the time, and misses codes that are damaged
// or blurred.
func Glance(img *image.Gray) (read, unread []Code) {
	s := &search{most: mostWork / 20}
	scales := pyramid(img)
	for _, sc := range scales {
		sc.quiet()
	}
	s.all(scales)
	return s.result()
}

// inverted exchanges light and dark.
func inverted(img *image.Gray) *image.Gray {
	out := image.NewGray(image.Rectangle{Max: img.Rect.Size()})
	width := img.Rect.Dx()
	for y := range img.Rect.Dy() { // rows of img may be longer than it is wide
		for x, v := range img.Pix[y*img.Stride:][:width] {
			out.Pix[y*out.Stride+x] = 255 - v
		}
	}
	return out
}

// mostWork bounds the work on one picture, in modules that are looked at in
// poses that are tried: a few seconds of one processor.
const mostWork = 300_000_000

// look finds dark codes on light ground.
func look(img *image.Gray, most int) *search {
	s := &search{most: most}
	scales := pyramid(img)
	for _, sc := range scales {
		sc.quiet()
	}
	s.all(scales)
	s.thorough = true
	if len(s.read) == 0 {
		for _, sc := range scales {
			sc.dark = sc.darker()
		}
	} else {
		scales = s.doubtful(scales)
	}
	s.all(scales)
	return s
}

// all looks at all scales: first for what is surest, so that a code that shows
// its corner patterns on a finer scale only is not tried as a square before.
func (s *search) all(scales []*scale) {
	for _, sc := range slices.Backward(scales) {
		s.corners(sc)
	}
	for _, sc := range slices.Backward(scales) {
		s.squares(sc)
	}
}

// search is what was found on a picture so far.
type search struct {
	thorough bool
	read     []Code
	held     [][4]Point // places that are settled
	seen     []sighting // what looks like a code and was not read, the likeliest first
	doubts   []doubt
	work     int // modules that were looked at
	most     int
	levels   []int32 // room for those of a model
}

// tired reports whether all of the work that is allowed has been done.
func (s *search) tired() bool { return s.work >= s.most }

// doubt is what may be a part of a code: its place on the picture, how far the
// code may extend from there, and the scale on which it showed.
type doubt struct {
	at    Point
	reach float64
	scale *scale
}

// doubt remembers what may be a part of a code, by its place on a scale.
func (s *search) doubt(sc *scale, at Point, reach float64) {
	if !s.thorough {
		s.doubts = append(s.doubts, doubt{sc.onPicture(at), reach * sc.factor, sc})
	}
}

// doubtful are the scales on which something looks like a code, or like a part
// of one, and was not read. Nothing counts as dark on them but what lies around it.
func (s *search) doubtful(scales []*scale) (left []*scale) {
	doubts := slices.DeleteFunc(s.doubts, func(d doubt) bool { return s.settled(d.at) })
	for _, c := range s.seen {
		if !s.touches(c.corners) {
			doubts = append(doubts, doubt{centre(c.corners), c.corners[0].minus(c.corners[2]).length(), c.scale})
		}
	}
	for _, sc := range scales {
		around := sc.noBlocks()
		for _, d := range doubts {
			if d.scale == sc {
				const margin = 40
				sc.mark(around, d.at, d.reach+margin)
			}
		}
		if around.any() {
			sc.keep(around)
			left = append(left, sc)
		}
	}
	return left
}

// sighting is a code that was found and not read.
type sighting struct {
	kind    kind.Kind
	corners [4]Point
	fit     float64
	scale   *scale
}

func (s sighting) code(text string) Code { return Code{s.kind, text, s.corners} }

// result sorts what was read, and what was only seen.
func (s *search) result() (read, unread []Code) {
	for _, c := range s.seen {
		if !s.touches(c.corners) {
			s.hold(c)
			unread = append(unread, c.code(""))
		}
	}
	read = s.read
	for _, codes := range [][]Code{read, unread} {
		slices.SortFunc(codes, func(a, b Code) int {
			p, q := a.Centre(), b.Centre()
			return cmp.Or(cmp.Compare(p.Y, q.Y), cmp.Compare(p.X, q.X))
		})
	}
	return read, unread
}

// taken reports whether the place of a code overlaps one that is settled.
func (s *search) taken(corners [4]Point) bool {
	c := centre(corners)
	return slices.ContainsFunc(s.held, func(h [4]Point) bool {
		return inside(h, c) || inside(corners, centre(h))
	})
}

// touches reports whether any part of the place of a code, by its corners and
// its middle, lies on one that is settled, or the other way round.
func (s *search) touches(corners [4]Point) bool {
	lies := func(on, of [4]Point) bool {
		return inside(on, centre(of)) || slices.ContainsFunc(of[:], func(p Point) bool { return inside(on, p) })
	}
	return slices.ContainsFunc(s.held, func(h [4]Point) bool { return lies(h, corners) || lies(corners, h) })
}

// settled reports whether a point lies on a code that was read.
func (s *search) settled(p Point) bool {
	return slices.ContainsFunc(s.held, func(h [4]Point) bool { return inside(h, p) })
}

func (s *search) hold(c sighting) { s.held = append(s.held, c.corners) }

// How well a pattern must fit for what is read to be believed, and how well to
// be called a code that could not be read: correlations. A Data Matrix has
// little pattern, which other things resemble; so do two corner patterns of
// neighbouring codes. What was read only by giving modules up as lost must fit
// better.
const (
	leastRead          = leastTried
	leastReadMatrix    = 0.7
	leastReadUnsure    = 0.65
	leastSeen          = 0.6
	leastSeenUncertain = 0.75
	leastSeenMatrix    = 0.9
)

// mostSeen bounds what is remembered of codes that were not read.
const mostSeen = 1000

// note records what became of a fit on a scale: read, or seen where it fits at
// least so well.
func (s *search) note(sc *scale, f *fit, least float64) bool {
	found := sighting{f.model.kind, f.pose.on(sc), f.known, sc}
	if s.taken(found.corners) {
		return false
	}
	believed := leastRead
	if f.model.kind == kind.DataMatrix {
		believed, least = leastReadMatrix, leastSeenMatrix
	}
	if !f.pose.plausible() || f.known < believed {
		return false
	}
	if text, ok := s.decode(sc, f); ok {
		s.read = append(s.read, found.code(text))
		s.hold(found)
		return true
	}
	if f.known >= least && len(s.seen) < mostSeen {
		at, _ := slices.BinarySearchFunc(s.seen, found, func(a, b sighting) int { return cmp.Compare(b.fit, a.fit) })
		s.seen = slices.Insert(s.seen, at, found)
	}
	return false
}
