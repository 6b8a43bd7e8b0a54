package season

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"pipstake/ids"
	"pipstake/ids/registry"
)

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

// A label on a branch is needed until the harvest, one in a pot until the pot
// ends, one beside a seedling as long as it lives.
func TestLabelsOfWhatIsOver(t *testing.T) {
	plant := potA1.Child(1)
	r := orchard(t, 1, func(r *registry.Registry) error {
		if err := extracted(t, r, lotA, "2025-10-01"); err != nil {
			return err
		}
		if _, err := r.Sow(lotA, registry.Sowing{Seeds: []int{4}, On: day(t, "2026-01-14")}); err != nil {
			return err
		}
		if _, err := r.AddEmergence(potA1, day(t, "2026-03-01"), 2); err != nil {
			return err
		}
		if _, err := r.AddSeedlings(potA1, 1, day(t, "2026-04-01")); err != nil {
			return err
		}
		_, err := r.AddLabels(day(t, "2025-05-02"), []registry.Print{
			{Face: registry.BranchFace, ID: crossOne, Stock: "roll-57x32", Sheet: 1, Cell: 1},
			{Face: registry.StakeFace, ID: potA1, Copy: 1, Stock: "roll-57x32", Sheet: 1, Cell: 2},
			{Face: registry.SeedlingFace, ID: plant, Stock: "roll-57x32", Sheet: 1, Cell: 3},
		})
		return err
	})
	p := CommonPractice()
	p.Labels.OnStock["roll-57x32"] = 90
	worn := func(r *registry.Registry, on string) string {
		var faces []string
		for _, task := range Due(r, Practice{Protocol: p}, day(t, on)) {
			if task.Kind == LabelWorn {
				faces = append(faces, string(task.Label.Face))
			}
		}
		return strings.Join(faces, " ")
	}
	unopened := with(t, r, "lots.csv", lotA, map[string]string{"extracted": "", "seeds": "", "undeveloped": ""})
	failed := with(t, r, "crosses.csv", crossOne, map[string]string{"fate": "failed", "ended": "2025-07-01"})
	lost := with(t, r, "pots.csv", potA1, map[string]string{"fate": "lost", "ended": "2026-05-01"})
	empty := with(t, r, "emergence.csv", potA1, map[string]string{"died": "1"})
	dead := with(t, r, "seedlings.csv", plant, map[string]string{"fate": "died", "ended": "2026-05-01"})
	for _, c := range []struct {
		name string
		r    *registry.Registry
		on   string
		want string
	}{
		{"the fruit hangs", unopened, "2025-09-01", "branch stake seedling"},
		{"no fruit hangs for nine months", unopened, "2026-01-28", "stake seedling"}, // 2025-05-02 and 270 days are 2026-01-27
		{"the fruit was opened", r, "2025-11-01", "stake seedling"},
		{"the cross failed", failed, "2025-11-01", "stake seedling"},
		{"the pot was lost", lost, "2026-08-01", "seedling"},
		{"the pot ended by itself", empty, "2026-08-01", "seedling"},
		{"the seedling died", dead, "2026-08-01", "stake"},
	} {
		if got := worn(c.r, c.on); got != c.want {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
	}
}
