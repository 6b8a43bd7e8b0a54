package registry

import (
	"slices"
	"sort"
	"strings"

	"pipstake/ids"
)

// table is a file's rows as entries. Rows whose identifier cannot be read are
// no entries, but stay in the file and in the damage.
type table[T any] struct {
	*csvFile
	columns  []column[T]
	idColumn int // which of the columns
	id       func(*T) *ids.ID
	position []int // of each column in the file

	entries []T
	strays  []T     // rows whose identifier cannot be read
	at      []int32 // each entry's row in the file
	order   []int32 // the entries by identifier; nil until asked for
	near    int     // the place in order that was last asked for

	damage   []fault   // cells that cannot be read, by row
	odd      []fault   // cells that are written oddly, by row
	lostRows []Finding // the damaged identifiers
}

// fault is a cell with something to say of it.
type fault struct {
	row     int // of the file
	column  int // of the columns; -1 for a cell beyond them
	finding Finding
	mend    string // what to write instead where that is certain
}

func newTable[T any](name, idName string, columns []column[T], id func(*T) *ids.ID) *table[T] {
	t := &table[T]{csvFile: &csvFile{name: name}, columns: columns, id: id}
	t.idColumn = t.column(idName)
	return t
}

// column finds a column by its name.
func (t *table[T]) column(name string) int {
	return slices.IndexFunc(t.columns, func(c column[T]) bool { return c.name == name })
}

// known lists the names of the columns.
func (t *table[T]) known() []string {
	names := make([]string, len(t.columns))
	for i, c := range t.columns {
		names[i] = c.name
	}
	return names
}

// late lists the names of the columns that older files lack.
func (t *table[T]) late() []string {
	var names []string
	for _, c := range t.columns {
		if c.late {
			names = append(names, c.name)
		}
	}
	return names
}

// blankFile is a new file: UTF-8 with a byte order mark, so that spreadsheets
// show names right, CRLF as in RFC 4180, and the header alone.
func (t *table[T]) blankFile() string { return bom + strings.Join(t.known(), ",") + "\r\n" }

// fileName is the file's name in the registry's folder.
func (t *table[T]) fileName() string { return t.name }

// load reads the entries out of a file's text. The error is an *AccessError.
func (t *table[T]) load(path, text string) error {
	f, err := readCSV(path, t.name, text, t.known(), t.late()...)
	if err != nil {
		return err
	}
	t.csvFile = f
	for _, c := range t.columns {
		t.position = append(t.position, slices.Index(f.names, c.name))
	}
	t.entries = make([]T, 0, f.rowsAtMost())
	t.at = make([]int32, 0, f.rowsAtMost())
	return f.eachRow(path, t.take)
}

// take reads one row.
func (t *table[T]) take(row int, cells []cell) {
	t.entries = append(t.entries, *new(T))
	last := len(t.entries) - 1
	e := &t.entries[last]
	for i, c := range t.columns {
		text := ""
		if p := t.position[i]; p < min(t.width, len(cells)) {
			text = t.value(cells[p])
		}
		if v := c.read(text, e); v.what != "" {
			t.note(v, fault{row, i, Finding{t.name, t.number(row), c.name, text, v.what, v.remedy}, v.mend})
		}
	}
	for _, c := range cells[min(t.width, len(cells)):] {
		if text := t.value(c); strings.TrimSpace(text) != "" {
			t.note(verdict{damaged: true}, fault{row, -1, Finding{t.name, t.number(row), "", text, "stands beyond the last column",
				"look whether a delimiter inside a cell moved the others, and put that cell into quotes"}, ""})
			break
		}
	}
	if *t.id(e) == (ids.ID{}) {
		t.strays = append(t.strays, *e)
		t.entries = t.entries[:last]
		return
	}
	t.at = append(t.at, int32(row))
}

func (t *table[T]) note(v verdict, f fault) {
	if v.damaged {
		t.damage = append(t.damage, f)
		if f.column == t.idColumn {
			t.lostRows = append(t.lostRows, f.finding)
		}
	} else {
		t.odd = append(t.odd, f)
	}
}

// sorted gives the entries' places by identifier, those with the same one in
// the order of the file.
func (t *table[T]) sorted() []int32 {
	if t.order != nil {
		return t.order
	}
	t.order = make([]int32, len(t.entries))
	inOrder := true
	for i := range t.order {
		t.order[i] = int32(i)
		inOrder = inOrder && (i == 0 || ids.Compare(*t.id(&t.entries[i-1]), *t.id(&t.entries[i])) <= 0)
	}
	if !inOrder {
		slices.SortStableFunc(t.order, func(a, b int32) int {
			return ids.Compare(*t.id(&t.entries[a]), *t.id(&t.entries[b]))
		})
	}
	return t.order
}

// within gives the places of the entries whose identifier is outer or stands
// below it, by identifier.
func (t *table[T]) within(outer ids.ID) []int32 {
	order, level := t.sorted(), outer.Level()
	from := gallop(len(order), t.near, func(i int) bool {
		return ids.Compare(*t.id(&t.entries[order[i]]), outer) >= 0
	})
	t.near = from
	to := gallop(len(order), from, func(i int) bool {
		return i >= from && t.id(&t.entries[order[i]]).At(level) != outer
	})
	return order[from:to]
}

// exactly gives the places of the entries with an identifier, in the order of
// the file.
func (t *table[T]) exactly(id ids.ID) []int32 {
	places := t.within(id)
	n := gallop(len(places), 0, func(i int) bool { return *t.id(&t.entries[places[i]]) != id })
	return places[:n]
}

// gallop is sort.Search for an answer that is probably near a place. Those who
// walk along the identifiers ask for one near the last.
func gallop(n, near int, found func(i int) bool) int {
	near = min(near, n)
	low, high := near, near
	if near < n && !found(near) {
		low, high = near+1, near+1
		for step := 1; high < n && !found(high); step *= 2 {
			low = high + 1
			high = min(n, high+step)
		}
	} else {
		low = near - 1
		for step := 1; low >= 0 && found(low); step *= 2 {
			high = low
			low -= step
		}
		low = max(0, low+1)
	}
	return low + sort.Search(high-low, func(i int) bool { return found(low + i) })
}

// get gives the first entry with an identifier, nil where there is none.
func (t *table[T]) get(id ids.ID) *T {
	if places := t.exactly(id); len(places) > 0 {
		return &t.entries[places[0]]
	}
	return nil
}

// find copies the first entry with an identifier.
func (t *table[T]) find(id ids.ID) (T, bool) {
	if e := t.get(id); e != nil {
		return *e, true
	}
	var none T
	return none, false
}

// pick copies the entries at places.
func (t *table[T]) pick(places []int32) []T {
	var picked []T
	for _, i := range places {
		picked = append(picked, t.entries[i])
	}
	return picked
}

// last is the identifier in the table with the largest number below outer;
// false where there is none.
func (t *table[T]) last(outer ids.ID) (ids.ID, bool) {
	places := t.within(outer)
	if len(places) == 0 {
		return ids.ID{}, false
	}
	return *t.id(&t.entries[places[len(places)-1]]), true
}

// replace changes an entry, and in the file those of its cells that differ.
func (t *table[T]) replace(entry int32, e T) {
	row := int(t.at[entry])
	for i, c := range t.columns {
		if s := c.write(&e); s != c.write(&t.entries[entry]) {
			t.set(row, t.position[i], s)
			t.damage = slices.DeleteFunc(t.damage, func(f fault) bool { return f.row == row && f.column == i })
		}
	}
	t.entries[entry] = e
}

// append adds an entry at the end of the file.
func (t *table[T]) append(e T) {
	cells := make([]string, len(t.names))
	for i, c := range t.columns {
		cells[t.position[i]] = c.write(&e)
	}
	t.add(cells)
	entry := int32(len(t.entries))
	t.entries = append(t.entries, e)
	t.at = append(t.at, int32(len(t.rows)+len(t.added)-1))
	if t.order != nil {
		id := *t.id(&e)
		i := sort.Search(len(t.order), func(i int) bool { return ids.Compare(*t.id(&t.entries[t.order[i]]), id) > 0 })
		t.order = slices.Insert(t.order, i, entry)
	}
}

// finding is something to say of an entry's cell.
func (t *table[T]) finding(entry int32, column, what, remedy string) Finding {
	row := int(t.at[entry])
	f := Finding{File: t.name, Row: t.number(row), Column: column, What: what, Remedy: remedy}
	if i := t.column(column); i >= 0 {
		f.Value = t.raw(row, t.position[i])
	}
	return f
}

// unreadable gives the findings on damaged cells of an entry in some columns.
func (t *table[T]) unreadable(entry int32, columns ...string) []Finding {
	row := int(t.at[entry])
	first := sort.Search(len(t.damage), func(i int) bool { return t.damage[i].row >= row })
	var found []Finding
	for _, f := range t.damage[first:] {
		if f.row != row {
			break
		}
		if f.column >= 0 && slices.Contains(columns, t.columns[f.column].name) {
			found = append(found, f.finding)
		}
	}
	return found
}

// isUnreadable tells whether one of an entry's cells in some columns is
// damaged.
func (t *table[T]) isUnreadable(entry int32, columns ...string) bool {
	return t.unreadable(entry, columns...) != nil
}

// lost gives the findings on rows whose identifier cannot be read.
func (t *table[T]) lost() []Finding { return t.lostRows }

// damages gives the findings on all cells that cannot be read.
func (t *table[T]) damages() []Finding { return findings(t.damage) }

// oddities gives the findings on all cells that are written oddly.
func (t *table[T]) oddities() []Finding { return findings(t.odd) }

func findings(faults []fault) []Finding {
	var found []Finding
	for _, f := range faults {
		found = append(found, f.finding)
	}
	return found
}
