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
	r = with(t, r, "lots.csv", lotA, map[string]string{"chilled": "2025-11-18"})
	r = with(t, r, "pots.csv", potA1, map[string]string{"place": "cold frame"})
	r = with(t, r, "pots.csv", lotA.Child(2), map[string]string{"place": "Cold  Frame"})
	r = with(t, r, "pots.csv", ids.ID{Year: 2024, Cross: 1, Lot: 1, Pot: 1}, map[string]string{"place": "bench"})
	practice := Practice{Protocol: CommonPractice()}
	for _, c := range []struct {
		by   By
		want string
	}{
		{ByCross, "2024X001 0/5+1 of 1, 2025X001 15/18+5 of 2 (1 died)"}, // 2·5/10 and 6·18/24 = 4.5
		{ByLot, "2024X001-A 0/5+1 of 1, 2025X001-A 15/18+5 of 2 (1 died)"},
		{ByPot, "2024X001-A1 0/5+0 of 1, 2025X001-A1 9/10+0 of 1 (1 died), 2025X001-A2 6/8+0 of 1"},
		{BySeedParent, "Larkfield Tessel 15/18+5 of 2 (1 died), Tarn Amber 0/5+1 of 1"},
		{ByPollenParent, "Larkfield Tessel 0/5+1 of 1, Tarn Amber 15/18+5 of 2 (1 died)"},
		{ByYear, "2024 0/5+1 of 1, 2025 15/18+5 of 2 (1 died)"},
		{BySowingYear, "2025 0/5+1 of 1, 2026 15/18+5 of 2 (1 died)"},
		{ByCombination, "Larkfield Tessel × Tarn Amber 15/18+5 of 2 (1 died), Tarn Amber × Larkfield Tessel 0/5+1 of 1"},
		{ByPlace, "bench 0/5+1 of 1, cold frame 15/18+5 of 2 (1 died)"},
		{ByCold, " 0/5+1 of 1, 42–48 15/18+5 of 2 (1 died)"}, // none on record; 44 days
	} {
		out := Germinate(r, practice, c.by, Scope{On: day(t, "2026-05-01")})
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
	if out := Germinate(r, practice, ByPot, Scope{Within: []ids.ID{lotA.Child(2)}}); len(out.Groups) != 1 || out.Groups[0].Up != 6 {
		t.Errorf("within one pot: %+v", out.Groups)
	}
}

// A parent is one, however it is named: by another spelling on record, as an own
// seedling by its name or its identifier, and in words for pollen that people
// write by hand.
func TestGroupsOfOneParentByItsNames(t *testing.T) {
	r := varietyFamily(t, "1 = Rote Anne × op\n2 = Red Ann × open-pollinated\n3 = RED  ANN × 1a\n4 = R. Ann × The Pick", "Red Ann,Rote Anne; R. Ann,,,,,,,\n",
		"2001X001-A1-A,2002-04-01,,,,The Pick,,")
	for by, want := range map[By]string{
		BySeedParent:   "Red Ann 4",
		ByPollenParent: "open 2, The Pick 2",
		ByCombination:  "Red Ann × open 2, Red Ann × The Pick 2",
	} {
		var got []string
		for _, y := range YieldOf(r, Practice{Protocol: CommonPractice()}, by, Scope{}).Groups {
			got = append(got, fmt.Sprintf("%s %d", y.Name, len(y.IDs)))
		}
		if s := strings.Join(got, ", "); s != want {
			t.Errorf("by %d: %s, want %s", by, s, want)
		}
	}
	for by, written := range map[By][2]string{BySeedParent: {"rote  anne", "Red Ann"}, ByPollenParent: {"O. P.", "open"}, ByCombination: {"R. Ann x 2001X001-A1-A", "Red Ann × The Pick"}, ByPlace: {" cold  frame", "cold frame"}} {
		if got := NewGrouper(r, by).Name(written[0]); got != written[1] {
			t.Errorf("by %d: %q is %q, want %q", by, written[0], got, written[1])
		}
	}
}

// Germination by pollen parent as published: seed of one mother 58 % with one
// pollen parent and 89 % with another, doi 10.1007/978-94-011-0467-8_46, as quoted
// in public copies. How many seeds they were is not quoted; of 100 each the
// percentages are the numbers, and Fisher's exact test calls it a difference.
func TestGerminationByPollenParentAsPublished(t *testing.T) {
	r := orchard(t, 1, func(r *registry.Registry) error {
		for i, up := range []int{58, 89} {
			c, err := r.AddCross(registry.NewCross{SeedParent: "Mother", PollenParent: []string{"First", "Second"}[i], Pollinated: day(t, "2023-05-04")})
			if err != nil {
				return err
			}
			lots, err := r.AddLots(c.ID, 1, day(t, "2023-09-01"))
			if err != nil {
				return err
			}
			if _, err := r.Extract(lots[0].ID, registry.Extraction{Seeds: registry.Known(100), On: day(t, "2023-11-01")}); err != nil {
				return err
			}
			pots, err := r.Sow(lots[0].ID, registry.Sowing{Seeds: []int{100}, On: day(t, "2024-01-20")})
			if err != nil {
				return err
			}
			if _, err := r.AddEmergence(pots[0].ID, day(t, "2024-04-01"), up); err != nil {
				return err
			}
		}
		return nil
	})
	groups := Germinate(r, Practice{Protocol: CommonPractice()}, ByPollenParent, Scope{Years: []int{2023}, On: day(t, "2024-12-01")}).Groups
	if len(groups) != 2 || math.Round(100*groups[0].Rate()) != 58 || math.Round(100*groups[1].Rate()) != 89 {
		t.Fatalf("%+v", groups)
	}
	if got := Compare(groups[0].Judged, groups[1].Judged); got.Fisher > 1e-5 || !got.Differ() {
		t.Errorf("%+v", got)
	}
}

// Only pots whose counting is over are judged: by what expectation they lie
// below, and when half was up. The figures of the others are those so far.
func TestVerdictsWait(t *testing.T) {
	r := nursery(t)
	practice := Practice{Protocol: CommonPractice()}
	for _, c := range []struct {
		name                   string
		r                      *registry.Registry
		on                     string
		going, brokenOff, over int
		up, sown               int // of those that are over
	}{
		{"the season goes on", r, "2026-03-15", 2, 0, 0, 0, 0},
		{"it is over", r, "2026-03-16", 0, 0, 2, 15, 18},
		{"a pot is lost before", with(t, r, "pots.csv", potA1, map[string]string{"fate": "lost", "ended": "2026-03-01"}), "2026-03-16", 0, 1, 1, 6, 8},
		{"a pot is lost after", with(t, r, "pots.csv", potA1, map[string]string{"fate": "lost", "ended": "2026-03-16"}), "2026-05-01", 0, 0, 2, 15, 18},
		{"a pot is emptied", with(t, r, "pots.csv", potA1, map[string]string{"fate": "emptied", "ended": "2026-03-01"}), "2026-03-02", 1, 0, 0, 0, 0}, // it waits for the other
		{"all seeds of a pot are up", with(t, r, "pots.csv", potA1, map[string]string{"seeds": "9"}), "2026-03-01", 1, 0, 0, 0, 0},
		{"all seeds of all pots are up", with(t, with(t, r, "pots.csv", potA1, map[string]string{"seeds": "9"}), "pots.csv", lotA.Child(2), map[string]string{"seeds": "6"}), "2026-03-01", 0, 0, 2, 15, 15},
		{"a lot is discarded", with(t, r, "lots.csv", lotA, map[string]string{"fate": "discarded", "ended": "2026-03-01"}), "2026-05-01", 0, 0, 2, 15, 18},
	} {
		g := Germinate(c.r, practice, ByCross, Scope{Within: []ids.ID{crossOne}, On: day(t, c.on)}).Groups[0]
		if g.Up != 15 || g.Pots != 2 {
			t.Errorf("%s: %d up in %d pots, counts are counts", c.name, g.Up, g.Pots)
		}
		if g.Going != c.going || g.BrokenOff != c.brokenOff || g.Over.Pots != c.over || g.Over.Up != c.up || g.Over.Sown != c.sown || g.Timed != (c.over > 0) {
			t.Errorf("%s: %+v", c.name, g)
		}
	}
	// Two of ten are few, but not before the end.
	few := with(t, r, "emergence.csv", lotA.Child(2), map[string]string{"up": "0"})
	for on, below := range map[string]bool{"2026-03-15": false, "2026-03-16": true} {
		g := Germinate(few, practice, ByPot, Scope{Within: []ids.ID{lotA.Child(2)}, On: day(t, on)}).Groups[0]
		if g.Below(Wilson) != below {
			t.Errorf("0 of 8 on %s: below %v", on, !below)
		}
	}
}

func TestGroupOverPots(t *testing.T) {
	out := Germinate(nursery(t), Practice{Protocol: CommonPractice()}, ByCross, Scope{Within: []ids.ID{crossOne}, On: day(t, "2026-05-01")})
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
		if g := (Group{Over: Counted{Up: 81, Sown: 263, Expected: c.expected}}); g.Below(Wilson) != c.want {
			t.Errorf("expected %v: %v", c.expected, !c.want)
		}
	}
}
