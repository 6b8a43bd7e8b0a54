package registry

import (
	"fmt"

	"pipstake/ids"
	"pipstake/ids/problem"
)

// SumError refuses numbers that do not go with others on record, which it
// tells. ID is what would have to be corrected.
type SumError struct {
	Refusal
	ID   ids.ID
	mend string // how, where it is not the number that such an ID has as a rule
}

func refuseSum(what, remedy string, id ids.ID) error { return &SumError{Refusal{what, remedy}, id, ""} }

// refuseCount is refuseSum where the count of a pot on a day is the number that
// may be wrong.
func refuseCount(what, remedy string, pot ids.ID, on Date) error {
	return &SumError{Refusal{what, remedy}, pot, fmt.Sprintf("{correct that count: %s on %s}", pot, on)}
}

// refuseSown is refuseSum where the number of seeds sown in a pot may be wrong.
func refuseSown(what, remedy string, pot ids.ID) error {
	return &SumError{Refusal{what, remedy}, pot, fmt.Sprintf("{correct seeds: %s}", pot)}
}

// Unwrap returns the refusal.
func (e *SumError) Unwrap() error { return &e.Refusal }

// Problems returns what stands in the way, and how the numbers are corrected.
func (e *SumError) Problems() []problem.Problem {
	mend := fmt.Sprintf("{correct count: %s}", e.ID.At(ids.PotLevel))
	switch level := e.ID.Level(); {
	case e.mend != "":
		mend = e.mend
	case level == ids.CrossLevel:
		mend = fmt.Sprintf("{correct fruit: %s}", e.ID)
	case level == ids.LotLevel:
		mend = fmt.Sprintf("{correct seeds: %s}", e.ID)
	}
	return problem.Use(e.What, e.Remedy+"; where a number on record is wrong: "+mend).Problems()
}

// SeedSum is what became of the seeds of a lot. Seeds are those that were
// found, and the others are parts of them.
type SeedSum struct {
	Lot                                       ids.ID
	Seeds                                     Count
	Undeveloped, Sown, Given, Discarded, Left int
	Gone                                      int  // those that were left when the lot ended
	FirstSown                                 Date // of the pots that are not void
}

// remain is the number that was neither sown nor taken, whether the lot has
// ended or not. It is negative where the rows contradict themselves.
func (s SeedSum) remain() int { return s.Seeds.N - s.Undeveloped - s.Sown - s.Given - s.Discarded }

// parts lists what the seeds went into: "14 seeds, 1 undeveloped, 7 sown
// already, 2 given away".
func (s SeedSum) parts() string {
	text := fmt.Sprintf("%s, %d undeveloped, %d sown already", several(s.Seeds.N, "seed"), s.Undeveloped, s.Sown)
	if s.Given > 0 {
		text += fmt.Sprintf(", %d given away", s.Given)
	}
	if s.Discarded > 0 {
		text += fmt.Sprintf(", %d discarded", s.Discarded)
	}
	return text
}

// short refuses a request for more seeds than there are.
func (s SeedSum) short(asked int) error {
	return refuseSum(fmt.Sprintf("%s has %s: %d left, and %d asked for", s.Lot, s.parts(), max(0, s.remain()), asked),
		fmt.Sprintf("take at most %d", max(0, s.remain())), s.Lot)
}

// SeedsOf sums up the seeds of a lot. The error is a *Refusal for a lot that
// does not exist or is void, and a *DamageError where a cell that it needs
// cannot be read.
func (r *Registry) SeedsOf(lot ids.ID) (SeedSum, error) {
	at, err := r.usable(lot, ids.LotLevel, "seeds", "undeveloped")
	if err != nil {
		return SeedSum{}, err
	}
	return r.seedSum(r.lots.entries[at])
}

// seedSum is SeedsOf for a lot's row as it is or would be.
func (r *Registry) seedSum(l Lot) (SeedSum, error) {
	s := SeedSum{Lot: l.ID, Seeds: l.Seeds, Undeveloped: l.Undeveloped.N}
	for _, place := range r.pots.within(l.ID) {
		if found := r.pots.unreadable(place, "seeds", "state"); found != nil {
			return s, &DamageError{found}
		}
		p := r.pots.entries[place]
		if p.State == Void {
			continue
		}
		s.Sown += p.Seeds.N
		if s.FirstSown.IsZero() || p.Sown.Before(s.FirstSown) {
			s.FirstSown = p.Sown
		}
	}
	for _, place := range r.diary.exactly(l.ID) {
		if found := r.diary.unreadable(place, "what", "number"); found != nil {
			return s, &DamageError{found}
		}
		switch d := r.diary.entries[place]; d.What {
		case SeedGiven:
			s.Given += d.Number.N
		case SeedDiscarded:
			s.Discarded += d.Number.N
		}
	}
	if l.Seeds.Known {
		s.Left = max(0, s.remain())
	}
	if _, ended := r.EndOf(l.ID); ended {
		s.Left, s.Gone = 0, s.Left
	}
	return s, nil
}

// LeftToSow is the number of seeds of a lot that may still be sown: seeds less
// undeveloped ones less those in pots that are not void less those given away
// or discarded. It is not known before extraction, and 0 once the lot has
// ended. The error is that of SeedsOf.
func (r *Registry) LeftToSow(lot ids.ID) (Count, error) {
	s, err := r.SeedsOf(lot)
	if err != nil {
		return Count{}, err
	}
	if _, ended := r.EndOf(lot); !s.Seeds.Known && !ended {
		return Count{}, nil
	}
	return Known(s.Left), nil
}

// lotFits looks at a lot's row, as it would be, against the rest of the
// registry.
func (r *Registry) lotFits(l Lot) error {
	for _, c := range []struct {
		what  string
		count Count
	}{{"fruit", l.Fruit}, {"seeds", l.Seeds}, {"undeveloped seeds", l.Undeveloped}} {
		if err := countFrom0(c.what, c.count); err != nil {
			return err
		}
	}
	cross, _ := r.crosses.find(l.ID.At(ids.CrossLevel))
	s, err := r.seedSum(l)
	if err != nil {
		return err
	}
	taken := s.Sown + s.Given + s.Discarded
	switch {
	case !l.Seeds.Known && taken > 0:
		return refuseSum(fmt.Sprintf("no seeds of %s would be on record, and %d of them were sown, given away or discarded", l.ID, taken),
			"give what was found", l.ID)
	case l.Undeveloped.N > l.Seeds.N:
		return &Refusal{fmt.Sprintf("%d undeveloped are more than the %s", l.Undeveloped.N, several(l.Seeds.N, "seed")), "give all seeds, the undeveloped ones among them"}
	case l.Seeds.Known && s.remain() < 0 && taken == s.Sown:
		return refuseSum(fmt.Sprintf("%s less %d undeveloped are fewer than the %d sown from %s already", several(l.Seeds.N, "seed"), l.Undeveloped.N, s.Sown, l.ID),
			"count again, or correct the seeds of its pots", l.ID)
	case l.Seeds.Known && s.remain() < 0:
		return refuseSum(fmt.Sprintf("%s has %s: %d more than there are", l.ID, s.parts(), -s.remain()), "count again", l.ID)
	case l.Extracted.Before(cross.Pollinated):
		return tooEarly("extraction", l.Extracted, "pollination", cross.Pollinated)
	case l.Chilled.Before(l.Extracted):
		return tooLate("extraction", l.Extracted, "start of the cold", l.Chilled)
	case l.Chilled.Before(cross.Pollinated):
		return tooEarly("start of the cold", l.Chilled, "pollination", cross.Pollinated)
	case s.FirstSown.Before(l.Extracted):
		return tooLate("extraction", l.Extracted, "first sowing", s.FirstSown)
	case s.FirstSown.Before(l.Chilled):
		return tooLate("start of the cold", l.Chilled, "first sowing", s.FirstSown)
	}
	return r.lotEndFits(l, s)
}

// lotEndFits looks at the end of a lot, as its row would be.
func (r *Registry) lotEndFits(l Lot, s SeedSum) error {
	switch cross, _ := r.crosses.find(l.ID.At(ids.CrossLevel)); {
	case cross.Fate == Failed && l.Seeds.N > l.Undeveloped.N:
		return refuseEnded(fmt.Sprintf("%s, so there are no good seeds in %s", Ending{ID: cross.ID, How: Failed, On: cross.Ended}, l.ID),
			"take the end of the cross back", Ending{ID: cross.ID, How: Failed, On: cross.Ended})
	case l.Fate == UsedUp && s.remain() > 0:
		end := Ending{ID: l.ID, How: UsedUp, On: l.Ended}
		return refuseEnded(fmt.Sprintf("%s, and %s would be left", end, several(s.remain(), "seed")), "take that end back first", end)
	case l.Ended.Before(l.Extracted):
		return tooLate("extraction", l.Extracted, "end of "+l.ID.String(), l.Ended)
	case l.Ended.Before(l.Chilled):
		return tooLate("start of the cold", l.Chilled, "end of "+l.ID.String(), l.Ended)
	}
	for _, d := range r.DiaryOf(l.ID) {
		switch {
		case (d.What == SeedGiven || d.What == SeedDiscarded) && d.On.Before(l.Extracted):
			return tooLate("extraction", l.Extracted, d.What.event(), d.On)
		case d.What != Noted && l.Ended.Before(d.On):
			return tooEarly("end of "+l.ID.String(), l.Ended, d.What.event(), d.On)
		}
	}
	for _, p := range r.PotsOf(l.ID) {
		if p.State != Void && l.Ended.Before(p.Sown) {
			return tooEarly("end of "+l.ID.String(), l.Ended, "sowing of "+p.ID.String(), p.Sown)
		}
	}
	return nil
}
