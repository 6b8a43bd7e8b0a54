package registry

import (
	"fmt"
	"slices"

	"pipstake/ids"
	"pipstake/ids/problem"
)

// Fate is how a cross, seed lot, pot or seedling ended. What ended stays in the
// figures: its counts were counted, and its seeds do not come back.
type Fate string

// The fates.
const (
	Growing   Fate = ""
	Failed    Fate = "failed"     // a cross: no fruit, or none with good seed
	Discarded Fate = "discarded"  // a seed lot
	UsedUp    Fate = "used-up"    // a seed lot: no seed is left of it
	GivenAway Fate = "given-away" // a seed lot
	Lost      Fate = "lost"       // a pot: mice, frost, tipped over
	Emptied   Fate = "emptied"    // a pot: nothing alive is left in it
	Died      Fate = "died"       // a seedling
	Culled    Fate = "culled"     // a seedling: taken out on purpose
)

// Level is the level that a fate belongs to; NoLevel for Growing.
func (f Fate) Level() ids.Level {
	for level := ids.CrossLevel; level <= ids.SeedlingLevel; level++ {
		if slices.Contains(Fates(level), f) {
			return level
		}
	}
	return ids.NoLevel
}

// Fates returns the fates that belong to a level.
func Fates(level ids.Level) []Fate {
	switch level {
	case ids.CrossLevel:
		return []Fate{Failed}
	case ids.LotLevel:
		return []Fate{Discarded, UsedUp, GivenAway}
	case ids.PotLevel:
		return []Fate{Lost, Emptied}
	case ids.SeedlingLevel:
		return []Fate{Died, Culled}
	}
	return nil
}

// Past is the fate as a verb: "failed", "was used up"; "ended" for Growing.
func (f Fate) Past() string {
	switch f {
	case Growing:
		return "ended"
	case Failed, Died:
		return string(f)
	case UsedUp:
		return "was used up"
	case GivenAway:
		return "was given away"
	}
	return "was " + string(f)
}

// Ending is the end of a cross, seed lot, pot or seedling.
type Ending struct {
	ID   ids.ID
	How  Fate
	On   Date
	Note string // the reason, for the notes of its row
}

// String says what ended how and when: "2026X012-B2 was lost on 2027-03-05".
func (e Ending) String() string {
	return fmt.Sprintf("%s %s on %s", e.ID, e.How.Past(), orUnknown(e.On))
}

// EndOf returns how something ended: by its own row or, for the lots of a
// failed cross, by that of the cross, which the ending then names. It reports
// false for what still grows, and for what is not in the registry.
func (r *Registry) EndOf(id ids.ID) (Ending, bool) { return r.Cursor().endOf(id) }

// Grows reports whether something is in the registry, not void, and not ended.
func (r *Registry) Grows(id ids.ID) bool { return r.Cursor().grows(id) }

func (c *Cursor) grows(id ids.ID) bool {
	_, ended := c.endOf(id)
	return !ended && c.Status(id) == Issued
}

// endOf is EndOf for those who walk along the identifiers.
func (c *Cursor) endOf(id ids.ID) (Ending, bool) {
	e := Ending{ID: id}
	switch id.Level() {
	case ids.CrossLevel:
		c := c.Cross(id)
		e.How, e.On = c.Fate, c.Ended
	case ids.LotLevel:
		l := c.Lot(id)
		if e.How, e.On = l.Fate, l.Ended; e.How == Growing && e.On.IsZero() {
			return c.endOf(id.At(ids.CrossLevel))
		}
	case ids.PotLevel:
		p := c.Pot(id)
		e.How, e.On = p.Fate, p.Ended
	case ids.SeedlingLevel:
		if s := c.r.seedlings.near(id, &c.seedlings); s != nil {
			e.How, e.On = s.Fate, s.Ended
		}
	}
	return e, e.How != Growing || !e.On.IsZero()
}

// EndedError refuses what cannot happen to something that has ended.
type EndedError struct {
	Refusal
	End Ending
}

func refuseEnded(what, remedy string, end Ending) error {
	return &EndedError{Refusal{what, remedy}, end}
}

// Unwrap returns the refusal.
func (e *EndedError) Unwrap() error { return &e.Refusal }

// Problems returns what stands in the way, and how an end is taken back.
func (e *EndedError) Problems() []problem.Problem {
	return problem.Use(e.What, fmt.Sprintf("%s: {back: %s}", e.Remedy, e.End.ID)).Problems()
}

// notEnded refuses an event after the end of something. What happened by the
// day of the end may be recorded later.
func (r *Registry) notEnded(id ids.ID, event string, on Date) error {
	end, ended := r.EndOf(id)
	if !ended || !on.IsZero() && !end.On.IsZero() && !end.On.Before(on) {
		return nil
	}
	what := fmt.Sprintf("%s, so there is no %s", end, event)
	if !on.IsZero() {
		what += " on " + on.String()
	}
	return refuseEnded(what, "correct the day, or take the end back", end)
}
