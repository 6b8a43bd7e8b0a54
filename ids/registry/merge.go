package registry

import (
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"pipstake/ids"
)

// Side is one of the two registries of a merge.
type Side int

// The sides of a merge.
const (
	Here  Side = iota // the registry that takes the rows in
	There             // the one that they come from
)

// Difference is a cell that holds one thing here and another there.
type Difference struct {
	File, Key, Column string
	Row               int // here
	Here, There       string
	Kept              Side
}

// Renumbered is a batch or a sheet that got another number here.
type Renumbered struct {
	Stock       string // of a sheet; "" for a batch
	There, Here int
}

// Merged is what a merge did.
type Merged struct {
	Added       []AddedRows
	Newer       []Difference // one side had held what the other still holds
	Differences []Difference // neither history tells which came later
	LeftOut     []ids.ID     // void there, and something else here
	Renumbered  []Renumbered
}

// AddedRows is how many rows of a file were added, and how many cells that were
// empty were filled in.
type AddedRows struct {
	File         string
	Rows, Filled int
}

// Clash is an identifier that stands for different things here and there.
type Clash struct {
	ID          ids.ID
	Here, There string // what it is, in the cells that tell
	Labels      int    // in use there
	// GiveUp names what would have to be void there for the number to be given
	// up, as a command takes it; "" where some of it has lived, and cannot be void.
	GiveUp string
}

// ClashError refuses a merge in which identifiers clash. Nothing was changed.
type ClashError struct{ Clashes []Clash }

func (e *ClashError) Error() string {
	c := e.Clashes[0]
	s := fmt.Sprintf("%s is one %s here (%s) and another there (%s)", c.ID, c.ID.Level(), c.Here, c.There)
	if n := len(e.Clashes) - 1; n > 0 {
		s += fmt.Sprintf(", and %d more clash", n)
	}
	return s
}

// Merge takes in the rows of another registry, which is not changed. Rows that
// are the same stand once. Cells that are empty on one side are filled in from
// the other. Where both hold something, the later one by the histories of the
// two is kept, and else the one on the side to prefer; all of that is told. An
// identifier that is void there and something else here is left out; a row that
// was taken back here and is still the same there comes again. The error
// is a *ClashError where identifiers clash, and a *DamageError where either
// registry has cells that cannot be read; the registry is then of no more use.
func (r *Registry) Merge(other *Registry, prefer Side) (Merged, error) {
	if err := mergeable(r, other); err != nil {
		return Merged{}, err
	}
	m := &merger{here: r, there: other, prefer: prefer, out: map[ids.ID]bool{},
		onlyHere: onlyIn(r.history, other.history), onlyThere: onlyIn(other.history, r.history)}
	mergeRows(m, r.crosses, other.crosses, func(c *Cross) State { return c.State }, "seed_parent", "pollen_parent", "pollinated")
	mergeRows(m, r.lots, other.lots, func(l *Lot) State { return l.State }, "issued", "extracted", "seeds")
	mergeRows(m, r.pots, other.pots, func(p *Pot) State { return p.State }, "seeds", "sown")
	mergeRows(m, r.seedlings, other.seedlings, func(s *Seedling) State { return s.State }, "pricked")
	m.emergence()
	m.diary()
	m.labels()
	mergeListing(m, r.varieties, other.varieties, func(v *Variety) string { return NameKey(v.Name) })
	mergeListing(m, r.stocks, other.stocks, func(s *Stock) string { return s.Name })
	mergeListing(m, r.adjustments, other.adjustments, func(a *Adjustment) string { return a.Printer + "\x00" + a.Stock })
	m.marks()
	m.history()
	if len(m.clashes) > 0 {
		return Merged{}, &ClashError{m.clashes}
	}
	return m.merged, nil
}

// mergeable refuses registries with cells that cannot be read, or with an
// identifier in two rows.
func mergeable(both ...*Registry) error {
	for _, r := range both {
		found := r.Damage()
		found = slices.Concat(found, twiceIn(r.crosses), twiceIn(r.lots), twiceIn(r.pots), twiceIn(r.seedlings))
		if len(found) == 0 {
			continue
		}
		for i := range found {
			found[i].File = filepath.Join(r.dir, found[i].File)
		}
		return &DamageError{found}
	}
	return nil
}

// twiceIn finds the identifiers that stand in two rows.
func twiceIn[T any](t *table[T]) []Finding {
	var found []Finding
	order := t.sorted()
	for i := 1; i < len(order); i++ {
		if *t.id(&t.entries[order[i-1]]) == *t.id(&t.entries[order[i]]) {
			found = append(found, t.finding(order[i], "id", "stands in another row as well", "delete one of the rows, or give it its right identifier"))
		}
	}
	return found
}

// merger is a merge at work.
type merger struct {
	here, there *Registry
	prefer      Side
	onlyHere    []Event // since the two parted
	onlyThere   []Event
	clashes     []Clash
	out         map[ids.ID]bool // identifiers that are left out, or clash, with all below
	merged      Merged
}

// leftOut reports whether an identifier or one above it is left out.
func (m *merger) leftOut(id ids.ID) bool {
	for level := ids.CrossLevel; level <= id.Level(); level++ {
		if m.out[id.At(level)] {
			return true
		}
	}
	return false
}

// count adds to the rows added and cells filled in of a file.
func (m *merger) count(file string, rows, filled int) {
	for i := range m.merged.Added {
		if a := &m.merged.Added[i]; a.File == file {
			a.Rows, a.Filled = a.Rows+rows, a.Filled+filled
			return
		}
	}
	m.merged.Added = append(m.merged.Added, AddedRows{file, rows, filled})
}

// mergeRows takes in the rows of a table. The columns in telling say what an
// identifier stands for.
func mergeRows[T any](m *merger, here, there *table[T], state func(*T) State, telling ...string) {
	for i := range there.entries {
		e := &there.entries[i]
		id := *there.id(e)
		if m.leftOut(id) {
			continue
		}
		places := here.exactly(id)
		if len(places) == 0 {
			if was, is := m.here.takenBack(here.name, id), what(there, e, telling); was != "" && state(e) != Void {
				if gone := here.ofRecord(was); what(here, &gone, telling) != is {
					m.clash(id, "taken back: "+what(here, &gone, telling), is) // and nothing is saved
				}
			}
			here.append(*e)
			m.count(here.name, 1, 0)
			continue
		}
		at := places[0]
		decided := compareRows(m, here, at, there, e)
		switch clashing := slices.ContainsFunc(decided, func(d decision) bool { return d.open && slices.Contains(telling, d.Column) }); {
		case clashing && state(e) == Void:
			m.out[id] = true
			m.merged.LeftOut = append(m.merged.LeftOut, id)
		case clashing:
			m.clash(id, what(here, &here.entries[at], telling), what(there, e, telling))
		default:
			applyTo(m, here, at, decided)
		}
	}
}

// takenBack is the record of a row that was taken back and has no other since;
// "" where there is none.
func (r *Registry) takenBack(file string, id ids.ID) string {
	if !r.Spent(id) {
		return ""
	}
	for _, e := range slices.Backward(r.history.entries) {
		if e.removed() && e.File == file && e.Key == id.String() {
			return e.Before
		}
	}
	return ""
}

// clash notes an identifier that stands for two things.
func (m *merger) clash(id ids.ID, here, there string) {
	labels := 0
	for _, at := range m.there.labels.within(id) {
		if m.there.labels.entries[at].State == LabelLive {
			labels++
		}
	}
	m.out[id] = true
	m.clashes = append(m.clashes, Clash{id, here, there, labels, m.there.toGiveUp(id)})
}

// toGiveUp names an identifier with all that is in use below it; "" where any of
// them has lived.
func (r *Registry) toGiveUp(id ids.ID) string {
	all := append([]ids.ID{id}, r.liveBelow(id)...)
	if slices.ContainsFunc(all, func(one ids.ID) bool { return r.lived(one) != nil }) {
		return ""
	}
	return runs(all)
}

// what lists the cells that tell what an entry is.
func what[T any](t *table[T], e *T, telling []string) string {
	var cells []string
	for _, name := range telling {
		if s := t.columns[t.column(name)].write(e); s != "" {
			cells = append(cells, strings.ReplaceAll(name, "_", " ")+" "+s)
		}
	}
	if cells == nil {
		return "nothing recorded"
	}
	return strings.Join(cells, ", ")
}

// decision is what is to become of a cell that differs.
type decision struct {
	Difference
	open  bool // neither history tells which is the later
	fills bool // it was empty here
}

// compareRows decides on the cells of a row here that differ from one there.
func compareRows[T any](m *merger, here *table[T], at int32, there *table[T], e *T) []decision {
	var decided []decision
	for _, c := range here.columns {
		was, is := c.write(&here.entries[at]), c.write(e)
		if was == is {
			continue
		}
		d := Difference{File: here.name, Key: here.id(e).String(), Column: c.name, Row: here.number(int(here.at[at])), Here: was, There: is}
		if decision, differs := m.decide(d); differs {
			decided = append(decided, decision)
		}
	}
	return decided
}

// decide returns what is to become of a cell that differs: whichever came later
// by the histories, else what is there at all, else what is preferred.
func (m *merger) decide(d Difference) (decision, bool) {
	laterHere, laterThere := replaced(m.onlyHere, d, d.There), replaced(m.onlyThere, d, d.Here)
	switch {
	case d.There == "" && !laterThere:
		return decision{}, false
	case laterThere && !laterHere, d.Here == "" && !laterHere:
		d.Kept = There
		return decision{Difference: d, fills: d.Here == ""}, true
	case laterHere && !laterThere:
		d.Kept = Here
		return decision{Difference: d}, true
	}
	d.Kept = m.prefer
	return decision{Difference: d, open: true}, true
}

// replaced reports whether one of the events put something else in a cell's place.
func replaced(events []Event, d Difference, text string) bool {
	return slices.ContainsFunc(events, func(e Event) bool {
		return e.File == d.File && e.Column == d.Column && e.Before == text && e.Key == d.Key
	})
}

// onlyIn returns the events of a history that another one does not tell of.
func onlyIn(h, other *history) []Event {
	known := map[Event]bool{}
	for _, e := range other.entries {
		known[e.bare()] = true
	}
	var only []Event
	for _, e := range h.entries {
		if !known[e.bare()] {
			only = append(only, e)
		}
	}
	return only
}

// applyTo writes what was decided into a row, and tells of it.
func applyTo[T any](m *merger, t *table[T], at int32, decided []decision) {
	e := t.entries[at]
	for _, d := range decided {
		if d.Kept == There {
			t.columns[t.column(d.Column)].read(d.There, &e)
		}
		m.tell(d)
	}
	t.replace(at, e)
}

// tell notes what became of a cell that differs.
func (m *merger) tell(d decision) {
	switch {
	case d.fills:
		m.count(d.File, 0, 1)
	case d.open:
		m.merged.Differences = append(m.merged.Differences, d.Difference)
	default:
		m.merged.Newer = append(m.merged.Newer, d.Difference)
	}
}

// mergeListing takes in the rows of a listing that is found by a key.
func mergeListing[T any](m *merger, here, there *listing[T], key func(*T) string) {
	for i := range there.entries {
		e := &there.entries[i]
		at := slices.IndexFunc(here.entries, func(h T) bool { return strings.EqualFold(key(&h), key(e)) })
		if at < 0 {
			here.append(*e)
			m.count(here.name, 1, 0)
			continue
		}
		merged := here.entries[at]
		for _, c := range here.columns {
			was, is := c.write(&here.entries[at]), c.write(e)
			d := Difference{File: here.name, Key: here.columns[0].write(e), Column: c.name, Row: here.number(at), Here: was, There: is}
			if was == is || strings.EqualFold(was, is) {
				continue
			}
			if decided, differs := m.decide(d); differs {
				if decided.Kept == There {
					c.read(is, &merged)
				}
				m.tell(decided)
			}
		}
		here.replace(at, merged)
	}
}
