package registry

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// Of a lot whose rows contradict each other, nothing is left, and never less.
func TestNothingLeftOfALotThatContradictsItself(t *testing.T) {
	files := lived()
	files["lots.csv"] = strings.Replace(files["lots.csv"], "2025-11-16,2,20,0", "2025-11-16,2,10,0", 1)
	err := testStore(season(files)).change(func(r *Registry) error {
		_, err := r.Sow(mustID(t, "2025X007-A"), Sowing{Seeds: []int{1}, On: Date{2026, 6, 1}})
		return err
	})
	if want := "2025X007-A has 10 seeds, 0 undeveloped, 18 sown already: 0 left, and 1 asked for; take at most 0"; err == nil || err.Error() != want {
		t.Errorf("%v, want %s", err, want)
	}
}

// A second row of an identifier is said to be one, and nothing else of it.
func TestSecondRowIsSaidOnce(t *testing.T) {
	r := open(t, season(map[string]string{"crosses.csv": "2026X001,A,B,,,,", "lots.csv": "2026X002-A,,,,,,,,\n2026X002-A,,,,,,,,\n2026X001-A,,,,,,,,", "pots.csv": "", "seedlings.csv": "", "emergence.csv": "", "labels.csv": ""}))
	var got []string
	for _, f := range r.Check() {
		if f.File == "lots.csv" && !strings.Contains(f.What, "label") {
			got = append(got, fmt.Sprint(f.Row, " ", f.What))
		}
	}
	if want := []string{"2 belongs to cross 2026X002, which has no row in crosses.csv", "3 stands in row 2 already"}; !slices.Equal(got, want) {
		t.Errorf("%q, want %q", got, want)
	}
}

// Where a file is not UTF-8 is told by its line, and what stands before it on it.
func TestWhereAFileIsNotText(t *testing.T) {
	long := strings.Repeat("x", 30)
	for text, want := range map[string]string{
		"\xe4bc":                `line 1 is not UTF-8 text, at "\xe4"`,
		"a\xe4bc":               `line 1 is not UTF-8 text, at "a\xe4"`,
		"one\ntwo\nthr\xe4":     `line 3 is not UTF-8 text, at "thr\xe4"`,
		"one\n" + long + "\xe4": `line 2 is not UTF-8 text, at "` + long[:20] + `\xe4"`,
		"one\ufffd\ntwo\xe4":    `line 2 is not UTF-8 text, at "two\xe4"`,
		"one\ufffd\ntwo":        "",
		"\xff\xfeo\x00":         "it is written as UTF-16",
		"\xfe\xff\x00o":         "it is written as UTF-16",
		"PK\x03\x04x":           "it is a spreadsheet program's own file, not CSV",
		"one\x00":               "it holds zero bytes, so it is not plain text",
	} {
		if got := foreignEncoding(text); got != want {
			t.Errorf("%q: %s, want %s", text, got, want)
		}
	}
}

// A merge counts every cell that it fills in, by file.
func TestCellsThatAreFilledIn(t *testing.T) {
	here, there := two(t, cross("Ann", "Bob"), cross("Cat", "Dan"))
	edit(there, "crosses.csv", "Ann,Bob,2026-05-04,,,", "Ann,Bob,2026-05-04,12,,north")
	edit(there, "crosses.csv", "Cat,Dan,2026-05-04,,,", "Cat,Dan,2026-05-04,9,,")
	m, err := merge(t, here, there, Here)
	if err != nil || len(m.Added) != 1 || m.Added[0] != (AddedRows{"crosses.csv", 0, 3}) {
		t.Errorf("%+v, %v", m, err)
	}
}

// Renaming a variety tells of each cell that changed; where only varieties.csv had
// it, of that.
func TestWhatRenamingChanged(t *testing.T) {
	files := map[string]string{
		"crosses.csv":   "id,seed_parent,pollen_parent,pollinated,flowers,state,notes\n2026X001,Ann,Bob,,,,\n2026X002,Cat,mixture of Ann + Dan,,,,\n",
		"seedlings.csv": "id,pricked,state,notes,place,name,ended,fate\n2026X001-A1-A,,,,,Eve,,\n",
		"varieties.csv": "name,sport_of\nAnn,\nFlo,\nGuy,Flo\n",
	}
	for old, want := range map[string][]string{
		"ann": {"2026X001 seed_parent: Ann to New", "2026X002 pollen_parent: mixture of Ann + Dan to mixture of New + Dan"},
		"Bob": {"2026X001 pollen_parent: Bob to New"},
		"Eve": {"2026X001-A1-A name: Eve to New"},
		"Flo": {" name: Flo to New"},
		"Hal": nil,
	} {
		dir := newRegistry(t, files)
		var got []string
		err := Change(dir, Options{}, func(r *Registry) error {
			changed, err := r.RenameVariety(old, "New")
			for _, c := range changed {
				got = append(got, fmt.Sprintf("%s %s: %s to %s", c.ID, c.Fact, c.Before, c.After))
			}
			return err
		})
		if !slices.Equal(got, want) || (err != nil) != (want == nil) || err != nil && !refused(err) {
			t.Errorf("%s: %q, %v; want %q", old, got, err, want)
		}
		if text := readFile(t, dir, "varieties.csv"); want != nil && strings.Contains(strings.ToLower(text), strings.ToLower(old)+",") {
			t.Errorf("%s: varieties.csv is\n%s", old, text)
		}
	}
}

// A bag that ended with its cross alone may be void.
func TestBagsOfAFailedCrossMayBeVoid(t *testing.T) {
	files := lived()
	files["lots.csv"] += "\n2026X002-A,,,,,,,,,,,"
	if err := testStore(season(files)).change(func(r *Registry) error { return r.Void(mustID(t, "2026X002-A"), "slip") }); err != nil {
		t.Error(err)
	}
}

// The very same count is known again: its pot, day and numbers; a count that leaves
// the dead out is that of none.
func TestTheVerySameCount(t *testing.T) {
	r := open(t, season(map[string]string{"emergence.csv": "2025X007-A1,2026-02-20,3,,wet\n2025X007-A1,2026-03-01,5,2,"}))
	pot, other := mustID(t, "2025X007-A1"), mustID(t, "2026X001-A1")
	for _, c := range []struct {
		e    Emergence
		want bool
	}{
		{Emergence{Pot: pot, On: Date{2026, 2, 20}, Up: Known(3)}, true},
		{Emergence{Pot: pot, On: Date{2026, 2, 20}, Up: Known(3), Died: Known(0)}, true},
		{Emergence{Pot: pot, On: Date{2026, 3, 1}, Up: Known(5), Died: Known(2), Notes: "dry"}, true},
		{Emergence{Pot: pot, On: Date{2026, 3, 1}, Up: Known(5)}, false},
		{Emergence{Pot: pot, On: Date{2026, 3, 1}, Up: Known(4), Died: Known(2)}, false},
		{Emergence{Pot: pot, On: Date{2026, 3, 2}, Up: Known(5), Died: Known(2)}, false},
		{Emergence{Pot: other, On: Date{2026, 2, 20}, Up: Known(3)}, false},
	} {
		if got := r.HasCount(c.e); got != c.want {
			t.Errorf("%+v: %v", c.e, got)
		}
	}
}

// Local dates that their columns settle are offered row by row.
func TestFixesComeByRow(t *testing.T) {
	r := open(t, season(map[string]string{"lots.csv": "2026X001-A,13/08/2026,15/11/2026,,,,20/11/2026,,\n2026X001-B,1/8/2026,16/11/2026,,,,21/11/2026,,\n2026x001-c,2/8/2026,,,,,,,", "pots.csv": "", "seedlings.csv": "", "emergence.csv": "", "labels.csv": ""}))
	var got []string
	for _, f := range r.Fixes() {
		got = append(got, fmt.Sprint(f.Finding.Row, f.Finding.Column, " ", f.Want))
	}
	want := []string{"4id 2026X001-C", "2issued 2026-08-13", "2extracted 2026-11-15", "2chilled 2026-11-20", "3issued 2026-08-01", "3extracted 2026-11-16", "3chilled 2026-11-21", "4issued 2026-08-02"}
	slices.SortStableFunc(want[1:], func(a, b string) int { return int(a[0]) - int(b[0]) })
	if !slices.Equal(got[1:], want[1:]) {
		t.Errorf("%q, want %q", got, want)
	}
}

// A count is corrected where its damaged cell is the one that is replaced, and not
// where another one is.
func TestDamagedCountsAreCorrected(t *testing.T) {
	n, m := Known(4), Known(1)
	for _, c := range []struct {
		row  string
		c    CountCorrection
		want string
	}{
		{"2025X007-A1,2026-03-01,some,1,", CountCorrection{Up: &n}, ""},
		{"2025X007-A1,2026-03-01,some,1,", CountCorrection{Died: &m}, "column up"},
		{"2025X007-A1,2026-03-01,5,some,", CountCorrection{Died: &m}, ""},
		{"2025X007-A1,2026-03-01,5,some,", CountCorrection{Up: &n}, "column died"},
		{"2025X007-A1,2026-03-01,some,some,", CountCorrection{Up: &n}, "column died"},
		{"2025X007-A1,2026-03-01,some,some,", CountCorrection{Up: &n, Died: &m}, ""},
		{"2025X007-A1,2026-03-01,some,some,", CountCorrection{Drop: true}, ""},
		{"2025X007-A1,2026-03-01,5,1,\n2025X007-A1,soon,5,1,", CountCorrection{Up: &n}, "column on"},
		{"2025X007-A1,2026-03-01,5,1,\n2025X007-A1,2026-02-01,some,1,", CountCorrection{Up: &n}, "column up"},
	} {
		err := testStore(season(map[string]string{"emergence.csv": c.row})).change(func(r *Registry) error {
			_, err := r.CorrectCount(mustID(t, "2025X007-A1"), Date{2026, 3, 1}, c.c)
			return err
		})
		if c.want == "" && err != nil || c.want != "" && (!errors.As(err, new(*DamageError)) || !strings.Contains(err.Error(), c.want)) {
			t.Errorf("%s, %+v: %v, want %q", c.row, c.c, err, c.want)
		}
	}
}

// Cells beyond the columns of a table that needs another one are told once a row.
func TestCellsBeyondTheColumns(t *testing.T) {
	dir := newRegistry(t, map[string]string{"varieties.csv": "name\nAnn,x,y\nBob,,\nCat,,z\n"})
	err := Change(dir, Options{}, setFacts(Variety{Name: "Dan", Ploidy: 3}, false))
	var damage *DamageError
	if !errors.As(err, &damage) || len(damage.Findings) != 2 || damage.Findings[0].Row != 2 || damage.Findings[0].Value != "x" || damage.Findings[1].Row != 4 || damage.Findings[1].Value != "z" {
		t.Errorf("%v", err)
	}
	if err := os.Remove(filepath.Join(dir, "varieties.csv")); err != nil {
		t.Fatal(err)
	}
	mustChange(t, dir, setFacts(Variety{Name: "Dan", Ploidy: 3}, false))
}

// So are those of a table whose rows bear identifiers.
func TestCellsBeyondTheColumnsOfATable(t *testing.T) {
	r := open(t, season(map[string]string{"seedlings.csv": "2025X007-A1-A,,,,x,y\n2025X007-A1-B,,,,,"}))
	var got []string
	for _, f := range r.Damage() {
		if f.File == "seedlings.csv" {
			got = append(got, f.String())
		}
	}
	if len(got) != 1 || !strings.HasPrefix(got[0], `seedlings.csv row 2: "x" stands beyond the last column`) {
		t.Errorf("%q", got)
	}
}

// A seedling that has a name keeps it where it is selected without one.
func TestSelectedUnderTheNameThatItHas(t *testing.T) {
	d := season(map[string]string{"seedlings.csv": "2025X007-A1-A,2026-03-20,,,,Early Tessel,,"})
	err := testStore(d).change(func(r *Registry) error { return r.Select(mustID(t, "2025X007-A1-A"), "", Date{2027, 5, 1}) })
	if s, _ := open(t, d).Seedling(mustID(t, "2025X007-A1-A")); err != nil || s.Name != "Early Tessel" {
		t.Errorf("%+v, %v", s, err)
	}
}

// A name with a line break in it is told of that up to 500 characters, and beyond
// them that it is too long.
func TestLongNamesWithLineBreaks(t *testing.T) {
	for length, want := range map[int]string{499: "holds a line break", 500: "holds a line break", 501: "is longer than 500 characters"} {
		name := strings.Repeat("a", length-2) + "\x0bb"
		if got := findingsText(withCrosses(t, "2026X001,"+name+",Bob,,,,").Check()); !strings.Contains(got, want) {
			t.Errorf("%d characters: %s, want %s", length, got, want)
		}
	}
}

// One day above 12 settles a column, whichever number it is.
func TestDayThatSettlesAColumn(t *testing.T) {
	for column, want := range map[[2]string]string{
		{"5/13/2026", "4/5/2026"}:  "2026-05-13 2026-04-05",
		{"13/5/2026", "4/5/2026"}:  "2026-05-13 2026-05-04",
		{"5/12/2026", "4/5/2026"}:  " ",
		{"12/12/2026", "4/5/2026"}: " ",
		{"31/5/2026", "1/1/2026"}:  "2026-05-31 2026-01-01",
		{"32/5/2026", "1/1/2026"}:  " ",
	} {
		got := readTogether(column[:])
		if s := got[0].String() + " " + got[1].String(); s != want {
			t.Errorf("%q: %q, want %q", column, s, want)
		}
	}
}

// A command stands on one line in the history, however it was typed.
func TestCommandsOnOneLine(t *testing.T) {
	for typed, want := range map[string]string{"cross A\n× B": "cross A × B", "a  b": "a b", " a\tb ": "a b", "a\x00b\x1bc": "a b c", "a\xffb": "a\ufffdb", strings.Repeat("x", 600): strings.Repeat("x", 500)} {
		if got := oneLineOf(typed); !strings.HasPrefix(got, want) || len(got) > len(want)+len("…") {
			t.Errorf("%q: %q, want %q", typed, got, want)
		}
	}
}

// Parents are swapped or named, and not both.
func TestParentsSwappedOrNamed(t *testing.T) {
	name := "Ann"
	for _, c := range []struct {
		c    Correction
		want string
	}{
		{Correction{Swap: true}, "Tarn Amber × Larkfield Tessel"},
		{Correction{SeedParent: &name}, "Ann × Tarn Amber"},
		{Correction{PollenParent: &name}, "Larkfield Tessel × Ann"},
		{Correction{SeedParent: &name, PollenParent: &name}, "Ann × Ann"},
		{Correction{Swap: true, SeedParent: &name}, ""},
		{Correction{Swap: true, PollenParent: &name}, ""},
	} {
		d := season(nil)
		err := testStore(d).change(func(r *Registry) error { _, err := r.Correct(mustID(t, "2026X001"), c.c); return err })
		cross, _ := open(t, d).Cross(mustID(t, "2026X001"))
		if got := cross.SeedParent + " × " + cross.PollenParent; c.want == "" && !refused(err) || c.want != "" && (err != nil || got != c.want) {
			t.Errorf("%+v: %s, %v; want %s", c.c, got, err, c.want)
		}
	}
}

// What the histories tell of other cells decides nothing: of another cross, another
// column, another text.
func TestOnlyItsOwnHistoryDecides(t *testing.T) {
	flowers := func(id int, n int) func(*Registry) error {
		return func(r *Registry) error {
			count, of := Known(n), firstCross
			of.Cross = id
			_, err := r.Correct(of, Correction{Flowers: &count})
			return err
		}
	}
	fruit := func(r *Registry) error { _, err := r.Pick(firstCross, 14, Date{2026, 9, 1}); return err }
	picked := func(r *Registry) error {
		count := Known(3)
		_, err := r.Correct(firstCross, Correction{Fruit: &count})
		return err
	}
	for name, works := range map[string][]func(*Registry) error{
		"another cross":  {flowers(2, 14), flowers(2, 15)},
		"another column": {fruit, picked},
	} {
		for _, prefer := range []Side{Here, There} {
			here, there := two(t, cross("Ann", "Bob"), cross("Cat", "Dan"))
			then(t, here, "here", works...)
			edit(here, "crosses.csv", "Ann,Bob,2026-05-04,", "Ann,Bob,2026-05-04,20")
			edit(there, "crosses.csv", "Ann,Bob,2026-05-04,", "Ann,Bob,2026-05-04,14")
			m, err := merge(t, here, there, prefer)
			if want := []Difference{{"crosses.csv", firstCross.String(), "flowers", 2, "20", "14", prefer}}; err != nil || !slices.Equal(m.Differences, want) || m.Newer != nil {
				t.Errorf("%s: %+v, newer %+v, %v", name, m.Differences, m.Newer, err)
			}
		}
	}
	here, there := two(t, cross("Ann", "Bob"), flowers(1, 14))
	then(t, here, "here", flowers(1, 20))
	m, err := merge(t, here, there, There)
	if want := []Difference{{"crosses.csv", firstCross.String(), "flowers", 2, "20", "14", Here}}; err != nil || !slices.Equal(m.Newer, want) || m.Differences != nil {
		t.Errorf("its own: %+v, newer %+v, %v", m.Differences, m.Newer, err)
	}
}

// Each pot that lacks one of its two stakes is told of by that one.
func TestOneStakeMissingInTwoPots(t *testing.T) {
	files := cleanSeason()
	files["labels.csv"] = strings.NewReplacer("2026X011-A1,2,t,1,2,P,", "2026X011-A1,2,t,1,2,P,spoilt", "2026X011-A2,1,t,1,3,P,", "2026X011-A2,1,t,1,3,P,replaced").Replace(cleanLabels)
	var got []string
	for _, f := range open(t, season(files)).Check() {
		got = append(got, f.Value+" "+f.What)
	}
	if want := []string{"2026X011-A1 has no stake in use as copy 2", "2026X011-A2 has no stake in use as copy 1"}; !slices.Equal(got, want) {
		t.Errorf("%q, want %q", got, want)
	}
}

// What stands below a void pot, as a hand edit can leave it, is still in use.
func TestSeedlingBelowAVoidPot(t *testing.T) {
	files := lived()
	files["pots.csv"] += "\n2026X001-B1,3,2027-01-14,,void,,,"
	files["seedlings.csv"] += "\n2026X001-B1-A,2027-03-01,,,,,,"
	err := testStore(season(files)).change(func(r *Registry) error { return r.Void(mustID(t, "2026X001-B"), "slip") })
	if want := "2026X001-B still has 2026X001-B1-A; void what stands below with it: {void: 2026X001-B 2026X001-B1-A}"; err == nil || err.Error() != want {
		t.Errorf("%v, want %s", err, want)
	}
}

// Of two counts of one day none is corrected before one of them goes.
func TestTwoCountsOfOneDay(t *testing.T) {
	n := Known(4)
	err := testStore(season(map[string]string{"emergence.csv": "2025X007-A1,2026-03-01,5,\n2025X007-A1,2026-03-01,5,"})).change(func(r *Registry) error {
		_, err := r.CorrectCount(mustID(t, "2025X007-A1"), Date{2026, 3, 1}, CountCorrection{Up: &n})
		return err
	})
	if want := `emergence.csv row 3, column on: "2026-03-01" is the day of another count too; keep the one that is right`; err == nil || err.Error() != want {
		t.Errorf("%v, want %s", err, want)
	}
}

// A file that nobody may write is left alone, whoever may run it; one that somebody
// may write is written.
func TestWriteProtectedFiles(t *testing.T) {
	for mode, ok := range map[os.FileMode]bool{0o444: false, 0o555: false, 0o644: true, 0o464: true, 0o446: true, 0o442: true} {
		d := season(nil)
		d.now["r/lots.csv"].mode = mode
		err := testStore(d).change(func(r *Registry) error { return r.Void(mustID(t, "2026X001-B"), "slip") })
		var access *AccessError
		if (err == nil) != ok || !ok && (!errors.As(err, &access) || access.What != "is write-protected") {
			t.Errorf("mode %o: %v", mode, err)
		}
	}
}

// Of a cross that clashes, what stands below it is not told of as well.
func TestClashIsToldOnce(t *testing.T) {
	second := firstCross
	second.Cross = 2
	lot := func(day int) func(*Registry) error {
		return func(r *Registry) error { _, err := r.AddLots(second, 1, Date{2026, 8, day}); return err }
	}
	here, there := two(t, cross("Larkfield Tessel", "Tarn Amber"))
	then(t, here, "here", cross("A", "B"), lot(1))
	then(t, there, "there", cross("C", "B"), lot(5))
	_, err := merge(t, here, there, Here)
	var clash *ClashError
	if !errors.As(err, &clash) || len(clash.Clashes) != 1 || clash.Clashes[0].ID != second || strings.Contains(err.Error(), "more clash") {
		t.Errorf("%v", err)
	}
}

// Four of many identifiers are named, and how many more there are.
func TestNamesOfMany(t *testing.T) {
	for n, want := range map[int]string{0: "", 1: "2026X001-A", 4: "2026X001-A, 2026X001-B, 2026X001-C, 2026X001-D", 5: "2026X001-A, 2026X001-B, 2026X001-C, 2026X001-D and 1 more", 9: "2026X001-A, 2026X001-B, 2026X001-C, 2026X001-D and 5 more"} {
		d := season(map[string]string{"crosses.csv": "2026X001,A,B,,,,", "lots.csv": "", "pots.csv": "", "seedlings.csv": "", "emergence.csv": "", "labels.csv": ""})
		err := testStore(d).change(func(r *Registry) error {
			if n > 0 {
				if _, err := r.AddLots(firstCross, n, Date{}); err != nil {
					return err
				}
			}
			return r.Void(firstCross, "")
		})
		if want != "" {
			want = "2026X001 still has " + want + ";"
		}
		if err == nil || !strings.HasPrefix(err.Error(), want) {
			t.Errorf("%d bags: %v, want %s", n, err, want)
		}
	}
}
