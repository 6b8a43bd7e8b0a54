package main

import (
	"bytes"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"pipstake/ids/registry"
	"pipstake/layout/proof/outside"
)

// killed are commands that are killed at random moments: those that print, those
// that mend and end, and what takes in another registry.
var killed = [][]string{
	{"bags", "2026X002", "--on", "2027-03-01", "--out", "sheet.pdf"},
	{"sow", "2026X001-A", "--seeds", "1", "--on", "2027-03-01", "--out", "sheet.pdf"},
	{"labels", "2026X001-A1", "--replace", "--out", "sheet.pdf"},
	{"correct", "2026X001-A1", "--seeds", "5"},
	{"correct", "--variety", "Tarn Amber", "Tarn Umber"},
	{"gone", "2026X002", "--how", "failed", "--on", "2027-03-01"},
	{"spoil", "1"},
	{"undo"},
	{"merge", "other"},
}

// Whatever command is killed, and whenever, what it was to record is recorded whole
// or not at all; a sheet is there whole or not at all, and only where its labels are
// recorded; and the next command carries on and clears what was left. PIPSTAKE_SOAK
// sets how many are killed; without it, a few.
func TestKilledCommands(t *testing.T) {
	if testing.Short() {
		t.Skip("takes long")
	}
	each := 4
	if s := os.Getenv("PIPSTAKE_SOAK"); s != "" {
		n, err := strconv.Atoi(s)
		if err != nil || n < 1 {
			t.Fatalf("PIPSTAKE_SOAK=%q is no number of processes", s)
		}
		each = (n + len(killed) - 1) / len(killed)
	}
	season := endingsSeason(t)
	random := rand.New(rand.NewPCG(2026, 16))
	dead, recorded := 0, 0
	for _, args := range killed {
		t.Run(args[0], func(t *testing.T) {
			k := newKilling(t, season, args)
			for range each {
				wasKilled, isRecorded := k.kill(t, time.Duration(random.Int64N(int64(k.took)*5/4)))
				dead, recorded = dead+wasKilled, recorded+isRecorded
			}
		})
	}
	if dead == 0 {
		t.Error("no process was killed before its end")
	}
	t.Logf("%d of %d processes were killed before their end, and %d had recorded what they were to", dead, each*len(killed), recorded)
}

// killing is a command, what it makes of a season, and how long that takes.
type killing struct {
	season        string
	args          []string
	before, after map[string]string // the tables, but for the history
	took          time.Duration
}

func newKilling(t *testing.T, season string, args []string) *killing {
	k := &killing{season: season, args: args, before: keptIn(t, season)}
	dir, _, run := k.start(t)
	begun := time.Now()
	if err := run(nil); err != nil {
		t.Fatalf("%q: %v", args, err)
	}
	k.took, k.after = time.Since(begun), keptIn(t, dir)
	return k
}

// start readies a process; run waits for its end, or until it is to be killed.
func (k *killing) start(t *testing.T) (dir, folder string, run func(end <-chan time.Time) error) {
	dir, folder = copyOf(t, k.season), t.TempDir()
	endingsFiles(t, k.season, folder)
	c := outside.Command(os.Args[0], k.args...)
	c.Args[0] = "pipstake" // by which TestMain knows it
	c.Dir = folder
	c.Env = append(os.Environ(), "PIPSTAKE_REGISTRY="+dir, "TODAY=2027-03-01", "SOURCE_DATE_EPOCH=1800000000", "XDG_CONFIG_HOME="+folder)
	var told bytes.Buffer
	c.Stderr = &told
	return dir, folder, func(end <-chan time.Time) error {
		if err := c.Start(); err != nil {
			return err
		}
		done := make(chan error, 1)
		go func() { done <- c.Wait() }()
		select {
		case err := <-done:
			if err != nil {
				return fmt.Errorf("%v: %s", err, &told)
			}
			return nil
		case <-end:
			_ = c.Process.Kill() // it may have ended by now
			<-done
			return errKilled
		}
	}
}

var errKilled = fmt.Errorf("killed")

// kill kills the command after some time, and looks at what it left.
func (k *killing) kill(t *testing.T, after time.Duration) (killed, recorded int) {
	dir, folder, run := k.start(t)
	switch err := run(time.After(after)); err {
	case errKilled:
		killed = 1
	case nil:
	default:
		t.Fatalf("%q: %v", k.args, err)
	}
	events := lastEntry(t, dir) // reads what a commit left unfinished
	if got, _, told := runIn(t, dir, "note", "2026X001", "the next one"); got != fine {
		t.Fatalf("%q killed after %v: the next command fails: %s", k.args, after, told)
	}
	sheet, err := os.ReadFile(filepath.Join(folder, "sheet.pdf"))
	switch got := keptIn(t, dir); {
	case same(got, k.after) && (events > lastEntry(t, k.season)):
		recorded = 1
	case !same(got, k.before) || events != lastEntry(t, k.season):
		t.Errorf("%q killed after %v: tables are neither those before nor those after: %s", k.args, after, unlike(got, k.before, k.after))
	case err == nil:
		t.Errorf("%q killed after %v: there is a sheet whose labels are not recorded", k.args, after)
	}
	if err == nil && !bytes.HasSuffix(bytes.TrimSpace(sheet), []byte("%%EOF")) {
		t.Errorf("%q killed after %v: the sheet is cut off", k.args, after)
	}
	return killed, recorded
}

// keptIn are the files of a registry, but for those that tell when and by what it
// was changed, and for the remark of the command that came next.
func keptIn(t *testing.T, dir string) map[string]string {
	t.Helper()
	if _, err := registry.Open(dir); err != nil {
		t.Fatal(err)
	}
	files := contents(t, dir)
	delete(files, "/history.csv")
	var diary []string
	for line := range strings.Lines(files["/diary.csv"]) {
		if !strings.Contains(line, "the next one") {
			diary = append(diary, line)
		}
	}
	files["/diary.csv"] = strings.Join(diary, "")
	return files
}

func same(a, b map[string]string) bool { return unlike(a, b, b) == "" }

// unlike names the files that are as in neither of two states.
func unlike(got, a, b map[string]string) string {
	var names []string
	for name, text := range got {
		if text != a[name] && text != b[name] {
			names = append(names, name)
		}
	}
	for name := range a {
		if _, there := got[name]; !there {
			names = append(names, name+" (missing)")
		}
	}
	return strings.Join(names, " ")
}
