package problem

import "strings"

// A remedy may name in braces what somebody gives or does: "give it {with day}",
// "record it first: {extract: 2026X012-B}". Rooms below do not know how that is
// typed; who shows the remedy spells it.

// Spell returns a remedy in which spell has put words for the parts in braces:
// it gets what stands before the colon, and what stands behind it. What spell
// does not know stays as it is, braces and all.
func Spell(remedy string, spell func(act, of string) (words string, known bool)) string {
	var b strings.Builder
	for {
		before, rest, open := strings.Cut(remedy, "{")
		inner, after, closed := strings.Cut(rest, "}")
		if !open || !closed {
			b.WriteString(remedy)
			return b.String()
		}
		act, of, _ := strings.Cut(inner, ": ")
		said, known := spell(act, of)
		if !known {
			b.WriteString(before + "{")
			remedy = rest
			continue
		}
		b.WriteString(before + said)
		remedy = after
	}
}
