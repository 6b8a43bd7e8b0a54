package photo_test

import (
	"bytes"
	"image"
	"image/jpeg"
	"math"
	"math/rand/v2"
	"testing"
)

// developed blurs, shades and digitises the picture.
func (pic *canvas) developed(l light, rnd *rand.Rand) *image.Gray {
	pic.blur(l.blur)
	if l.defocus > 0 {
		pic.filter(disc(l.defocus))
	}
	if l.motion > 0 {
		pic.filter(path(l.motion, rnd))
	}
	s, c := math.Sincos(2 * math.Pi * rnd.Float64())
	gamma := 0.7 // roughly as cameras brighten
	if l.screen {
		gamma = 1
	}
	const steps = 4096
	var bright [steps + 1]byte
	for i := range bright {
		bright[i] = byte(255*math.Pow(float64(i)/steps, gamma) + 0.5)
	}
	grain := make([]float32, 1<<16) // drawn from again and again, for speed
	for i := range grain {
		grain[i] = float32(l.noise * rnd.NormFloat64())
	}
	img := image.NewGray(image.Rect(0, 0, pic.w, pic.h))
	for y := range pic.h {
		from := rnd.Uint64()
		shade := 1 - l.shade*(0.5+0.7*((float64(y)/float64(pic.h)-0.5)*s-0.5*c))
		fall := l.shade * 0.7 * c / float64(pic.w)
		for x, v := range pic.levels[y*pic.w:][:pic.w] {
			from = from*6364136223846793005 + 1442695040888963407
			level := v*float32(shade-fall*float64(x)) + grain[from>>48]
			img.Pix[y*pic.w+x] = bright[int(min(max(level, 0), 1)*steps+0.5)]
		}
	}
	if l.halo > 0 {
		halo(img, l.halo)
	}
	return img
}

// halo sharpens a finished picture, as webcams do.
func halo(img *image.Gray, amount float64) {
	soft := &canvas{img.Rect.Dx(), img.Rect.Dy(), make([]float32, len(img.Pix))}
	for i, v := range img.Pix {
		soft.levels[i] = float32(v)
	}
	soft.blur(1.2)
	for i, v := range img.Pix {
		img.Pix[i] = byte(min(max(float64(v)+amount*(float64(v)-float64(soft.levels[i])), 0), 255))
	}
}

// blur is a Gauss filter of sigma pixels.
func (pic *canvas) blur(sigma float64) {
	if sigma == 0 {
		return
	}
	reach := int(math.Ceil(2.5 * sigma))
	var weights []float32
	var sum float32
	for i := -reach; i <= reach; i++ {
		v := float32(math.Exp(-float64(i*i) / (2 * sigma * sigma)))
		weights, sum = append(weights, v), sum+v
	}
	line := make([]float32, pic.w)
	for y := range pic.h {
		row := pic.levels[y*pic.w:][:pic.w]
		for i := range row {
			var v float32
			for k, weight := range weights {
				v += weight * row[min(max(i+k-reach, 0), pic.w-1)]
			}
			line[i] = v / sum
		}
		copy(row, line)
	}
	out := make([]float32, len(pic.levels))
	for y := range pic.h {
		to := out[y*pic.w:][:pic.w]
		for k, weight := range weights {
			for i, v := range pic.levels[min(max(y+k-reach, 0), pic.h-1)*pic.w:][:pic.w] {
				to[i] += weight * v
			}
		}
		for i := range to {
			to[i] /= sum
		}
	}
	pic.levels = out
}

// spot is where the light of one point comes to lie: places in pixels from it,
// and how much of the light falls there.
type spot struct {
	dx, dy int
	share  float32
}

// disc is what a lens out of focus makes of a point, with a radius in pixels.
func disc(radius float64) []spot {
	var spots []spot
	reach := int(math.Ceil(radius))
	for dy := -reach; dy <= reach; dy++ {
		for dx := -reach; dx <= reach; dx++ {
			if share := min(max(radius+0.5-math.Hypot(float64(dx), float64(dy)), 0), 1); share > 0 {
				spots = append(spots, spot{dx, dy, float32(share)})
			}
		}
	}
	return spots
}

// path is what a hand that moves makes of a point: a line so many pixels long,
// in any direction, a little bent.
func path(length float64, rnd *rand.Rand) []spot {
	sin, cos := math.Sincos(2 * math.Pi * rnd.Float64())
	bend := 0.15 * (2*rnd.Float64() - 1)
	shares := map[[2]int]float32{}
	var order [][2]int
	for i := range 64 {
		t := (float64(i)/63 - 0.5) * length
		u := bend * t * t / length
		x, y := t*cos-u*sin, t*sin+u*cos
		ix, iy := math.Floor(x), math.Floor(y)
		for _, d := range [4][2]float64{{0, 0}, {1, 0}, {0, 1}, {1, 1}} {
			at := [2]int{int(ix + d[0]), int(iy + d[1])}
			if _, known := shares[at]; !known {
				order = append(order, at)
			}
			shares[at] += float32((1 - math.Abs(x-ix-d[0])) * (1 - math.Abs(y-iy-d[1])))
		}
	}
	var spots []spot
	for _, at := range order {
		spots = append(spots, spot{at[0], at[1], shares[at]})
	}
	return spots
}

// filter spreads the light of every point.
func (pic *canvas) filter(spots []spot) {
	out := make([]float32, len(pic.levels))
	var sum float32
	for _, s := range spots {
		sum += s.share
	}
	for _, s := range spots {
		share := s.share / sum
		for y := range pic.h {
			from := min(max(y+s.dy, 0), pic.h-1) * pic.w
			row := out[y*pic.w:][:pic.w]
			for x := range row {
				row[x] += share * pic.levels[from+min(max(x+s.dx, 0), pic.w-1)]
			}
		}
	}
	pic.levels = out
}

// compressed is a picture as a JPEG file.
func compressed(tb testing.TB, img image.Image, quality int) []byte {
	tb.Helper()
	var out bytes.Buffer
	if err := jpeg.Encode(&out, img, &jpeg.Options{Quality: quality}); err != nil {
		tb.Fatal(err)
	}
	return out.Bytes()
}
