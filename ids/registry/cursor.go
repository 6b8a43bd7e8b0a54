package registry

import "pipstake/ids"

// Cursor looks identifiers up one after the other. It remembers where in each
// table the last one was found, so that whoever asks in the order of the
// identifiers is answered at once. It is for one goroutine and for a registry
// that is not changed meanwhile.
type Cursor struct {
	r                              *Registry
	crosses, lots, pots, seedlings int
	labels                         int
}

// Cursor returns a cursor at the first row.
func (r *Registry) Cursor() *Cursor { return &Cursor{r: r} }

// Status of an identifier.
func (c *Cursor) Status(id ids.ID) Status {
	if _, ok := c.state(id); !ok {
		return Unknown
	}
	if _, void := c.voidedBy(id); void {
		return Voided
	}
	return Issued
}

// state is what the identifier's own row says; false where there is none.
func (c *Cursor) state(id ids.ID) (State, bool) {
	switch id.Level() {
	case ids.CrossLevel:
		if c := c.r.crosses.near(id, &c.crosses); c != nil {
			return c.State, true
		}
	case ids.LotLevel:
		if l := c.r.lots.near(id, &c.lots); l != nil {
			return l.State, true
		}
	case ids.PotLevel:
		if p := c.r.pots.near(id, &c.pots); p != nil {
			return p.State, true
		}
	case ids.SeedlingLevel:
		if s := c.r.seedlings.near(id, &c.seedlings); s != nil {
			return s.State, true
		}
	}
	return Live, false
}

// voidedBy is the outermost among the identifier and those above it that is
// void; false where none is.
func (c *Cursor) voidedBy(id ids.ID) (ids.ID, bool) {
	for level := ids.CrossLevel; level <= id.Level(); level++ {
		if state, ok := c.state(id.At(level)); ok && state == Void {
			return id.At(level), true
		}
	}
	return ids.ID{}, false
}

// Cross is the first row of a cross, with nothing in it where there is none.
func (c *Cursor) Cross(id ids.ID) Cross {
	if c := c.r.crosses.near(id, &c.crosses); c != nil {
		return *c
	}
	return Cross{}
}

// Lot is the first row of a seed lot, with nothing in it where there is none.
func (c *Cursor) Lot(id ids.ID) Lot {
	if l := c.r.lots.near(id, &c.lots); l != nil {
		return *l
	}
	return Lot{}
}

// Pot is the first row of a pot, with nothing in it where there is none.
func (c *Cursor) Pot(id ids.ID) Pot {
	if p := c.r.pots.near(id, &c.pots); p != nil {
		return *p
	}
	return Pot{}
}
