package main

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"syscall"
	"testing"

	"pipstake/ids"
	"pipstake/ids/registry"
)

// fullStream takes nothing, as /dev/full.
type fullStream struct{ err error }

func (f fullStream) Write([]byte) (int, error) {
	return 0, &os.PathError{Op: "write", Path: "/dev/stdout", Err: f.err}
}

// endings is a line for each command, as it is given on a season: all of them say
// something on standard output.
var endings = map[string][]string{
	"demo":        {"--out", "there"},
	"init":        {"there", "--another"},
	"cross":       {"Tarn Amber", "Larkfield Tessel", "--on", "2026-05-04"},
	"variety":     {"Tarn Amber", "--ploidy", "2"},
	"received":    {"Tarn Amber", "--source", "Ann, seed swap", "--seeds", "24"},
	"tags":        {"2026X001", "--on", "2026-05-04"},
	"picked":      {"2026X001", "--fruit", "9", "--on", "2026-10-02"},
	"bags":        {"2026X002", "--on", "2026-10-02"},
	"bench":       {"2026X003"},
	"extract":     {"2026X003-A", "--seeds", "5"},
	"chill":       {"2026X001-A", "--from", "2027-03-01"},
	"sow":         {"2026X001-A", "--seeds", "1", "--on", "2027-03-01"},
	"emerged":     {"2026X001-A1", "4", "--on", "2027-03-02"},
	"prick":       {"2026X001-A1", "--seedlings", "1", "--on", "2027-03-01"},
	"plant":       {"2026X001-A1-A", "--to", "row 4", "--on", "2027-03-01"},
	"select":      {"2026X001-A1-A", "--on", "2027-03-01"},
	"graft":       {"2026X001-A1-A", "--copies", "1", "--on", "2027-03-01"},
	"move":        {"2026X001-A1", "--to", "frame 2", "--on", "2027-03-01"},
	"note":        {"2026X001", "windy", "--on", "2027-03-01"},
	"gone":        {"2026X002", "--how", "failed", "--on", "2026-07-01"},
	"keep":        {"2026X001-A", "--until", "2029"},
	"correct":     {"2026X001", "--pollinated", "2026-05-01"},
	"scan":        {"2026X001-A1"},
	"stocktake":   {"log.txt"},
	"page":        {"--out", "page.html"},
	"due":         {},
	"germination": {},
	"yield":       {},
	"plan":        {"--seedlings", "10"},
	"lineage":     {"2026X001"},
	"labels":      {"--missing"},
	"spoil":       {"1", "--cells", "1"},
	"void":        {"2026X002", "--note", "a slip"},
	"passport":    {"--out", "-"},
	"rebuild":     {"there", "log.txt"},
	"check":       {},
	"history":     {},
	"undo":        {},
	"merge":       {"other"},
	"stock":       {"add", "more-cards", "--roll", "62x29"},
	"completion":  {"bash"},
	"manual":      {},
	"version":     {},
	"help":        {},
}

// endingsRecording is a second line for commands that may change the registry and
// whose first one does not.
var endingsRecording = map[string][]string{
	"due":       {"--ics", "due.ics"},
	"check":     {"--fix", "--yes"},
	"stocktake": {"stale.txt", "--print", "again.pdf"},
	"labels":    {"2026X001-A", "--replace"},
}

// endingsSeason is the season on which endings are given.
func endingsSeason(t testing.TB) string {
	t.Helper()
	season := completionSeason(t)
	for _, line := range [][]string{
		{"emerged", "2026X001-A1", "3", "--on", "2027-03-01"},
		{"cross", "Gwennol Goch", "Tarn Amber", "--on", "2026-05-03"},
		{"bags", "2026X003", "--on", "2026-09-01", "--out", filepath.Join(t.TempDir(), "bags.pdf")},
		{"prick", "2026X001-A1", "--seedlings", "1", "--on", "2027-03-01", "--out", filepath.Join(t.TempDir(), "seedlings.pdf")},
		{"note", "2026X001", "late frost", "--on", "2027-03-01"},
	} {
		if got, _, stderr := runIn(t, season, line...); got != fine {
			t.Fatalf("%q: %s", line, stderr)
		}
	}
	return season
}

// endingsRegistry is the season as a command finds it, and where it is.
func endingsRegistry(t *testing.T, season, command string) (dir string) {
	t.Helper()
	dir = copyOf(t, season)
	switch command {
	case "stocktake":
		if got, _, told := runIn(t, dir, "correct", "2026X001-A1", "--seeds", "5"); got != fine {
			t.Fatal(told)
		}
	case "check": // there is something to mend
		counts := strings.ReplaceAll(contents(t, dir)["/emergence.csv"], "2027-03-01", "2027–03–01")
		if err := os.WriteFile(filepath.Join(dir, "emergence.csv"), []byte(counts), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	return dir
}

// endingsFiles puts into a folder what commands name: logs of walks in the season,
// and a registry to merge.
func endingsFiles(t *testing.T, season, folder string) {
	t.Helper()
	seen := ids.ID{Year: 2026, Cross: 1, Lot: 1, Pot: 1}.WithCheck() + "/1"
	if err := errors.Join(os.WriteFile(filepath.Join(folder, "log.txt"), []byte(seen+"\n"), 0o600),
		os.WriteFile(filepath.Join(folder, "stale.txt"), []byte(seen+" 4 SOWN 2027-03-01 LARKFIELD TESSEL X TARN AMBER\n"), 0o600),
		os.CopyFS(filepath.Join(folder, "other"), os.DirFS(season))); err != nil {
		t.Fatal(err)
	}
	if got, _, told := runIn(t, filepath.Join(folder, "other"), "cross", "Gwennol Goch", "Larkfield Tessel", "--on", "2026-05-05"); got != fine {
		t.Fatal(told)
	}
}

// Where standard output takes nothing, every command ends with the status of
// that; one that changed the registry says once on standard error what was
// recorded, and under which number, and one that only reports does not
// (sharkdp/fd#737: a failed write shows only as exit 1).
func TestSaidAndSavedAreOne(t *testing.T) {
	t.Parallel()
	if testing.Short() {
		t.Skip("takes long")
	}
	season := endingsSeason(t)
	for _, c := range commands() {
		args, known := endings[c.name]
		if !known {
			t.Fatalf("there is no line for %s: add one to endings", c.name)
		}
		recording := endingsRecording[c.name]
		t.Run(c.name, func(t *testing.T) {
			fromPhones := c.name == "page" // what it records comes while it serves: TestServedEntriesAreRecorded
			endsOnFull(t, season, append([]string{c.name}, args...), c.records && recording == nil && !fromPhones)
		})
		if recording != nil {
			t.Run(c.name+" "+recording[0], func(t *testing.T) { endsOnFull(t, season, append([]string{c.name}, recording...), true) })
		}
	}
}

// endsOnFull runs a command with standard output that takes nothing; records says
// that it has to change something.
func endsOnFull(t *testing.T, season string, args []string, records bool) {
	end := func(full error) (got status, said, told, want string, recorded bool) {
		dir := endingsRegistry(t, season, args[0])
		e, stdout, stderr := testEnv(t, args...)
		e.getenv = func(name string) string { return map[string]string{"PIPSTAKE_REGISTRY": dir}[name] }
		endingsFiles(t, season, e.cwd)
		if full != nil {
			e.stdout = fullStream{full}
		}
		before := lastEntry(t, dir)
		got = execute(e)
		entry := lastEntry(t, dir)
		switch name := args[0]; {
		case entry > before:
			return got, stdout.String(), stderr.String(), fmt.Sprintf("recorded all the same: entry %d of the history, ", entry), true
		case name == "init" || name == "demo" || name == "rebuild":
			return got, stdout.String(), stderr.String(), "recorded all the same: a new registry in ", true
		case slices.Contains(args, "--ics"):
			return got, stdout.String(), stderr.String(), "recorded all the same: the events of the calendar, in calendar.csv", true
		case full == syscall.ENOSPC:
			want = "hint: nothing was recorded"
		}
		return got, stdout.String(), stderr.String(), want, false
	}
	was, said, told, _, _ := end(nil)
	if was != fine && was != problemsSeen || said == "" {
		t.Fatalf("%q: status %d, says %q: %s", args, was, said, told)
	}
	for _, full := range []error{syscall.ENOSPC, syscall.EPIPE} {
		if full == syscall.EPIPE && testing.Short() {
			break
		}
		got, _, told, want, recorded := end(full)
		if got != failed {
			t.Errorf("%v: status %d", full, got)
		}
		if records && !recorded {
			t.Errorf("%q may change the registry, and changed nothing: give it a line that does", args)
		}
		if strings.Count(told, want) != 1 && want != "" || strings.Contains(told, "recorded all the same") != recorded {
			t.Errorf("%v: does not say %q once:\n%s", full, want, told)
		}
		if n := strings.Count(told, "cannot write to standard output"); n > 1 || n == 0 && want != "" {
			t.Errorf("%v: tells the failure %d times:\n%s", full, n, told)
		}
	}
}

// lastEntry is the number of the last command in a registry's history.
func lastEntry(t *testing.T, dir string) int {
	t.Helper()
	r, err := registry.Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	events := r.History()
	if len(events) == 0 {
		return 0
	}
	return events[len(events)-1].Entry
}

// A scan session that can no longer answer says which counts it has recorded
// without having said so, and no others.
func TestUnsaidCountsOfAScanSession(t *testing.T) {
	dir := completionSeason(t)
	e, _, stderr := testEnv(t, "scan")
	e.getenv = func(name string) string { return map[string]string{"PIPSTAKE_REGISTRY": dir}[name] }
	e.stdin = strings.NewReader("2026X001-A1\n2\n")
	e.stdout = &fullAfter{lines: 1}
	before := lastEntry(t, dir)
	if got := execute(e); got != failed {
		t.Errorf("status %d", got)
	}
	want := fmt.Sprintf("entry %d of the history, 2026X001-A1", before+1)
	if got := lastEntry(t, dir); got != before+1 {
		t.Errorf("%d entries, want %d; it said %q", got, before+1, e.stdout.(*fullAfter).String())
	}
	if strings.Count(stderr.String(), want) != 1 {
		t.Errorf("does not say %q once:\n%s", want, stderr)
	}
}

// fullAfter takes so many writes and no more.
type fullAfter struct {
	bytes.Buffer
	lines int
}

func (f *fullAfter) Write(p []byte) (int, error) {
	if f.lines--; f.lines < 0 {
		return 0, syscall.ENOSPC
	}
	return f.Buffer.Write(p)
}
