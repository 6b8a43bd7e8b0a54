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
	few, more := count("2026-02-01", 4), count("2026-03-01", 4)
	few.Died, more.Died = registry.Known(4), registry.Known(3)
	if (potLife{pot, []registry.Emergence{few, more}}).sound() {
		t.Error("the dead rise again, and are taken for sound")
	}
	more.Died = registry.Known(4)
	for name, l := range map[string]potLife{
		"up to all seeds":  {pot, []registry.Emergence{count("2026-01-01", 0), count("2026-02-01", 8)}},
		"all dead":         {pot, []registry.Emergence{few, more}},
		"one seed":         {registry.Pot{ID: potA1, Seeds: registry.Known(1), Sown: pot.Sown}, nil},
		"nothing came up":  {pot, []registry.Emergence{count("2026-02-01", 0), count("2026-02-02", 0)}},
		"on day of sowing": {pot, []registry.Emergence{count("2026-01-01", 2)}},
	} {
		if !l.sound() {
			t.Errorf("%s: a sound pot is refused", name)
		}
	}
}

// How far the counting of a pot is, by when it ended and when it was last counted.
// The season of looking ends on 15 March.
func TestHowFarCountingIs(t *testing.T) {
	e := CommonPractice().Emergence
	for _, c := range []struct {
		fate        registry.Fate
		ended       string
		seeds, up   int
		counted, on string
		want        Counting
	}{
		{"", "", 8, 3, "2026-02-20", "2026-03-15", Going},
		{"", "", 8, 3, "2026-02-20", "2026-03-16", Over},
		{"", "", 8, 8, "2026-02-20", "2026-02-20", Over},
		{"", "", 8, 9, "2026-02-20", "2026-02-20", Over},
		{"", "", 8, 3, "2026-03-14", "2026-03-14", Going},
		{"", "", 8, 3, "2026-03-15", "2026-03-15", Over}, // the last count of the season
		{registry.Lost, "2026-03-01", 8, 3, "2026-02-20", "2026-03-10", BrokenOff},
		{registry.Lost, "2026-03-15", 8, 3, "2026-02-20", "2026-03-20", BrokenOff},
		{registry.Lost, "2026-03-16", 8, 3, "2026-02-20", "2026-03-20", Over},
		{registry.Lost, "", 8, 3, "2026-02-20", "2026-03-10", BrokenOff}, // nobody knows when
		{registry.Lost, "2026-03-01", 8, 8, "2026-02-20", "2026-03-10", Over},
		{registry.Emptied, "2026-03-01", 8, 3, "2026-02-20", "2026-03-10", Over},
		{"", "", -1, 0, "2026-02-20", "2026-03-10", Going}, // how many seeds is not known
	} {
		pot := registry.Pot{ID: potA1, Seeds: registry.Known(c.seeds), Sown: day(t, "2026-01-14"), Fate: c.fate}
		if c.ended != "" {
			pot.Ended = day(t, c.ended)
		}
		if c.seeds < 0 {
			pot.Seeds = registry.Count{}
		}
		l := potLife{pot, []registry.Emergence{{Pot: potA1, On: day(t, c.counted), Up: registry.Known(c.up)}}}
		if got := l.counting(e, day(t, c.on)); got != c.want {
			t.Errorf("%+v: %d", c, got)
		}
	}
	if got := (potLife{registry.Pot{ID: potA1, Seeds: registry.Known(8), Sown: day(t, "2026-01-14")}, nil}).counting(e, day(t, "2026-03-10")); got != Going {
		t.Errorf("never counted: %d", got)
	}
}

// Seedlings pricked out on days that nobody wrote down live, whatever the counts say.
func TestSeedlingsWithoutADayLive(t *testing.T) {
	r := written(t, map[string]string{
		"crosses.csv":   crossesHeader + "2024X001,Ann,Bob,,,,,,,,,",
		"lots.csv":      lotsHeader + "2024X001-A,,2024-10-01,,20,2,,,,,,",
		"pots.csv":      potsHeader + "2024X001-A1,5,2025-01-10,,,,,",
		"seedlings.csv": seedlingsHeader + "2024X001-A1-A,,,,,,,\n2024X001-A1-B,,,,,,,",
		"emergence.csv": emergenceHeader + "2024X001-A1,2025-03-10,1,0,",
	})
	if got := AliveIn(r, r.Pots()[0]); got != 2 {
		t.Errorf("%d alive, want 2", got)
	}
}

// Of seedlings that were pricked out, the last day counts, whatever the order of the
// rows; those that are void or have no day do not.
func TestPotEndsOnItsLastDay(t *testing.T) {
	for _, c := range []struct{ seedlings, want string }{
		{"2024X001-A1-A,2025-06-02,,,,,,\n2024X001-A1-B,2025-05-01,,,,,,", "2025-06-02"},
		{"2024X001-A1-A,2025-05-01,,,,,,\n2024X001-A1-B,2025-06-02,,,,,,", "2025-06-02"},
		{"2024X001-A1-A,2025-05-01,,,,,,\n2024X001-A1-B,2025-06-02,void,,,,,", ""},
		{"2024X001-A1-A,2025-05-01,,,,,,\n2024X001-A1-B,,,,,,,", ""},
		{"2024X001-A1-A,2025-05-01,,,,,,\n2024X001-A1-B,,,,,,,\n2024X001-A1-C,2025-05-03,,,,,,", "2025-05-03"},
	} {
		r := written(t, map[string]string{
			"crosses.csv":   crossesHeader + "2024X001,Ann,Bob,,,,,,,,,",
			"lots.csv":      lotsHeader + "2024X001-A,,2024-10-01,,20,2,,,,,,",
			"pots.csv":      potsHeader + "2024X001-A1,5,2025-01-10,,,,,",
			"seedlings.csv": seedlingsHeader + c.seedlings,
			"emergence.csv": emergenceHeader + "2024X001-A1,2025-03-10,3,1,",
		})
		got := ""
		if e, ended := PotEnding(r, Practice{Protocol: CommonPractice()}, r.Pots()[0], day(t, "2025-07-01")); ended {
			got = e.On.String()
		}
		if got != c.want {
			t.Errorf("%q: ended %q, want %q", c.seedlings, got, c.want)
		}
	}
}
