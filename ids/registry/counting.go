package registry

import (
	"fmt"
	"slices"

	"pipstake/ids"
)

// AddEmergence records that up seedlings of a pot had come up by a day, in
// all. Counts never fall from one day to a later one.
func (r *Registry) AddEmergence(pot ids.ID, on Date, up int) (Emergence, error) {
	return r.CountPot(Emergence{Pot: pot, On: on, Up: Known(up)})
}

// CountPot records the seedlings that had come up in a pot by a day, and where
// known how many of these had died, both in all. Neither falls from one day to
// a later one, so a seedling that died stays among those that came up; and those
// that died and those pricked out are no more than had come up. The error is an
// *EndedError after the end of the pot, a *SumError, another *Refusal, or a
// *DamageError.
func (r *Registry) CountPot(e Emergence) (Emergence, error) {
	at, err := r.usable(e.Pot, ids.PotLevel, "seeds", "sown")
	if err != nil {
		return Emergence{}, err
	}
	pot := r.pots.entries[at]
	if err := countable(pot, e); err != nil {
		return Emergence{}, err
	}
	if err := r.notEnded(e.Pot, "count", e.On); err != nil {
		return Emergence{}, err
	}
	for _, place := range r.emergence.exactly(e.Pot) {
		if found := r.emergence.unreadable(place, "on", "up", "died"); found != nil {
			return Emergence{}, &DamageError{found}
		}
		was := r.emergence.entries[place]
		if was.On == e.On {
			f := r.emergence.finding(place, "", "", "")
			return Emergence{}, refuseCount(fmt.Sprintf("%s was counted on %s already: %s up (%s row %d)", e.Pot, e.On, was.Up, f.File, f.Row),
				"leave it as it is", e.Pot, e.On)
		}
		if err := goesWith(was, e); err != nil {
			return Emergence{}, err
		}
	}
	life, err := r.lifeOf(pot)
	if err != nil {
		return Emergence{}, err
	}
	if err := life.with(e).fits(); err != nil {
		return Emergence{}, err
	}
	r.emergence.append(e)
	return e, nil
}

// with is the life of a pot with one count more.
func (l potLife) with(e Emergence) potLife {
	l.counts = append(slices.Clone(l.counts), e)
	slices.SortStableFunc(l.counts, func(a, b Emergence) int { return a.On.Compare(b.On) })
	return l
}

// countable reports whether a count fits its pot.
func countable(p Pot, e Emergence) error {
	switch {
	case e.On.IsZero():
		return &Refusal{"the day of the count is not given", "give it {with day}"}
	case !e.Up.Known || e.Up.N < 0:
		return &Refusal{fmt.Sprintf("%d is no count of seedlings", e.Up.N), "give the number that was counted"}
	case p.Seeds.Known && e.Up.N > p.Seeds.N:
		return refuseSown(fmt.Sprintf("%d seedlings are more than the %s sown in %s", e.Up.N, several(p.Seeds.N, "seed"), e.Pot), "count again", e.Pot)
	case e.Died.N < 0:
		return &Refusal{fmt.Sprintf("%d is no count of dead seedlings", e.Died.N), "give the number that died"}
	case e.Died.N > e.Up.N:
		return &Refusal{fmt.Sprintf("%d died of %d that came up", e.Died.N, e.Up.N), "give all that have come up, those that died since among them"}
	case e.On.Before(p.Sown):
		return tooEarly("count", e.On, "sowing", p.Sown)
	}
	return nil
}

// goesWith refuses a count that cannot be right where another of the pot, of
// another day, is.
func goesWith(was, e Emergence) error {
	first, second := was, e
	if e.On.Before(was.On) {
		first, second = e, was
	}
	if was.Up.Known && first.Up.N > second.Up.N {
		return refuseCount(fmt.Sprintf("%d up on %s does not go with %d up on %s", e.Up.N, e.On, was.Up.N, was.On),
			"give all that had come up by then, those that died since among them", was.Pot, was.On)
	}
	if first.Died.Known && second.Died.Known && first.Died.N > second.Died.N {
		return &SumError{Refusal{fmt.Sprintf("%d died by %s does not go with %d by %s", e.Died.N, e.On, was.Died.N, was.On),
			"give all that had died by then"}, was.Pot, fmt.Sprintf("{correct those dead: %s on %s}", was.Pot, was.On)}
	}
	return nil
}
