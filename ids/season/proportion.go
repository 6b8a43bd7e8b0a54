package season

import (
	"math"
	"sort"

	"gonum.org/v1/gonum/mathext"
)

// Interval is what a proportion may truly be, as parts of one.
type Interval struct{ Low, High float64 }

// Method is a way to reckon the interval of a proportion.
type Method int

// The methods.
const (
	Wilson         Method = iota // score interval, without continuity correction
	ClopperPearson               // exact; never too narrow, often wider than needed
)

// confidence is that of all intervals.
const confidence = 0.95

// Interval is the 95 % interval of x out of n. Where n is 0 nothing is known.
//
// Both are as in Newcombe, Statistics in Medicine 17 (1998) 857–872.
func (m Method) Interval(x, n int) Interval {
	if n <= 0 {
		return Interval{0, 1}
	}
	if m == ClopperPearson {
		return clopperPearson(float64(x), float64(n))
	}
	return wilson(float64(x), float64(n))
}

func wilson(x, n float64) Interval {
	z := mathext.NormalQuantile((1 + confidence) / 2)
	p := x / n
	middle := p + z*z/(2*n)
	half := z * math.Sqrt(p*(1-p)/n+z*z/(4*n*n))
	scale := 1 + z*z/n
	i := Interval{(middle - half) / scale, (middle + half) / scale}
	if x == 0 { // rounding would leave a trace
		i.Low = 0
	}
	if x == n {
		i.High = 1
	}
	return i
}

func clopperPearson(x, n float64) Interval {
	const tail = (1 - confidence) / 2
	i := Interval{0, 1}
	if x > 0 {
		i.Low = mathext.InvRegIncBeta(x, n-x+1, tail)
	}
	if x < n {
		i.High = mathext.InvRegIncBeta(x+1, n-x, 1-tail)
	}
	return i
}

// Fisher is the two-sided probability of Fisher's exact test that two groups
// of up out of sown differ as much as they do, or more, by chance alone: the
// sum over all tables with the same margins that are no likelier than the one
// seen. It is 1 where a group is empty.
func Fisher(up1, sown1, up2, sown2 int) float64 {
	up := up1 + up2
	chance := func(x int) float64 { // hypergeometric
		return math.Exp(logChoose(sown1, x) + logChoose(sown2, up-x) - logChoose(sown1+sown2, up))
	}
	seen := chance(up1)
	sum := 0.0
	for x := max(0, up-sown2); x <= min(up, sown1); x++ {
		if p := chance(x); p <= seen*(1+1e-7) { // equal ones differ by rounding
			sum += p
		}
	}
	return min(1, sum)
}

// logChoose is the logarithm of the number of ways to choose k of n: that of
// 1/((n+1) B(n−k+1, k+1)), with the beta function B.
func logChoose(n, k int) float64 {
	return -math.Log1p(float64(n)) - mathext.Lbeta(float64(n-k+1), float64(k+1))
}

// Chance is the probability of at least k successes in n trials, each with
// probability p.
func Chance(n, k int, p float64) float64 {
	switch {
	case k <= 0:
		return 1
	case n < k:
		return 0
	}
	return mathext.RegIncBeta(float64(k), float64(n-k+1), p) // NIST Digital Library of Mathematical Functions, 8.17.5
}

// SeedsFor is the least number of seeds that gives at least k seedlings with a
// given certainty, where each comes up with probability rate. It needs a k of 0
// or more, a rate above 0 and a certainty below 1.
func SeedsFor(k int, certainty, rate float64) int {
	enough := func(n int) bool { return Chance(n, k, rate) >= certainty }
	high := k
	for !enough(high) {
		high *= 2
	}
	return sort.Search(high, enough)
}
