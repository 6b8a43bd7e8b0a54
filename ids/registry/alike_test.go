package registry

import (
	"fmt"
	"strings"
	"testing"
)

// Of rows that are alike, the one that the command wrote is taken back: the
// history says which row it was.
func TestUndoWhereRowsAreAlike(t *testing.T) {
	sown := aSeason()[:5]
	pot := firstLot.Child(1)
	count := func(day, up int) func(*Registry) error {
		return func(r *Registry) error { _, err := r.AddEmergence(pot, Date{2026, 11, day}, up); return err }
	}
	corrected := func(day int) func(*Registry) error {
		return func(r *Registry) error {
			up := Known(5)
			_, err := r.CorrectCount(pot, Date{2026, 11, day}, CountCorrection{Up: &up})
			return err
		}
	}
	windy := func(r *Registry) error { return r.Note(pot, Date{2026, 11, 3}, "windy") }
	for _, c := range []struct {
		name  string
		steps []func(*Registry) error
		file  string
	}{
		{"two notes alike", []func(*Registry) error{windy, windy}, "r/diary.csv"},
		{"two counts corrected to the same", []func(*Registry) error{count(2, 3), count(3, 4), corrected(3), corrected(2)}, "r/emergence.csv"},
	} {
		d := newTestDisk(emptyFiles())
		play(t, d, sown...)
		states := play(t, d, c.steps...)
		for i := len(c.steps) - 1; i >= 0; i-- {
			if err := testStore(d).change(func(r *Registry) error { _, err := r.Undo(); return err }); err != nil {
				t.Errorf("%s, step %d: %v", c.name, i, err)
				break
			}
			if got, want := withoutHeader(tablesOf(t, d)[c.file]), withoutHeader(states[i][c.file]); got != want {
				t.Errorf("%s, step %d: %s is\n%q\nwant\n%q", c.name, i, c.file, got, want)
			}
		}
	}
}

// What a command takes back stays spent for what it does next, as it does for
// commands to come.
func TestNumbersStaySpentAtOnce(t *testing.T) {
	d := newTestDisk(emptyFiles())
	play(t, d, aSeason()[:2]...)
	err := testStore(d).change(func(r *Registry) error {
		if _, err := r.Undo(); err != nil { // of the two bags
			return err
		}
		if !r.Spent(firstLot) || !r.Spent(firstCross.Child(2)) || r.Spent(firstCross) || r.Spent(firstCross.Child(3)) {
			t.Error("the numbers of two bags are to be spent, and no other")
		}
		lots, err := r.AddLots(firstCross, 1, Date{2026, 8, 1})
		if err == nil && lots[0].ID != firstCross.Child(3) {
			err = fmt.Errorf("%s is issued, want %s", lots[0].ID, firstCross.Child(3))
		}
		return err
	})
	if err != nil {
		t.Error(err)
	}
}

// withoutHeader is the rows of a file, without columns that are empty at their
// ends: a column that was added stays.
func withoutHeader(text string) string {
	_, rows, _ := strings.Cut(text, "\n")
	var kept []string
	for line := range strings.Lines(rows) {
		kept = append(kept, strings.TrimRight(line, ",\r\n"))
	}
	return strings.Join(kept, "\n")
}

// What a command over there took back keeps its meaning here, also where the
// command itself came by an earlier merge and has another number here.
func TestMergeTellsWhatWasTakenBack(t *testing.T) {
	here, there := two(t, cross("Larkfield Tessel", "Tarn Amber"))
	windy := func(r *Registry) error { return r.Note(firstCross, Date{2026, 5, 5}, "windy") }
	dry := func(r *Registry) error { return r.Note(firstCross, Date{2026, 5, 6}, "dry") }
	then(t, here, "here", windy)
	then(t, there, "there", dry)
	if _, err := merge(t, here, there, Here); err != nil {
		t.Fatal(err)
	}
	then(t, there, "back", func(r *Registry) error { _, err := r.Undo(); return err })
	if _, err := merge(t, here, there, Here); err != nil {
		t.Fatal(err)
	}
	commands, undone := map[int]string{}, 0
	for _, e := range open(t, here).History() {
		commands[e.Entry] = e.Command
		if e.Undoes > 0 {
			undone++
			if e.From == "" || commands[e.Undoes] != "there" {
				t.Errorf("entry %d, %q, takes back entry %d, which is %q", e.Entry, e.Command, e.Undoes, commands[e.Undoes])
			}
		}
	}
	if undone != 1 {
		t.Errorf("%d events take something back, want 1", undone)
	}
}
