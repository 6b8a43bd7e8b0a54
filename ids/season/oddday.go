package season

import (
	"pipstake/ids/registry"
)

// Step is something that happens to a cross or to what came of it.
type Step int

// The steps whose day can be far from the usual one.
const (
	AtPicking     Step = iota // of the fruit, after pollination
	AtExtraction              // of the seed, after pollination
	AtSowing                  // after extraction
	AtFirstSight              // of a seedling, after sowing
	AtPrickingOut             // after sowing
)

// dayBounds is how many days after the step before it something usually happens.
type dayBounds struct{ least, most int }

// usual are wide bounds, so that what lies outside is more often a slip than a
// late season. Common practice, from memory: apples ripen from ten weeks after
// blossom (the earliest) to the end of the year, keep in store until spring, and
// their seed is sown within the year; a seedling that shows in less than three
// days was up before it was sown.
var usual = map[Step]dayBounds{
	AtPicking:     {50, 240},
	AtExtraction:  {50, 330},
	AtSowing:      {0, 430},
	AtFirstSight:  {3, 240},
	AtPrickingOut: {7, 330},
}

// OddDay is a day that is far from when such a thing usually happens.
type OddDay struct {
	Step        Step
	On, After   registry.Date // the day, and that of the step before
	Days        int           // between them
	Least, Most int           // how many it usually is
}

// OddDayOf reports whether a step on a day is unusually soon or long after the
// step before it. Days that are not known are never odd.
func OddDayOf(step Step, on, after registry.Date) (OddDay, bool) {
	if on.IsZero() || after.IsZero() {
		return OddDay{}, false
	}
	s := usual[step]
	d := OddDay{step, on, after, on.DaysSince(after), s.least, s.most}
	return d, d.Days < s.least || d.Days > s.most
}

// FarFromBlossom returns the days between which the other crosses were made,
// where a new one is more than two months away from them all, years aside. Fewer
// than three others say nothing.
func FarFromBlossom(r *registry.Registry, c registry.Cross) (first, last registry.Date, far bool) {
	const least, most = 3, 60 // crosses, days
	const year = 365          // days
	if c.Pollinated.IsZero() {
		return first, last, false
	}
	others := 0
	for _, other := range r.Crosses() {
		if other.ID == c.ID || other.State == registry.Void || other.Pollinated.IsZero() {
			continue
		}
		inYear := other.Pollinated
		inYear.Year = c.Pollinated.Year
		inYear = inYear.AddDays(0) // where there is no 29 February, 1 March
		apart := c.Pollinated.DaysSince(inYear)
		if apart = max(apart, -apart); min(apart, year-apart) <= most {
			return first, last, false
		}
		if others++; others == 1 || inYear.Before(first) {
			first = inYear
		}
		if last.Before(inYear) || others == 1 {
			last = inYear
		}
	}
	return first, last, others >= least
}
