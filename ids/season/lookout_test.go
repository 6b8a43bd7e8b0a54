package season

import (
	"testing"
	"time"
)

// Seed that is sown within 120 days of the last season's end has had its cold;
// sown later it waits for the next season. The days are counted by hand:
// 16 of March, 30 + 31 + 30 of the months between, and 13 of July are 120. That
// such seed comes up at once is common practice.
func TestLookoutAfterTheSeason(t *testing.T) {
	e := Emergence{Season: Window{MonthDay{time.February, 15}, MonthDay{time.March, 15}}, CountDays: 7}
	for _, c := range []struct{ sown, first, last string }{
		{"2025-02-14", "2025-02-15", "2025-03-15"}, // the day before the season
		{"2025-02-15", "2025-02-22", "2025-03-15"}, // its first day
		{"2025-03-08", "2025-03-15", "2025-03-15"},
		{"2025-03-09", "2025-03-16", "2025-03-16"}, // too late for a look within it
		{"2025-03-15", "2025-03-22", "2025-03-22"}, // its last day
		{"2025-03-16", "2025-03-23", "2025-04-20"}, // from here on as long as a season: 28 days
		{"2025-07-13", "2025-07-20", "2025-08-17"}, // the 120th day
		{"2025-07-14", "2026-02-15", "2026-03-15"}, // the 121st
	} {
		if first, last := e.Lookout(day(t, c.sown)); first.String() != c.first || last.String() != c.last {
			t.Errorf("sown %s: looked for from %s to %s, want %s to %s", c.sown, first, last, c.first, c.last)
		}
	}
}
