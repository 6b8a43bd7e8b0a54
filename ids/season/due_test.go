package season

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"pipstake/ids"
	"pipstake/ids/registry"
)

// orchard makes a registry with one cross of 2026 and a number of lots, and
// lets work go on with it.
func orchard(t *testing.T, lots int, work func(r *registry.Registry) error) *registry.Registry {
	t.Helper()
	dir := t.TempDir()
	if err := registry.Init(dir); err != nil {
		t.Fatal(err)
	}
	err := registry.Change(dir, registry.Options{}, func(r *registry.Registry) error {
		cross, err := r.AddCross(registry.NewCross{SeedParent: "Larkfield Tessel", PollenParent: "Tarn Amber", Pollinated: day(t, "2025-05-02"), Year: 2025})
		if err != nil {
			return err
		}
		if _, err := r.AddLots(cross.ID, lots, day(t, "2025-06-01")); err != nil {
			return err
		}
		return work(r)
	})
	if err != nil {
		t.Fatal(err)
	}
	r, err := registry.Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

var (
	crossOne = ids.ID{Year: 2025, Cross: 1}
	lotA     = crossOne.Child(1)
	potA1    = lotA.Child(1)
)

func extracted(t *testing.T, r *registry.Registry, lot ids.ID, on string) error {
	_, err := r.Extract(lot, registry.Extraction{Seeds: registry.Known(10), Undeveloped: registry.Known(2), On: day(t, on)})
	return err
}

// shown writes tasks as "kind from..to n/of".
func shown(tasks []Task) string {
	names := map[Kind]string{ChangeWater: "water", EndSoak: "end", ColdOpens: "opens", Sow: "sow", ColdCloses: "closes",
		ColdOver: "over", FirstLook: "look", CountAgain: "count", LabelWorn: "worn"}
	var all []string
	for _, t := range tasks {
		s := fmt.Sprintf("%s %s", names[t.Kind], t.From)
		if t.To != t.From {
			s += ".." + t.To.String()
		}
		if t.N > 0 {
			s += fmt.Sprintf(" %d/%d", t.N, t.Of)
		}
		all = append(all, s)
	}
	return strings.Join(all, ", ")
}

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
		{"2025-12-01", "2027-06-01", "over 2026-01-31"},
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
		{Soaking{60, 24}, "2025-12-30", "water 2025-12-31 1/2, water 2026-01-01 2/2, end 2026-01-02"},
		{Soaking{24, 12}, "2025-12-30", "water 2025-12-30 1/1, end 2025-12-31"},
		{Soaking{24, 24}, "2025-12-30", "end 2025-12-31"},
	} {
		p := CommonPractice()
		p.Soaking = c.soak
		if got := shown(Due(r, Practice{Protocol: p}, day(t, c.on))); got != c.want {
			t.Errorf("%v on %s:\n%s, want\n%s", c.soak, c.on, got, c.want)
		}
	}
}

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

func TestLabelsWornOutdoors(t *testing.T) {
	r := orchard(t, 1, func(r *registry.Registry) error {
		if err := extracted(t, r, lotA, "2025-10-01"); err != nil {
			return err
		}
		if _, err := r.Sow(lotA, registry.Sowing{Seeds: []int{4, 4}, On: day(t, "2026-01-14")}); err != nil {
			return err
		}
		stake := func(pot ids.ID, copy int, stock string) registry.Print {
			return registry.Print{Face: registry.StakeFace, ID: pot, Copy: copy, Stock: stock, Sheet: 1, Cell: copy}
		}
		if _, err := r.AddLabels(day(t, "2026-01-10"), []registry.Print{stake(potA1, 1, "a4-cut-148x20"), stake(potA1, 2, "roll-57x32")}); err != nil {
			return err
		}
		bag := registry.Print{Face: registry.BagFace, ID: lotA, Stock: "a4-3x8-70x37", Sheet: 1, Cell: 1}
		_, err := r.AddLabels(day(t, "2026-01-20"), []registry.Print{stake(lotA.Child(2), 1, "a4-cut-148x20"), bag})
		return err
	})
	p := CommonPractice()
	p.Labels.OnStock["roll-57x32"] = 90
	tasks := slices.DeleteFunc(Due(r, Practice{Protocol: p}, day(t, "2026-06-01")), func(t Task) bool { return t.Kind != LabelWorn })
	var got []string
	for _, task := range tasks {
		got = append(got, fmt.Sprintf("%s copy %d: %s since %s", task.ID, task.Label.Copy, task.From, task.Since))
	}
	// From sowing, or from a later printing; 90 days on the roll; no bag.
	want := []string{
		"2025X001-A1 copy 2: 2026-04-14 since 2026-01-14",
		"2025X001-A1 copy 1: 2027-01-14 since 2026-01-14",
		"2025X001-A2 copy 1: 2027-01-20 since 2026-01-20",
	}
	if !slices.Equal(got, want) {
		t.Errorf("got\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
}

// Void rows and empty bags ask for nothing; a cross of its own practice follows
// it.
func TestDueLeavesOutWhatIsOver(t *testing.T) {
	r := orchard(t, 3, func(r *registry.Registry) error {
		for n := 1; n <= 3; n++ {
			if err := extracted(t, r, crossOne.Child(n), "2025-11-15"); err != nil {
				return err
			}
			if _, err := r.Chill(crossOne.Child(n), registry.Chilling{On: day(t, "2025-11-20")}); err != nil {
				return err
			}
		}
		if _, err := r.Sow(lotA, registry.Sowing{Seeds: []int{8}, On: day(t, "2026-01-14")}); err != nil { // all that is good
			return err
		}
		if err := r.Void(potA1, "mice"); err != nil {
			return err
		}
		if _, err := r.Sow(lotA, registry.Sowing{Seeds: []int{8}, On: day(t, "2026-01-15")}); err != nil {
			return err
		}
		return r.Void(crossOne.Child(2), "mould")
	})
	own := CommonPractice()
	own.Cold = Cold{LeastDays: 60, MostDays: 90}
	tasks := Due(r, Practice{Protocol: CommonPractice(), Crosses: map[ids.ID]Protocol{crossOne: own}}, day(t, "2026-01-16"))
	want := "opens 2026-01-19, sow 2026-01-19..2026-02-18, look 2026-02-15 1/0, closes 2026-02-18"
	if got := shown(tasks); got != want {
		t.Errorf("%s, want %s", got, want)
	}
	for _, task := range tasks {
		if task.ID != crossOne.Child(3) && task.ID != lotA.Child(2) {
			t.Errorf("%s is void or empty", task.ID)
		}
	}
}
