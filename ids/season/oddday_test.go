package season_test

import (
	"testing"

	"pipstake/ids/registry"
	"pipstake/ids/season"
)

// Bounds are common practice; the days between were counted with Python's datetime.
func TestOddDays(t *testing.T) {
	date := func(s string) registry.Date {
		d, err := registry.ParseDate(s)
		if err != nil {
			t.Fatal(err)
		}
		return d
	}
	for _, test := range []struct {
		step      season.Step
		after, on string
		days      int
		odd       bool
	}{
		{season.AtPicking, "2026-05-02", "2026-10-02", 153, false},
		{season.AtPicking, "2026-05-02", "2026-06-20", 49, true}, // seven weeks
		{season.AtPicking, "2026-05-02", "2026-06-21", 50, false},
		{season.AtPicking, "2026-05-02", "2026-12-28", 240, false}, // the end of the year
		{season.AtPicking, "2026-05-02", "2026-12-29", 241, true},
		{season.AtPicking, "2026-05-02", "2027-10-02", 518, true},
		{season.AtExtraction, "2026-05-02", "2026-11-14", 196, false},
		{season.AtExtraction, "2026-05-02", "2026-06-20", 49, true},
		{season.AtExtraction, "2026-05-02", "2026-06-21", 50, false},
		{season.AtExtraction, "2026-05-02", "2027-03-28", 330, false}, // of fruit from the store, in spring
		{season.AtExtraction, "2026-05-02", "2027-03-29", 331, true},
		{season.AtExtraction, "2026-05-02", "2027-05-02", 365, true},
		{season.AtSowing, "2026-11-14", "2026-11-14", 0, false},
		{season.AtSowing, "2026-11-14", "2026-11-13", -1, true},
		{season.AtSowing, "2026-11-14", "2028-01-18", 430, false}, // a winter later
		{season.AtSowing, "2026-11-14", "2028-01-19", 431, true},
		{season.AtFirstSight, "2027-01-14", "2027-01-16", 2, true},
		{season.AtFirstSight, "2027-01-14", "2027-01-17", 3, false},
		{season.AtFirstSight, "2027-01-14", "2027-09-11", 240, false},
		{season.AtFirstSight, "2027-01-14", "2027-09-12", 241, true},
		{season.AtFirstSight, "2027-01-14", "2027-02-26", 43, false},
		{season.AtPrickingOut, "2027-01-14", "2027-01-20", 6, true},
		{season.AtPrickingOut, "2027-01-14", "2027-01-21", 7, false}, // a week
		{season.AtPrickingOut, "2027-01-14", "2027-12-10", 330, false},
		{season.AtPrickingOut, "2027-01-14", "2027-12-11", 331, true},
	} {
		d, odd := season.OddDayOf(test.step, date(test.on), date(test.after))
		if odd != test.odd || d.Days != test.days {
			t.Errorf("step %d on %s after %s: %d days, odd %v; want %d, %v", test.step, test.on, test.after, d.Days, odd, test.days, test.odd)
		}
	}
	if _, odd := season.OddDayOf(season.AtPicking, date("2026-05-02"), registry.Date{}); odd {
		t.Error("a day after an unknown one is odd")
	}
}
