package registry

import (
	"fmt"
	"slices"
	"sort"

	"pipstake/ids"
)

// potLife is what happened in a pot, by day.
type potLife struct {
	pot     Pot
	counts  []Emergence // as recorded
	pricked []Date      // of the seedlings that are not void; a day not known is the zero Date, and stands first
}

// lifeOf gathers what happened in a pot, as its row is or would be. The error
// is a *DamageError where a cell that is needed cannot be read.
func (r *Registry) lifeOf(p Pot) (potLife, error) {
	life := potLife{pot: p, counts: r.EmergenceOf(p.ID)}
	for _, place := range r.emergence.exactly(p.ID) {
		if found := r.emergence.unreadable(place, "on", "up", "died"); found != nil {
			return life, &DamageError{found}
		}
	}
	life.pricked = r.prickedFrom(p.ID)
	return life, r.readablePricks(p.ID)
}

// readablePricks returns a *DamageError where it cannot be read when seedlings
// were pricked out of a pot.
func (r *Registry) readablePricks(pot ids.ID) error {
	for _, place := range r.seedlings.within(pot) {
		if found := r.seedlings.unreadable(place, "pricked", "state"); found != nil {
			return &DamageError{found}
		}
	}
	return nil
}

// prickedFrom returns the days on which seedlings that are not void were
// pricked out of a pot, in order.
func (r *Registry) prickedFrom(pot ids.ID) []Date {
	var days []Date
	for _, place := range r.seedlings.within(pot) {
		if s := &r.seedlings.entries[place]; s.State != Void {
			days = append(days, s.Pricked)
		}
	}
	slices.SortFunc(days, Date.Compare)
	return days
}

// prickedBy is how many were pricked out by a day, those of a day not known
// left out.
func (l potLife) prickedBy(day Date) int {
	dated := l.pricked[l.undated():]
	return sort.Search(len(dated), func(i int) bool { return day.Compare(dated[i]) < 0 })
}

// undated is how many were pricked out on a day that is not known.
func (l potLife) undated() int {
	n := 0
	for n < len(l.pricked) && l.pricked[n].IsZero() {
		n++
	}
	return n
}

// effective returns the counts with what else is known of them: a count that
// leaves the dead out keeps those that were known, and what was pricked out had
// come up, whether it was counted or not. In a pot that was lost, all that was
// alive died on that day.
func (l potLife) effective() []Emergence {
	var all []Emergence
	days := slices.Clone(l.pricked[l.undated():])
	var died Count
	var up, at int
	pricking := func(before Date) { // prickings on days without a count, before a day, or all for the zero Date
		for at < len(days) && (before.IsZero() || days[at].Compare(before) < 0) {
			day := days[at]
			for at < len(days) && days[at] == day {
				at++
			}
			if at+died.N > up {
				up = at + died.N
				all = append(all, Emergence{Pot: l.pot.ID, On: day, Up: Known(up), Died: died})
			}
		}
	}
	for _, c := range l.counts {
		if c.On.IsZero() || !c.Up.Known {
			all = append(all, c)
			continue
		}
		pricking(c.On)
		for at < len(days) && days[at] == c.On {
			at++
		}
		if !c.Died.Known {
			c.Died = died
		}
		c.Up.N = max(c.Up.N, at+c.Died.N)
		died, up = c.Died, c.Up.N
		all = append(all, c)
	}
	pricking(Date{})
	return l.endLost(all)
}

// endLost adds the deaths with which a lost pot ended.
func (l potLife) endLost(all []Emergence) []Emergence {
	if l.pot.Fate != Lost || l.pot.Ended.IsZero() || len(all) == 0 {
		return all
	}
	last := all[len(all)-1]
	alive := last.Up.N - last.Died.N - len(l.pricked)
	switch {
	case alive <= 0 || l.pot.Ended.Before(last.On):
		return all
	case last.On == l.pot.Ended:
		all[len(all)-1].Died = Known(last.Died.N + alive)
		return all
	}
	return append(all, Emergence{Pot: l.pot.ID, On: l.pot.Ended, Up: last.Up, Died: Known(last.Died.N + alive)})
}

// alive is how many seedlings live in the pot; not known where none was counted
// or pricked out.
func (l potLife) alive() Count {
	if l.pot.Fate != Growing || !l.pot.Ended.IsZero() {
		return Known(0)
	}
	up, died, known := l.last()
	return Count{max(0, up-died-len(l.pricked)), known}
}

// last is how many had come up and died by the last effective count; known
// reports whether there is one.
func (l potLife) last() (up, died int, known bool) {
	if all := l.effective(); len(all) > 0 {
		up, died = all[len(all)-1].Up.N, all[len(all)-1].Died.N
	}
	up = max(up, died+len(l.pricked))
	return up, died, up > 0 || len(l.counts) > 0
}

// fits refuses counts, prickings and an end that contradict one another. What
// holds is sown ≥ up ≥ died + pricked out, on each day.
func (l potLife) fits() error {
	for i, c := range l.counts {
		if sown := l.pot.Seeds; sown.Known && c.Up.N > sown.N {
			return refuseCount(fmt.Sprintf("%d seedlings, counted on %s, are more than the %s sown in %s", c.Up.N, orUnknown(c.On), several(sown.N, "seed"), c.Pot),
				"look which of the two is right", c.Pot, c.On)
		}
		if err := countable(l.pot, c); err != nil {
			return err
		}
		if i > 0 {
			if err := goesWith(l.counts[i-1], c); err != nil {
				return err
			}
		}
	}
	if err := l.pricksFit(); err != nil {
		return err
	}
	id, end := l.pot.ID, Ending{ID: l.pot.ID, How: l.pot.Fate, On: l.pot.Ended}
	if n := len(l.counts); n > 0 && end.On.Before(l.counts[n-1].On) {
		return refuseEnded(fmt.Sprintf("%s, before the count on %s", end, l.counts[n-1].On), "correct the day, or take the end back", end)
	}
	if n := len(l.pricked); n > 0 && end.On.Before(l.pricked[n-1]) {
		return refuseEnded(fmt.Sprintf("%s, before the pricking out on %s", end, l.pricked[n-1]), "correct the day, or take the end back", end)
	}
	if up, died, _ := l.last(); l.pot.Fate == Emptied && up-died-len(l.pricked) > 0 {
		return refuseSum(fmt.Sprintf("%s, and %d up less %d died less %d pricked out would leave %d in it", end, up, died, len(l.pricked), up-died-len(l.pricked)),
			"correct those that died as well, or take the end back", id)
	}
	return nil
}

// pricksFit refuses more prickings than there were seedlings.
func (l potLife) pricksFit() error {
	id := l.pot.ID
	if n := l.undated(); n < len(l.pricked) && l.pricked[n].Before(l.pot.Sown) {
		return tooEarly("pricking out", l.pricked[n], "sowing", l.pot.Sown)
	}
	died := 0
	for _, c := range l.counts {
		died = max(died, c.Died.N)
		if out := l.prickedBy(c.On); c.Up.Known && died+out > c.Up.N {
			return refuseSum(fmt.Sprintf("%s had %d up on %s, and %d died and %d pricked out by then are more", id, c.Up.N, c.On, died, out),
				"correct the count, or the days", id)
		}
	}
	if out := len(l.pricked); l.pot.Seeds.Known && died+out > l.pot.Seeds.N {
		return refuseSum(fmt.Sprintf("%s was sown with %s, and %d died and %d pricked out are more", id, several(l.pot.Seeds.N, "seed"), died, out),
			"correct one of the numbers", id)
	}
	return nil
}

// room is how many more may be pricked out on a day, and by which count; the
// zero Emergence where the seeds sown are the limit.
func (l potLife) room(on Date) (n int, by Emergence) {
	died := 0
	for _, c := range l.counts {
		died = max(died, c.Died.N)
	}
	n = maxCount
	if l.pot.Seeds.Known {
		n = l.pot.Seeds.N - died - len(l.pricked)
	}
	died = 0
	for _, c := range l.counts {
		died = max(died, c.Died.N)
		if on.IsZero() || !c.Up.Known || c.On.Compare(on) < 0 {
			continue
		}
		if left := c.Up.N - died - l.prickedBy(c.On); left < n {
			n, by = left, c
		}
	}
	return max(0, n), by
}

// CountsOf returns the counts of a pot by their dates with all that is known of
// them: a count that leaves the dead out keeps those known before; a seedling
// pricked out before it was counted counts as up from that day on; and in a pot
// that was lost all that was alive died with it. EmergenceOf has the counts as
// they are on record.
func (r *Registry) CountsOf(pot ids.ID) []Emergence {
	p, _ := r.Pot(pot)
	p.ID = pot
	return potLife{p, r.EmergenceOf(pot), r.prickedFrom(pot)}.effective()
}

// AliveIn is the number of seedlings that live in a pot: those that came up
// less those that died and those pricked out. It is not known before the first
// count or pricking, and 0 once the pot has ended.
func (r *Registry) AliveIn(pot ids.ID) Count {
	p, ok := r.Pot(pot)
	if !ok {
		return Count{}
	}
	return potLife{p, r.EmergenceOf(pot), r.prickedFrom(pot)}.alive()
}

// AllOut reports whether nothing more can come of a pot, whatever the season:
// every seed has come up, and every seedling is pricked out or dead. A pot with
// nothing alive in it whose other seeds may yet come up is over once its
// counting season is.
func (r *Registry) AllOut(pot ids.ID) bool {
	p, ok := r.Pot(pot)
	life := potLife{p, r.EmergenceOf(pot), r.prickedFrom(pot)}
	up, _, known := life.last()
	return ok && known && p.Seeds.Known && up >= p.Seeds.N && life.alive() == Known(0)
}
