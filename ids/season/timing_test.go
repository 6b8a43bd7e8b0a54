package season

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

// cumulated turns counts of all that is up, on days from 1 on, into rises.
func cumulated(counts ...int) []Rise {
	var rises []Rise
	up := 0
	for i, n := range counts {
		rises = append(rises, Rise{i + 1, n - up})
		up = n
	}
	return rises
}

// daily turns new seedlings of each day, from day 1 on, into rises.
func daily(fresh ...int) []Rise {
	var rises []Rise
	for i, n := range fresh {
		rises = append(rises, Rise{i + 1, n})
	}
	return rises
}

// Published T50: the first series with both values from the tests of the R
// package germinationmetrics, the second from the article of the R package
// seedTools, both as quoted in public copies. The third is recomputed by hand
// from the definitions: 30 sown, 25 up, mean 14.08 days, 12.0 by Coolbear et al.
// (1984), 11.8 by Farooq et al. (2005).
func TestTimingOfWorkedSeries(t *testing.T) {
	for _, c := range []struct {
		name                   string
		rises                  []Rise
		coolbear, farooq, mean float64 // 0 where none is published
	}{
		{"germinationmetrics", daily(0, 0, 0, 0, 4, 17, 10, 7, 1, 0, 1, 0, 0, 0), 5.97058823529412, 5.94117647058824, 0},
		{"seedTools", cumulated(0, 0, 0, 0, 1, 3, 6, 7, 15, 16, 23, 25), 0, 8.6875, 0},
		{"by hand", []Rise{{0, 0}, {7, 2}, {10, 6}, {14, 10}, {17, 4}, {21, 2}, {28, 1}}, 12, 11.8, 14.08},
	} {
		got, ok := TimingOf(c.rises)
		if !ok || got.HalfCoolbear.AtMost || got.HalfFarooq.AtMost {
			t.Fatalf("%s: %+v, %v", c.name, got, ok)
		}
		for _, v := range []struct {
			name      string
			got, want float64
		}{{"Coolbear", got.HalfCoolbear.Day, c.coolbear}, {"Farooq", got.HalfFarooq.Day, c.farooq}, {"mean", got.Mean, c.mean}} {
			if v.want != 0 && math.Abs(v.got-v.want) > 1e-12 {
				t.Errorf("%s: %s %.14f, want %.14f", c.name, v.name, v.got, v.want)
			}
		}
	}
	if got, _ := TimingOf([]Rise{{0, 0}, {7, 2}, {10, 6}, {14, 10}, {17, 4}, {21, 2}, {28, 1}, {35, 0}}); got.First != 7 || got.Last != 28 {
		t.Errorf("by hand: %+v", got)
	}
	g := Group{Sown: 30, Up: 25}
	if math.Abs(100*g.Rate()-83.33) > .005 {
		t.Errorf("germination %v", g.Rate())
	}
}

// A count that equals half is its day; half of what a first count found came up
// on that day or before.
func TestHalfAtCounts(t *testing.T) {
	for _, c := range []struct {
		name             string
		rises            []Rise
		coolbear, farooq Half
	}{
		{"on the day of a count", []Rise{{5, 1}, {9, 1}, {12, 1}}, Half{9, false}, Half{7, false}},
		{"at a later count, where nothing follows for a while", []Rise{{3, 0}, {5, 2}, {8, 0}, {12, 2}}, Half{9, false}, Half{5, false}},
		{"past it at the first count", []Rise{{74, 8}, {81, 1}}, Half{74, true}, Half{74, true}},
		{"at it at the first count", []Rise{{5, 2}, {12, 2}}, Half{6.75, false}, Half{5, true}},
		{"one seedling, never looked at before", []Rise{{9, 1}}, Half{9, true}, Half{9, true}},
		{"one seedling, looked at before", []Rise{{5, 0}, {9, 1}}, Half{9, false}, Half{7, false}},
		{"counted on the day of sowing", []Rise{{0, 0}, {8, 3}}, Half{16. / 3, false}, Half{4, false}},
	} {
		got, _ := TimingOf(c.rises)
		for _, h := range []struct{ got, want Half }{{got.HalfCoolbear, c.coolbear}, {got.HalfFarooq, c.farooq}} {
			if h.got.AtMost != h.want.AtMost || math.Abs(h.got.Day-h.want.Day) > 1e-12 {
				t.Errorf("%s: %+v, want %+v", c.name, h.got, h.want)
			}
		}
	}
	if _, ok := TimingOf([]Rise{{5, 0}, {9, 0}}); ok {
		t.Error("nothing came up, and took some time")
	}
}

// Two identical pots counted weekly, on different days of the week, have the
// T50 of one of them. Seedlings that come up at random around day 30 (normal,
// standard deviation 6 days: nine of ten within three weeks) give 30 within 0.2
// days, whatever the two days of the week. Taking each count for the day of
// emergence would make it up to 33.
func TestPotsCountedOnDifferentDays(t *testing.T) {
	random := rand.New(rand.NewPCG(30, 6))
	pot := func() []float64 {
		days := make([]float64, 20_000)
		for i := range days {
			days[i] = 30 + 6*random.NormFloat64()
		}
		slices.Sort(days)
		return days
	}
	first, second := pot(), pot()
	for one := range 7 {
		for other := range 7 {
			got, _ := TimingOf(weekly(first, 1+one), weekly(second, 1+other))
			for _, half := range []Half{got.HalfCoolbear, got.HalfFarooq} {
				if half.AtMost || one != other && math.Abs(half.Day-30) > 0.2 {
					t.Errorf("weekly from days %d and %d: %+v, truly 30", 1+one, 1+other, half)
				}
			}
		}
	}
}

// weekly counts the seedlings of a pot, given by the days on which they come up
// in their order, every seven days from a day on.
func weekly(emerged []float64, first int) []Rise {
	var rises []Rise
	before := 0
	for day := first; day < 77; day += 7 {
		up, _ := slices.BinarySearch(emerged, float64(day))
		rises = append(rises, Rise{day, up - before})
		before = up
	}
	return rises
}

// The half of two pots is the half of both together: the pot that was first
// looked at when all was up leaves only a day that it is not later than.
func TestHalfOfPotsOneOfWhichWasSeenLate(t *testing.T) {
	seen := []Rise{{21, 0}, {28, 4}, {35, 4}}
	late := []Rise{{33, 8}}
	got, _ := TimingOf(seen, late)
	// Half is 8. At day 33 the first pot has 4 + 4·5/7 and the other its 8.
	if want := (Half{33, true}); got.HalfFarooq != want {
		t.Errorf("%+v, want %+v", got.HalfFarooq, want)
	}
	// What was first seen long before the half makes no difference.
	got, _ = TimingOf([]Rise{{21, 0}, {28, 4}, {35, 4}}, []Rise{{14, 1}, {28, 1}, {35, 2}})
	if want := (Half{28, false}); got.HalfFarooq != want {
		t.Errorf("%+v, want %+v", got.HalfFarooq, want)
	}
}
