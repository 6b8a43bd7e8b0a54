package registry

import (
	"fmt"

	"pipstake/ids"
)

// UsualFate is how something ends where nothing is said: a cross failed, a lot
// is used up where no seed is left and else discarded, a pot is emptied where
// nothing alive is left in it and else lost, a seedling died.
func (r *Registry) UsualFate(id ids.ID) Fate {
	switch id.Level() {
	case ids.CrossLevel:
		return Failed
	case ids.LotLevel:
		if left, err := r.LeftToSow(id); err == nil && left == Known(0) {
			return UsedUp
		}
		return Discarded
	case ids.PotLevel:
		if r.AliveIn(id) == Known(0) {
			return Emptied
		}
		return Lost
	case ids.SeedlingLevel:
		return Died
	}
	return Growing
}

// Ends returns what an end would end, without changing anything: the thing
// itself first, then the lots of a cross, which end with it. Seedlings live on
// after their pot, and pots after the lot that they were sown from. Without a
// fate the usual one is taken. The error is an *EndedError for a second end,
// a *Refusal where the fate does not belong to the level, a reason or the day
// is missing, or something contradicts it that happened, and a *DamageError.
func (r *Registry) Ends(e Ending) ([]Ending, error) {
	level := e.ID.Level()
	if level == ids.NoLevel {
		return nil, &Refusal{"there is nothing to end", "give an identifier"}
	}
	if _, err := r.usable(e.ID, level, "ended", "fate"); err != nil {
		return nil, err
	}
	var err error
	if e.Note, err = oneLine("note", e.Note); err != nil {
		return nil, err
	}
	if e.How == Growing {
		e.How = r.UsualFate(e.ID)
	}
	was, ended := r.EndOf(e.ID)
	switch {
	case e.How.Level() != level:
		return nil, &Refusal{fmt.Sprintf("%s is a %s, and %q is no end of one", e.ID, level, e.How), "choose from " + oneOf(Fates(level))}
	case ended:
		return nil, refuseEnded(fmt.Sprintf("%s already", was), "take that end back if it was wrong", was)
	case e.On.IsZero():
		return nil, &Refusal{"the day of the end is not given", "give it {with day}"}
	case e.How == Culled && e.Note == "":
		return nil, &Refusal{fmt.Sprintf("%s is culled without a reason", e.ID), "give it {with note}"}
	}
	if what, last := r.lastOf(e.ID); e.On.Before(last) {
		return nil, tooEarly("end of "+e.ID.String(), e.On, what, last)
	}
	if err := r.mayEnd(e); err != nil {
		return nil, err
	}
	all := []Ending{e}
	if level == ids.CrossLevel {
		for _, l := range r.LotsOf(e.ID) {
			if r.Grows(l.ID) {
				all = append(all, Ending{ID: l.ID, How: e.How, On: e.On})
			}
		}
	}
	return all, nil
}

// mayEnd refuses an end that the counts contradict.
func (r *Registry) mayEnd(e Ending) error {
	switch e.How {
	case Failed:
		for _, l := range r.LotsOf(e.ID) {
			if good := l.Seeds.N - l.Undeveloped.N; l.State != Void && good > 0 {
				return refuseSum(fmt.Sprintf("%s holds %s of %s, so the cross did not fail", l.ID, several(good, "good seed"), e.ID),
					"end the seed lot instead, or correct its count", l.ID)
			}
		}
	case UsedUp:
		left, err := r.LeftToSow(e.ID)
		switch {
		case err != nil:
			return err
		case !left.Known:
			return notExtracted(e.ID)
		case left.N > 0:
			return refuseSum(fmt.Sprintf("%s are left of %s, so it is not used up", several(left.N, "seed"), e.ID),
				"discard them or give them away, or correct the count", e.ID)
		}
	case Emptied:
		if alive := r.AliveIn(e.ID); alive.N > 0 {
			return refuseSum(fmt.Sprintf("%d of the seedlings that came up in %s are neither dead nor pricked out, so it is not emptied", alive.N, e.ID),
				"prick them out, count those that died, or say that the pot was lost", e.ID)
		}
	}
	return nil
}

// lastOf is the last of the dated events of something that its end must not
// come before; the zero Date where none is dated.
func (r *Registry) lastOf(id ids.ID) (what string, last Date) {
	see := func(event string, on Date) {
		if last.Compare(on) < 0 {
			what, last = event, on
		}
	}
	switch id.Level() {
	case ids.CrossLevel:
		c, _ := r.Cross(id)
		see("pollination", c.Pollinated)
		see("picking of the fruit", c.Picked)
	case ids.LotLevel:
		l, _ := r.Lot(id)
		see("extraction", l.Extracted)
		see("start of the cold", l.Chilled)
		for _, p := range r.PotsOf(id) {
			if p.State != Void {
				see("sowing of "+p.ID.String(), p.Sown)
			}
		}
	case ids.PotLevel:
		p, _ := r.Pot(id)
		see("sowing", p.Sown)
		for _, c := range r.EmergenceOf(id) {
			see("count", c.On)
		}
		for _, s := range r.SeedlingsOf(id) {
			if s.State != Void {
				see("pricking out of "+s.ID.String(), s.Pricked)
			}
		}
	case ids.SeedlingLevel:
		s, _ := r.Seedling(id)
		see("pricking out", s.Pricked)
	}
	for _, d := range r.DiaryOf(id) {
		if d.What != Noted {
			see(d.What.event(), d.On)
		}
	}
	return what, last
}

// End records the end of something, and returns what ended; see Ends.
func (r *Registry) End(e Ending) ([]Ending, error) {
	all, err := r.Ends(e)
	if err != nil {
		return nil, err
	}
	e = all[0]
	r.setEnd(e)
	return all, nil
}

// setEnd writes an end into the row; Growing and no day take one out.
func (r *Registry) setEnd(e Ending) {
	switch e.ID.Level() {
	case ids.CrossLevel:
		at := r.crosses.exactly(e.ID)[0]
		c := r.crosses.entries[at]
		c.Fate, c.Ended, c.Notes = e.How, e.On, addNote(c.Notes, e.Note)
		r.crosses.replace(at, c)
	case ids.LotLevel:
		at := r.lots.exactly(e.ID)[0]
		l := r.lots.entries[at]
		l.Fate, l.Ended, l.Notes = e.How, e.On, addNote(l.Notes, e.Note)
		r.lots.replace(at, l)
	case ids.PotLevel:
		at := r.pots.exactly(e.ID)[0]
		p := r.pots.entries[at]
		p.Fate, p.Ended, p.Notes = e.How, e.On, addNote(p.Notes, e.Note)
		r.pots.replace(at, p)
	case ids.SeedlingLevel:
		at := r.seedlings.exactly(e.ID)[0]
		s := r.seedlings.entries[at]
		s.Fate, s.Ended, s.Notes = e.How, e.On, addNote(s.Notes, e.Note)
		r.seedlings.replace(at, s)
	}
}

// GrowsOn takes the end of something back and returns it. The error is a
// *Refusal where it has not ended or ended with its cross, and a *DamageError.
func (r *Registry) GrowsOn(id ids.ID) (Ending, error) {
	if _, err := r.usable(id, max(id.Level(), ids.CrossLevel)); err != nil {
		return Ending{}, err
	}
	end, ended := r.EndOf(id)
	switch {
	case !ended:
		return end, &Refusal{fmt.Sprintf("%s has not ended", id), "look it up first"}
	case end.ID != id:
		return end, refuseEnded(fmt.Sprintf("%s ended with its cross: %s", id, end), "take the end of the cross back", end)
	}
	r.setEnd(Ending{ID: id})
	return end, nil
}

// SeedsGone is a part of a lot's seeds that was discarded or given away.
type SeedsGone struct {
	How   Fate // Discarded or GivenAway; Discarded where left out
	Seeds int
	On    Date
	Note  string
}

// TakeSeeds records that some of the seeds of a lot are gone, and returns how
// many are left to sow. The error is an *EndedError, a *SumError where there
// are not so many, another *Refusal, or a *DamageError.
func (r *Registry) TakeSeeds(lot ids.ID, g SeedsGone) (left int, err error) {
	at, err := r.usable(lot, ids.LotLevel, "extracted", "seeds", "undeveloped")
	if err != nil {
		return 0, err
	}
	words := map[Fate]DiaryWord{Growing: SeedDiscarded, Discarded: SeedDiscarded, GivenAway: SeedGiven}
	word, ok := words[g.How]
	l := r.lots.entries[at]
	switch {
	case !ok:
		return 0, &Refusal{fmt.Sprintf("%q is nothing that happens to a part of a lot's seeds", g.How), "choose from " + oneOf([]Fate{Discarded, GivenAway})}
	case !l.Seeds.Known:
		return 0, notExtracted(lot)
	case g.On.Before(l.Extracted):
		return 0, tooEarly(word.event(), g.On, "extraction", l.Extracted)
	case g.Seeds < 1:
		return 0, &Refusal{fmt.Sprintf("%d is no number of seeds", g.Seeds), "give a number from 1"}
	}
	if err := r.notEnded(lot, word.event(), g.On); err != nil {
		return 0, err
	}
	sum, err := r.seedSum(l)
	if err != nil {
		return 0, err
	}
	if g.Seeds > sum.remain() {
		return 0, sum.short(g.Seeds)
	}
	if err := r.tell(DiaryEntry{ID: lot, On: g.On, What: word, Number: Known(g.Seeds), Text: g.Note}); err != nil {
		return 0, err
	}
	return sum.remain() - g.Seeds, nil
}
