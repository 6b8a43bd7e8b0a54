package main

import (
	"fmt"
	"os"
	"strings"
	"testing"
)

// swapped is a word with two of its letters in the wrong order, as a quick
// typist has them; "" where all are alike.
func swapped(word string) string {
	for i := len(word) - 1; i > 0; i-- {
		if word[i] != word[i-1] {
			return word[:i-1] + word[i:i+1] + word[i-1:i] + word[i+1:]
		}
	}
	return ""
}

// What holds for every command: its help has an example of it; a slip in its
// name, or in the name of one of its flags, is answered with the right one; and
// it takes --quiet.
func TestEveryCommand(t *testing.T) {
	for _, c := range commands() {
		t.Run(c.name, func(t *testing.T) {
			if !strings.Contains("\n"+c.help, "\n  pipstake "+c.name) {
				t.Error("its help has no example")
			}
			refused(t, "did you mean pipstake "+c.name+"?", swapped(c.name))
			f := newFlags(c)
			c.define(f)
			for _, flag := range f.all() {
				if len(flag.Name) < 3 {
					continue // one letter off is another word
				}
				refused(t, "did you mean --"+flag.Name+"?", c.name, "--"+swapped(flag.Name))
			}
			e, stdout, stderr := testEnv(t, c.name, "--quiet", "--help")
			if got := execute(e); got != fine || stderr.Len() > 0 || !strings.Contains(stdout.String(), "--quiet") {
				t.Errorf("--quiet --help: status %d, %s", got, stderr)
			}
		})
	}
}

// refused runs a command line that is wrong and looks for the hint.
func refused(t *testing.T, hint string, args ...string) {
	t.Helper()
	e, stdout, stderr := testEnv(t, args...)
	if got := execute(e); got != wrongUsage || stdout.Len() > 0 {
		t.Errorf("pipstake %q: status %d, said %q", args, got, stdout)
	}
	if !strings.Contains(stderr.String(), "\nhint: "+hint+"\n") {
		t.Errorf("pipstake %q: no hint %q in\n%s", args, hint, stderr)
	}
}

// With --quiet, what is told without it on standard error is gone, and
// everything else is the same. Errors stay.
func TestQuiet(t *testing.T) {
	dir := completionSeason(t)
	for _, args := range [][]string{
		{"cross", "Tarn Amber", "Larkfield Tessel"},
		{"scan", "2026x001a"},
		{"stock", "list"},
		{"lineage", "2026X001"},
		{"chill", "2026X001-A", "--from", "2027-05-01"},
		{"bags", "2026X002", "--out", "-"},
		{"sow", "2026X007-A"},
		{"labels", "--missing"},
	} {
		t.Run(strings.Join(args, " "), func(t *testing.T) {
			loudStatus, loudOut, loudErr := runIn(t, copyOf(t, dir), args...)
			quietStatus, quietOut, quietErr := runIn(t, copyOf(t, dir), append(args, "--quiet")...)
			if quietStatus != loudStatus || quietOut != loudOut {
				t.Errorf("--quiet changed the answer: status %d, then %d", loudStatus, quietStatus)
			}
			var errors strings.Builder
			for line := range strings.Lines(loudErr) {
				if strings.HasPrefix(line, "pipstake: ") || strings.HasPrefix(line, "hint: ") {
					errors.WriteString(line)
				}
			}
			if quietErr != errors.String() {
				t.Errorf("with --quiet standard error has\n%s\nwithout\n%s", quietErr, loudErr)
			}
		})
	}
}

// Nothing that is said holds an escape sequence, whatever the terminal, and
// with NO_COLOR or without (no-color.org) the same is said.
func TestNoEscapeSequences(t *testing.T) {
	t.Parallel()
	dir := completionSeason(t)
	lines := [][]string{{}, {"scan", "2026X001-A1", "2026X009"}, {"check"}, {"germination"}, {"due"}, {"lineage", "2026X001"}, {"history"}, {"stock", "list"}, {"nonsense"}}
	for _, c := range commands() {
		lines = append(lines, []string{c.name, "--help"})
	}
	for _, args := range lines {
		var first string
		for i, vars := range []map[string]string{
			{"TERM": "xterm-256color", "COLORTERM": "truecolor"},
			{"TERM": "dumb"},
			{"TERM": "xterm-256color", "NO_COLOR": "1"},
			{"CLICOLOR_FORCE": "1", "FORCE_COLOR": "1"},
		} {
			e, stdout, stderr := testEnv(t, args...)
			vars["PIPSTAKE_REGISTRY"] = dir
			e.getenv = func(name string) string { return vars[name] }
			said := fmt.Sprint(execute(e), stdout, stderr)
			if strings.ContainsAny(said, "\x1b\u009b") {
				t.Errorf("pipstake %q with %v writes an escape sequence: %q", args, vars, said)
			}
			if i == 0 {
				first = said
			}
			if said != first {
				t.Errorf("pipstake %q with %v says something else", args, vars)
			}
		}
	}
}

// runIn runs a command on a registry.
func runIn(t testing.TB, dir string, args ...string) (status, string, string) {
	t.Helper()
	e, stdout, stderr := testEnv(t, args...)
	e.getenv = func(name string) string {
		return map[string]string{"PIPSTAKE_REGISTRY": dir, "SOURCE_DATE_EPOCH": "1800000000"}[name]
	}
	got := execute(e)
	return got, notNaming(dir, stdout.String()), notNaming(dir, stderr.String())
}

// notNaming is what was said, without that it names a registry.
func notNaming(dir, said string) string {
	return strings.ReplaceAll(said, " --registry "+shellWords(dir), "")
}

// copyOf copies a registry.
func copyOf(t testing.TB, dir string) string {
	t.Helper()
	to := t.TempDir()
	if err := os.CopyFS(to, os.DirFS(dir)); err != nil {
		t.Fatal(err)
	}
	return to
}
