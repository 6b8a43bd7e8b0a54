package registry

import (
	"fmt"

	"pipstake/ids"
)

// Extraction is what was found in the fruit of a seed lot. What is not known
// leaves what was recorded before.
type Extraction struct {
	Fruit, Seeds, Undeveloped Count
	On                        Date
	Correct                   bool // replaces what was recorded
}

// Extract records what was found in the fruit of a seed lot.
func (r *Registry) Extract(lot ids.ID, e Extraction) (Lot, error) {
	needs := []string{"fruit", "seeds", "undeveloped", "extracted", "chilled"}
	if e.Correct {
		needs = []string{"chilled"} // what cannot be read is about to be replaced
	}
	at, err := r.usable(lot, ids.LotLevel, needs...)
	if err != nil {
		return Lot{}, err
	}
	was := r.lots.entries[at]
	if recorded := was.Seeds.Known || !was.Extracted.IsZero(); recorded && !e.Correct {
		return Lot{}, &Refusal{fmt.Sprintf("%s is extracted already: %s on %s", lot, several(was.Seeds.N, "seed"), orUnknown(was.Extracted)),
			"use {correct} if that was wrong"}
	}
	now := was
	now.Fruit, now.Seeds, now.Undeveloped = e.Fruit.or(was.Fruit), e.Seeds.or(was.Seeds), e.Undeveloped.or(was.Undeveloped)
	if !e.On.IsZero() {
		now.Extracted = e.On
	}
	if err := r.extractable(now); err != nil {
		return Lot{}, err
	}
	if err := stillUnreadable(r.lots, at, now); err != nil {
		return Lot{}, err
	}
	r.lots.replace(at, now)
	return now, nil
}

// stillUnreadable refuses a correction that would leave a damaged cell of the
// extraction as it is.
func stillUnreadable(t *table[Lot], at int32, now Lot) error {
	for _, c := range []struct {
		name  string
		value fmt.Stringer
	}{{"fruit", now.Fruit}, {"seeds", now.Seeds}, {"undeveloped", now.Undeveloped}, {"extracted", now.Extracted}} {
		if found := t.unreadable(at, c.name); found != nil && c.value.String() == "" {
			return &DamageError{found}
		}
	}
	return nil
}

// extractable looks at the counts and dates of an extraction against the rest
// of the registry.
func (r *Registry) extractable(lot Lot) error {
	switch {
	case !lot.Seeds.Known:
		return &Refusal{fmt.Sprintf("the number of seeds in %s is not given", lot.ID), "give what was found {with seeds}"}
	case lot.Extracted.IsZero():
		return &Refusal{fmt.Sprintf("the day of the extraction of %s is not given", lot.ID), "give it {with day}"}
	}
	if err := r.notEnded(lot.ID, "extraction", lot.Extracted); err != nil {
		return err
	}
	return r.lotFits(lot)
}

// or is c where it is known, else d.
func (c Count) or(d Count) Count {
	if c.Known {
		return c
	}
	return d
}

// Sowing is one day's sowing from a seed lot.
type Sowing struct {
	Seeds []int // in each pot
	On    Date
	Place string // may be empty
}

// Sow issues the pots of a sowing.
func (r *Registry) Sow(lot ids.ID, s Sowing) ([]Pot, error) {
	at, err := r.usable(lot, ids.LotLevel, "extracted", "seeds", "undeveloped", "chilled")
	if err != nil {
		return nil, err
	}
	l := r.lots.entries[at]
	place, err := oneLine("place", s.Place)
	if err != nil {
		return nil, err
	}
	switch {
	case !l.Seeds.Known:
		return nil, notExtracted(lot)
	case s.On.IsZero():
		return nil, &Refusal{"the day of sowing is not given", "give it {with day}"}
	case s.On.Before(l.Extracted):
		return nil, tooEarly("sowing of "+lot.String(), s.On, "extraction", l.Extracted)
	case s.On.Before(l.Chilled):
		return nil, tooEarly("sowing of "+lot.String(), s.On, "start of the cold", l.Chilled)
	}
	if err := r.notEnded(lot, "sowing", s.On); err != nil {
		return nil, err
	}
	if err := r.enough(l, s.Seeds); err != nil {
		return nil, err
	}
	fresh, err := r.children(lot, len(s.Seeds))
	if err != nil {
		return nil, err
	}
	var pots []Pot
	for i, id := range fresh {
		p := Pot{ID: id, Seeds: Known(s.Seeds[i]), Sown: s.On, Place: place}
		r.pots.append(p)
		pots = append(pots, p)
	}
	return pots, nil
}

// enough reports by its error whether a lot has the seeds for some pots.
func (r *Registry) enough(l Lot, seeds []int) error {
	asked := 0
	for _, n := range seeds {
		if n < 1 || n > maxCount {
			return &Refusal{fmt.Sprintf("a pot with %s cannot be sown", several(n, "seed")), "give every pot 1 or more"}
		}
		asked += n
	}
	sum, err := r.seedSum(l)
	if err != nil {
		return err
	}
	if asked > sum.remain() {
		return sum.short(asked)
	}
	return nil
}

func notExtracted(lot ids.ID) error {
	return &Refusal{fmt.Sprintf("no seed of %s is recorded yet", lot), fmt.Sprintf("record it first with: {extract: %s}", lot)}
}

func tooEarly(what string, on Date, after string, than Date) error {
	return &Refusal{fmt.Sprintf("%s on %s comes before the %s on %s", what, on, after, than), "correct the day {with day}"}
}

func tooLate(what string, on Date, before string, than Date) error {
	return &Refusal{fmt.Sprintf("%s on %s comes after the %s on %s", what, on, before, than), "correct the day {with day}"}
}

// several writes a number with its noun.
func several(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return fmt.Sprintf("%d %ss", n, noun)
}

// wasWere writes a number with its noun and verb.
func wasWere(n int, noun string) string {
	if n == 1 {
		return "1 " + noun + " was"
	}
	return fmt.Sprintf("%d %ss were", n, noun)
}

func orUnknown(d Date) string {
	if d.IsZero() {
		return "a day not known"
	}
	return d.String()
}
