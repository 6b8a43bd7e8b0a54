package registry

import "pipstake/ids"

// FindingOn is something to say of a cell in the first row of a cross, seed
// lot, pot or seedling: with the file, the row, and what stands in the cell.
// Without such a row it names the file alone; for NoLevel, not even that.
func (r *Registry) FindingOn(id ids.ID, column, what, remedy string) Finding {
	t := r.level(id.Level())
	if t == nil {
		return Finding{What: what, Remedy: remedy}
	}
	if places := t.exactly(id); len(places) > 0 {
		return t.finding(places[0], column, what, remedy)
	}
	return Finding{File: t.fileName(), Column: column, What: what, Remedy: remedy}
}
