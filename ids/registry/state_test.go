package registry

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"pipstake/ids"
)

// contents are the entries of all tables but the history, as they are in memory.
func contents(r *Registry) string {
	return fmt.Sprintf("crosses %+v\nlots %+v\npots %+v\nseedlings %+v\ncounts %+v\ndiary %+v\nlabels %+v\nvarieties %+v\nstocks %+v\nadjustments %+v\n",
		r.crosses.entries, r.lots.entries, r.pots.entries, r.seedlings.entries, r.emergence.entries, r.diary.entries,
		r.labels.entries, r.varieties.entries, r.stocks.entries, r.adjustments.entries)
}

// dropCount takes a count away.
func dropCount(pot ids.ID, on Date) func(*Registry) error {
	return func(r *Registry) error {
		_, err := r.CorrectCount(pot, on, CountCorrection{Drop: true})
		return err
	}
}

func undo(r *Registry) error { _, err := r.Undo(); return err }

// What a command leaves in memory is what the files say once it is saved, and each
// row is found by its identifier; so it is when the command is taken back.
func TestMemoryIsAsTheFiles(t *testing.T) {
	t.Parallel()
	d := newTestDisk(emptyFiles())
	steps := append(aSeason(), dropCount(firstLot.Child(1), Date{2026, 11, 2}),
		func(r *Registry) error {
			_, err := r.SetVariety(Variety{Name: "Tarn Amber", Ploidy: 2}, false)
			return err
		},
		func(r *Registry) error {
			_, err := r.SetVariety(Variety{Name: "Tarn Amber", Year: 1990}, false)
			return err
		})
	for range steps {
		steps = append(steps, undo)
	}
	for i, step := range steps {
		var used *Registry
		if err := testStore(d).change(func(r *Registry) error { used = r; return step(r) }); err != nil {
			t.Fatalf("step %d: %v", i, err)
		}
		if got, want := contents(used), contents(open(t, d)); got != want {
			t.Fatalf("step %d leaves\n%s\nand the files say\n%s", i, got, want)
		}
		for at, p := range used.pots.entries {
			if places := used.pots.exactly(p.ID); !slices.Equal(places, []int32{int32(at)}) {
				t.Errorf("step %d: %s is found at %d, not at %d", i, p.ID, places, at)
			}
		}
	}
}

// What is refused leaves nothing behind, in memory either, so that a program may
// go on with the registry.
func TestRefusedLeavesNothing(t *testing.T) {
	t.Parallel()
	d := season(lived())
	before := tablesOf(t, d)
	day, many, none := Date{2020, 1, 1}, Known(1), Count{}
	err := testStore(d).change(func(r *Registry) error {
		was := contents(r)
		for i, c := range []struct {
			id   string
			with Correction
		}{
			{"2026X001", Correction{Picked: &day}}, {"2026X001-A", Correction{Seeds: &many}}, {"2026X001-A", Correction{Seeds: &none}},
			{"2026X001-A1", Correction{Sown: &day}}, {"2025X007-A1", Correction{Seeds: &many}}, {"2025X007-A1-A", Correction{Pricked: &day}},
		} {
			if _, err := r.Correct(mustID(t, c.id), c.with); !refused(err) {
				t.Errorf("correction %d: %v", i, err)
			}
			if got := contents(r); got != was {
				t.Fatalf("correction %d leaves\n%s\nwant\n%s", i, got, was)
			}
		}
		return nil
	})
	if err != nil {
		t.Error(err)
	}
	for name, text := range tablesOf(t, d) {
		if text != before[name] {
			t.Errorf("%s changed", name)
		}
	}
}

// Spent are the numbers that commands took back, in whatever order, and no others:
// not what was changed and then deleted by hand, nor the pot of a count that was
// taken away.
func TestSpentNumbers(t *testing.T) {
	t.Parallel()
	history := "entry,when,command,undoes,from,file,row,key,column,before,after\n" +
		"1,,a,,,pots.csv,2,2026X001-A9,place,,bench\n" +
		"2,,b,,,emergence.csv,2,2026X001-A8,,\"pot=2026X001-A8,up=3\",\n" +
		"3,,c,,,diary.csv,2,2026X001-A7,,id=2026X001-A7,\n" +
		"4,,d,,,pots.csv,2,2026X001-A6,,,id=2026X001-A6\n" +
		"5,,e,1,,pots.csv,3,2026X001-A5,,id=2026X001-A5,\n" +
		"5,,e,1,,pots.csv,2,2026X001-A4,,id=2026X001-A4,\n" +
		"5,,e,1,,varieties.csv,2,Tarn Amber,,name=Tarn Amber,\n" +
		"5,,e,1,,lots.csv,2,2026X001-C,,id=2026X001-C,\n"
	files := emptyFiles()
	files["r/crosses.csv"] = "id,seed_parent,pollen_parent,pollinated,flowers,state,notes\n2026X001,Ann,Bob,2026-05-04,,,\n"
	files["r/lots.csv"] = "id,issued,extracted,fruit,seeds,undeveloped,chilled,state,notes\n2026X001-A,,2026-10-01,,9,,,,\n"
	files["r/history.csv"] = history
	d := newTestDisk(files)
	r := open(t, d)
	var spent []string
	for _, id := range []string{"2026X001", "2026X001-A", "2026X001-B", "2026X001-C", "2026X001-A1", "2026X001-A4", "2026X001-A5",
		"2026X001-A6", "2026X001-A7", "2026X001-A8", "2026X001-A9"} {
		if r.Spent(mustID(t, id)) {
			spent = append(spent, id)
		}
	}
	if got := strings.Join(spent, " "); got != "2026X001-C 2026X001-A4 2026X001-A5" {
		t.Errorf("spent are %s", got)
	}
	err := testStore(d).change(func(r *Registry) error {
		pots, err := r.Sow(firstLot, Sowing{Seeds: []int{1}, On: Date{2026, 12, 1}})
		if err == nil && pots[0].ID.String() != "2026X001-A6" {
			t.Errorf("the next pot is %s", pots[0].ID)
		}
		return err
	})
	if err != nil {
		t.Error(err)
	}
}

// A history that was sorted in a spreadsheet program is still one of commands: the
// last of them is taken back, and all of it.
func TestUndoOfSortedHistory(t *testing.T) {
	t.Parallel()
	d := newTestDisk(emptyFiles())
	states := play(t, d, aSeason()[:4]...)
	f := d.now["r/history.csv"]
	lines := strings.SplitAfter(f.data, "\r\n")
	rows := lines[1 : len(lines)-1]
	slices.Reverse(rows)
	rows[1], rows[3] = rows[3], rows[1] // and rows of one command lie apart
	f.data = strings.Join(lines, "")
	for i := 3; i >= 2; i-- {
		if err := testStore(d).change(undo); err != nil {
			t.Fatal(err)
		}
		if got, want := shortRows(d.now["r/lots.csv"].data, style{delimiter: ",", lineEnd: "\r\n"}), shortRows(states[i]["r/lots.csv"], style{delimiter: ",", lineEnd: "\r\n"}); got != want {
			t.Errorf("lots.csv is\n%q\nwant\n%q", got, want)
		}
	}
}

// What is mended is mended at once, and is not told of again.
func TestMendedInMemory(t *testing.T) {
	t.Parallel()
	files := emptyFiles()
	files["r/varieties.csv"] = "name,notes\n Tarn Amber,\n\"Otterhay Lade \",-2 °C\n"
	files["r/pots.csv"] = "id,seeds,sown,place,state,notes\n2026x001a1,3,,,,\n"
	d := newTestDisk(files)
	err := testStore(d).change(func(r *Registry) error {
		if mended := r.Mend(); len(mended) != 4 {
			t.Errorf("mended %v", mended)
		}
		if left := r.Fixes(); len(left) > 0 {
			t.Errorf("left to mend: %v", left)
		}
		for _, table := range []tableFile{r.varieties, r.pots} {
			if odd := table.oddities(); len(odd) > 0 {
				t.Errorf("still odd: %v", odd)
			}
		}
		return nil
	})
	if err != nil {
		t.Error(err)
	}
}

// A file of 1 GiB is read, and one of a byte more is not.
func TestLargestFile(t *testing.T) {
	t.Parallel()
	if tooLarge(1<<30) || !tooLarge(1<<30+1) {
		t.Error("the bound is another")
	}
}

// The names in a folder are all there, and nothing else.
func TestNamesOfAFolder(t *testing.T) {
	t.Parallel()
	dir := newRegistry(t, nil)
	names, err := systemDisk{}.Names(dir)
	if err != nil || !slices.Contains(names, "crosses.csv") || slices.Contains(names, "") {
		t.Errorf("%q, %v", names, err)
	}
	if names, err := (systemDisk{}).Names(t.TempDir()); err != nil || len(names) != 0 {
		t.Errorf("an empty folder holds %q, %v", names, err)
	}
}
