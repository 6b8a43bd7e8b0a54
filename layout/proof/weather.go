package proof

import (
	"math"
	"math/rand/v2"
)

// paperPitch is the fineness of simulated paper, in pixels a millimetre.
const paperPitch = 16

// Weather is what a label goes through before someone holds a telephone over
// it, and how steady that hand is. It is a simulation: its parts are those
// that growers report, their amounts are assumed, and only the comparison of
// labels under the same weather means something.
type Weather struct {
	Name      string
	Spread    float64 // how far one label's fate is from another's: sigma of the logarithm
	Fading    float64 // share of the ink's contrast lost to sun and rain
	Scratched float64 // share of the area scratched
	Dirty     float64 // share of the area under dirt
	Blur      float64 // of the photograph, sigma in millimetres on the label
	Noise     float64 // sigma, of full white
	Tilt      float64 // of the telephone about either axis, degrees at the most
	Shade     float64 // share of the light lost from one side to the other
}

// Severities are mild, hard and severe weather. They are set so that a plain
// symbol of level L is read about 83, 75 and 50 times in a hundred from any of
// three photographs.
func Severities() []Weather {
	return []Weather{
		{"mild", 0.5, 0.22, 0.010, 0.008, 0.07, 0.015, 10, 0.2},
		{"hard", 0.5, 0.25, 0.011, 0.009, 0.08, 0.020, 15, 0.3},
		{"severe", 0.5, 0.35, 0.020, 0.0145, 0.09, 0.025, 20, 0.4},
	}
}

// Buried is the same weather for a part that stands in the soil: hardly any
// light and no rubbing, but grit when the label is pushed in, and earth that
// clings to it.
func (w Weather) Buried() Weather {
	w.Fading *= 0.2
	w.Scratched *= 0.5
	return w
}

// Worn is a square part of a label after the weather.
type Worn struct {
	weather Weather
	side    float64 // in millimetres
	paper   *plane
}

// Streams of random numbers, apart so that the same fate falls on whatever is
// printed.
const (
	streamPrint = iota + 1
	streamHarsh
	streamFading
	streamScratches
	streamDirt
	streamCamera
)

// Wear prints the square of the given side around a point of the label, in
// millimetres, and lets the weather at it. The same fate of the label, and the
// same place on it, give the same damage whatever is printed there.
func (p *Print) Wear(w Weather, fate, place uint64, centre [2]float64, side float64) *Worn {
	stream := func(n uint64) *rand.Rand { return rand.New(rand.NewPCG(fate, (place+1)<<8|n)) }
	printing := stream(streamPrint)
	gain := 0.05 + 0.35*printing.Float64()
	worn := &Worn{w, side, p.paper(centre, side, paperPitch, gain, printing)}
	// Half of the variance is the label's, half its part's: the sun and the
	// soil are not harsh in the same places.
	whole, part := rand.New(rand.NewPCG(fate, streamHarsh)), stream(streamHarsh)
	harsh := math.Exp(w.Spread * (whole.NormFloat64() + part.NormFloat64()) / math.Sqrt2)
	worn.fade(harsh, stream(streamFading))
	worn.scratch(harsh, stream(streamScratches))
	worn.soil(harsh, stream(streamDirt))
	return worn
}

// fade takes contrast off the ink, more in some places than in others.
func (x *Worn) fade(harsh float64, rnd *rand.Rand) {
	const whole = paperReflects - inkReflects
	coarse, fine := field(x.side, 4, rnd), field(x.side, 1.2, rnd)
	mean := 1 - math.Pow(1-x.weather.Fading, harsh)
	for i, v := range x.paper.v {
		if v > (paperReflects+inkReflects)/2 {
			continue
		}
		mx, my := float64(i%x.paper.w)/paperPitch, float64(i/x.paper.w)/paperPitch
		share := mean * (1 + 0.25*coarse(mx, my) + 0.12*fine(mx, my))
		x.paper.v[i] = v + float32(min(max(share, 0), 0.97)*whole)
	}
}

// scratch draws scratches until their share of the area is reached on average:
// bowed strokes, most of which bare the paper and some of which fill with
// dirt.
func (x *Worn) scratch(harsh float64, rnd *rand.Rand) {
	const meanArea = 3.46 // mm²: of a stroke below, 0.06 mm wider for its pixels
	reach := x.side / 2   // strokes begin outside the part, too
	area := (x.side + reach) * (x.side + reach)
	for range poisson(harsh*x.weather.Scratched*area/meanArea, rnd) {
		width := 0.08 + 0.5*math.Pow(rnd.Float64(), 2)
		length := 3 + 17*rnd.Float64()
		angle := 0.5*rnd.NormFloat64() + math.Pi/2*float64(rnd.IntN(2))
		mx, my := (x.side+reach)*rnd.Float64()-reach/2, (x.side+reach)*rnd.Float64()-reach/2
		level := 0.95 * paperReflects
		if rnd.Float64() < 0.2 {
			level = groundReflects
		}
		sin, cos := math.Sincos(angle)
		const step = 0.6 / paperPitch
		for u := -length / 2; u < length/2; u += step {
			for v := -width / 2; v < width/2; v += step {
				bowed := v - 0.009*u*u
				x.set(mx+u*cos-bowed*sin, my+u*sin+bowed*cos, level)
			}
		}
	}
}

// soil lets specks and clods of dirt fall until their share of the area is
// reached on average.
func (x *Worn) soil(harsh float64, rnd *rand.Rand) {
	const meanArea = 0.91 // mm²: of a clod below
	for range poisson(harsh*x.weather.Dirty*x.side*x.side/meanArea, rnd) {
		radius := 0.15 + 1.1*math.Pow(rnd.Float64(), 3)
		mx, my := x.side*rnd.Float64(), x.side*rnd.Float64()
		level := 0.12 + 0.25*rnd.Float64()
		turn := 2 * math.Pi * rnd.Float64()
		const step = 0.8 / paperPitch
		for dy := -1.4 * radius; dy <= 1.4*radius; dy += step {
			for dx := -1.4 * radius; dx <= 1.4*radius; dx += step {
				angle := math.Atan2(dy, dx)
				if math.Hypot(dx, dy) < radius*(1+0.25*math.Sin(3*angle+turn)+0.15*math.Sin(5*angle+2*turn)) {
					x.set(mx+dx, my+dy, level)
				}
			}
		}
	}
}

// set gives the pixel at a point, in millimetres, a reflectance.
func (x *Worn) set(mx, my, level float64) {
	px, py := int(math.Floor(mx*paperPitch)), int(math.Floor(my*paperPitch))
	if px >= 0 && py >= 0 && px < x.paper.w && py < x.paper.h {
		x.paper.v[py*x.paper.w+px] = float32(level)
	}
}

// poisson is a random count with the given mean, as many as fall together by
// chance (Knuth's method).
func poisson(mean float64, rnd *rand.Rand) int {
	n := 0
	for p := rnd.Float64(); p > math.Exp(-mean); p *= rnd.Float64() {
		n++
	}
	return n
}
