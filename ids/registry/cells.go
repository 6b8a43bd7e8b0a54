package registry

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"pipstake/ids"
	"pipstake/ids/words"
)

// column is one column of a table: how its cells are read into an entry and
// written from it.
type column[T any] struct {
	name  string
	read  func(text string, e *T) *cellIssue
	write func(e *T) string
	late  bool   // older files lack it
	empty needed // optional where there is nothing to say of an empty cell
}

// late marks a column that older files lack. It is added to one when it is
// first needed.
func late[T any](c column[T]) column[T] {
	c.late = true
	return c
}

// cellIssue is what there is to say of a cell; nil is nothing.
type cellIssue struct {
	what, remedy string
	damaged      bool   // it could not be read; else it was, but is written oddly
	mend         string // what to write instead where that is certain
}

func (v *cellIssue) isDamage() bool { return v != nil && v.damaged }

func damaged(what, remedy string) *cellIssue {
	return &cellIssue{what: what, remedy: remedy, damaged: true}
}

// writtenAs is the issue of a cell that was read as want but is not written
// so.
func writtenAs(want string) *cellIssue {
	return &cellIssue{what: "is read as " + want + ", but not written so", remedy: "write " + want, mend: want}
}

// idColumn holds identifiers of a level, or of any for NoLevel.
func idColumn[T any](name string, level ids.Level, field func(*T) *ids.ID) column[T] {
	read := func(text string, e *T) *cellIssue {
		if text == "" {
			return damaged("the identifier is missing", "take it from the label, or delete the row if it stands for nothing")
		}
		r, err := ids.Parse(text)
		if err != nil {
			return damagedID(err)
		}
		if level != ids.NoLevel && r.ID.Level() != level {
			return damaged(fmt.Sprintf("is the identifier of a %s, not of a %s", r.ID.Level(), level), "move the row to the table it belongs to, or correct the identifier")
		}
		*field(e) = r.ID
		if r.Exact {
			return nil
		}
		v := writtenAs(r.ID.String())
		if r.Guessed {
			v.mend = ""
		}
		return v
	}
	return column[T]{name: name, read: read, write: func(e *T) string { return field(e).String() }, empty: required}
}

// damagedID says what is wrong with a cell that should hold an identifier.
func damagedID(err error) *cellIssue {
	const fromLabel = "take the identifier from the label, and format the column as text"
	switch err := err.(type) {
	case *ids.CheckError:
		return damaged(fmt.Sprintf("has the check character %c, but that of %s is %c", err.Got, err.ID, err.Want), fromLabel)
	case *ids.ParseError:
		if strings.HasPrefix(err.Remedy, "write \"") {
			return damaged("is not an identifier: "+err.Reason, "if that is what is meant, "+err.Remedy)
		}
		if made := madeBySpreadsheet(err.Text); made != "" {
			return damaged("is not an identifier: "+made, fromLabel)
		}
		return damaged("is not an identifier: "+err.Reason, fromLabel)
	}
	return damaged("is not an identifier", fromLabel)
}

// dateColumn holds dates; an empty cell is one that is not known.
func dateColumn[T any](name string, field func(*T) *Date) column[T] {
	read := func(text string, e *T) *cellIssue {
		d, err := ParseDate(text)
		if err == nil {
			*field(e) = d
			return nil
		}
		written := plain(text)
		if written == "" {
			return nil
		}
		if d, err := ParseDate(written); err == nil {
			*field(e) = d
			return writtenAs(written)
		}
		what, remedy := whatAndRemedy(err)
		return damaged(strings.TrimPrefix(what, strconv.Quote(shorten(text))+" "), remedy)
	}
	return column[T]{name: name, read: read, write: func(e *T) string { return field(e).String() }}
}

// whatAndRemedy takes a *Refusal apart.
func whatAndRemedy(err error) (what, remedy string) {
	if r, ok := err.(*Refusal); ok {
		return r.What, r.Remedy
	}
	return err.Error(), "look at it"
}

// maxCount is the largest count and number in a cell.
const maxCount = 1_000_000

// countColumn holds counts; an empty cell is one that is not known.
func countColumn[T any](name string, field func(*T) *Count) column[T] {
	read := func(text string, e *T) *cellIssue {
		if plain(text) == "" {
			return nil
		}
		n, v := readNumber(text)
		if !v.isDamage() {
			*field(e) = Known(n)
		}
		return v
	}
	return column[T]{name: name, read: read, write: func(e *T) string { return field(e).String() }}
}

// numberColumn holds numbers from 1; 0 is written as an empty cell, which may
// only be where optional.
func numberColumn[T any](name string, need needed, field func(*T) *int) column[T] {
	read := func(text string, e *T) *cellIssue {
		if need == optional && (text == "" || plain(text) == "") {
			return nil
		}
		n, v := readNumber(text)
		if !v.isDamage() && n == 0 {
			v = damaged("is no number from 1", "write a number from 1")
		}
		if !v.isDamage() {
			*field(e) = n
		}
		return v
	}
	return column[T]{name: name, empty: need, read: read, write: func(e *T) string {
		if *field(e) == 0 {
			return ""
		}
		return strconv.Itoa(*field(e))
	}}
}

// needed tells whether a cell may be empty.
type needed int

const (
	optional needed = iota
	required
)

// readNumber reads a whole number.
func readNumber(text string) (int, *cellIssue) {
	n, err := strconv.Atoi(text)
	var v *cellIssue
	if err != nil {
		written := plain(text)
		if written == "" {
			return 0, damaged("the number is missing", "write it in")
		}
		if n, err = strconv.Atoi(written); err != nil {
			return 0, damaged("is not a whole number", countRemedy(written))
		}
		v = writtenAs(written)
	}
	switch {
	case n < 0:
		return 0, damaged("is less than none", "write what was counted")
	case n > maxCount:
		return 0, damaged(fmt.Sprintf("is more than %d", maxCount), "write what was counted")
	}
	return n, v
}

// nameColumn holds a name on one line. Line breaks and control characters in a
// cell are read as spaces, so that none gets onto a label or a terminal.
func nameColumn[T any](name string, need needed, field func(*T) *string) column[T] {
	read := func(text string, e *T) *cellIssue {
		s := strings.TrimSpace(text)
		*field(e) = Unguard(s)
		switch {
		case s == "" && need == required:
			return &cellIssue{what: "the name is missing", remedy: `write it in, or "unknown"`}
		case hasControl(s) && utf8.RuneCountInString(s) <= longest:
			*field(e) = strings.Join(strings.FieldsFunc(Unguard(s), func(r rune) bool { return isControl(r) || r == ' ' }), " ")
			return &cellIssue{what: "holds a line break or a control character", remedy: "write it on one line"}
		case len(s) < len(text) && s != "":
			return &cellIssue{what: "has spaces around it", remedy: "leave them out", mend: Guard(Unguard(s))}
		}
		if what, remedy := nameFault(s); what != "" {
			*field(e) = words.Cut(*field(e), longest)
			return &cellIssue{what: what, remedy: remedy, damaged: len(s) > longest && utf8.RuneCountInString(s) > longest}
		}
		return formulaIssue(s)
	}
	return column[T]{name: name, empty: need, read: read, write: func(e *T) string { return Guard(*field(e)) }}
}

// hasControl reports whether a text holds such a character.
func hasControl(s string) bool {
	for i := range len(s) {
		if c := s[i]; c < ' ' || c >= 0x7f {
			return strings.IndexFunc(s[i:], isControl) >= 0
		}
	}
	return false
}

// isControl reports whether a character breaks the line, controls a terminal or
// turns the direction of the text around it.
func isControl(r rune) bool {
	return unicode.IsControl(r) || r == '\u2028' || r == '\u2029' || '\u202a' <= r && r <= '\u202e' || '\u2066' <= r && r <= '\u2069'
}

// textColumn holds free text, which may have several lines.
func textColumn[T any](name string, field func(*T) *string) column[T] {
	read := func(text string, e *T) *cellIssue {
		*field(e) = Unguard(text)
		return formulaIssue(text)
	}
	return column[T]{name: name, read: read, write: func(e *T) string { return Guard(*field(e)) }}
}

// wordColumn holds one of a few words.
func wordColumn[T any, W ~string](name string, field func(*T) *W, words ...W) column[T] {
	read := func(text string, e *T) *cellIssue {
		for _, w := range words {
			if string(w) == text {
				*field(e) = w
				return nil
			}
		}
		for _, w := range words {
			if strings.EqualFold(string(w), strings.TrimSpace(text)) {
				*field(e) = w
				if w == "" {
					return nil
				}
				return writtenAs(string(w))
			}
		}
		return damaged("is none of the words for "+name, "write "+oneOf(words))
	}
	empty := required
	if slices.Contains(words, "") {
		empty = optional
	}
	return column[T]{name: name, empty: empty, read: read, write: func(e *T) string { return string(*field(e)) }}
}

// oneOf lists words to choose from.
func oneOf[W ~string](words []W) string {
	var b strings.Builder
	empty := false
	for _, w := range words {
		if w == "" {
			empty = true
			continue
		}
		if b.Len() > 0 {
			b.WriteString(", ")
		}
		b.WriteString(string(w))
	}
	if empty {
		b.WriteString(" or nothing")
	}
	return b.String()
}
