package proof

import (
	"math"
	"testing"

	"pipstake/label/symbol"
)

// Limits and worked values of ISO/IEC 15415:2011: reflectances 0.85 and 0.05
// give a contrast of 0.80 and a threshold of 0.45, so that 0.60 has a
// modulation of 0.375; pitches of 0.50 and 0.53 an axial non-uniformity of
// 0.0583; one to four errors in a Data Matrix of 14×14 modules, which has ten
// codewords of correction, leave 0.80, 0.60, 0.40 and 0.20 unused.
func TestGradesOfWorkedValues(t *testing.T) {
	for _, c := range []struct {
		name        string
		value, want float64
		got, grade  int
	}{
		{"contrast", 0.85 - 0.05, 0.80, atLeast(0.85-0.05, contrastLimits), 4},
		{"modulation", modulation(0.60, 0.05, 0.85), 0.375, atLeast(modulation(0.60, 0.05, 0.85), modulationLimits), 2},
		{"axial", axial(0.50, 0.53), 0.0583, atMost(axial(0.50, 0.53), axialLimits), 4},
		{"unused, 1 error", unused(0, 1, 10, 0), 0.80, atLeast(unused(0, 1, 10, 0), unusedLimits), 4},
		{"unused, 2 errors", unused(0, 2, 10, 0), 0.60, atLeast(unused(0, 2, 10, 0), unusedLimits), 3},
		{"unused, 3 errors", unused(0, 3, 10, 0), 0.40, atLeast(unused(0, 3, 10, 0), unusedLimits), 2},
		{"unused, 4 errors", unused(0, 4, 10, 0), 0.20, atLeast(unused(0, 4, 10, 0), unusedLimits), 0},
	} {
		if math.Abs(c.value-c.want) > 0.00005 || c.got != c.grade {
			t.Errorf("%s: %.4f with grade %d, want %.4f with grade %d", c.name, c.value, c.got, c.want, c.grade)
		}
	}
}

// Each limit of ISO/IEC 15415:2011 is still of its grade; a thousandth to the
// worse is the next one.
func TestGradesAtTheirLimits(t *testing.T) {
	for i, grade := range []int{4, 3, 2, 1} {
		for name, at := range map[string]func(worse float64) int{
			"contrast":   func(worse float64) int { return atLeast([]float64{.70, .55, .40, .20}[i]-worse, contrastLimits) },
			"modulation": func(worse float64) int { return atLeast([]float64{.50, .40, .30, .20}[i]-worse, modulationLimits) },
			"axial":      func(worse float64) int { return atMost([]float64{.06, .08, .10, .12}[i]+worse, axialLimits) },
			"grid":       func(worse float64) int { return atMost([]float64{.38, .50, .63, .75}[i]+worse, gridLimits) },
			"unused":     func(worse float64) int { return atLeast([]float64{.62, .50, .37, .25}[i]-worse, unusedLimits) },
		} {
			if at(0) != grade || at(0.001) != grade-1 {
				t.Errorf("%s at the limit of %d: %d, and %d beyond it", name, grade, at(0), at(0.001))
			}
		}
	}
	good := Grade{Contrast: 0.8, Modulation: 0.9, Axial: 0.01, Grid: 0.01, Unused: 1}
	for name, spoil := range map[string]func(*Grade){
		"contrast": func(g *Grade) { g.Contrast = 0.45 }, "modulation": func(g *Grade) { g.Modulation = 0.35 },
		"axial": func(g *Grade) { g.Axial = 0.09 }, "grid": func(g *Grade) { g.Grid = 0.6 }, "unused": func(g *Grade) { g.Unused = 0.4 },
	} {
		g := good
		spoil(&g)
		if good.Overall() != 4 || g.Overall() != 2 {
			t.Errorf("overall %d, and %d with a worse %s; want 4 and 2", good.Overall(), g.Overall(), name)
		}
	}
}

// printOf sets a symbol on a label of its own, at the given dots for a module.
func printOf(s *symbol.Symbol, dots float64, dpi int) (*Print, Modules) {
	outer := float64(s.Size+8) * dots * 25.4 / float64(dpi)
	m := Modules{Size: s.Size, Quiet: 4, Dark: s.Dark}
	m.Outer.W, m.Outer.H = outer, outer
	side := int(math.Ceil(dots * float64(s.Size+8)))
	return (&Print{DPI: dpi, dots: white(side, side)}).Replace(m), m
}

// A print with a known fault is measured to have it.
func TestGradeFindsFaults(t *testing.T) {
	s := encode(t, symbol.QR, 'M', "2026X012-B2.3/1", 6)
	const d, reserved = 10, 2 // of version 1 at level M: ISO/IEC 18004 (the second from memory)
	p, m := printOf(s, 6, 300)
	clean := p.Grade(m, d, reserved)
	if clean.Overall() != 4 || clean.Unused != 1 || clean.Grid > 0.02 || clean.Axial > 0.002 {
		t.Errorf("a clean print: %+v", clean)
	}
	// Three modules of the wrong tone: 1 − 2·3/(10 − 2).
	wrong := m
	wrong.Dark = func(x, y int) bool {
		return s.Dark(x, y) != (x == 10 && y == 10 || x == 11 && y == 3 || x == 18 && y == 18)
	}
	if g := p.Replace(wrong).Grade(m, d, reserved); math.Abs(g.Unused-0.25) > 1e-9 || g.Modulation != 0 || g.Overall() != 0 {
		t.Errorf("three wrong modules: %+v", g)
	}
	// Modules of 4.5 dots come out 4 and 5 wide in turn: every other line lies
	// half a dot, a ninth of a module, from where the others would have it, so
	// that the best line passes it at half of that along each axis. A larger
	// symbol has edges both ways on nearly all of its lines; where ends lack
	// some, the best line tilts.
	larger := encode(t, symbol.QR, 'M', "2026X012-B2.3/1 7 SOWN 2027-01-14 LARKFIELD TESSEL X TARN AMBER", 6)
	uneven, between := printOf(larger, 4.5, 300)
	if g := uneven.Grade(between, d, reserved); math.Abs(g.Grid-math.Sqrt2/18) > 0.02 {
		t.Errorf("modules of 4 and 5 dots: %+v", g)
	}
	// Every 100th row of dots is printed twice: longer by 1 % one way.
	fine, m := printOf(s, 12, 600)
	if g := stretched(fine, 100).Grade(m, d, reserved); math.Abs(g.Axial-0.01) > 0.003 {
		t.Errorf("a print 1 %% too long: %+v", g)
	}
}

// stretched prints each n-th row of dots twice.
func stretched(p *Print, n int) *Print {
	out := &Print{DPI: p.DPI, dots: white(p.dots.Rect.Dx(), p.dots.Rect.Dy())}
	w := p.dots.Rect.Dx()
	for y := range p.dots.Rect.Dy() {
		from := y * n / (n + 1)
		copy(out.dots.Pix[y*out.dots.Stride:][:w], p.dots.Pix[from*p.dots.Stride:][:w])
	}
	return out
}
