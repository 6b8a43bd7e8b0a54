package reading

import (
	"fmt"
	"slices"
	"testing"

	"pipstake/ids"
	"pipstake/ids/registry"
	"pipstake/label/symbol"
)

// sightings reads "1 SCAN full", one a line: the copy, the source, and whether
// the code has a text. Sources that begin with "photo" are photographs; a
// number alone at its place stands for the code of another stake.
func sightings(lines ...string) []Sighting {
	var s Stocktake
	for _, line := range lines {
		var source, text string
		fmt.Sscanf(line, "%s %s", &source, &text)
		code := symbol.Payload{ID: potA.Child(1), Copy: 1}
		if text == "full" {
			code.Text = "7 SOWN LARKFIELD TESSEL X TARN AMBER"
		}
		if text == "other" {
			code.Copy = 2
		}
		s.See(Sighting{Code: code, Source: source, Where: line, Photo: source[:1] == "p"})
	}
	return slices.DeleteFunc(s.Sightings, func(s Sighting) bool { return s.Code.Copy == 2 })
}

var potA = ids.ID{Year: 2026, Cross: 1, Lot: 1}

// One stake has a compact code and a full one, a scanner may send one twice at
// once, and two photographs may show one pot; everything else is two stakes.
func TestSecondSighting(t *testing.T) {
	for _, c := range []struct {
		name        string
		seen        []string
		first, then int // of the two told, from 1; 0 for none
	}{
		{"once", []string{"scan full"}, 0, 0},
		{"both codes of a stake", []string{"scan compact", "scan full"}, 0, 0},
		{"thrice at once", []string{"scan full", "scan full", "scan full"}, 0, 0},
		{"another in between", []string{"scan full", "scan other", "scan full"}, 1, 2},
		{"another in between, after both codes", []string{"scan compact", "scan full", "scan other", "scan compact"}, 1, 3},
		{"in two files", []string{"scan full", "scan2 full"}, 0, 0},
		{"in two files, with another in between", []string{"scan full", "scan2 other", "scan2 full"}, 0, 0},
		{"both codes on a photograph", []string{"photo full", "photo compact"}, 0, 0},
		{"both codes and again the compact one on a photograph", []string{"photo compact", "photo full", "photo compact"}, 0, 0},
		{"two full codes on a photograph", []string{"photo full", "photo other", "photo full"}, 1, 2},
		{"two full codes behind a compact one", []string{"photo compact", "photo full", "photo full"}, 2, 3},
		{"on two photographs", []string{"photo1 full", "photo2 full"}, 0, 0},
	} {
		seen := sightings(c.seen...)
		a, b, ok := twice(seen)
		if ok != (c.first > 0) {
			t.Errorf("%s: two stakes: %v", c.name, ok)
		} else if ok && (a != seen[c.first-1] || b != seen[c.then-1]) {
			t.Errorf("%s: %q and %q, want sightings %d and %d", c.name, a.Where, b.Where, c.first, c.then)
		}
	}
}

// A walk along three pots, with the codes of others. What is seen twice is told
// once, where it was seen first.
func TestStocktakeTellsOnce(t *testing.T) {
	r := sown(t)
	pot := func(n int) ids.ID { return potA.Child(n) }
	s := &Stocktake{Today: registry.Date{Year: 2027, Month: 3, Day: 1}}
	s.Expect(r)
	for i, code := range []symbol.Payload{
		{ID: pot(1), Copy: 1}, {ID: pot(1), Copy: 2}, {ID: pot(3), Copy: 1},
		{ID: pot(9), Copy: 1}, {ID: pot(9), Copy: 2}, // in no registry
		{ID: potA}, {ID: potA}, // the bag's
		{ID: pot(1), Copy: 1},
		{ID: pot(4), Copy: 1}, {ID: pot(4), Copy: 1}, // void
	} {
		s.See(Sighting{Code: code, Source: "walk.csv", Where: fmt.Sprintf("line %d", i+1)})
	}
	s.Judge(r)
	var got []string
	for _, f := range s.Findings {
		if f.Kind != OddLabel {
			got = append(got, fmt.Sprintf("%s %s/%d %s %s", f.Kind, f.ID, f.Copy, f.At.Where, f.Again.Where))
		}
	}
	want := []string{
		"pot_not_seen 2026X001-A2/0  ",
		"stake_lost 2026X001-A3/2  ",
		"seen_twice 2026X001-A1/1 line 1 line 8",
		"unknown 2026X001-A9/0 line 4 ",
		"void 2026X001-A4/0 line 9 ",
	}
	if !slices.Equal(got, want) {
		t.Errorf("found\n%q, want\n%q", got, want)
	}
	if want := (Tally{Expected: 3, Seen: 2, NotSeen: 1, Lost: 1, Twice: 1, Unknown: 1, Void: 1}); s.Tally != want || s.Others != 2 {
		t.Errorf("%+v and %d others, want %+v and 2", s.Tally, s.Others, want)
	}
	if want := []Key{{registry.StakeFace, pot(3), 2}}; !slices.Equal(s.Replace, want) {
		t.Errorf("to print anew: %v, want %v", s.Replace, want)
	}
}

// sown is a registry with four pots, of which the last is void.
func sown(t *testing.T) *registry.Registry {
	t.Helper()
	dir := t.TempDir()
	if err := registry.Init(dir); err != nil {
		t.Fatal(err)
	}
	on := registry.Date{Year: 2027, Month: 1, Day: 14}
	err := registry.Change(dir, registry.Options{}, func(r *registry.Registry) error {
		if _, err := r.AddCross(registry.NewCross{SeedParent: "Larkfield Tessel", PollenParent: "Tarn Amber", Year: 2026}); err != nil {
			return err
		}
		if _, err := r.AddLots(potA.At(ids.CrossLevel), 1, registry.Date{}); err != nil {
			return err
		}
		if _, err := r.Extract(potA, registry.Extraction{Seeds: registry.Known(28), On: registry.Date{Year: 2026, Month: 12, Day: 1}}); err != nil {
			return err
		}
		if _, err := r.Sow(potA, registry.Sowing{Seeds: []int{7, 7, 7, 7}, On: on}); err != nil {
			return err
		}
		return r.Void(potA.Child(4), "dropped")
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
