package season

import (
	"cmp"
	"slices"
)

// pair is two plants by their serial numbers, the smaller first.
type pair struct{ a, b int }

// Inbreeding is Wright's coefficient of inbreeding F of a plant, the
// probability that its two alleles of a gene descend from the same one:
// the coancestry of its parents. Founders are unrelated and not inbred. It is
// the least value where a plant is PartlyUnknown.
func (p *Pedigree) Inbreeding(plant *Plant) float64 {
	if plant.IsFounder() {
		return 0
	}
	return p.Coancestry(plant.Seed, plant.Pollen)
}

// Coancestry is the coefficient of coancestry (Malécot's kinship) of two
// plants: the F of their offspring. It is ½(1+F) of a plant with itself;
// otherwise half the sum of the coancestries of one with the parents of the
// other, the one that is no ancestor (Falconer and Mackay, Introduction to
// Quantitative Genetics, chapter 5). Sports of one variety are one genotype. Each pair is worked out
// once.
func (p *Pedigree) Coancestry(a, b *Plant) float64 {
	a, b = a.genotype(), b.genotype()
	if a == b {
		return (1 + p.Inbreeding(a)) / 2
	}
	if a.generation > b.generation {
		a, b = b, a // b is no ancestor of a
	}
	if b.IsFounder() {
		return 0
	}
	key := pair{min(a.serial, b.serial), max(a.serial, b.serial)}
	if known, ok := p.kin[key]; ok {
		return known
	}
	both := (p.Coancestry(a, b.Seed) + p.Coancestry(a, b.Pollen)) / 2
	p.kin[key] = both
	return both
}

// Relation is how two plants are related at the nearest.
type Relation int

// The relations.
const (
	Unrelated       Relation = iota // as far as is on record
	SamePlant                       // or two sports of one: a selfing
	ParentOffspring                 // a backcross
	FullSibs
	HalfSibs
	Kin // any other
)

var relationNames = [...]string{"unrelated", "the same plant", "parent and offspring", "full sibs", "half sibs", "kin"}

// String names the relation: "half sibs".
func (r Relation) String() string { return relationNames[r] }

// Relation returns how two plants are related at the nearest.
func (p *Pedigree) Relation(a, b *Plant) Relation {
	a, b = a.genotype(), b.genotype()
	switch {
	case a == b:
		return SamePlant
	case a.childOf(b) || b.childOf(a):
		return ParentOffspring
	case !a.IsFounder() && !b.IsFounder() && a.sameParents(b):
		return FullSibs
	case !a.IsFounder() && (b.childOf(a.Seed) || b.childOf(a.Pollen)):
		return HalfSibs
	case p.Coancestry(a, b) > 0:
		return Kin
	}
	return Unrelated
}

func (p *Plant) childOf(parent *Plant) bool {
	of := parent.genotype()
	return !p.IsFounder() && (p.Seed.genotype() == of || p.Pollen.genotype() == of)
}

// sameParents reports whether two plants have both parents in common.
func (p *Plant) sameParents(q *Plant) bool {
	a, b, c, d := p.Seed.genotype(), p.Pollen.genotype(), q.Seed.genotype(), q.Pollen.genotype()
	return a == c && b == d || a == d && b == c
}

// Share is the part of a plant's genes that comes from a founder, as expected:
// half from each parent.
type Share struct {
	Founder *Plant
	Part    float64 // from 0 to 1
}

// Founders returns the founders that a plant descends from, the largest share
// first. A founder descends from itself.
func (p *Pedigree) Founders(plant *Plant) []Share {
	part := map[*Plant]float64{plant.genotype(): 1}
	var shares []Share
	for _, a := range lineage(plant) {
		if a.IsFounder() {
			shares = append(shares, Share{a, part[a]})
			continue
		}
		part[a.Seed.genotype()] += part[a] / 2
		part[a.Pollen.genotype()] += part[a] / 2
	}
	slices.SortStableFunc(shares, func(a, b Share) int {
		return cmp.Or(cmp.Compare(b.Part, a.Part), cmp.Compare(a.Founder.String(), b.Founder.String()))
	})
	return shares
}

// NearestCommon returns the common ancestors of two plants, themselves included,
// through which no nearer one descends, in the order in which they are met.
func (p *Pedigree) NearestCommon(a, b *Plant) []*Plant {
	shared := map[*Plant]bool{}
	for _, x := range lineage(a) {
		shared[x] = false
	}
	var both []*Plant
	for _, x := range lineage(b) { // offspring before parents
		if _, ok := shared[x]; ok {
			both = append(both, x)
		}
	}
	var nearest []*Plant
	for _, x := range both {
		if !shared[x] {
			nearest = append(nearest, x)
		}
		if !x.IsFounder() {
			shared[x.Seed.genotype()], shared[x.Pollen.genotype()] = true, true // stands behind x
		}
	}
	slices.SortFunc(nearest, func(a, b *Plant) int { return a.serial - b.serial })
	return nearest
}

// lineage is a plant and all its ancestors, each genotype once, offspring
// before their parents.
func lineage(plant *Plant) []*Plant {
	plant = plant.genotype()
	all := []*Plant{plant}
	seen := map[*Plant]bool{plant: true}
	for i := 0; i < len(all); i++ {
		if all[i].IsFounder() {
			continue
		}
		for _, parent := range []*Plant{all[i].Seed.genotype(), all[i].Pollen.genotype()} {
			if !seen[parent] {
				seen[parent] = true
				all = append(all, parent)
			}
		}
	}
	slices.SortStableFunc(all, func(a, b *Plant) int { return b.generation - a.generation })
	return all
}
