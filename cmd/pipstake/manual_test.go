package main

import (
	"bytes"
	"strings"
	"testing"

	"pipstake/layout/proof/outside"
)

// manualPage is the page that the command prints.
func manualPage(t *testing.T) []byte {
	t.Helper()
	e, stdout, stderr := testEnv(t, "manual")
	e.getenv = func(name string) string { return map[string]string{"SOURCE_DATE_EPOCH": "1700000000"}[name] } // mandoc minds days to come
	if got := execute(e); got != fine || stderr.Len() > 0 {
		t.Fatalf("status %d, %s", got, stderr)
	}
	return stdout.Bytes()
}

// mandoc has nothing to say against the page, not even as to style, and nor has
// groff.
func TestManualPageIsInOrder(t *testing.T) {
	page := manualPage(t)
	for _, c := range [][]string{
		{"mandoc", "-T", "lint", "-W", "all"},
		{"groff", "-ww", "-b", "-mdoc", "-T", "utf8", "-z"},
		{"groff", "-ww", "-b", "-mandoc", "-T", "utf8", "-z"},
	} {
		t.Run(strings.Join(c, " "), func(t *testing.T) {
			lint := outside.Command(program(t, c[0]), c[1:]...)
			lint.Stdin = bytes.NewReader(page)
			if out, err := lint.CombinedOutput(); err != nil || len(out) > 0 {
				t.Errorf("%v: %s", err, out)
			}
		})
	}
}

// The page, as mandoc shows it, has every command, all of its flags, and the
// examples of its help letter by letter, so that they can be copied.
func TestManualPageHasAllOfTheHelp(t *testing.T) {
	show := outside.Command(program(t, "mandoc"), "-T", "utf8", "-O", "width=200")
	show.Stdin = bytes.NewReader(manualPage(t))
	out, err := show.Output()
	if err != nil {
		t.Fatal(err)
	}
	shown := plainLetters(string(out))
	for _, c := range commands() {
		_, section, ok := strings.Cut(shown, "\n   "+c.name+"\n")
		if !ok {
			t.Errorf("there is no section on %s", c.name)
			continue
		}
		section, _, _ = strings.Cut(section, "\n   "+c.name+"\n")
		f := newFlags(c)
		c.define(f)
		for _, flag := range f.own() {
			if !strings.Contains(section, "\n     "+spelled(flag)+"\n") && !strings.Contains(section, "\n     "+spelled(flag)+"  ") {
				t.Errorf("%s: %s is missing", c.name, spelled(flag))
			}
		}
		for line := range strings.SplitSeq(c.help, "\n") {
			if strings.HasPrefix(line, "  ") && !strings.Contains(section, line+"\n") {
				t.Errorf("%s: the line %q of an example is missing", c.name, line)
			}
		}
		for _, word := range strings.Fields(c.help) {
			if !strings.Contains(section, word) {
				t.Errorf("%s: %q is missing", c.name, word)
			}
		}
	}
}

// plainLetters takes the overstriking out with which mandoc makes letters bold
// and underlines them.
func plainLetters(s string) string {
	var plain []rune
	for _, r := range s {
		if r == '\b' {
			plain = plain[:len(plain)-1]
			continue
		}
		plain = append(plain, r)
	}
	return string(plain)
}

func TestRoffEscapes(t *testing.T) {
	// The escapes are those of groff_char(7).
	for _, c := range []struct{ text, want string }{
		{"plain", "plain"},
		{".Sh", `\&.Sh`},
		{"'tis", `\&\(aqtis`},
		{`a\b`, `a\eb`},
		{"--dry-run", `\-\-dry\-run`},
		{"~/x ^ `", "\\(ti/x \\(ha \\(ga"},
		{"♀ × ł", `\[u2640] \[u00D7] \[u0142]`},
	} {
		if got := roff(c.text); got != c.want {
			t.Errorf("roff(%q) = %q, want %q", c.text, got, c.want)
		}
	}
}
