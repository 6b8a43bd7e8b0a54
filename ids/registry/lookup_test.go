package registry

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"testing"

	"pipstake/ids"
)

func TestLookup(t *testing.T) {
	r := open(t, season(nil))
	if c, ok := r.Cross(mustID(t, "2026X002")); !ok || c.SeedParent != "Härmä Punanen" || c.PollenParent != "2025X007-A1-B" || c.Pollinated.String() != "2026-05-06" || c.Flowers.Known {
		t.Errorf("%+v, %v", c, ok)
	}
	if l, ok := r.Lot(mustID(t, "2026X001-A")); !ok || l.Seeds != Known(14) || l.Undeveloped != Known(1) || l.Fruit != Known(4) || l.Chilled.String() != "2026-11-20" {
		t.Errorf("%+v, %v", l, ok)
	}
	if p, ok := r.Pot(mustID(t, "2026X001-A2")); !ok || p.State != Void || p.Place != "bench 3" || p.Notes != "knocked over" {
		t.Errorf("%+v, %v", p, ok)
	}
	if s, ok := r.Seedling(mustID(t, "2025X007-A1-C")); !ok || s.State != Void || s.Pricked.String() != "2026-03-20" {
		t.Errorf("%+v, %v", s, ok)
	}
	if _, ok := r.Pot(mustID(t, "2026X001-A9")); ok {
		t.Error("a pot that is in no table was found")
	}
	if got := fmt.Sprint(len(r.Crosses()), len(r.Lots()), len(r.Pots()), len(r.Seedlings()), len(r.Emergences()), len(r.Labels())); got != "4 6 4 3 2 4" {
		t.Errorf("rows: %s", got)
	}
	for _, c := range []struct{ what, got, want string }{
		{"lots", join(r.LotsOf(mustID(t, "2026X001")), func(l Lot) ids.ID { return l.ID }), "2026X001-A 2026X001-B 2026X001-C"},
		{"pots", join(r.PotsOf(mustID(t, "2026X001-A")), func(p Pot) ids.ID { return p.ID }), "2026X001-A1 2026X001-A2 2026X001-A3"},
		{"no pots", join(r.PotsOf(mustID(t, "2026X001-B")), func(p Pot) ids.ID { return p.ID }), ""},
		{"seedlings", join(r.SeedlingsOf(mustID(t, "2025X007-A1")), func(s Seedling) ids.ID { return s.ID }), "2025X007-A1-A 2025X007-A1-B 2025X007-A1-C"},
		{"labels", join(r.LabelsOf(mustID(t, "2026X001-A1")), func(l Label) ids.ID { return l.ID }), "2026X001-A1 2026X001-A1"},
		{"labels of the lot alone", join(r.LabelsOf(mustID(t, "2026X001-A")), func(l Label) ids.ID { return l.ID }), "2026X001-A"},
	} {
		if c.got != c.want {
			t.Errorf("%s: %s, want %s", c.what, c.got, c.want)
		}
	}
}

func join[T any](rows []T, id func(T) ids.ID) string {
	var all []string
	for _, row := range rows {
		all = append(all, id(row).String())
	}
	return strings.Join(all, " ")
}

// Rows stand in any order, and counts come by date.
func TestLookupInAnyOrder(t *testing.T) {
	r := open(t, season(map[string]string{
		"pots.csv":      "2026X001-A10,1,,,,\n2026X001-B1,1,,,,\n2026X001-A2,1,,,,\n2026X001-AA1,1,,,,",
		"emergence.csv": "2026X001-A2,2027-03-01,5,\n2026X001-A2,2027-02-01,1,\n2026X001-A10,2027-02-01,2,",
	}))
	if got := join(r.PotsOf(mustID(t, "2026X001-A")), func(p Pot) ids.ID { return p.ID }); got != "2026X001-A2 2026X001-A10" {
		t.Errorf("%s", got)
	}
	if got := join(r.PotsOf(mustID(t, "2026X001")), func(p Pot) ids.ID { return p.ID }); got != "2026X001-A2 2026X001-A10 2026X001-B1 2026X001-AA1" {
		t.Errorf("%s", got)
	}
	counts := r.EmergenceOf(mustID(t, "2026X001-A2"))
	if len(counts) != 2 || counts[0].Up != Known(1) || counts[1].Up != Known(5) {
		t.Errorf("%v", counts)
	}
}

func TestStatus(t *testing.T) {
	r := open(t, season(nil))
	for id, want := range map[string]string{
		"2026X001": "issued", "2026X001-A1": "issued", "2025X007-A1-B": "issued",
		"2026X003": "void", "2026X003-A": "void", "2026X001-A2": "void", "2025X007-A1-C": "void",
		"2026X009": "unknown", "2026X001-A9": "unknown", "": "unknown",
	} {
		if got := r.Status(mustID(t, id)).String(); got != want {
			t.Errorf("%s is %s, want %s", id, got, want)
		}
	}
}

func TestLeftToSow(t *testing.T) {
	r := open(t, season(nil))
	for id, want := range map[string]string{
		"2026X001-A": "6",
		"2025X007-A": "0",
		"2026X001-B": "",
		"2026X001-C": "2026X001-C is void; use another, its number stays spent",
		"2026X001-F": "there is no seed lot 2026X001-F in the registry; compare it with the label",
		"2026X002-A": `lots.csv row 5, column seeds: "many" is not a whole number; write digits only, or leave the cell empty`,
	} {
		left, err := r.LeftToSow(mustID(t, id))
		got := left.String()
		if err != nil {
			got = err.Error()
		}
		if got != want {
			t.Errorf("%s: %s, want %s", id, got, want)
		}
	}
	d := season(map[string]string{"pots.csv": somePots}) // with a count that cannot be read
	_, err := open(t, d).LeftToSow(mustID(t, "2026X001-A"))
	var damage *DamageError
	if !errors.As(err, &damage) || err.Error() != `pots.csv row 4, column seeds: "four" is not a whole number; write digits only, or leave the cell empty` {
		t.Error(err)
	}
}

// The next number comes after every identifier that any table names.
func TestNumbersComeFromEveryTable(t *testing.T) {
	const labels = "1,2026-08-01,bag,2026X001-E,,s,1,1,,\n1,2026-08-01,stake,2026X008-A3,1,s,1,1,,"
	d := season(map[string]string{"labels.csv": labels, "emergence.csv": "2026X001-A5,2027-03-01,1,"})
	err := testStore(d).change(func(r *Registry) error {
		c, err := r.AddCross(NewCross{SeedParent: "A", PollenParent: "B", Year: 2026})
		if err != nil || c.ID.String() != "2026X009" {
			t.Errorf("%s, %v; want 2026X009, after a stake's label", c.ID, err)
		}
		lots, err := r.AddLots(mustID(t, "2026X001"), 2, Date{})
		if got := join(lots, func(l Lot) ids.ID { return l.ID }); err != nil || got != "2026X001-F 2026X001-G" {
			t.Errorf("%s, %v; want F and G, after a bag's label", got, err)
		}
		pots, err := r.Sow(mustID(t, "2026X001-A"), Sowing{Seeds: []int{1, 1}, On: Date{2027, 2, 1}})
		if got := join(pots, func(p Pot) ids.ID { return p.ID }); err != nil || got != "2026X001-A6 2026X001-A7" {
			t.Errorf("%s, %v; want A6 and A7, after a count's pot", got, err)
		}
		more, err := r.AddLots(c.ID, 1, Date{})
		if got := join(more, func(l Lot) ids.ID { return l.ID }); err != nil || got != "2026X009-A" {
			t.Errorf("%s, %v", got, err)
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
}

// A row whose identifier cannot be read may hold the next number: nothing is
// issued at its level, and everything else goes on.
func TestDamagedIdentifierStopsIssuing(t *testing.T) {
	d := season(map[string]string{"lots.csv": someLots + "\n12-Mar,2026-08-01,,,,,,,"})
	err := testStore(d).change(func(r *Registry) error {
		_, err := r.AddLots(mustID(t, "2026X001"), 1, Date{})
		return err
	})
	var damage *DamageError
	want := `lots.csv row 8, column id: "12-Mar" is not an identifier: a spreadsheet made a date of it; take the identifier from the label, and format the column as text`
	if !errors.As(err, &damage) || err.Error() != want {
		t.Errorf("%v\nwant %s", err, want)
	}
	err = testStore(d).change(func(r *Registry) error {
		if n := len(r.Lots()); n != 6 {
			t.Errorf("%d seed lots can be read, want 6", n)
		}
		if _, err := r.Lot(mustID(t, "2026X001-F")); err {
			t.Error("found")
		}
		_, err := r.LeftToSow(mustID(t, "2026X001-F"))
		if want := "there is no seed lot 2026X001-F in the registry; compare it with the label, and mend lots.csv row 8, which cannot be read"; err == nil || err.Error() != want {
			t.Errorf("%v\nwant %s", err, want)
		}
		if _, err := r.AddCross(NewCross{SeedParent: "A", PollenParent: "B", Year: 2026}); err != nil {
			t.Error(err)
		}
		_, err = r.Sow(mustID(t, "2026X001-A"), Sowing{Seeds: []int{1}, On: Date{2027, 2, 1}})
		return err
	})
	if err != nil {
		t.Error(err)
	}
	if !strings.Contains(d.now["r/lots.csv"].data, "\r\n12-Mar,2026-08-01,,,,,,,\r\n") {
		t.Errorf("lots.csv is %q", d.now["r/lots.csv"].data)
	}
}

func TestIdentifierInTwoRows(t *testing.T) {
	d := season(map[string]string{"pots.csv": somePots + "\n2026X001-A1,6,2027-01-15,,,"})
	err := testStore(d).change(func(r *Registry) error { return r.Void(mustID(t, "2026X001-A1"), "") })
	want := `pots.csv row 6, column id: "2026X001-A1" stands in another row as well; delete one of the rows, or give it its right identifier`
	if err == nil || err.Error() != want {
		t.Errorf("%v\nwant %s", err, want)
	}
}

func TestAddLabels(t *testing.T) {
	d := season(nil)
	pot := mustID(t, "2026X001-A1")
	prints := []Print{{Face: StakeFace, ID: pot, Copy: 1, Stock: "a4-cut-148x20", Sheet: 3, Cell: 1, Payload: "2026X001-A1.X/1"},
		{Face: StakeFace, ID: pot, Copy: 2, Stock: "a4-cut-148x20", Sheet: 3, Cell: 2}}
	err := testStore(d).change(func(r *Registry) error {
		if got := fmt.Sprint(r.LastSheet("s"), r.LastSheet("t"), r.LastSheet("u")); got != "1 2 0" {
			t.Errorf("last sheets %s", got)
		}
		retired := r.RetireLabels(func(l Label) bool { return l.ID == pot }, Replaced)
		if retired != 1 {
			t.Errorf("%d retired; a spoilt label stays spoilt", retired)
		}
		batch, err := r.AddLabels(Date{2027, 2, 1}, prints)
		if batch != 8 || len(r.LabelsOf(pot)) != 4 {
			t.Errorf("batch %d, %v", batch, r.LabelsOf(pot))
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	want := strings.ReplaceAll(`7,2027-01-14,stake,2026X001-A1,1,t,2,1,P,replaced
7,2027-01-14,stake,2026X001-A1,2,t,2,2,P,spoilt
8,2027-02-01,stake,2026X001-A1,1,a4-cut-148x20,3,1,2026X001-A1.X/1,
8,2027-02-01,stake,2026X001-A1,2,a4-cut-148x20,3,2,,
`, "\n", "\r\n")
	if got := d.now["r/labels.csv"].data; !strings.HasSuffix(got, want) {
		t.Errorf("%s\nwant\n%s", got, want)
	}
}

func TestAddLabelsRefuses(t *testing.T) {
	pot := mustID(t, "2026X001-A1")
	good := Print{Face: StakeFace, ID: pot, Copy: 1, Sheet: 1, Cell: 1}
	for _, c := range []struct {
		labels string
		prints []Print
		want   string
	}{
		{someLabels, nil, "there is no label to print; give an identifier"},
		{someLabels, []Print{good, {Face: BagFace, ID: mustID(t, "2026X001-F"), Sheet: 1, Cell: 2}}, "there is no seed lot 2026X001-F in the registry; compare it with the label"},
		{someLabels, []Print{{Face: StakeFace, ID: pot, Copy: 1, Sheet: 1}}, "the label of 2026X001-A1 has no place on a sheet: copy 1, sheet 1, cell 0; count sheets and cells from 1"},
		{"nine,,bag,2026X001-A,,s,1,1,,", []Print{good}, `labels.csv row 2, column batch: "nine" is not a whole number; write digits only, or leave the cell empty`},
	} {
		err := testStore(season(map[string]string{"labels.csv": c.labels})).change(func(r *Registry) error {
			_, err := r.AddLabels(Date{2027, 2, 1}, c.prints)
			return err
		})
		if err == nil || err.Error() != c.want {
			t.Errorf("%v\nwant %s", err, c.want)
		}
	}
	// A batch number counts even where the row's identifier cannot be read.
	err := testStore(season(map[string]string{"labels.csv": "12,,bag,x,,s,4,1,,"})).change(func(r *Registry) error {
		batch, err := r.AddLabels(Date{2027, 2, 1}, []Print{good})
		if batch != 13 || r.LastSheet("s") != 4 {
			t.Errorf("batch %d, last sheet %d", batch, r.LastSheet("s"))
		}
		return err
	})
	if err != nil {
		t.Error(err)
	}
}

func TestMissing(t *testing.T) {
	r := open(t, season(nil))
	var got []string
	for _, p := range r.Missing() {
		got = append(got, strings.TrimSpace(fmt.Sprintln(p.Face, p.ID, p.Copy)))
	}
	// 2025X007-A is wholly sown; 2026X003-A and others are void; the second
	// stake of 2026X001-A1 is spoilt.
	want := []string{"bag 2026X002-A 0", "stake 2026X001-A1 2", "stake 2025X007-A1 1", "stake 2025X007-A1 2", "seedling 2025X007-A1-A 0", "seedling 2025X007-A1-B 0"}
	if !slices.Equal(got, want) {
		t.Errorf("%q\nwant %q", got, want)
	}
}

// A seedling wants a label, and so does each of its grafted copies, which
// outlive it unless it was culled.
func TestMissingOfGraftedCopies(t *testing.T) {
	seedling := firstLot.Child(1).Child(1)
	day := Date{2026, 11, 20}
	graft := func(r *Registry) error { _, err := r.Graft(seedling, 2, day, ""); return err }
	end := func(how Fate) func(*Registry) error {
		return func(r *Registry) error {
			_, err := r.End(Ending{ID: seedling, How: how, On: day, Note: "scab"})
			return err
		}
	}
	stick := func(copies ...int) func(*Registry) error {
		return func(r *Registry) error {
			var prints []Print
			for _, n := range copies {
				prints = append(prints, Print{Face: SeedlingFace, ID: seedling, Copy: n, Sheet: 1, Cell: n + 1})
			}
			_, err := r.AddLabels(day, prints)
			return err
		}
	}
	for name, c := range map[string]struct {
		steps []func(*Registry) error
		want  []int
	}{
		"none grafted":         {nil, []int{0}},
		"two":                  {[]func(*Registry) error{graft}, []int{0, 1, 2}},
		"twice two":            {[]func(*Registry) error{graft, graft}, []int{0, 1, 2, 3, 4}},
		"some labelled":        {[]func(*Registry) error{graft, stick(0, 2)}, []int{1}},
		"all labelled":         {[]func(*Registry) error{graft, stick(0, 1, 2)}, nil},
		"the seedling died":    {[]func(*Registry) error{graft, end(Died)}, []int{1, 2}},
		"the seedling culled":  {[]func(*Registry) error{graft, end(Culled)}, nil},
		"labelled, then died":  {[]func(*Registry) error{graft, stick(0, 1), end(Died)}, []int{2}},
		"died without a graft": {[]func(*Registry) error{end(Died)}, nil},
	} {
		d := newTestDisk(emptyFiles())
		play(t, d, aSeason()[:10]...)
		play(t, d, c.steps...)
		var got []int
		for _, p := range open(t, d).Missing() {
			if p.ID == seedling && p.Face == SeedlingFace {
				got = append(got, p.Copy)
			}
		}
		var says []string
		for _, f := range open(t, d).Check() {
			if f.File == "seedlings.csv" && f.Value == seedling.String() {
				says = append(says, f.What)
			}
		}
		var want []string // one finding, of the first that is missing
		switch {
		case slices.Contains(c.want, 0):
			want = []string{"has no seedling label in use"}
		case len(c.want) > 0:
			want = []string{fmt.Sprintf("has no label in use on its grafted copy %d", c.want[0])}
		}
		if !slices.Equal(says, want) {
			t.Errorf("%s: check says that it %q, want %q", name, says, want)
		}
		if !slices.Equal(got, c.want) {
			t.Errorf("%s: copies %v want a label, not %v", name, got, c.want)
		}
	}
}
