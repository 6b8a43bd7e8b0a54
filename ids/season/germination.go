package season

import (
	"cmp"
	"fmt"
	"maps"
	"math"
	"slices"

	"pipstake/ids"
	"pipstake/ids/registry"
)

// By is what pots are put together by.
type By int

// What pots can be put together by.
const (
	ByCross By = iota
	ByPot
	ByLot
	BySeedParent
	ByPollenParent
	ByYear // of the cross
)

// Group is the germination of some pots together.
type Group struct {
	Name  string        // an identifier, a parent's name as first written, or a year
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
	Expected    float64 // part of one: the mean over the seeds sown
}

// Rate is the part of the seeds sown that came up.
func (g Group) Rate() float64 { return float64(g.Up) / float64(g.Sown) }

// RateOfAll is the part of all seed, undeveloped seed among it, that came up.
func (g Group) RateOfAll() float64 { return float64(g.Up) / float64(g.Sown+g.Undeveloped) }

// Below tells whether the interval lies wholly below what was expected.
func (g Group) Below(m Method) bool { return m.Interval(g.Up, g.Sown).High < g.Expected }

// Outcome is the germination of a registry.
type Outcome struct {
	Groups    []Group
	Uncounted []ids.ID // pots without a count
	Unusable  []ids.ID // pots whose rows contradict themselves; check tells how
}

// germinating is one pot with its counts.
type germinating struct {
	pot    registry.Pot
	cross  registry.Cross
	counts []registry.Emergence
}

// Germinate puts the live pots that were counted together. Where within names
// crosses, lots or pots, only those are looked at.
func Germinate(r *registry.Registry, practice Practice, by By, within []ids.ID) Outcome {
	var out Outcome
	groups := map[string]*grouping{}
	for _, pot := range r.Pots() {
		if r.Status(pot.ID) != registry.Issued || !isWithin(pot.ID, within) {
			continue
		}
		g := germinating{pot: pot, counts: r.EmergenceOf(pot.ID)}
		g.cross, _ = r.Cross(pot.ID.At(ids.CrossLevel))
		switch {
		case !g.sound():
			out.Unusable = append(out.Unusable, pot.ID)
			continue
		case len(g.counts) == 0:
			out.Uncounted = append(out.Uncounted, pot.ID)
			continue
		}
		key, name, id := by.keyOf(g)
		if groups[key] == nil {
			groups[key] = &grouping{Group: Group{Name: name}, key: id, lots: map[ids.ID]int{}, rises: map[int]int{}}
		}
		groups[key].add(g, practice)
	}
	for _, g := range groups {
		out.Groups = append(out.Groups, g.finish(r, by))
	}
	slices.SortFunc(out.Groups, func(a, b Group) int { return cmp.Or(compareIDs(a.IDs, b.IDs, by), cmp.Compare(a.Name, b.Name)) })
	return out
}

func isWithin(id ids.ID, outer []ids.ID) bool {
	if len(outer) == 0 {
		return true
	}
	return slices.ContainsFunc(outer, func(o ids.ID) bool { return id.At(o.Level()) == o })
}

// compareIDs orders groups that are named by identifiers.
func compareIDs(a, b []ids.ID, by By) int {
	if by == BySeedParent || by == ByPollenParent || by == ByYear {
		return 0
	}
	return ids.Compare(a[0], b[0])
}

// sound tells whether a pot's rows can be reckoned with: seeds and day of
// sowing are known, counts are dated, never fall, and are no more than there
// were seeds.
func (g germinating) sound() bool {
	if g.pot.Seeds.N < 1 || g.pot.Sown.IsZero() {
		return false
	}
	for i, c := range g.counts {
		if c.On.IsZero() || c.On.Before(g.pot.Sown) || !c.Up.Known || c.Up.N > g.pot.Seeds.N || c.Died.N > c.Up.N {
			return false
		}
		if i > 0 && (c.On == g.counts[i-1].On || c.Up.N < g.counts[i-1].Up.N) {
			return false
		}
		if c.Died.Known && c.Died.N < lastDied(g.counts[:i]) {
			return false
		}
	}
	return true
}

// keyOf tells which group a pot belongs to, the group's name, and for groups
// below the cross its identifier.
func (by By) keyOf(g germinating) (key, name string, id ids.ID) {
	switch by {
	case ByPot:
		id = g.pot.ID
	case ByLot:
		id = g.pot.ID.At(ids.LotLevel)
	case BySeedParent:
		return nameKey(g.cross.SeedParent), g.cross.SeedParent, ids.ID{}
	case ByPollenParent:
		return nameKey(g.cross.PollenParent), g.cross.PollenParent, ids.ID{}
	case ByYear:
		year := fmt.Sprint(g.pot.ID.Year)
		return year, year, ids.ID{}
	default:
		id = g.pot.ID.At(ids.CrossLevel)
	}
	return id.String(), id.String(), id
}

// grouping gathers a group.
type grouping struct {
	Group
	key      ids.ID
	lots     map[ids.ID]int // seeds sown of each
	rises    map[int]int    // by day
	expected float64        // seedlings
}

func (g *grouping) add(pot germinating, practice Practice) {
	g.Pots++
	g.Sown += pot.pot.Seeds.N
	g.expected += practice.For(pot.pot.ID).Germination.Expected / 100 * float64(pot.pot.Seeds.N)
	g.lots[pot.pot.ID.At(ids.LotLevel)] += pot.pot.Seeds.N
	if g.From.IsZero() || pot.pot.Sown.Before(g.From) {
		g.From = pot.pot.Sown
	}
	up := 0
	for _, c := range pot.counts {
		g.rises[c.On.DaysSince(pot.pot.Sown)] += c.Up.N - up
		up = c.Up.N
		if g.Until.Before(c.On) || g.Until.IsZero() {
			g.Until = c.On
		}
	}
	g.Up += up
	g.Died += lastDied(pot.counts)
}

// lastDied is how many are known to have died; a count may leave it out.
func lastDied(counts []registry.Emergence) int {
	died := 0
	for _, c := range counts {
		died = max(died, c.Died.N)
	}
	return died
}

func (g *grouping) finish(r *registry.Registry, by By) Group {
	g.Expected = g.expected / float64(g.Sown)
	for _, day := range slices.Sorted(maps.Keys(g.rises)) {
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
