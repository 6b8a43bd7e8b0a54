package season

import (
	"pipstake/ids"
	"pipstake/ids/registry"
)

// Role is what a plant was to its offspring.
type Role int

// The roles.
const (
	NoRole     Role = iota // the plant that was asked about
	SeedRole               // seed parent, ♀
	PollenRole             // pollen parent, ♂
	BothRoles              // selfed: SeedRole|PollenRole
)

var roleSigns = [...]string{"", "♀", "♂", "♀♂"}

// String is the sign of the role: "♀", "♂", or "♀♂" for a plant that was
// selfed.
func (r Role) String() string { return roleSigns[r] }

// Branch is a plant in the tree of the ancestors of another one. Each plant
// that is met again is shown with its ancestors once only, so that the tree
// grows no larger than the pedigree.
type Branch struct {
	Plant   *Plant
	Role    Role
	Again   bool // its ancestors stand higher up already
	Cut     bool // it has ancestors, and the tree ends before them
	Parents []*Branch
}

// Tree returns a plant's ancestors over so many generations; all for 0.
func (p *Pedigree) Tree(plant *Plant, generations int) *Branch {
	if generations <= 0 {
		generations = plant.generation
	}
	return grow(plant, NoRole, generations, map[*Plant]bool{})
}

func grow(plant *Plant, role Role, generations int, shown map[*Plant]bool) *Branch {
	b := &Branch{Plant: plant, Role: role}
	switch {
	case plant.IsFounder():
	case shown[plant.genotype()]:
		b.Again = true
	case generations == 0:
		b.Cut = true
	case plant.Seed == plant.Pollen:
		shown[plant.genotype()] = true
		b.Parents = []*Branch{grow(plant.Seed, BothRoles, generations-1, shown)}
	default:
		shown[plant.genotype()] = true
		b.Parents = []*Branch{
			grow(plant.Seed, SeedRole, generations-1, shown),
			grow(plant.Pollen, PollenRole, generations-1, shown),
		}
	}
	return b
}

// Use is a cross in which a plant was a parent.
type Use struct {
	Cross ids.ID
	Role  Role
}

// Uses returns the crosses that are in use with a seedling as a parent, in the
// order of their file.
func (p *Pedigree) Uses(seedling ids.ID) []Use {
	var uses []Use
	for _, c := range p.r.Crosses() {
		role := NoRole
		if p.isPlant(c.SeedParent, seedling) {
			role = SeedRole
		}
		if p.isPlant(c.PollenParent, seedling) {
			role |= PollenRole // both make BothRoles
		}
		if role != NoRole && c.State != registry.Void {
			uses = append(uses, Use{c.ID, role})
		}
	}
	return uses
}

// isPlant reports whether a parent's cell names a seedling, by its identifier
// or as a selection.
func (p *Pedigree) isPlant(name string, seedling ids.ID) bool {
	id, own := ownPlant(p.names, name)
	return own && id == seedling
}
