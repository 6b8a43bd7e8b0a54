package registry

import (
	"encoding/csv"
	"errors"
	"fmt"
	"slices"
	"strings"

	"pipstake/ids"
)

// Undo takes back what the last command did that still holds, and returns its
// events. Cells get their text back, rows that were added go; their numbers
// stay spent. The error is a *Refusal where there is nothing to take back,
// where labels were printed for it, and where the files no longer hold what the
// command wrote; the registry is then of no more use.
func (r *Registry) Undo() ([]Event, error) {
	last := r.lastInForce()
	if last == nil {
		return nil, &Refusal{"there is no command to take back in " + historyFile, "what was changed by hand is mended by hand"}
	}
	if err := printedFor(last); err != nil {
		return nil, err
	}
	for _, e := range slices.Backward(last) {
		t := r.file(e.File)
		if t == nil {
			return nil, &Refusal{fmt.Sprintf("%s tells of a file %q, which is none of the registry's", historyFile, e.File), "mend that row, or take the change back by hand"}
		}
		if err := t.takeBack(e); err != nil {
			return nil, err
		}
		if e.added() {
			r.history.keepSpent(Event{File: e.File, Key: e.Key})
		}
	}
	for _, t := range r.tables() {
		t.reindex()
	}
	if err := r.leftBehind(last); err != nil {
		return nil, err
	}
	r.history.undoes = last[0].Entry
	return last, nil
}

// lastInForce returns the events of the last command in this registry that
// neither was taken back nor took another one back; nil for none.
func (r *Registry) lastInForce() []Event {
	undone := map[int]bool{}
	for _, e := range r.history.entries {
		undone[e.Undoes] = true
	}
	for _, events := range slices.Backward(entriesOf(r.history.entries)) {
		if events[0].Undoes == 0 && events[0].From == "" && !undone[events[0].Entry] {
			return events
		}
	}
	return nil
}

// file finds a table by its file's name.
func (r *Registry) file(name string) tableFile {
	for _, t := range r.tables() {
		if t.fileName() == name && name != historyFile {
			return t
		}
	}
	return nil
}

// printedFor refuses to take back a command that printed labels.
func printedFor(events []Event) error {
	var printed []ids.ID
	batch := ""
	var issued []ids.ID
	for _, e := range events {
		if e.File != labelsFile || !e.added() {
			if read, err := ids.Parse(e.Key); err == nil && e.added() && issues(e.File) {
				issued = append(issued, read.ID)
			}
			continue
		}
		batch = field(e.After, "batch")
		if read, err := ids.Parse(e.Key); err == nil {
			printed = append(printed, read.ID)
		}
	}
	if batch == "" {
		return nil
	}
	remedy := fmt.Sprintf("destroy them and say so with: {spoil: %s}", batch)
	if issued != nil {
		remedy += fmt.Sprintf("; then take back what they were for, if it should never have been, with: {void: %s}", runs(issued))
	}
	return &Refusal{fmt.Sprintf("%q printed labels, as batch %s: %s", events[0].Command, batch, list(slices.Compact(printed))), remedy}
}

// added reports whether the event added a row.
func (e Event) added() bool { return e.Column == "" && e.Before == "" }

// leftBehind refuses to take a row away that another one depends on.
func (r *Registry) leftBehind(events []Event) error {
	for _, e := range events {
		read, err := ids.Parse(e.Key)
		if err != nil || !e.added() || !issues(e.File) {
			continue
		}
		for _, t := range r.idTables() {
			if places := t.within(read.ID); len(places) > 0 {
				f := t.finding(places[0], "", "", "")
				return &Refusal{fmt.Sprintf("%s, which %q issued, is named in %s row %d", read.ID, e.Command, f.File, f.Row),
					"take that row back first"}
			}
		}
	}
	return nil
}

// field is the text of a column in a row's record.
func field(record, column string) string {
	for cell := range strings.SplitSeq(record, ",") {
		if s, ok := strings.CutPrefix(cell, column+"="); ok {
			return s
		}
	}
	return ""
}

// errNotThere says that a file no longer holds what an event wrote.
var errNotThere = errors.New("not there")

// rowOf finds the row that an event changed: the one it had then, or else the
// only one that holds what the event wrote.
func (f *csvFile) rowOf(e Event, key int) (row int, err error) {
	position := slices.Index(f.names, e.Column)
	if e.Column != "" && position < 0 {
		return 0, errNotThere
	}
	holds := func(row int) bool {
		if f.dropped[row] || f.raw(row, key) != e.Key {
			return false
		}
		if e.Column == "" {
			return f.record(row) == e.After
		}
		_, isEdited := f.edits[row][position]
		return !isEdited && f.raw(row, position) == e.After
	}
	if row, ok := f.byNumber(e.Row); ok && holds(row) {
		return row, nil
	}
	row = -1
	for i := range f.rows {
		if holds(i) {
			if row >= 0 {
				return 0, errNotThere
			}
			row = i
		}
	}
	if row < 0 {
		return 0, errNotThere
	}
	return row, nil
}

// byNumber finds a row as a spreadsheet numbers it.
func (f *csvFile) byNumber(n int) (row int, ok bool) {
	return slices.BinarySearchFunc(f.rows, n, func(s span, n int) int { return int(s.row) - n })
}

// restore takes an event back in the file, and returns the row it was in.
func (f *csvFile) restore(e Event, key int) (row int, err error) {
	if e.removed() {
		return f.putBack(e)
	}
	row, err = f.rowOf(e, key)
	switch {
	case err != nil && e.Column == "":
		return 0, &Refusal{fmt.Sprintf("the row of %s in %s is no longer as %q wrote it", e.Key, e.File, e.Command), "it was changed by hand since, so take it back by hand"}
	case err != nil:
		return 0, &Refusal{fmt.Sprintf("the cell %s of %s in %s no longer holds %q, which %q wrote", e.Column, e.Key, e.File, shorten(e.After), e.Command),
			"it was changed by hand since, so take it back by hand"}
	case e.Column == "":
		f.drop(row)
	default:
		f.set(row, slices.Index(f.names, e.Column), e.Before)
	}
	return row, nil
}

// removed reports whether the event took a row away.
func (e Event) removed() bool { return e.Column == "" && e.After == "" }

// putBack writes a row again that an event took away, at the end of the file.
func (f *csvFile) putBack(e Event) (row int, err error) {
	record, err := csv.NewReader(strings.NewReader(e.Before)).Read()
	cells := make([]string, len(f.names))
	for _, cell := range record {
		name, text, _ := strings.Cut(cell, "=")
		position := slices.Index(f.names, name)
		if position < 0 {
			err = errNotThere
			continue
		}
		cells[position] = text
	}
	if err != nil {
		return 0, &Refusal{fmt.Sprintf("the row of %s that %q took away does not fit %s any more", e.Key, e.Command, e.File), "write it in again by hand"}
	}
	f.add(cells)
	return len(f.rows) + len(f.added) - 1, nil
}

// takeBack takes an event back, in the file and in the entries.
func (t *table[T]) takeBack(e Event) error {
	row, err := t.restore(e, t.position[t.idColumn])
	if err != nil {
		return err
	}
	if e.removed() {
		t.entries, t.at = append(t.entries, *new(T)), append(t.at, int32(row))
		t.reread(len(t.entries) - 1)
		return nil
	}
	entry, isEntry := slices.BinarySearch(t.at, int32(row))
	if !isEntry {
		return nil
	}
	if t.dropped[row] {
		t.entries = slices.Delete(t.entries, entry, entry+1)
		t.at = slices.Delete(t.at, entry, entry+1)
	} else {
		t.reread(entry)
	}
	return nil
}

// reindex brings the index up to date after rows were taken back.
func (t *table[T]) reindex() { t.index = newIndex(t.entries, t.id) }

// reindex has nothing to do: the rows bear no identifier.
func (l *listing[T]) reindex() {}

// reread reads an entry again after its cells were changed in the file.
func (t *table[T]) reread(entry int) {
	row := int(t.at[entry])
	var e T
	for i, c := range t.columns {
		c.read(t.current(row, t.position[i]), &e)
	}
	if *t.id(&e) != (ids.ID{}) {
		t.entries[entry] = e
	}
}

// current is the text of a cell with its change.
func (f *csvFile) current(row, position int) string {
	if s, isEdited := f.edits[row][position]; isEdited {
		return s
	}
	return f.raw(row, position)
}

// takeBack takes an event back, in the file and in the entries.
func (l *listing[T]) takeBack(e Event) error {
	row, err := l.restore(e, l.position[0])
	if err != nil {
		return err
	}
	if e.removed() {
		l.entries = append(l.entries, *new(T))
		l.reread(row)
		return nil
	}
	if l.dropped[row] {
		l.entries = slices.Delete(l.entries, row, row+1)
		return nil
	}
	l.reread(row)
	return nil
}

// reread reads an entry again after its cells were changed in the file.
func (l *listing[T]) reread(row int) {
	var e T
	for i, c := range l.columns {
		c.read(l.current(row, l.position[i]), &e)
	}
	l.entries[row] = e
}
