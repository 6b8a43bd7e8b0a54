package season

import (
	"pipstake/ids"
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

// InHand is what there is of a cross against an aim.
type InHand struct {
	Cross    registry.Cross
	Plan     Plan
	Lots     int     // live ones
	Unopened int     // of them, those whose seeds are not counted yet
	Seeds    int     // good ones: in the bag and sown
	InBags   int     // of them, those not sown
	Up       int     // seedlings so far, less those that died
	Chance   float64 // that the seeds give so many seedlings
}

// Short is how many seeds are missing.
func (h InHand) Short() int { return max(0, h.Plan.Seeds-h.Seeds) }

// InHandOf looks at what there is of a cross. What came up by now does not
// change the chance: it is that of all of the seed.
func InHandOf(r *registry.Registry, practice Practice, cross registry.Cross, aim Aim) InHand {
	h := InHand{Cross: cross, Plan: PlanFor(aim, practice.For(cross.ID))}
	for _, lot := range r.LotsOf(cross.ID) {
		if lot.State == registry.Void {
			continue
		}
		h.Lots++
		if !lot.Seeds.Known {
			h.Unopened++
			continue
		}
		sown := 0
		for _, pot := range r.PotsOf(lot.ID) {
			if pot.State == registry.Void {
				continue
			}
			sown += pot.Seeds.N
			h.Up += standing(r, pot.ID)
		}
		good := max(0, lot.Seeds.N-lot.Undeveloped.N)
		h.Seeds += good
		h.InBags += max(0, good-sown)
	}
	h.Chance = Chance(h.Seeds, aim.Seedlings, h.Plan.Rate)
	return h
}

// standing is how many seedlings are alive in a pot by its last count.
func standing(r *registry.Registry, pot ids.ID) int {
	counts := r.EmergenceOf(pot)
	if len(counts) == 0 {
		return 0
	}
	return max(0, counts[len(counts)-1].Up.N-lastDied(counts))
}
