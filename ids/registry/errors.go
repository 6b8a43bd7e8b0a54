package registry

import (
	"fmt"
	"strconv"
	"strings"

	"pipstake/ids/words"
)

// Refusal says that a request contradicts the registry or itself. Nothing was
// changed.
type Refusal struct {
	What   string // what stands in the way
	Remedy string // what to do
}

func (e *Refusal) Error() string { return e.What + "; " + e.Remedy }

// DamageError says that a request needs cells that cannot be read. Nothing was
// changed.
type DamageError struct {
	Findings []Finding // the cells; at least one
}

func (e *DamageError) Error() string {
	s := e.Findings[0].String()
	if n := len(e.Findings) - 1; n > 0 {
		s += fmt.Sprintf(" (and %d more)", n)
	}
	return s
}

// AccessError says that the registry cannot be read or written. The files are
// as they were.
type AccessError struct {
	Path   string
	What   string
	Remedy string
	Err    error // from the system; may be nil
}

func (e *AccessError) Error() string {
	s := e.Path + ": " + e.What
	if e.Err != nil {
		s += ": " + reason(e.Err)
	}
	return s + "; " + e.Remedy
}

// Unwrap returns the system's own error.
func (e *AccessError) Unwrap() error { return e.Err }

// ChangedError says that the files kept changing while a command worked on
// them, so that it gave up. It changed nothing.
type ChangedError struct {
	File string // the one that changed
}

func (e *ChangedError) Error() string {
	return fmt.Sprintf("%s was changed by something else while this command ran; close the program that writes it, and run the command again", e.File)
}

// Finding is something in the registry's files that needs a person's eye.
type Finding struct {
	File   string // "lots.csv"
	Row    int    // as a spreadsheet numbers it, 1 is the header; 0 for the whole file
	Column string // "" for the whole row
	Value  string // as it stands in the cell
	What   string
	Remedy string
}

// String writes the finding on one line. The cell's text is quoted, so no
// control character gets through.
func (f Finding) String() string {
	var b strings.Builder
	b.WriteString(f.File)
	if f.Row > 0 {
		fmt.Fprintf(&b, " row %d", f.Row)
	}
	if f.Column != "" {
		fmt.Fprintf(&b, ", column %s", f.Column)
	}
	b.WriteString(": ")
	if f.Value != "" {
		b.WriteString(strconv.Quote(shorten(f.Value)))
		b.WriteString(" ")
	}
	b.WriteString(f.What + "; " + f.Remedy)
	return b.String()
}

// shorten cuts a long text off for a message.
func shorten(s string) string { return words.Cut(s, 60) }
