package registry

import (
	"path/filepath"

	"pipstake/ids"
)

// CountRow is a count in a file of counts, and the row that it stands in as a
// spreadsheet numbers it.
type CountRow struct {
	Emergence
	Row int
}

// The columns of a file of counts; other columns are left alone.
var countColumns = []column[Emergence]{
	idColumn("pot", ids.PotLevel, func(e *Emergence) *ids.ID { return &e.Pot }),
	dateColumn("on", func(e *Emergence) *Date { return &e.On }),
	countColumn("up", func(e *Emergence) *Count { return &e.Up }),
	late(countColumn("died", func(e *Emergence) *Count { return &e.Died })),
	late(textColumn("notes", func(e *Emergence) *string { return &e.Notes })),
}

// ReadCounts reads a CSV file of counts from outside the registry, such as one
// that a phone brings home: the columns pot, on and up, and where they are there
// died and notes, in any order and with any of the usual delimiters. An
// identifier may bear its check character. Cells that cannot be read are
// findings that name the file. The error is an *AccessError where the text is
// no such file.
func ReadCounts(path, text string) ([]CountRow, []Finding, error) {
	t := newTable(filepath.Base(path), "pot", countColumns, func(e *Emergence) *ids.ID { return &e.Pot })
	if err := t.load(path, text); err != nil {
		return nil, nil, err
	}
	rows := make([]CountRow, len(t.entries))
	for i, e := range t.entries {
		rows[i] = CountRow{e, t.number(int(t.at[i]))}
	}
	return rows, t.damages(), nil
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
