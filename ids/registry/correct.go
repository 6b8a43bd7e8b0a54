package registry

import (
	"fmt"
	"slices"
	"strings"

	"pipstake/ids"
)

// Correction replaces facts in the row of a cross, seed lot, pot or seedling.
// What is nil stays; a Date or Count that is not known takes the fact out.
type Correction struct {
	SeedParent, PollenParent           *string // of a cross
	Swap                               bool    // the two parents of a cross
	Pollinated, Picked                 *Date
	Flowers, Fruit, Seeds, Undeveloped *Count // Fruit of a cross or a lot, Seeds of a lot or a pot
	Extracted, Chilled                 *Date  // of a lot
	Sown                               *Date  // of a pot
	Place                              *string
	Pricked                            *Date // of a seedling
	Name                               *string
	Ended                              *Date // of what has ended
}

// Changed is a fact before and after a correction.
type Changed struct {
	ID            ids.ID
	On            Date   // of a count; else zero
	Fact          string // the column that holds it
	Before, After string // "" where nothing is recorded
}

// columns lists the columns that the correction is about.
func (c Correction) columns() []string {
	var all []string
	for _, fact := range []struct {
		name  string
		given bool
	}{
		{"seed_parent", c.SeedParent != nil || c.Swap}, {"pollen_parent", c.PollenParent != nil || c.Swap},
		{"pollinated", c.Pollinated != nil}, {"picked", c.Picked != nil}, {"flowers", c.Flowers != nil},
		{"fruit", c.Fruit != nil}, {"seeds", c.Seeds != nil}, {"undeveloped", c.Undeveloped != nil},
		{"extracted", c.Extracted != nil}, {"chilled", c.Chilled != nil}, {"sown", c.Sown != nil},
		{"place", c.Place != nil}, {"pricked", c.Pricked != nil}, {"name", c.Name != nil}, {"ended", c.Ended != nil},
	} {
		if fact.given {
			all = append(all, fact.name)
		}
	}
	return all
}

// Correct replaces facts that are wrong, and returns those that changed. The
// error is a *SumError or an *EndedError where others would contradict them,
// another *Refusal, or a *DamageError where a cell that is not corrected cannot
// be read.
func (r *Registry) Correct(id ids.ID, c Correction) ([]Changed, error) {
	switch id.Level() {
	case ids.CrossLevel:
		return correctRow(r, r.crosses, id, c, func(e *Cross) error { return c.ofCross(r, e) })
	case ids.LotLevel:
		return correctRow(r, r.lots, id, c, c.ofLot)
	case ids.PotLevel:
		return correctRow(r, r.pots, id, c, c.ofPot)
	case ids.SeedlingLevel:
		return correctRow(r, r.seedlings, id, c, func(e *Seedling) error { return c.ofSeedling(r, e) })
	}
	return nil, &Refusal{"there is nothing to correct", "give an identifier"}
}

// correctRow changes a row and looks whether it still fits the others.
func correctRow[T any](r *Registry, t *table[T], id ids.ID, c Correction, apply func(*T) error) ([]Changed, error) {
	given := c.columns()
	if given == nil {
		return nil, &Refusal{fmt.Sprintf("what is wrong of %s is not said", id), "name a fact and what it is"}
	}
	var needs []string
	for _, name := range given {
		if t.column(name) < 0 {
			return nil, &Refusal{fmt.Sprintf("%s is a %s, and a %s has no %s", id, id.Level(), id.Level(), factName(name)), "correct it where it belongs"}
		}
	}
	for _, name := range t.known() {
		if name != "notes" && !slices.Contains(given, name) {
			needs = append(needs, name)
		}
	}
	at, err := r.usable(id, id.Level(), needs...)
	if err != nil {
		return nil, err
	}
	now := t.entries[at]
	if err := apply(&now); err != nil {
		return nil, err
	}
	changes := changesBetween(t, id, &t.entries[at], &now)
	return changes, tryOut(t, at, now, func() error { return r.fits(id) })
}

// factName is a column's name in words.
func factName(column string) string { return strings.ReplaceAll(column, "_", " ") }

// tryOut changes an entry, and takes that back where it then does not fit.
func tryOut[T any](t *table[T], at int32, now T, fits func() error) error {
	was, damage := t.entries[at], slices.Clone(t.damage)
	t.replace(at, now)
	err := fits()
	if err != nil {
		t.replace(at, was)
		t.damage = damage
	}
	return err
}

// changesBetween lists the cells in which two entries differ.
func changesBetween[T any](t *table[T], id ids.ID, was, now *T) []Changed {
	var all []Changed
	for _, c := range t.columns {
		if before, after := c.write(was), c.write(now); before != after {
			all = append(all, Changed{ID: id, Fact: c.name, Before: Unguard(before), After: Unguard(after)})
		}
	}
	return all
}

// set replaces a fact where there is something to replace it by.
func set[T any](fact *T, by *T) {
	if by != nil {
		*fact = *by
	}
}

func (c Correction) ofCross(r *Registry, e *Cross) (err error) {
	if c.Swap {
		if c.SeedParent != nil || c.PollenParent != nil {
			return &Refusal{"the parents are to be swapped, and one is named as well", "do one of the two"}
		}
		e.SeedParent, e.PollenParent = e.PollenParent, e.SeedParent
	}
	for _, p := range []struct {
		role       string
		name, with *string
	}{{"seed parent", &e.SeedParent, c.SeedParent}, {"pollen parent", &e.PollenParent, c.PollenParent}} {
		if p.with == nil {
			continue
		}
		if *p.name, err = r.parent(p.role, *p.with); err != nil {
			return err
		}
	}
	set(&e.Pollinated, c.Pollinated)
	set(&e.Picked, c.Picked)
	set(&e.Flowers, c.Flowers)
	set(&e.Fruit, c.Fruit)
	return setEnded(&e.Ended, c.Ended, e.ID, e.Fate)
}

func (c Correction) ofLot(e *Lot) error {
	set(&e.Fruit, c.Fruit)
	set(&e.Seeds, c.Seeds)
	set(&e.Undeveloped, c.Undeveloped)
	set(&e.Extracted, c.Extracted)
	set(&e.Chilled, c.Chilled)
	return setEnded(&e.Ended, c.Ended, e.ID, e.Fate)
}

func (c Correction) ofPot(e *Pot) (err error) {
	set(&e.Seeds, c.Seeds)
	set(&e.Sown, c.Sown)
	if c.Place != nil {
		if e.Place, err = oneLine("place", *c.Place); err != nil {
			return err
		}
	}
	return setEnded(&e.Ended, c.Ended, e.ID, e.Fate)
}

func (c Correction) ofSeedling(r *Registry, e *Seedling) (err error) {
	set(&e.Pricked, c.Pricked)
	if c.Place != nil {
		if e.Place, err = oneLine("place", *c.Place); err != nil {
			return err
		}
	}
	if c.Name != nil {
		if e.Name, err = oneName("name", *c.Name); err != nil {
			return err
		}
		if err := r.freeName(*e, e.Name); err != nil {
			return err
		}
	}
	return setEnded(&e.Ended, c.Ended, e.ID, e.Fate)
}

// setEnded replaces the day on which something ended.
func setEnded(ended, by *Date, id ids.ID, how Fate) error {
	switch {
	case by == nil:
		return nil
	case how == Growing:
		return &Refusal{fmt.Sprintf("%s has not ended", id), "end it first"}
	case by.IsZero():
		return &Refusal{fmt.Sprintf("the day of the end of %s is missing", id), "give it, or take the end back"}
	}
	*ended = *by
	return nil
}
