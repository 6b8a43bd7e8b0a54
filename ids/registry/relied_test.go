package registry

import (
	"fmt"
	"io/fs"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"pipstake/ids"
)

// Only what went into the cold or came out of it makes a spell of cold: remarks and
// seed that was given away do not, and going in while it is in begins no other.
func TestOnlyColdMakesSpells(t *testing.T) {
	for diary, want := range map[string]string{
		"2026X001-A,2026-11-16,note,,windy": "[]",
		"2026X001-A,2026-11-16,note,,windy\n2026X001-A,2026-11-20,into-cold,,\n2026X001-A,2026-11-21,note,,windy\n2026X001-A,2026-12-01,out-of-cold,,\n" +
			"2026X001-A,2026-12-05,given,2,\n2026X001-A,2026-12-06,out-of-cold,,": "[{2026-11-20 2026-12-01}]",
		"2026X001-A,2026-11-20,into-cold,,\n2026X001-A,2026-11-25,into-cold,,\n2026X001-A,2026-12-01,out-of-cold,,": "[{2026-11-20 2026-12-01}]",
		"2026X001-A,2026-11-20,into-cold,,\n2026X001-A,2026-11-19,out-of-cold,,":                                    "[{2026-11-20 }]",
	} {
		r := open(t, season(map[string]string{"lots.csv": "2026X001-A,,2026-11-15,,9,,,,", "pots.csv": "", "labels.csv": "", "diary.csv": diary}))
		if got := fmt.Sprint(r.ColdSpells(mustID(t, "2026X001-A"))); got != want {
			t.Errorf("%q: %s, want %s", diary, got, want)
		}
	}
}

// Seed is kept until a year of four digits.
func TestYearsThatSeedIsKeptUntil(t *testing.T) {
	for year, ok := range map[int]bool{-1: false, 1: false, 999: false, 1000: true, 2031: true, 9999: true, 10000: false, 0: true} {
		d := season(nil)
		err := testStore(d).change(func(r *Registry) error { _, err := r.Keep(mustID(t, "2026X001-A"), year); return err })
		l, _ := open(t, d).Lot(mustID(t, "2026X001-A"))
		if ok && (err != nil || l.Kept != year) || !ok && (!refused(err) || !strings.Contains(err.Error(), "is no year") || l.Kept != 0) {
			t.Errorf("%d: kept until %d, %v", year, l.Kept, err)
		}
	}
}

// Rows below those that are taken back stay where they are: what is recorded next is
// of them, and written in their row.
func TestRowsBelowOnesThatAreTakenBack(t *testing.T) {
	a, b := firstCross.Child(1), firstCross.Child(2)
	d, _ := two(t, cross("Ann", "Bob"), func(r *Registry) error { _, err := r.AddLots(firstCross, 1, Date{2026, 8, 1}); return err })
	d.now["r/lots.csv"].data += b.String() + ",2026-08-02,,,,,,,by hand\r\n"
	then(t, d, "undo", func(r *Registry) error {
		if _, err := r.Undo(); err != nil {
			return err
		}
		return extract(b, 9)(r)
	})
	r := open(t, d)
	l, found := r.Lot(b)
	if _, stays := r.Lot(a); stays || !found || l.Seeds != Known(9) || l.Notes != "by hand" || len(r.Lots()) != 1 {
		t.Errorf("%+v", r.Lots())
	}
}

// Of labels that cannot be taken back, what the same command issued is told, and not
// what it only corrected or wrote a remark on.
func TestPrintedLabelsTellOfWhatWasIssued(t *testing.T) {
	a := firstCross.Child(1)
	const spoil = `"print" printed labels, as batch 1: 2026X001-A; destroy them and say so with: {spoil: 1}`
	for _, c := range []struct {
		work func(*Registry) error
		want string
	}{
		{func(*Registry) error { return nil }, spoil},
		{extract(a, 9), spoil},
		{func(r *Registry) error { return r.Note(a, Date{2026, 8, 2}, "windy") }, spoil},
		{cross("Cat", "Dan"), spoil + "; then take back what they were for, if it should never have been, with: {void: 2026X002}"},
	} {
		d, _ := two(t, cross("Ann", "Bob"), func(r *Registry) error { _, err := r.AddLots(firstCross, 1, Date{2026, 8, 1}); return err })
		then(t, d, "print", func(r *Registry) error {
			if err := c.work(r); err != nil {
				return err
			}
			return printBags("s", 1, 1, a)(r)
		})
		err := testStore(d).change(func(r *Registry) error { _, err := r.Undo(); return err })
		if err == nil || err.Error() != c.want {
			t.Errorf("%v\nwant %s", err, c.want)
		}
	}
}

// The caller is told of all that a command changed, and of nothing else.
func TestSavedTellsOfTheWholeCommand(t *testing.T) {
	d, _ := two(t, cross("Ann", "Bob"))
	s := testStore(d)
	var got []string
	s.opt.Saved = func(entry int, events []Event) {
		for _, e := range events {
			got = append(got, fmt.Sprint(entry, e.Entry, " ", e.File, " ", e.Key))
		}
	}
	if err := s.change(func(r *Registry) error { _, err := r.AddLots(firstCross, 3, Date{2026, 8, 1}); return err }); err != nil {
		t.Fatal(err)
	}
	if want := []string{"2 2 lots.csv 2026X001-A", "2 2 lots.csv 2026X001-B", "2 2 lots.csv 2026X001-C"}; !slices.Equal(got, want) {
		t.Errorf("%q, want %q", got, want)
	}
}

// An identifier with two rows is not lifted: the second one is named.
func TestLiftNamesTheSecondRow(t *testing.T) {
	d := season(map[string]string{"crosses.csv": "2026X002,A,B,,,,\n2026X001,A,B,,,void,\n2026X001,A,C,,,void,\n2026X001,A,D,,,void,", "lots.csv": "", "pots.csv": "", "seedlings.csv": "", "emergence.csv": "", "labels.csv": ""})
	err := testStore(d).change(func(r *Registry) error { return r.Lift(firstCross) })
	if want := `crosses.csv row 4, column id: "2026X001" stands in another row as well; delete one of the rows, or give it its right identifier`; err == nil || err.Error() != want {
		t.Errorf("%v\nwant %s", err, want)
	}
}

// linkedDisk is a folder of which some files are links to another folder.
type linkedDisk struct {
	*testDisk
	links  map[string]string
	synced []string
}

func (d *linkedDisk) Resolve(path string) (string, error) {
	if to := d.links[filepath.ToSlash(path)]; to != "" {
		path = to
	}
	return d.testDisk.Resolve(path)
}

func (d *linkedDisk) SyncDir(dir string) error {
	d.synced = append(d.synced, filepath.ToSlash(dir))
	return d.testDisk.SyncDir(dir)
}

// A file that is a link to another folder is saved there, and that is made to last;
// other folders are left in peace.
func TestFilesThatAreLinks(t *testing.T) {
	files := emptyFiles()
	files["far/crosses.csv"], files["away/pots.csv"] = files["r/crosses.csv"], files["r/pots.csv"]
	d := &linkedDisk{newTestDisk(files), map[string]string{"r/crosses.csv": "far/crosses.csv", "r/pots.csv": "away/pots.csv"}, nil}
	s := testStore(d.testDisk)
	s.disk = d
	if err := s.change(cross("Ann", "Bob")); err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(d.now["far/crosses.csv"].data, "Ann,Bob") || d.now["r/crosses.csv"].data != files["r/crosses.csv"] {
		t.Errorf("%q", d.now["far/crosses.csv"].data)
	}
	if n := len(slices.DeleteFunc(slices.Clone(d.synced), func(dir string) bool { return dir != "far" })); n < 2 || slices.Contains(d.synced, "away") {
		t.Errorf("made to last: %q", d.synced)
	}
}

// The journal of a commit is as open as the table of crosses, whatever the others are.
func TestModeOfTheJournal(t *testing.T) {
	d := newTestDisk(emptyFiles())
	d.now["r/"+crossesFile].mode = 0o600
	s := testStore(d)
	for d.failAt = 1; d.now["r/"+journalFile] == nil; d.failAt++ {
		if d.ops, d.stopped = 0, false; d.failAt > 99 {
			t.Fatal("no crash left a journal")
		}
		d.stop = true
		_ = s.change(cross("Ann", "Bob"))
	}
	if got := d.now["r/"+journalFile].mode; got != 0o600 {
		t.Errorf("the journal has the mode %v", got)
	}
}

// A first line ends as lines of any system do, and may be all there is.
func TestFirstLine(t *testing.T) {
	for text, want := range map[string][2]string{
		"": {"", ""}, "a": {"a", ""}, "a\n": {"a", ""}, "\nb": {"", "b"}, "a\nb\nc": {"a", "b\nc"}, "a\r\nb\r\n": {"a", "b\r\n"}, "a\rb": {"a", "b"}, "a\n\nb": {"a", "\nb"},
	} {
		if line, rest := cutLine(text); line != want[0] || rest != want[1] {
			t.Errorf("%q: %q and %q", text, line, rest)
		}
	}
}

// Of a merge that leaves out an identifier, its own label and remark stay there too.
func TestLeftOutWithItsOwnLabel(t *testing.T) {
	lot := firstCross.Child(1)
	lots := func(day int) func(*Registry) error {
		return func(r *Registry) error { _, err := r.AddLots(firstCross, 1, Date{2026, 8, day}); return err }
	}
	here, there := two(t, cross("Ann", "Bob"))
	then(t, here, "here", lots(1))
	then(t, there, "there", lots(2), printBags("s", 1, 1, lot), func(r *Registry) error { return r.Note(lot, Date{2026, 8, 3}, "windy") },
		func(r *Registry) error { return r.Void(lot, "another") })
	m, err := merge(t, here, there, Here)
	if err != nil || !slices.Equal(m.LeftOut, []ids.ID{lot}) {
		t.Fatalf("left out %v, %v", m.LeftOut, err)
	}
	if r := open(t, here); len(r.Labels()) != 0 || len(r.Diary()) != 0 || len(r.Lots()) != 1 {
		t.Errorf("%v, %v", r.Labels(), r.Diary())
	}
}

// What was taken back there is told of as that command's here, the first of all
// too; its number is spent from then on. Where the history there has lost the
// command, none of here is taken for it.
func TestTakenBackThere(t *testing.T) {
	undo := func(r *Registry) error { _, err := r.Undo(); return err }
	undoes := func(d *testDisk) []int {
		var all []int
		for _, e := range open(t, d).History() {
			if e.From != "" && e.Undoes != 0 {
				all = append(all, e.Undoes)
			}
		}
		return all
	}
	here, there := two(t, cross("Ann", "Bob"))
	then(t, there, "undo", undo)
	if _, err := merge(t, here, there, Here); err != nil || !slices.Equal(undoes(here), []int{1}) {
		t.Errorf("the first command: %v, %v", undoes(here), err)
	}
	here, there = two(t, cross("Ann", "Bob"))
	then(t, there, "there", cross("Cat", "Dan"), undo)
	then(t, here, "merge", func(r *Registry) error {
		if _, err := r.Merge(open(t, there), Here); err != nil {
			return err
		}
		if second := (ids.ID{Year: 2026, Cross: 2}); !r.Spent(second) {
			t.Errorf("%s may be issued again", second)
		}
		return nil
	})
	here, there = two(t, cross("Ann", "Bob"))
	then(t, there, "there", cross("Cat", "Dan"), undo)
	then(t, here, "here", func(r *Registry) error { return r.Note(firstCross, Date{2026, 5, 5}, "windy") })
	lines := slices.DeleteFunc(strings.SplitAfter(there.now["r/history.csv"].data, "\r\n"), func(line string) bool { return strings.HasPrefix(line, "2,") })
	there.now["r/history.csv"].data = strings.Join(lines, "")
	if _, err := merge(t, here, there, Here); err != nil || undoes(here) != nil {
		t.Errorf("a command that is lost: %v, %v", undoes(here), err)
	}
	then(t, here, "undo", undo)
	if len(open(t, here).Diary()) != 0 {
		t.Error("the remark of here cannot be taken back any more")
	}
}

// A pot without a count gives no more seedlings than it was sown with seeds.
func TestPotsWithoutCountsGiveNoMoreThanTheirSeeds(t *testing.T) {
	pot := mustID(t, "2025X007-A1")
	for pricked, ok := range map[int]bool{2: true, 3: false} {
		err := testStore(season(map[string]string{"pots.csv": "2025X007-A1,2,2026-01-14,,,", "seedlings.csv": "", "emergence.csv": ""})).change(func(r *Registry) error {
			_, err := r.AddSeedlings(pot, pricked, Date{2026, 3, 20})
			return err
		})
		if (err == nil) != ok || err != nil && !refused(err) {
			t.Errorf("%d pricked out of a pot of 2: %v", pricked, err)
		}
	}
	for seeds, ok := range map[int]bool{3: true, 2: false} {
		n := Known(seeds)
		err := testStore(season(map[string]string{"pots.csv": "2025X007-A1,9,2026-01-14,,,", "seedlings.csv": "2025X007-A1-A,2026-03-20,,\n2025X007-A1-B,2026-03-20,,\n2025X007-A1-C,2026-03-20,,", "emergence.csv": ""})).change(func(r *Registry) error {
			_, err := r.Correct(pot, Correction{Seeds: &n})
			return err
		})
		if (err == nil) != ok || err != nil && !refused(err) {
			t.Errorf("a pot of %d of which 3 were pricked out: %v", seeds, err)
		}
	}
}

// A name on two lines is read as on one, and said to need mending.
func TestNamesOnTwoLines(t *testing.T) {
	r := open(t, season(map[string]string{"crosses.csv": "2026X001,\"Tarn\nAmber\tII\",\"Bob  the\n\nElder\",2026-05-04,,,", "lots.csv": "", "pots.csv": "", "seedlings.csv": "", "emergence.csv": "", "labels.csv": ""}))
	if c := r.Crosses()[0]; c.SeedParent != "Tarn Amber II" || c.PollenParent != "Bob the Elder" {
		t.Errorf("%q, %q", c.SeedParent, c.PollenParent)
	}
	if n := len(slices.DeleteFunc(r.Check(), func(f Finding) bool { return f.What != "holds a line break or a control character" })); n != 2 {
		t.Errorf("%d of 2 names are to be mended", n)
	}
}

// A message repeats at most 60 characters of what was given.
func TestLongTextsInMessages(t *testing.T) {
	for n, want := range map[int]string{60: strings.Repeat("ä", 60), 61: strings.Repeat("ä", 60) + "…"} {
		_, err := ReadDate(strings.Repeat("ä", n), Date{2026, 11, 27})
		if err == nil || !strings.Contains(err.Error(), `"`+want+`"`) {
			t.Errorf("%d characters: %v", n, err)
		}
	}
}

// A parent may be renamed to what it was meant for, a selection that has its name,
// whatever other selections there are.
func TestParentBecomesASelection(t *testing.T) {
	d := season(map[string]string{"crosses.csv": "2026X001,Old Pik,Bob,2026-05-04,,,\n2025X007,Ann,Bob,2025-05-04,,,", "seedlings.csv": "2025X007-A1-A,2026-03-20,,,,First,,\n2025X007-A1-B,2026-03-20,,,,Old Pick,,"})
	if err := testStore(d).change(func(r *Registry) error { _, err := r.RenameVariety("Old Pik", "Old Pick"); return err }); err != nil {
		t.Fatal(err)
	}
	if c, _ := open(t, d).Cross(firstCross); c.SeedParent != "Old Pick" {
		t.Errorf("%+v", c)
	}
}

// What stands above something that has lived is not voided, and why is told of what
// has lived.
func TestNothingAboveWhatLivedIsVoided(t *testing.T) {
	for id, want := range map[string]string{
		"2026X001":   "2026X001-A stands below 2026X001, and has lived: it was discarded on 2027-02-01; correct what is wrong",
		"2025X007-A": "2025X007-A1 stands below 2025X007-A, and has lived: it was lost on 2026-04-01, it was counted on 2026-03-01, 2 seedlings were pricked out of it; correct what is wrong",
	} {
		err := testStore(season(lived())).change(func(r *Registry) error { return r.Void(mustID(t, id), "slip") })
		if err == nil || err.Error() != want {
			t.Errorf("%s: %v\nwant %s", id, err, want)
		}
	}
}

// sizedDisk is a disk on which one file is said to have another size.
type sizedDisk struct {
	*testDisk
	file string
	size int64 // in bytes
}

type sizedInfo struct {
	fs.FileInfo
	size int64
}

func (i sizedInfo) Size() int64 { return i.size }

func (d sizedDisk) Stat(path string) (fs.FileInfo, error) {
	info, err := d.testDisk.Stat(path)
	if err == nil && filepath.Base(path) == d.file {
		info = sizedInfo{info, d.size}
	}
	return info, err
}

// What stands beside the tables is looked into up to 256 MB, and left unread above.
func TestHowLargeACopyMayBe(t *testing.T) {
	for size, seen := range map[int64]bool{268_435_456: true, 268_435_457: false} {
		d := newTestDisk(emptyFiles())
		d.now["r/old.csv"] = &testFile{data: newTables().pots.blankFile()}
		s := testStore(d)
		s.disk = sizedDisk{d, "old.csv", size}
		r, err := s.load(mustRead(t, d))
		if err != nil {
			t.Fatal(err)
		}
		if found := r.Check(); (len(found) == 1) != seen || seen && !strings.Contains(found[0].What, "has the columns of pots.csv") {
			t.Errorf("%d bytes: %v", size, found)
		}
	}
}
