package season

import "slices"

// Rise is how many seedlings were first counted on a day, in days from sowing.
type Rise struct{ Day, New int }

// Timing is how long seedlings took to come up, in days from sowing. First,
// Last and Mean are by the days of the counts: what came up between two counts
// belongs to the later.
type Timing struct {
	First, Last int // days of the first and the last rise
	Mean        float64
	// T50 is the day by which half of those that came up were up.
	HalfCoolbear, HalfFarooq Half
}

// Half is a T50: a day, or only a day that it is not later than, where seedlings
// were up at a first count and nobody saw them come.
type Half struct {
	Day    float64
	AtMost bool
}

// TimingOf returns the timing of the rises of some pots, each in the order of
// its days. It is false where nothing came up.
//
// Mean germination time is Σnt/Σn. T50 is by Coolbear et al. (1984), where half
// of N is (N+1)/2, and by Farooq et al. (2005), where it is N/2.
func TimingOf(pots ...[]Rise) (Timing, bool) {
	up := emerging{}
	for _, rises := range pots {
		up.add(rises)
	}
	return up.timing()
}

// span is the time between two counts of a pot, in days from sowing.
type span struct{ after, by int }

// sowing stands for a count that there was not: nothing is known of the time
// before the first.
const sowing = -1

// emerging is how many seedlings came up between which counts.
type emerging map[span]int

// add takes up the rises of a pot.
func (e emerging) add(rises []Rise) {
	after := sowing
	for _, r := range rises {
		if r.New > 0 {
			e[span{after, r.Day}] += r.New
		}
		after = r.Day
	}
}

// timing returns the timing of what came up; false where nothing did.
func (e emerging) timing() (Timing, bool) {
	var t Timing
	total, weighted := 0, 0
	for s, n := range e {
		if total == 0 || s.by < t.First {
			t.First = s.by
		}
		t.Last = max(t.Last, s.by)
		total += n
		weighted += n * s.by
	}
	if total == 0 {
		return t, false
	}
	t.Mean = float64(weighted) / float64(total)
	t.HalfCoolbear = e.half(float64(total+1) / 2)
	t.HalfFarooq = e.half(float64(total) / 2)
	return t, true
}

// half returns the day on which so many were up, where each pot's seedlings
// came up evenly between two of its counts. For one pot, or pots counted on the
// same days, that is tᵢ + (H−Nᵢ)(tⱼ−tᵢ)/(Nⱼ−Nᵢ) of the published definitions,
// where Nᵢ and Nⱼ are the counts around H.
//
// What was up at the first count of a pot came up on that day or any before. If
// this makes a difference, the day is one that T50 is not later than.
func (e emerging) half(number float64) Half {
	latest := e.dayOf(number, late)
	return Half{latest, e.dayOf(number, early) < latest}
}

// guess is when what was up at the first count of a pot is taken to have come
// up.
type guess int

const (
	late   guess = iota // on the day of the count
	early               // on the day of sowing
	evenly              // between the two
)

// dayOf is the day on which so many were up.
func (e emerging) dayOf(number float64, first guess) float64 {
	const rounding = 1e-9
	before, upBefore := 0.0, e.up(0, first)
	if upBefore >= number-rounding {
		return 0
	}
	for _, day := range e.days() {
		upBy := e.up(day, first)
		if upBy < number-rounding {
			before, upBefore = day, upBy
			continue
		}
		sudden := 0.0 // on this very day
		for s, n := range e {
			if s.after == sowing && first == late && float64(s.by) == day {
				sudden += float64(n)
			}
		}
		if number > upBy-sudden-rounding {
			return day
		}
		return before + (number-upBefore)*(day-before)/(upBy-sudden-upBefore)
	}
	return before
}

// days are those of all counts between which something came up.
func (e emerging) days() []float64 {
	var days []float64
	for s := range e {
		days = append(days, float64(s.by))
		if s.after > 0 {
			days = append(days, float64(s.after))
		}
	}
	slices.Sort(days)
	return slices.Compact(days)
}

// up is how many were up by the end of a day.
func (e emerging) up(day float64, first guess) float64 {
	whole, parts := 0, []float64{}
	for s, n := range e {
		if part := s.part(day, first); part == 1 {
			whole += n
		} else {
			parts = append(parts, float64(n)*part)
		}
	}
	slices.Sort(parts) // the same sum, whatever the order of the spans
	sum := float64(whole)
	for _, part := range parts {
		sum += part
	}
	return sum
}

// part is the part of a span's seedlings that were up by a day.
func (s span) part(day float64, first guess) float64 {
	after := float64(s.after)
	if s.after == sowing {
		switch first {
		case early:
			return 1
		case late:
			after = float64(s.by)
		case evenly:
			after = 0
		}
	}
	switch {
	case float64(s.by) <= day:
		return 1
	case day <= after:
		return 0
	}
	return (day - after) / (float64(s.by) - after)
}

// Point is how many seedlings were up by a day from sowing.
type Point struct{ Day, Up float64 }

// curve is how many were up by some days from sowing, from none on that day.
func (e emerging) curve(days []int) []Point {
	points := []Point{{}}
	for _, day := range days {
		if day > 0 {
			points = append(points, Point{float64(day), e.up(float64(day), evenly)})
		}
	}
	return points
}
