package season

import "pipstake/ids/registry"

// Improbable is a count that is hardly true.
type Improbable struct {
	What     string // that was counted: "fruit", "fruit opened", "seeds"
	N        int
	Beside   string // "flowers pollinated", "fruit picked", "fruit"
	Of       int
	Believed int // at most, of each; 1 where there cannot be more
}

// ImprobableOf looks at what was counted of a cross, and of one of its seed lots,
// which may be the zero Lot: more fruit than flowers were pollinated, more fruit
// opened than picked, or more seeds in a fruit than the protocol believes. Apples
// have ten ovules as a rule; triploids and other genera may differ.
func ImprobableOf(r *registry.Registry, cross registry.Cross, lot registry.Lot, p Protocol) []Improbable {
	var found []Improbable
	var opened registry.Count
	for _, l := range r.LotsOf(cross.ID) {
		if l.State != registry.Void {
			plus(&opened, l.Fruit)
		}
	}
	if cross.Fruit.Known && opened.N > cross.Fruit.N {
		found = append(found, Improbable{"fruit opened", opened.N, "fruit picked", cross.Fruit.N, 1})
	}
	if fruit, _ := FruitOf(r, cross); fruit.Known && cross.Flowers.Known && fruit.N > cross.Flowers.N {
		found = append(found, Improbable{"fruit", fruit.N, "flowers pollinated", cross.Flowers.N, 1})
	}
	if lot.Fruit.Known && lot.Seeds.Known && lot.Seeds.N > p.Fruit.BelievedSeeds*lot.Fruit.N {
		found = append(found, Improbable{"seeds", lot.Seeds.N, "fruit", lot.Fruit.N, p.Fruit.BelievedSeeds})
	}
	return found
}
