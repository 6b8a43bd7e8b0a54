package registry

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"pipstake/ids"
)

// A cross that is void there and another one here is left out with all that stands
// below it: lots, pots, counts, remarks and labels.
func TestLeftOutWithAllBelow(t *testing.T) {
	second := firstCross
	second.Cross = 2
	lot := second.Child(1)
	here, there := two(t, cross("Larkfield Tessel", "Tarn Amber"))
	then(t, here, "here", cross("A", "B"))
	then(t, there, "there", cross("C", "B"),
		func(r *Registry) error { _, err := r.AddLots(second, 1, Date{2026, 8, 1}); return err },
		extract(lot, 9),
		func(r *Registry) error {
			_, err := r.Sow(lot, Sowing{Seeds: []int{5}, On: Date{2026, 12, 1}})
			return err
		},
		func(r *Registry) error { _, err := r.AddEmergence(lot.Child(1), Date{2027, 3, 1}, 3); return err },
		func(r *Registry) error { _, err := r.AddSeedlings(lot.Child(1), 1, Date{2027, 4, 1}); return err },
		func(r *Registry) error { return r.Note(lot, Date{2027, 3, 1}, "windy") },
		printBags("s", 1, 1, lot))
	edit(there, "crosses.csv", "C,B,2026-05-04,,,", "C,B,2026-05-04,,void,")
	m, err := merge(t, here, there, Here)
	if err != nil || !slices.Equal(m.LeftOut, []ids.ID{second}) {
		t.Fatalf("left out %v, %v", m.LeftOut, err)
	}
	r := open(t, here)
	if got := fmt.Sprint(len(r.Crosses()), len(r.Lots()), len(r.Pots()), len(r.Seedlings()), len(r.Emergences()), len(r.Diary()), len(r.Labels())); got != "2 0 0 0 0 0 0" {
		t.Errorf("%s rows", got)
	}
	if c, _ := r.Cross(second); c.SeedParent != "A" {
		t.Errorf("%+v", c)
	}
}

// A lot that was used up has nothing left, whatever is corrected: its seeds, the
// undeveloped ones, the seeds of its pots.
func TestUsedUpLeavesNothing(t *testing.T) {
	for _, c := range []struct {
		seeds int
		want  string
	}{{13, ""}, {14, "and 1 seed would be left"}, {15, "and 2 seeds would be left"}, {12, "12 seeds less 1 undeveloped are fewer than the 12 sown"}} {
		files := lived()
		files["lots.csv"] = strings.Replace(files["lots.csv"], ",3,14,1,2026-11-20,,,,2027-02-01,discarded", ",3,13,1,2026-11-20,,,,2027-02-01,used-up", 1)
		files["pots.csv"] = strings.Replace(files["pots.csv"], "2026X001-A1,7", "2026X001-A1,12", 1)
		n := Known(c.seeds)
		err := testStore(season(files)).change(func(r *Registry) error {
			_, err := r.Correct(mustID(t, "2026X001-A"), Correction{Seeds: &n})
			return err
		})
		if c.want == "" && err != nil || c.want != "" && (!refused(err) || !strings.Contains(err.Error(), c.want)) {
			t.Errorf("%d seeds: %v, want %q", c.seeds, err, c.want)
		}
	}
	for seeds, want := range map[int]string{12: "", 11: "and 1 seed would be left", 13: "1 more than there are"} {
		files := lived()
		files["lots.csv"] = strings.Replace(files["lots.csv"], ",3,14,1,2026-11-20,,,,2027-02-01,discarded", ",3,13,1,2026-11-20,,,,2027-02-01,used-up", 1)
		files["pots.csv"] = strings.Replace(files["pots.csv"], "2026X001-A1,7", "2026X001-A1,12", 1)
		n := Known(seeds)
		err := testStore(season(files)).change(func(r *Registry) error {
			_, err := r.Correct(mustID(t, "2026X001-A1"), Correction{Seeds: &n})
			return err
		})
		if want == "" && err != nil || want != "" && (!refused(err) || !strings.Contains(err.Error(), want)) {
			t.Errorf("a pot of %d: %v, want %q", seeds, err, want)
		}
	}
}

// Of an entry in the diary that cannot be of what it names, nothing else is said.
func TestDiaryOfTheWrongThing(t *testing.T) {
	files := lived()
	files["diary.csv"] = "2025X007-A1,,grafted,,"
	if got := contradictionsIn(t, files); len(got) != 1 || !strings.Contains(got[0], `"grafted" is nothing that happens to a pot`) {
		t.Errorf("%q", got)
	}
}

// A variety without a row is not found, and neither is a stock, nor an adjustment.
func TestNotOnRecord(t *testing.T) {
	r := open(t, season(nil))
	v, ok := r.Variety("Tarn Amber")
	s, found, err := r.Stock("own")
	a, wrong := r.Adjustment("office", "own")
	if ok || v != (Variety{}) || found || s != (Stock{}) || err != nil || a != (Adjustment{Printer: "office", Stock: "own"}) || wrong != nil {
		t.Errorf("%+v %v, %+v %v %v, %+v %v", v, ok, s, found, err, a, wrong)
	}
}

// The name of a selection is corrected where it is a name, and nobody else's.
func TestNamesAreCorrected(t *testing.T) {
	for name, want := range map[string]string{" New Pick ": "New Pick", "": "", "a\nb": "refused", "2026X001": "refused", "old pick": "refused"} {
		d := season(map[string]string{"seedlings.csv": "2025X007-A1-A,2026-03-20,,,,First,,\n2025X007-A1-B,2026-03-20,,,,Old Pick,,"})
		err := testStore(d).change(func(r *Registry) error {
			_, err := r.Correct(mustID(t, "2025X007-A1-A"), Correction{Name: &name})
			return err
		})
		s, _ := open(t, d).Seedling(mustID(t, "2025X007-A1-A"))
		if want == "refused" && (!refused(err) || s.Name != "First") || want != "refused" && (err != nil || s.Name != want) {
			t.Errorf("%q: %q, %v", name, s.Name, err)
		}
	}
}

// Rows that a person moved are found again by what they are about, though another
// one now stands where they stood and holds the same.
func TestUndoAfterRowsWereMoved(t *testing.T) {
	a, b := firstCross.Child(1), firstCross.Child(2)
	d, _ := two(t, cross("Ann", "Bob"), func(r *Registry) error { _, err := r.AddLots(firstCross, 2, Date{2026, 8, 1}); return err }, extract(a, 9), extract(b, 9))
	f := d.now["r/lots.csv"]
	lines := strings.SplitAfter(f.data, "\r\n")
	lines[1], lines[2] = lines[2], lines[1]
	f.data = strings.Join(lines, "")
	if err := testStore(d).change(func(r *Registry) error { _, err := r.Undo(); return err }); err != nil {
		t.Fatal(err)
	}
	r := open(t, d)
	one, _ := r.Lot(a)
	other, _ := r.Lot(b)
	if one.Seeds != Known(9) || other.Seeds.Known {
		t.Errorf("%+v, %+v", one, other)
	}
}

// Seedlings pricked out on days that are not known came up all the same: a pot of
// two of which two were pricked out holds nothing more.
func TestAllOutOnDaysNotKnown(t *testing.T) {
	for seeds, want := range map[int]bool{2: true, 3: false} {
		r := open(t, season(map[string]string{"pots.csv": fmt.Sprintf("2025X007-A1,%d,2026-01-14,,,", seeds), "seedlings.csv": "2025X007-A1-A,,,\n2025X007-A1-B,,,", "emergence.csv": ""}))
		if got := r.AllOut(mustID(t, "2025X007-A1")); got != want {
			t.Errorf("%d seeds: all out %v", seeds, got)
		}
	}
}

// Counts that fall, as a hand edit can leave them, stand in the way of a correction
// of their pot.
func TestFallingCountsStandInTheWay(t *testing.T) {
	place := "loft"
	err := testStore(season(map[string]string{"emergence.csv": "2025X007-A1,2026-02-20,5,\n2025X007-A1,2026-03-01,4,"})).change(func(r *Registry) error {
		_, err := r.Correct(mustID(t, "2025X007-A1"), Correction{Place: &place})
		return err
	})
	if !refused(err) || !strings.Contains(err.Error(), "4 up on 2026-03-01 does not go with 5 up on 2026-02-20") {
		t.Errorf("%v", err)
	}
}

// A single count that was made and dropped in one command leaves the file alone.
func TestOneCountMadeAndDropped(t *testing.T) {
	d := season(nil)
	before := d.now["r/emergence.csv"].data
	pot := mustID(t, "2025X007-A1")
	err := testStore(d).change(func(r *Registry) error {
		if _, err := r.AddEmergence(pot, Date{2026, 3, 10}, 6); err != nil {
			return err
		}
		if _, err := r.CorrectCount(pot, Date{2026, 3, 10}, CountCorrection{Drop: true}); err != nil {
			return err
		}
		if n := len(r.EmergenceOf(pot)); n != 2 {
			return fmt.Errorf("%d counts", n)
		}
		return nil
	})
	if got := d.now["r/emergence.csv"].data; err != nil || got != before {
		t.Errorf("%q, %v", got, err)
	}
}

// A move to where something stands is none, though planting out there is; and a move
// that is older than one on record leaves the place as it is.
func TestMovesInAnyOrder(t *testing.T) {
	plant := "2025X007-A1-A"
	type step struct {
		word      DiaryWord
		place, on string
	}
	for _, c := range []struct {
		steps []step
		want  string // the place, or words of the refusal
	}{
		{[]step{{Moved, "bench", "2026-04-01"}}, "bench"},
		{[]step{{Moved, "bench", "2026-04-01"}, {Moved, "bench", "2026-05-01"}}, `stands at "bench" already`},
		{[]step{{Moved, "bench", "2026-04-01"}, {PlantedOut, "bench", "2026-05-01"}}, "bench"},
		{[]step{{Moved, "bench", "2026-05-01"}, {Moved, "frame", "2026-04-01"}}, "bench"},
		{[]step{{PlantedOut, "row 1", "2026-05-01"}, {Moved, "frame", "2026-04-01"}}, "row 1"},
		{[]step{{Moved, "bench", "2026-05-01"}, {Moved, "frame", "2026-05-01"}}, "frame"},
	} {
		d := season(nil)
		var err error
		for _, s := range c.steps {
			err = testStore(d).change(func(r *Registry) error {
				move := r.Move
				if s.word == PlantedOut {
					move = r.Plant
				}
				_, err := move(mustID(t, plant), s.place, mustDate(t, s.on))
				return err
			})
		}
		if got := open(t, d).PlaceOf(mustID(t, plant)); err == nil && got != c.want || err != nil && (!refused(err) || !strings.Contains(err.Error(), c.want)) {
			t.Errorf("%v: %q, %v; want %q", c.steps, got, err, c.want)
		}
	}
}

// A pot may have a million seeds, and no more.
func TestMostSeedsOfAPot(t *testing.T) {
	for seeds, ok := range map[int]bool{1_000_000: true, 1_000_001: false} {
		err := testStore(season(map[string]string{"lots.csv": "2026X001-A,,2026-11-15,,1000000,,,,", "pots.csv": "", "labels.csv": ""})).change(func(r *Registry) error {
			_, err := r.Sow(mustID(t, "2026X001-A"), Sowing{Seeds: []int{seeds}, On: Date{2027, 1, 14}})
			return err
		})
		if (err == nil) != ok || err != nil && !strings.Contains(err.Error(), "a pot with 1000001 seeds cannot be sown") {
			t.Errorf("%d seeds: %v", seeds, err)
		}
	}
}

// The state of a label that is the same on both sides is joined, whichever side has
// it spoilt; no label comes twice.
func TestMergeJoinsStatesOfLabels(t *testing.T) {
	t.Parallel()
	lots := func(r *Registry) error { _, err := r.AddLots(firstCross, 2, Date{2026, 8, 1}); return err }
	spoil := func(r *Registry) error {
		r.RetireLabels(func(Label) bool { return true }, Spoilt)
		return nil
	}
	for _, side := range []Side{Here, There} {
		here, there := two(t, cross("Larkfield Tessel", "Tarn Amber"), lots, printBags("s", 1, 1, firstLot, firstCross.Child(2)))
		then(t, map[Side]*testDisk{Here: here, There: there}[side], "spoil", spoil)
		m, err := merge(t, here, there, Here)
		if err != nil || len(m.Newer)+len(m.Differences)+len(m.Renumbered) != 0 || slices.ContainsFunc(m.Added, func(a AddedRows) bool { return a.File == labelsFile && a.Rows > 0 }) {
			t.Errorf("%+v, %v", m, err)
		}
		labels := open(t, here).Labels()
		if len(labels) != 2 || labels[0].State != Spoilt || labels[1].State != Spoilt {
			t.Errorf("%+v", labels)
		}
	}
}

// Commands that come from another registry get numbers of their own: none that a
// command here has, and one for all that a command did.
func TestMergedCommandsKeepApart(t *testing.T) {
	t.Parallel()
	here, there := two(t, cross("Larkfield Tessel", "Tarn Amber"))
	then(t, here, "here", cross("A", "B"))
	edit(there, "crosses.csv", "2026-05-04,,,", "2026-05-04,12,,")
	year := func(r *Registry) error {
		_, err := r.AddCross(NewCross{SeedParent: "C", PollenParent: "D", Year: 2027})
		return err
	}
	then(t, there, "one", year)
	then(t, there, "two", func(r *Registry) error { _, err := r.AddLots(firstCross, 3, Date{2026, 8, 1}); return err })
	if _, err := merge(t, here, there, Here); err != nil {
		t.Fatal(err)
	}
	commands := map[int]string{}
	for _, e := range open(t, here).History() {
		if was, ok := commands[e.Entry]; ok && was != e.Command {
			t.Errorf("entry %d is of %q and of %q", e.Entry, was, e.Command)
		}
		commands[e.Entry] = e.Command
	}
	if len(commands) != 5 {
		t.Errorf("commands are %v", commands)
	}
}

// A merge that was taken back can be done again: what came with it comes again,
// and what has become another thing there meanwhile is refused.
func TestMergeAgainAfterUndo(t *testing.T) {
	t.Parallel()
	here, there := two(t, cross("Larkfield Tessel", "Tarn Amber"), func(r *Registry) error { _, err := r.AddLots(firstCross, 1, Date{2026, 8, 1}); return err }, extract(firstLot, 9))
	pot := firstLot.Child(1)
	then(t, there, "there",
		func(r *Registry) error {
			_, err := r.Sow(firstLot, Sowing{Seeds: []int{5}, On: Date{2026, 12, 1}})
			return err
		},
		func(r *Registry) error { _, err := r.AddEmergence(pot, Date{2027, 3, 1}, 3); return err },
		func(r *Registry) error { return r.Note(pot, Date{2027, 3, 2}, "leggy") })
	for range 2 {
		if _, err := merge(t, here, there, Here); err != nil {
			t.Fatal(err)
		}
		r := open(t, here)
		if p, ok := r.Pot(pot); !ok || p.Seeds != Known(5) || len(r.Emergences()) != 1 || len(r.Diary()) != 1 {
			t.Errorf("%+v, %v, %v", p, r.Emergences(), r.Diary())
		}
		then(t, here, "undo", undo)
	}
	six := Known(6)
	then(t, there, "correct", func(r *Registry) error { _, err := r.Correct(pot, Correction{Seeds: &six}); return err })
	_, err := merge(t, here, there, Here)
	if want := "2026X001-A1 is one pot here (taken back: seeds 5, sown 2026-12-01) and another there (seeds 6, sown 2026-12-01)"; err == nil || err.Error() != want {
		t.Errorf("%v\nwant %s", err, want)
	}
}
