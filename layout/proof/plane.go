package proof

import (
	"math"
	"math/rand/v2"
)

// plane is a picture of reflectances, row by row from the top.
type plane struct {
	w, h int
	v    []float32
}

func newPlane(w, h int) *plane { return &plane{w, h, make([]float32, w*h)} }

// at is the pixel in column x and row y, or the nearest to it at the edge.
func (p *plane) at(x, y int) float32 {
	return p.v[min(max(y, 0), p.h-1)*p.w+min(max(x, 0), p.w-1)]
}

// between is the reflectance at a point, in pixels from the upper left corner,
// between the centres of the four pixels around it.
func (p *plane) between(x, y float64) float32 {
	x, y = x-0.5, y-0.5
	ix, iy := int(math.Floor(x)), int(math.Floor(y))
	fx, fy := float32(x-float64(ix)), float32(y-float64(iy))
	return (p.at(ix, iy)*(1-fx)+p.at(ix+1, iy)*fx)*(1-fy) + (p.at(ix, iy+1)*(1-fx)+p.at(ix+1, iy+1)*fx)*fy
}

// blurred is the picture seen through a Gauss filter of sigma pixels.
func (p *plane) blurred(sigma float64) *plane {
	reach := int(math.Ceil(2.5 * sigma))
	weights := make([]float32, 2*reach+1)
	var sum float32
	for i := range weights {
		d := float64(i-reach) / sigma
		weights[i] = float32(math.Exp(-d * d / 2))
		sum += weights[i]
	}
	across, down := newPlane(p.w, p.h), newPlane(p.w, p.h)
	for y := range p.h {
		for x := range p.w {
			var v float32
			if x >= reach && x+reach < p.w {
				for i, near := range p.v[y*p.w+x-reach:][:len(weights)] {
					v += weights[i] * near
				}
			} else {
				for i, weight := range weights {
					v += weight * p.at(x+i-reach, y)
				}
			}
			across.v[y*p.w+x] = v / sum
		}
	}
	for y := range p.h {
		row := down.v[y*p.w:][:p.w]
		for i, weight := range weights {
			near := min(max(y+i-reach, 0), p.h-1)
			for x, v := range across.v[near*p.w:][:p.w] {
				row[x] += weight * v / sum
			}
		}
	}
	return down
}

// field is smooth noise of about unit variance over a square: bumps of the
// given scale, both in millimetres.
func field(side, scale float64, rnd *rand.Rand) func(x, y float64) float64 {
	n := int(side/scale) + 3
	knots := make([]float64, n*n)
	for i := range knots {
		knots[i] = rnd.NormFloat64()
	}
	return func(x, y float64) float64 {
		x, y = x/scale, y/scale
		ix, iy := min(max(int(x), 0), n-2), min(max(int(y), 0), n-2)
		fx, fy := x-float64(ix), y-float64(iy)
		fx, fy = fx*fx*(3-2*fx), fy*fy*(3-2*fy)
		k := knots[iy*n+ix:]
		return (k[0]*(1-fx)+k[1]*fx)*(1-fy) + (k[n]*(1-fx)+k[n+1]*fx)*fy
	}
}
