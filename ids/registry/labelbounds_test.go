package registry

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"pipstake/ids"
)

// A label has a place from the first cell of the first sheet on, and a copy from 0;
// it is of something that is in the registry.
func TestPlacesOfLabels(t *testing.T) {
	bag := mustID(t, "2026X001-A")
	for _, c := range []struct {
		p    Print
		want string
	}{
		{Print{Face: BagFace, ID: bag, Sheet: 1, Cell: 1}, ""},
		{Print{Face: BagFace, ID: bag, Sheet: 1, Cell: 1, Copy: 2}, ""},
		{Print{Face: BagFace, ID: bag, Sheet: 0, Cell: 1}, "has no place on a sheet: copy 0, sheet 0, cell 1"},
		{Print{Face: BagFace, ID: bag, Sheet: 1, Cell: 0}, "has no place on a sheet: copy 0, sheet 1, cell 0"},
		{Print{Face: BagFace, ID: bag, Sheet: 1, Cell: 1, Copy: -1}, "has no place on a sheet: copy -1, sheet 1, cell 1"},
		{Print{Face: BagFace, ID: mustID(t, "2026X001-Z"), Sheet: 1, Cell: 1}, "there is no seed lot 2026X001-Z"},
		{Print{Face: BagFace, Sheet: 1, Cell: 1}, "there is no "},
		{Print{Face: BagFace, ID: mustID(t, "2026X001-C"), Sheet: 1, Cell: 1}, ""}, // void: its label may be wanted all the same
	} {
		var batch int
		err := testStore(season(nil)).change(func(r *Registry) (err error) {
			batch, err = r.AddLabels(Date{2027, 1, 1}, []Print{c.p})
			return err
		})
		if c.want == "" && (err != nil || batch != 8) || c.want != "" && (!refused(err) || !strings.Contains(err.Error(), c.want)) {
			t.Errorf("%+v: batch %d, %v, want %q", c.p, batch, err, c.want)
		}
	}
}

// The next batch and the last sheet count the rows whose identifier cannot be read as
// well; a batch that cannot be read stands in the way.
func TestNumbersOfBatchesAndSheets(t *testing.T) {
	for rows, want := range map[string]string{
		"3,,bag,2026X001-A,,s,4,1,,\n9,,bag,what,,s,7,1,,":          "10 7 0",
		"3,,bag,2026X001-A,,s,4,1,,\n9,,bag,what,,t,7,1,,":          "10 4 7",
		"12,,bag,2026X001-A,,s,4,1,,\n9,,bag,2026X001-B,,s,9,1,,":   "13 9 0",
		"3,,bag,2026X001-A,,s,4,1,,\nnine,,bag,2026X001-B,,s,7,1,,": "batch",
		"": "1 0 0",
	} {
		var got string
		err := testStore(season(map[string]string{"labels.csv": rows})).change(func(r *Registry) error {
			s, t := r.LastSheet("s"), r.LastSheet("t")
			batch, err := r.AddLabels(Date{2027, 1, 1}, []Print{{Face: BagFace, ID: ids.ID{Year: 2026, Cross: 1, Lot: 1}, Sheet: 1, Cell: 1}})
			got = fmt.Sprint(batch, s, t)
			return err
		})
		if want == "batch" {
			if err == nil || !strings.Contains(err.Error(), "column batch") {
				t.Errorf("%q: %v", rows, err)
			}
		} else if err != nil || got != want {
			t.Errorf("%q: %s (%v), want %s", rows, got, err, want)
		}
	}
}

// Labels that match and are in use get another state, and are counted; the others
// keep theirs.
func TestLabelsAreRetired(t *testing.T) {
	d := season(nil)
	var n int
	err := testStore(d).change(func(r *Registry) error {
		n = r.RetireLabels(func(l Label) bool { return l.Face == StakeFace }, Replaced)
		return nil
	})
	var got []string
	for i, l := range open(t, d).Labels() {
		got = append(got, fmt.Sprint(open(t, d).LabelRow(i), " ", l.Face, l.Copy, " ", l.State))
	}
	if want := []string{"2 bag0 ", "3 bag0 ", "4 stake1 replaced", "5 stake2 spoilt"}; err != nil || n != 1 || !slices.Equal(got, want) {
		t.Errorf("%d: %q (%v), want %q", n, got, err, want)
	}
}

// What wants a label: bags that hold seed, or may; pots of which something may come;
// seedlings that live, and grafted copies that outlive them unless they were culled.
func TestWhatWantsALabel(t *testing.T) {
	files := map[string]string{
		"crosses.csv":   "2025X007,Ann,Eve,,,,,,,,,",
		"lots.csv":      "2025X007-A,,,,,,,,,,,\n2025X007-B,,,,9,9,,,,,,\n2025X007-C,,,,9,8,,,,,,\n2025X007-D,,,,9,0,,void,,,,\n2025X007-E,,,,9,0,,,,,2026-01-01,discarded",
		"pots.csv":      "2025X007-A1,2,2026-01-14,,,,,\n2025X007-A2,2,2026-01-14,,,,,\n2025X007-A3,2,2026-01-14,,,,,\n2025X007-A4,2,2026-01-14,,,,2026-02-01,lost\n2025X007-C1,1,2026-01-14,,,,,",
		"emergence.csv": "2025X007-A1,2026-03-01,2,2,\n2025X007-A2,2026-03-01,2,1,\n2025X007-A3,2026-03-01,1,1,",
		"seedlings.csv": "2025X007-A2-A,2026-03-20,,,,,,\n2025X007-A3-A,2026-03-20,void,,,,,\n2025X007-A4-A,2026-01-20,,,,,2026-04-01,died\n2025X007-A4-B,2026-01-20,,,,,2026-04-01,culled\n2025X007-A4-C,2026-01-20,,,,,,",
		"diary.csv":     "2025X007-A4-A,2026-03-01,grafted,2,\n2025X007-A4-B,2026-03-01,grafted,2,\n2025X007-A4-C,2026-03-01,grafted,1,\n2025X007-A4-C,2026-03-02,grafted,1,",
		"labels.csv":    "1,,stake,2025X007-C1,2,t,1,1,,\n1,,stake,2025X007-C1,1,t,1,2,,spoilt\n1,,seedling,2025X007-A4-C,,t,1,3,,\n1,,seedling,2025X007-A4-C,2,t,1,4,,",
	}
	var got []string
	for _, p := range open(t, season(files)).Missing() {
		got = append(got, fmt.Sprintf("%s %s %d", p.Face, p.ID, p.Copy))
	}
	want := []string{
		"bag 2025X007-A 0",                           // of B all is undeveloped; of C the good seed is sown
		"stake 2025X007-A3 1", "stake 2025X007-A3 2", // A1 and A2 are all out
		"stake 2025X007-C1 1",
		"seedling 2025X007-A2-A 0",
		"seedling 2025X007-A4-A 1", "seedling 2025X007-A4-A 2",
		"seedling 2025X007-A4-C 1",
	}
	if !slices.Equal(got, want) {
		t.Errorf("got\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
}

// Measures are kept to a ten-thousandth of a millimetre, up to 10 m either way.
func TestMeasuresInCells(t *testing.T) {
	for text, want := range map[string]string{
		"10000": "10000", "-10000": "-10000", "10000.1": "is more than 10000 mm", "-10000.1": "is more than 10000 mm", "0.00004": "0", "0.00005": "0.0001", "-0.00001": "0", "1,5": "1.5", " 1.5 ": "1.5",
		"1e3": "is not a measure", "0x10": "is not a measure", "NaN": "is not a measure", "Inf": "is not a measure", "1.5.5": "is not a measure", "": "is missing", "-": "is not a measure", "5 mm": "is not a measure",
	} {
		var s Stock
		issue := stockColumns[5].read(text, &s)
		got := stockColumns[5].write(&s)
		if issue != nil {
			got = issue.what
		}
		if !strings.Contains(got, want) || issue == nil && got != want {
			t.Errorf("%q: %q, want %q", text, got, want)
		}
	}
}

// Rows that labels tell of make up a registry: each identifier once, at its own
// level, below a row of its parent; labels in places from 1.
func TestRowsThatCannotBeRestored(t *testing.T) {
	id := func(s string) ids.ID { return mustID(t, s) }
	whole := func() Recovered {
		return Recovered{
			Crosses:   []Cross{{ID: id("2026X001"), SeedParent: "A", PollenParent: "B"}},
			Lots:      []Lot{{ID: id("2026X001-A")}},
			Pots:      []Pot{{ID: id("2026X001-A1"), Seeds: Known(4)}},
			Seedlings: []Seedling{{ID: id("2026X001-A1-A")}},
			Labels:    []Label{{Batch: 1, Face: BagFace, ID: id("2026X001-A"), Sheet: 1, Cell: 1}},
		}
	}
	for name, c := range map[string]struct {
		change func(*Recovered)
		want   string
	}{
		"nothing":             {func(*Recovered) {}, ""},
		"no identifier":       {func(r *Recovered) { r.Lots[0].ID = ids.ID{} }, "a seed lot has no identifier"},
		"wrong level":         {func(r *Recovered) { r.Lots[0].ID = id("2026X001-A1") }, "2026X001-A1 is a pot, not a seed lot"},
		"twice":               {func(r *Recovered) { r.Crosses = append(r.Crosses, r.Crosses[0]) }, "2026X001 stands there twice"},
		"no parent":           {func(r *Recovered) { r.Pots[0].ID = id("2026X001-B1") }, "2026X001-B1 has no row for its seed lot 2026X001-B"},
		"a name on two lines": {func(r *Recovered) { r.Crosses[0].PollenParent = "a\nb" }, "holds a line break"},
		"a place of two":      {func(r *Recovered) { r.Pots[0].Place = "a\nb" }, "holds a line break"},
		"a note of two":       {func(r *Recovered) { r.Seedlings[0].Notes = "a\nb" }, "holds a line break"},
		"a label of nothing":  {func(r *Recovered) { r.Labels[0].ID = id("2026X001-B") }, "a label of 2026X001-B has no row for it"},
		"batch 0":             {func(r *Recovered) { r.Labels[0].Batch = 0 }, "has no place on a sheet"},
		"sheet 0":             {func(r *Recovered) { r.Labels[0].Sheet = 0 }, "has no place on a sheet"},
		"cell 0":              {func(r *Recovered) { r.Labels[0].Cell = 0 }, "has no place on a sheet"},
		"copy -1":             {func(r *Recovered) { r.Labels[0].Copy = -1 }, "has no place on a sheet"},
	} {
		d := newTestDisk(emptyFiles())
		rows := whole()
		c.change(&rows)
		err := testStore(d).change(func(r *Registry) error { return r.Restore(rows) })
		if c.want == "" && (err != nil || len(open(t, d).Labels()) != 1) || c.want != "" && (!refused(err) || !strings.Contains(err.Error(), c.want)) {
			t.Errorf("%s: %v, want %q", name, err, c.want)
		}
	}
	for _, crosses := range []string{"2026X001,A,B,,,,", "what,A,B,,,,"} {
		r := open(t, season(map[string]string{"crosses.csv": crosses, "lots.csv": "", "pots.csv": "", "seedlings.csv": "", "emergence.csv": "", "labels.csv": ""}))
		if err := r.Restore(whole()); !refused(err) || !strings.Contains(err.Error(), "holds 1 row of crosses already") {
			t.Errorf("into %q: %v", crosses, err)
		}
	}
}

// Without its year an identifier is the one that grows, else the one there is, else
// that of the newest year with the cross; where several years have one, it is asked.
func TestYearsAreCompleted(t *testing.T) {
	files := map[string]string{
		"crosses.csv": "2024X001,A,B,,,,\n2025X001,A,B,,,,\n2026X001,A,B,,,,\n2026X002,A,B,,,void,",
		"lots.csv":    "2024X001-A,,,,,,,,\n2024X001-B,,,,,,,void,\n2025X001-B,,,,,,,,\n2025X001-C,,,,,,,void,\n2026X001-C,,,,,,,void,\n2025X001-D,,,,,,,,\n2026X001-D,,,,,,,,\n2024X001-D,,,,,,,,",
		"pots.csv":    "", "seedlings.csv": "", "emergence.csv": "", "labels.csv": "",
	}
	r := open(t, season(files))
	for text, want := range map[string]string{
		"1-A": "2024X001-A", "1-B": "2025X001-B", "1-C": "without its year it may be 2025X001-C or 2026X001-C; write it with its year: 2026X001-C",
		"1-D": "without its year it may be 2024X001-D, 2025X001-D or 2026X001-D; write it with its year: 2026X001-D",
		"1-Z": "2026X001-Z", "X2": "2026X002", "9-A": "there is no cross 9",
	} {
		s, ok := ids.ParseShort(text)
		if !ok {
			t.Fatalf("%q is not short", text)
		}
		got, err := r.Complete(s)
		if err != nil {
			got = err.Error()
		}
		if !strings.HasPrefix(got, want) {
			t.Errorf("%s: %s, want %s", text, got, want)
		}
	}
}

// A label printed over another is found, however the rows of stocks and sheets
// alternate, and only where sheet, cell and stock are the same.
func TestLabelsOverOneAnother(t *testing.T) {
	for rows, want := range map[string]string{
		"s 1 1, t 1 1, s 1 2, t 1 2":        "",
		"s 1 1, t 1 1, s 1 1":               "4",
		"s 1 1, s 1 2, t 1 1, s 1 2, t 1 1": "5 6",
		"s 1 2, s 1 1, s 1 2":               "4",
		"s 2 1, s 1 2, s 1 1, s 2 1, s 1 2": "5 6",
		"s 1 1, s 2 1, s 3 1, s 2 1":        "5",
		"s 1 3, s 1 1, s 1 1":               "4",
		"s 1 2, s 1 1, s 1 3, s 1 3":        "5",
		" 1 1,  1 1":                        "", // of no stock
	} {
		var labels []string
		for i, row := range strings.Split(rows, ", ") {
			p := strings.Split(row, " ")
			labels = append(labels, fmt.Sprintf("%d,,bag,2026X011-%c,,%s,%s,%s,,spoilt", i+1, 'A'+i%2, p[0], p[1], p[2]))
		}
		files := cleanSeason()
		files["labels.csv"] = strings.Join(labels, "\n")
		var got []string
		for _, f := range open(t, season(files)).Check() {
			if strings.Contains(f.What, "is taken by batch") {
				got = append(got, fmt.Sprint(f.Row))
			}
		}
		if s := strings.Join(got, " "); s != want {
			t.Errorf("%s: rows %q, want %q", rows, s, want)
		}
	}
}

// A count that is dropped takes along what there was to say of its cells, and no more.
func TestDroppedCountTakesItsDamageAlong(t *testing.T) {
	r := open(t, season(map[string]string{"emergence.csv": "2025X007-A1,2026-02-20,some,\n2026X001-A1,2027-03-01,many,\n2025X007-A1,2026-03-01,5,"}))
	if _, err := r.CorrectCount(mustID(t, "2025X007-A1"), Date{2026, 2, 20}, CountCorrection{Drop: true}); err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, f := range r.Damage() {
		if f.File == "emergence.csv" {
			got = append(got, fmt.Sprint(f.Row, " ", f.Value))
		}
	}
	if !slices.Equal(got, []string{"3 many"}) {
		t.Errorf("%q", got)
	}
	if counts := r.EmergenceOf(mustID(t, "2025X007-A1")); len(counts) != 1 || counts[0].Up != Known(5) {
		t.Errorf("%+v", counts)
	}
}
