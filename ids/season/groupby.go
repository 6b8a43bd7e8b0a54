package season

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"pipstake/ids"
	"pipstake/ids/registry"
)

// By is what is put together by.
type By int

// What can be put together by.
const (
	ByCross By = iota
	ByPot
	ByLot
	BySeedParent
	ByPollenParent
	ByCombination // of seed and pollen parent, in all years
	ByYear        // of the cross
	BySowingYear
	ByPlace
	ByCold // weeks that the seed spent in the cold before it was sown
)

// Scope is what of a registry to look at, and when.
type Scope struct {
	Within []ids.ID      // crosses, lots and pots, and what stands below them
	Years  []int         // of crosses
	On     registry.Date // the day of looking
}

// holds reports whether an identifier is in the scope. Where neither
// identifiers nor years are given, all are.
func (s Scope) holds(id ids.ID) bool {
	if len(s.Within) == 0 && len(s.Years) == 0 {
		return true
	}
	return slices.Contains(s.Years, id.Year) || len(s.Within) > 0 && isWithin(id, s.Within)
}

// isWithin reports whether an identifier is one of some others or stands below
// one; where there are none, all are.
func isWithin(id ids.ID, outer []ids.ID) bool {
	if len(outer) == 0 {
		return true
	}
	return slices.ContainsFunc(outer, func(o ids.ID) bool { return id.At(o.Level()) == o })
}

// sortKey is what a group is known by. Groups stand in the order of number, then
// identifier, then name.
type sortKey struct {
	number int
	id     ids.ID // of groups below the cross and of crosses; else none
	name   string
}

func compareKeys(a, b sortKey) int {
	return cmp.Or(cmp.Compare(a.number, b.number), ids.Compare(a.id, b.id), cmp.Compare(a.name, b.name))
}

// Grouper puts pots and crosses of a registry into groups. A parent that goes by
// several names, in varieties.csv or as a selection, is one.
type Grouper struct {
	by    By
	r     *registry.Registry
	names *registry.Names // nil where no group goes by a name
}

// NewGrouper returns what puts the pots and crosses of a registry into groups.
func NewGrouper(r *registry.Registry, by By) Grouper {
	g := Grouper{by: by, r: r}
	if by == BySeedParent || by == ByPollenParent || by == ByCombination {
		g.names = r.Names()
	}
	return g
}

// Name returns the name of the group that a name belongs to, which a person wrote
// in some spelling: of a parent, or of two with a sign of a cross between them.
func (g Grouper) Name(written string) string {
	written = strings.Join(strings.Fields(written), " ")
	if g.names == nil {
		return written
	}
	if g.by == ByCombination {
		for _, sign := range []string{" × ", " x ", " X "} {
			if seed, pollen, ok := strings.Cut(written, sign); ok {
				return g.parent(seed) + " × " + g.parent(pollen)
			}
		}
	}
	return g.parent(written)
}

// parent returns how a parent is named whose cell says so: as varieties.csv has
// it, else as the selection is named, else as the first cross names it.
func (g Grouper) parent(cell string) string {
	p := registry.ReadParent(cell)
	for i, name := range p.Names {
		if read, err := ids.Parse(name); err == nil {
			if s, ok := g.r.Seedling(read.ID); ok && s.Name != "" {
				name = s.Name
			}
		}
		if known, ok := g.names.Known(name); ok {
			name = known.Name
		}
		p.Names[i] = name
	}
	return p.String()
}

// keyOf returns which group a pot belongs to, and the group's name.
func (g Grouper) keyOf(pot registry.Pot, cross registry.Cross) (key sortKey, name string) {
	switch g.by {
	case ByPot:
		return idKey(pot.ID)
	case ByLot:
		return idKey(pot.ID.At(ids.LotLevel))
	case ByCross, BySeedParent, ByPollenParent, ByCombination, ByYear:
		return g.crossKey(cross)
	case BySowingYear:
		return sortKey{number: pot.Sown.Year}, fmt.Sprint(pot.Sown.Year)
	case ByPlace:
		return sortKey{name: nameKey(pot.Place)}, pot.Place
	}
	days, known := g.r.ColdDays(pot.ID.At(ids.LotLevel), pot.Sown)
	if !known {
		return sortKey{number: -1}, ""
	}
	week := days / 7
	return sortKey{number: week}, fmt.Sprintf("%d–%d", 7*week, 7*week+6)
}

func idKey(id ids.ID) (sortKey, string) { return sortKey{id: id}, id.String() }

// crossKey is keyOf for what is known of a whole cross.
func (g Grouper) crossKey(cross registry.Cross) (key sortKey, name string) {
	switch g.by {
	case BySeedParent:
		seed := g.parent(cross.SeedParent)
		return sortKey{name: nameKey(seed)}, seed
	case ByPollenParent:
		pollen := g.parent(cross.PollenParent)
		return sortKey{name: nameKey(pollen)}, pollen
	case ByCombination:
		seed, pollen := g.parent(cross.SeedParent), g.parent(cross.PollenParent)
		return sortKey{name: nameKey(seed) + "\x00" + nameKey(pollen)}, seed + " × " + pollen
	case ByYear:
		return sortKey{number: cross.ID.Year}, fmt.Sprint(cross.ID.Year)
	}
	return idKey(cross.ID)
}
