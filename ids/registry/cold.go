package registry

import (
	"fmt"
	"slices"

	"pipstake/ids"
)

// Spell is a time that a seed lot spent in the cold.
type Spell struct {
	From, To Date // To is zero while it lasts
}

// ColdSpells returns the times that a seed lot spent in the cold, in order: the
// first by its own row, further ones by the diary.
func (r *Registry) ColdSpells(lot ids.ID) []Spell {
	l, _ := r.Lot(lot)
	var spells []Spell
	if !l.Chilled.IsZero() {
		spells = append(spells, Spell{From: l.Chilled})
	}
	for _, e := range r.DiaryOf(lot) {
		last := len(spells) - 1
		open := last >= 0 && spells[last].To.IsZero()
		switch {
		case e.What == IntoCold && !open:
			spells = append(spells, Spell{From: e.On})
		case e.What == OutOfCold && open && !e.On.Before(spells[last].From):
			spells[last].To = e.On
		}
	}
	return spells
}

// ColdDays returns how many days a seed lot had spent in the cold by a day, over
// all of its spells; false where it had not been there.
func (r *Registry) ColdDays(lot ids.ID, on Date) (days int, known bool) {
	for _, s := range r.ColdSpells(lot) {
		if on.Before(s.From) {
			break
		}
		to := s.To
		if to.IsZero() || on.Before(to) {
			to = on
		}
		days, known = days+to.DaysSince(s.From), true
	}
	return days, known
}

// ColdSince returns the day from which a seed lot that is in the cold would have
// been there without a break to have had as many days; zero where it is not in
// the cold, or was never.
func (r *Registry) ColdSince(lot ids.ID) Date {
	spells := r.ColdSpells(lot)
	if len(spells) == 0 {
		return Date{}
	}
	last := spells[len(spells)-1]
	if !last.To.IsZero() {
		return Date{}
	}
	days, _ := r.ColdDays(lot, last.From)
	return last.From.AddDays(-days)
}

// Chilling says when a seed lot went into the cold, or came out of it.
type Chilling struct {
	On      Date
	Out     bool // else in
	Correct bool // replaces what was recorded last
}

// Chill records that a seed lot went into the cold, for the first time or again,
// or came out of it.
func (r *Registry) Chill(lot ids.ID, c Chilling) (Lot, error) {
	spells := r.ColdSpells(lot)
	if c.Out || len(spells) > 1 || len(spells) == 1 && !c.Correct && !spells[0].To.IsZero() {
		return r.chillAgain(lot, c, spells)
	}
	return r.chillFirst(lot, c)
}

// chillFirst records the first day in the cold, in the lot's own row.
func (r *Registry) chillFirst(lot ids.ID, c Chilling) (Lot, error) {
	needs := []string{"extracted", "seeds"}
	if !c.Correct {
		needs = append(needs, "chilled")
	}
	at, err := r.usable(lot, ids.LotLevel, needs...)
	if err != nil {
		return Lot{}, err
	}
	l := r.lots.entries[at]
	sum, err := r.seedSum(l)
	if err != nil {
		return Lot{}, err
	}
	spells := r.ColdSpells(lot)
	switch {
	case !l.Seeds.Known:
		return Lot{}, notExtracted(lot)
	case c.On.IsZero():
		return Lot{}, noColdDay(lot, "went into")
	case !l.Chilled.IsZero() && !c.Correct:
		return Lot{}, &Refusal{fmt.Sprintf("%s has been in the cold since %s", lot, l.Chilled), "use {correct} if that was wrong"}
	case c.On.Before(l.Extracted):
		return Lot{}, tooEarly("start of the cold of "+lot.String(), c.On, "extraction", l.Extracted)
	case sum.FirstSown.Before(c.On):
		return Lot{}, tooLate("start of the cold of "+lot.String(), c.On, "first sowing", sum.FirstSown)
	case len(spells) > 0 && spells[0].To.Before(c.On):
		return Lot{}, tooLate("start of the cold of "+lot.String(), c.On, OutOfCold.event(), spells[0].To)
	}
	if err := r.notEnded(lot, "start of the cold", c.On); err != nil {
		return Lot{}, err
	}
	l.Chilled = c.On
	r.lots.replace(at, l)
	return l, nil
}

func noColdDay(lot ids.ID, way string) error {
	return &Refusal{fmt.Sprintf("the day on which %s %s the cold is not given", lot, way), "give it {with first day}"}
}

// chillAgain records all after the first day in the cold, in the diary.
func (r *Registry) chillAgain(lot ids.ID, c Chilling, spells []Spell) (Lot, error) {
	at, err := r.usable(lot, ids.LotLevel, "chilled")
	if err != nil {
		return Lot{}, err
	}
	word, way := IntoCold, "went into"
	if c.Out {
		word, way = OutOfCold, "came out of"
	}
	if c.On.IsZero() {
		return Lot{}, noColdDay(lot, way)
	}
	if len(spells) == 0 {
		return Lot{}, &Refusal{fmt.Sprintf("nothing says that %s is in the cold", lot), "record first when it went in"}
	}
	last := spells[len(spells)-1]
	least, before := last.From, "start of the cold" // of what has come before
	switch inside := last.To.IsZero(); {
	case c.Correct && c.Out && inside:
		return Lot{}, &Refusal{fmt.Sprintf("%s has not come out of the cold since %s", lot, last.From), "leave {correct} out"}
	case c.Correct && !c.Out:
		least, before = spells[len(spells)-2].To, OutOfCold.event()
		if !inside && last.To.Before(c.On) {
			return Lot{}, tooLate(word.event()+" of "+lot.String(), c.On, OutOfCold.event(), last.To)
		}
	case c.Out && !inside && !c.Correct:
		return Lot{}, &Refusal{fmt.Sprintf("%s has been out of the cold since %s", lot, last.To), "use {correct} if that was wrong"}
	case !c.Out && inside:
		return Lot{}, &Refusal{fmt.Sprintf("%s has been in the cold since %s", lot, last.From), "use {correct} if that was wrong"}
	case !c.Out:
		least, before = last.To, OutOfCold.event()
	}
	if c.On.Before(least) {
		return Lot{}, tooEarly(word.event()+" of "+lot.String(), c.On, before, least)
	}
	if err := r.notEnded(lot, word.event(), c.On); err != nil {
		return Lot{}, err
	}
	if !c.Correct {
		return r.lots.entries[at], r.tell(DiaryEntry{ID: lot, On: c.On, What: word})
	}
	r.redate(lot, word, c.On)
	return r.lots.entries[at], nil
}

// redate gives the last entry of an identifier with a word another day.
func (r *Registry) redate(id ids.ID, word DiaryWord, on Date) {
	places := slices.DeleteFunc(slices.Clone(r.diary.exactly(id)), func(p int32) bool { return r.diary.entries[p].What != word })
	last := slices.MaxFunc(places, func(a, b int32) int { return r.diary.entries[a].On.Compare(r.diary.entries[b].On) })
	e := r.diary.entries[last]
	e.On = on
	r.diary.replace(last, e)
}
