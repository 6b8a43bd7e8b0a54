package proof

import (
	"image"
	"math"
	"math/rand/v2"
)

// A telephone held over a label: how far away, in millimetres, and how many of
// its pixels fall on a millimetre.
const (
	cameraDistance = 120.0
	cameraPitch    = 13.0
)

// Photograph is what a telephone sees of a worn part when someone holds it
// over the label the n-th time: turned by any angle, tilted, blurred, unevenly
// lit and noisy. White is 255.
func (x *Worn) Photograph(fate, place uint64, n int) *image.Gray {
	w := x.weather
	rnd := rand.New(rand.NewPCG(fate, (place+1)<<8|uint64(streamCamera+n)))
	blur := w.Blur * math.Exp(0.4*rnd.NormFloat64())
	seen := x.paper.blurred(math.Hypot(blur, 0.35/cameraPitch) * paperPitch)
	view := newView(w.Tilt, rnd)
	light := 2 * math.Pi * rnd.Float64()
	lx, ly := math.Cos(light), math.Sin(light)
	size := int(x.side * cameraPitch)
	img := image.NewGray(image.Rect(0, 0, size, size))
	for j := range size {
		for i := range size {
			cx, cy := (float64(i)+0.5)/float64(size)-0.5, (float64(j)+0.5)/float64(size)-0.5
			mx, my := view.onLabel(cx*x.side, cy*x.side)
			level := float64(seen.between((mx+x.side/2)*paperPitch, (my+x.side/2)*paperPitch))
			level *= 1 - w.Shade*(0.5+0.8*(lx*cx+ly*cy))
			level = min(max(level+w.Noise*rnd.NormFloat64(), 0), 1)
			img.Pix[j*size+i] = brightened(level)
		}
	}
	return img
}

// brightened is the level of a pixel for light from 0 to 1, roughly as cameras brighten:
// that to which 255 times the power 0.7 of the light rounds.
func brightened(light float64) byte {
	level := brightness.from[int(light*(brightSteps-1))]
	for light >= brightness.least[level+1] {
		level++
	}
	return byte(level)
}

const brightSteps = 4096

// brightness is the least light for each level, and, for light in equal steps, a level
// from which to look: a power for each pixel takes a quarter of a photograph's time.
var brightness = func() (b struct {
	least [257]float64
	from  [brightSteps]int
}) {
	level := func(light float64) float64 { return math.Floor(255*math.Pow(light, 0.7) + 0.5) }
	for n := 1; n < 256; n++ {
		light := math.Pow((float64(n)-0.5)/255, 1/0.7)
		for ; level(light) >= float64(n); light = math.Nextafter(light, 0) {
		}
		for ; level(light) < float64(n); light = math.Nextafter(light, 1) {
		}
		b.least[n] = light
	}
	b.least[256] = math.Inf(1)
	for i := range b.from {
		b.from[i] = int(level(float64(i) / (brightSteps - 1)))
	}
	return b
}()

// view is how a label lies before a camera: two directions along it and the
// one that stands on it, each as camera axes (right, down, away).
type view struct{ across, down, out [3]float64 }

// newView turns the label by any angle in its plane and tilts it by up to so
// many degrees about both other axes.
func newView(tilt float64, rnd *rand.Rand) view {
	ax := tilt * math.Pi / 180 * (2*rnd.Float64() - 1)
	ay := tilt * math.Pi / 180 * (2*rnd.Float64() - 1)
	sr, cr := math.Sincos(2 * math.Pi * rnd.Float64())
	sx, cx := math.Sincos(ax)
	sy, cy := math.Sincos(ay)
	a := [3]float64{cy * cr, cx*sr + sx*sy*cr, sx*sr - cx*sy*cr}
	d := [3]float64{-cy * sr, cx*cr - sx*sy*sr, sx*cr + cx*sy*sr}
	return view{a, d, [3]float64{a[1]*d[2] - a[2]*d[1], a[2]*d[0] - a[0]*d[2], a[0]*d[1] - a[1]*d[0]}}
}

// onLabel is the point of the label that a ray through the picture meets; both
// in millimetres from the middle, the picture's at the label's distance.
func (v view) onLabel(x, y float64) (mx, my float64) {
	ray := [3]float64{x / cameraDistance, y / cameraDistance, 1}
	t := v.out[2] * cameraDistance / dot(v.out, ray)
	at := [3]float64{ray[0] * t, ray[1] * t, t - cameraDistance}
	return dot(at, v.across), dot(at, v.down)
}

func dot(a, b [3]float64) float64 { return a[0]*b[0] + a[1]*b[1] + a[2]*b[2] }
