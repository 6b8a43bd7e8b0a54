package registry

import (
	"fmt"

	"pipstake/ids"
)

// crossFits looks at a cross, as its row would be, against the rest of the
// registry.
func (r *Registry) crossFits(c Cross) error {
	for _, n := range []struct {
		what  string
		count Count
	}{{"flowers", c.Flowers}, {"fruit", c.Fruit}} {
		if err := countFrom0(n.what, n.count); err != nil {
			return err
		}
	}
	if c.Flowers.Known && c.Fruit.N > c.Flowers.N {
		return refuseSum(fmt.Sprintf("%d fruit are more than the %s pollinated of %s", c.Fruit.N, several(c.Flowers.N, "flower"), c.ID),
			"correct one of the two", c.ID)
	}
	if _, err := crossYear(NewCross{Pollinated: c.Pollinated, Year: c.ID.Year}); err != nil {
		return err
	}
	for _, name := range []string{c.SeedParent, c.PollenParent} {
		if read, err := ids.Parse(name); err == nil && r.descends(read.ID, c.ID, map[ids.ID]bool{}) {
			return &Refusal{fmt.Sprintf("%s comes from %s, so it is no parent of it", read.ID, c.ID), "compare the identifiers with the labels"}
		}
	}
	switch {
	case c.Picked.Before(c.Pollinated):
		return tooEarly("picking of the fruit", c.Picked, "pollination", c.Pollinated)
	case c.Ended.Before(c.Pollinated):
		return tooEarly("end of "+c.ID.String(), c.Ended, "pollination", c.Pollinated)
	case c.Ended.Before(c.Picked):
		return tooEarly("end of "+c.ID.String(), c.Ended, "picking of the fruit", c.Picked)
	}
	return r.belowFits(c)
}

// belowFits looks at the pollination of a cross against what came of it.
func (r *Registry) belowFits(c Cross) error {
	for _, l := range r.LotsOf(c.ID) {
		switch {
		case l.State == Void:
		case l.Extracted.Before(c.Pollinated):
			return tooLate("pollination", c.Pollinated, "extraction of "+l.ID.String(), l.Extracted)
		case l.Chilled.Before(c.Pollinated):
			return tooLate("pollination", c.Pollinated, "start of the cold of "+l.ID.String(), l.Chilled)
		}
	}
	for _, p := range r.PotsOf(c.ID) {
		if p.State != Void && p.Sown.Before(c.Pollinated) {
			return tooLate("pollination", c.Pollinated, "sowing of "+p.ID.String(), p.Sown)
		}
	}
	return nil
}

// descends reports whether a seedling comes from a cross, through any number of
// generations.
func (r *Registry) descends(seedling, cross ids.ID, seen map[ids.ID]bool) bool {
	of := seedling.At(ids.CrossLevel)
	if of == cross {
		return true
	}
	if seen[of] {
		return false
	}
	seen[of] = true
	c, _ := r.Cross(of)
	for _, name := range []string{c.SeedParent, c.PollenParent} {
		if read, err := ids.Parse(name); err == nil && r.descends(read.ID, cross, seen) {
			return true
		}
	}
	return false
}

// potFits looks at a pot's row against its lot and what happened in the pot.
func (r *Registry) potFits(p Pot) error {
	if p.Seeds.N < 1 || p.Seeds.N > maxCount {
		return &Refusal{fmt.Sprintf("a pot with %s cannot be sown", several(p.Seeds.N, "seed")), "give every pot 1 or more"}
	}
	lot := p.ID.At(ids.LotLevel)
	l, _ := r.Lot(lot)
	sum, err := r.seedSum(l)
	if err != nil {
		return err
	}
	end := Ending{ID: lot, How: l.Fate, On: l.Ended}
	switch {
	case l.Seeds.Known && sum.remain() < 0:
		return refuseSum(fmt.Sprintf("%s would have %s: %d more than there are", lot, sum.parts(), -sum.remain()),
			"correct the seeds of the lot first, if they were more", lot)
	case l.Fate == UsedUp && sum.remain() > 0:
		return refuseEnded(fmt.Sprintf("%s, and %s would be left", end, several(sum.remain(), "seed")), "take that end back first", end)
	case p.Sown.IsZero():
		return &Refusal{fmt.Sprintf("the day of sowing of %s is missing", p.ID), "give it"}
	case p.Sown.Before(l.Extracted):
		return tooEarly("sowing", p.Sown, "extraction", l.Extracted)
	case p.Sown.Before(l.Chilled):
		return tooEarly("sowing", p.Sown, "start of the cold", l.Chilled)
	case l.Ended.Before(p.Sown):
		return refuseEnded(fmt.Sprintf("%s, before a sowing on %s", end, p.Sown), "correct the day, or take the end back", end)
	case p.Ended.Before(p.Sown):
		return tooEarly("end of "+p.ID.String(), p.Ended, "sowing", p.Sown)
	}
	if err := r.diaryFits(p.ID, p.Sown, "sowing", p.Ended); err != nil {
		return err
	}
	life, err := r.lifeOf(p)
	if err != nil {
		return err
	}
	return life.fits()
}

// seedlingFits looks at a seedling's row against its pot and the diary.
func (r *Registry) seedlingFits(s Seedling) error {
	if s.Ended.Before(s.Pricked) {
		return tooEarly("end of "+s.ID.String(), s.Ended, "pricking out", s.Pricked)
	}
	if err := r.diaryFits(s.ID, s.Pricked, "pricking out", s.Ended); err != nil {
		return err
	}
	p, _ := r.Pot(s.ID.At(ids.PotLevel))
	life, err := r.lifeOf(p)
	if err != nil {
		return err
	}
	return life.fits()
}

// diaryFits looks whether what the diary tells lies between the beginning and
// the end of something.
func (r *Registry) diaryFits(id ids.ID, from Date, beginning string, end Date) error {
	for _, d := range r.DiaryOf(id) {
		switch {
		case d.What == Noted:
		case d.On.Before(from):
			return tooLate(beginning, from, d.What.event(), d.On)
		case end.Before(d.On):
			return tooEarly("end of "+id.String(), end, d.What.event(), d.On)
		}
	}
	return nil
}
