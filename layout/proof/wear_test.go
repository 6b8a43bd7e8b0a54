package proof

import (
	"image"
	"math"
	"math/rand/v2"
	"os"
	"os/exec"
	"slices"
	"testing"

	"pipstake/label/symbol"
)

// sheet is a label of 30 by 30 mm, all white or all ink.
func sheet(level byte) *Print {
	const side = 354 // dots of 300 an inch
	p := &Print{DPI: 300, dots: white(side, side)}
	for i := range p.dots.Pix {
		p.dots.Pix[i] = level
	}
	return p
}

// changed is the mean share of the paper that weather changes by more than a
// twentieth, over many fates.
func changed(p *Print, w Weather, paper float64) float64 {
	const fates = 60
	sum := 0.0
	for fate := range fates {
		worn := p.Wear(w, uint64(fate), 0, [2]float64{15, 15}, 20)
		n := 0
		for _, v := range worn.paper.v {
			if math.Abs(float64(v)-paper) > 0.05*paper/2 {
				n++
			}
		}
		sum += float64(n) / float64(len(worn.paper.v)) / fates
	}
	return sum
}

// Scratches and dirt cover the share that the weather says, on average over
// labels; some lie on one another, so that it is a little less.
func TestWearCoversItsShare(t *testing.T) {
	for name, c := range map[string]struct {
		weather Weather
		print   *Print
		paper   float64
	}{
		"dirt":      {Weather{Dirty: 0.05}, sheet(255), paperReflects},
		"scratches": {Weather{Scratched: 0.05}, sheet(0), inkReflects},
	} {
		if got := changed(c.print, c.weather, c.paper); got < 0.04 || got > 0.055 {
			t.Errorf("%s cover %.4f of the paper, want about 0.05", name, got)
		}
	}
	if got := changed(sheet(255), Weather{}, paperReflects); got != 0 {
		t.Errorf("no weather changes %.4f of the paper", got)
	}
}

func TestWearFadesInk(t *testing.T) {
	var sum, n float64
	for fate := range 40 {
		for _, v := range sheet(0).Wear(Weather{Fading: 0.3}, uint64(fate), 0, [2]float64{15, 15}, 20).paper.v {
			sum += (float64(v) - inkReflects) / (paperReflects - inkReflects)
			n++
		}
	}
	if got := sum / n; math.Abs(got-0.3) > 0.03 {
		t.Errorf("the ink lost %.3f of its contrast, want about 0.3", got)
	}
}

// The same fate at the same place is the same damage whatever is printed; any
// other fate or place is another.
func TestFateIsRepeatable(t *testing.T) {
	w := Weather{Dirty: 0.05, Spread: 0.5}
	wear := func(p *Print, fate, place uint64) []float32 {
		return p.Wear(w, fate, place, [2]float64{15, 15}, 20).paper.v
	}
	first := wear(sheet(255), 1, 0)
	if !slices.Equal(first, wear(sheet(255), 1, 0)) || slices.Equal(first, wear(sheet(255), 2, 0)) || slices.Equal(first, wear(sheet(255), 1, 1)) {
		t.Error("fates and places are mixed up")
	}
	onInk := wear(sheet(0), 1, 0)
	for i := range first {
		if dirty := first[i] < 0.5; dirty != (onInk[i] > inkReflects+0.01) {
			t.Fatalf("pixel %d: dirt on white is not dirt on ink", i)
		}
	}
}

// A point of the label, carried to the camera and through its pinhole onto the
// picture, is where the ray through that point of the picture meets the label.
func TestViewIsAPinholeCamera(t *testing.T) {
	rnd := rand.New(rand.NewPCG(3, 4))
	for range 200 {
		v := newView(40, rnd)
		mx, my := 20*rnd.Float64()-10, 20*rnd.Float64()-10
		var at [3]float64 // before the camera
		for i := range at {
			at[i] = mx*v.across[i] + my*v.down[i]
		}
		depth := cameraDistance + at[2]
		gx, gy := v.onLabel(at[0]*cameraDistance/depth, at[1]*cameraDistance/depth)
		if math.Hypot(gx-mx, gy-my) > 1e-9 {
			t.Fatalf("(%.3f, %.3f) comes back as (%.3f, %.3f)", mx, my, gx, gy)
		}
		if math.Abs(dot(v.across, v.down)) > 1e-12 || math.Abs(dot(v.across, v.across)-1) > 1e-12 || math.Abs(dot(v.down, v.down)-1) > 1e-12 {
			t.Fatalf("the label is skewed or stretched: %+v", v)
		}
	}
}

// A Poisson count has a variance that equals its mean.
func TestPoisson(t *testing.T) {
	rnd := rand.New(rand.NewPCG(5, 6))
	const mean, n = 3.5, 20000
	var sum, squares float64
	for range n {
		k := float64(poisson(mean, rnd))
		sum += k
		squares += k * k
	}
	got := sum / n
	if variance := squares/n - got*got; math.Abs(got-mean) > 0.06 || math.Abs(variance-mean) > 0.15 {
		t.Errorf("mean %.3f, variance %.3f; want %v for both", got, variance, mean)
	}
}

// Photographs of labels fresh from the printer are read by every reader.
func TestReadersReadFreshLabels(t *testing.T) {
	const text = "2026X012-B2.3/1"
	var ours []string
	w := Weather{Blur: 0.05, Noise: 0.01, Tilt: 8, Shade: 0.2}
	s := encode(t, symbol.QR, 'H', text, 6)
	p, m := printOf(s, 6, 300)
	worn := p.Wear(w, 1, 0, [2]float64{m.Outer.W / 2, m.Outer.W / 2}, 24)
	var photographs []*image.Gray
	for n := range 3 {
		photographs = append(photographs, worn.Photograph(1, 0, n))
		ours = append(ours, ReadPhotograph(photographs[n]))
	}
	if !slices.Equal(ours, []string{text, text, text}) {
		t.Errorf("gozxing read %q, want %q", ours, text)
	}
	for _, name := range []string{"ZXingReader", "zbarimg"} {
		if _, err := exec.LookPath(name); err != nil {
			if os.Getenv("CI") == "true" {
				t.Fatalf("%s is missing here", name)
			}
			t.Skipf("%s is not installed", name)
		}
	}
	texts, err := Programs(t.TempDir(), photographs)
	if err != nil {
		t.Fatal(err)
	}
	for n, got := range texts {
		if !slices.Equal(got, []string{text, text}) { // one of each program
			t.Errorf("photograph %d: the programs read %q, want %q twice", n, got, text)
		}
	}
}
