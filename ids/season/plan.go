package season

import (
	"pipstake/ids/registry"
)

// Aim is the seedlings that a grower wants of a cross.
type Aim struct {
	Seedlings int
	Certainty float64 // of having at least so many, part of one
	Rate      float64 // of seeds that come up, part of one; 0 for what the protocol expects
}

// Plan is what an aim takes.
type Plan struct {
	Rate                  float64
	Seeds                 int // good ones, to sow
	LeastFruit, MostFruit int // that hold so many seeds
	Pots, Stakes          int
}

// PlanFor reckons what an aim takes under a protocol.
func PlanFor(aim Aim, p Protocol) Plan {
	plan := Plan{Rate: aim.Rate}
	if plan.Rate == 0 {
		plan.Rate = p.Germination.Expected / 100
	}
	plan.Seeds = SeedsFor(aim.Seedlings, aim.Certainty, plan.Rate)
	plan.LeastFruit, plan.MostFruit = p.Fruit.For(plan.Seeds)
	plan.Pots = roundUp(plan.Seeds, p.Sowing.SeedsPerPot)
	plan.Stakes = 2 * plan.Pots
	return plan
}

// For is how many fruit hold a number of seeds, from the fullest to the
// poorest.
func (f Fruit) For(seeds int) (least, most int) {
	return roundUp(seeds, f.MostSeeds), roundUp(seeds, f.LeastSeeds)
}

func roundUp(n, of int) int { return (n + of - 1) / of }

// InHand is what there is of a cross against an aim. What was counted in a pot
// is taken for its outcome; seeds in bags and in pots that were not counted yet
// are open.
type InHand struct {
	Cross    registry.Cross
	Rate     float64
	Lots     int     // live ones
	Unopened int     // of them, those whose seeds are not counted yet
	Seeds    int     // good ones: in bags and sown
	InBags   int     // of them, those not sown
	Open     int     // of them, those of which no outcome is known
	Up       int     // seedlings alive at the last count
	Needed   int     // open seeds that the aim takes beside those that are up
	Chance   float64 // that the open seeds give what is missing
}

// Short is how many seeds are missing.
func (h InHand) Short() int { return max(0, h.Needed-h.Open) }

// InHandOf looks at what there is of a cross.
func InHandOf(r *registry.Registry, practice Practice, cross registry.Cross, aim Aim) InHand {
	h := InHand{Cross: cross, Rate: PlanFor(aim, practice.For(cross.ID)).Rate}
	for _, lot := range r.LotsOf(cross.ID) {
		if lot.State == registry.Void {
			continue
		}
		h.Lots++
		if !lot.Seeds.Known {
			h.Unopened++
		}
		h.addLot(r, lot)
	}
	missing := max(0, aim.Seedlings-h.Up)
	h.Needed = SeedsFor(missing, aim.Certainty, h.Rate)
	h.Chance = Chance(h.Open, missing, h.Rate)
	return h
}

func (h *InHand) addLot(r *registry.Registry, lot registry.Lot) {
	sown := 0
	for _, pot := range r.PotsOf(lot.ID) {
		if pot.State == registry.Void {
			continue
		}
		sown += pot.Seeds.N
		counts := r.EmergenceOf(pot.ID)
		if len(counts) == 0 {
			h.Open += pot.Seeds.N
			continue
		}
		h.Up += max(0, counts[len(counts)-1].Up.N-lastDied(counts))
	}
	inBag := max(0, lot.Seeds.N-lot.Undeveloped.N-sown)
	h.InBags += inBag
	h.Open += inBag
	h.Seeds += inBag + sown
}
