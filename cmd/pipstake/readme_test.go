package main

import (
	"bytes"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"
)

// Every command of the README runs, in the order in which it stands there, and
// answers what stands below it. Those of the table of mistakes run after the
// season, each in its row.
func TestReadme(t *testing.T) {
	t.Parallel()
	text, err := os.ReadFile("../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	ran := 0
	run := func(typed string) string {
		ran++
		var said, told bytes.Buffer
		e := &env{args: splitWords(typed)[1:], stdin: strings.NewReader(""), stdout: &said, stderr: &told, getenv: func(string) string { return "" },
			cwd: dir, now: func() time.Time { return time.Date(2027, 3, 1, 12, 0, 0, 0, time.UTC) }}
		if got := execute(e); got != fine {
			t.Errorf("%s: status %d\n%s", typed, got, told.String())
		}
		return said.String()
	}
	blocks := regexp.MustCompile("(?s)```console\n(.*?)```").FindAllStringSubmatch(string(text), -1)
	for _, block := range blocks {
		said := ""
		for line := range strings.Lines(block[1]) {
			line = strings.TrimSuffix(line, "\n")
			if typed, ok := strings.CutPrefix(line, "$ "); !ok {
				if !slices.Contains(strings.Split(said, "\n"), line) {
					t.Errorf("%q is not what was said:\n%s", line, said)
				}
			} else if folder, ok := strings.CutPrefix(typed, "mkdir "); ok {
				dir = filepath.Join(dir, strings.Fields(folder)[0])
				if err := os.Mkdir(dir, 0o777); err != nil {
					t.Fatal(err)
				}
			} else {
				said = run(typed)
			}
		}
	}
	_, table, _ := strings.Cut(string(text), "## When something went wrong")
	table, _, _ = strings.Cut(table, "\n\n`pipstake")
	for _, code := range regexp.MustCompile("`(pipstake [^`]*)`").FindAllStringSubmatch(table, -1) {
		run(code[1])
	}
	if ran < 30 {
		t.Errorf("only %d commands were found", ran)
	}
}
