package main

import (
	"slices"
	"strings"
	"testing"
	"time"
)

// A clock that lies before what is on record, or long ago, as after the battery
// was empty (guysoft/OctoPi#606), gives no identifier its year; a day that is named
// does, and what takes no year from it goes on.
func TestClockThatIsWrong(t *testing.T) {
	t.Parallel()
	day, year := []string{"--on", "2027-03-01"}, []string{"--year", "2026"}
	season := completionSeason(t)
	e, _, _ := testEnv(t)
	recorded := e.now()
	for _, c := range []struct {
		now   time.Time
		wrong string
	}{
		{recorded, ""},
		{recorded.Add(-23 * time.Hour), ""},
		{recorded.Add(-25 * time.Hour), "before entry"},
		{time.Date(1970, 1, 1, 0, 3, 0, 0, time.UTC), "1970-01-01 00:03:00, which is long ago, "},
		{recorded.AddDate(1, 0, 0), ""},
	} {
		for _, try := range []struct {
			line  []string
			given [][]string
		}{
			{[]string{"cross", "Larkfield Tessel", "Gwennol Goch"}, [][]string{nil, day, year}},
			{[]string{"received", "Tarn Amber", "--source", "Ann"}, [][]string{nil, day}},
		} {
			for _, given := range try.given {
				dir := copyOf(t, season)
				before := tableState(dir)
				e, _, stderr := testEnv(t, slices.Concat(try.line, given, []string{"--registry", dir})...)
				e.now = func() time.Time { return c.now }
				status := execute(e)
				if wrong := c.wrong != "" && given == nil; (status == wrongUsage) != wrong || (tableState(dir) == before) != wrong ||
					wrong && !strings.Contains(stderr.String(), c.wrong) {
					t.Errorf("at %s, %q %q: status %d, %s", c.now, try.line, given, status, stderr)
				}
			}
		}
		e, _, stderr := testEnv(t, "note", "2026X001", "windy", "--registry", copyOf(t, season))
		e.now = func() time.Time { return c.now }
		if status := execute(e); status != fine {
			t.Errorf("at %s, note: status %d, %s", c.now, status, stderr)
		}
	}
}
