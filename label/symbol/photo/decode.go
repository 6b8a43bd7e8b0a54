package photo

import (
	"github.com/makiuchi-d/gozxing"
	datamatrix "github.com/makiuchi-d/gozxing/datamatrix/decoder"
	qrcode "github.com/makiuchi-d/gozxing/qrcode/decoder"

	"pipstake/label/symbol"
)

// levels are how light each module of a code is, row by row, and the level
// between light and dark around it.
type levels struct {
	size          int
	seen, between []float64
}

// decode reads the code, with several ways of telling light from dark. Its
// error correction proves what was read.
func (f *fit) decode(sc *scale) (string, bool) {
	l := f.levels(sc)
	tried := map[string]bool{}
	try := func(dark []bool) (string, bool) {
		key := packed(dark)
		if tried[key] {
			return "", false
		}
		tried[key] = true
		return decodeModules(f.model.kind, l.size, dark)
	}
	contrast := l.contrast()
	for _, sharpen := range []float64{0, 0.15, 0.3, 0.6} {
		seen := l.sharpened(sharpen)
		for _, bias := range []float64{0, -0.12, 0.12} {
			dark := make([]bool, len(seen))
			for i, v := range seen {
				dark[i] = v < l.between[i]+bias*contrast
			}
			if text, ok := try(dark); ok {
				return text, true
			}
		}
		local := l.local(seen)
		if text, ok := try(local); ok {
			return text, true
		}
	}
	return "", false
}

// levels samples the modules. What lies between light and dark is a plane laid
// through the known modules of each.
func (f *fit) levels(sc *scale) levels {
	n := f.model.size
	v := f.pose.view(n)
	l := levels{n, make([]float64, n*n), make([]float64, n*n)}
	var around []Point // where a module is sampled
	around = append(around, Point{})
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
	for i := range l.seen {
		x, y := float64(i%n)+0.5, float64(i/n)+0.5
		l.seen[i] = sample(x, y)
		l.between[i] = (up(x, y) + down(x, y)) / 2
	}
	return l
}

// contrast is how far light and dark modules are apart.
func (l *levels) contrast() float64 {
	sum := 0.0
	for i, v := range l.seen {
		if v > l.between[i] {
			sum += v - l.between[i]
		} else {
			sum += l.between[i] - v
		}
	}
	return 2 * sum / float64(len(l.seen))
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
func (l *levels) local(seen []float64) []bool {
	const reach = 3
	out := make([]bool, len(seen))
	for i, v := range seen {
		x, y := i%l.size, i/l.size
		low, high := v, v
		for ny := max(y-reach, 0); ny <= min(y+reach, l.size-1); ny++ {
			for _, u := range seen[ny*l.size+max(x-reach, 0) : ny*l.size+min(x+reach, l.size-1)+1] {
				low, high = min(low, u), max(high, u)
			}
		}
		out[i] = v < (low+high)/2
	}
	return out
}

// packed is a set of modules as a key.
func packed(dark []bool) string {
	bits := make([]byte, (len(dark)+7)/8)
	for i, d := range dark {
		if d {
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

// decodeModules reads the text of the modules of a code. The decoder was
// written for the bits of whole codes, and a picture may hold anything, so
// that whatever goes wrong inside it counts as not read.
func decodeModules(kind symbol.Kind, size int, dark []bool) (text string, ok bool) {
	defer func() {
		if recover() != nil {
			text, ok = "", false
		}
	}()
	bits, err := gozxing.NewSquareBitMatrix(size)
	if err != nil {
		return "", false
	}
	for i, d := range dark {
		if d {
			bits.Set(i%size, i/size)
		}
	}
	if kind == symbol.DataMatrix {
		result, err := datamatrix.NewDecoder().Decode(bits)
		if err != nil {
			return "", false
		}
		return result.GetText(), true
	}
	result, err := qrcode.NewDecoder().DecodeWithoutHint(bits)
	if err != nil {
		return "", false
	}
	return result.GetText(), true
}
