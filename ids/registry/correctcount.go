package registry

import (
	"fmt"
	"slices"
	"strings"

	"pipstake/ids"
)

// CountCorrection replaces what a count says. What is nil stays; a Died that is
// not known takes the number out.
type CountCorrection struct {
	Up, Died *Count
	Drop     bool // the count was never made
}

// CorrectCount corrects the count of a pot on a day, or drops it, and returns
// what changed. The error is a *SumError where other counts or prickings
// contradict it, another *Refusal, or a *DamageError.
func (r *Registry) CorrectCount(pot ids.ID, on Date, c CountCorrection) ([]Changed, error) {
	at, err := r.usable(pot, ids.PotLevel, "seeds", "sown", "ended", "fate")
	if err != nil {
		return nil, err
	}
	var places []int32
	var days []string
	for _, place := range r.emergence.exactly(pot) {
		e := r.emergence.entries[place]
		days = append(days, orUnknown(e.On))
		if e.On == on {
			places = append(places, place)
		}
	}
	switch {
	case days == nil:
		return nil, &Refusal{fmt.Sprintf("%s was never counted", pot), "record a count first"}
	case places == nil:
		slices.Sort(days)
		return nil, &Refusal{fmt.Sprintf("%s was not counted on %s", pot, orUnknown(on)), "it was counted on " + strings.Join(days, ", ")}
	case len(places) > 1:
		return nil, &DamageError{[]Finding{r.emergence.finding(places[1], "on", "is the day of another count too", "keep the one that is right")}}
	case c.Drop && (c.Up != nil || c.Died != nil):
		return nil, &Refusal{fmt.Sprintf("the count of %s is to be dropped, and numbers are given as well", on), "do one of the two"}
	case !c.Drop && c.Up == nil && c.Died == nil:
		return nil, &Refusal{fmt.Sprintf("what is wrong of the count on %s is not said", on), "give the number that was counted"}
	}
	if err := r.readableBut(pot, places[0], c); err != nil {
		return nil, err
	}
	was := r.emergence.entries[places[0]]
	now := was
	set(&now.Up, c.Up)
	set(&now.Died, c.Died)
	life := potLife{r.pots.entries[at], r.EmergenceOf(pot), r.prickedFrom(pot)}
	life.counts = slices.DeleteFunc(life.counts, func(e Emergence) bool { return e.On == on })
	changes := changesBetween(r.emergence, pot, &was, &now)
	if c.Drop {
		changes = changesBetween(r.emergence, pot, &was, &Emergence{Pot: pot, On: on, Notes: was.Notes})
	} else {
		if err := countable(life.pot, now); err != nil {
			return nil, err
		}
		for _, other := range life.counts {
			if err := goesWith(other, now); err != nil {
				return nil, err
			}
		}
		life = life.with(now)
	}
	if err := life.fits(); err != nil {
		return nil, err
	}
	for i := range changes {
		changes[i].On = on
	}
	if c.Drop {
		r.emergence.remove(places[0])
	} else {
		r.emergence.replace(places[0], now)
	}
	return changes, nil
}

// readableBut returns a *DamageError where cells that tell of a pot cannot be
// read, but for those that the correction of a count replaces.
func (r *Registry) readableBut(pot ids.ID, corrected int32, c CountCorrection) error {
	for _, place := range r.emergence.exactly(pot) {
		cells := []string{"on", "up", "died"}
		if place == corrected && (c.Up != nil || c.Drop) {
			cells = slices.DeleteFunc(cells, func(name string) bool { return name == "up" })
		}
		if place == corrected && (c.Died != nil || c.Drop) {
			cells = slices.DeleteFunc(cells, func(name string) bool { return name == "died" })
		}
		if found := r.emergence.unreadable(place, cells...); found != nil {
			return &DamageError{found}
		}
	}
	return r.readablePricks(pot)
}

// RenameVariety writes a variety's name anew wherever it stands: as a parent
// in any case and spacing, in a mixture, as the name of a selection, and in
// varieties.csv. The error is a *Refusal where no row bears the old name.
func (r *Registry) RenameVariety(old, name string) ([]Changed, error) {
	key := NameKey(old)
	name, err := r.parent("variety", name)
	if err != nil {
		return nil, err
	}
	if p := ReadParent(name); p.Kind != OnePlant {
		return nil, &Refusal{fmt.Sprintf("%q stands for %s, not for a variety", shorten(name), p), "give the name of one variety"}
	}
	for _, s := range r.seedlings.entries {
		if s.Name != "" && NameKey(s.Name) == key {
			if err := r.freeName(s, name); err != nil {
				return nil, err
			}
		}
	}
	var all []Changed
	for i := range r.crosses.entries {
		now := r.crosses.entries[i]
		for _, parent := range []*string{&now.SeedParent, &now.PollenParent} {
			*parent = renamed(*parent, key, name)
		}
		all = append(all, changesBetween(r.crosses, now.ID, &r.crosses.entries[i], &now)...)
		r.crosses.replace(int32(i), now)
	}
	for i := range r.seedlings.entries {
		now := r.seedlings.entries[i]
		if now.Name == "" || NameKey(now.Name) != key {
			continue
		}
		now.Name = name
		all = append(all, changesBetween(r.seedlings, now.ID, &r.seedlings.entries[i], &now)...)
		r.seedlings.replace(int32(i), now)
	}
	inVarieties, err := r.renameInVarieties(old, name)
	if err != nil {
		return nil, err
	}
	if all == nil && inVarieties {
		all = []Changed{{Fact: "name", Before: old, After: name}}
	}
	if all == nil {
		return nil, &Refusal{fmt.Sprintf("no cross has a parent %q, and no selection is named so", shorten(old)), "compare it with " + crossesFile}
	}
	return all, nil
}
