package registry

import (
	"path/filepath"

	"pipstake/ids"
)

// CountRow is a count in a file of counts, the row that it stands in as a
// spreadsheet numbers it, and the mark of the registry that it is meant for; ""
// where the file does not say.
type CountRow struct {
	Emergence
	Row      int
	Registry string
}

// The columns of a file of counts; other columns are left alone.
var countColumns = []column[CountRow]{
	idColumn("pot", ids.PotLevel, func(e *CountRow) *ids.ID { return &e.Pot }),
	dateColumn("on", func(e *CountRow) *Date { return &e.On }),
	countColumn("up", func(e *CountRow) *Count { return &e.Up }),
	late(countColumn("died", func(e *CountRow) *Count { return &e.Died })),
	late(nameColumn("registry", optional, func(e *CountRow) *string { return &e.Registry })),
	late(textColumn("notes", func(e *CountRow) *string { return &e.Notes })),
}

// ReadCounts reads a CSV file of counts from outside the registry, such as one
// that a phone brings home: the columns pot, on and up, and where they are there
// died, notes and registry, in any order and with any of the usual delimiters. An
// identifier may bear its check character. Cells that cannot be read are
// findings that name the file. The error is an *AccessError where the text is
// no such file.
func ReadCounts(path, text string) ([]CountRow, []Finding, error) {
	t := newTable(filepath.Base(path), "pot", countColumns, func(e *CountRow) *ids.ID { return &e.Pot })
	if err := t.load(path, text); err != nil {
		return nil, nil, err
	}
	for i := range t.entries {
		t.entries[i].Row = t.number(int(t.at[i]))
	}
	return t.entries, t.damages(), nil
}

// HasCount reports whether the very same count is recorded already. Its notes are
// not compared.
func (r *Registry) HasCount(e Emergence) bool {
	for _, was := range r.emergence.pick(r.emergence.exactly(e.Pot)) {
		if was.On == e.On && was.Up == e.Up && was.Died.N == e.Died.N {
			return true
		}
	}
	return false
}
