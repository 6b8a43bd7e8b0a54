// Package problem is the one shape of what is wrong and what to do about it.
// Rooms below say what kind of problem it is and give the facts; the command
// line decides the exit status by the kind. It does not know the trade.
package problem

import (
	"errors"
	"io/fs"
	"os"
)

// Kind says what would mend a problem.
type Kind int

// The kinds.
const (
	OfUse    Kind = iota + 1 // another request: something in it is wrong, or does not go together
	OfData                   // a person's eye on the files: they contradict themselves or cannot be understood
	OfAccess                 // access: files cannot be read or written
	Other                    // anything else
)

// Problem is something that is wrong, and what to do about it. It is the error
// of all rooms that have no facts to tell beyond these.
type Problem struct {
	Kind   Kind
	What   string // where, what was found, and what is wrong with it
	Remedy string // what to do; "" where nobody knows
	Err    error  // the cause; may be nil
}

// Use returns a problem that another request would mend.
func Use(what, remedy string) *Problem { return &Problem{Kind: OfUse, What: what, Remedy: remedy} }

// Data returns a problem of the files.
func Data(what, remedy string) *Problem { return &Problem{Kind: OfData, What: what, Remedy: remedy} }

// Access returns the problem that err kept files from being read or written.
func Access(err error) *Problem { return &Problem{Kind: OfAccess, What: err.Error(), Err: err} }

// Failure returns any other problem.
func Failure(what, remedy string) *Problem { return &Problem{Kind: Other, What: what, Remedy: remedy} }

func (p *Problem) Error() string { return p.What }

// Unwrap returns the cause.
func (p *Problem) Unwrap() error { return p.Err }

// Problems returns the problem itself.
func (p *Problem) Problems() []Problem { return []Problem{*p} }

// Teller is an error that knows what is wrong and what to do, one problem or
// several.
type Teller interface {
	error
	Problems() []Problem
}

// Of takes an error apart: into the problems of the outermost Teller that it is
// or wraps, else into one of the kind Other. Nil has none.
func Of(err error) []Problem {
	if err == nil {
		return nil
	}
	var t Teller
	if errors.As(err, &t) {
		return t.Problems()
	}
	return []Problem{{Kind: Other, What: err.Error(), Err: err}}
}

// First returns the first of the problems of an error that is not nil.
func First(err error) Problem { return Of(err)[0] }

// In puts words on where it happened before the problems of an error:
// "label of 2026X012-B2: …".
func In(where string, err error) error {
	said := Of(err)
	for i := range said {
		said[i].What = where + ": " + said[i].What
	}
	return &placed{said, err}
}

// placed is an error with words on where it happened.
type placed struct {
	problems []Problem
	err      error
}

func (p *placed) Error() string       { return p.problems[0].What }
func (p *placed) Unwrap() error       { return p.err }
func (p *placed) Problems() []Problem { return p.problems }

// Reason returns why an operation on a file failed, without the operation and
// the paths.
func Reason(err error) string {
	var path *fs.PathError
	var link *os.LinkError
	switch {
	case errors.As(err, &path):
		return path.Err.Error()
	case errors.As(err, &link):
		return link.Err.Error()
	}
	return err.Error()
}
