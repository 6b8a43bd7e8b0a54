package registry

import (
	"maps"
	"strings"
	"testing"

	"pipstake/ids"
)

// What a variety may be: 2 to 8 sets of chromosomes, a year of up to four digits, a
// sport of another; a text on one line.
func TestFactsOfAVarietyAtTheirBounds(t *testing.T) {
	for _, c := range []struct {
		v    Variety
		want string // the row, or words of the refusal
	}{
		{Variety{Name: "New"}, "New,,,,,,,,"},
		{Variety{Name: "New", Ploidy: 2}, "New,,,,,2,,,"}, {Variety{Name: "New", Ploidy: 8}, "New,,,,,8,,,"},
		{Variety{Name: "New", Ploidy: 9}, "9 is no number of sets"}, {Variety{Name: "New", Ploidy: -1}, "-1 is no number of sets"},
		{Variety{Name: "New", Year: 1}, "New,,,,,,,1,"}, {Variety{Name: "New", Year: 9999}, "New,,,,,,,9999,"},
		{Variety{Name: "New", Year: 10000}, "10000 is no year"}, {Variety{Name: "New", Year: -1}, "-1 is no year"},
		{Variety{Name: " New ", Also: "Newer; Newest;;", Notes: " one "}, "New,Newer; Newest,,,,,,,one"},
		{Variety{Name: "New", Also: "NEW; Newer"}, "New,NEW; Newer,,,,,,,"},
		{Variety{Name: "New", SportOf: "TARN amber"}, "New,,,,Tarn Amber,,,,"},
		{Variety{Name: "New", SeedParent: "TARN amber", PollenParent: "op"}, "New,,Tarn Amber,open,,,,,"},
		{Variety{Name: "New", Notes: "a\nb"}, "holds a line break"}, {Variety{Name: "New", Also: "a\nb"}, "holds a line break"}, {Variety{Name: "New", SportOf: "a\nb"}, "holds a line break"},
		{Variety{Name: "New", Also: "2026X001"}, "is the identifier of a cross"}, {Variety{Name: "New", SportOf: "2026X001-A1-A"}, "is the identifier of a seedling"},
		{Variety{Name: "New", SeedParent: "A\x00"}, "holds a line break or a control character"},
	} {
		dir := newRegistry(t, map[string]string{"varieties.csv": "name,also,seed_parent,pollen_parent,sport_of,ploidy,s_alleles,year,notes\nTarn Amber,,,,,,,,\n"})
		err := Change(dir, Options{}, setFacts(c.v, false))
		if err != nil {
			if !refused(err) || !strings.Contains(err.Error(), c.want) {
				t.Errorf("%+v: %v, want %q", c.v, err, c.want)
			}
			continue
		}
		rows := strings.Split(strings.TrimSpace(readFile(t, dir, "varieties.csv")), "\n")
		if got := strings.TrimSpace(rows[len(rows)-1]); got != c.want || len(rows) != 3 {
			t.Errorf("%+v: %s, want %s", c.v, got, c.want)
		}
	}
}

// Facts are added where there are none, and replaced where that is asked for; a
// note that is there already is not written twice.
func TestFactsThatAreAdded(t *testing.T) {
	for _, c := range []struct {
		more    Variety
		correct bool
		want    string
	}{
		{Variety{}, false, "Ann,A.; Annie,Bob,Cat,,3,S2,1900,old"},
		{Variety{Also: "A."}, false, "Ann,A.; Annie,Bob,Cat,,3,S2,1900,old"},
		{Variety{Also: "Anna"}, false, "Ann,A.; Annie; Anna,Bob,Cat,,3,S2,1900,old"},
		{Variety{Notes: "old"}, false, "Ann,A.; Annie,Bob,Cat,,3,S2,1900,old"},
		{Variety{Notes: "new"}, false, "Ann,A.; Annie,Bob,Cat,,3,S2,1900,old; new"},
		{Variety{SeedParent: "Bob", Ploidy: 3, SAlleles: "S2", Year: 1900}, false, "Ann,A.; Annie,Bob,Cat,,3,S2,1900,old"},
		{Variety{SeedParent: "Dan"}, true, "Ann,A.; Annie,Dan,Cat,,3,S2,1900,old"},
		{Variety{PollenParent: "Dan"}, true, "Ann,A.; Annie,Bob,Dan,,3,S2,1900,old"},
		{Variety{SportOf: "Dan"}, true, "Ann,A.; Annie,,,Dan,3,S2,1900,old"},
		{Variety{Ploidy: 2, SAlleles: "S7", Year: 1901}, true, "Ann,A.; Annie,Bob,Cat,,2,S7,1901,old"},
	} {
		dir := newRegistry(t, map[string]string{"varieties.csv": "name,also,seed_parent,pollen_parent,sport_of,ploidy,s_alleles,year,notes\nAnn,A.; Annie,Bob,Cat,,3,S2,1900,old\n"})
		c.more.Name = "annie" // a spelling of it
		var change VarietyChange
		mustChange(t, dir, func(r *Registry) (err error) { change, err = r.SetVariety(c.more, c.correct); return err })
		rows := strings.Split(strings.TrimSpace(readFile(t, dir, "varieties.csv")), "\n")
		if got := strings.TrimSpace(rows[len(rows)-1]); got != c.want || len(rows) != 2 || change.Before.Name != "Ann" || change.Now.Name != "Ann" || (change.Before != change.Now) != (got != "Ann,A.; Annie,Bob,Cat,,3,S2,1900,old") {
			t.Errorf("%+v: %s (%+v), want %s", c.more, got, change, c.want)
		}
	}
}

// A name that is a spelling of itself, or stands twice among its own spellings, is
// no fault; that of another row is.
func TestSpellingsOfOneRow(t *testing.T) {
	for rows, want := range map[string]string{
		"Ann,ann; Anne; ANNE; ;":        "",
		"Ann,\nBob,ann":                 `varieties.csv row 3, column also: "ann" stands in row 2 already`,
		"Ann,Anne\nAnne,":               `varieties.csv row 3, column name: "Anne" stands in row 2 already`,
		"Ann,\nBob,\nAnn,":              `varieties.csv row 4, column name: "Ann" stands in row 2 already`,
		"Ann,Bob; Cat\nDan,Cat; Bob; B": `varieties.csv row 3, column also: "Cat" stands in row 2 already // varieties.csv row 3, column also: "Bob" stands in row 2 already`,
	} {
		dir := newRegistry(t, map[string]string{"varieties.csv": "name,also\n" + rows + "\n"})
		found := mustOpen(t, dir).Check()
		var wanted []string
		if want != "" {
			wanted = strings.Split(want, " // ")
		}
		ok := len(found) == len(wanted)
		for i := range min(len(found), len(wanted)) {
			ok = ok && strings.HasPrefix(found[i].String(), wanted[i])
		}
		if !ok {
			t.Errorf("%q: %v, want %q", rows, found, want)
		}
	}
}

// Rows that were taken back here and are still there come again, each compared with
// its own; where the number was given to something else there, the two clash.
func TestMergeOfWhatWasTakenBack(t *testing.T) {
	here, there := two(t, cross("Ann", "Bob"), cross("Cat", "Dan"), cross("Eve", "Flo"))
	undo := func(r *Registry) error { _, err := r.Undo(); return err }
	then(t, here, "undo", undo, undo)
	if n := len(open(t, here).Crosses()); n != 1 {
		t.Fatalf("%d crosses after two were taken back", n)
	}
	before := tablesOf(t, here)
	m, err := merge(t, here, there, Here)
	if err != nil || len(m.Added) == 0 || m.Added[0] != (AddedRows{"crosses.csv", 2, 0}) {
		t.Fatalf("%+v, %v", m, err)
	}
	var got []string
	for _, c := range open(t, here).Crosses() {
		got = append(got, c.ID.String()+" "+c.SeedParent)
	}
	if s := strings.Join(got, ", "); s != "2026X001 Ann, 2026X002 Cat, 2026X003 Eve" {
		t.Errorf("%s", s)
	}
	other, _ := two(t, cross("Ann", "Bob"), cross("Cat", "Guy"), cross("Eve", "Flo"))
	again := newTestDisk(before)
	if _, err := merge(t, again, other, Here); err == nil || !strings.Contains(err.Error(), "2026X002 is one cross here (taken back: seed parent Cat, pollen parent Dan") || !maps.Equal(tablesOf(t, again), before) {
		t.Errorf("%v", err)
	}
}

// A count that was made and dropped in one command leaves nothing, and the rows
// beside it as they are.
func TestCountMadeAndDropped(t *testing.T) {
	d := season(nil)
	pot := mustID(t, "2025X007-A1")
	err := testStore(d).change(func(r *Registry) error {
		for i, day := range []int{10, 12, 14} {
			if _, err := r.AddEmergence(pot, Date{2026, 3, day}, 6+i); err != nil {
				return err
			}
		}
		if _, err := r.CorrectCount(pot, Date{2026, 3, 12}, CountCorrection{Drop: true}); err != nil {
			return err
		}
		up := Known(9)
		if _, err := r.CorrectCount(pot, Date{2026, 3, 14}, CountCorrection{Up: &up}); err != nil {
			return err
		}
		_, err := r.CorrectCount(pot, Date{2026, 2, 20}, CountCorrection{Drop: true})
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	(&story{t, d}).wantRows("emergence.csv", pot.String(), "2025X007-A1,2026-03-01,5,\n2025X007-A1,2026-03-10,6,\n2025X007-A1,2026-03-14,9,")
}

// A count is corrected or dropped on the day on which it is, and on no other; what
// is to be corrected must be said, and once.
func TestCountsThatCannotBeCorrected(t *testing.T) {
	n := Known(4)
	for _, c := range []struct {
		pot, on string
		c       CountCorrection
		want    string
	}{
		{"2026X001-A1", "2026-03-01", CountCorrection{Up: &n}, "2026X001-A1 was never counted"},
		{"2025X007-A1", "2026-03-02", CountCorrection{Up: &n}, "2025X007-A1 was not counted on 2026-03-02; it was counted on 2026-02-20, 2026-03-01"},
		{"2025X007-A1", "2026-03-01", CountCorrection{}, "what is wrong of the count on 2026-03-01 is not said"},
		{"2025X007-A1", "2026-03-01", CountCorrection{Up: &n, Drop: true}, "the count of 2026-03-01 is to be dropped, and numbers are given as well"},
		{"2025X007-A1", "2026-03-01", CountCorrection{Died: &n, Drop: true}, "and numbers are given as well"},
		{"2025X007-A1", "2026-03-01", CountCorrection{Up: &n}, ""},
		{"2025X007-A1", "2026-03-01", CountCorrection{Died: &n}, ""},
		{"2025X007-A1", "2026-03-01", CountCorrection{Drop: true}, ""},
	} {
		var changed []Changed
		err := testStore(season(nil)).change(func(r *Registry) (err error) {
			changed, err = r.CorrectCount(mustID(t, c.pot), mustDate(t, c.on), c.c)
			return err
		})
		if c.want == "" && (err != nil || len(changed) == 0 || changed[0].On.String() != c.on || changed[0].ID != mustID(t, c.pot)) || c.want != "" && (!refused(err) || !strings.Contains(err.Error(), c.want)) {
			t.Errorf("%+v: %v, %v, want %q", c, changed, err, c.want)
		}
	}
}

// What lived is not void: one seedling pricked out is enough, and so are a count, an
// end, seeds that were given away.
func TestWhatLivedIsNotVoid(t *testing.T) {
	files := lived()
	files["pots.csv"] += "\n2025X007-A3,1,2026-01-14,,,,,\n2025X007-A4,1,2026-01-14,,,,,"
	files["seedlings.csv"] += "\n2025X007-A3-A,2026-03-20,void,,,,,\n2025X007-A4-A,2026-03-20,,,,,,"
	for id, want := range map[string]string{
		"2025X007-A1":   "it was lost on 2026-04-01, it was counted on 2026-03-01, 2 seedlings were pricked out of it; correct what is wrong",
		"2025X007-A2":   "it was counted on 2026-02-20, 1 seedling was pricked out of it; say how it ended, or correct what is wrong",
		"2025X007-A3":   "",
		"2025X007-A4":   "1 seedling was pricked out of it",
		"2025X007-B1":   "",
		"2025X007-B":    "seeds of it were given away or discarded on 2026-02-01",
		"2026X001-A":    "it was discarded on 2027-02-01",
		"2026X002":      "it failed on 2026-07-01",
		"2025X007-A1-B": "the diary tells of its planting out on 2026-05-20",
		"2025X007-A2-A": "",
	} {
		err := testStore(season(files)).change(func(r *Registry) error { return r.Void(mustID(t, id), "slip") })
		if want == "" && err != nil || want != "" && (!refused(err) || !strings.Contains(err.Error(), id+" has lived: ") || !strings.Contains(err.Error(), want)) {
			t.Errorf("%s: %v, want %q", id, err, want)
		}
	}
	if err := testStore(season(files)).change(func(r *Registry) error { return r.Void(ids.ID{}, "slip") }); !refused(err) {
		t.Errorf("nothing: %v", err)
	}
}
