package season

import (
	"math"

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
	Seeds                 int    // good ones, to sow
	PerFruit              Figure // seeds
	LeastFruit, MostFruit int    // that hold so many seeds
	Pots, Stakes          int
}

// PlanFor reckons what an aim takes under a protocol, by the figures of the
// grower's experience. Fruit are reckoned from the fullest to the poorest: of the
// single crosses where the figure is the grower's own.
func PlanFor(aim Aim, p Protocol, e Experience) Plan {
	plan := Plan{Rate: aim.Rate, PerFruit: e.PerFruit}
	if plan.Rate == 0 {
		plan.Rate = e.Germination.Value
	}
	plan.Seeds = SeedsFor(aim.Seedlings, aim.Certainty, plan.Rate)
	plan.LeastFruit = int(math.Ceil(float64(plan.Seeds)/max(e.PerFruit.High, 1) - 1e-9))
	plan.MostFruit = int(math.Ceil(float64(plan.Seeds)/max(e.PerFruit.Low, 1) - 1e-9))
	plan.Pots = roundUp(plan.Seeds, p.Sowing.SeedsPerPot)
	plan.Stakes = 2 * plan.Pots
	return plan
}

func roundUp(n, of int) int { return (n + of - 1) / of }

// InHand is what there is of a cross against an aim. A pot whose counting is
// over is taken for its outcome; seeds in bags, and those of other pots that
// have not come up, are open. What ended is not in hand: its seeds do not come
// back.
type InHand struct {
	Cross    registry.Cross
	Rate     float64
	Lots     int     // in use
	Unopened int     // of them, those whose seeds are not counted yet
	Seeds    int     // good ones: in bags and in pots
	InBags   int     // of them, those not sown
	Open     int     // of them, those of which no outcome is known
	Going    int     // pots of which more may come up
	Up       int     // seedlings alive, in pots and pricked out
	Needed   int     // open seeds that the aim takes beside those that are up
	Short    int     // good seeds that are missing, as far as is known
	Chance   float64 // that the open seeds give what is missing
}

// Waits reports whether it is too early to say that seeds are missing: more may
// come up, or bags hold seeds that nobody has counted.
func (h InHand) Waits() bool { return h.Going > 0 || h.Unopened > 0 }

// InHandOf looks at what there is of a cross on a day.
func InHandOf(r *registry.Registry, practice Practice, cross registry.Cross, aim Aim, on registry.Date) InHand {
	p := practice.For(cross.ID)
	h := handful{InHand: InHand{Cross: cross, Rate: aim.Rate}}
	if h.Rate == 0 {
		h.Rate = p.Germination.Expected / 100
	}
	for _, lot := range r.LotsOf(cross.ID) {
		if lot.State == registry.Void {
			continue
		}
		h.addPots(r, lot.ID, p, on)
		if !r.Grows(lot.ID) {
			continue
		}
		h.Lots++
		if !lot.Seeds.Known {
			h.Unopened++
		}
		left, _ := r.LeftToSow(lot.ID) // 0 where a cell cannot be read, as check says
		h.InBags += left.N
		h.Seeds += left.N
		h.open = append(h.open, trials{left.N, h.Rate})
	}
	missing := max(0, aim.Seedlings-h.Up)
	for _, t := range h.open {
		h.Open += t.n
	}
	h.Needed = SeedsFor(missing, aim.Certainty, h.Rate)
	h.Chance = chanceOf(h.open, missing)
	h.Short = shortOf(h.open, missing, aim.Certainty, h.Rate)
	return h.InHand
}

// handful gathers what is in hand.
type handful struct {
	InHand
	open []trials
}

// addPots takes up the pots of a seed lot.
func (h *handful) addPots(r *registry.Registry, lot ids.ID, p Protocol, on registry.Date) {
	for _, pot := range r.PotsOf(lot) {
		if pot.State == registry.Void {
			continue
		}
		h.Up += AliveIn(r, pot)
		if pot.Fate != registry.Growing {
			continue
		}
		h.Seeds += pot.Seeds.N
		life := lifeOf(r, pot)
		if len(life.counts) > 0 && life.counting(p.Emergence, on) != Going {
			continue
		}
		h.Going++ // one that nobody ever counted may hold anything
		h.open = append(h.open, stillToCome(pot.Seeds.N, life.last().Up.N, h.Rate))
	}
}

// stillToCome is what may be expected of the seeds of a pot that have not come
// up: as many as its rate promises, less those that are up.
func stillToCome(sown, up int, rate float64) trials {
	if sown <= up {
		return trials{}
	}
	return trials{sown - up, max(0, rate*float64(sown)-float64(up)) / float64(sown-up)}
}

// AliveIn is how many seedlings of a pot live, in it or pricked out of it.
func AliveIn(r *registry.Registry, pot registry.Pot) int {
	pricked, alive := 0, 0
	for _, s := range r.SeedlingsOf(pot.ID) {
		if s.State == registry.Void {
			continue
		}
		pricked++
		if s.Fate == registry.Growing {
			alive++
		}
	}
	if pot.Fate != registry.Growing {
		return alive
	}
	last := lifeOf(r, pot).last()
	return alive + max(0, last.Up.N-last.Died.N-pricked)
}
