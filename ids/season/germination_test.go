package season

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"pipstake/ids"
	"pipstake/ids/registry"
)

// nursery is two crosses of two years with a parent in common, spelled in two
// ways, in five pots: three counted, one not, one void.
func nursery(t *testing.T) *registry.Registry {
	t.Helper()
	return orchard(t, 1, func(r *registry.Registry) error {
		other, err := r.AddCross(registry.NewCross{SeedParent: "tarn  amber", PollenParent: "Larkfield Tessel", Pollinated: day(t, "2024-05-02"), Year: 2024})
		if err != nil {
			return err
		}
		if _, err := r.AddLots(other.ID, 1, day(t, "2024-06-01")); err != nil {
			return err
		}
		for _, s := range []struct {
			lot                ids.ID
			seeds, undeveloped int
			on, sown           string
			pots               []int
		}{
			{lotA, 30, 6, "2025-11-01", "2026-01-01", []int{10, 8, 4}},
			{other.ID.Child(1), 12, 2, "2024-11-01", "2025-01-01", []int{5, 5}},
		} {
			_, err := r.Extract(s.lot, registry.Extraction{Seeds: registry.Known(s.seeds), Undeveloped: registry.Known(s.undeveloped), On: day(t, s.on)})
			if err == nil {
				_, err = r.Sow(s.lot, registry.Sowing{Seeds: s.pots, On: day(t, s.sown)})
			}
			if err != nil {
				return err
			}
		}
		for _, c := range []registry.Emergence{
			{Pot: potA1, On: day(t, "2026-02-10"), Up: registry.Known(3)},
			{Pot: potA1, On: day(t, "2026-02-20"), Up: registry.Known(9), Died: registry.Known(1)},
			{Pot: potA1, On: day(t, "2026-02-27"), Up: registry.Known(9)}, // nobody counted the dead
			{Pot: lotA.Child(2), On: day(t, "2026-02-20"), Up: registry.Known(6)},
			{Pot: other.ID.Child(1).Child(1), On: day(t, "2025-02-20"), Up: registry.Known(0)},
		} {
			if _, err := r.CountPot(c); err != nil {
				return err
			}
		}
		return r.Void(other.ID.Child(1).Child(2), "slugs")
	})
}

func TestGerminateBy(t *testing.T) {
	r := nursery(t)
	practice := Practice{Protocol: CommonPractice()}
	for _, c := range []struct {
		by   By
		want string
	}{
		{ByCross, "2024X001 0/5+1 of 1, 2025X001 15/18+5 of 2 (1 died)"}, // 2·5/10 and 6·18/24 = 4.5
		{ByLot, "2024X001-A 0/5+1 of 1, 2025X001-A 15/18+5 of 2 (1 died)"},
		{ByPot, "2024X001-A1 0/5+0 of 1, 2025X001-A1 9/10+0 of 1 (1 died), 2025X001-A2 6/8+0 of 1"},
		{BySeedParent, "Larkfield Tessel 15/18+5 of 2 (1 died), tarn  amber 0/5+1 of 1"},
		{ByPollenParent, "Larkfield Tessel 0/5+1 of 1, Tarn Amber 15/18+5 of 2 (1 died)"},
		{ByYear, "2024 0/5+1 of 1, 2025 15/18+5 of 2 (1 died)"},
	} {
		out := Germinate(r, practice, c.by, nil)
		var got []string
		for _, g := range out.Groups {
			s := fmt.Sprintf("%s %d/%d+%d of %d", g.Name, g.Up, g.Sown, g.Undeveloped, g.Pots)
			if g.Died > 0 {
				s += fmt.Sprintf(" (%d died)", g.Died)
			}
			got = append(got, s)
		}
		if s := strings.Join(got, ", "); s != c.want {
			t.Errorf("by %d: %s, want %s", c.by, s, c.want)
		}
		if len(out.Uncounted) != 1 || out.Uncounted[0] != lotA.Child(3) || out.Unusable != nil {
			t.Errorf("by %d: without a count %v, unusable %v", c.by, out.Uncounted, out.Unusable)
		}
	}
	if out := Germinate(r, practice, ByPot, []ids.ID{lotA.Child(2)}); len(out.Groups) != 1 || out.Groups[0].Up != 6 {
		t.Errorf("within one pot: %+v", out.Groups)
	}
}

func TestGroupOverPots(t *testing.T) {
	out := Germinate(nursery(t), Practice{Protocol: CommonPractice()}, ByCross, []ids.ID{crossOne})
	g := out.Groups[0]
	if want := []Rise{{40, 3}, {50, 12}, {57, 0}}; !slices.Equal(g.Rises, want) {
		t.Errorf("rises %v, want %v", g.Rises, want)
	}
	if g.From.String() != "2026-01-01" || g.Until.String() != "2026-02-27" || math.Abs(g.Expected-.85) > 1e-12 {
		t.Errorf("%+v", g)
	}
	if math.Abs(g.Rate()-15./18) > 1e-12 || math.Abs(g.RateOfAll()-15./23) > 1e-12 {
		t.Errorf("rates %v, %v", g.Rate(), g.RateOfAll())
	}
}

// The flag is for an interval wholly below; 81 of 263 ends at .3662 (Newcombe
// 1998, as above).
func TestBelow(t *testing.T) {
	for _, c := range []struct {
		expected float64
		want     bool
	}{{.3661, false}, {.3663, true}} {
		if g := (Group{Up: 81, Sown: 263, Expected: c.expected}); g.Below(Wilson) != c.want {
			t.Errorf("expected %v: %v", c.expected, !c.want)
		}
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
		if (germinating{pot: c.pot, counts: c.counts}).sound() {
			t.Errorf("%s: taken for sound", name)
		}
	}
	if !(germinating{pot: pot, counts: []registry.Emergence{count("2026-01-01", 0), count("2026-02-01", 8)}}).sound() {
		t.Error("a sound pot is refused")
	}
}

func TestInHand(t *testing.T) {
	r := nursery(t)
	cross, _ := r.Cross(crossOne)
	h := InHandOf(r, Practice{Protocol: CommonPractice()}, cross, Aim{Seedlings: 20, Certainty: .95})
	// 24 good seeds: 18 in counted pots, of which 15 came up and 1 died; 4 in a
	// pot without a count and 2 in the bag are open. 6 seedlings are missing.
	if h.Seeds != 24 || h.Up != 14 || h.Open != 6 || h.InBags != 2 || h.Lots != 1 || h.Unopened != 0 {
		t.Errorf("%+v", h)
	}
	if want := SeedsFor(6, .95, .85); h.Needed != want || h.Short() != want-6 {
		t.Errorf("needed %d, short %d, want %d and %d", h.Needed, h.Short(), want, want-6)
	}
	if want := math.Pow(.85, 6); math.Abs(h.Chance-want) > 1e-12 { // all six must come up
		t.Errorf("chance %v, want %v", h.Chance, want)
	}
	if h := InHandOf(r, Practice{Protocol: CommonPractice()}, cross, Aim{Seedlings: 14, Certainty: .95}); h.Needed != 0 || h.Chance != 1 || h.Short() != 0 {
		t.Errorf("what is there already: %+v", h)
	}
}

// 16 seeds for 10 seedlings at .8 (Sedcole's layout, recomputed); five to ten
// seeds an apple is common practice.
func TestPlanFor(t *testing.T) {
	got := PlanFor(Aim{Seedlings: 10, Certainty: .95, Rate: .8}, CommonPractice())
	if want := (Plan{Rate: .8, Seeds: 16, LeastFruit: 2, MostFruit: 4, Pots: 2, Stakes: 4}); got != want {
		t.Errorf("%+v, want %+v", got, want)
	}
	if got := PlanFor(Aim{Seedlings: 1, Certainty: .95}, CommonPractice()); got.Rate != .85 || got.Seeds != 2 {
		t.Errorf("by the protocol: %+v", got)
	}
}
