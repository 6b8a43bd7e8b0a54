// Package photo finds and reads the 2D codes on photographs: any number of
// them, at any angle, in uneven light. It knows nothing of what they say.
//
// A picture is looked at from coarse to fine. On each scale the three corner
// patterns of QR codes are searched for, then square dark parts, which may be
// Data Matrix codes or QR codes that lost a corner pattern. What was found is
// laid over the picture as a pattern of modules known in advance, and shifted
// until it fits best; only then are the other modules read.
package photo

import (
	"cmp"
	"image"
	"slices"

	"pipstake/label/symbol"
)

// Point is a place on a picture, in pixels from its upper left corner.
type Point struct{ X, Y float64 }

// Code is a 2D code on a picture.
type Code struct {
	Kind    symbol.Kind
	Text    string   // "" where the code was seen but could not be read
	Corners [4]Point // of its modules, clockwise as the code stands upright
}

// Centre is the middle of the code.
func (c Code) Centre() Point {
	var p Point
	for _, q := range c.Corners {
		p.X, p.Y = p.X+q.X/4, p.Y+q.Y/4
	}
	return p
}

// Read finds the codes on a picture, in which white is 255: those that it
// could read and those that it only saw, each from top to bottom and then from
// left to right. Where nothing can be read, light and dark are exchanged for a
// second look.
func Read(img *image.Gray) (read, unread []Code) {
	read, unread = look(img)
	if len(read) == 0 {
		inverted := image.NewGray(img.Rect)
		width := img.Rect.Dx()
		for y := range img.Rect.Dy() { // rows of img may be longer than it is wide
			for x, v := range img.Pix[y*img.Stride:][:width] {
				inverted.Pix[y*inverted.Stride+x] = 255 - v
			}
		}
		if r, u := look(inverted); len(r) > 0 {
			return r, u
		}
	}
	return read, unread
}

// look is Read for dark codes on light ground.
func look(img *image.Gray) (read, unread []Code) {
	s := &search{}
	scales := pyramid(img)
	for _, sc := range slices.Backward(scales) {
		s.corners(sc)
		s.squares(sc)
	}
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

// search is what was found on a picture so far.
type search struct {
	read []Code
	held [][4]Point // places that are settled
	seen []sighting // what looks like a code and was not read, the likeliest first
}

// sighting is a code that was found and not read.
type sighting struct {
	kind    symbol.Kind
	corners [4]Point
	fit     float64
}

func (s sighting) code(text string) Code { return Code{s.kind, text, s.corners} }

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
// neighbouring codes.
const (
	leastRead          = leastTried
	leastReadMatrix    = 0.7
	leastSeen          = 0.6
	leastSeenUncertain = 0.75
	leastSeenMatrix    = 0.9
)

// note records what became of a fit on a scale: read, or seen where it fits at
// least so well.
func (s *search) note(sc *scale, f *fit, least float64) bool {
	found := sighting{f.model.kind, f.pose.times(sc.factor), f.known}
	if s.taken(found.corners) {
		return false
	}
	believed := leastRead
	if f.model.kind == symbol.DataMatrix {
		believed, least = leastReadMatrix, leastSeenMatrix
	}
	if !f.pose.plausible() || f.known < believed {
		return false
	}
	if text, ok := f.decode(sc); ok {
		s.read = append(s.read, found.code(text))
		s.hold(found)
		return true
	}
	if f.known >= least {
		s.seen = append(s.seen, found)
		slices.SortStableFunc(s.seen, func(a, b sighting) int { return cmp.Compare(b.fit, a.fit) })
	}
	return false
}
