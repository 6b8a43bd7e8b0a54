package season

import (
	"testing"

	"pipstake/ids"
	"pipstake/ids/registry"
)

func TestCountsDue(t *testing.T) {
	type count struct {
		on string
		up int
	}
	for _, c := range []struct {
		sown   string
		counts []count
		want   string
	}{
		{"2026-01-14", nil, "look 2026-02-15 1/0"},
		{"2025-10-20", nil, "look 2026-02-15 1/0"},
		{"2026-02-20", nil, "look 2026-02-27 1/0"}, // within the season
		{"2026-05-01", nil, "look 2026-05-08 1/0"}, // after it
		{"2026-09-01", nil, "look 2027-02-15 1/0"}, // for the next one
		{"2026-01-14", []count{{"2026-02-16", 2}}, "count 2026-02-23 2/0"},
		{"2026-01-14", []count{{"2026-01-20", 0}}, "count 2026-02-15 2/0"},
		{"2026-01-14", []count{{"2026-02-16", 2}, {"2026-03-12", 5}}, "count 2026-03-15 3/0"}, // the last of the season
		{"2026-01-14", []count{{"2026-03-15", 5}}, ""},
		{"2026-01-14", []count{{"2026-02-20", 8}}, ""}, // all up
	} {
		r := orchard(t, 1, func(r *registry.Registry) error {
			if err := extracted(t, r, lotA, "2025-10-01"); err != nil {
				return err
			}
			if _, err := r.Sow(lotA, registry.Sowing{Seeds: []int{8}, On: day(t, c.sown)}); err != nil {
				return err
			}
			for _, n := range c.counts {
				if _, err := r.AddEmergence(potA1, day(t, n.on), n.up); err != nil {
					return err
				}
			}
			return nil
		})
		if got := shown(Due(r, Practice{Protocol: CommonPractice()}, day(t, "2026-01-01"))); got != c.want {
			t.Errorf("sown %s, %v: %s, want %s", c.sown, c.counts, got, c.want)
		}
	}
}

// Void rows, empty bags and what ended ask for nothing; a cross of its own
// practice follows it.
func TestDueLeavesOutWhatIsOver(t *testing.T) {
	r := orchard(t, 4, func(r *registry.Registry) error {
		for n := 1; n <= 4; n++ {
			if err := extracted(t, r, crossOne.Child(n), "2025-11-15"); err != nil {
				return err
			}
			if _, err := r.Chill(crossOne.Child(n), registry.Chilling{On: day(t, "2025-11-20")}); err != nil {
				return err
			}
		}
		if _, err := r.Sow(lotA, registry.Sowing{Seeds: []int{5, 3}, On: day(t, "2026-01-14")}); err != nil { // all that is good
			return err
		}
		return r.Void(crossOne.Child(2), "mould")
	})
	r = with(t, r, "lots.csv", crossOne.Child(4), map[string]string{"fate": "discarded", "ended": "2026-01-10"})
	r = with(t, r, "pots.csv", potA1, map[string]string{"fate": "lost", "ended": "2026-01-15"})
	own := CommonPractice()
	own.Cold = Cold{LeastDays: 60, MostDays: 90}
	tasks := Due(r, Practice{Protocol: CommonPractice(), Crosses: map[ids.ID]Protocol{crossOne: own}}, day(t, "2026-01-16"))
	want := "opens 2026-01-19, sow 2026-01-19..2026-02-18, look 2026-02-15 1/0, closes 2026-02-18"
	if got := shown(tasks); got != want {
		t.Errorf("%s, want %s", got, want)
	}
	for _, task := range tasks {
		if task.ID != crossOne.Child(3) && task.ID != lotA.Child(2) {
			t.Errorf("%s is void, empty or ended", task.ID)
		}
	}
}

// Looking for seedlings ends with its season, whether anybody counted or not.
func TestCountsEndWithTheirSeason(t *testing.T) {
	for _, counts := range [][]string{nil, {"2026-02-16"}} {
		r := orchard(t, 1, func(r *registry.Registry) error {
			if err := extracted(t, r, lotA, "2025-10-01"); err != nil {
				return err
			}
			if _, err := r.Sow(lotA, registry.Sowing{Seeds: []int{8}, On: day(t, "2026-01-14")}); err != nil {
				return err
			}
			for _, on := range counts {
				if _, err := r.AddEmergence(potA1, day(t, on), 2); err != nil {
					return err
				}
			}
			return nil
		})
		for on, want := range map[string]int{"2026-03-15": 1, "2026-03-16": 0} {
			if got := Due(r, Practice{Protocol: CommonPractice()}, day(t, on)); len(got) != want || want == 1 && got[0].Standing(day(t, on)) != Overdue {
				t.Errorf("counted %v, on %s: %s", counts, on, shown(got))
			}
		}
	}
}
