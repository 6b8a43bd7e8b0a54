package problem

import (
	"strconv"
	"strings"
)

// A remedy may name in braces what somebody gives or does: "give it {with day}",
// "record it first: {extract: 2026X012-B}". What it is about are words; one with
// anything but letters, digits and hyphens in it stands in quotes, as %q writes
// them: `{a variety: "Tarn Amber"}`. Rooms below do not know how that is typed;
// who shows the remedy spells it.

// Spell returns a remedy in which spell has put words for the parts in braces:
// it gets what stands before the colon, and the words behind it. What spell does
// not know stays as it is, braces and all.
func Spell(remedy string, spell func(act string, about []string) (words string, known bool)) string {
	var b strings.Builder
	for {
		before, rest, open := strings.Cut(remedy, "{")
		act, about, after, closed := part(rest)
		if !open || !closed {
			b.WriteString(remedy)
			return b.String()
		}
		said, known := spell(act, about)
		if !known {
			b.WriteString(before + "{")
			remedy = rest
			continue
		}
		b.WriteString(before + said)
		remedy = after
	}
}

// part takes apart what follows an opening brace, up to the closing one.
func part(s string) (act string, about []string, after string, closed bool) {
	end := strings.IndexAny(s, ":}")
	if end < 0 {
		return "", nil, "", false
	}
	act = s[:end]
	if s[end] == '}' {
		return act, nil, s[end+1:], true
	}
	for s = s[end+1:]; ; {
		s = strings.TrimLeft(s, " ")
		if after, closed = strings.CutPrefix(s, "}"); closed {
			return act, about, after, true
		}
		quoted, err := strconv.QuotedPrefix(s)
		if err == nil {
			word, _ := strconv.Unquote(quoted) // as it was found to be
			about, s = append(about, word), s[len(quoted):]
			continue
		}
		end := strings.IndexAny(s, " }")
		if end <= 0 {
			return "", nil, "", false
		}
		about, s = append(about, s[:end]), s[end:]
	}
}
