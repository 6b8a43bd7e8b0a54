package season

import (
	"cmp"
	"fmt"
	"slices"

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

// keyOf returns which group a pot belongs to, and the group's name.
func (by By) keyOf(r *registry.Registry, pot registry.Pot, cross registry.Cross) (key sortKey, name string) {
	switch by {
	case ByPot:
		return idKey(pot.ID)
	case ByLot:
		return idKey(pot.ID.At(ids.LotLevel))
	case ByCross, BySeedParent, ByPollenParent, ByCombination, ByYear:
		return by.crossKey(cross)
	case BySowingYear:
		return sortKey{number: pot.Sown.Year}, fmt.Sprint(pot.Sown.Year)
	case ByPlace:
		return sortKey{name: nameKey(pot.Place)}, pot.Place
	}
	days, known := r.ColdDays(pot.ID.At(ids.LotLevel), pot.Sown)
	if !known {
		return sortKey{number: -1}, ""
	}
	week := days / 7
	return sortKey{number: week}, fmt.Sprintf("%d–%d", 7*week, 7*week+6)
}

func idKey(id ids.ID) (sortKey, string) { return sortKey{id: id}, id.String() }

// crossKey is keyOf for what is known of a whole cross.
func (by By) crossKey(cross registry.Cross) (key sortKey, name string) {
	switch by {
	case BySeedParent:
		return sortKey{name: nameKey(cross.SeedParent)}, cross.SeedParent
	case ByPollenParent:
		return sortKey{name: nameKey(cross.PollenParent)}, cross.PollenParent
	case ByCombination:
		return sortKey{name: nameKey(cross.SeedParent) + "\x00" + nameKey(cross.PollenParent)}, cross.SeedParent + " × " + cross.PollenParent
	case ByYear:
		return sortKey{number: cross.ID.Year}, fmt.Sprint(cross.ID.Year)
	}
	return idKey(cross.ID)
}
