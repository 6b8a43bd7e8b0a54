package registry

import (
	"encoding/csv"
	"maps"
	"slices"
	"strings"
	"time"

	"pipstake/ids"
	"pipstake/ids/words"
)

const historyFile = "history.csv"

// Event is one change that a command made in a file: of a cell, or of a whole
// row where Column is empty.
type Event struct {
	Entry   int    // which command in the history it was, from 1
	When    string // by the user's clock, in the form of RFC 3339
	Command string // as it was typed
	Undoes  int    // the entry that the command took back; 0 for none
	From    string // the registry that it came from by a merge; "" for this one
	File    string // "lots.csv"
	Row     int    // where it stood then, as a spreadsheet numbers it
	Key     string // what the row is about, an identifier mostly
	Column  string // "" for a whole row
	Before  string // the cell, or the row; "" for a row that was added
	After   string // likewise; "" for a row that was taken away
}

var historyColumns = []column[Event]{
	numberColumn("entry", required, func(e *Event) *int { return &e.Entry }),
	nameColumn("when", optional, func(e *Event) *string { return &e.When }),
	nameColumn("command", optional, func(e *Event) *string { return &e.Command }),
	numberColumn("undoes", optional, func(e *Event) *int { return &e.Undoes }),
	nameColumn("from", optional, func(e *Event) *string { return &e.From }),
	nameColumn("file", required, func(e *Event) *string { return &e.File }),
	numberColumn("row", optional, func(e *Event) *int { return &e.Row }),
	textColumn("key", func(e *Event) *string { return &e.Key }),
	nameColumn("column", optional, func(e *Event) *string { return &e.Column }),
	textColumn("before", func(e *Event) *string { return &e.Before }),
	textColumn("after", func(e *Event) *string { return &e.After }),
}

// history is the file of what commands did. It keeps the numbers of rows that
// were taken back spent.
type history struct {
	*listing[Event]
	undoes int      // the entry that the command at work takes back
	gone   []ids.ID // of rows taken away
}

func newHistory() *history { return &history{listing: newListing(historyFile, historyColumns)} }

func (h *history) load(path, text string) error {
	if err := h.listing.load(path, text); err != nil {
		return err
	}
	for _, e := range h.entries {
		h.keepSpent(e)
	}
	return nil
}

// keepSpent takes note of the identifier of a row that was taken away.
func (h *history) keepSpent(e Event) {
	if !e.removed() || !issues(e.File) {
		return
	}
	if r, err := ids.Parse(e.Key); err == nil {
		h.gone = append(h.gone, r.ID)
	}
}

// issues reports whether the rows of a file stand for identifiers, or for labels
// of theirs, and not for what happened to them.
func issues(file string) bool { return file != emergenceFile && file != diaryFile }

// last is the identifier with the largest number below outer among those of
// rows that were taken away; false where there is none.
func (h *history) last(outer ids.ID) (last ids.ID, ok bool) {
	for _, id := range h.gone {
		if id.Within(outer) {
			last, ok = slices.MaxFunc([]ids.ID{last, id}, ids.Compare), true
		}
	}
	return last, ok
}

// Spent reports whether an identifier was issued and taken back, so that it has
// no row and yet is never issued again.
func (r *Registry) Spent(id ids.ID) bool {
	return slices.Contains(r.history.gone, id) && r.Status(id) == Unknown
}

// History returns what commands did, in their order.
func (r *Registry) History() []Event { return slices.Clip(r.history.entries) }

// HistoryOf returns what commands did to the rows of an identifier and of all
// that stands below it.
func (r *Registry) HistoryOf(id ids.ID) []Event {
	var of []Event
	for _, e := range r.history.entries {
		if read, err := ids.Parse(e.Key); err == nil && read.ID.Within(id) {
			of = append(of, e)
		}
	}
	return of
}

// fileChange is one change that is to be saved in a file; see Event.
type fileChange struct {
	row                        int
	key, column, before, after string
}

// changesBy lists the changes of a file, whose rows are known by the column at
// key.
func (f *csvFile) changesBy(key int) []fileChange {
	var all []fileChange
	for _, row := range f.touched() {
		c := fileChange{row: f.number(row), key: f.current(row, key)}
		if f.dropped[row] { // none of its cells is edited
			c.before = f.record(row)
			all = append(all, c)
		}
		for i, name := range f.names {
			value, isEdited := f.edits[row][i]
			if c.column, c.before, c.after = name, f.raw(row, i), value; isEdited && c.before != c.after {
				all = append(all, c)
			}
		}
	}
	for i := range f.added {
		row := len(f.rows) + i
		all = append(all, fileChange{row: f.number(row), key: f.raw(row, key), after: f.record(row)})
	}
	return all
}

func (t *table[T]) changes() []fileChange   { return t.changesBy(t.position[t.idColumn]) }
func (l *listing[T]) changes() []fileChange { return l.changesBy(l.position[0]) }

// changes of the history are not part of it.
func (h *history) changes() []fileChange { return nil }

// record writes a row as one text: its cells that are not empty with their
// columns, as in "id=2026X001,seed_parent=Larkfield Tessel". A cell with a
// comma, a quote or a line break stands in quotes, as in a file.
func (f *csvFile) record(row int) string {
	var cells []string
	for i, name := range f.names {
		if s := f.raw(row, i); s != "" {
			cells = append(cells, name+"="+s)
		}
	}
	var b strings.Builder
	w := csv.NewWriter(&b)
	_ = w.Write(cells) // nothing can go wrong in memory
	w.Flush()
	return strings.TrimSuffix(b.String(), "\n")
}

// record writes what the command changed into the history.
func (r *Registry) record(opt Options) {
	h := r.history
	e := Event{When: opt.Now.Format(time.RFC3339), Command: oneLineOf(opt.Command), Undoes: h.undoes}
	last, _ := h.latest()
	e.Entry = last + 1
	for _, t := range r.tables() {
		e.File = t.fileName()
		for _, c := range t.changes() {
			e.Row, e.Key, e.Column, e.Before, e.After = c.row, c.key, c.column, c.before, c.after
			h.append(e)
		}
	}
}

// latest returns the entry with the greatest number, and its events.
func (h *history) latest() (entry int, events []Event) {
	for _, e := range h.entries {
		if e.Entry > entry {
			entry, events = e.Entry, nil
		}
		if e.Entry == entry {
			events = append(events, e)
		}
	}
	return entry, events
}

// oneLineOf makes any text fit for a cell on one line.
func oneLineOf(s string) string {
	s = strings.Join(strings.FieldsFunc(strings.ToValidUTF8(s, "\ufffd"), func(r rune) bool { return isControl(r) || r == ' ' }), " ")
	return words.Cut(s, longest)
}

// entriesOf sorts events into their commands, in the order of their numbers.
func entriesOf(events []Event) [][]Event {
	by := map[int][]Event{}
	for _, e := range events {
		by[e.Entry] = append(by[e.Entry], e)
	}
	var all [][]Event
	for _, entry := range slices.Sorted(maps.Keys(by)) {
		all = append(all, by[entry])
	}
	return all
}
