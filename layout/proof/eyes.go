package proof

import (
	"image"
	"math"
	"math/rand/v2"
)

// A pixel of a picture seen from afar is an arc minute, which is what an eye of
// ordinary sharpness tells apart (visual acuity 1.0, ISO 8596).
const arcMinute = math.Pi / 180 / 60

// enlarged is how many times larger than the eye's pixels a picture is given to
// the program that reads it, which wants large letters.
const enlarged = 6

// EyePixel is how wide an arc minute is from so many metres away, in millimetres.
func EyePixel(metres float64) float64 { return metres * 1000 * arcMinute }

// Seen is a part of a print, given at dpi pixels in an inch, as an eye sees it
// from so many metres away: at one pixel an arc minute, enlarged smoothly for
// the program that reads it. White is 255.
func Seen(img *image.Gray, dpi int, metres float64) *image.Gray {
	pitch := EyePixel(metres) * float64(dpi) / 25.4 // pixels of img in one of the eye's
	p := planeOf(img)
	small := p.sampled(pitch)
	return small.enlarge().gray()
}

// Wet is a print that got wet, at dpi pixels in an inch: the ink has run by
// about a tenth of a millimetre, edges are blurred, and the contrast is halved.
func Wet(img *image.Gray, dpi int, fate uint64) *image.Gray { return Bled(img, dpi, 0.1, fate) }

// Bled is a wet print whose ink has run by so many millimetres.
func Bled(img *image.Gray, dpi int, by float64, fate uint64) *image.Gray {
	mm := float64(dpi) / 25.4
	p := planeOf(img)
	run := p.blurred(1.6 * by * mm)
	for i, v := range run.v { // ink runs to where a quarter of it is near
		run.v[i] = float32(min(max((float64(v)-0.6)/0.3, 0), 1))
	}
	run = run.blurred(0.15 * mm)
	rnd := rand.New(rand.NewPCG(fate, 7))
	for i, v := range run.v {
		run.v[i] = float32(min(max(0.4+0.5*float64(v)+0.03*rnd.NormFloat64(), 0), 1))
	}
	return run.gray()
}

func planeOf(img *image.Gray) *plane {
	p := newPlane(img.Rect.Dx(), img.Rect.Dy())
	for y := range p.h {
		row := img.Pix[y*img.Stride:][:p.w]
		for x, v := range row {
			p.v[y*p.w+x] = float32(v) / 255
		}
	}
	return p
}

func (p *plane) gray() *image.Gray {
	img := image.NewGray(image.Rect(0, 0, p.w, p.h))
	for i, v := range p.v {
		img.Pix[i] = byte(min(max(v, 0), 1)*255 + 0.5)
	}
	return img
}

// sampled is the mean over squares of pitch pixels.
func (p *plane) sampled(pitch float64) *plane {
	out := newPlane(max(1, int(float64(p.w)/pitch)), max(1, int(float64(p.h)/pitch)))
	for y := range out.h {
		for x := range out.w {
			var sum, n float32
			for j := int(float64(y) * pitch); j < max(int(float64(y)*pitch)+1, int(float64(y+1)*pitch)); j++ {
				for i := int(float64(x) * pitch); i < max(int(float64(x)*pitch)+1, int(float64(x+1)*pitch)); i++ {
					sum, n = sum+p.at(i, j), n+1
				}
			}
			out.v[y*out.w+x] = sum / n
		}
	}
	return out
}

// enlarge draws each pixel as enlarged ones, smoothly by cubic curves through
// the pixels (Catmull and Rom 1974).
func (p *plane) enlarge() *plane {
	out := newPlane(p.w*enlarged, p.h*enlarged)
	var weights [enlarged][4]float32
	var first [enlarged]int
	for k := range enlarged {
		at := (float64(k)+0.5)/enlarged - 0.5
		first[k] = int(math.Floor(at)) - 1
		t := at - math.Floor(at)
		weights[k] = [4]float32{
			float32((-t*t*t + 2*t*t - t) / 2), float32((3*t*t*t - 5*t*t + 2) / 2),
			float32((-3*t*t*t + 4*t*t + t) / 2), float32((t*t*t - t*t) / 2),
		}
	}
	for y := range out.h {
		ky, py := y%enlarged, y/enlarged
		for x := range out.w {
			kx, px := x%enlarged, x/enlarged
			var v float32
			for j, wy := range weights[ky] {
				var row float32
				for i, wx := range weights[kx] {
					row += wx * p.at(px+first[kx]+i, py+first[ky]+j)
				}
				v += wy * row
			}
			out.v[y*out.w+x] = v
		}
	}
	return out
}
