package ids

import (
	"fmt"

	"pipstake/ids/problem"
	"pipstake/ids/words"
)

// Problems returns what is wrong with the text, and what would be right.
func (e *ParseError) Problems() []problem.Problem {
	what := words.Shown(e.Text)
	if e.Pos > 0 {
		what += fmt.Sprintf(", character %d", e.Pos)
	}
	return problem.Use(what+": "+e.Reason, e.Remedy).Problems()
}

// Problems returns which character was found and which belongs there.
func (e *CheckError) Problems() []problem.Problem {
	return problem.Use(fmt.Sprintf("%s: the check character %q is wrong: %s ends in %q", words.Shown(e.Text), e.Got, e.ID, e.Want),
		"read the label again; one character was misread or mistyped").Problems()
}
