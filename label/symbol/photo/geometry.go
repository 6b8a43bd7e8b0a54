package photo

import (
	"math"
	"slices"
)

func (p Point) plus(q Point) Point    { return Point{p.X + q.X, p.Y + q.Y} }
func (p Point) minus(q Point) Point   { return Point{p.X - q.X, p.Y - q.Y} }
func (p Point) times(f float64) Point { return Point{p.X * f, p.Y * f} }
func (p Point) dot(q Point) float64   { return p.X*q.X + p.Y*q.Y }
func (p Point) cross(q Point) float64 { return p.X*q.Y - p.Y*q.X }
func (p Point) length() float64       { return math.Hypot(p.X, p.Y) }
func (p Point) turned() Point         { return Point{-p.Y, p.X} } // a quarter to the right, as y runs down
func centre(corners [4]Point) (c Point) {
	for _, p := range corners {
		c = c.plus(p.times(0.25))
	}
	return c
}

// inside reports whether a point lies in a quadrilateral without dents.
func inside(corners [4]Point, p Point) bool {
	left, right := false, false
	for i, a := range corners {
		side := corners[(i+1)%4].minus(a).cross(p.minus(a))
		left, right = left || side < 0, right || side > 0
	}
	return !(left && right)
}

// pose is where the four corners of a code lie on a scale: those of its
// modules (0,0), (n,0), (n,n) and (0,n).
type pose [4]Point

// on is where the pose on a scale lies on the picture.
func (q pose) on(sc *scale) [4]Point {
	for i := range q {
		q[i] = sc.onPicture(q[i])
	}
	return q
}

// module is about the side of a module of a code of n×n.
func (q pose) module(n int) float64 {
	return math.Sqrt(math.Abs(q[2].minus(q[0]).cross(q[3].minus(q[1])))/2) / float64(n)
}

// convex reports whether the corners go round without a dent, as those of
// whatever a camera sees of a square.
func (q pose) convex() bool {
	for i := range q {
		if q[(i+1)%4].minus(q[i]).cross(q[(i+2)%4].minus(q[(i+1)%4])) <= 0 {
			return false
		}
	}
	return true
}

// plausible reports whether a square, seen by a camera not too much from the
// side, may look like this.
func (q pose) plausible() bool {
	if !q.convex() {
		return false
	}
	for i := range q {
		a, b := q[(i+1)%4].minus(q[i]), q[(i+3)%4].minus(q[i])
		opposite := q[(i+2)%4].minus(q[(i+3)%4])
		la, lb, lo := a.length(), b.length(), opposite.length()
		if la > 1.3*lo || la > 2*lb || lb > 2*la || math.Abs(a.dot(b)) > 0.6*la*lb {
			return false
		}
	}
	return true
}

// view takes places on a code to places on a scale, as a camera does
// (Heckbert, Fundamentals of Texture Mapping, 1989).
type view struct{ a, b, c, d, e, f, g, h float64 }

// view is that of a code of n×n modules in the pose.
func (q pose) view(n int) view {
	d1, d2 := q[1].minus(q[2]), q[3].minus(q[2])
	s := q[0].minus(q[1]).plus(q[2]).minus(q[3])
	v := view{c: q[0].X, f: q[0].Y}
	if den := d1.cross(d2); den != 0 {
		v.g, v.h = s.cross(d2)/den, d1.cross(s)/den
	}
	v.a, v.b = q[1].X-q[0].X+v.g*q[1].X, q[3].X-q[0].X+v.h*q[3].X
	v.d, v.e = q[1].Y-q[0].Y+v.g*q[1].Y, q[3].Y-q[0].Y+v.h*q[3].Y
	u := 1 / float64(n)
	return view{v.a * u, v.b * u, v.c, v.d * u, v.e * u, v.f, v.g * u, v.h * u}
}

// of is where a place on the code, in modules, lies.
func (v *view) of(x, y float64) Point {
	w := 1 / (v.g*x + v.h*y + 1)
	return Point{(v.a*x + v.b*y + v.c) * w, (v.d*x + v.e*y + v.f) * w}
}

// outline is the outline without dents, clockwise, of rows of pixels, each from
// its first to its last, the first row at a height. Rows without any have their
// last before the first.
func outline(rows [][2]int, height int) []Point {
	var left, right []Point
	// Each side keeps the points at which it bends outwards.
	bend := func(side []Point, p Point, way float64) []Point {
		for n := len(side); n > 1 && way*side[n-1].minus(side[n-2]).cross(p.minus(side[n-1])) >= 0; n-- {
			side = side[:n-1]
		}
		return append(side, p)
	}
	for i, row := range rows {
		if row[1] < row[0] {
			continue
		}
		l, r, t := float64(row[0]), float64(row[1]+1), float64(height+i)
		for _, y := range [2]float64{t, t + 1} {
			left, right = bend(left, Point{l, y}, 1), bend(right, Point{r, y}, -1)
		}
	}
	slices.Reverse(left)
	return append(right, left...)
}

// rectangle is the least rectangle around an outline, with its area.
func rectangle(outline []Point) (best pose, area float64) {
	area = math.Inf(1)
	for i, a := range outline {
		along := outline[(i+1)%len(outline)].minus(a)
		l := along.length()
		if l == 0 {
			continue
		}
		along = along.times(1 / l)
		down := along.turned()
		minU, maxU, minV, maxV := math.Inf(1), math.Inf(-1), math.Inf(1), math.Inf(-1)
		for _, p := range outline {
			u, v := p.dot(along), p.dot(down)
			minU, maxU, minV, maxV = min(minU, u), max(maxU, u), min(minV, v), max(maxV, v)
		}
		if s := (maxU - minU) * (maxV - minV); s < area {
			at := func(u, v float64) Point { return along.times(u).plus(down.times(v)) }
			best, area = pose{at(minU, minV), at(maxU, minV), at(maxU, maxV), at(minU, maxV)}, s
		}
	}
	return best, area
}
