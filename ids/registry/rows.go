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
	index   index

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

// What there is to say of a cell beyond the columns.
const (
	beyondColumns = "stands beyond the last column"
	beyondRemedy  = "look whether a delimiter inside a cell moved the others, and put that cell into quotes"
)

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

// late lists the names of the columns that files lack until they are needed.
func (t *table[T]) late() []string {
	return slices.DeleteFunc(t.known(), func(name string) bool { return !t.columns[t.column(name)].late })
}

// early lists the names of the columns that every file has.
func (t *table[T]) early() []string {
	return slices.DeleteFunc(t.known(), func(name string) bool { return t.columns[t.column(name)].late })
}

// blankFile is a new file: UTF-8 with a byte order mark, so that spreadsheets
// show names right, CRLF as in RFC 4180, and the header alone.
func (t *table[T]) blankFile() string { return bom + strings.Join(t.early(), ",") + "\r\n" }

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
	lines := strings.Count(text, string(f.lineBreak)) // rows at most, but for one
	t.entries, t.at = make([]T, 0, lines), make([]int32, 0, lines)
	if err := f.eachRow(path, t.take); err != nil {
		return err
	}
	for _, f := range t.damage {
		if f.column == t.idColumn {
			t.lostRows = append(t.lostRows, f.finding)
		}
	}
	t.index = newIndex(t.entries, t.id)
	return nil
}

// first reports whether no entry before the i-th has its identifier. hint is
// where the last one was found.
func (t *table[T]) first(i int, hint *int) bool {
	return t.index.exactly(*t.id(&t.entries[i]), hint)[0] == int32(i)
}

// take reads the row in a place of the file.
func (t *table[T]) take(place int, cells []cell) {
	row := int(t.rows[place].row)
	t.entries = append(t.entries, *new(T))
	e := &t.entries[len(t.entries)-1]
	for i := range t.columns {
		c, text := &t.columns[i], ""
		if at := t.position[i]; at < min(t.width, len(cells)) {
			text = t.value(cells[at])
		}
		if text == "" && c.empty == optional {
			continue
		}
		if v := c.read(text, e); v != nil {
			t.note(v, fault{place, i, Finding{t.name, row, c.name, text, v.what, v.remedy}, v.mend})
		}
	}
	for _, c := range cells[min(t.width, len(cells)):] {
		if text := t.value(c); strings.TrimSpace(text) != "" {
			t.note(&cellIssue{damaged: true}, fault{place, -1, Finding{t.name, row, "", text, beyondColumns, beyondRemedy}, ""})
			break
		}
	}
	if *t.id(e) == (ids.ID{}) {
		t.strays = append(t.strays, *e)
		t.entries = t.entries[:len(t.entries)-1]
		return
	}
	t.at = append(t.at, int32(place))
}

func (t *table[T]) note(v *cellIssue, f fault) {
	if v.damaged {
		t.damage = append(t.damage, f)
	} else {
		t.odd = append(t.odd, f)
	}
}

// within returns the places of the entries whose identifier is outer or stands
// below it, by identifier.
func (t *table[T]) within(outer ids.ID) []int32 { return t.index.within(outer, new(int)) }

// exactly returns the places of the entries with an identifier, in the order of
// the file.
func (t *table[T]) exactly(id ids.ID) []int32 { return t.index.exactly(id, new(int)) }

// sorted returns the entries' places by identifier, those with the same one in
// the order of the file.
func (t *table[T]) sorted() []int32 { return t.index.order }

// get returns the first entry with an identifier, nil where there is none.
func (t *table[T]) get(id ids.ID) *T { return t.near(id, new(int)) }

// near is get for those who walk along the identifiers: hint is where the last
// one was found.
func (t *table[T]) near(id ids.ID, hint *int) *T {
	if places := t.index.exactly(id, hint); len(places) > 0 {
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
	t.index.insert(*t.id(&e), entry)
}

// remove takes an entry and its row away.
func (t *table[T]) remove(entry int32) {
	row := int(t.at[entry])
	t.entries = slices.Delete(t.entries, int(entry), int(entry)+1)
	t.at = slices.Delete(t.at, int(entry), int(entry)+1)
	isOf := func(f fault) bool { return f.row == row }
	t.damage, t.odd = slices.DeleteFunc(t.damage, isOf), slices.DeleteFunc(t.odd, isOf)
	if row < len(t.rows) {
		t.drop(row)
	} else {
		t.added = slices.Delete(t.added, row-len(t.rows), row-len(t.rows)+1)
		for i := int(entry); i < len(t.at); i++ {
			t.at[i]--
		}
	}
	t.reindex()
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

// unreadable returns the findings on damaged cells of an entry in some columns.
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

// isUnreadable reports whether one of an entry's cells in some columns is
// damaged.
func (t *table[T]) isUnreadable(entry int32, columns ...string) bool {
	return t.unreadable(entry, columns...) != nil
}

// beyond returns the findings on cells beyond the columns where a late column
// is about to be added, which they would then seem to belong to.
func (t *table[T]) beyond() []Finding {
	if len(t.needed) == 0 {
		return nil
	}
	var found []Finding
	for _, f := range t.damage {
		if f.column < 0 {
			found = append(found, f.finding)
		}
	}
	return found
}

// lost returns the findings on rows whose identifier cannot be read.
func (t *table[T]) lost() []Finding { return t.lostRows }

// damages returns the findings on all cells that cannot be read.
func (t *table[T]) damages() []Finding { return findings(t.damage) }

// oddities returns the findings on all cells that are written oddly.
func (t *table[T]) oddities() []Finding { return findings(t.odd) }

func findings(faults []fault) []Finding {
	var found []Finding
	for _, f := range faults {
		found = append(found, f.finding)
	}
	return found
}
