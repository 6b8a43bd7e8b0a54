package words

import (
	"fmt"
	"strconv"
	"strings"
	"unicode"
)

// OneLine returns a text on one line, with " / " in place of line breaks.
func OneLine(s string) string {
	return strings.Join(strings.FieldsFunc(s, func(r rune) bool { return r == '\n' || r == '\r' }), " / ")
}

// Cut returns a text of at most most characters; one that runs on ends in an
// ellipsis behind them.
func Cut(s string, most int) string {
	if r := []rune(s); len(r) > most {
		return string(r[:most]) + "…"
	}
	return s
}

// Quote returns a text in quotes as Go writes it, with nothing that could steer
// a terminal; of one that runs on at most most characters, and an ellipsis
// behind the quotes.
func Quote(s string, most int) string {
	if r := []rune(s); len(r) > most {
		return strconv.Quote(string(r[:most])) + "…"
	}
	return strconv.Quote(s)
}

// Shown returns a text in quotes, at most 100 characters of it.
func Shown(s string) string { return Quote(s, 100) }

// Rune names a character: 'x', or "'é' (U+00E9)" where it might not show or be
// taken for another.
func Rune(r rune) string {
	if r < 0x7f && strconv.IsPrint(r) {
		return strconv.QuoteRune(r)
	}
	return fmt.Sprintf("%q (U+%04X)", r, r)
}

// Clean returns a text whose characters that would steer a terminal or reorder
// its text are escaped, as in \u001b. Line feeds stay.
func Clean(s string) string {
	if !strings.ContainsFunc(s, steers) {
		return s
	}
	var b strings.Builder
	for _, r := range s {
		if steers(r) {
			fmt.Fprintf(&b, `\u%04x`, r)
		} else {
			b.WriteRune(r)
		}
	}
	return b.String()
}

// steers reports whether r is a control character, a line or paragraph
// separator, or one of Unicode's marks that change the direction of text.
func steers(r rune) bool {
	return r != '\n' && unicode.IsControl(r) || r == 0x2028 || r == 0x2029 || unicode.Is(unicode.Bidi_Control, r)
}

// IsDash reports whether a character beyond ASCII looks like a hyphen: the
// dashes of Unicode (category Pd), the minus signs, the hyphen bullet and the
// soft hyphen.
func IsDash(r rune) bool {
	switch r {
	case '\u00ad', '\u2043', '\u2212', '\u2796':
		return true
	}
	return r > unicode.MaxASCII && unicode.Is(unicode.Pd, r)
}
