package season

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"pipstake/ids"
	"pipstake/ids/registry"
)

// Plant is a plant in a pedigree: an own seedling, the offspring of a cross, a
// variety, or a founder, of which nothing but the name is known. Two plants are
// the same one where their pointers are, and the same genotype where they are
// sports of one variety too.
type Plant struct {
	ID     ids.ID // of the seedling or the cross; zero for what has only a name
	Name   string // of a variety or a selection, as first written; what is said of a parent that is no one plant
	Seed   *Plant // the seed parent; nil where not on record, as for a founder
	Pollen *Plant // the pollen parent; nil where Seed is
	Sport  *Plant // what it is a bud sport of, whose parents are its own; nil for none

	serial     int  // in the order in which the pedigree met it
	generation int  // 0 without parents, else one more than that of the parents
	unknown    bool // a parent that is no one known plant: open, a mixture, not known
	open       bool // such a parent is among its ancestors
}

// String is the name, else the identifier.
func (p *Plant) String() string {
	if p.Name == "" {
		return p.ID.String()
	}
	return p.Name
}

// IsFounder reports whether nothing is on record of the plant's parents.
func (p *Plant) IsFounder() bool { return p.Seed == nil }

// IsUnknown reports whether the plant stands for a parent that is no one known
// plant: open pollination, a mixture, or a parent not known.
func (p *Plant) IsUnknown() bool { return p.unknown }

// PartlyUnknown reports whether the plant has ancestors that are no one known plant,
// so that it may be more inbred than is on record.
func (p *Plant) PartlyUnknown() bool { return p.open }

// Generations is how many generations of ancestors are on record.
func (p *Plant) Generations() int { return p.generation }

// genotype is the plant itself, for a sport what it is one of.
func (p *Plant) genotype() *Plant {
	for p.Sport != nil {
		p = p.Sport
	}
	return p
}

// Pedigree tells who descends from whom, by the crosses, the selections and
// varieties.csv. Plants of the same name are the same plant, whatever the case
// and the spaces; a parent that is not known, or none in particular, is another
// plant each time.
type Pedigree struct {
	r       *registry.Registry
	names   *registry.Names
	plants  map[ids.ID]*Plant
	named   map[string]*Plant
	pending []*Plant // on the way to the one being looked up
	count   int      // of plants
	kin     map[pair]float64
	variety []registry.Variety
}

// NewPedigree reads a pedigree off a registry, as far as asked for. The
// registry must not change while it is in use.
func NewPedigree(r *registry.Registry) *Pedigree {
	return &Pedigree{r: r, names: r.Names(), variety: r.Varieties(), plants: map[ids.ID]*Plant{}, named: map[string]*Plant{}, kin: map[pair]float64{}}
}

// CycleError says that a plant would be its own ancestor.
type CycleError struct {
	Line []*Plant // from a plant over its ancestors back to itself
}

func (e *CycleError) Error() string {
	var names []string
	for _, p := range e.Line {
		names = append(names, p.String())
	}
	return fmt.Sprintf("%s is among its own ancestors: %s", e.Line[0], strings.Join(names, " ← "))
}

// Plant returns a seedling with its ancestors. For a cross, a seed lot or a pot
// it is any one plant that comes of the cross. The error is a *CycleError where
// crosses and varieties contradict themselves.
func (p *Pedigree) Plant(id ids.ID) (*Plant, error) {
	if id.Level() != ids.SeedlingLevel {
		id = id.At(ids.CrossLevel)
	}
	return p.own(id)
}

// Named returns the plant that a parent's cell may name, with its ancestors: a
// variety, a selection, a seedling. The error is a *CycleError.
func (p *Pedigree) Named(name string) (*Plant, error) { return p.parent(name) }

// own returns the plant with an identifier, which came of the cross above it.
func (p *Pedigree) own(id ids.ID) (*Plant, error) {
	if plant, ok := p.plants[id]; ok {
		return plant, p.circle(plant)
	}
	plant := p.meet(&Plant{ID: id})
	if s, ok := p.r.Seedling(id); ok {
		plant.Name = s.Name
	}
	p.plants[id] = plant
	cross, ok := p.r.Cross(id.At(ids.CrossLevel))
	if !ok {
		return plant, nil
	}
	err := p.raise(plant, cross.SeedParent, cross.PollenParent)
	if err != nil {
		delete(p.plants, id)
		return nil, err
	}
	return plant, nil
}

// raise gives a plant its parents.
func (p *Pedigree) raise(plant *Plant, seed, pollen string) error {
	p.pending = append(p.pending, plant)
	defer func() { p.pending = p.pending[:len(p.pending)-1] }()
	female, male := registry.ReadParent(seed), registry.ReadParent(pollen)
	seedParent, err := p.parent(seed)
	if err != nil {
		return err
	}
	pollenParent := seedParent
	if male.Kind != registry.OwnPollen {
		if pollenParent, err = p.parent(pollen); err != nil {
			return err
		}
	}
	if female.Kind == registry.OwnPollen {
		seedParent = pollenParent
	}
	plant.Seed, plant.Pollen = seedParent, pollenParent
	plant.generation = 1 + max(seedParent.generation, pollenParent.generation)
	plant.open = seedParent.open || pollenParent.open
	return nil
}

// circle is the error for a plant that is still being looked up; nil for any
// other.
func (p *Pedigree) circle(plant *Plant) error {
	first := slices.Index(p.pending, plant)
	if first < 0 {
		return nil
	}
	return &CycleError{append(slices.Clone(p.pending[first:]), plant)}
}

// parent returns the plant that the cell of a parent names.
func (p *Pedigree) parent(cell string) (*Plant, error) {
	if read, err := ids.Parse(cell); err == nil {
		return p.own(read.ID)
	}
	said := registry.ReadParent(cell)
	if said.Kind != registry.OnePlant {
		return p.meet(&Plant{Name: said.String(), unknown: true, open: true}), nil
	}
	known, isKnown := p.names.Known(cell)
	if !isKnown {
		known = registry.KnownName{Name: cell, Row: -1}
	}
	if known.Selection != (ids.ID{}) {
		return p.own(known.Selection)
	}
	key := registry.NameKey(known.Name)
	if plant, ok := p.named[key]; ok {
		return plant, p.circle(plant)
	}
	plant := p.meet(&Plant{Name: known.Name})
	p.named[key] = plant
	if known.Row < 0 {
		return plant, nil
	}
	if err := p.raiseVariety(plant, p.variety[known.Row]); err != nil {
		delete(p.named, key)
		return nil, err
	}
	return plant, nil
}

// raiseVariety gives a variety what varieties.csv tells of its parents, or of
// what it is a sport of.
func (p *Pedigree) raiseVariety(plant *Plant, v registry.Variety) error {
	switch {
	case v.SportOf != "":
		p.pending = append(p.pending, plant)
		of, err := p.parent(v.SportOf)
		p.pending = p.pending[:len(p.pending)-1]
		if err != nil || of.unknown {
			return err
		}
		plant.Sport, plant.Seed, plant.Pollen = of, of.Seed, of.Pollen
		plant.generation, plant.open = of.generation, of.open
	case v.SeedParent+v.PollenParent != "":
		return p.raise(plant, cmp.Or(v.SeedParent, unknownParent), cmp.Or(v.PollenParent, unknownParent))
	}
	return nil
}

// unknownParent is the word for a parent of which nothing is on record.
const unknownParent = "unknown"

// meet numbers a new plant.
func (p *Pedigree) meet(plant *Plant) *Plant {
	p.count++
	plant.serial = p.count
	return plant
}
