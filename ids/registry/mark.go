package registry

import (
	"crypto/rand"
	"regexp"
	"slices"
	"strings"
)

// marksFile tells registries apart, whatever their folders are called. A copy
// of the folder is the same registry.
const marksFile = "registry.csv"

// markOf tells whose a mark is.
type markOf string

const (
	ownMark    markOf = ""
	mergedMark markOf = "merged" // of a registry whose rows were taken in
)

// markRow is a row of marksFile.
type markRow struct {
	Mark string
	Of   markOf
}

var markColumns = []column[markRow]{
	markColumn("registry", func(m *markRow) *string { return &m.Mark }),
	wordColumn("state", func(m *markRow) *markOf { return &m.Of }, ownMark, mergedMark),
}

// markShape is that of all marks, those of older calendars among them.
var markShape = regexp.MustCompile(`^[a-z0-9]{8,16}$`)

// markColumn holds marks.
func markColumn[T any](name string, field func(*T) *string) column[T] {
	read := func(text string, e *T) *cellIssue {
		if text = strings.ToLower(strings.TrimSpace(text)); !markShape.MatchString(text) {
			return damaged("is no mark of a registry", "put back what stood there, or delete the row: the next page for the phone makes a new mark")
		}
		*field(e) = text
		return nil
	}
	return column[T]{name: name, empty: required, read: read, write: func(e *T) string { return *field(e) }}
}

// A mark is letters only, so that no spreadsheet makes a number of it, and no
// vowels, so that it is no word and no month.
const (
	markLetters = "bcdfghjkmnpqrstvwxz"
	markLength  = 10 // of 19 letters each: 42 bits
)

// drawMark returns a mark that no other registry has.
func drawMark() string {
	b := make([]byte, 0, markLength)
	for random := make([]byte, 1); len(b) < markLength; {
		rand.Read(random) // never fails
		if i := int(random[0]); i < 256/len(markLetters)*len(markLetters) {
			b = append(b, markLetters[i%len(markLetters)])
		}
	}
	return string(b)
}

// Mark is what tells the registry apart from others of its folder's name; "" where
// it has none yet.
func (r *Registry) Mark() string {
	for i, m := range r.marks.entries {
		if m.Of == ownMark && r.marks.unreadable(i) == nil {
			return m.Mark
		}
	}
	return ""
}

// GiveMark gives the registry a mark, unless it has one, and returns it. That of
// its calendar, which phones know already, serves where there is one.
func (r *Registry) GiveMark() string {
	if mark := r.Mark(); mark != "" {
		return mark
	}
	mark := r.calendarMark()
	if mark == "" {
		mark = drawMark()
	}
	r.marks.append(markRow{Mark: mark})
	return mark
}

// calendarMarks are those that calendars had before registries had marks.
var calendarMarks = regexp.MustCompile(`^[a-z2-7]{8}$`)

// calendarMark is the mark that the entries of the calendar begin with; "" for
// none.
func (r *Registry) calendarMark() string {
	for _, e := range r.Calendar() {
		if mark, _, _ := strings.Cut(e.UID, "-"); calendarMarks.MatchString(mark) {
			return mark
		}
	}
	return ""
}

// IsMarked reports whether a mark is that of the registry, or of one whose rows
// it has taken in.
func (r *Registry) IsMarked(mark string) bool {
	return mark != "" && slices.ContainsFunc(r.marks.entries, func(m markRow) bool { return strings.EqualFold(m.Mark, mark) })
}

// marks takes in the marks of the other registry: what was written down by its
// identifiers belongs here from now on.
func (m *merger) marks() {
	for _, mark := range m.there.marks.entries {
		if mark.Mark != "" && !m.here.IsMarked(mark.Mark) {
			m.here.marks.append(markRow{mark.Mark, mergedMark})
			m.count(marksFile, 1, 0)
		}
	}
}
