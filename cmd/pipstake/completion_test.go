package main

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// typedLine is a line up to the tab key, and how it stands once a key has been
// pressed behind, which shows where the cursor is.
type typedLine struct{ before, after string }

// The shells in which completion is tried, each with a short prompt, and what
// is particular to it.
var shells = []struct {
	name    string
	command []string
	setup   string
	folded  string // the start of 2026X001-A1 in another form
}{
	{"bash", []string{"bash", "--norc", "--noprofile", "-i"}, "PS1='> '; source <(pipstake completion bash)", "2026x001a"},
	{"zsh", []string{"zsh", "-f", "-i"}, "PS1='> '; autoload -Uz compinit; compinit -u -D; source <(pipstake completion zsh)", "2026x001a"},
	{"fish", []string{"fish", "--no-config", "-i"}, "function fish_prompt; echo -n '> '; end; set -g fish_autosuggestion_enabled 0; pipstake completion fish | source", "2026x001-a"},
}

// completionSeason is a registry with one of each thing.
func completionSeason(t testing.TB) string {
	t.Helper()
	dir := filepath.Join(t.TempDir(), "orchard")
	for _, line := range [][]string{
		{"init", dir},
		{"cross", "Larkfield Tessel", "Tarn Amber", "--on", "2026-05-02"},
		{"cross", "Tarn Amber", "Gwennol Goch", "--on", "2026-05-03"},
		{"bags", "2026X001", "--out", filepath.Join(t.TempDir(), "bags.pdf")},
		{"extract", "2026X001-A", "--seeds", "9"},
		{"sow", "2026X001-A", "--seeds", "4", "--out", filepath.Join(t.TempDir(), "stakes.pdf")},
		{"stock", "add", "trial-cards", "--roll", "89x36"},
	} {
		e, _, stderr := testEnv(t, line...)
		e.getenv = func(name string) string { return map[string]string{"PIPSTAKE_REGISTRY": dir}[name] }
		if got := execute(e); got != fine {
			t.Fatalf("pipstake %q: status %d: %s", line, got, stderr)
		}
	}
	if err := os.WriteFile(filepath.Join(dir, "scanned codes.txt"), nil, 0o644); err != nil {
		t.Fatal(err)
	}
	return dir
}

func TestCompletionInShells(t *testing.T) {
	t.Parallel()
	if testing.Short() {
		t.Skip("takes long")
	}
	dir := completionSeason(t)
	for _, shell := range shells {
		t.Run(shell.name, func(t *testing.T) {
			program(t, shell.name)
			term := newTerminal(t, dir, shell.command...)
			term.keys(shell.setup+"; clear; echo rea''dy", "key:Enter")
			term.until("the prompt", func(s string) bool { return strings.HasPrefix(s, "ready\n>") })
			for _, c := range []typedLine{
				{"germ", "germination x"},
				{"labels --mis", "labels --missing x"},
				{"labels --dpi 12", "labels --dpi 1200 x"},
				{"labels --face see", "labels --face seedling x"},
				{"labels --face=see", "labels --face=seedling x"},
				{"chill 2026X001", "chill 2026X001-A x"}, // no pot, though there is one
				{"emerged " + shell.folded, "emerged 2026X001-A1 x"},
				{"germination --compare 2026X001,2026X002", "germination --compare 2026X001,2026X002 x"},
				{`cross "Lark`, `cross "Larkfield Tessel" x`},
				{"cross Lark", `cross Larkfield\ Tessel x`},
				{"bags 2026X002 --stock tri", "bags 2026X002 --stock trial-cards x"},
				{"stock sh", "stock shx"}, // show or sheet
				{"rebuild new scan", `rebuild new scanned\ codes.txt x`},
				{"chill --registry / 2026X001", "chill --registry / 2026X001x"}, // no registry there
				{"sow 2026X009", "sow 2026X009x"},
			} {
				term.keys("pipstake "+c.before, "key:Tab", "x")
				term.until(fmt.Sprintf("%q after %q", c.after, c.before), func(s string) bool {
					for _, line := range strings.Split(s, "\n") {
						if line == "> pipstake "+c.after {
							return true
						}
					}
					return false
				})
				if strings.Contains(term.screen(), "hint:") {
					t.Errorf("%q: the program complains:\n%s", c.before, term.screen())
				}
				term.keys("key:C-u", "key:C-l")
				term.until("an empty screen", func(s string) bool { return strings.TrimSpace(s) == ">" })
			}
		})
	}
}
