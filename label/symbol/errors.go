package symbol

import (
	"fmt"
	"strconv"
)

// PayloadError says that a text is not what a label's code carries, or cannot
// be written in one.
type PayloadError struct {
	Text   string
	Pos    int // the character at fault, from 1; 0 when it is the whole text
	Reason string
	Remedy string
}

func (e *PayloadError) Error() string {
	at := ""
	if e.Pos > 0 {
		at = fmt.Sprintf(", character %d", e.Pos)
	}
	return fmt.Sprintf("code text %s%s: %s; %s", quote(e.Text), at, e.Reason, e.Remedy)
}

// tooLong is the error for a text of n characters or codewords.
func tooLong(text string, n int, unit string, most int) error {
	return &PayloadError{Text: text, Reason: fmt.Sprintf("its %d %s are too many, %d is the most", n, unit, most),
		Remedy: "leave out what the registry knows"}
}

// quote is a text between quotation marks, cut where it runs on.
func quote(text string) string {
	const most = 60
	if r := []rune(text); len(r) > most {
		return strconv.Quote(string(r[:most])) + "…"
	}
	return strconv.Quote(text)
}

// quoteRune names a character; one that might not show, by its number as well.
func quoteRune(r rune) string {
	if r < 0x7f && strconv.IsPrint(r) {
		return strconv.QuoteRune(r)
	}
	return fmt.Sprintf("%q (U+%04X)", r, r)
}
