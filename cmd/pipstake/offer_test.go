package main

import (
	"slices"
	"strings"
	"testing"
)

// What may come next, without a shell around it.
func TestOffers(t *testing.T) {
	dir := completionSeason(t)
	for _, c := range []struct {
		line string // words with a | between them
		want []string
	}{
		{"sc", []string{"scan"}},
		{"__", nil},
		{"help|unde", nil},
		{"help|und", []string{"undo"}},
		{"nonsense|", nil},
		{"bags|", []string{"2026X001", "2026X002"}},
		{"bags|2026X001|", []string{"2026X002"}}, // the other one stands there
		{"chill|", []string{"2026X001-A"}},
		{"prick|", []string{"2026X001-A1"}},
		{"void|2026x001", []string{"2026X001", "2026X001-A", "2026X001-A1"}},
		{"extract|2026X001-A|2026", nil}, // takes one
		{"stock|", []string{"list", "show", "add", "sheet", "adjust"}},
		{"stock|show|trial", []string{"trial-cards"}},
		{"completion|", []string{"bash", "zsh", "fish"}},
		{"cross|tarn", []string{"Tarn Amber"}},
		{"cross|Tarn Amber|'Gwen", []string{"Gwennol Goch"}},
		{"germination|--compare|2026X001,2026X00", []string{"2026X001,2026X001", "2026X001,2026X002"}},
		{"germination|--by|seed", []string{"seed-parent"}},
		{"germination|--by=p", []string{"--by=pot", "--by=pollen-parent", "--by=place"}},
		{"labels|--batch|", []string{"2", "1"}},
		{"spoil|", []string{"2", "1"}},
		{"sow|2026X001-A|--on|", []string{"2027-03-01", "2027-02-28"}},
		{"bags|--out|", []string{":files"}},
		{"bags|--registry=or", []string{":folders"}},
		{"init|", []string{":folders"}},
		{"rebuild|new|", []string{":files"}},
		{"rebuild|new|one|", []string{":files"}},
		{"scan|--photo|", []string{":files"}},
		{"chill|--corr", []string{"--correct"}},
		{"chill|--correct|--corr", nil}, // it stands there
		{"chill|--|--corr", nil},
		{"chill|--registry|/|", nil},
		{"cross|--note|", nil}, // only the user knows
		{"emerged|2026X001-A1|", nil},
		{"version|", []string{"--quiet", "--help", "--licences"}},
	} {
		e, stdout, stderr := testEnv(t, append([]string{offerWord, "--"}, strings.Split(c.line, "|")...)...)
		e.getenv = func(name string) string { return map[string]string{"PIPSTAKE_REGISTRY": dir}[name] }
		if got := execute(e); got != fine || stderr.Len() > 0 {
			t.Errorf("%q: status %d, %s", c.line, got, stderr)
		}
		var got []string
		for line := range strings.Lines(stdout.String()) {
			word, _, _ := strings.Cut(strings.TrimSuffix(line, "\n"), "\t")
			got = append(got, word)
		}
		if !slices.Equal(got, c.want) {
			t.Errorf("after %q may come %q, want %q", c.line, got, c.want)
		}
	}
}

// The quotes are those of POSIX.1-2017, Shell Command Language, section 2.2.
func TestUnquoted(t *testing.T) {
	for _, c := range []struct{ word, want string }{
		{"plain", "plain"},
		{`"Tarn Amber"`, "Tarn Amber"},
		{`"Tarn A`, "Tarn A"},
		{`'it''s'`, "its"},
		{`Tarn\ Amber`, "Tarn Amber"},
		{`'a\b'`, `a\b`},
		{"~/orchard", "/home/ada/orchard"},
		{"", ""},
	} {
		if got := unquoted(c.word, "/home/ada"); got != c.want {
			t.Errorf("unquoted(%q) = %q, want %q", c.word, got, c.want)
		}
	}
}
