package season

import (
	"math"
	"math/rand/v2"
)

// Comparison tells whether two groups of pots differ in germination.
type Comparison struct {
	Fisher float64 // two-sided, of the pooled seeds
	// Permutation is two-sided, with pots as units: how often pots dealt out to
	// two groups of the same sizes differ as much as these do.
	Permutation float64
	Exact       bool    // all ways to deal them out were looked at
	Ways        int     // that were looked at
	Least       float64 // the smallest value that the permutation test can give
	Dispersion  Dispersion
	Believe     Belief
}

// Belief is which of two tests to believe.
type Belief int

// The beliefs.
const (
	ThePots  Belief = iota // pots enough: seeds of one pot are not independent
	TheSeeds               // too few pots for the other, and nothing against it
	Neither                // too few pots, and what they say speaks against Fisher's
)

// Dispersion is how much more pots of one group differ than seeds that come up
// each by itself would: 1 where they do not (Pearson's chi square divided by its
// degrees of freedom).
type Dispersion struct {
	Factor  float64
	Freedom int
}

// Enough reports whether there are pots enough to show it.
func (d Dispersion) Enough() bool { return d.Freedom >= 4 }

// significant is the probability below which a difference is called one.
const significant = 0.05

// mostWays is the number of ways up to which all are looked at; of more, so many
// are drawn.
const mostWays = 100_000

// Compare compares two groups of pots, each with at least one pot. The draws, if
// any, are the same each time.
func Compare(one, other []Counted) Comparison {
	a, b := sum(one), sum(other)
	c := Comparison{Fisher: Fisher(a.Up, a.Sown, b.Up, b.Sown), Dispersion: dispersion(one, other)}
	deal := newDeal(one, other)
	if ways := choose(len(deal.pots), len(one)); ways <= mostWays {
		c.Permutation, c.Exact, c.Ways = deal.all(len(one)), true, int(ways)
		c.Least = 1 / ways
		if len(one) == len(other) {
			c.Least *= 2 // each way has its mirror
		}
	} else {
		c.Permutation, c.Ways = deal.drawn(len(one), mostWays), mostWays
		c.Least = 1. / mostWays
	}
	switch {
	case c.Least < significant:
		c.Believe = ThePots
	case c.Dispersion.Factor > 1.5:
		c.Believe = Neither
	default:
		c.Believe = TheSeeds
	}
	return c
}

// Differ reports whether the test to believe finds a difference.
func (c Comparison) Differ() bool {
	if c.Believe == ThePots {
		return c.Permutation < significant
	}
	return c.Believe == TheSeeds && c.Fisher < significant
}

func sum(pots []Counted) Counted {
	var all Counted
	for _, p := range pots {
		all.Pots += p.Pots
		all.Up += p.Up
		all.Sown += p.Sown
	}
	return all
}

// choose is the number of ways to choose k of n.
func choose(n, k int) float64 { return math.Round(math.Exp(logChoose(n, k))) }

// deal is pots that are dealt out to two groups.
type deal struct {
	pots  []Counted
	total Counted
	seen  float64 // the difference of the groups as they are
}

func newDeal(one, other []Counted) deal {
	d := deal{pots: append(append([]Counted{}, one...), other...)}
	d.total = sum(d.pots)
	d.seen = d.difference(sum(one))
	return d
}

// difference is how far the germination of a group is from that of all others.
func (d deal) difference(group Counted) float64 {
	up, sown := d.total.Up-group.Up, d.total.Sown-group.Sown
	return math.Abs(float64(group.Up)/float64(group.Sown) - float64(up)/float64(sown))
}

// asMuch reports whether a group differs as much as what was seen, or more.
func (d deal) asMuch(group Counted) bool {
	const rounding = 1e-9
	return d.difference(group) >= d.seen-rounding
}

// all is the part of all ways to deal out n pots to the first group that differ
// as much.
func (d deal) all(n int) float64 {
	ways, much := 0, 0
	var next func(from, left int, group Counted)
	next = func(from, left int, group Counted) {
		if left == 0 {
			ways++
			if d.asMuch(group) {
				much++
			}
			return
		}
		for i := from; i <= len(d.pots)-left; i++ {
			p := d.pots[i]
			next(i+1, left-1, Counted{Up: group.Up + p.Up, Sown: group.Sown + p.Sown})
		}
	}
	next(0, n, Counted{})
	return float64(much) / float64(ways)
}

// drawn is the same of a number of ways drawn at random. What was seen counts as
// one of them, so that it is never 0.
func (d deal) drawn(n, ways int) float64 {
	random := rand.New(rand.NewPCG(20, 26))
	pots := append([]Counted{}, d.pots...)
	much := 1
	for range ways - 1 {
		for i := range n {
			j := i + random.IntN(len(pots)-i)
			pots[i], pots[j] = pots[j], pots[i]
		}
		if d.asMuch(sum(pots[:n])) {
			much++
		}
	}
	return float64(much) / float64(ways)
}

// dispersion is that of pots within their groups.
func dispersion(groups ...[]Counted) Dispersion {
	var d Dispersion
	square := 0.0
	for _, pots := range groups {
		all := sum(pots)
		if all.Up == 0 || all.Up == all.Sown {
			continue // nothing can vary
		}
		rate := float64(all.Up) / float64(all.Sown)
		for _, p := range pots {
			expected := float64(p.Sown) * rate
			square += (float64(p.Up) - expected) * (float64(p.Up) - expected) / (expected * (1 - rate))
		}
		d.Freedom += len(pots) - 1
	}
	if d.Freedom > 0 {
		d.Factor = square / float64(d.Freedom)
	}
	return d
}
