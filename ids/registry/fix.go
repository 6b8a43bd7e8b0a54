package registry

import "slices"

// Fix is a cell that is written oddly and what it certainly means: an
// identifier in small letters, with look-alike dashes, without hyphens or with
// its check character; a date or number in full-width digits; a word in other
// letters; spaces around a text; a formula without its apostrophe; local dates, where
// their column settles day and month. What takes a guess is never among them.
type Fix struct {
	Finding Finding
	Want    string // what is to stand in the cell
	row     int
}

// Fixes returns the cells whose meaning is certain, by file and row.
func (r *Registry) Fixes() []Fix {
	var all []Fix
	for _, t := range r.tables() {
		all = append(all, t.fixes()...)
	}
	return all
}

// Mend writes what Fixes gives into the cells, and changes no other.
func (r *Registry) Mend() []Fix {
	all := r.Fixes()
	for _, f := range all {
		r.file(f.Finding.File).fix(f)
	}
	return all
}

func (t *table[T]) fixes() []Fix {
	var all []Fix
	for _, f := range t.odd {
		if f.mend != "" {
			all = append(all, Fix{f.finding, f.mend, f.row})
		}
	}
	return append(all, t.localDates()...)
}

func (t *table[T]) fix(f Fix) {
	t.set(f.row, slices.Index(t.names, f.Finding.Column), f.Want)
	if entry, ok := slices.BinarySearch(t.at, int32(f.row)); ok {
		t.reread(entry)
	}
	t.odd = slices.DeleteFunc(t.odd, func(o fault) bool { return o.finding == f.Finding })
}

func (l *listing[T]) fixes() []Fix { return l.mends }

func (l *listing[T]) fix(f Fix) {
	l.set(f.row, slices.Index(l.names, f.Finding.Column), f.Want)
	l.odd = slices.DeleteFunc(l.odd, func(o Finding) bool { return o == f.Finding })
	l.mends = slices.DeleteFunc(slices.Clone(l.mends), func(m Fix) bool { return m == f })
}

// fixes of the history are none: it stays as it was written.
func (h *history) fixes() []Fix { return nil }
