package season

import "pipstake/ids/registry"

// Improbable is a count that is hardly true.
type Improbable struct {
	What     string // that was counted: "fruit", "seeds"
	N        int
	Beside   string // "flowers", "fruit"
	Of       int
	Believed int // at most, of each; 1 where there cannot be more
}

// ImprobableOf looks at what was counted of a seed lot: more fruit than flowers were
// pollinated, or more seeds in a fruit than the protocol believes. Apples have ten
// ovules as a rule; triploids and other genera may differ.
func ImprobableOf(r *registry.Registry, cross registry.Cross, lot registry.Lot, p Protocol) []Improbable {
	var found []Improbable
	if fruit, _ := FruitOf(r, cross); fruit.Known && cross.Flowers.Known && fruit.N > cross.Flowers.N {
		found = append(found, Improbable{"fruit", fruit.N, "flowers", cross.Flowers.N, 1})
	}
	if lot.Fruit.Known && lot.Seeds.Known && lot.Seeds.N > p.Fruit.BelievedSeeds*lot.Fruit.N {
		found = append(found, Improbable{"seeds", lot.Seeds.N, "fruit", lot.Fruit.N, p.Fruit.BelievedSeeds})
	}
	return found
}
