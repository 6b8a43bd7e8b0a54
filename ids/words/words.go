// Package words holds the small words that all rooms share: counts with their
// nouns, lists, texts made safe and short enough to show, numbers, dashes, and
// what a mistyped word was meant to be. It does not know the trade.
package words

import (
	"fmt"
	"strings"
)

// Plural returns a count with its noun: "1 pot", "3 pots".
func Plural(n int, one, many string) string {
	return fmt.Sprintf("%d %s", n, Which(n, one, many))
}

// Which returns the form of a word that goes with a count, without the count.
func Which(n int, one, many string) string {
	if n == 1 {
		return one
	}
	return many
}

// List joins words as a sentence does: "a, b and c".
func List(words []string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	last := len(words) - 1
	return strings.Join(words[:last], ", ") + " and " + words[last]
}

// Few returns at most the first most of words, and where there are others how
// many: "a", "b", "3 more".
func Few(words []string, most int) []string {
	if len(words) <= most {
		return words
	}
	return append(words[:most:most], fmt.Sprintf("%d more", len(words)-most))
}

// Capital returns a text that begins in ASCII with a capital letter at its
// start.
func Capital(s string) string { return strings.ToUpper(s[:1]) + s[1:] }
