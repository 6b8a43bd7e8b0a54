package main

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"

	"pipstake/ids/problem"
	"pipstake/ids/words"
)

// refuseDash refuses an argument that starts with a dash other than the
// hyphen: word processors put one in place of "--".
func refuseDash(arg string) error {
	first, _ := utf8.DecodeRuneInString(arg)
	if !words.IsDash(first) {
		return nil
	}
	meant := strings.TrimLeftFunc(arg, func(r rune) bool { return r == '-' || words.IsDash(r) })
	hint := fmt.Sprintf("type two hyphens: --%s", meant)
	if meant == "" || !unicode.IsLetter([]rune(meant)[0]) {
		hint = "type hyphens (-); what does begin with a dash goes after -- at the end of the line"
	}
	return problem.Use(fmt.Sprintf("argument %q begins with %s, which is not a hyphen", arg, dashName(first)), hint)
}

func dashName(r rune) string {
	names := map[rune]string{'‐': "another hyphen", '‑': "a no-break hyphen", '‒': "a figure dash", '–': "an en dash",
		'—': "an em dash", '―': "a horizontal bar", '−': "a minus sign"}
	name, ok := names[r]
	if !ok {
		name = "a dash"
	}
	return fmt.Sprintf("%s (U+%04X)", name, r)
}
