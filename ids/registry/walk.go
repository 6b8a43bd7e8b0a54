package registry

import "pipstake/ids"

// Walk looks identifiers up one after the other. It remembers where in each
// table the last one was found, so that whoever asks in the order of the
// identifiers is answered at once. It is for one goroutine and for a registry
// that is not changed meanwhile.
type Walk struct {
	r                              *Registry
	crosses, lots, pots, seedlings int
	labels                         int
}

// Walk starts a walk.
func (r *Registry) Walk() *Walk { return &Walk{r: r} }

// Status of an identifier.
func (w *Walk) Status(id ids.ID) Status {
	if _, ok := w.state(id); !ok {
		return Unknown
	}
	if _, void := w.voidedBy(id); void {
		return Voided
	}
	return Issued
}

// state is what the identifier's own row says; false where there is none.
func (w *Walk) state(id ids.ID) (State, bool) {
	switch id.Level() {
	case ids.CrossLevel:
		if c := w.r.crosses.near(id, &w.crosses); c != nil {
			return c.State, true
		}
	case ids.LotLevel:
		if l := w.r.lots.near(id, &w.lots); l != nil {
			return l.State, true
		}
	case ids.PotLevel:
		if p := w.r.pots.near(id, &w.pots); p != nil {
			return p.State, true
		}
	case ids.SeedlingLevel:
		if s := w.r.seedlings.near(id, &w.seedlings); s != nil {
			return s.State, true
		}
	}
	return Live, false
}

// voidedBy is the outermost among the identifier and those above it that is
// void; false where none is.
func (w *Walk) voidedBy(id ids.ID) (ids.ID, bool) {
	for level := ids.CrossLevel; level <= id.Level(); level++ {
		if state, ok := w.state(id.At(level)); ok && state == Void {
			return id.At(level), true
		}
	}
	return ids.ID{}, false
}

// Cross is the first row of a cross, with nothing in it where there is none.
func (w *Walk) Cross(id ids.ID) Cross {
	if c := w.r.crosses.near(id, &w.crosses); c != nil {
		return *c
	}
	return Cross{}
}

// Lot is the first row of a seed lot, with nothing in it where there is none.
func (w *Walk) Lot(id ids.ID) Lot {
	if l := w.r.lots.near(id, &w.lots); l != nil {
		return *l
	}
	return Lot{}
}

// Pot is the first row of a pot, with nothing in it where there is none.
func (w *Walk) Pot(id ids.ID) Pot {
	if p := w.r.pots.near(id, &w.pots); p != nil {
		return *p
	}
	return Pot{}
}
