package main

import (
	"os"
	"slices"
	"strings"
	"testing"
	"unicode"

	"pipstake/ids/registry"
)

// promptsOf are commands that ask on a terminal.
var promptsOf = [][]string{
	{"scan"}, {"emerged"}, {"extract"}, {"scan", "--json"}, {"cross"}, {"note"}, {"gone"}, {"void"}, {"variety"}, {"sow"}, {"bags"}, {"prick"},
}

// Whatever is answered to what a command asks, it ends, steers no terminal, and
// leaves a registry that agrees with itself.
func FuzzPrompts(f *testing.F) {
	season := endingsSeason(f)
	found := findingsIn(f, season)
	for which, typed := range []string{
		"2026X001-A1\n4\ndied 1\nundo\nmove to frame 2\nnote two with red leaves\nprick 2\ngone lost mice\nundo\nquit\n",
		"4 1\n-\n?\n2026X003-A\n2026X001-A1\n+2 9\n\n\nq\n", "3 14 1 shrivelled, one was soft\n\n\n\n-\n", "2026x001a1\n0 0\n\x1b[2J\nselect “Tarn”\n",
		"Tarn Amber\nGwennol Goch\n", "2026X001\n-note\n", "2026X001-A1\nlost\n", "2026X002\nslip\n", "Tarn Amber\n", "2026X001-A\n1\n2\n", "2026X002\n3\n", "2026X001-A1\n1\n",
	} {
		f.Add(uint8(which), typed)
	}
	f.Fuzz(func(t *testing.T, which uint8, typed string) {
		if len(typed) > 400 || strings.Count(typed, "\n") > 12 {
			t.Skip("more lines cost time and tell no more")
		}
		dir := copyOf(t, season)
		e, stdout, stderr := testEnv(t, promptsOf[int(which)%len(promptsOf)]...)
		e.getenv = func(name string) string { return map[string]string{"PIPSTAKE_REGISTRY": dir}[name] }
		e.stdin, e.onTerminal = strings.NewReader(typed), true
		got := execute(e)
		if got == failed || got == noRegistry {
			t.Errorf("%q after %q: status %d: %s", e.args, typed, got, stderr)
		}
		for _, r := range stdout.String() + stderr.String() {
			if unicode.IsControl(r) && r != '\n' {
				t.Errorf("%q after %q says %q", e.args, typed, r)
			}
		}
		for what := range findingsIn(t, dir) {
			if !found[what] {
				t.Errorf("%q after %q: check finds %s", e.args, typed, what)
			}
		}
	})
}

// findingsIn are what check finds in a registry that no label to print would mend,
// but for names that a slip of the hand leaves: they are told and taken.
func findingsIn(t testing.TB, dir string) map[string]bool {
	t.Helper()
	r, err := registry.Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	found := map[string]bool{}
	for _, f := range r.Check() {
		if isName := slices.Contains([]string{"seed_parent", "pollen_parent", "name"}, f.Column); severityOf(f, nil) != "labels" && !isName {
			found[f.File+" "+f.Column+": "+f.What] = true
		}
	}
	return found
}

// What was answered before the input ended is kept, and no more is asked for.
func TestPromptsEndWithTheirInput(t *testing.T) {
	season := endingsSeason(t)
	for _, c := range []struct {
		args     []string
		typed    string
		recorded bool
	}{
		{[]string{"emerged"}, "", false},
		{[]string{"emerged"}, "4", true},
		{[]string{"extract"}, "3\n14", false},
		{[]string{"extract"}, "3 14 1", true},
		{[]string{"scan"}, "2026X001-A1\nmove frame 2", true},
		{[]string{"cross"}, "Tarn Amber", false},
	} {
		dir := copyOf(t, season)
		before := lastEntry(t, dir)
		e, _, stderr := testEnv(t, c.args...)
		e.getenv = func(name string) string { return map[string]string{"PIPSTAKE_REGISTRY": dir}[name] }
		e.stdin, e.onTerminal = strings.NewReader(c.typed), true
		execute(e)
		if recorded := lastEntry(t, dir) > before; recorded != c.recorded {
			t.Errorf("%q after %q records: %v\n%s", c.args, c.typed, recorded, stderr)
		}
		if left, _ := os.ReadDir(e.cwd); len(left) > 0 {
			t.Errorf("%q leaves %s", c.args, left)
		}
	}
}
