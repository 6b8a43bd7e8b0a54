package main

import (
	"os"
	"path/filepath"
	"slices"
	"testing"
	"time"
)

// Temporary files of killed commands are cleared by the next one that writes there
// (yvgude/lean-ctx#958: they stay for ever); those of a command at work, and
// whatever else is in the folder, are left.
func TestAbandonedFilesAreCleared(t *testing.T) {
	dir := t.TempDir()
	old := time.Now().Add(-2 * abandonedAfter)
	want := []string{".pipstake-12-0.tmp", ".pipstake-new-77", ".pipstake-old.tmp", ".pipstake-7-1.tmp.pdf", "page.html", "pipstake-3-4.tmp"}
	for _, name := range []string{".pipstake-7-1.tmp", ".pipstake-7-12.tmp", ".pipstake-old.tmp", ".pipstake-7-1.tmp.pdf", "pipstake-3-4.tmp", ".pipstake-12-0.tmp"} {
		path := filepath.Join(dir, name)
		if err := os.WriteFile(path, []byte("%PDF-"), 0o600); err != nil {
			t.Fatal(err)
		}
		if name != ".pipstake-12-0.tmp" { // this one is being written
			if err := os.Chtimes(path, old, old); err != nil {
				t.Fatal(err)
			}
		}
	}
	for _, name := range []string{".pipstake-new-123", ".pipstake-new-77"} {
		path := filepath.Join(dir, name)
		if err := os.MkdirAll(filepath.Join(path, "in it"), 0o700); err != nil {
			t.Fatal(err)
		}
		if name != ".pipstake-new-77" {
			if err := os.Chtimes(path, old, old); err != nil {
				t.Fatal(err)
			}
		}
	}
	if status, _, said := runIn(t, completionSeason(t), "page", "--out", filepath.Join(dir, "page.html")); status != fine {
		t.Fatal(said)
	}
	entries, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, entry := range entries {
		got = append(got, entry.Name())
	}
	slices.Sort(want)
	if !slices.Equal(got, want) {
		t.Errorf("there are %q, want %q", got, want)
	}
}
