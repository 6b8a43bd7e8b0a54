package season

import (
	"fmt"
	"testing"

	"pipstake/ids/registry"
)

// A pot ends by itself once its counting is over and all that came up is
// pricked out or dead.
func TestPotsEndByThemselves(t *testing.T) {
	r := nursery(t) // 9 of 10 up on 2026-02-27, one of them dead
	prick := func(n int, on string) *registry.Registry {
		r := with(t, r, "pots.csv", potA1, nil)
		err := registry.Change(r.Dir(), registry.Options{}, func(r *registry.Registry) error {
			_, err := r.AddSeedlings(potA1, n, day(t, on))
			return err
		})
		if err != nil {
			t.Fatal(err)
		}
		r, err = registry.Open(r.Dir())
		if err != nil {
			t.Fatal(err)
		}
		return r
	}
	for _, c := range []struct {
		name string
		r    *registry.Registry
		on   string
		want string
	}{
		{"one is left", prick(7, "2026-03-10"), "2026-06-01", ""},
		{"all are out, more may come up", prick(8, "2026-03-10"), "2026-03-15", ""},
		{"all are out", prick(8, "2026-03-10"), "2026-03-16", "emptied 2026-03-15 by itself"},
		{"all are out later", prick(8, "2026-04-02"), "2026-04-02", "emptied 2026-04-02 by itself"},
		{"all seeds came up", with(t, prick(8, "2026-03-10"), "pots.csv", potA1, map[string]string{"seeds": "9"}), "2026-03-10", "emptied 2026-03-10 by itself"},
		{"somebody said so", with(t, r, "pots.csv", potA1, map[string]string{"fate": "lost", "ended": "2026-03-03"}), "2026-03-04", "lost 2026-03-03"},
	} {
		pot, _ := c.r.Pot(potA1)
		got := ""
		if e, ended := PotEnding(c.r, Practice{Protocol: CommonPractice()}, pot, day(t, c.on)); ended {
			got = fmt.Sprintf("%s %s", e.Fate, e.On)
			if e.ByItself {
				got += " by itself"
			}
		}
		if got != c.want {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
	}
	uncounted, _ := r.Pot(lotA.Child(3))
	if e, ended := PotEnding(r, Practice{Protocol: CommonPractice()}, uncounted, day(t, "2027-01-01")); ended {
		t.Errorf("nobody counted it: %+v", e)
	}
}

func TestUnsoundPots(t *testing.T) {
	pot := registry.Pot{ID: potA1, Seeds: registry.Known(8), Sown: day(t, "2026-01-01")}
	count := func(on string, up int) registry.Emergence {
		return registry.Emergence{Pot: potA1, On: day(t, on), Up: registry.Known(up)}
	}
	dead := count("2026-03-01", 4)
	dead.Died = registry.Known(5)
	for name, c := range map[string]struct {
		pot    registry.Pot
		counts []registry.Emergence
	}{
		"falling":       {pot, []registry.Emergence{count("2026-02-01", 5), count("2026-03-01", 4)}},
		"too many":      {pot, []registry.Emergence{count("2026-02-01", 9)}},
		"before sowing": {pot, []registry.Emergence{count("2025-12-31", 1)}},
		"the same day":  {pot, []registry.Emergence{count("2026-02-01", 1), count("2026-02-01", 2)}},
		"no day":        {pot, []registry.Emergence{{Pot: potA1, Up: registry.Known(1)}}},
		"no number":     {pot, []registry.Emergence{{Pot: potA1, On: day(t, "2026-02-01")}}},
		"dead alive":    {pot, []registry.Emergence{dead}},
		"no seeds":      {registry.Pot{ID: potA1, Sown: pot.Sown}, nil},
		"never sown":    {registry.Pot{ID: potA1, Seeds: pot.Seeds}, nil},
	} {
		if (potLife{c.pot, c.counts}).sound() {
			t.Errorf("%s: taken for sound", name)
		}
	}
	if !(potLife{pot, []registry.Emergence{count("2026-01-01", 0), count("2026-02-01", 8)}}).sound() {
		t.Error("a sound pot is refused")
	}
}
