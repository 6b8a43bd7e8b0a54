package season

import (
	"maps"
	"slices"

	"pipstake/ids"
	"pipstake/ids/registry"
)

// Part is some out of a number: what became of what there was.
type Part struct{ N, Of int }

// Known reports whether there was anything.
func (p Part) Known() bool { return p.Of > 0 }

// Rate is the part of one. It needs a part that is known.
func (p Part) Rate() float64 { return float64(p.N) / float64(p.Of) }

// add takes up counts that are both known and do not contradict each other.
func (p *Part) add(n, of registry.Count) {
	if n.Known && of.Known && n.N <= of.N {
		p.N += n.N
		p.Of += of.N
	}
}

// Yield is what became of some crosses from flower to tree. Counts that nobody
// made are not known. Parts and ratios rest only on those rows in which both
// numbers are known, so they need not be what the sums would give.
type Yield struct {
	Name string   // an identifier, a parent's name as varieties.csv has it or else as first written, a year, days of cold
	IDs  []ids.ID // the crosses

	Flowers, Fruit, Seeds registry.Count
	Undeveloped           registry.Count // of the seeds
	Sown                  registry.Count
	Up                    registry.Count // in pots that were counted
	Pricked               registry.Count
	Alive, Selected       registry.Count

	Set        Part // fruit of flowers
	PerFruit   Part // seeds of fruit
	Empty      Part // undeveloped of seeds
	Germinated Part // up of sown, in pots that were counted

	Unpicked int // crosses whose fruit may still be counted: no harvest is on record
	Unopened int // seed lots whose seeds are not counted
	Going    int // pots of which more may come up
	Waiting  int // pots that were never counted
}

// SoFar reports whether anything of the yield may still grow.
func (y Yield) SoFar() bool { return y.Unopened > 0 || y.Going > 0 || y.Waiting > 0 }

// Yields is the yield of a registry, in groups and in all.
type Yields struct {
	Groups []Yield
	Total  Yield
}

// YieldOf puts the crosses in a scope together, what ended among them. By place
// and by cold only what was sown is told apart: flowers, fruit and seeds are not
// known of a place.
func YieldOf(r *registry.Registry, practice Practice, by By, scope Scope) Yields {
	h := &harvest{r: r, practice: practice, by: by, into: NewGrouper(r, by), scope: scope, groups: map[sortKey]*yielding{}}
	h.total.crosses = map[ids.ID]bool{}
	for _, cross := range r.Crosses() {
		if r.Status(cross.ID) == registry.Issued {
			h.cross(cross)
		}
	}
	out := Yields{Total: h.total.finish()}
	for _, key := range slices.SortedFunc(maps.Keys(h.groups), compareKeys) {
		out.Groups = append(out.Groups, h.groups[key].finish())
	}
	return out
}

// harvest gathers yields.
type harvest struct {
	r        *registry.Registry
	practice Practice
	by       By
	into     Grouper
	scope    Scope
	groups   map[sortKey]*yielding
	total    yielding
}

// yielding is a yield that is being gathered.
type yielding struct {
	Yield
	crosses map[ids.ID]bool
}

func (y *yielding) finish() Yield {
	y.IDs = slices.SortedFunc(maps.Keys(y.crosses), ids.Compare)
	return y.Yield
}

// each runs work on a group and on the total; without a group, which by place
// and by cold there is not for flowers, on the total alone.
func (h *harvest) each(cross ids.ID, key *sortKey, name string, work func(*yielding)) {
	if key != nil {
		if h.groups[*key] == nil {
			h.groups[*key] = &yielding{Yield: Yield{Name: name}, crosses: map[ids.ID]bool{}}
		}
		h.groups[*key].crosses[cross] = true
		work(h.groups[*key])
	}
	h.total.crosses[cross] = true
	work(&h.total)
}

// cross takes up a cross. Of one of which only lots or pots are in the scope,
// only those count.
func (h *harvest) cross(cross registry.Cross) {
	var key *sortKey
	name := ""
	if h.by != ByPlace && h.by != ByCold {
		k, n := h.into.crossKey(cross)
		key, name = &k, n
	}
	if h.scope.holds(cross.ID) {
		fruit, picked := FruitOf(h.r, cross)
		h.each(cross.ID, key, name, func(y *yielding) {
			plus(&y.Flowers, cross.Flowers)
			plus(&y.Fruit, fruit)
			y.Set.add(fruit, cross.Flowers)
			if !picked {
				y.Unpicked++
			}
		})
	}
	for _, lot := range h.r.LotsOf(cross.ID) {
		if h.r.Status(lot.ID) != registry.Issued {
			continue
		}
		if h.scope.holds(lot.ID) {
			h.each(cross.ID, key, name, func(y *yielding) { y.addLot(lot, h.r.Grows(lot.ID)) })
		}
		for _, pot := range h.r.PotsOf(lot.ID) {
			if h.r.Status(pot.ID) != registry.Issued || !h.scope.holds(pot.ID) {
				continue
			}
			k, n := key, name
			if k == nil {
				own, named := h.into.keyOf(pot, cross)
				k, n = &own, named
			}
			plants := h.plantsOf(pot)
			h.each(cross.ID, k, n, func(y *yielding) { y.addPot(plants) })
		}
	}
}

// FruitOf is how many fruit a cross gave: those harvested, else those of its
// opened lots; none of one that failed. It is false where no harvest is on
// record and more may come.
func FruitOf(r *registry.Registry, cross registry.Cross) (fruit registry.Count, picked bool) {
	switch {
	case cross.Fruit.Known:
		return cross.Fruit, true
	case cross.Fate == registry.Failed:
		return registry.Known(0), true
	}
	picked = !cross.Picked.IsZero()
	for _, lot := range r.LotsOf(cross.ID) {
		if lot.State == registry.Void {
			continue
		}
		plus(&fruit, lot.Fruit)
		picked = picked || !lot.Extracted.IsZero()
	}
	return fruit, picked
}

// plus adds a count to a sum, which is known as soon as one of them is.
func plus(sum *registry.Count, c registry.Count) {
	if c.Known {
		*sum = registry.Known(sum.N + c.N)
	}
}

func (y *yielding) addLot(lot registry.Lot, grows bool) {
	plus(&y.Seeds, lot.Seeds)
	plus(&y.Undeveloped, lot.Undeveloped)
	if lot.Seeds.Known && lot.Fruit.Known {
		y.PerFruit.N += lot.Seeds.N
		y.PerFruit.Of += lot.Fruit.N
	}
	y.Empty.add(lot.Undeveloped, lot.Seeds)
	if !lot.Seeds.Known && grows {
		y.Unopened++
	}
}

// plants is what became of the seeds of a pot.
type plants struct {
	sown, up, pricked, alive, selected registry.Count
	going, waiting                     bool
}

func (h *harvest) plantsOf(pot registry.Pot) plants {
	life := lifeOf(h.r, pot)
	p := plants{sown: pot.Seeds}
	if !life.sound() {
		return p
	}
	counting := life.counting(h.practice.For(pot.ID).Emergence, h.scope.On)
	if len(life.counts) == 0 {
		p.waiting = counting == Going
		return p
	}
	p.going = counting == Going
	p.up = registry.Known(life.last().Up.N)
	p.pricked = registry.Known(0)
	p.selected = registry.Known(0)
	p.alive = registry.Known(AliveIn(h.r, pot))
	for _, s := range h.r.SeedlingsOf(pot.ID) {
		if s.State == registry.Void {
			continue
		}
		p.pricked.N++
		if s.Name != "" || slices.ContainsFunc(h.r.DiaryOf(s.ID), func(e registry.DiaryEntry) bool { return e.What == registry.Selected }) {
			p.selected.N++
		}
	}
	return p
}

func (y *yielding) addPot(p plants) {
	plus(&y.Sown, p.sown)
	plus(&y.Up, p.up)
	plus(&y.Pricked, p.pricked)
	plus(&y.Alive, p.alive)
	plus(&y.Selected, p.selected)
	y.Germinated.add(p.up, p.sown)
	if p.going {
		y.Going++
	}
	if p.waiting {
		y.Waiting++
	}
}
