package season

import (
	"slices"

	"pipstake/ids"
	"pipstake/ids/registry"
)

// prickedOf returns the days on which seedlings were pricked out of a pot, in
// their order, one for each. Those whose day is not on record are left out.
func prickedOf(r *registry.Registry, pot ids.ID) []registry.Date {
	var days []registry.Date
	for _, s := range r.SeedlingsOf(pot) {
		if s.State != registry.Void && !s.Pricked.IsZero() {
			days = append(days, s.Pricked)
		}
	}
	slices.SortFunc(days, registry.Date.Compare)
	return days
}

// Counting is how far the counting of a pot is.
type Counting int

// The states of the counting of a pot.
const (
	Going     Counting = iota // more may come up
	Over                      // all seeds are up, or the season of looking is
	BrokenOff                 // the pot was lost before it was over
)

// potLife is a pot with what is known of its seedlings.
type potLife struct {
	pot    registry.Pot
	counts []registry.Emergence // as CountsOf returns them
}

func lifeOf(r *registry.Registry, pot registry.Pot) potLife {
	return potLife{pot, r.CountsOf(pot.ID)}
}

// last is what the last count says; nothing where there is none.
func (l potLife) last() registry.Emergence {
	if len(l.counts) == 0 {
		return registry.Emergence{}
	}
	return l.counts[len(l.counts)-1]
}

// allUp reports whether every seed of the pot has come up.
func (l potLife) allUp() bool { return l.pot.Seeds.Known && l.last().Up.N >= l.pot.Seeds.N }

// counting returns how far the counting of the pot is on a day.
func (l potLife) counting(e Emergence, on registry.Date) Counting {
	_, end := e.Lookout(l.pot.Sown)
	lastOn := l.last().On
	switch {
	case l.allUp(), !lastOn.IsZero() && !lastOn.Before(end):
		return Over
	case l.pot.Fate == registry.Lost && !end.Before(l.pot.Ended):
		return BrokenOff
	case l.pot.Fate != registry.Growing, end.Before(on):
		return Over
	}
	return Going
}

// sound reports whether a pot's rows can be reckoned with: seeds and day of
// sowing are known, counts are dated, never fall, and are no more than there
// were seeds.
func (l potLife) sound() bool {
	if l.pot.Seeds.N < 1 || l.pot.Sown.IsZero() {
		return false
	}
	for i, c := range l.counts {
		if c.On.IsZero() || c.On.Before(l.pot.Sown) || !c.Up.Known || c.Up.N > l.pot.Seeds.N || c.Died.N > c.Up.N {
			return false
		}
		if i == 0 {
			continue
		}
		if before := l.counts[i-1]; c.On == before.On || c.Up.N < before.Up.N || c.Died.N < before.Died.N {
			return false
		}
	}
	return true
}

// Ending is how something ended, and when.
type Ending struct {
	Fate     registry.Fate
	On       registry.Date // may not be known
	ByItself bool          // nobody had to say so
}

// PotEnding returns how a pot ended; false where it had not by a day. A pot
// ends by itself when its counting is over and all that came up is pricked out
// or dead. One that nobody ever counted does not.
func PotEnding(r *registry.Registry, practice Practice, pot registry.Pot, on registry.Date) (Ending, bool) {
	if pot.Fate != registry.Growing {
		return Ending{pot.Fate, pot.Ended, false}, true
	}
	return lifeOf(r, pot).endsByItself(prickedOf(r, pot.ID), practice.For(pot.ID).Emergence, on)
}

func (l potLife) endsByItself(pricked []registry.Date, e Emergence, on registry.Date) (Ending, bool) {
	if len(l.counts) == 0 || !l.sound() || l.counting(e, on) == Going {
		return Ending{}, false
	}
	last := l.last()
	if last.Up.N > last.Died.N+len(pricked) {
		return Ending{}, false
	}
	ended := last.On
	if n := len(pricked); n > 0 {
		ended = later(ended, pricked[n-1])
	}
	if _, end := e.Lookout(l.pot.Sown); !l.allUp() {
		ended = later(ended, end)
	}
	return Ending{registry.Emptied, ended, true}, true
}
