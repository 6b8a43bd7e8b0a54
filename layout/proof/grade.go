package proof

import (
	"math"
	"math/rand/v2"
)

// Grade is what a verifier would measure of a printed code by ISO/IEC
// 15415:2011, simulated: nobody has measured a print. Reflectances and the
// spread of ink and light are assumed.
type Grade struct {
	Contrast   float64 // symbol contrast: the lightest less the darkest reading
	Modulation float64 // the least of all modules; the standard forgives some, this does not
	Axial      float64 // axial non-uniformity: how the pitches across and down differ
	Grid       float64 // grid non-uniformity: the farthest crossing from its place, in modules
	Unused     float64 // unused error correction, each wrong module counted as a codeword
}

// Each parameter's limits for the grades 4, 3, 2 and 1.
var (
	contrastLimits   = [4]float64{0.70, 0.55, 0.40, 0.20}
	modulationLimits = [4]float64{0.50, 0.40, 0.30, 0.20}
	axialLimits      = [4]float64{0.06, 0.08, 0.10, 0.12}
	gridLimits       = [4]float64{0.38, 0.50, 0.63, 0.75}
	unusedLimits     = [4]float64{0.62, 0.50, 0.37, 0.25}
)

// rounding forgives the last digits of a quotient that should meet a limit.
const rounding = 1e-9

// atLeast and atMost are the grade, 4 to 0, of a value that should be high or
// low.
func atLeast(value float64, limits [4]float64) int {
	for i, limit := range limits {
		if value >= limit-rounding {
			return 4 - i
		}
	}
	return 0
}

func atMost(value float64, limits [4]float64) int {
	for i, limit := range limits {
		if value <= limit+rounding {
			return 4 - i
		}
	}
	return 0
}

// Overall is the lowest grade of any parameter, 4 to 0.
func (g Grade) Overall() int {
	return min(atLeast(g.Contrast, contrastLimits), atLeast(g.Modulation, modulationLimits),
		atMost(g.Axial, axialLimits), atMost(g.Grid, gridLimits), atLeast(g.Unused, unusedLimits))
}

// modulation is that of a module that reflects r where the threshold is
// halfway between the darkest and the lightest reading.
func modulation(r, darkest, lightest float64) float64 {
	return 2 * math.Abs(r-(darkest+lightest)/2) / (lightest - darkest)
}

// axial is the axial non-uniformity of the pitches x and y.
func axial(x, y float64) float64 { return math.Abs(x-y) / ((x + y) / 2) }

// unused is the share of a block's error correction that e erasures and t
// errors leave, when d of its codewords correct and p of those are kept for
// noticing errors.
func unused(e, t, d, p int) float64 { return 1 - float64(e+2*t)/float64(d-p) }

// What a simulated verifier sees: ink spreads by so much of a dot at each edge
// and light in the label by so much (sigma), both assumed; the aperture is four
// fifths of a module.
const (
	verifiedPitch  = 48.0 // pixels a millimetre
	verifiedGain   = 0.35 // dots
	verifiedSpread = 0.05 // mm
	aperture       = 0.8  // of a module
)

// Grade measures a code on a print. Of the codewords of a block, d correct
// errors and p of those only notice them.
func (p *Print) Grade(m Modules, d, reserved int) Grade {
	side := m.Outer.W
	middle := [2]float64{m.Outer.X + side/2, m.Outer.Y + side/2}
	paper := p.paper(middle, side, verifiedPitch, verifiedGain, rand.New(rand.NewPCG(1, 1))).blurred(verifiedSpread * verifiedPitch)
	v := verifier{m, paper, m.pitch() * verifiedPitch}
	x, y := v.lines(across), v.lines(down)
	readings, darkest, lightest := v.readings(x, y)
	g := Grade{Contrast: lightest - darkest, Modulation: 1, Axial: axial(x.pitch, y.pitch),
		Grid: math.Hypot(x.worst, y.worst) / ((x.pitch + y.pitch) / 2)}
	wrong := 0
	for i, r := range readings {
		mod := modulation(r, darkest, lightest)
		if m.dark(i%m.Size, i/m.Size) != (r < (darkest+lightest)/2) {
			mod = 0
			wrong++
		}
		g.Modulation = min(g.Modulation, mod)
	}
	g.Unused = unused(0, wrong, d, reserved)
	return g
}

// verifier looks at a code and its quiet zone, which fill the paper.
type verifier struct {
	Modules
	paper  *plane
	module float64 // nominal, in pixels
}

// axis is a direction on the paper.
type axis int

const (
	across axis = iota
	down
)

// at is the paper along the axis at u, at v athwart.
func (a axis) at(p *plane, u, v float64) float64 {
	if a == down {
		u, v = v, u
	}
	return float64(p.between(u, v))
}

// grid is the lines between modules along one axis, in pixels.
type grid struct {
	first float64 // the outer edge of the first module, by the line that fits best
	pitch float64
	worst float64 // the farthest of any line from its place
}

// lines finds where the modules meet along an axis. Ink that spreads moves the
// edges that begin dark parts and those that end them by as much apart, so a
// line lies in the middle of both.
func (v verifier) lines(a axis) grid {
	var at, numbers []float64
	for k := 1; k < v.Size; k++ {
		var sum, n [2]float64 // of edges into the dark and out of it
		for j := range v.Size {
			before, after := v.darkAlong(a, k-1, j), v.darkAlong(a, k, j)
			if before == after {
				continue
			}
			i := 0
			if before {
				i = 1
			}
			sum[i] += v.edge(a, k, j)
			n[i]++
		}
		if n[0] > 0 && n[1] > 0 {
			at, numbers = append(at, (sum[0]/n[0]+sum[1]/n[1])/2), append(numbers, float64(k))
		}
	}
	return fit(numbers, at)
}

// darkAlong reports whether the module k along the axis and j athwart is dark.
func (v verifier) darkAlong(a axis, k, j int) bool {
	if a == down {
		k, j = j, k
	}
	return v.dark(k, j)
}

// edge is where the paper turns from light to dark or back nearest to line k,
// in the middle of row j, in pixels.
func (v verifier) edge(a axis, k, j int) float64 {
	const threshold = (paperReflects + inkReflects) / 2
	middle := (float64(v.Quiet+j) + 0.5) * v.module
	line := float64(v.Quiet+k) * v.module
	best, nearest := line, v.module // none found: half a module off at the most
	for u := line - v.module/2; u < line+v.module/2; u++ {
		r, next := a.at(v.paper, u, middle), a.at(v.paper, u+1, middle)
		if (r < threshold) == (next < threshold) {
			continue
		}
		crossing := u + (threshold-r)/(next-r)
		if d := math.Abs(crossing - line); d < nearest {
			best, nearest = crossing, d
		}
	}
	return best
}

// fit lays a straight line through positions of numbered lines by least
// squares.
func fit(numbers, at []float64) grid {
	n := float64(len(at))
	var k, u, kk, ku float64
	for i := range at {
		k, u = k+numbers[i]/n, u+at[i]/n
	}
	for i := range at {
		kk += (numbers[i] - k) * (numbers[i] - k)
		ku += (numbers[i] - k) * (at[i] - u)
	}
	g := grid{pitch: ku / kk}
	g.first = u - g.pitch*k
	for i := range at {
		g.worst = max(g.worst, math.Abs(at[i]-g.first-g.pitch*numbers[i]))
	}
	return g
}

// readings are what the aperture sees in the middle of each module, row by
// row, and the darkest and the lightest of these and of the quiet zone.
func (v verifier) readings(x, y grid) (inside []float64, darkest, lightest float64) {
	darkest, lightest = 1, 0
	for row := -1; row <= v.Size; row++ {
		for column := -1; column <= v.Size; column++ {
			r := v.through(x.first+(float64(column)+0.5)*x.pitch, y.first+(float64(row)+0.5)*y.pitch)
			darkest, lightest = min(darkest, r), max(lightest, r)
			if row >= 0 && column >= 0 && row < v.Size && column < v.Size {
				inside = append(inside, r)
			}
		}
	}
	return inside, darkest, lightest
}

// through is the mean reflectance in the aperture around a point.
func (v verifier) through(x, y float64) float64 {
	radius := aperture * v.module / 2
	var sum, n float64
	for py := int(y - radius); float64(py) <= y+radius; py++ {
		for px := int(x - radius); float64(px) <= x+radius; px++ {
			if math.Hypot(float64(px)+0.5-x, float64(py)+0.5-y) <= radius {
				sum += float64(v.paper.at(px, py))
				n++
			}
		}
	}
	return sum / n
}
