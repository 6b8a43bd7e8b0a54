package photo

import (
	"pipstake/label/symbol/decode"
	"pipstake/label/symbol/kind"
)

// levels are how light each module of a code is, row by row, and the level
// between light and dark around it.
type levels struct {
	size          int
	seen, between []float64
	contrast      float64 // how far light and dark modules are apart
}

// The ways in which light modules are told from dark ones, the best first: how
// much is taken off for what a blurred picture carries over, and how far the
// level between is shifted, of the contrast; local ones go by the lightest and
// darkest modules around.
var ways = []struct {
	sharpen, bias float64
	local         bool
}{
	{0, 0, false}, {0.3, 0, false}, {0, 0, true},
	{0.15, 0, false}, {0.6, 0, false}, {0, -0.12, false}, {0, 0.12, false}, {0.3, 0, true}, {0.3, -0.12, false}, {0.3, 0.12, false},
	{0.15, -0.12, false}, {0.15, 0.12, false}, {0.15, 0, true}, {0.6, -0.12, false}, {0.6, 0.12, false}, {0.6, 0, true},
}

// quickWays is how many of them are tried at first.
const quickWays = 3

// decode reads the code, with several ways of telling light from dark. Its
// error correction proves what was read.
func (s *search) decode(sc *scale, f *fit) (string, bool) {
	l := f.levels(sc)
	n := quickWays
	if s.thorough {
		n = len(ways)
	}
	tried := map[string]bool{}
	for _, way := range ways[:n] {
		s.work += 4 * len(l.seen)
		seen := l.sharpened(way.sharpen)
		var light []float32
		if way.local {
			light = l.local(seen)
		} else {
			light = l.light(seen, way.bias)
		}
		key := packed(light)
		if tried[key] {
			continue
		}
		tried[key] = true
		text, sure, ok := decodeModules(f.model.kind, decode.Modules{Size: l.size, Light: light})
		if ok && (sure || f.known >= leastReadUnsure) {
			return text, true
		}
	}
	return "", false
}

// decodeModules reads the text of the modules of a code; sure says that none
// had to be given up as lost.
func decodeModules(of kind.Kind, m decode.Modules) (text string, sure, ok bool) {
	if of == kind.DataMatrix {
		return decode.DataMatrix(m)
	}
	return decode.QR(m)
}

// levels samples the modules. What lies between light and dark is a plane laid
// through the known modules of each.
func (f *fit) levels(sc *scale) levels {
	n := f.model.size
	v := f.pose.view(n)
	l := levels{size: n, seen: make([]float64, n*n), between: make([]float64, n*n)}
	around := []Point{{}} // where a module is sampled
	if f.pose.module(n) > 2.2 {
		around = append(around, Point{-0.2, 0}, Point{0.2, 0}, Point{0, -0.2}, Point{0, 0.2})
	}
	sample := func(x, y float64) float64 {
		sum := 0.0
		for _, d := range around {
			sum += sc.at(v.of(x+d.X, y+d.Y))
		}
		return sum / float64(len(around))
	}
	var light, dark surface
	for _, k := range f.model.known {
		s := &dark
		if k.light > 0 {
			s = &light
		}
		s.add(k.x, k.y, sample(k.x, k.y))
	}
	up, down := light.plane(), dark.plane()
	sum := 0.0
	for i := range l.seen {
		x, y := float64(i%n)+0.5, float64(i/n)+0.5
		l.seen[i] = sample(x, y)
		l.between[i] = (up(x, y) + down(x, y)) / 2
		sum += max(l.seen[i]-l.between[i], l.between[i]-l.seen[i])
	}
	l.contrast = max(2*sum/float64(n*n), 1)
	return l
}

// light tells light modules from dark ones, and how sure that is: 1 where a
// module is as far from the level between as they are on the mean. One that is
// much lighter than light ones are is burnt out, and unsure.
func (l *levels) light(seen []float64, bias float64) []float32 {
	out := make([]float32, len(seen))
	for i, v := range seen {
		d := (v - l.between[i] - bias*l.contrast) / (l.contrast / 2)
		const burnt = 2
		if d > burnt {
			d = max(2*burnt-d, 0.01)
		}
		out[i] = float32(d)
	}
	return out
}

// sharpened takes off each module what a blurred picture carries over from its
// four neighbours.
func (l *levels) sharpened(share float64) []float64 {
	if share == 0 {
		return l.seen
	}
	out := make([]float64, len(l.seen))
	for i, v := range l.seen {
		x, y := i%l.size, i/l.size
		near := 0.0
		for _, d := range [4][2]int{{1, 0}, {-1, 0}, {0, 1}, {0, -1}} {
			nx, ny := min(max(x+d[0], 0), l.size-1), min(max(y+d[1], 0), l.size-1)
			near += l.seen[ny*l.size+nx]
		}
		out[i] = v + share*(4*v-near)
	}
	return out
}

// local tells dark modules by the lightest and the darkest around them, which
// holds where a part of the code has faded.
func (l *levels) local(seen []float64) []float32 {
	const reach = 3
	out := make([]float32, len(seen))
	for i, v := range seen {
		x, y := i%l.size, i/l.size
		low, high := v, v
		for ny := max(y-reach, 0); ny <= min(y+reach, l.size-1); ny++ {
			for _, u := range seen[ny*l.size+max(x-reach, 0) : ny*l.size+min(x+reach, l.size-1)+1] {
				low, high = min(low, u), max(high, u)
			}
		}
		out[i] = float32((v - (low+high)/2) / (l.contrast / 2))
	}
	return out
}

// packed is a set of modules as a key.
func packed(light []float32) string {
	bits := make([]byte, (len(light)+7)/8)
	for i, l := range light {
		if l < 0 {
			bits[i/8] |= 1 << (i % 8)
		}
	}
	return string(bits)
}

// surface gathers levels to lay a plane through them.
type surface struct{ n, x, y, xx, xy, yy, v, xv, yv float64 }

func (s *surface) add(x, y, v float64) {
	s.n++
	s.x, s.y, s.v = s.x+x, s.y+y, s.v+v
	s.xx, s.xy, s.yy = s.xx+x*x, s.xy+x*y, s.yy+y*y
	s.xv, s.yv = s.xv+x*v, s.yv+y*v
}

// plane is the one of the least squares.
func (s *surface) plane() func(x, y float64) float64 {
	mx, my, mv := s.x/s.n, s.y/s.n, s.v/s.n
	xx, xy, yy := s.xx/s.n-mx*mx, s.xy/s.n-mx*my, s.yy/s.n-my*my
	xv, yv := s.xv/s.n-mx*mv, s.yv/s.n-my*mv
	det := xx*yy - xy*xy
	if det == 0 {
		return func(x, y float64) float64 { return mv }
	}
	a, b := (xv*yy-yv*xy)/det, (yv*xx-xv*xy)/det
	return func(x, y float64) float64 { return mv + a*(x-mx) + b*(y-my) }
}
