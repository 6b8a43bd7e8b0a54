package reading

import (
	"fmt"
	"slices"
	"testing"

	"pipstake/ids"
	"pipstake/ids/registry"
	"pipstake/label/symbol"
)

func day(t *testing.T, text string) registry.Date {
	t.Helper()
	d, err := registry.ParseDate(text)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

func id(t *testing.T, text string) ids.ID {
	t.Helper()
	read, err := ids.Parse(text)
	if err != nil {
		t.Fatal(err)
	}
	return read.ID
}

// code reads a code's text, or an identifier as somebody types it.
func code(t *testing.T, text string) symbol.Payload {
	t.Helper()
	if p, _, err := symbol.ParsePayload(text); err == nil {
		return p
	}
	p, _, err := symbol.ParseScan(text) // typed, without its check character
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// orchard is a registry with a cross, a seed lot of 20 seeds and three pots of 7, 6
// and 5 of them, whose labels are printed; more may be done to it.
func orchard(t *testing.T, more ...func(*registry.Registry) error) *registry.Registry {
	t.Helper()
	dir := t.TempDir()
	if err := registry.Init(dir); err != nil {
		t.Fatal(err)
	}
	steps := append([]func(*registry.Registry) error{func(r *registry.Registry) error {
		cross, err := r.AddCross(registry.NewCross{SeedParent: "Larkfield Tessel", PollenParent: "Tarn Amber", Pollinated: day(t, "2026-05-02")})
		if err != nil {
			return err
		}
		lots, err := r.AddLots(cross.ID, 1, day(t, "2026-05-02"))
		if err != nil {
			return err
		}
		lot := lots[0].ID
		if _, err := r.Extract(lot, registry.Extraction{Seeds: registry.Known(20), On: day(t, "2026-10-01")}); err != nil {
			return err
		}
		pots, err := r.Sow(lot, registry.Sowing{Seeds: []int{7, 6, 5}, On: day(t, "2027-01-14"), Place: "frame 2"})
		if err != nil {
			return err
		}
		prints := []registry.Print{{Face: registry.BranchFace, ID: cross.ID}, {Face: registry.BagFace, ID: lot}}
		for _, pot := range pots {
			text, err := symbol.Facts{Seeds: pot.Seeds.N, Sown: pot.Sown.String(), SeedParent: cross.SeedParent, PollenParent: cross.PollenParent}.Text()
			if err != nil {
				return err
			}
			for _, key := range KeysOf(pot.ID) {
				prints = append(prints, registry.Print{Face: key.Face, ID: key.ID, Copy: key.Copy, Payload: symbol.Payload{ID: key.ID, Copy: key.Copy, Text: text}.String()})
			}
		}
		for i := range prints {
			prints[i].Stock, prints[i].Sheet, prints[i].Cell = "a4-cut-148x20", 1, i+1
			if prints[i].Payload == "" {
				prints[i].Payload = prints[i].ID.WithCheck()
			}
		}
		_, err = r.AddLabels(day(t, "2027-01-14"), prints)
		return err
	}}, more...)
	err := registry.Change(dir, registry.Options{}, func(r *registry.Registry) error {
		for i, step := range steps {
			if err := step(r); err != nil {
				return fmt.Errorf("step %d: %w", i+1, err)
			}
		}
		return nil
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

// The text of the first pot's stakes.
const seven = " 7 SOWN 2027-01-14 LARKFIELD TESSEL X TARN AMBER"

func TestKeys(t *testing.T) {
	for text, want := range map[string]string{
		"2026X012":      "[branch 2026X012]",
		"2026X012-B":    "[bag 2026X012-B]",
		"2026X012-B2":   "[stake 2026X012-B2, copy 1 stake 2026X012-B2, copy 2]",
		"2026X012-B2-C": "[seedling 2026X012-B2-C]",
	} {
		var said []string
		for _, k := range KeysOf(id(t, text)) {
			said = append(said, fmt.Sprintf("%s %s", k.Face, k))
		}
		if got := fmt.Sprint(said); got != want {
			t.Errorf("%s: %s, want %s", text, got, want)
		}
	}
	if keys := KeysOf(ids.ID{Year: 2026}); keys != nil {
		t.Errorf("a year has labels: %v", keys)
	}
}

// A seedling that was grafted has a label for itself and one for each copy.
func TestGraftsHaveLabels(t *testing.T) {
	r := orchard(t, func(r *registry.Registry) error {
		if _, err := r.AddSeedlings(id(t, "2026X001-A1"), 1, day(t, "2027-03-01")); err != nil {
			return err
		}
		_, err := r.Graft(id(t, "2026X001-A1-A"), 2, day(t, "2028-02-01"), "")
		return err
	})
	if got, want := fmt.Sprint(KeysIn(r, id(t, "2026X001-A1-A"))), "[2026X001-A1-A 2026X001-A1-A, copy 1 2026X001-A1-A, copy 2]"; got != want {
		t.Errorf("%s, want %s", got, want)
	}
	if got := len(KeysIn(r, id(t, "2026X001-A1"))); got != 2 {
		t.Errorf("a pot has %d labels", got)
	}
}

// The answer to a scan names what is wrong, and nothing else.
func TestAnswers(t *testing.T) {
	void := func(r *registry.Registry) error { return r.Void(id(t, "2026X001-A3"), "typed twice") }
	lost := func(r *registry.Registry) error {
		_, err := r.End(registry.Ending{ID: id(t, "2026X001-A2"), How: registry.Lost, On: day(t, "2027-02-01")})
		return err
	}
	recount := func(r *registry.Registry) error {
		_, err := r.Correct(id(t, "2026X001-A1"), registry.Correction{Seeds: known(8)})
		return err
	}
	retire := func(r *registry.Registry) error {
		r.RetireLabels(func(l registry.Label) bool { return l.ID == id(t, "2026X001-A1") }, registry.Replaced)
		return nil
	}
	untouched := orchard(t)
	for _, c := range []struct {
		code string
		done func(*registry.Registry) error
		want []Kind
	}{
		{"2026X001-A1.X/1" + seven, nil, nil},
		{"2026X001-A1", nil, nil},
		{"2026X001-A9", nil, []Kind{Unknown}},
		{"2026X002", nil, []Kind{Unknown}},
		{"2026X001-A3", void, []Kind{Void}},
		{"2026X001-A2", lost, nil}, // what has ended needs no label
		{"2026X001-A1.X/1 8 SOWN 2027-01-14 LARKFIELD TESSEL X TARN AMBER", nil, []Kind{Stale}},
		{"2026X001-A1.X/1 8 SOWN 2027-01-15 LARKFIELD TESSEL X TARN AMBER", nil, []Kind{Stale, Stale}},
		{"2026X001-A1.X/1 SOMETHING ELSE", nil, []Kind{Stale}},
		{"2026X001-A1", recount, []Kind{Stale, Stale}},         // both labels on record
		{"2026X001-A1.X/2", recount, []Kind{Stale}},            // that copy's label on record
		{"2026X001-A1.X/1" + seven, recount, []Kind{Stale}},    // the one in the hand
		{"2026X001-A1.X/1" + seven, retire, []Kind{Retired}},   // with no newer one
		{"2026X001-A1", retire, nil},                           // typed: of no label
		{"2026X001-A1.X/3" + seven, nil, []Kind{NotRecorded}},  // there are two
		{"2026X001.S LARKFIELD TESSEL X TARN AMBER", nil, nil}, // text where a tag has none
		{"2026X001.S TARN AMBER X TARN AMBER", nil, []Kind{Stale}},
	} {
		r := untouched
		if c.done != nil {
			r = orchard(t, c.done)
		}
		p := code(t, c.code)
		a := AnswerTo(r, p, day(t, "2027-03-01"))
		var got []Kind
		for _, problem := range a.Problems {
			got = append(got, problem.Kind)
		}
		if !slices.Equal(got, c.want) {
			t.Errorf("%s: %v, want %v", c.code, got, c.want)
		}
	}
}

// A label that was replaced is told apart from the one in use by what it says.
func TestReplacedLabelNamesTheNewer(t *testing.T) {
	r := orchard(t, func(r *registry.Registry) error {
		r.RetireLabels(func(l registry.Label) bool { return l.ID == id(t, "2026X001-A1") && l.Copy == 1 }, registry.Replaced)
		_, err := r.AddLabels(day(t, "2027-02-02"), []registry.Print{{Face: registry.StakeFace, ID: id(t, "2026X001-A1"), Copy: 1,
			Stock: "a4-cut-148x20", Sheet: 2, Cell: 1, Payload: "2026X001-A1.X/1"}})
		return err
	})
	a := AnswerTo(r, code(t, "2026X001-A1.X/1"+seven), day(t, "2027-03-01"))
	if len(a.Problems) != 1 || a.Problems[0].Kind != Retired || a.Problems[0].Newer == nil || a.Problems[0].Newer.Sheet != 2 {
		t.Fatalf("%+v", a.Problems)
	}
}

// What the answer tells of a pot comes from all tables.
func TestAnswerKnowsThePot(t *testing.T) {
	r := orchard(t, func(r *registry.Registry) error {
		_, err := r.AddEmergence(id(t, "2026X001-A1"), day(t, "2027-03-01"), 5)
		return err
	})
	a := AnswerTo(r, code(t, "2026X001-A1"), day(t, "2027-03-02"))
	if a.Cross.SeedParent != "Larkfield Tessel" || a.Lot.Seeds.N != 20 || a.Pot.Seeds.N != 7 || a.Left != registry.Known(2) ||
		a.Alive != registry.Known(5) || a.AllOut || a.End != nil || len(a.Pots) != 3 || len(a.Labels) != 2 {
		t.Errorf("%+v", a)
	}
	if a.Plant == nil || a.Plant.Seed.String() != "Larkfield Tessel" {
		t.Errorf("the plant is %v", a.Plant)
	}
}

func TestKindOfError(t *testing.T) {
	_, err := ids.Parse("2026X012-B2.4")
	if got := KindOf(err); got != WrongCheck {
		t.Errorf("a wrong check character is %q", got)
	}
	_, err = ids.Parse("pear")
	if got := KindOf(err); got != Unreadable {
		t.Errorf("no identifier is %q", got)
	}
}

// Labels have work to do as long as what they are for goes on.
func TestInUse(t *testing.T) {
	sow := func(r *registry.Registry) error {
		_, err := r.Sow(id(t, "2026X001-A"), registry.Sowing{Seeds: []int{2}, On: day(t, "2027-01-20")})
		return err
	}
	for _, c := range []struct {
		of   string
		done func(*registry.Registry) error
		want bool
	}{
		{"2026X001", nil, false}, // harvested: the seed is out
		{"2026X001-A", nil, true},
		{"2026X001-A", sow, false}, // the bag is empty
		{"2026X001-A1", nil, true},
		{"2026X001-A1", func(r *registry.Registry) error {
			_, err := r.End(registry.Ending{ID: id(t, "2026X001-A1"), How: registry.Lost, On: day(t, "2027-02-01")})
			return err
		}, false},
		{"2026X001-A1", func(r *registry.Registry) error {
			r.RetireLabels(func(l registry.Label) bool { return true }, registry.Spoilt)
			return nil
		}, false},
	} {
		r := orchard(t)
		if c.done != nil {
			r = orchard(t, c.done)
		}
		if got := InUse(r, r.LabelsOf(id(t, c.of))[0]); got != c.want {
			t.Errorf("label of %s: in use %v, want %v", c.of, got, c.want)
		}
	}
}

func known(n int) *registry.Count {
	c := registry.Known(n)
	return &c
}
