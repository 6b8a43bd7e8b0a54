package registry

import (
	"fmt"

	"pipstake/ids"
)

// Print is a label that is to be printed.
type Print struct {
	Face    Face
	ID      ids.ID
	Copy    int // 1 or 2 of a pair of stakes, else 0
	Stock   string
	Sheet   int // of that stock, from 1
	Cell    int // on the sheet, from 1
	Payload string
}

// AddLabels records a printing and returns its batch number, one more than any
// before. Whether the same label is in use already is not asked. The error is
// a *Refusal for a label that cannot be, and a *DamageError where a batch
// number cannot be read.
func (r *Registry) AddLabels(printed Date, prints []Print) (batch int, err error) {
	if len(prints) == 0 {
		return 0, &Refusal{"there is no label to print", "give an identifier"}
	}
	for _, p := range prints {
		switch {
		case r.Status(p.ID) == Unknown:
			return 0, r.noRow(p.ID, r.level(max(p.ID.Level(), ids.CrossLevel)))
		case p.Sheet < 1 || p.Cell < 1 || p.Copy < 0:
			return 0, &Refusal{fmt.Sprintf("the label of %s has no place on a sheet: copy %d, sheet %d, cell %d", p.ID, p.Copy, p.Sheet, p.Cell), "count sheets and cells from 1"}
		}
	}
	if batch, err = r.lastBatch(); err != nil {
		return 0, err
	}
	batch++
	for _, p := range prints {
		r.labels.append(Label{Batch: batch, Printed: printed, Face: p.Face, ID: p.ID, Copy: p.Copy,
			Stock: p.Stock, Sheet: p.Sheet, Cell: p.Cell, Payload: p.Payload})
	}
	return batch, nil
}

// LabelRow is the row of the label at a place in Labels, as a spreadsheet
// numbers it.
func (r *Registry) LabelRow(place int) int { return r.labels.number(int(r.labels.at[place])) }

// lastBatch is the largest batch number, rows without an identifier included.
func (r *Registry) lastBatch() (int, error) {
	last := 0
	for _, rows := range [][]Label{r.labels.entries, r.labels.strays} {
		for _, l := range rows {
			last = max(last, l.Batch)
		}
	}
	column := r.labels.column("batch")
	for _, f := range r.labels.damage {
		if f.column == column {
			return 0, &DamageError{[]Finding{f.finding}}
		}
	}
	return last, nil
}

// RetireLabels gives the live labels that match another state, and returns how
// many they are.
func (r *Registry) RetireLabels(match func(Label) bool, to LabelState) int {
	n := 0
	for i, l := range r.labels.entries {
		if l.State == LabelLive && match(l) {
			l.State = to
			r.labels.replace(int32(i), l)
			n++
		}
	}
	return n
}

// LastSheet is the highest sheet number recorded for a stock, or 0.
func (r *Registry) LastSheet(stock string) int {
	last := 0
	for _, rows := range [][]Label{r.labels.entries, r.labels.strays} {
		for _, l := range rows {
			if l.Stock == stock {
				last = max(last, l.Sheet)
			}
		}
	}
	return last
}

// Missing returns the labels that should exist and do not: a bag label for every
// seed lot that grows and still holds seed, two stakes for every pot from which
// something may still come, a label for every seedling that grows and one for
// each of its grafted copies. What is void or has ended asks for none. They come
// in the order of the files, seed lots first. Only Face, ID and Copy are filled
// in.
func (r *Registry) Missing() []Print {
	var missing []Print
	w := r.Cursor()
	want := func(id ids.ID, face Face, copies ...int) {
		places := r.labels.index.exactly(id, &w.labels)
		for _, n := range copies {
			if !r.hasLabel(places, face, n) {
				missing = append(missing, Print{Face: face, ID: id, Copy: n})
			}
		}
	}
	for i, l := range r.lots.entries {
		if r.lots.first(i, &w.lots) && w.grows(l.ID) && r.holdsSeed(l) {
			want(l.ID, BagFace, 0)
		}
	}
	for i := range r.pots.entries {
		id := r.pots.entries[i].ID
		if before := len(missing); r.pots.first(i, &w.pots) && w.grows(id) {
			want(id, StakeFace, 1, 2)
			if len(missing) > before && r.AllOut(id) {
				missing = missing[:before]
			}
		}
	}
	for i := range r.seedlings.entries {
		if id := r.seedlings.entries[i].ID; r.seedlings.first(i, &w.seedlings) {
			want(id, SeedlingFace, r.copies(w, id)...)
		}
	}
	return missing
}

// copies returns the copies of a seedling that want a label: 0 for the seedling
// itself while it grows, and from 1 on the grafted ones, which outlive it unless
// it was culled.
func (r *Registry) copies(w *Cursor, seedling ids.ID) []int {
	if w.Status(seedling) != Issued {
		return nil
	}
	var all []int
	end, ended := w.endOf(seedling)
	if !ended {
		all = append(all, 0)
	}
	if end.How == Culled {
		return nil
	}
	for n := range r.CopiesOf(seedling) {
		all = append(all, n+1)
	}
	return all
}

// hasLabel reports whether one of the labels at places is live, and of a face and
// copy.
func (r *Registry) hasLabel(places []int32, face Face, n int) bool {
	for _, place := range places {
		l := &r.labels.entries[place]
		if l.State == LabelLive && l.Face == face && l.Copy == n {
			return true
		}
	}
	return false
}

// holdsSeed reports whether a lot's bag may still hold seed worth sowing.
func (r *Registry) holdsSeed(l Lot) bool {
	if !l.Seeds.Known {
		return true
	}
	sum, err := r.seedSum(l)
	return err != nil || sum.remain() > 0
}
