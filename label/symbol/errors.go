package symbol

import (
	"fmt"

	"pipstake/ids/problem"
	"pipstake/ids/words"
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

// Problems returns what is wrong with the text, and what would be right.
func (e *PayloadError) Problems() []problem.Problem {
	what := words.Shown(e.Text)
	if e.Pos > 0 {
		what += fmt.Sprintf(", character %d", e.Pos)
	}
	return problem.Use(what+": "+e.Reason, e.Remedy).Problems()
}

// Problems returns which size would do.
func (e *TooSmallError) Problems() []problem.Problem {
	return problem.Use(e.Error(), "choose a larger stock: {stocks}").Problems()
}

// tooLong is the error for a text of n characters or codewords.
func tooLong(text string, n int, unit string, most int) error {
	return &PayloadError{Text: text, Reason: fmt.Sprintf("its %d %s are too many, %d is the most", n, unit, most),
		Remedy: "leave out what the registry knows"}
}

// quote is a text between quotation marks, cut where it runs on.
func quote(text string) string { return words.Quote(text, 60) }
