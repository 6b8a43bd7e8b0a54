package registry

import "pipstake/ids"

// walk looks identifiers up one after the other. It remembers where in each
// table the last one was found, so that those who ask in the order of the
// identifiers are answered at once.
type walk struct {
	r                              *Registry
	crosses, lots, pots, seedlings int
	labels                         int
}

// status of an identifier.
func (w *walk) status(id ids.ID) Status {
	if _, ok := w.state(id); !ok {
		return Unknown
	}
	if _, void := w.voidedBy(id); void {
		return Voided
	}
	return Issued
}

// state is what the identifier's own row says; false where there is none.
func (w *walk) state(id ids.ID) (State, bool) {
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
func (w *walk) voidedBy(id ids.ID) (ids.ID, bool) {
	for level := ids.CrossLevel; level <= id.Level(); level++ {
		if state, ok := w.state(id.At(level)); ok && state == Void {
			return id.At(level), true
		}
	}
	return ids.ID{}, false
}

// cross is the first row of a cross, with nothing in it where there is none.
func (w *walk) cross(id ids.ID) Cross {
	if c := w.r.crosses.near(id, &w.crosses); c != nil {
		return *c
	}
	return Cross{}
}

// lot is the first row of a seed lot, with nothing in it where there is none.
func (w *walk) lot(id ids.ID) Lot {
	if l := w.r.lots.near(id, &w.lots); l != nil {
		return *l
	}
	return Lot{}
}

// pot is the first row of a pot, with nothing in it where there is none.
func (w *walk) pot(id ids.ID) Pot {
	if p := w.r.pots.near(id, &w.pots); p != nil {
		return *p
	}
	return Pot{}
}
