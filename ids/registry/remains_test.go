package registry

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"syscall"
	"testing"
	"time"
)

// A bag with a single seed left still wants its label; an empty one does not.
func TestLastSeedWantsItsBagLabelled(t *testing.T) {
	for sown, want := range map[int]bool{8: true, 9: false} {
		r := open(t, season(map[string]string{"lots.csv": "2026X001-A,,2026-11-15,,9,,,,", "pots.csv": fmt.Sprintf("2026X001-A1,%d,2027-01-14,,,", sown), "labels.csv": ""}))
		got := slices.ContainsFunc(r.Missing(), func(p Print) bool { return p.Face == BagFace && p.ID == firstCross.Child(1) })
		if got != want {
			t.Errorf("%d of 9 seeds sown: the bag wants a label %v", sown, got)
		}
	}
}

// Taking seeds tells how many are left, to the last one.
func TestSeedsLeftAfterTakingSome(t *testing.T) {
	lot := firstCross.Child(1)
	d := season(map[string]string{"lots.csv": "2026X001-A,,2026-11-15,,9,1,,,", "pots.csv": "", "labels.csv": ""})
	for _, want := range []int{5, 2} {
		then(t, d, "give", func(r *Registry) error {
			left, err := r.TakeSeeds(lot, SeedsGone{How: GivenAway, Seeds: 3, On: Date{2026, 12, 1}})
			if left != want {
				t.Errorf("%d left, want %d", left, want)
			}
			return err
		})
	}
}

// What a command set about a printer, it reads again before it is saved.
func TestAdjustmentsAreReadAtOnce(t *testing.T) {
	d, _ := two(t, func(r *Registry) error {
		return r.AddStock(Stock{Name: "own", Kind: RollKind, Paper: "62x29", Columns: 1, Rows: 1})
	})
	then(t, d, "adjust", func(r *Registry) error {
		for _, dx := range []float64{0.5, 0.75} {
			if err := r.Adjust(Adjustment{Printer: "office", Stock: "own", DX: dx}); err != nil {
				return err
			}
			if a, err := r.Adjustment("office", "own"); err != nil || a.DX != dx {
				t.Errorf("%+v, %v; want %v mm", a, err, dx)
			}
		}
		return nil
	})
}

// Fruit are corrected where they were counted: on the cross, or in the lot.
func TestFruitAreCorrected(t *testing.T) {
	n := Known(5)
	for _, id := range []string{"2026X001", "2026X001-A"} {
		d := season(lived())
		then(t, d, "correct", func(r *Registry) error {
			_, err := r.Correct(mustID(t, id), Correction{Fruit: &n})
			return err
		})
		r := open(t, d)
		c, _ := r.Cross(firstCross)
		l, _ := r.Lot(firstCross.Child(1))
		if got := map[string]Count{"2026X001": c.Fruit, "2026X001-A": l.Fruit}[id]; got != n {
			t.Errorf("%s: %v fruit", id, got)
		}
	}
}

// A single seedling that was pricked out is missed in a count that is too low.
func TestOnePrickedOutIsMissedInTheCount(t *testing.T) {
	for up, want := range map[int]bool{1: true, 2: false} {
		files := season(map[string]string{"pots.csv": "2025X007-A1,9,2026-01-14,,,,,", "emergence.csv": fmt.Sprintf("2025X007-A1,2026-04-01,%d,1,", up), "seedlings.csv": "2025X007-A1-A,2026-03-20,,", "labels.csv": ""})
		got := slices.ContainsFunc(open(t, files).Check(), func(f Finding) bool {
			return f.What == "is fewer than the 1 that died and the 1 that were pricked out by 2026-04-01"
		})
		if got != want {
			t.Errorf("%d up: found %v", up, got)
		}
	}
}

// Between two and eight sets of chromosomes are read; other numbers are said to be
// none, and nothing is taken for known.
func TestSetsOfChromosomes(t *testing.T) {
	for text, want := range map[string]int{"2": 2, "3": 3, "8": 8, "9": 0, "1": 0, "": 0, "Triploid": 3, "4x": 4} {
		d := newTestDisk(emptyFiles())
		d.now["r/varieties.csv"].data = "name,ploidy\r\nTarn Amber," + text + "\r\n"
		r := open(t, d)
		if v, ok := r.Variety("Tarn Amber"); !ok || v.Ploidy != want || (text == "9" || text == "1") != (len(r.Damage()) == 1) {
			t.Errorf("%q is read as %d, %v", text, v.Ploidy, r.Damage())
		}
	}
}

// A cross of which either fruit or the day of picking is on record was picked.
func TestPickedOnce(t *testing.T) {
	for row, ok := range map[string]bool{",,": true, "3,,": false, ",2026-09-20,": false, "3,2026-09-20,": false} {
		d := season(map[string]string{"crosses.csv": "2026X001,Ann,Bob,2026-05-04,12,,,," + row + ",", "lots.csv": "", "pots.csv": "", "seedlings.csv": "", "emergence.csv": "", "labels.csv": ""})
		err := testStore(d).change(func(r *Registry) error { _, err := r.Pick(firstCross, 4, Date{2026, 9, 21}); return err })
		if (err == nil) != ok || err != nil && (!refused(err) || !strings.Contains(err.Error(), "were picked already")) {
			t.Errorf("%q: %v", row, err)
		}
	}
}

// A full pot has room for none, and never for less, whatever its rows say.
func TestNoRoomInAPotThatContradictsItself(t *testing.T) {
	err := testStore(season(map[string]string{"pots.csv": "2025X007-A1,2,2026-01-14,,,", "seedlings.csv": "2025X007-A1-A,2026-03-20,,\n2025X007-A1-B,2026-03-20,,\n2025X007-A1-C,2026-03-20,,", "emergence.csv": ""})).change(func(r *Registry) error {
		_, err := r.AddSeedlings(mustID(t, "2025X007-A1"), 1, Date{2026, 3, 21})
		return err
	})
	if want := "2025X007-A1 was sown with 2 seeds, 3 seedlings were issued already, and 1 more are asked for; none is left to issue"; err == nil || err.Error() != want {
		t.Errorf("%v\nwant %s", err, want)
	}
}

// Seeds cannot have been given away before they were taken out of the fruit, of a
// lot that has ended neither.
func TestSeedGivenBeforeItWasExtracted(t *testing.T) {
	for _, word := range []DiaryWord{SeedGiven, SeedDiscarded} {
		for day, ok := range map[int]bool{1: true, 2: false} {
			files := lived()
			files["diary.csv"] = "2026X001-A,2026-12-01," + string(word) + ",2,"
			files["pots.csv"], files["seedlings.csv"], files["emergence.csv"] = "", "", ""
			files["lots.csv"] = strings.Replace(files["lots.csv"], "2026-11-20", "", 1)
			on := Date{2026, 12, day}
			err := testStore(season(files)).change(func(r *Registry) error {
				_, err := r.Correct(firstCross.Child(1), Correction{Extracted: &on})
				return err
			})
			if (err == nil) != ok || err != nil && !refused(err) {
				t.Errorf("%s, extracted on %s: %v", word, on, err)
			}
		}
	}
}

// A command that fails to save clears away what it had begun, at once.
func TestFailedSaveLeavesNothing(t *testing.T) {
	before, _, ops := settled(t)
	failed := 0
	for at := 1; at <= ops; at++ {
		d := newTestDisk(before)
		d.failAt = at
		if err := testStore(d).change(saveSeason); err != nil {
			nothingLeft(t, d)
			failed++
		}
	}
	if failed == 0 {
		t.Error("nothing failed")
	}
}

// A file system that knows no sync of a folder is lived with; a disk that fails is
// told of. EINVAL is what fsync(2) says of what cannot be synced.
func TestFoldersThatCannotBeSynced(t *testing.T) {
	for err, want := range map[error]bool{syscall.EINVAL: true, errors.ErrUnsupported: true, syscall.EIO: false, syscall.ENOSPC: false} {
		said := &fs.PathError{Op: "sync", Path: "r", Err: err}
		if got := unlessUnknown(said); (got == nil) != want || got != nil && got != said {
			t.Errorf("%v: %v", err, got)
		}
	}
	if err := unlessUnknown(nil); err != nil {
		t.Error(err)
	}
}

// Where no file can be made in the folder, that is said, and nobody is waited for.
func TestClaimThatCannotBeMade(t *testing.T) {
	ctx, cancel := context.WithTimeout(context.Background(), 5*time.Second)
	defer cancel()
	c := claim{path: filepath.Join(t.TempDir(), "gone", claimFile), host: "here"}
	if err := c.take(ctx); !errors.Is(err, fs.ErrNotExist) || ctx.Err() != nil {
		t.Errorf("%v", err)
	}
}

// Looking for what is wrong leaves the program the processors that it has.
func TestCheckLeavesTheProcessors(t *testing.T) {
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(3))
	open(t, season(nil)).Check()
	if n := runtime.GOMAXPROCS(0); n != 3 {
		t.Errorf("%d of 3 processors are left", n)
	}
}

// A cross is numbered in the year of its pollination, or in one beside it.
func TestYearBesideThatOfThePollination(t *testing.T) {
	for year, ok := range map[int]bool{2024: false, 2025: true, 2026: true, 2027: true, 2028: false} {
		_, err := open(t, season(nil)).AddCross(NewCross{SeedParent: "Ann", PollenParent: "Bob", Year: year, Pollinated: Date{2026, 1, 2}})
		if (err == nil) != ok || err != nil && !refused(err) {
			t.Errorf("%d: %v", year, err)
		}
	}
}

// A lot is extracted once, also where only its seeds or only the day is on record.
func TestExtractedOnce(t *testing.T) {
	for row, ok := range map[string]bool{",,,": true, ",,9,": false, "2026-11-15,,,": false} {
		r := open(t, season(map[string]string{"lots.csv": "2026X001-A,," + row + ",,,", "pots.csv": "", "labels.csv": ""}))
		_, err := r.Extract(firstCross.Child(1), Extraction{Seeds: Known(8), On: Date{2026, 11, 16}})
		if (err == nil) != ok || err != nil && (!refused(err) || !strings.Contains(err.Error(), "is extracted already")) {
			t.Errorf("%q: %v", row, err)
		}
	}
}

// The days on which a pot was counted are told in their order, whatever that of the
// rows.
func TestDaysOfCountsAreToldInOrder(t *testing.T) {
	r := open(t, season(map[string]string{"emergence.csv": "2025X007-A1,2026-03-01,5,\n2025X007-A1,2026-02-20,3,"}))
	_, err := r.CorrectCount(mustID(t, "2025X007-A1"), Date{2026, 2, 21}, CountCorrection{Drop: true})
	if want := "2025X007-A1 was not counted on 2026-02-21; it was counted on 2026-02-20, 2026-03-01"; err == nil || err.Error() != want {
		t.Errorf("%v\nwant %s", err, want)
	}
}

// Of several crosses that were taken back here, each is told of as what it was, where
// it is another one there.
func TestClashWithOneOfSeveralTakenBack(t *testing.T) {
	here, there := two(t, cross("Ann", "Bob"))
	then(t, here, "here", func(r *Registry) error {
		if err := cross("Cat", "Dan")(r); err != nil {
			return err
		}
		return cross("Eve", "Flo")(r)
	}, func(r *Registry) error { _, err := r.Undo(); return err })
	then(t, there, "there", cross("Guy", "Hal"))
	_, err := merge(t, here, there, Here)
	if want := "2026X002 is one cross here (taken back: seed parent Cat, pollen parent Dan, "; err == nil || !strings.HasPrefix(err.Error(), want) {
		t.Errorf("%v\nwant %s…", err, want)
	}
}

// A day without its year that a spreadsheet made has any month, be it the first.
func TestAnyMonthIsOne(t *testing.T) {
	for m := time.January; m <= time.December; m++ {
		short := m.String()[:3]
		if !hasMonth("14-"+short) || !hasMonth(short+"-26") || hasMonth("14-"+short+"-26") {
			t.Errorf("%s is no month", short)
		}
	}
	if hasMonth("14-Row") || hasMonth("Row-14") || hasMonth("14-26") {
		t.Error("a month is seen where there is none")
	}
}

// Of a pot whose seeds nobody counted, more may come.
func TestMoreMayComeOfAPotWithoutANumber(t *testing.T) {
	for seeds, want := range map[string]bool{"2": true, "": false} {
		r := open(t, season(map[string]string{"pots.csv": "2025X007-A1," + seeds + ",2026-01-14,,,", "seedlings.csv": "2025X007-A1-A,2026-03-20,,\n2025X007-A1-B,2026-03-20,,", "emergence.csv": ""}))
		if got := r.AllOut(mustID(t, "2025X007-A1")); got != want {
			t.Errorf("%q seeds: all out %v", seeds, got)
		}
	}
}

// The day of a return to the cold may be mended to an earlier one, as long as it is
// none before the lot had come out.
func TestReturnToTheColdIsMendedToAnEarlierDay(t *testing.T) {
	for day, ok := range map[int]bool{2: false, 3: true, 5: true} {
		r := open(t, season(map[string]string{"lots.csv": "2026X001-A,,2026-11-15,,9,,2026-11-20,,", "pots.csv": "", "labels.csv": "",
			"diary.csv": "2026X001-A,2026-12-03,out-of-cold,,\n2026X001-A,2026-12-10,into-cold,,"}))
		lot, on := firstCross.Child(1), Date{2026, 12, day}
		_, err := r.Chill(lot, Chilling{On: on, Correct: true})
		if spells := r.ColdSpells(lot); (err == nil) != ok || ok && spells[1].From != on || !ok && !refused(err) {
			t.Errorf("%s: %v, %v", on, spells, err)
		}
	}
}

// What was mended is mended: nothing is left to mend of it.
func TestMendedOnce(t *testing.T) {
	r := open(t, season(map[string]string{"crosses.csv": "2026x001,Ann,Bob,2026-05-04,,,\n2025X007, Cat,Dan,2025-05-04,,,"}))
	if n := len(r.Mend()); n != 2 {
		t.Errorf("%d cells were mended", n)
	}
	if left := r.Fixes(); len(left) != 0 {
		t.Errorf("%v", left)
	}
}
