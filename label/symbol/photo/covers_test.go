package photo_test

import (
	"math"
	"math/rand/v2"
)

// covers is what befell one label: how it is bent, and what lies on it.
type covers struct {
	specks [][3]float64 // dirt: its middle and radius, in millimetres
	drops  [][3]float64 // of water
	streak [][3]float64 // creases of a bag: a line's angle, its distance from the middle and its width
	bag    bool
	curl   float64 // the radius to which the label is bent, in millimetres; 0 for flat
}

func coversOf(c cut, l light, rnd *rand.Rand) covers {
	within := func() (x, y float64) { return c.label.W * (rnd.Float64() - 0.5), c.label.H * (rnd.Float64() - 0.5) }
	o := covers{bag: l.bag, curl: l.curl}
	for range l.dirt {
		x, y := within()
		o.specks = append(o.specks, [3]float64{x, y, 0.2 + 0.9*math.Pow(rnd.Float64(), 3)})
	}
	for range l.drops {
		x, y := within()
		o.drops = append(o.drops, [3]float64{x, y, 0.4 + 1.6*math.Pow(rnd.Float64(), 2)})
	}
	if l.bag {
		for range 5 {
			o.streak = append(o.streak, [3]float64{math.Pi * rnd.Float64(), c.label.W * (rnd.Float64() - 0.5), 0.4 + 1.2*rnd.Float64()})
		}
	}
	return o
}

// shade is what becomes of the brightness of a place on a label.
type shade struct {
	dirty, bag    bool
	bright, glint float64
}

func (s shade) of(level float64) float64 {
	if s.dirty {
		level = 0.25
	}
	level *= s.bright
	if s.bag {
		level = 0.15 + 0.75*level
	}
	return level + s.glint
}

// at is the place on the flat label, in millimetres from its middle, that is
// seen at a place of the picture of it.
func (o *covers) at(x, y float64) (mx, my float64, lit shade) {
	bent := 1.0
	if o.curl > 0 { // along a cylinder, lit from above
		s := min(max(x/o.curl, -1), 1)
		x, bent = o.curl*math.Asin(s), 0.55+0.45*math.Sqrt(1-s*s)
	}
	glint := 0.0
	for _, s := range o.streak { // film shifts what is behind a crease, and shines
		sin, cos := math.Sincos(s[0])
		if d := (x*cos + y*sin - s[1]) / s[2]; math.Abs(d) < 1 {
			x, y = x+0.25*(1-d*d)*cos, y+0.25*(1-d*d)*sin
			glint = max(glint, 0.75*(1-math.Abs(d)*2))
		}
	}
	rim := 1.0
	for _, d := range o.drops { // a drop is a lens, with a dark rim and a highlight
		dx, dy := x-d[0], y-d[1]
		r := math.Hypot(dx, dy) / d[2]
		if r >= 1 {
			continue
		}
		x, y = d[0]+dx*(0.72+0.2*r), d[1]+dy*(0.72+0.2*r)
		if r > 0.85 {
			rim = 0.7
		}
		if math.Hypot(dx+0.35*d[2], dy+0.35*d[2]) < 0.25*d[2] {
			glint = 0.9
		}
	}
	dirty := false
	for _, s := range o.specks {
		dirty = dirty || math.Hypot(x-s[0], y-s[1]) < s[2]
	}
	return x, y, shade{dirty, o.bag, bent * rim, glint}
}

// leaves lie across the picture: blades with a rib, darker than labels.
func (pic *canvas) leaves(pixels float64, rnd *rand.Rand) {
	n := max(1, pic.w*pic.h/int(pixels*pixels*25*25))
	for range n {
		sin, cos := math.Sincos(2 * math.Pi * rnd.Float64())
		long, wide := (7+7*rnd.Float64())*pixels, (2+2*rnd.Float64())*pixels
		cx, cy := rnd.Float64()*float64(pic.w), rnd.Float64()*float64(pic.h)
		for y := max(int(cy-long), 0); y < min(int(cy+long), pic.h); y++ {
			for x := max(int(cx-long), 0); x < min(int(cx+long), pic.w); x++ {
				dx, dy := float64(x)-cx, float64(y)-cy
				u, v := (dx*cos+dy*sin)/long, (-dx*sin+dy*cos)/wide
				if math.Abs(u) >= 1 || math.Abs(v) >= 1-u*u {
					continue
				}
				level := float32(0.32 + 0.1*v)
				if math.Abs(v) < 0.05 {
					level = 0.5
				}
				pic.levels[y*pic.w+x] = level
			}
		}
	}
}

// shadow darkens one side of a line across the picture.
func (pic *canvas) shadow(rnd *rand.Rand) {
	s, c := math.Sincos(2 * math.Pi * rnd.Float64())
	x0, y0 := float64(pic.w)*(0.3+0.4*rnd.Float64()), float64(pic.h)*(0.3+0.4*rnd.Float64())
	for i := range pic.levels {
		if (float64(i%pic.w)-x0)*c+(float64(i/pic.w)-y0)*s > 0 {
			pic.levels[i] *= 0.45
		}
	}
}

// flash burns spots out of the picture, about one for every label.
func (pic *canvas) flash(pixels float64, labels int, rnd *rand.Rand) {
	for range labels {
		cx, cy, r := rnd.Float64()*float64(pic.w), rnd.Float64()*float64(pic.h), (4+6*rnd.Float64())*pixels
		for y := max(int(cy-3*r), 0); y < min(int(cy+3*r), pic.h); y++ {
			for x := max(int(cx-3*r), 0); x < min(int(cx+3*r), pic.w); x++ {
				d := math.Hypot(float64(x)-cx, float64(y)-cy) / r
				pic.levels[y*pic.w+x] += float32(1.3 * math.Exp(-d*d))
			}
		}
	}
}

// window is a program's window on a screen: a bar, rules and grey.
func (pic *canvas) window() {
	for i := range pic.levels {
		x, y := i%pic.w, i/pic.w
		pic.levels[i] = 0.93
		switch {
		case y < 30:
			pic.levels[i] = 0.2
			if y > 8 && y < 22 && x%24 > 8 {
				pic.levels[i] = 0.8
			}
		case x < 60 && y%20 < 9 && x > 8 && x < 40:
			pic.levels[i] = 0.4
		}
	}
}
