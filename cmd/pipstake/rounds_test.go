package main

import (
	"bytes"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// says runs the program and returns what it answers.
func says(t testing.TB, dir string, args ...string) string {
	t.Helper()
	var said bytes.Buffer
	e := &env{args: args, stdin: strings.NewReader(""), stdout: &said, stderr: io.Discard, getenv: func(string) string { return "" },
		cwd: dir, now: func() time.Time { return time.Date(2027, 3, 1, 12, 0, 0, 0, time.UTC) }}
	if got := execute(e); got != fine && got != problemsSeen {
		t.Fatalf("pipstake %s: status %d", strings.Join(args, " "), got)
	}
	return said.String()
}

// A day at the bench on a real terminal: rounds ask, save each answer at once and
// end when they are told to; with the output elsewhere nothing is asked.
func TestRoundsOnATerminal(t *testing.T) {
	if testing.Short() {
		t.Skip("takes long")
	}
	dir := t.TempDir()
	runs(t, dir, "init")
	runs(t, dir, "cross", "Larkfield Tessel", "Tarn Amber", "--on", "2026-05-02")
	runs(t, dir, "bags", "2026X001", "--lots", "3", "--on", "2026-10-02", "--out", "bags.pdf")
	term := newTerminal(t, dir, "bash", "--norc", "--noprofile", "-i")
	ends := func(text string) func(string) bool {
		return func(s string) bool { return strings.HasSuffix(strings.TrimRight(s, " "), text) }
	}
	term.keys("PS1='> '; clear; pipstake extract --on 14.11.2026", "key:Enter")
	term.until("the first question", ends("(1 of 3)\n  fruit?"))
	term.keys("4 14 1", "key:Enter")
	term.until("the second lot", ends("(2 of 3)\n  fruit?"))
	if out := says(t, dir, "scan", "2026X001-A"); !strings.Contains(out, "4 fruit, 14 seeds, 1 undeveloped") {
		t.Errorf("while the round goes on, the first lot reads\n%s", out)
	}
	term.keys("3", "key:Enter")
	term.until("the next question", ends("\n  seeds?"))
	term.keys("10", "key:Enter", "key:Enter", "two small", "key:Enter")
	term.until("the third lot", ends("(3 of 3)\n  fruit?"))
	term.keys("q", "key:Enter")
	term.until("the end", ends("2 recorded, 1 left out\n>"))
	if out := says(t, dir, "scan", "2026X001-B"); !strings.Contains(out, "3 fruit, 10 seeds") || !strings.Contains(out, "two small") {
		t.Errorf("the second lot reads\n%s", out)
	}

	term.clear()
	term.keys("pipstake extract > found.txt", "key:Enter")
	term.until("an error instead of a question", ends("usage: pipstake extract [LOT…] --seeds N [--undeveloped N] [--fruit N]\n>"))
	term.clear()
	term.keys("echo 5 | pipstake extract 2026X001-C", "key:Enter")
	term.until("an error instead of a question", ends("usage: pipstake extract [LOT…] --seeds N [--undeveloped N] [--fruit N]\n>"))

	runs(t, dir, "sow", "2026X001-A", "--pots", "2", "--on", "2027-01-14", "--place", "frame 2", "--out", "stakes.pdf")
	term.clear()
	term.keys("pipstake emerged", "key:Enter")
	term.until("the first pot", ends("7 seeds  (1 of 2)\n  up?"))
	term.keys("5 1", "key:Enter")
	term.until("the second pot", ends("6 seeds  (2 of 2)\n  up?"))
	term.keys("key:C-d")
	term.until("the end", ends("1 recorded, 1 left out\n>"))
	if out := says(t, dir, "scan", "2026X001-A1"); !strings.Contains(out, "5 of 7 up (71 %), 1 died") {
		t.Errorf("the pot reads\n%s", out)
	}

	term.clear()
	term.keys("pipstake scan", "key:Enter")
	term.until("the prompt", ends("\nscan>"))
	term.keys("1-a2", "key:Enter")
	term.until("the answer", ends("typed without its year\n\nscan>"))
	term.keys("4 1", "key:Enter")
	term.until("the count", ends("4 of 6 up (67 %), 1 died on 2027-03-01   ♀ Larkfield Tessel × ♂ Tarn Amber\n\nscan>"))
	term.keys("gone mice", "key:Enter")
	term.until("the end of the pot", func(s string) bool {
		return strings.Contains(s, "2026X001-A2  was lost on 2027-03-01, with 3 seedlings in it: mice\n")
	})
	term.keys("undo", "key:Enter")
	term.until("its return", func(s string) bool {
		return strings.Contains(s, "taken back: pipstake gone 2026X001-A2 --note mice --on 2027-03-01\n")
	})
	term.keys("exit", "key:Enter")
	term.until("the shell", func(s string) bool { return strings.HasSuffix(s, "\n>") })
}

// On a terminal the grower is asked whether the good rows of a file of counts are
// to be recorded without the others.
func TestGoodRowsAreAskedFor(t *testing.T) {
	if testing.Short() {
		t.Skip("takes long")
	}
	dir := t.TempDir()
	runs(t, dir, "init")
	runs(t, dir, "cross", "Larkfield Tessel", "Tarn Amber", "--on", "2026-05-02")
	runs(t, dir, "bags", "2026X001", "--lots", "1", "--on", "2026-10-02", "--out", "bags.pdf")
	runs(t, dir, "extract", "2026X001-A", "--seeds", "9", "--on", "2026-11-14")
	runs(t, dir, "sow", "2026X001-A", "--pots", "1", "--on", "2027-01-14", "--out", "stakes.pdf")
	counts := "registry,pot,on,up\n,2026X001-A1,2027-02-20,3\nbcdfghjkmn,2026X001-A1,2027-02-27,4\n"
	if err := os.WriteFile(filepath.Join(dir, "counts.csv"), []byte(counts), 0o644); err != nil {
		t.Fatal(err)
	}
	term := newTerminal(t, dir, "bash", "--norc", "--noprofile", "-i")
	asked := func(s string) bool {
		return strings.HasSuffix(strings.TrimRight(s, " "), "record the 1 good row without these? [y/n]")
	}
	for _, c := range []struct{ answer, said, scan string }{
		{"n", "nothing was recorded\n>", "count what is up: pipstake emerged"},
		{"y", "1 count recorded from counts.csv\n>", "3 of 9 up (33 %)"},
	} {
		term.keys("PS1='> '; clear; pipstake emerged --from counts.csv", "key:Enter")
		term.until("the question", asked)
		term.keys(c.answer, "key:Enter")
		term.until("what came of it", func(s string) bool { return strings.HasSuffix(strings.TrimRight(s, " "), c.said) })
		if out := says(t, dir, "scan", "2026X001-A1"); !strings.Contains(out, c.scan) {
			t.Errorf("after %q the pot reads\n%s", c.answer, out)
		}
	}
	if out := says(t, dir, "history"); !strings.Contains(out, "pipstake emerged --from counts.csv --good-rows\n") {
		t.Errorf("the history reads\n%s", out)
	}
}
