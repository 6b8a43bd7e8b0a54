package main

import (
	"math/rand/v2"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"pipstake/layout/proof/outside"
)

// What sh takes a word for is in POSIX.1-2017, Shell Command Language, section
// 2.2. How programs on Windows read backslashes and quotes is in Microsoft's
// documentation of CommandLineToArgvW; that PowerShell puts values in place of $
// and reads commas as lists, and which quotes it knows, is in its about_Quoting_Rules
// and about_Operators (both from memory).
func TestShellWord(t *testing.T) {
	for _, c := range []struct{ arg, sh, windows string }{
		{"2026X001-A", "2026X001-A", "2026X001-A"},
		{"10,10", "10,10", `"10,10"`},
		{"Tarn Amber", "'Tarn Amber'", `"Tarn Amber"`},
		{"", "''", `""`},
		{`C:\orchard\sheets`, `'C:\orchard\sheets'`, `C:\orchard\sheets`},
		{`C:\my orchard\`, `'C:\my orchard\'`, `"C:\my orchard\\"`},
		{"Orlie d'Ancelle", `'Orlie d'\''Ancelle'`, `"Orlie d'Ancelle"`},
		{`5" pot`, `'5" pot'`, `"5\" pot"`},
		{`a\"b`, `'a\"b'`, `"a\\\"b"`},
		{"50%", "50%", `"50%"`},
		{"orch [ard]!", "'orch [ard]!'", `"orch [ard]!"`},
		{"$HOME;x", "'$HOME;x'", `'$HOME;x'`},
		{"d'A $x `y`", "'d'\\''A $x `y`'", "'d''A $x `y`'"},
		{"d’A", "'d’A'", "\"d’A\""},
		{"d’A “x”", "'d’A “x”'", "'d’’A “x”'"},
	} {
		if got := shellWord("linux", c.arg); got != c.sh {
			t.Errorf("in sh %q is %s, want %s", c.arg, got, c.sh)
		}
		if got := shellWord("windows", c.arg); got != c.windows {
			t.Errorf("on Windows %q is %s, want %s", c.arg, got, c.windows)
		}
	}
}

// sh reads back whatever words are put together, and Windows' rules as they are
// written do what is in double quotes.
func TestShellWordsAreReadBack(t *testing.T) {
	random := rand.New(rand.NewPCG(2026, 16))
	signs := []rune("aZ7-–'\"`$!\\ \t#*?[]{}()<>|&;~%^=,.:/ßЖ’“”\u00a0")
	var all, typed []string
	for range 300 {
		word := ""
		for range random.IntN(8) {
			word += string(signs[random.IntN(len(signs))])
		}
		all, typed = append(all, word), append(typed, shellWord("linux", word))
		if onWindows := shellWord("windows", word); !strings.HasPrefix(onWindows, "'") && !slices.Equal(windowsWords(onWindows), []string{word}) {
			t.Errorf("on Windows %s is read as %q, not %q", onWindows, windowsWords(onWindows), word)
		}
	}
	said, err := outside.Command("sh", "-c", `printf '%s\0' `+strings.Join(typed, " ")).Output()
	if err != nil {
		t.Fatal(err)
	}
	got := strings.Split(strings.TrimSuffix(string(said), "\x00"), "\x00")
	for i := range all {
		if i >= len(got) || got[i] != all[i] {
			t.Fatalf("%s is read as %q, not %q", typed[i], got[min(i, len(got)-1)], all[i])
		}
	}
}

// windowsWords splits a command line as CommandLineToArgvW says: 2n backslashes
// before a quote are n, and one more makes the quote a sign.
func windowsWords(line string) []string {
	var words []string
	word, quoted, in, slashes := "", false, false, 0
	for _, r := range line + " " {
		switch {
		case r == '\\':
			slashes++
			in = true
			continue
		case r == '"':
			word += strings.Repeat(`\`, slashes/2)
			if slashes%2 == 1 {
				word += `"`
			} else {
				quoted = !quoted
			}
			slashes, in = 0, true
			continue
		}
		word += strings.Repeat(`\`, slashes)
		slashes = 0
		if (r == ' ' || r == '\t') && !quoted {
			if in {
				words = append(words, word)
			}
			word, in = "", false
			continue
		}
		word, in = word+string(r), true
	}
	return words
}

func TestProposal(t *testing.T) {
	for _, c := range []struct {
		about []string
		want  string
	}{
		{[]string{"Amber"}, "pipstake variety Amber --ploidy 3"},
		{[]string{"a", "-b c"}, "pipstake variety --ploidy 3 -- a '-b c'"},
		{[]string{"–b"}, "pipstake variety --ploidy 3 -- '–b'"},
		{nil, "pipstake variety --ploidy 3"},
	} {
		if got := proposal("variety", c.about, "--ploidy 3"); got != c.want {
			t.Errorf("about %q: %s, want %s", c.about, got, c.want)
		}
	}
}

// A proposal names the registry where it was named, each command in it that takes
// one, and only where the folder at hand would not find the same.
func TestProposalsNameTheRegistry(t *testing.T) {
	e, _, _ := testEnv(t)
	e.commands = commands()
	cwd := e.cwd
	for _, dir := range []string{"orch", "an other"} {
		made, _, stderr := testEnv(t, "init", dir, "--another")
		made.cwd = cwd
		if execute(made) != fine {
			t.Fatal(stderr)
		}
	}
	for _, c := range []struct{ cwd, there, env, text, want string }{
		{"", "", "", "pipstake check", "pipstake check"},
		{"", "an other", "", "pipstake check", "pipstake check --registry 'an other'"},
		{"", "orch", "orch", "look: pipstake scan X; then pipstake stock add", "look: pipstake scan --registry orch X; then pipstake stock add --registry orch"},
		{"", "-odd", "", "see pipstake check: it tells", "see pipstake check --registry ./-odd: it tells"},
		{"", "orch", "", "pipstake init A, pipstake help, pipstake due, (pipstake undo 2)", "pipstake init A, pipstake help, pipstake due --registry orch, (pipstake undo --registry orch 2)"},
		{"", "orch", "", "pipstake void X --registry other, or pipstake check", "pipstake void X --registry other, or pipstake check --registry orch"},
		{"", "orch", "", `"pipstake bags X" printed labels; usage is told by pipstake bags --help`, `"pipstake bags X" printed labels; usage is told by pipstake bags --help`},
		{"", "orch", "", "usage: pipstake bags CROSS…", "usage: pipstake bags CROSS…"},
		{"orch", ".", "", "pipstake check", "pipstake check"},
		{"orch", ".", filepath.Join(cwd, "orch"), "pipstake check", "pipstake check"},
		{"orch", ".", filepath.Join(cwd, "an other"), "pipstake check", "pipstake check --registry ."},
		{"orch", "../an other", "", "pipstake check", "pipstake check --registry '../an other'"},
	} {
		e.cwd, e.there = filepath.Join(cwd, c.cwd), c.there
		e.getenv = func(string) string { return c.env }
		if got := e.thereToo(c.text); got != c.want {
			t.Errorf("in %q with %q, environment %q: %s\nwant %s", c.cwd, c.there, c.env, got, c.want)
		}
	}
}
