package main

import (
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// oldRegistry is a copy of a registry that the program made before things could
// end: an invented orchard, with two mistakes in it for check to find.
func oldRegistry(t *testing.T) string {
	t.Helper()
	dir := t.TempDir()
	if err := os.CopyFS(dir, os.DirFS(filepath.Join("testdata", "registry-2026"))); err != nil {
		t.Fatal(err)
	}
	return dir
}

// tablesIn are the texts of the tables in a folder, by name.
func tablesIn(t *testing.T, dir string) map[string]string {
	t.Helper()
	texts := map[string]string{}
	names, err := filepath.Glob(filepath.Join(dir, "*.csv"))
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range names {
		text, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		texts[filepath.Base(name)] = string(text)
	}
	return texts
}

// A registry from before opens, checks and prints as it did, and a file gains a
// column only when it is needed; all other bytes stay.
func TestRegistryFromBefore(t *testing.T) {
	dir := oldRegistry(t)
	before := tablesIn(t, dir)
	// What the program that made it found: it was run on it then.
	const found = `labels.csv row 162, id "2025X001-C1"
  has its stake label, copy 1, in use already, in row 50 of batch 2
  hint: destroy one of the labels and write "replaced" or "spoilt" into its state
pots.csv row 32, id "2025X006-C1"
  has no stake in use as copy 2
  hint: print it with: pipstake labels --missing
2 findings (2 of labels) in 12 crosses, 40 seed lots, 60 pots, 0 seedlings, 180 counts and 161 labels
`
	said := func(want status, args ...string) string {
		t.Helper()
		got, stdout, stderr := runIn(t, dir, args...)
		if got != want {
			t.Fatalf("pipstake %q: status %d, %s", args, got, stderr)
		}
		return stdout
	}
	if got := said(problemsSeen, "check"); sortedBlocks(got) != sortedBlocks(found) {
		t.Errorf("check found\n%s\nwant\n%s", got, found)
	}
	said(fine, "scan", "2025X001-A1")
	said(fine, "germination")
	if after := tablesIn(t, dir); !maps.Equal(after, before) {
		t.Error("reading changed a file")
	}

	if out := said(fine, "labels", "--missing", "--out", filepath.Join(dir, "missing.pdf")); !strings.HasPrefix(out, "batch ") || !strings.Contains(out, "1 stake ") {
		t.Errorf("labels --missing: %s", out)
	}
	gained(t, before, tablesIn(t, dir), "labels.csv", 0)
	delete(before, "labels.csv")
	before["history.csv"] = tablesIn(t, dir)["history.csv"]

	said(fine, "gone", "2025X006-C1", "--how", "lost", "--note", "mice", "--on", "2027-06-01")
	gained(t, before, tablesIn(t, dir), "pots.csv", 2)
	said(fine, "keep", "2025X010-D", "--until", "2028")
	gained(t, before, tablesIn(t, dir), "lots.csv", 1)
	said(fine, "note", "2025X001", "a late frost")
	if text := tablesIn(t, dir)["diary.csv"]; !strings.Contains(text, "2025X001,2027-03-01,note,,a late frost") {
		t.Errorf("the diary is %q", text)
	}
	if got := said(problemsSeen, "check"); strings.Contains(got, "2025X006-C1") {
		t.Errorf("what has ended is asked for: %s", got)
	}
}

// gained fails where a file gained other than so many columns, or where a row
// that was there lost a byte.
func gained(t *testing.T, before, after map[string]string, file string, columns int) {
	t.Helper()
	was, is := strings.Split(before[file], "\r\n"), strings.Split(after[file], "\r\n")
	if got := strings.Count(is[0], ",") - strings.Count(was[0], ","); got != columns || !strings.HasPrefix(is[0], was[0]) {
		t.Errorf("%s gained %d columns, want %d: %s", file, got, columns, is[0])
	}
	changed := 0
	for i, row := range was[1:] {
		if i+1 >= len(is) || is[i+1] != row {
			changed++
		}
	}
	if changed > 1 { // one row was about what was changed, or the end of the file
		t.Errorf("%s: %d rows changed", file, changed)
	}
	for name, text := range before {
		if name != file && name != "history.csv" && name != "pots.csv" && name != "lots.csv" && after[name] != text {
			t.Errorf("%s changed too", name)
		}
	}
}

// sortedBlocks sorts the findings of a report, whatever the order of files.
func sortedBlocks(report string) string {
	var blocks []string
	for line := range strings.Lines(report) {
		if n := len(blocks); n > 0 && strings.HasPrefix(line, " ") {
			blocks[n-1] += line
			continue
		}
		blocks = append(blocks, line)
	}
	slices.Sort(blocks)
	return strings.Join(blocks, "")
}
