package season

import (
	"math"
	"math/big"
	"testing"
)

// The cases of Newcombe, Statistics in Medicine 17 (1998) 857–872, methods 3
// (Wilson) and 5 (Clopper–Pearson). The four digits are recomputed from the
// definitions; those of the paper's table are from memory.
func TestIntervalsOfNewcombe(t *testing.T) {
	for _, c := range []struct {
		x, n          int
		wilson, exact Interval
	}{
		{81, 263, Interval{.2553, .3662}, Interval{.2527, .3676}},
		{15, 148, Interval{.0624, .1605}, Interval{.0578, .1617}},
		{0, 20, Interval{0, .1611}, Interval{0, .1684}},
		{1, 29, Interval{.0061, .1718}, Interval{.0009, .1776}},
	} {
		for method, want := range map[Method]Interval{Wilson: c.wilson, ClopperPearson: c.exact} {
			got := method.Interval(c.x, c.n)
			if math.Abs(got.Low-want.Low) > 5e-5 || math.Abs(got.High-want.High) > 5e-5 {
				t.Errorf("method %d, %d of %d: %.4f–%.4f, want %.4f–%.4f", method, c.x, c.n, got.Low, got.High, want.Low, want.High)
			}
			mirrored := method.Interval(c.n-c.x, c.n) // failures are successes the other way round
			if math.Abs(got.Low+mirrored.High-1) > 1e-9 || math.Abs(got.High+mirrored.Low-1) > 1e-9 {
				t.Errorf("method %d, %d of %d: %v does not mirror %v", method, c.x, c.n, got, mirrored)
			}
		}
	}
}

func TestIntervalsAtTheirEnds(t *testing.T) {
	for _, m := range []Method{Wilson, ClopperPearson} {
		if got := m.Interval(0, 0); got != (Interval{0, 1}) {
			t.Errorf("of nothing: %v", got)
		}
		for _, n := range []int{1, 7, 1000} {
			none, all := m.Interval(0, n), m.Interval(n, n)
			if none.Low != 0 || all.High != 1 || none.High >= 1 || all.Low <= 0 {
				t.Errorf("method %d of %d: %v, %v", m, n, none, all)
			}
		}
	}
}

// Recomputed from the definition. The row of k = 1 is also ln .05 / ln(1−p);
// the layout is that of Sedcole, Crop Science 17 (1977) 667–668.
func TestSeedsFor(t *testing.T) {
	ks := []int{1, 5, 10, 20}
	for p, want := range map[float64][]int{.9: {2, 7, 13, 25}, .8: {2, 9, 16, 29}, .7: {3, 10, 19, 35}, .5: {5, 16, 28, 51}} {
		for i, k := range ks {
			if got := SeedsFor(k, .95, p); got != want[i] {
				t.Errorf("%d at %v: %d, want %d", k, p, got, want[i])
			}
		}
		if got, want := SeedsFor(1, .95, p), int(math.Ceil(math.Log(.05)/math.Log(1-p))); got != want {
			t.Errorf("one at %v: %d, want %d", p, got, want)
		}
	}
	for i, want := range []int{11, 18, 23, 29, 34} {
		if got := SeedsFor(i+1, .95, .25); got != want {
			t.Errorf("%d at a quarter: %d, want %d", i+1, got, want)
		}
	}
}

// The number is the least: one seed fewer falls short. Certain seed needs no
// more than the seedlings wanted.
func TestSeedsForIsTheLeast(t *testing.T) {
	for _, k := range []int{1, 3, 20, 400} {
		for _, p := range []float64{.01, .4, .85, .999} {
			for _, c := range []float64{.5, .95, .9999} {
				n := SeedsFor(k, c, p)
				if Chance(n, k, p) < c || Chance(n-1, k, p) >= c {
					t.Errorf("%d at %v, %v certain: %d", k, p, c, n)
				}
			}
		}
		if n := SeedsFor(k, .95, 1); n != k {
			t.Errorf("%d of certain seed: %d", k, n)
		}
	}
	if SeedsFor(0, .95, .5) != 0 || SeedsFor(0, .95, 1) != 0 {
		t.Error("no seedlings take seeds")
	}
}

// Chance against the sum of the binomial distribution's terms.
func TestChanceIsTheBinomialTail(t *testing.T) {
	for _, c := range []struct{ n, k int }{{10, 0}, {10, 1}, {10, 7}, {10, 10}, {10, 11}, {60, 45}} {
		const p = .83
		sum := 0.0
		for i := c.k; i <= c.n; i++ {
			choose := 1.0
			for j := range i {
				choose *= float64(c.n-j) / float64(j+1)
			}
			sum += choose * math.Pow(p, float64(i)) * math.Pow(1-p, float64(c.n-i))
		}
		if got := Chance(c.n, c.k, p); math.Abs(got-sum) > 1e-12 {
			t.Errorf("at least %d of %d: %v, want %v", c.k, c.n, got, sum)
		}
	}
}

// The tea table of Fisher, The Design of Experiments (1935), has the one-sided
// probability 17/70 and so the two-sided one 34/70. The table of 18/20 and 9/20
// is recomputed from the definition.
func TestFisher(t *testing.T) {
	for _, c := range []struct {
		up1, sown1, up2, sown2 int
		want                   float64
	}{
		{3, 4, 1, 4, 34. / 70},
		{18, 20, 9, 20, .0057357},
		{9, 20, 18, 20, .0057357},
		{5, 10, 10, 20, 1},
		{0, 0, 5, 9, 1},
		{7, 7, 9, 9, 1},
	} {
		got := Fisher(c.up1, c.sown1, c.up2, c.sown2)
		if math.Abs(got-c.want) > 5e-7 {
			t.Errorf("%d/%d and %d/%d: %.7f, want %.7f", c.up1, c.sown1, c.up2, c.sown2, got, c.want)
		}
	}
}

// All small tables against the definition, in whole numbers: the ways to choose
// the ones that came up, of all tables with the same margins that are no likelier.
func TestFisherOfAllSmallTables(t *testing.T) {
	choose := func(n, k int) int64 { return new(big.Int).Binomial(int64(n), int64(k)).Int64() }
	for sown1 := range 8 {
		for sown2 := range 8 {
			for up1 := range sown1 + 1 {
				for up2 := range sown2 + 1 {
					up := up1 + up2
					seen, unlikely := choose(sown1, up1)*choose(sown2, up2), int64(0)
					for x := range up + 1 {
						if ways := choose(sown1, x) * choose(sown2, up-x); ways <= seen {
							unlikely += ways
						}
					}
					want := float64(unlikely) / float64(choose(sown1+sown2, up))
					if got := Fisher(up1, sown1, up2, sown2); !(math.Abs(got-want) <= 1e-9) || got > 1 {
						t.Errorf("%d/%d and %d/%d: %v, want %v", up1, sown1, up2, sown2, got, want)
					}
				}
			}
		}
	}
}

// At the ends: certain seed always comes up, and more than all of it never.
func TestChanceAtItsEnds(t *testing.T) {
	for _, p := range []float64{0, .5, 1} {
		for n := range 5 {
			for _, c := range []struct {
				k    int
				want float64
			}{{-1, 1}, {0, 1}, {n + 1, 0}, {n, math.Pow(p, float64(n))}} {
				if got := Chance(n, c.k, p); !(math.Abs(got-c.want) <= 1e-12) {
					t.Errorf("at least %d of %d at %v: %v, want %v", c.k, n, p, got, c.want)
				}
			}
		}
	}
}
