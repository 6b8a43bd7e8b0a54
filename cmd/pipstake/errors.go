package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"

	"pipstake/ids"
	"pipstake/ids/registry"
	"pipstake/ids/season"
	"pipstake/ids/words"
	"pipstake/label"
	"pipstake/label/symbol"
	"pipstake/layout"
)

// status is the exit status of the program.
type status int

// The exit statuses.
const (
	fine         status = iota
	problemsSeen        // something is wrong in the data: a damaged cell, a finding of check, a scan that finds trouble
	wrongUsage          // another command line would mend it
	noRegistry          // the registry cannot be read or written
	failed              // anything else
)

// usageError is a mistake in the command line.
type usageError struct{ what, hint string }

func (e *usageError) Error() string { return e.what }

// problems says that a command has already told what is wrong in the data.
type problems struct{}

func (problems) Error() string { return "there are problems in the data" }

// dataError is something wrong in the registry that stands in a command's way.
type dataError struct{ what, hint string }

func (e *dataError) Error() string { return e.what }

// accessError is a failure to read or write the registry that no other type
// describes.
type accessError struct{ err error }

func (e *accessError) Error() string { return e.err.Error() }
func (e *accessError) Unwrap() error { return e.err }

// failure is any other failure.
type failure struct{ what, hint string }

func (e *failure) Error() string { return e.what }

// complain reports the error that a command ended with.
func (e *env) complain(err error) {
	for _, r := range reportsOf(err) {
		e.Tell("pipstake: %s", r.what)
		if r.hint != "" {
			e.Tell("hint: %s", r.hint)
		}
	}
}

// statusOf maps an error to the exit status.
func statusOf(err error) status {
	switch {
	case err == nil:
		return fine
	case is[*failure](err):
		return failed
	case is[problems](err), is[*dataError](err), is[*registry.DamageError](err), is[*season.CycleError](err):
		return problemsSeen
	case is[*usageError](err), is[*registry.Refusal](err),
		is[*ids.ParseError](err), is[*ids.CheckError](err), is[*symbol.PayloadError](err),
		is[*label.GlyphError](err), is[*label.ScriptError](err), is[*label.RoomError](err), is[*symbol.TooSmallError](err),
		is[*layout.GainError](err):
		return wrongUsage
	case is[*registry.AccessError](err), is[*registry.ChangedError](err), is[*accessError](err):
		return noRegistry
	}
	return failed
}

// is reports whether err is, or wraps, an error of type T.
func is[T error](err error) bool {
	var t T
	return errors.As(err, &t)
}

// asUsage makes a mistake in a value one in the command line.
func asUsage(err error) error {
	r := reportsOf(err)[0]
	return &usageError{r.what, r.hint}
}

// report is one error as the terminal shows it.
type report struct{ what, hint string }

// reportsOf splits an error into what is wrong and what to do about it.
func reportsOf(err error) []report {
	var (
		usage   *usageError
		refusal *registry.Refusal
		damage  *registry.DamageError
		access  *registry.AccessError
		data    *dataError
		other   *failure
	)
	switch {
	case is[problems](err):
		return nil
	case errors.As(err, &usage):
		return []report{{usage.what, usage.hint}}
	case errors.As(err, &data):
		return []report{{data.what, data.hint}}
	case errors.As(err, &other):
		return []report{{other.what, other.hint}}
	case errors.As(err, &refusal):
		return []report{{refusal.What, refusal.Remedy}}
	case errors.As(err, &damage):
		var rs []report
		for _, f := range damage.Findings {
			rs = append(rs, report{whereOf(f) + ": " + f.What, f.Remedy})
		}
		return rs
	case errors.As(err, &access):
		return []report{{accessWords(access), access.Remedy}}
	case is[*season.CycleError](err):
		return []report{{"crosses.csv: " + err.Error(), "correct the parents of one of these crosses; see pipstake check"}}
	}
	return []report{codeReport(err)}
}

// codeReport words what is wrong with a typed or scanned text, or with what a
// label should show.
func codeReport(err error) report {
	var (
		parse   *ids.ParseError
		check   *ids.CheckError
		payload *symbol.PayloadError
		glyph   *label.GlyphError
		room    *label.RoomError
		small   *symbol.TooSmallError
		gain    *layout.GainError
	)
	switch {
	case errors.As(err, &parse):
		return report{fmt.Sprintf("%s, character %d: %s", words.Shown(parse.Text), parse.Pos, parse.Reason), parse.Remedy}
	case errors.As(err, &check):
		return report{fmt.Sprintf("%s: the check character %q is wrong: %s ends in %q", words.Shown(check.Text), check.Got, check.ID, check.Want),
			"read the label again; one character was misread or mistyped"}
	case errors.As(err, &payload):
		what := words.Shown(payload.Text)
		if payload.Pos > 0 {
			what += fmt.Sprintf(", character %d", payload.Pos)
		}
		return report{what + ": " + payload.Reason, payload.Remedy}
	case errors.As(err, &glyph):
		return report{err.Error(), "write the name in Latin letters, or name a font that has the character: --font FILE.ttf"}
	case is[*label.ScriptError](err):
		return report{err.Error(), "write the name in Latin letters"}
	case errors.As(err, &gain):
		return report{fmt.Sprintf("--gain %d: modules are %d dots wide at this resolution", gain.Gain, gain.Dots), fmt.Sprintf("give 0 to %d", gain.Dots/2)}
	case errors.As(err, &room), errors.As(err, &small):
		return report{err.Error(), "choose a larger stock: pipstake stock list"}
	}
	return report{what: err.Error()}
}

func accessWords(e *registry.AccessError) string {
	what := e.What
	if e.Path != "" {
		what = e.Path + ": " + what
	}
	if e.Err != nil {
		what += ": " + reason(e.Err)
	}
	return what
}

// whereOf names the cell of a finding: `pots.csv row 14, sown "14/01/27"`.
func whereOf(f registry.Finding) string {
	where := f.File
	if f.Row > 0 {
		where += fmt.Sprintf(" row %d", f.Row)
	}
	if f.Column != "" {
		where += ", " + f.Column
	}
	if f.Value != "" {
		where += " " + words.Shown(f.Value)
	}
	return where
}

// reason is why an operation on a file failed, without the operation and the
// paths.
func reason(err error) string {
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
