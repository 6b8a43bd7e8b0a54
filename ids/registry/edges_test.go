package registry

import (
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"testing"
)

// What was written for a phone is kept in the place of what was written before.
func TestCalendarIsKept(t *testing.T) {
	entry := func(uid string, sequence int) CalendarEntry {
		return CalendarEntry{UID: uid, Day: Date{2027, 2, 15}, Sequence: sequence, Summary: "look"}
	}
	d := season(nil)
	for _, entries := range [][]CalendarEntry{{entry("a", 0), entry("b", 0)}, {entry("b", 1), entry("c", 0), entry("c", 4)}, {entry("a", 2)}} {
		if err := testStore(d).change(func(r *Registry) error { r.KeepCalendar(entries); return nil }); err != nil {
			t.Fatal(err)
		}
	}
	if got, want := open(t, d).Calendar(), []CalendarEntry{entry("a", 2), entry("b", 1), entry("c", 4)}; !slices.Equal(got, want) {
		t.Errorf("%+v, want %+v", got, want)
	}
}

// The mark is the registry's own, whatever stands before it: marks of others, and
// cells that cannot be read.
func TestOwnMarkAmongOthers(t *testing.T) {
	for rows, want := range map[string]string{
		"bcdfghjkmn,\n":                    "bcdfghjkmn",
		"bcdfghjkmn,merged\npqrstvwxzb,\n": "pqrstvwxzb",
		"no mark!,\npqrstvwxzb,\n":         "pqrstvwxzb",
		"bcdfghjkmn,merged\n":              "",
		"no mark!,\n":                      "",
		"pqrstvwxzb,\nbcdfghjkmn,\n":       "pqrstvwxzb",
	} {
		dir := newRegistry(t, map[string]string{marksFile: bom + "registry,state\r\n" + strings.ReplaceAll(rows, "\n", "\r\n")})
		r := openIn(t, dir)
		if got := r.Mark(); got != want {
			t.Errorf("%q: %q, want %q", rows, got, want)
		}
		if r.IsMarked("") || want != "" && !r.IsMarked(strings.ToUpper(want)) || strings.Contains(rows, "bcdf") && !r.IsMarked("bcdfghjkmn") {
			t.Errorf("%q: marked with nothing, or not with its own", rows)
		}
	}
}

// S-alleles in the forms in which they are written (ranges of digits and letters
// are those of published names: S1, S16b, Sb).
func TestAllelesAsTheyAreWritten(t *testing.T) {
	for text, want := range map[string]string{
		"0,9": "S0 S9", "1": "S1", "S2,S3": "S2 S3", "s16B": "", "S16b/s16b": "S16b", "Sa+Sz": "Sa Sz", "S1234": "", "S123": "S123", "S": "", "x": "", ":": "", "/": "", "": "",
	} {
		got, err := ReadAlleles(text)
		if got != want || (err != nil) != (want == "" && strings.Trim(text, "/ ") != "") {
			t.Errorf("%q: %q (%v), want %q", text, got, err, want)
		}
	}
}

// A name that begins as an identifier does, but has no digit where those have one,
// is a name.
func TestNamesThatBeginAsIdentifiersDo(t *testing.T) {
	for name, isName := range map[string]bool{"2026Xylo": true, "2026X": true, "202X6 0": true, "Larkfield 2026": true, "2026X0": false, "2026x9-": false, "2026X5 Tessel": false, "a026X0": true, "2a26X0": true, "20a6X0": true, "202aX0": true, "2026Y0": true} {
		err := testStore(season(nil)).change(func(r *Registry) error {
			_, err := r.AddCross(NewCross{SeedParent: name, PollenParent: "B", Year: 2026})
			return err
		})
		if (err == nil) != isName || err != nil && !refused(err) {
			t.Errorf("%q: %v", name, err)
		}
	}
}

// Looking for what is wrong leaves everything as it is: a request afterwards is
// answered alike, and with the same words.
func TestCheckChangesNothing(t *testing.T) {
	files := cleanSeason()
	ask := func(r *Registry) string {
		_, err := r.AddEmergence(mustID(t, "2026X011-A1"), Date{2027, 3, 10}, 2) // contradicts both counts, which are not in the order of their days
		return fmt.Sprint(err, r.Emergences(), r.CountsOf(mustID(t, "2026X011-A1")))
	}
	want := ask(open(t, season(files)))
	r := open(t, season(files))
	r.Check()
	if got := ask(r); got != want || !strings.Contains(want, "5 up on 2027-03-01") {
		t.Errorf("after check: %s\nbefore: %s", got, want)
	}
}

// What is known of a pot without a row, as a hand edit can leave it, is told under
// its identifier.
func TestCountsOfAPotWithoutARow(t *testing.T) {
	files := season(map[string]string{"pots.csv": "2026X001-A1,7,2027-01-14,bench 3,,", "emergence.csv": "2025X007-A1,2026-02-20,1,"})
	pot := mustID(t, "2025X007-A1")
	r := open(t, files)
	counts := r.CountsOf(pot)
	if len(counts) != 2 || counts[1].Up != Known(2) { // a count, and the two that were pricked out
		t.Fatalf("%+v", counts)
	}
	for _, c := range counts {
		if c.Pot != pot {
			t.Errorf("%+v", c)
		}
	}
	if got := r.AliveIn(pot); got != (Count{}) || r.AllOut(pot) {
		t.Errorf("alive %v, all out %v", got, r.AllOut(pot))
	}
}

// Crosses whose parents lead in a circle, as a hand edit can leave them, do not
// keep another one from being corrected.
func TestParentsInACircle(t *testing.T) {
	d := season(map[string]string{
		"crosses.csv":   "2023X001,2024X001-A1-A,B,,,,\n2024X001,2023X001-A1-A,B,,,,\n2025X001,A,B,,,,",
		"lots.csv":      "2023X001-A,,,,9,,,,\n2024X001-A,,,,9,,,,\n2025X001-A,,,,9,,,,",
		"pots.csv":      "2023X001-A1,4,,,,\n2024X001-A1,4,,,,\n2025X001-A1,4,,,,",
		"seedlings.csv": "2023X001-A1-A,,,\n2024X001-A1-A,,,\n2025X001-A1-A,,,",
		"emergence.csv": "", "labels.csv": "",
	})
	for name, ok := range map[string]bool{"2023X001-A1-A": true, "2025X001-A1-A": false} {
		err := testStore(d).change(func(r *Registry) error {
			_, err := r.Correct(mustID(t, "2025X001"), Correction{SeedParent: &name})
			return err
		})
		if (err == nil) != ok || err != nil && !refused(err) {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// New files may be read and written by whom the user's umask lets, and run by
// nobody; those that replace others are as open as these.
func TestModesOfNewFiles(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("Windows keeps no such modes")
	}
	for mode, want := range map[os.FileMode]os.FileMode{usualMode: 0o600, 0o640: 0o640, 0o666: 0o666} {
		path := filepath.Join(t.TempDir(), "a.csv")
		f, err := systemDisk{}.Create(path, mode)
		if err != nil {
			t.Fatal(err)
		}
		f.Close()
		info, err := os.Stat(path)
		if err != nil {
			t.Fatal(err)
		}
		if got := info.Mode().Perm(); got&0o111 != 0 || mode == usualMode && got&0o600 != want || mode != usualMode && got != want {
			t.Errorf("asked for %v: %v", mode, got)
		}
	}
}

// A row that a history says was taken away comes back, whatever file it was of.
func TestUndoBringsAVarietyBack(t *testing.T) {
	dir := newRegistry(t, map[string]string{
		varietiesFile: newTables().varieties.blankFile() + "Bob,,,,,,,,\r\n",
		historyFile:   newTables().history.blankFile() + "1,2026-05-01T10:00:00Z,take out,,,varieties.csv,2,Ann,,\"name=Ann,ploidy=3\",\r\n",
	})
	err := Change(dir, Options{}, func(r *Registry) error {
		_, err := r.Undo()
		if v, ok := r.Variety("Ann"); !ok || v.Ploidy != 3 {
			t.Errorf("in the meantime: %+v, %v", v, ok)
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	if v, ok := openIn(t, dir).Variety("Ann"); !ok || v.Ploidy != 3 {
		t.Errorf("%+v, %v", v, ok)
	}
}
