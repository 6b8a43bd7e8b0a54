package registry

import (
	"errors"
	"fmt"
	"maps"
	"slices"
	"strings"
	"testing"

	"pipstake/ids"
)

// tablesOf reads the registry as a command does and returns its files' texts.
func tablesOf(t *testing.T, d *testDisk) map[string]string {
	t.Helper()
	states, err := testStore(d).read()
	if err != nil {
		t.Fatal(err)
	}
	if _, err := testStore(d).load(states); err != nil {
		t.Fatal(err)
	}
	texts := map[string]string{}
	for _, f := range states {
		texts["r/"+f.name] = f.text
	}
	return texts
}

// settled returns a registry with one season in it, and what a second adds.
func settled(t *testing.T) (before, after map[string]string, ops int) {
	t.Helper()
	return settledBefore(t, saveSeason)
}

// settledBefore returns a registry with one season in it, and what a change makes
// of it.
func settledBefore(t *testing.T, change func(*Registry) error) (before, after map[string]string, ops int) {
	t.Helper()
	d := newTestDisk(emptyFiles())
	if err := testStore(d).change(saveSeason); err != nil {
		t.Fatal(err)
	}
	before = tablesOf(t, d)
	d = newTestDisk(before)
	if err := testStore(d).change(change); err != nil {
		t.Fatal(err)
	}
	return before, tablesOf(t, d), d.ops
}

// same returns which of two states a registry is in; it fails for a third.
func same(t *testing.T, got, before, after map[string]string) string {
	t.Helper()
	switch {
	case maps.Equal(got, before):
		return "old"
	case maps.Equal(got, after):
		return "new"
	}
	t.Fatalf("the registry is in a state between:\n%v", got)
	return ""
}

// judged remembers which of two states folders with the same files in them were
// found to be in: most ways in which a crash may end come to the same few.
type judged map[string]string

// same returns which of two states a registry is in as a command finds it.
func (j judged) same(t *testing.T, d *testDisk, before, after map[string]string) string {
	t.Helper()
	var files strings.Builder
	for _, path := range slices.Sorted(maps.Keys(d.now)) {
		fmt.Fprintf(&files, "%s\x00%s\x00", path, d.now[path].data)
	}
	key := files.String()
	if _, known := j[key]; !known {
		j[key] = same(t, tablesOf(t, d), before, after)
	}
	return j[key]
}

// nothingLeft fails where anything but the tables is in the folder.
func nothingLeft(t *testing.T, d *testDisk) {
	t.Helper()
	for path := range d.now {
		if !slices.Contains(fileNames(), strings.TrimPrefix(path, "r/")) {
			t.Fatalf("%s was left behind", path)
		}
	}
}

func TestCommitChangesSeveralFiles(t *testing.T) {
	before, after, ops := settled(t)
	changed := 0
	for path := range before {
		if before[path] != after[path] {
			changed++
		}
	}
	if changed != 6 || ops < 20 {
		t.Fatalf("%d files changed in %d operations", changed, ops)
	}
}

// A full disk or any other error at each operation in turn: an error comes back
// and the old state holds, or none and the new state does; the next command
// finds nothing half done.
func TestCommitFailsAtEveryOperation(t *testing.T) {
	t.Run("a season", func(t *testing.T) { failsEverywhere(t, saveSeason) })
	t.Run("a diary and a calendar", func(t *testing.T) { failsEverywhere(t, saveLife) })
}

func failsEverywhere(t *testing.T, change func(*Registry) error) {
	before, after, ops := settledBefore(t, change)
	failed := 0
	for at := 1; at <= ops; at++ {
		d := newTestDisk(before)
		d.failAt = at
		err := testStore(d).change(change)
		want := "new"
		if err != nil {
			want = "old"
			failed++
			var access *AccessError
			if !errors.As(err, &access) || !strings.Contains(err.Error(), "no space left on device; make room on the disk") {
				t.Fatalf("operation %d: %v", at, err)
			}
		}
		if got := same(t, tablesOf(t, d), before, after); got != want {
			t.Fatalf("operation %d: the state is %s after %v", at, got, err)
		}
		d.failAt = 0
		if err := testStore(d).change(nothing); err != nil {
			t.Fatalf("operation %d: the next command: %v", at, err)
		}
		nothingLeft(t, d)
		if got := same(t, tablesOf(t, d), before, after); got != want {
			t.Fatalf("operation %d: the state was %s, and is %s after the next command", at, want, got)
		}
		for path, f := range d.now {
			if f.mode != 0o640 {
				t.Fatalf("operation %d: %s has the mode %v", at, path, f.mode)
			}
		}
	}
	if failed < ops/2 {
		t.Errorf("only %d of %d operations failed", failed, ops)
	}
}

func nothing(*Registry) error { return nil }

// A crash at each operation in turn, with each mixture of the names that were
// not yet synced, and with bytes that were not yet synced there, half there or
// gone: the old state or the new one is read, whole.
func TestCommitCrashesAtEveryOperation(t *testing.T) {
	t.Run("a season", func(t *testing.T) { crashesEverywhere(t, saveSeason) })
	t.Run("a diary and a calendar", func(t *testing.T) { crashesEverywhere(t, saveLife) })
}

func crashesEverywhere(t *testing.T, change func(*Registry) error) {
	before, after, ops := settledBefore(t, change)
	if d := after["r/"+calendarFile]; strings.Contains(d, "soak") != strings.Contains(after["r/"+diaryFile], "frost") {
		t.Fatalf("the diary changed without the calendar: %q", d)
	}
	found, seen := judged{}, map[string]int{}
	for at := 1; at <= ops; at++ {
		d := newTestDisk(before)
		d.failAt, d.stop = at, true
		err := testStore(d).change(change)
		if len(d.pending) > 12 {
			t.Fatalf("operation %d: %d names are not synced", at, len(d.pending))
		}
		for kept := range uint(1) << len(d.pending) {
			for _, bytes := range []float64{0, 0.5, 1} {
				crashed := d.afterCrash(kept, bytes)
				state := found.same(t, crashed, before, after)
				seen[state]++
				if err := testStore(crashed).change(nothing); err != nil {
					t.Fatalf("operation %d, names %b: the next command: %v", at, kept, err)
				}
				nothingLeft(t, crashed)
				if got := found.same(t, crashed, before, after); got != state {
					t.Fatalf("operation %d, names %b: the state was %s, and is %s after the next command (the first ended with %v)", at, kept, state, got, err)
				}
			}
		}
	}
	t.Logf("%d operations, %d states after a crash: %d old, %d new", ops, seen["old"]+seen["new"], seen["old"], seen["new"])
	if seen["old"] == 0 || seen["new"] == 0 {
		t.Errorf("states seen: %v", seen)
	}
}

// An error at each operation in turn, and then a crash: what the command said
// to have happened may be lost or not, but never in part.
func TestCrashAfterFailure(t *testing.T) {
	if testing.Short() {
		t.Skip("takes long")
	}
	before, after, ops := settled(t)
	seen := judged{}
	for at := 1; at <= ops; at++ {
		for again := range 3 { // the operations after it fail as well, or not
			d := newTestDisk(before)
			d.failAt, d.failFor = at, again+1
			err := testStore(d).change(saveSeason)
			for kept := range uint(1) << len(d.pending) {
				state := seen.same(t, d.afterCrash(kept, 0), before, after)
				if err == nil && state == "old" && again == 0 {
					t.Fatalf("operation %d, names %b: a commit without error is lost", at, kept)
				}
			}
		}
	}
}

// A commit soon after another, whose last steps are not yet on the disk.
func TestSecondCommitCrashes(t *testing.T) {
	before, after, ops := settled(t)
	start, seen := emptyFiles(), judged{}
	for at := 1; at <= ops; at++ {
		d := newTestDisk(start)
		if err := testStore(d).change(saveSeason); err != nil {
			t.Fatal(err)
		}
		d.failAt, d.stop = d.ops+at, true
		_ = testStore(d).change(saveSeason)
		for kept := range uint(1) << len(d.pending) {
			seen.same(t, d.afterCrash(kept, 0), before, after)
		}
	}
}

// A second crash while the next command clears up after the first.
func TestRecoveryCrashes(t *testing.T) {
	before, after, ops := settled(t)
	seen, step := judged{}, 1
	if testing.Short() {
		step = 5
	}
	for at := 1; at <= ops; at += step {
		for second := 1; second <= 12; second++ {
			d := newTestDisk(before)
			d.failAt, d.stop = at, true
			_ = testStore(d).change(saveSeason)
			d = d.afterCrash(1<<len(d.pending)-1, 1)
			state := same(t, tablesOf(t, d), before, after)
			d.failAt, d.stop = second, true
			_ = testStore(d).change(nothing)
			for kept := range uint(1) << len(d.pending) {
				crashed := d.afterCrash(kept, 0)
				if got := seen.same(t, crashed, before, after); got != state {
					t.Fatalf("operations %d, %d, names %b: the state was %s, and is %s", at, second, kept, state, got)
				}
			}
		}
	}
}

// The files change between reading and saving, as on a network drive without
// locks: the work is done again on what they hold now.
func TestChangeSeesOthersChanges(t *testing.T) {
	d := newTestDisk(emptyFiles())
	calls := 0
	err := testStore(d).change(func(r *Registry) error {
		if calls++; calls <= 2 {
			if err := testStore(d).change(saveSeason); err != nil {
				t.Fatal(err)
			}
		}
		return saveSeason(r)
	})
	if err != nil || calls != 3 {
		t.Fatalf("%d calls, %v", calls, err)
	}
	states, err := testStore(d).read()
	if err != nil {
		t.Fatal(err)
	}
	r, err := testStore(d).load(states)
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, c := range r.Crosses() {
		got = append(got, c.ID.String())
	}
	if want := []string{"2026X001", "2026X002", "2026X003"}; !slices.Equal(got, want) {
		t.Errorf("%v, want %v", got, want)
	}
	nothingLeft(t, d)
}

// An edit that leaves size and time as they were is seen as well.
func TestChangeSeesEditsOfTheSameSize(t *testing.T) {
	before, _, _ := settled(t)
	d := newTestDisk(before)
	calls := 0
	err := testStore(d).change(func(r *Registry) error {
		if calls++; calls == 1 {
			f := d.now["r/lots.csv"]
			f.data = strings.Replace(f.data, ",9,", ",8,", 1)
		}
		return r.Void(ids.ID{Year: 2026, Cross: 1, Lot: 2}, "a slip")
	})
	if err != nil || calls != 2 {
		t.Fatalf("%d calls, %v", calls, err)
	}
	if text := d.now["r/lots.csv"].data; !strings.Contains(text, ",8,") || !strings.Contains(text, "void") {
		t.Errorf("lots.csv is\n%s", text)
	}
}

func TestChangeGivesUp(t *testing.T) {
	d := newTestDisk(emptyFiles())
	calls := 0
	err := testStore(d).change(func(r *Registry) error {
		calls++
		d.now["r/pots.csv"].data += "\r\n"
		return saveSeason(r)
	})
	var changed *ChangedError
	if !errors.As(err, &changed) || calls != 5 {
		t.Fatalf("%d calls, %v", calls, err)
	}
	if text := d.now["r/crosses.csv"].data; text != emptyFiles()["r/crosses.csv"] {
		t.Errorf("crosses.csv is %q", text)
	}
	nothingLeft(t, d)
}

// A file that somebody edited after a crash, before the commit was finished, is
// kept beside the others and announced.
func TestEditAfterCrashIsKept(t *testing.T) {
	before, after, ops := settled(t)
	for at := ops; at > 0; at-- {
		d := newTestDisk(before)
		d.failAt, d.stop = at, true
		_ = testStore(d).change(saveSeason)
		d = d.afterCrash(0, 1)
		if d.now["r/.lots.csv.new"] == nil || d.now["r/.commit"] == nil {
			continue
		}
		const edited = "id,issued,extracted,fruit,seeds,undeveloped,chilled,state,notes\n"
		d.now["r/lots.csv"].data = edited
		var beside []string
		err := testStore(d).change(func(r *Registry) error {
			for _, f := range r.Check() {
				if f.Row == 0 {
					beside = append(beside, f.String())
				}
			}
			return nil
		})
		if err != nil {
			t.Fatal(err)
		}
		if d.now["r/lots.csv"].data != after["r/lots.csv"] || d.now["r/lots.conflict-1.csv"].data != edited {
			t.Errorf("lots.csv is %q", d.now["r/lots.csv"].data)
		}
		want := "lots.conflict-1.csv: looks like a second copy of lots.csv, and is not read; compare the two, carry over what is missing, and delete the copy"
		if len(beside) != 1 || beside[0] != want {
			t.Errorf("%q, want %q", beside, want)
		}
		return
	}
	t.Fatal("no crash left a journal")
}

func TestErrorOfWorkSavesNothing(t *testing.T) {
	before, _, _ := settled(t)
	d := newTestDisk(before)
	mine := errors.New("no printer")
	err := testStore(d).change(func(r *Registry) error {
		if err := saveSeason(r); err != nil {
			return err
		}
		return mine
	})
	if err != mine || d.ops != 0 {
		t.Errorf("%v after %d operations", err, d.ops)
	}
	if err := testStore(d).change(nothing); err != nil || d.ops != 0 {
		t.Errorf("%v after %d operations", err, d.ops)
	}
}

func TestWriteProtected(t *testing.T) {
	before, _, _ := settled(t)
	d := newTestDisk(before)
	d.now["r/labels.csv"].mode = 0o444
	err := testStore(d).change(saveSeason)
	want := "r/labels.csv: is write-protected; take the protection off if the registry is to change"
	if err == nil || err.Error() != want {
		t.Errorf("%v\nwant %s", err, want)
	}
	if !maps.Equal(tablesOf(t, d), before) {
		t.Error("the registry was changed")
	}
	nothingLeft(t, d)
}

func TestForeignJournal(t *testing.T) {
	for text, reason := range map[string]string{
		"{":                           "unexpected end of JSON input",
		`{"Files":[{"Name":"../x"}]}`: `it names "../x"`,
	} {
		files := emptyFiles()
		files["r/.commit"] = text
		_, err := testStore(newTestDisk(files)).read()
		want := fmt.Sprintf("r/.commit: is not the journal of an interrupted command: %s; move it out of the folder", reason)
		if err == nil || err.Error() != want {
			t.Errorf("%v\nwant %s", err, want)
		}
	}
}

// A spreadsheet holds a file open, as Windows minds: for a moment, and the save
// goes through; for longer, and it is asked for, and the old state holds.
func TestFileHeldOpen(t *testing.T) {
	before, after, _ := settled(t)
	for _, c := range []struct {
		path  string
		times int
		want  string // the state
		err   string
	}{
		{"r/crosses.csv", 9, "new", ""},
		{"r/crosses.csv", 10, "old", "r/crosses.csv: cannot be written: The process cannot access the file because it is being used by another process.; close the spreadsheet that has it open and run the command again"},
		{"r/labels.csv", 9, "new", ""},
		{"r/labels.csv", 10, "new", ""}, // the journal stands, and the next command carries on
	} {
		d := newTestDisk(before)
		d.held = map[string]int{c.path: c.times}
		err := testStore(d).change(saveSeason)
		if got := fmt.Sprint(err); c.err != got && (c.err != "" || err != nil) {
			t.Errorf("%s held %d times: %v\nwant %s", c.path, c.times, err, c.err)
		}
		if got := same(t, tablesOf(t, d), before, after); got != c.want {
			t.Errorf("%s held %d times: the state is %s", c.path, c.times, got)
		}
		if err := testStore(d).change(nothing); err != nil {
			t.Errorf("%s held %d times: the next command: %v", c.path, c.times, err)
		}
		if got := same(t, tablesOf(t, d), before, after); got != c.want {
			t.Errorf("%s held %d times: the state becomes %s", c.path, c.times, got)
		}
		nothingLeft(t, d)
	}
}
