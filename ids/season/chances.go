package season

import (
	"math"
	"sort"
)

// trials is a number of seeds that come up with the same probability each.
type trials struct {
	n int
	p float64
}

// chanceOf is the probability of at least k successes, 0 or more, in all trials
// together.
func chanceOf(all []trials, k int) float64 {
	n := 0
	for _, t := range all {
		n += t.n
	}
	if k > n { // and not what rounding leaves
		return 0
	}
	return tail(spreadOf(all, k))
}

// spreadOf is the probability of each number of successes below k, and of all
// others together at the end.
func spreadOf(all []trials, k int) []float64 {
	spread := make([]float64, k+1)
	spread[0] = 1
	for _, t := range pooled(all) {
		spread = convolved(spread, t)
	}
	return spread
}

func tail(spread []float64) float64 { return spread[len(spread)-1] }

// pooled puts trials of the same probability together.
func pooled(all []trials) []trials {
	var sums []trials
	place := map[float64]int{}
	for _, t := range all {
		i, ok := place[t.p]
		if !ok {
			i = len(sums)
			place[t.p] = i
			sums = append(sums, trials{p: t.p})
		}
		sums[i].n += t.n
	}
	return sums
}

// convolved adds trials to a spread.
func convolved(spread []float64, t trials) []float64 {
	k := len(spread) - 1
	added := make([]float64, k) // the probability of each number below k
	for i := range min(k, t.n+1) {
		added[i] = binomial(t.n, i, t.p)
	}
	next := make([]float64, k+1)
	below := 0.0
	for i := range k {
		for j := range i + 1 {
			next[i] += spread[j] * added[i-j]
		}
		below += next[i]
	}
	next[k] = max(0, 1-below)
	return next
}

// binomial is the probability of exactly k successes in n trials.
func binomial(n, k int, p float64) float64 {
	switch {
	case p <= 0:
		return oneIf(k == 0)
	case p >= 1:
		return oneIf(k == n)
	}
	return math.Exp(logChoose(n, k) + float64(k)*math.Log(p) + float64(n-k)*math.Log1p(-p))
}

func oneIf(yes bool) float64 {
	if yes {
		return 1
	}
	return 0
}

// shortOf is how many more seeds, of which each comes up with probability rate,
// make at least k successes, 0 or more, as certain as asked for.
func shortOf(open []trials, k int, certainty, rate float64) int {
	spread := spreadOf(open, k)
	enough := func(more int) bool {
		chance := tail(spread)
		for have, p := range spread[:k] {
			chance += p * Chance(more, k-have, rate)
		}
		return chance >= certainty
	}
	return sort.Search(SeedsFor(k, certainty, rate), enough)
}
