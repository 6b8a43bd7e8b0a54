package season

import (
	"maps"
	"math"
	"slices"

	"pipstake/ids"
	"pipstake/ids/registry"
)

// Group is the germination of some pots together.
type Group struct {
	Name  string        // an identifier, a parent's name as varieties.csv has it or else as first written, a year, weeks of cold in days
	IDs   []ids.ID      // the crosses that the pots belong to; the pot or lot itself
	Pots  int           // counted
	Sown  int           // seeds in them
	Up    int           // seedlings that came up, those that died since among them
	Died  int           // of those that came up
	Rises []Rise        // by day
	From  registry.Date // first sowing
	Until registry.Date // last count
	// Undeveloped is the undeveloped seed that came with the seed sown: of each
	// lot the share that was sown, rounded. It is 0 for single pots, since
	// undeveloped seed is put aside before sowing.
	Undeveloped int

	Curve     []Point       // how many were up, by day from sowing
	Expected  float64       // part of one: the mean over the seeds sown
	Going     int           // pots of which more may come up: the figures are those so far
	LookUntil registry.Date // the last day on which these are looked at
	BrokenOff int           // pots that were lost before their counting was over
	// Over are the pots whose counting is over. As long as it goes on in others,
	// those of which all seeds are up already wait for them: they are the fastest
	// and best, and no fair sample.
	Over   Counted
	Each   []Counted // all pots
	Judged []Counted // those of Over
	Timing Timing    // of these
	Timed  bool      // whether anything came up in them
}

// Counted is some pots of a group.
type Counted struct {
	Pots, Sown, Up int
	Expected       float64 // part of one: the mean over the seeds sown
}

// Rate is the part of the seeds sown that came up.
func (g Group) Rate() float64 { return float64(g.Up) / float64(g.Sown) }

// RateOfAll is the part of all seed, undeveloped seed among it, that came up.
func (g Group) RateOfAll() float64 { return float64(g.Up) / float64(g.Sown+g.Undeveloped) }

// Below reports whether the interval of the pots whose counting is over lies
// wholly below what was expected of them.
func (g Group) Below(m Method) bool {
	return g.Over.Sown > 0 && m.Interval(g.Over.Up, g.Over.Sown).High < g.Over.Expected
}

// Outcome is the germination of a registry.
type Outcome struct {
	Groups    []Group
	Uncounted []ids.ID // pots without a count
	Unusable  []ids.ID // pots whose rows contradict themselves; check tells how
}

// Germinate puts the pots in a scope together that were counted, those that
// ended among them. What was given up as a slip is left out.
func Germinate(r *registry.Registry, practice Practice, by By, scope Scope) Outcome {
	var out Outcome
	groups, into := map[sortKey]*grouping{}, NewGrouper(r, by)
	for _, pot := range r.Pots() {
		if r.Status(pot.ID) != registry.Issued || !scope.holds(pot.ID) {
			continue
		}
		life := lifeOf(r, pot)
		switch {
		case !life.sound():
			out.Unusable = append(out.Unusable, pot.ID)
			continue
		case len(life.counts) == 0:
			out.Uncounted = append(out.Uncounted, pot.ID)
			continue
		}
		cross, _ := r.Cross(pot.ID.At(ids.CrossLevel))
		key, name := into.keyOf(pot, cross)
		if groups[key] == nil {
			groups[key] = &grouping{Group: Group{Name: name}, key: key.id, lots: map[ids.ID]int{}, rises: map[int]int{}, all: emerging{}, over: emerging{}}
		}
		groups[key].add(life, practice.For(pot.ID), scope.On)
	}
	for _, key := range slices.SortedFunc(maps.Keys(groups), compareKeys) {
		out.Groups = append(out.Groups, groups[key].finish(r, by))
	}
	return out
}

// grouping gathers a group.
type grouping struct {
	Group
	key      ids.ID
	lots     map[ids.ID]int // seeds sown of each
	rises    map[int]int    // by day
	all      emerging
	over     emerging // in the pots whose counting is over
	waiting  []waiting
	expected struct{ all, over float64 } // seedlings
}

func (g *grouping) add(life potLife, p Protocol, on registry.Date) {
	pot := life.pot
	g.Pots++
	g.Sown += pot.Seeds.N
	g.lots[pot.ID.At(ids.LotLevel)] += pot.Seeds.N
	if g.From.IsZero() || pot.Sown.Before(g.From) {
		g.From = pot.Sown
	}
	rises := life.rises()
	for _, r := range rises {
		g.rises[r.Day] += r.New
	}
	g.all.add(rises)
	g.Each = append(g.Each, life.counted())
	expected := p.Germination.Expected / 100 * float64(pot.Seeds.N)
	g.expected.all += expected
	last := life.last()
	g.Until = later(g.Until, last.On)
	g.Up += last.Up.N
	g.Died += last.Died.N
	switch life.counting(p.Emergence, on) {
	case Going:
		g.Going++
		_, end := p.Emergence.Lookout(pot.Sown)
		g.LookUntil = later(g.LookUntil, end)
	case BrokenOff:
		g.BrokenOff++
	case Over:
		if _, end := p.Emergence.Lookout(pot.Sown); end.Before(on) {
			g.judge(life, expected)
		} else {
			g.waiting = append(g.waiting, waiting{life, expected})
		}
	}
}

// judge takes a pot among those that are judged.
func (g *grouping) judge(life potLife, expected float64) {
	g.Judged = append(g.Judged, life.counted())
	g.expected.over += expected
	g.over.add(life.rises())
}

// counted is the pot alone.
func (l potLife) counted() Counted {
	return Counted{Pots: 1, Sown: l.pot.Seeds.N, Up: l.last().Up.N}
}

// waiting is a pot that is over before its season is.
type waiting struct {
	potLife
	expected float64 // seedlings
}

// rises are what came up from count to count, by days from sowing.
func (l potLife) rises() []Rise {
	var rises []Rise
	up := 0
	for _, c := range l.counts {
		rises = append(rises, Rise{c.On.DaysSince(l.pot.Sown), c.Up.N - up})
		up = c.Up.N
	}
	return rises
}

func (g *grouping) finish(r *registry.Registry, by By) Group {
	if g.Going == 0 {
		for _, w := range g.waiting {
			g.judge(w.potLife, w.expected)
		}
	}
	g.Over = sum(g.Judged)
	g.Expected = g.expected.all / float64(g.Sown)
	if g.Over.Sown > 0 {
		g.Over.Expected = g.expected.over / float64(g.Over.Sown)
	}
	g.Timing, g.Timed = g.over.timing()
	days := slices.Sorted(maps.Keys(g.rises))
	g.Curve = g.all.curve(days)
	for _, day := range days {
		g.Rises = append(g.Rises, Rise{day, g.rises[day]})
	}
	crosses := map[ids.ID]bool{}
	for id, sown := range g.lots {
		crosses[id.At(ids.CrossLevel)] = true
		lot, _ := r.Lot(id)
		if good := lot.Seeds.N - lot.Undeveloped.N; by != ByPot && good > 0 {
			g.Undeveloped += int(math.Round(float64(lot.Undeveloped.N) * float64(sown) / float64(good)))
		}
	}
	g.IDs = slices.SortedFunc(maps.Keys(crosses), ids.Compare)
	if by == ByPot || by == ByLot {
		g.IDs = []ids.ID{g.key}
	}
	return g.Group
}
