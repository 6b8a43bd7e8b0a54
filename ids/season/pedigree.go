package season

import (
	"fmt"
	"regexp"
	"strings"

	"pipstake/ids"
	"pipstake/ids/registry"
)

// Plant is a plant in a pedigree: an own seedling, the offspring of a cross, or
// a founder, of which nothing but the name is known. Two plants are the same
// one where their pointers are.
type Plant struct {
	ID     ids.ID // of the seedling or the cross; zero for a founder
	Name   string // of a founder, as first written
	Seed   *Plant // the seed parent; nil where not on record, as for a founder
	Pollen *Plant // the pollen parent; nil where Seed is

	serial     int  // in the order in which the pedigree met it
	generation int  // 0 without parents, else one more than that of the parents
	unknown    bool // a parent of which not even the name is known
}

// String is the identifier or the name.
func (p *Plant) String() string {
	if p.ID != (ids.ID{}) {
		return p.ID.String()
	}
	return p.Name
}

// IsFounder tells whether nothing is on record of the plant's parents.
func (p *Plant) IsFounder() bool { return p.Seed == nil }

// Generations is how many generations of ancestors are on record.
func (p *Plant) Generations() int { return p.generation }

// Pedigree tells who descends from whom. Plants of the same name are the same
// founder, whatever the case and the spaces; a parent that is not known is
// another plant each time.
type Pedigree struct {
	r        *registry.Registry
	plants   map[ids.ID]*Plant
	founders map[string]*Plant
	pending  []ids.ID // the plants on the way to the one being looked up
	count    int      // of plants
	kin      map[pair]float64
}

// NewPedigree reads a pedigree off the crosses of a registry, as far as asked
// for. The registry must not change while it is in use.
func NewPedigree(r *registry.Registry) *Pedigree {
	return &Pedigree{r: r, plants: map[ids.ID]*Plant{}, founders: map[string]*Plant{}, kin: map[pair]float64{}}
}

// CycleError says that a plant would be its own ancestor.
type CycleError struct {
	Line []ids.ID // from a plant over its ancestors back to itself
}

func (e *CycleError) Error() string {
	var names []string
	for _, id := range e.Line {
		names = append(names, id.String())
	}
	return fmt.Sprintf("%s is among its own ancestors: %s", e.Line[0], strings.Join(names, " ← "))
}

// Plant gives a seedling with its ancestors. For a cross, a seed lot or a pot
// it is any one plant that comes of the cross. The error is a *CycleError where
// the crosses contradict themselves.
func (p *Pedigree) Plant(id ids.ID) (*Plant, error) {
	if id.Level() != ids.SeedlingLevel {
		id = id.At(ids.CrossLevel)
	}
	return p.own(id)
}

// own gives the plant with an identifier, which came of the cross above it.
func (p *Pedigree) own(id ids.ID) (*Plant, error) {
	if plant, ok := p.plants[id]; ok {
		if plant == nil {
			return nil, p.cycle(id)
		}
		return plant, nil
	}
	plant := p.meet(&Plant{ID: id})
	cross, ok := p.r.Cross(id.At(ids.CrossLevel))
	if ok {
		p.plants[id] = nil // being looked up
		p.pending = append(p.pending, id)
		var err error
		if plant.Seed, err = p.parent(cross.SeedParent); err == nil {
			plant.Pollen, err = p.parent(cross.PollenParent)
		}
		p.pending = p.pending[:len(p.pending)-1]
		if err != nil {
			delete(p.plants, id)
			return nil, err
		}
		plant.generation = 1 + max(plant.Seed.generation, plant.Pollen.generation)
	}
	p.plants[id] = plant
	return plant, nil
}

// cycle is the error for a plant that is still being looked up.
func (p *Pedigree) cycle(id ids.ID) error {
	first := len(p.pending) - 1
	for p.pending[first] != id {
		first--
	}
	line := append([]ids.ID{}, p.pending[first:]...)
	return &CycleError{append(line, id)}
}

// parent gives the plant that a cell of crosses.csv names.
func (p *Pedigree) parent(name string) (*Plant, error) {
	if read, err := ids.Parse(name); err == nil {
		return p.own(read.ID)
	}
	if isUnknown(name) {
		return p.meet(&Plant{Name: "unknown", unknown: true}), nil
	}
	key := nameKey(name)
	founder, ok := p.founders[key]
	if !ok {
		founder = p.meet(&Plant{Name: name})
		p.founders[key] = founder
	}
	return founder, nil
}

// meet numbers a new plant.
func (p *Pedigree) meet(plant *Plant) *Plant {
	p.count++
	plant.serial = p.count
	return plant
}

// notKnown are the words for a parent that nobody knows; common practice.
var notKnown = regexp.MustCompile(`^(|\?+|unknown|not known|open|op|o\.p\.|open[ -]pollinated|open[ -]pollination)$`)

// isUnknown tells whether a cell says that the parent is not known.
func isUnknown(name string) bool { return notKnown.MatchString(nameKey(name)) }
