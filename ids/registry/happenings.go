package registry

import (
	"fmt"
	"strings"

	"pipstake/ids"
)

// What happens to something that grows, each on its day. The errors are an
// *EndedError after its end, another *Refusal, or a *DamageError.

// happens refuses an event that comes before the beginning of something or
// after its end.
func (r *Registry) happens(id ids.ID, word DiaryWord, on Date) error {
	switch id.Level() {
	case ids.PotLevel:
		if p, _ := r.Pot(id); on.Before(p.Sown) {
			return tooEarly(word.event(), on, "sowing", p.Sown)
		}
	case ids.SeedlingLevel:
		if s, _ := r.Seedling(id); on.Before(s.Pricked) {
			return tooEarly(word.event(), on, "pricking out", s.Pricked)
		}
	}
	return r.notEnded(id, word.event(), on)
}

// Move records that a pot or seedling stands at another place from a day on,
// and returns where it stood. A move that is older than one on record leaves
// the place as it is.
func (r *Registry) Move(id ids.ID, place string, on Date) (from string, err error) {
	return r.place(id, Moved, place, on)
}

// Plant records that a seedling was planted out, and returns where it stood.
func (r *Registry) Plant(seedling ids.ID, place string, on Date) (from string, err error) {
	return r.place(seedling, PlantedOut, place, on)
}

// place records where something stands.
func (r *Registry) place(id ids.ID, word DiaryWord, place string, on Date) (from string, err error) {
	level := id.Level()
	if levels := word.levels(); level != levels[0] {
		level = levels[len(levels)-1]
	}
	at, err := r.usable(id, level)
	if err != nil {
		return "", err
	}
	if place, err = oneLine("place", place); err != nil {
		return "", err
	}
	if place == "" {
		return "", &Refusal{fmt.Sprintf("the place of %s is not given", id), "say where it stands"}
	}
	if err := r.happens(id, word, on); err != nil {
		return "", err
	}
	if from = r.PlaceOf(id); from == place && word == Moved {
		return "", &Refusal{fmt.Sprintf("%s stands at %q already", id, place), "name another place"}
	}
	latest := true
	for _, d := range r.DiaryOf(id) {
		if (d.What == Moved || d.What == PlantedOut) && on.Before(d.On) {
			latest = false
		}
	}
	if err := r.tell(DiaryEntry{ID: id, On: on, What: word, Text: place}); err != nil || !latest {
		return from, err
	}
	if level == ids.PotLevel {
		p := r.pots.entries[at]
		p.Place = place
		r.pots.replace(at, p)
		return from, nil
	}
	s := r.seedlings.entries[at]
	s.Place = place
	r.seedlings.replace(at, s)
	return from, nil
}

// PlaceOf is where a pot or seedling stands; "" where that is not recorded.
func (r *Registry) PlaceOf(id ids.ID) string {
	switch id.Level() {
	case ids.PotLevel:
		p, _ := r.Pot(id)
		return p.Place
	case ids.SeedlingLevel:
		s, _ := r.Seedling(id)
		return s.Place
	}
	return ""
}

// Graft records that copies of a seedling were grafted, and returns how many
// there are in all.
func (r *Registry) Graft(seedling ids.ID, copies int, on Date, text string) (all int, err error) {
	if _, err := r.usable(seedling, ids.SeedlingLevel); err != nil {
		return 0, err
	}
	const most = 99 // copies of one seedling: as many as labels can number
	all = r.CopiesOf(seedling)
	if copies < 1 || all+copies > most {
		remedy := fmt.Sprintf("give 1 to %d", most-all)
		if all >= most {
			remedy = "no label can number more"
		}
		return 0, &Refusal{fmt.Sprintf("%d more copies of %s are asked for, and it has %d", copies, seedling, all), remedy}
	}
	if err := r.happens(seedling, Grafted, on); err != nil {
		return 0, err
	}
	return all + copies, r.tell(DiaryEntry{ID: seedling, On: on, What: Grafted, Number: Known(copies), Text: text})
}

// CopiesOf is how many grafted copies of a seedling were made.
func (r *Registry) CopiesOf(seedling ids.ID) int {
	n := 0
	for _, d := range r.told(seedling, Grafted) {
		n += d.Number.N
	}
	return n
}

// Select records that a seedling is worth keeping; its name as a selection may
// be given later, and again.
func (r *Registry) Select(seedling ids.ID, name string, on Date) error {
	at, err := r.usable(seedling, ids.SeedlingLevel)
	if err != nil {
		return err
	}
	if name, err = oneName("name", name); err != nil {
		return err
	}
	s := r.seedlings.entries[at]
	if err := r.freeName(s, name); err != nil {
		return err
	}
	if chosen := r.told(seedling, Selected); len(chosen) > 0 && (name == "" || name == s.Name) {
		return &Refusal{fmt.Sprintf("%s was selected on %s already", seedling, chosen[len(chosen)-1].On), "give it another name if it is to have one"}
	}
	if err := r.happens(seedling, Selected, on); err != nil {
		return err
	}
	if err := r.tell(DiaryEntry{ID: seedling, On: on, What: Selected, Text: name}); err != nil || name == "" {
		return err
	}
	s.Name = name
	r.seedlings.replace(at, s)
	return nil
}

// freeName refuses a name that another seedling bears.
func (r *Registry) freeName(s Seedling, name string) error {
	if _, err := ids.Parse(name); err == nil {
		return &Refusal{fmt.Sprintf("the name %q reads as an identifier", name), "choose another"}
	}
	for i := range r.seedlings.entries {
		other := &r.seedlings.entries[i]
		if name != "" && other.ID != s.ID && strings.EqualFold(other.Name, name) {
			return &Refusal{fmt.Sprintf("%s is named %q already", other.ID, other.Name), "choose another name"}
		}
	}
	return nil
}

// First records the first flowering or the first fruit of a seedling; word is
// Flowered or Fruited.
func (r *Registry) First(seedling ids.ID, word DiaryWord, on Date) error {
	if _, err := r.usable(seedling, ids.SeedlingLevel); err != nil {
		return err
	}
	if was := r.told(seedling, word); len(was) > 0 {
		return &Refusal{fmt.Sprintf("the %s of %s is recorded already, on %s", word.event(), seedling, was[0].On), "correct " + diaryFile + " if that was wrong"}
	}
	if err := r.happens(seedling, word, on); err != nil {
		return err
	}
	return r.tell(DiaryEntry{ID: seedling, On: on, What: word})
}

// Pick records how many fruit of a cross were picked, and when.
func (r *Registry) Pick(cross ids.ID, fruit int, on Date) (Cross, error) {
	at, err := r.usable(cross, ids.CrossLevel, "pollinated", "flowers", "fruit", "picked")
	if err != nil {
		return Cross{}, err
	}
	c := r.crosses.entries[at]
	switch {
	case on.IsZero():
		return Cross{}, &Refusal{"the day of the picking is not given", "give it {with day}"}
	case c.Fruit.Known || !c.Picked.IsZero():
		return Cross{}, &Refusal{fmt.Sprintf("%s of %s were picked already, on %s", fruits(c.Fruit), cross, orUnknown(c.Picked)), fmt.Sprintf("where that was wrong, give all fruit together: {correct picking: %s}", cross)}
	}
	if err := r.notEnded(cross, "picking", on); err != nil {
		return Cross{}, err
	}
	c.Fruit, c.Picked = Known(fruit), on
	if err := r.crossFits(c); err != nil {
		return Cross{}, err
	}
	r.crosses.replace(at, c)
	return c, nil
}

// fruits names a number of fruit.
func fruits(c Count) string {
	if !c.Known {
		return "the fruit"
	}
	return fmt.Sprintf("%d fruit", c.N)
}

// Keep records until which year the seed of a lot is kept on purpose; 0 takes
// that back.
func (r *Registry) Keep(lot ids.ID, until int) (Lot, error) {
	at, err := r.usable(lot, ids.LotLevel, "kept")
	if err != nil {
		return Lot{}, err
	}
	l := r.lots.entries[at]
	if end, ended := r.EndOf(lot); ended && until != 0 {
		return Lot{}, refuseEnded(fmt.Sprintf("%s, so there is no seed to keep", end), "take the end back if it was wrong", end)
	}
	left, err := r.LeftToSow(lot)
	switch {
	case err != nil:
		return Lot{}, err
	case until != 0 && (until < 1000 || until > 9999):
		return Lot{}, &Refusal{fmt.Sprintf("%d is no year", until), "give the year in four digits"}
	case until != 0 && left == Known(0):
		return Lot{}, &Refusal{fmt.Sprintf("no seed is left of %s", lot), "there is nothing to keep"}
	}
	l.Kept = until
	r.lots.replace(at, l)
	return l, nil
}
