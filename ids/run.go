package ids

import (
	"fmt"
	"strings"
)

// Run is one identifier, or several of one level that follow one another below
// the same parent: 2026X003 to 2026X009, or 2026X012-A1 to 2026X012-A6.
type Run struct{ First, Last ID }

// One reports whether the run is a single identifier.
func (r Run) One() bool { return r.First == r.Last }

// Len is the number of identifiers in the run.
func (r Run) Len() int { return r.Last.Ordinal() - r.First.Ordinal() + 1 }

// Holds reports whether an identifier of the run's level is one of it.
func (r Run) Holds(id ID) bool {
	return id.Level() == r.First.Level() && id.Within(r.First.At(id.Level()-1)) &&
		r.First.Ordinal() <= id.Ordinal() && id.Ordinal() <= r.Last.Ordinal()
}

// All returns the identifiers of the run in order.
func (r Run) All() []ID {
	all := make([]ID, 0, r.Len())
	parent := r.First.At(r.First.Level() - 1)
	for n := r.First.Ordinal(); n <= r.Last.Ordinal(); n++ {
		all = append(all, parent.Child(n))
	}
	return all
}

// String writes the run as ParseRun reads it: "2026X012-A1..6", or a single
// identifier.
func (r Run) String() string {
	if r.One() {
		return r.First.String()
	}
	return r.First.String() + dots + lastPart(r.Last)
}

// dots stand between the first and the last of a run.
const dots = ".."

// lastPart is the number or the letters that an identifier ends in.
func lastPart(id ID) string {
	if level := id.Level(); level == LotLevel || level == SeedlingLevel {
		return Letters(id.Ordinal())
	}
	return fmt.Sprint(id.Ordinal())
}

// ParseRun reads an identifier, or the first of a run, two full stops, and its
// last: in full, or only the number or letters in which it differs. Each is
// read as Parse does. The error is a *ParseError or a *CheckError.
func ParseRun(text string) (Run, []string, error) {
	head, tail, isRun := cutRun(text)
	first, err := Parse(head)
	if err != nil {
		return Run{}, nil, err
	}
	if !isRun {
		return Run{first.ID, first.ID}, first.Notices, nil
	}
	last, notices, err := parseLast(text, first.ID, tail)
	if err != nil {
		return Run{}, nil, err
	}
	run := Run{first.ID, last}
	wrong := func(reason, remedy string) (Run, []string, error) {
		return Run{}, nil, &ParseError{Text: text, Pos: len([]rune(head)) + len(dots) + 1, Reason: reason, Remedy: remedy}
	}
	parent := func(id ID) ID { return id.At(id.Level() - 1) }
	switch {
	case last.Level() != first.ID.Level():
		return wrong(fmt.Sprintf("the run begins with a %s and ends with a %s", first.ID.Level(), last.Level()), "name two of the same kind")
	case parent(last) != parent(first.ID):
		return wrong(fmt.Sprintf("%s and %s do not follow one another", first.ID, last), "name two of the same "+parentName(first.ID))
	case last.Ordinal() < first.ID.Ordinal():
		return wrong(fmt.Sprintf("the run ends before it begins, at %s", last), fmt.Sprintf("write %q", Run{last, first.ID}.String()))
	}
	return run, append(first.Notices, notices...), nil
}

// cutRun divides a run at its dots. The ellipsis that word processors make of
// them, and a third full stop, are read as they are meant.
func cutRun(text string) (head, tail string, isRun bool) {
	text = strings.ReplaceAll(text, "…", dots)
	head, tail, isRun = strings.Cut(text, dots)
	return head, strings.TrimPrefix(tail, "."), isRun
}

// parseLast reads the end of a run that begins with first.
func parseLast(text string, first ID, tail string) (ID, []string, error) {
	tail = strings.TrimSpace(tail)
	if id, ok := first.sibling(tail); ok {
		return id, nil, nil
	}
	read, err := Parse(tail)
	if err == nil {
		return read.ID, read.Notices, nil
	}
	if _, isCheck := err.(*CheckError); isCheck {
		return ID{}, nil, err
	}
	next := first.At(first.Level() - 1).Child(first.Ordinal() + 1)
	return ID{}, nil, &ParseError{Text: text, Pos: len([]rune(text)) - len([]rune(tail)) + 1,
		Reason: "the end of the run is no " + first.Level().String(), Remedy: fmt.Sprintf("write %q", Run{first, next}.String())}
}

// sibling reads the last part of an identifier with the same parent: "6" after
// 2026X012-A1, "c" after 2026X012-A.
func (id ID) sibling(part string) (ID, bool) {
	var n int
	var rest string
	switch level := id.Level(); level {
	case LotLevel, SeedlingLevel:
		const most = 2 // letters
		if len(part) > most {
			return ID{}, false
		}
		n, rest = leadingLetters(strings.ToUpper(part))
	default:
		const most = 5 // digits
		if len(part) > most {
			return ID{}, false
		}
		n, rest = leadingNumber(part)
	}
	if rest != "" || n < 1 || n > id.Level().Most() {
		return ID{}, false
	}
	return id.At(id.Level() - 1).Child(n), true
}

// parentName is what the siblings of an identifier have in common.
func parentName(id ID) string {
	if id.Level() == CrossLevel {
		return "year"
	}
	return (id.Level() - 1).String()
}
