package season

import (
	"math"
	"math/big"
	"math/bits"
	"math/rand/v2"
	"slices"
	"testing"
)

func pot(up, sown int) Counted { return Counted{Pots: 1, Up: up, Sown: sown} }

// single is seeds that have a pot each.
func single(up, sown int) []Counted {
	var pots []Counted
	for i := range sown {
		n := 0
		if i < up {
			n = 1
		}
		pots = append(pots, pot(n, 1))
	}
	return pots
}

// With one seed a pot, and groups of one size, the permutation test is Fisher's
// exact test: the tea table 3 of 4 and 1 of 4, two-sided .485714 (17/35); 5 of 8
// and 0 of 8 recomputed from the definition.
func TestPermutationOfSingleSeeds(t *testing.T) {
	for _, c := range []struct {
		up1, up2, n int
		want        float64
	}{{3, 1, 4, 17. / 35}, {5, 0, 8, 2 * 56. / 4368}} {
		got := Compare(single(c.up1, c.n), single(c.up2, c.n))
		if !got.Exact || math.Abs(got.Permutation-c.want) > 1e-9 || math.Abs(got.Fisher-c.want) > 1e-9 {
			t.Errorf("%d and %d of %d: %+v, want %v", c.up1, c.up2, c.n, got, c.want)
		}
	}
}

// enumerated is the permutation test by a mask for each way, an independent way
// to reckon it.
func enumerated(one, other []Counted) float64 {
	pots := append(append([]Counted{}, one...), other...)
	difference := func(mask uint) float64 {
		var up, sown [2]float64
		for i, p := range pots {
			side := mask >> i & 1
			up[side] += float64(p.Up)
			sown[side] += float64(p.Sown)
		}
		return math.Abs(up[0]/sown[0] - up[1]/sown[1])
	}
	seen := difference(1<<len(one) - 1)
	ways, much := 0, 0
	for mask := range uint(1) << len(pots) {
		if bits.OnesCount(mask) != len(one) {
			continue
		}
		ways++
		if difference(mask) >= seen-1e-9 {
			much++
		}
	}
	return float64(much) / float64(ways)
}

// The exact test against a full enumeration by other means, and what is drawn
// against what is exact, within four standard errors of the draw.
func TestPermutationAgainstFullEnumeration(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 2))
	for range 60 {
		groups := [2][]Counted{}
		for i := range groups {
			for range 2 + random.IntN(5) {
				sown := 4 + random.IntN(9)
				groups[i] = append(groups[i], pot(random.IntN(sown+1), sown))
			}
		}
		want := enumerated(groups[0], groups[1])
		got := Compare(groups[0], groups[1])
		if !got.Exact || math.Abs(got.Permutation-want) > 1e-12 {
			t.Errorf("%v: %v, want %v", groups, got.Permutation, want)
		}
		const draws = 20_000
		drawn := newDeal(groups[0], groups[1]).drawn(len(groups[0]), draws)
		if math.Abs(drawn-want) > 4*math.Sqrt(want*(1-want)/draws)+1./draws {
			t.Errorf("%v: drawn %v, exactly %v", groups, drawn, want)
		}
	}
}

// Recorded results of scipy 1.10.1, scipy.stats.permutation_test with pots as
// samples, permutation_type independent, n_resamples infinite, and the absolute
// difference of the pooled rates as a statistic (alternative greater).
func TestPermutationAgainstScipy(t *testing.T) {
	for _, c := range []struct {
		one, other []Counted
		want       float64
		ways       int
	}{
		{[]Counted{pot(9, 10), pot(7, 8), pot(10, 12), pot(4, 9)}, []Counted{pot(3, 10), pot(5, 9), pot(2, 8)}, 0.08571428571428572, 35},
		{[]Counted{pot(6, 10), pot(8, 10), pot(9, 12), pot(5, 11), pot(7, 9)}, []Counted{pot(4, 10), pot(9, 10), pot(3, 12), pot(6, 10), pot(2, 8)}, 0.20634920634920634, 252},
		{[]Counted{pot(10, 10), pot(5, 10), pot(0, 10), pot(0, 10)}, []Counted{pot(10, 10), pot(10, 10), pot(10, 10), pot(0, 10)}, 0.4857142857142857, 70},
	} {
		if got := Compare(c.one, c.other); !got.Exact || got.Ways != c.ways || math.Abs(got.Permutation-c.want) > 1e-12 {
			t.Errorf("%+v, want p %v in %d ways", got, c.want, c.ways)
		}
	}
}

// Pots that differ much make Fisher's test of pooled seeds too sure: here 15 of
// 40 and 30 of 40, which Fisher's calls a difference, are 4 pots each of which
// some are full and some empty. Recomputed by full enumeration.
func TestWhichTestToBelieve(t *testing.T) {
	uneven := Compare([]Counted{pot(10, 10), pot(5, 10), pot(0, 10), pot(0, 10)}, []Counted{pot(10, 10), pot(10, 10), pot(10, 10), pot(0, 10)})
	if uneven.Fisher > .002 || uneven.Permutation < .2 || uneven.Believe != ThePots || uneven.Differ() {
		t.Errorf("uneven pots: %+v", uneven)
	}
	if d := uneven.Dispersion; d.Freedom != 6 || !d.Enough() || d.Factor < 5 {
		t.Errorf("uneven pots: %+v", d)
	}
	even := Compare([]Counted{pot(4, 10), pot(3, 10), pot(4, 10), pot(4, 10)}, []Counted{pot(8, 10), pot(7, 10), pot(7, 10), pot(8, 10)})
	if want := 2. / 70; math.Abs(even.Permutation-want) > 1e-12 || !even.Differ() || even.Believe != ThePots || even.Dispersion.Factor > 1 {
		t.Errorf("even pots: %+v", even)
	}
	few := Compare([]Counted{pot(9, 20)}, []Counted{pot(18, 20)}) // Fisher's .0057357, recomputed
	if few.Least != 1 || few.Believe != TheSeeds || !few.Differ() || math.Abs(few.Fisher-.0057357) > 5e-8 {
		t.Errorf("a pot each: %+v", few)
	}
	torn := Compare([]Counted{pot(0, 10), pot(9, 10)}, []Counted{pot(9, 10), pot(9, 10)})
	if torn.Believe != Neither || torn.Differ() {
		t.Errorf("few pots that differ: %+v", torn)
	}
}

// Many pots are drawn, the same each time, and no probability is 0.
func TestPermutationOfManyPots(t *testing.T) {
	var one, other []Counted
	for range 15 {
		one, other = append(one, pot(2, 10)), append(other, pot(9, 10))
	}
	got := Compare(one, other)
	if got.Exact || got.Ways != mostWays || got.Permutation != 1./mostWays || got != Compare(one, other) {
		t.Errorf("%+v", got)
	}
}

// Four degrees of freedom tell how far pots differ, three do not: six pots in two
// groups are enough, and five are not.
func TestEnoughPots(t *testing.T) {
	for _, c := range []struct {
		one, other int
		want       bool
	}{{2, 3, false}, {3, 3, true}, {2, 4, true}, {1, 4, false}, {1, 5, true}} {
		var groups [2][]Counted
		for i, n := range []int{c.one, c.other} {
			for range n {
				groups[i] = append(groups[i], pot(3, 10))
			}
		}
		d := Compare(groups[0], groups[1]).Dispersion
		if d.Freedom != c.one+c.other-2 || d.Enough() != c.want {
			t.Errorf("%d and %d pots: %+v, enough %v", c.one, c.other, d, d.Enough())
		}
	}
}

// The least value that the test of the pots can give must be below 0.05: one pot
// among 20 is dealt out in 20 ways, and 1/20 is not; among 21 it is.
func TestPotsEnoughToBelieve(t *testing.T) {
	for others, want := range map[int]Belief{19: TheSeeds, 20: ThePots} {
		one, other := []Counted{pot(3, 10)}, slices.Repeat([]Counted{pot(3, 10)}, others)
		if got := Compare(one, other); got.Believe != want || got.Ways != others+1 || math.Abs(got.Least-1/float64(others+1)) > 1e-12 || got.Permutation != 1 {
			t.Errorf("one pot and %d: %+v", others, got)
		}
	}
	// Two of 40 pots stand out as much as the one does: 2/40 is 0.05, and not below it.
	for extreme, want := range map[int]bool{0: true, 1: false} {
		other := append(slices.Repeat([]Counted{pot(5, 10)}, 39-extreme), slices.Repeat([]Counted{pot(9, 10)}, extreme)...)
		if got := Compare([]Counted{pot(9, 10)}, other); got.Believe != ThePots || got.Differ() != want || math.Abs(got.Permutation-float64(1+extreme)/40) > 1e-12 {
			t.Errorf("%d others as extreme: %+v", extreme, got)
		}
	}
}

// Few pots speak against Fisher's test where they differ more than half as much
// again as single seeds would. By hand: of two pots of 8 with 3 and 5 up, (1+1)/2,
// of two of 4 with 1 and 3 up, (1+1)/1, over 2 degrees of freedom: 1.5.
func TestPotsThatSpeakAgainstFisher(t *testing.T) {
	for _, c := range []struct {
		one, other []Counted
		factor     float64
		want       Belief
	}{
		{[]Counted{pot(3, 8), pot(5, 8)}, []Counted{pot(1, 4), pot(3, 4)}, 1.5, TheSeeds},
		{[]Counted{pot(3, 4), pot(1, 4)}, []Counted{pot(1, 4), pot(3, 4)}, 2, Neither},
		{[]Counted{pot(4, 8), pot(4, 8)}, []Counted{pot(1, 4), pot(3, 4)}, 1, TheSeeds},
		{[]Counted{pot(8, 8)}, []Counted{pot(1, 4)}, 0, TheSeeds},           // a pot each: nothing is known
		{[]Counted{pot(1, 4), pot(3, 4)}, []Counted{pot(2, 4)}, 2, Neither}, // two pots of one group tell
	} {
		got := Compare(c.one, c.other)
		if got.Dispersion.Factor != c.factor || got.Believe != c.want {
			t.Errorf("%v and %v: %+v, want %v and %v", c.one, c.other, got, c.factor, c.want)
		}
		if got.Differ() != (got.Believe == TheSeeds && got.Fisher < .05) {
			t.Errorf("%v and %v: %+v, differ %v", c.one, c.other, got, got.Differ())
		}
	}
}

// Up to 100,000 ways all are looked at; one more, and so many are drawn.
func TestWaysThatAreLookedAt(t *testing.T) {
	for others, exact := range map[int]bool{99_999: true, 100_000: false} {
		got := Compare([]Counted{pot(9, 10)}, slices.Repeat([]Counted{pot(1, 10)}, others))
		if got.Exact != exact || got.Ways != 100_000 || got.Permutation > 1e-4 || got.Permutation <= 0 || math.Abs(got.Least-1e-5) > 1e-12 {
			t.Errorf("%d ways: %+v", others+1, got)
		}
	}
}

// Drawn ways find what counting all of them does: of 24 pots of two groups each
// with as many full as half-full pots, within four standard errors.
func TestDrawnWaysAgreeWithAll(t *testing.T) {
	one := append(slices.Repeat([]Counted{pot(10, 10)}, 7), slices.Repeat([]Counted{pot(5, 10)}, 5)...)
	other := append(slices.Repeat([]Counted{pot(10, 10)}, 4), slices.Repeat([]Counted{pot(5, 10)}, 8)...)
	// Full pots in the first of two groups of 12, of 11 among 24: hypergeometric.
	choose := func(n, k int) float64 {
		f, _ := new(big.Float).SetInt(new(big.Int).Binomial(int64(n), int64(k))).Float64()
		return f
	}
	want := 0.0
	for full := range 12 {
		if full >= 7 || full <= 4 { // as far from each other as 7 and 4
			want += choose(11, full) * choose(13, 12-full) / choose(24, 12)
		}
	}
	got := Compare(one, other)
	if got.Exact || math.Abs(got.Permutation-want) > 4*math.Sqrt(want*(1-want)/float64(got.Ways)) {
		t.Errorf("%+v, want about %v", got, want)
	}
}
