package season

import (
	"testing"

	"pipstake/ids/registry"
)

// Month ends and leap years by the calendar (ISO 8601): 2025-12-01 and 30 or 60
// days are 2025-12-31 and 2026-01-30; 2028-01-31 and 30 are 2028-03-01;
// 2027-01-31 and 30 are 2027-03-02. Recomputed.
func TestColdWindow(t *testing.T) {
	for _, c := range []struct{ chilled, on, want string }{
		{"2025-12-01", "2025-12-05", "opens 2025-12-31, sow 2025-12-31..2026-01-30, closes 2026-01-30"},
		{"2025-12-01", "2025-12-31", "opens 2025-12-31, sow 2025-12-31..2026-01-30, closes 2026-01-30"},
		{"2025-12-01", "2026-01-01", "sow 2025-12-31..2026-01-30, closes 2026-01-30"},
		{"2025-12-01", "2026-01-30", "sow 2025-12-31..2026-01-30, closes 2026-01-30"},
		{"2025-12-01", "2026-01-31", "over 2026-01-31"},
		{"2025-12-01", "2026-03-01", "over 2026-01-31"}, // as long again as the cold may last longer
		{"2025-12-01", "2026-03-02", ""},
		{"2025-11-01", "2026-02-28", "over 2026-01-01"}, // or as the season of sowing does
		{"2025-11-01", "2026-03-01", ""},
		{"2028-01-31", "2028-02-01", "opens 2028-03-01, sow 2028-03-01..2028-03-31, closes 2028-03-31"}, // past the season of sowing
		{"2027-01-31", "2027-02-01", "opens 2027-03-02, sow 2027-03-02..2027-04-01, closes 2027-04-01"},
		{"2025-10-20", "2025-10-20", "opens 2025-11-19, sow 2025-12-01..2025-12-19, closes 2025-12-19"}, // the season begins within
		{"2027-01-15", "2027-01-15", "opens 2027-02-14, sow 2027-02-14..2027-02-28, closes 2027-03-16"}, // and ends within
	} {
		r := orchard(t, 1, func(r *registry.Registry) error {
			if err := extracted(t, r, lotA, "2025-10-01"); err != nil {
				return err
			}
			_, err := r.Chill(lotA, registry.Chilling{On: day(t, c.chilled)})
			return err
		})
		if got := shown(Due(r, Practice{Protocol: CommonPractice()}, day(t, c.on))); got != c.want {
			t.Errorf("in the cold %s, on %s:\n%s, want\n%s", c.chilled, c.on, got, c.want)
		}
	}
}

func TestSoak(t *testing.T) {
	r := orchard(t, 1, func(r *registry.Registry) error { return extracted(t, r, lotA, "2025-12-30") })
	for _, c := range []struct {
		soak     Soaking
		on, want string
	}{
		{Soaking{72, 24}, "2025-12-30", "water 2025-12-31 1/2, water 2026-01-01 2/2, end 2026-01-02"},
		{Soaking{72, 24}, "2026-01-01", "water 2026-01-01 2/2, end 2026-01-02"},
		{Soaking{72, 24}, "2026-02-01", "end 2026-01-02"}, // not on record as done
		{Soaking{72, 24}, "2026-02-28", "end 2026-01-02"}, // the last day of the season of sowing
		{Soaking{72, 24}, "2026-03-01", ""},
		{Soaking{60, 24}, "2025-12-30", "water 2025-12-31 1/2, water 2026-01-01 2/2, end 2026-01-02"},
		{Soaking{24, 12}, "2025-12-30", "water 2025-12-30 1/1, end 2025-12-31"},
		{Soaking{24, 24}, "2025-12-30", "end 2025-12-31"},
		{Soaking{25, 24}, "2025-12-30", "water 2025-12-31 1/1, end 2026-01-01"}, // an hour longer
	} {
		p := CommonPractice()
		p.Soaking = c.soak
		if got := shown(Due(r, Practice{Protocol: p}, day(t, c.on))); got != c.want {
			t.Errorf("%v on %s:\n%s, want\n%s", c.soak, c.on, got, c.want)
		}
	}
}

// Seed that is kept on purpose asks for nothing before the year until which it
// is, and then whether to go on; unless it went into the cold for that year.
func TestKeptSeed(t *testing.T) {
	for _, c := range []struct{ chilled, on, want string }{
		{"", "2025-12-01", "kept 2028-01-01..2028-12-31"}, // no soak, no cold
		{"", "2028-12-31", "kept 2028-01-01..2028-12-31"},
		{"", "2029-01-01", ""},
		{"2025-11-20", "2026-01-25", "kept 2028-01-01..2028-12-31"}, // not that it is past the cold
		{"2027-12-10", "2028-01-05", "opens 2028-01-09, sow 2028-01-09..2028-02-08, closes 2028-02-08"},
		{"2027-12-10", "2028-02-10", "over 2028-02-09"},
	} {
		r := orchard(t, 1, func(r *registry.Registry) error {
			if err := extracted(t, r, lotA, "2025-11-15"); err != nil || c.chilled == "" {
				return err
			}
			_, err := r.Chill(lotA, registry.Chilling{On: day(t, c.chilled)})
			return err
		})
		r = with(t, r, "lots.csv", lotA, map[string]string{"kept": "2028"})
		if got := shown(Due(r, Practice{Protocol: CommonPractice()}, day(t, c.on))); got != c.want {
			t.Errorf("chilled %q, on %s: %s, want %s", c.chilled, c.on, got, c.want)
		}
	}
}
