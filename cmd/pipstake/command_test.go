package main

import (
	"bytes"
	"regexp"
	"strings"
	"testing"
	"time"

	"pipstake/cmd/pipstake/terminal"
	"pipstake/ids/words"
)

// testEnv is an environment in a folder of its own, with an empty standard
// input.
func testEnv(t testing.TB, args ...string) (e *env, stdout, stderr *bytes.Buffer) {
	stdout, stderr = &bytes.Buffer{}, &bytes.Buffer{}
	e = &env{args: args, stdin: strings.NewReader(""), stdout: stdout, stderr: stderr,
		getenv: func(string) string { return "" }, cwd: t.TempDir(),
		now: func() time.Time { return time.Date(2027, time.March, 1, 12, 0, 0, 0, time.UTC) }}
	e.Voice = terminal.NewVoice(stdout, stderr)
	e.commands = commands()
	return e, stdout, stderr
}

var (
	exampleLine = regexp.MustCompile(`(?m)^  pipstake ([a-z]+)(.*)$`)
	flagWord    = regexp.MustCompile(`--([a-z]+(?:-[a-z]+)*)`)
)

// Every command explains itself, with an example; usage, help and examples name
// only commands and flags that there are; no line runs beyond 80 columns.
func TestHelpOfEveryCommand(t *testing.T) {
	e, _, _ := testEnv(t)
	flagsOf := map[string]*flags{}
	for _, c := range e.commands {
		f := newFlags(c)
		c.define(f)
		flagsOf[c.name] = f
	}
	for _, c := range e.commands {
		e, stdout, stderr := testEnv(t, c.name, "--help")
		if got := execute(e); got != fine || stderr.Len() > 0 {
			t.Errorf("%s --help: status %d, %s", c.name, got, stderr)
		}
		if !strings.Contains(strings.Join(strings.Fields(stdout.String()), " "), c.summary) {
			t.Errorf("%s --help does not say %q", c.name, c.summary)
		}
		for _, m := range flagWord.FindAllStringSubmatch(c.options, -1) {
			if flagsOf[c.name].set.Lookup(m[1]) == nil {
				t.Errorf("%s: its usage names the flag --%s, which it has not", c.name, m[1])
			}
		}
		for line := range strings.SplitSeq(stdout.String(), "\n") {
			if n := words.Columns(line); n > helpColumns {
				t.Errorf("%s: a line of its help has %d columns: %q", c.name, n, line)
			}
		}
		for _, example := range exampleLine.FindAllStringSubmatch(c.help, -1) {
			f := flagsOf[example[1]]
			if f == nil {
				t.Errorf("%s: its help names pipstake %s, which there is not", c.name, example[1])
				continue
			}
			for _, m := range flagWord.FindAllStringSubmatch(example[2], -1) {
				if f.set.Lookup(m[1]) == nil {
					t.Errorf("%s: the example %q has an unknown flag --%s", c.name, example[0], m[1])
				}
			}
		}
	}
}
