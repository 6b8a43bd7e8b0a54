package registry

import (
	"fmt"
	"slices"
	"strings"

	"pipstake/ids"
)

// Status tells what the registry knows of an identifier.
type Status int

// The statuses of an identifier.
const (
	Unknown Status = iota // no row of its own
	Issued                // and in use
	Voided                // itself, or one of those above it
)

// String is "unknown", "issued" or "void".
func (s Status) String() string {
	switch s {
	case Issued:
		return "issued"
	case Voided:
		return "void"
	}
	return "unknown"
}

// Status of an identifier.
func (r *Registry) Status(id ids.ID) Status { return r.Cursor().Status(id) }

// voidedBy is the outermost among the identifier and those above it that is
// void; false where none is.
func (r *Registry) voidedBy(id ids.ID) (ids.ID, bool) { return r.Cursor().voidedBy(id) }

// rowsOf is what the tables whose rows bear an identifier have in common.
type rowsOf interface {
	fileName() string
	exactly(id ids.ID) []int32
	within(outer ids.ID) []int32
	finding(entry int32, column, what, remedy string) Finding
	unreadable(entry int32, columns ...string) []Finding
	lost() []Finding
}

// DamagedRow reports whether a row of an identifier has a cell that cannot be
// read, so that a command on it may be refused.
func (r *Registry) DamagedRow(id ids.ID) bool {
	t := r.level(id.Level())
	return t != nil && slices.ContainsFunc(t.exactly(id), func(place int32) bool {
		return t.unreadable(place, "seeds", "undeveloped", "extracted", "chilled", "sown", "pricked", "ended", "fate", "state") != nil
	})
}

// idTables are the tables whose rows bear an identifier.
func (r *Registry) idTables() []rowsOf {
	return []rowsOf{r.crosses, r.lots, r.pots, r.seedlings, r.emergence, r.labels, r.diary}
}

// level is the table of the rows of a level; nil for NoLevel.
func (r *Registry) level(l ids.Level) rowsOf {
	switch l {
	case ids.CrossLevel:
		return r.crosses
	case ids.LotLevel:
		return r.lots
	case ids.PotLevel:
		return r.pots
	case ids.SeedlingLevel:
		return r.seedlings
	}
	return nil
}

// usable returns the place of the one row of an identifier in use, for a request
// that needs the cells in columns. The error is a *Refusal where there is no
// such row or it is void, and a *DamageError where it is there twice or a cell
// cannot be read.
func (r *Registry) usable(id ids.ID, level ids.Level, columns ...string) (int32, error) {
	if id.Level() != level {
		return 0, &Refusal{fmt.Sprintf("%s is a %s, not a %s", id, id.Level(), level), fmt.Sprintf("give the identifier of a %s", level)}
	}
	t := r.level(level)
	places := t.exactly(id)
	switch {
	case len(places) == 0:
		return 0, r.noRow(id, t)
	case len(places) > 1:
		return 0, &DamageError{[]Finding{t.finding(places[1], "id", "stands in another row as well", "delete one of the rows, or give it its right identifier")}}
	}
	if found := t.unreadable(places[0], append(columns, "state")...); found != nil {
		return 0, &DamageError{found}
	}
	if by, void := r.voidedBy(id); void && by == id {
		return 0, &Refusal{fmt.Sprintf("%s is void", id), "use another, its number stays spent"}
	} else if void {
		return 0, &Refusal{fmt.Sprintf("%s is void, since its %s %s is", id, by.Level(), by), "use another, its number stays spent"}
	}
	return places[0], nil
}

// noRow is the refusal of an identifier without a row. A row whose identifier
// cannot be read may be the one.
func (r *Registry) noRow(id ids.ID, t rowsOf) error {
	remedy := "compare it with the label"
	if lost := t.lost(); len(lost) > 0 {
		remedy += fmt.Sprintf(", and mend %s row %d, which cannot be read", lost[0].File, lost[0].Row)
	}
	return &Refusal{fmt.Sprintf("there is no %s %s in the registry", id.Level(), id), remedy}
}

// issued gives, of every table, the identifier with the largest number below
// outer, for the next number to come after. A row that cannot be read may hold
// a larger one: the error is a *DamageError that names it.
func (r *Registry) issued(outer ids.ID) ([]ids.ID, error) {
	if lost := r.level(outer.Level() + 1).lost(); lost != nil {
		return nil, &DamageError{lost}
	}
	var largest []ids.ID
	for _, t := range r.tables() {
		if id, ok := t.last(outer); ok {
			largest = append(largest, id)
		}
	}
	return largest, nil
}

// children issues the next n identifiers below parent.
func (r *Registry) children(parent ids.ID, n int) ([]ids.ID, error) {
	level := parent.Level() + 1
	if n < 1 {
		return nil, &Refusal{fmt.Sprintf("%d is no number of %ss to issue", n, level), "give a number from 1"}
	}
	issued, err := r.issued(parent)
	if err != nil {
		return nil, err
	}
	var fresh []ids.ID
	for range n {
		next, err := ids.NextChild(parent, issued)
		if err != nil {
			return nil, &Refusal{fmt.Sprintf("%s has %s left, and %d more %ss are asked for", parent, several(len(fresh), "number"), n, level),
				fmt.Sprintf("ask for fewer; there can be %d in all", level.Most())}
		}
		fresh = append(fresh, next)
		issued = append(issued[:len(issued):len(issued)], next)
	}
	return fresh, nil
}

// list names identifiers, and no more than a few of them.
func list(all []ids.ID) string {
	const most = 4
	var b strings.Builder
	for i, id := range all[:min(most, len(all))] {
		if i > 0 {
			b.WriteString(", ")
		}
		b.WriteString(id.String())
	}
	if more := len(all) - most; more > 0 {
		fmt.Fprintf(&b, " and %d more", more)
	}
	return b.String()
}
