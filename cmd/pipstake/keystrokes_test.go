package main

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	"pipstake/ids/registry"
)

// job is work of an evening: how it is typed with one command a thing and every
// identifier in full, and how it is typed at the shortest. A scanned code costs no
// key, and stands in brackets.
type job struct {
	name   string
	long   []string // command lines; only the first is run, the others are like it
	short  []string // a command line, and then what is answered or typed in a session
	events int      // entries of the history that the short way makes
}

// repeated is n lines of a form, with a number from 1 in each.
func repeated(n int, form string) []string {
	var lines []string
	for i := 1; i <= n; i++ {
		lines = append(lines, fmt.Sprintf(form, i))
	}
	return lines
}

// bagLines names forty bags in order: four of each of ten crosses.
func bagLines(form string) []string {
	var lines []string
	for cross := 2; cross <= 11; cross++ {
		for _, lot := range "ABCD" {
			lines = append(lines, fmt.Sprintf(form, fmt.Sprintf("2026X%03d-%c", cross, lot)))
		}
	}
	return lines
}

func evening() []job {
	return []job{
		{"open forty bags", bagLines("pipstake extract %s --fruit 4 --seeds 14 --undeveloped 1"),
			append([]string{"pipstake extract"}, slices.Repeat([]string{"4 14 1"}, 40)...), 40},
		{"count thirty pots", repeated(30, "pipstake emerged 2026X001-A%d 5"),
			append([]string{"pipstake emerged"}, slices.Repeat([]string{"5"}, 30)...), 30},
		{"the same with what died", repeated(30, "pipstake emerged 2026X001-A%d 5 --died 1"),
			append([]string{"pipstake emerged"}, slices.Repeat([]string{"5 1"}, 30)...), 30},
		{"move twelve pots", repeated(12, `pipstake move 2026X001-A%d --to "frame 2"`),
			[]string{`pipstake move 1-A1..12 --to "frame 2"`}, 1},
		{"correct a name", []string{`pipstake correct 2026X001 --pollen-parent "Gwennol Goch"`},
			[]string{`pipstake correct x1 --pollen-parent "Gwennol Goch"`}, 1},
		{"a pot lost to mice, scanned", []string{"pipstake gone 2026X001-A2 --how lost --note mice"},
			[]string{"pipstake scan", "[2026X001-A2]", "gone mice", "q"}, 1},
		{"three remarks, scanned", repeated(3, `pipstake note 2026X001-A%d "red leaves"`),
			[]string{"pipstake scan", "[2026X001-A1]", "note red leaves", "[2026X001-A2]", "note red leaves", "[2026X001-A3]", "note red leaves", "q"}, 3},
		{"yesterday's picking", []string{"pipstake picked 2026X001 --fruit 9 --on 2027-02-28"},
			[]string{"pipstake picked 1 --fruit 9 --on -1d"}, 1},
		{"print six pots' stakes anew", []string{"pipstake labels 2026X001-A1 2026X001-A2 2026X001-A3 2026X001-A4 2026X001-A5 2026X001-A6 --replace"},
			[]string{"pipstake labels 1-A1..6 --replace"}, 1},
		{"count wrong, undo, count right", []string{"pipstake emerged 2026X001-A1 6", "pipstake undo", "pipstake emerged 2026X001-A1 5"},
			[]string{"pipstake scan", "[2026X001-A1]", "6", "undo", "5", "q"}, 3},
	}
}

// keys counts what is typed, Enter included.
func keys(lines []string) int {
	n := 0
	for _, line := range lines {
		if !strings.HasPrefix(line, "[") {
			n += utf8.RuneCountInString(line) + len("\n")
		}
	}
	return n
}

// typeAt runs a command line, with what is typed once it runs, as on a terminal.
func typeAt(t *testing.T, dir, line string, then []string) {
	t.Helper()
	var in strings.Builder
	for _, answer := range then {
		in.WriteString(strings.Trim(answer, "[]") + "\n")
	}
	var told bytes.Buffer
	e := &env{args: splitWords(line)[1:], stdin: strings.NewReader(in.String()), stdout: &bytes.Buffer{}, stderr: &told, onTerminal: true,
		getenv: func(string) string { return "" }, cwd: dir, now: func() time.Time { return time.Date(2027, 3, 1, 12, 0, 0, 0, time.UTC) }}
	if got := execute(e); got != fine {
		t.Fatalf("%s: status %d\n%s", line, got, told.String())
	}
}

// Ten jobs of an evening, with the keystrokes that DEVELOPERS.md states. The short
// way of each is driven to its end, and makes the entries that it should.
func TestKeystrokes(t *testing.T) {
	if testing.Short() {
		t.Skip("takes long")
	}
	t.Parallel()
	home := t.TempDir()
	for _, line := range []string{"init", `cross "Larkfield Tessel" "Tarn Amber" --on 2026-05-02`, "bags 2026X001 --out bags.pdf", "extract 2026X001-A --seeds 300 --on 2026-11-14",
		"sow 2026X001-A --pots 30 --on 2027-01-14 --out stakes.pdf"} {
		typeAt(t, home, "pipstake "+line, nil)
	}
	for i := range 10 {
		typeAt(t, home, fmt.Sprintf(`pipstake cross "Gwennol Goch" "Tarn Amber" --on 2026-05-%02d`, i+3), nil)
	}
	typeAt(t, home, "pipstake bags 2026X002..11 --lots 4 --out more.pdf", nil)
	stated, err := os.ReadFile("../../DEVELOPERS.md")
	if err != nil {
		t.Fatal(err)
	}
	for _, j := range evening() {
		for way, lines := range [][]string{j.long[:1], j.short} {
			dir := filepath.Join(t.TempDir(), "orchard")
			if err := os.CopyFS(dir, os.DirFS(home)); err != nil {
				t.Fatal(err)
			}
			before := lastEntry(t, dir)
			typeAt(t, dir, lines[0], lines[1:])
			if made := lastEntry(t, dir) - before; way == 1 && made != j.events {
				t.Errorf("%s: %d entries in the history, want %d", j.name, made, j.events)
			}
			if _, err := registry.Open(dir); err != nil {
				t.Error(err)
			}
		}
		row := fmt.Sprintf("| %s | %d | %d |\n", j.name, keys(j.long), keys(j.short))
		if !strings.Contains(string(stated), row) {
			t.Errorf("DEVELOPERS.md lacks the row %s", row)
		}
		if keys(j.short) >= keys(j.long) {
			t.Errorf("%s takes %d keys at the shortest, and %d in full", j.name, keys(j.short), keys(j.long))
		}
	}
}
