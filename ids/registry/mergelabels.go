package registry

import (
	"encoding/csv"
	"path/filepath"
	"slices"
	"strings"
)

// emergence takes in the counts: one a pot and day. One that was corrected away
// on either side since the two parted stays away.
func (m *merger) emergence() {
	here, there := m.here.emergence, m.there.emergence
	droppedHere, droppedThere := dropped(here, m.onlyHere), dropped(there, m.onlyThere)
	for _, e := range droppedThere {
		for _, at := range here.exactly(e.Pot) {
			if here.entries[at] == e {
				m.merged.Newer = append(m.merged.Newer, Difference{File: here.name, Key: e.Pot.String(), Column: "up", Row: here.number(int(here.at[at])), Here: e.Up.String(), Kept: There})
				here.remove(at)
				break
			}
		}
	}
	for i := range there.entries {
		e := &there.entries[i]
		if m.leftOut(e.Pot) {
			continue
		}
		at := int32(-1)
		for _, place := range here.exactly(e.Pot) {
			if here.entries[place].On == e.On {
				at = place
			}
		}
		if at < 0 && slices.Contains(droppedHere, *e) {
			continue
		}
		if at < 0 {
			here.append(*e)
			m.count(here.name, 1, 0)
			continue
		}
		applyTo(m, here, at, compareRows(m, here, at, there, e))
	}
}

// dropped returns the rows of a table that events took away, but for those that
// were only taken back.
func dropped[T any](t *table[T], events []Event) []T {
	var all []T
	for _, e := range events {
		if e.File == t.name && e.Undoes == 0 {
			all = append(all, t.ofRecord(e.Before))
		}
	}
	return all
}

// diary takes in the entries that are not here as often as they are there.
func (m *merger) diary() {
	here, there := m.here.diary, m.there.diary
	have := map[DiaryEntry]int{}
	for _, e := range here.entries {
		have[e]++
	}
	for _, e := range there.entries {
		if m.leftOut(e.ID) {
			continue
		}
		if have[e]--; have[e] >= 0 {
			continue
		}
		here.append(e)
		m.count(here.name, 1, 0)
	}
}

// labels takes in the labels. Those of a batch or sheet whose number means
// something else here get the next number.
func (m *merger) labels() {
	here, there := m.here.labels, m.there.labels
	numbers := newNumbers(m.here)
	came := m.here.labelsCome()
	var fresh []Label
	for i := range there.entries {
		l := there.entries[i]
		if m.leftOut(l.ID) {
			continue
		}
		at, found := m.here.sameLabel(l)
		if !found && came[l.printed()] {
			at, found = m.here.renumberedLabel(l)
		}
		if found {
			state := compareRows(m, here, at, there, &l)
			state = slices.DeleteFunc(state, func(d decision) bool { return d.Column == "batch" || d.Column == "sheet" })
			applyTo(m, here, at, state)
			continue
		}
		numbers.want(l)
		fresh = append(fresh, l)
	}
	for _, l := range fresh {
		here.append(numbers.renumber(l))
		m.count(here.name, 1, 0)
	}
	m.merged.Renumbered = numbers.changed
}

// printed is the label as it was when it was printed.
func (l Label) printed() Label {
	l.State = LabelLive
	return l
}

// labelsCome are the labels that were ever printed here or came here by earlier
// merges, with the numbers that they had then.
func (r *Registry) labelsCome() map[Label]bool {
	came := map[Label]bool{}
	for _, e := range r.history.entries {
		if e.File == labelsFile {
			came[r.labels.ofRecord(e.After).printed()] = true
		}
	}
	return came
}

// ofRecord reads an entry out of the text that record makes of a row.
func (t *table[T]) ofRecord(record string) T {
	var e T
	cells, err := csv.NewReader(strings.NewReader(record)).Read()
	if err != nil {
		return e
	}
	for _, cell := range cells {
		name, text, _ := strings.Cut(cell, "=")
		if i := t.column(name); i >= 0 {
			t.columns[i].read(text, &e)
		}
	}
	return e
}

// sameLabel finds a label but for its state.
func (r *Registry) sameLabel(l Label) (at int32, found bool) {
	for _, at := range r.labels.exactly(l.ID) {
		if r.labels.entries[at].printed() == l.printed() {
			return at, true
		}
	}
	return 0, false
}

// renumberedLabel finds a label that has another batch and sheet here.
func (r *Registry) renumberedLabel(l Label) (at int32, found bool) {
	for _, at := range r.labels.exactly(l.ID) {
		same := r.labels.entries[at]
		same.Batch, same.Sheet = l.Batch, l.Sheet
		if same.printed() == l.printed() {
			return at, true
		}
	}
	return 0, false
}

// place is a cell of a sheet.
type place struct {
	stock       string
	sheet, cell int
}

// numbers finds numbers of batches and sheets that are not in use.
type numbers struct {
	batches   map[int]bool
	cells     map[place]bool
	lastBatch int
	lastSheet map[string]int
	taken     map[place]bool // sheets, without a cell, that need another number
	given     map[place]int  // number by sheet, or by batch without a stock
	changed   []Renumbered
}

func newNumbers(r *Registry) *numbers {
	n := &numbers{batches: map[int]bool{}, cells: map[place]bool{}, lastSheet: map[string]int{}, taken: map[place]bool{}, given: map[place]int{}}
	for _, l := range r.labels.entries {
		n.batches[l.Batch] = true
		n.cells[place{l.Stock, l.Sheet, l.Cell}] = true
		n.inUse(l)
	}
	return n
}

func (n *numbers) inUse(l Label) {
	n.lastBatch = max(n.lastBatch, l.Batch)
	n.lastSheet[l.Stock] = max(n.lastSheet[l.Stock], l.Sheet)
}

// want looks whether a label's cell is free here.
func (n *numbers) want(l Label) {
	if n.cells[place{l.Stock, l.Sheet, l.Cell}] {
		n.taken[place{stock: l.Stock, sheet: l.Sheet}] = true
	}
	n.inUse(l)
}

// renumber gives a label the numbers that it has here.
func (n *numbers) renumber(l Label) Label {
	if n.batches[l.Batch] {
		l.Batch = n.number(place{sheet: l.Batch}, &n.lastBatch)
	}
	if sheet := (place{stock: l.Stock, sheet: l.Sheet}); n.taken[sheet] {
		last := n.lastSheet[l.Stock]
		l.Sheet = n.number(sheet, &last)
		n.lastSheet[l.Stock] = last
	}
	return l
}

// number gives what is renumbered its number: the one after last the first
// time, and later the same.
func (n *numbers) number(of place, last *int) int {
	if got, ok := n.given[of]; ok {
		return got
	}
	*last++
	n.given[of] = *last
	n.changed = append(n.changed, Renumbered{of.stock, of.sheet, *last})
	return *last
}

// history takes in what commands did there, so that it can be traced here. It
// cannot be taken back here one by one, only the merge as a whole.
func (m *merger) history() {
	here := m.here.history
	last, _ := here.latest()
	entries := m.knownEntries()
	for _, e := range m.onlyThere {
		if entries[e.Entry] == 0 {
			last++
			entries[e.Entry] = last
		}
		e.Entry, e.Undoes = entries[e.Entry], entries[e.Undoes]
		if e.From == "" {
			e.From = oneLineOf(strings.ReplaceAll(filepath.Base(m.there.dir), "\x00", ""))
		}
		here.append(e)
		here.keepSpent(e)
		m.count(here.name, 1, 0)
	}
}

// knownEntries are the numbers here of the commands there that both histories
// tell of.
func (m *merger) knownEntries() map[int]int {
	number := map[Event]int{}
	for _, e := range m.here.history.entries {
		number[e.bare()] = e.Entry
	}
	entries := map[int]int{}
	for _, e := range m.there.history.entries {
		if n, known := number[e.bare()]; known {
			entries[e.Entry] = n
		}
	}
	return entries
}

// bare is an event without what differs between registries.
func (e Event) bare() Event {
	e.Entry, e.Undoes, e.From = 0, 0, ""
	return e
}
