package registry

import (
	"fmt"
	"slices"

	"pipstake/ids"
)

// What contradicts the end of something, and the diary.

// ends looks at how crosses, seed lots, pots and seedlings ended.
func (c *checker) ends() {
	r := c.r
	for i := range r.crosses.entries {
		e, at := &r.crosses.entries[i], int32(i)
		c.end(r.crosses, at, Ending{ID: e.ID, How: e.Fate, On: e.Ended}, e.State,
			step{"", "pollination", ids.ID{}, e.Pollinated}, step{"", "picking of the fruit", ids.ID{}, e.Picked})
		c.order(r.crosses.finding, at, step{"picked", "picking of the fruit", ids.ID{}, e.Picked}, step{"", "pollination", ids.ID{}, e.Pollinated})
		if e.Flowers.Known && e.Fruit.N > e.Flowers.N {
			c.add(r.crosses.finding(at, "fruit", fmt.Sprintf("is more than the %s", several(e.Flowers.N, "flower")), "correct one of the two"))
		}
	}
	for i := range r.lots.entries {
		e, at := &r.lots.entries[i], int32(i)
		c.end(r.lots, at, Ending{ID: e.ID, How: e.Fate, On: e.Ended}, e.State,
			step{"", "extraction", ids.ID{}, e.Extracted}, step{"", "start of the cold", ids.ID{}, e.Chilled})
		c.lotEnd(at, e)
	}
	for i := range r.pots.entries {
		e, at := &r.pots.entries[i], int32(i)
		c.end(r.pots, at, Ending{ID: e.ID, How: e.Fate, On: e.Ended}, e.State, step{"", "sowing", ids.ID{}, e.Sown})
		c.potEnd(at, e)
	}
	for i := range r.seedlings.entries {
		e, at := &r.seedlings.entries[i], int32(i)
		c.end(r.seedlings, at, Ending{ID: e.ID, How: e.Fate, On: e.Ended}, e.State, step{"", "pricking out", ids.ID{}, e.Pricked})
	}
}

// end looks at one end against the row that it stands in.
func (c *checker) end(t rowsOf, at int32, e Ending, state State, first ...step) {
	if e.How == Growing && e.On.IsZero() {
		return
	}
	switch {
	case state == Void:
		c.add(t.finding(at, "state", fmt.Sprintf("is void, and yet it %s on %s", e.How.Past(), orUnknown(e.On)), "keep one of the two: what lived has an end, what should never have been is void"))
		return
	case e.How == Growing && t.unreadable(at, "fate") == nil:
		c.add(t.finding(at, "fate", fmt.Sprintf("is missing, though it ended on %s", e.On), "write "+oneOf(Fates(e.ID.Level()))+", or take the day out"))
	case e.On.IsZero() && t.unreadable(at, "ended") == nil:
		c.add(t.finding(at, "ended", fmt.Sprintf("is missing, though it %s", e.How.Past()), "write in the day, or take the word out of fate"))
	}
	for _, f := range first {
		if c.order(t.finding, at, step{"ended", "end", ids.ID{}, e.On}, f) {
			return
		}
	}
}

// lotEnd looks at the end of a lot, or of its cross, against its seeds and pots.
func (c *checker) lotEnd(at int32, l *Lot) {
	t := c.r.lots
	end, ended := c.cursor.endOf(l.ID)
	if l.State == Void || !ended {
		return
	}
	if end.How == Failed && l.Seeds.N > l.Undeveloped.N {
		c.add(t.finding(at, "seeds", fmt.Sprintf("are there, though %s", end), "correct one of the two"))
		return
	}
	sown, taken := c.sownAndTaken(l.ID)
	if left := l.Seeds.N - l.Undeveloped.N - sown - taken; end.How == UsedUp && left > 0 {
		c.add(t.finding(at, "fate", fmt.Sprintf("does not go with the %s that are left", several(left, "seed")), "correct one of the two"))
	}
	for _, place := range c.r.pots.index.within(l.ID, &c.cursor.pots) {
		if p := &c.r.pots.entries[place]; p.State != Void {
			c.afterEnd(c.r.pots.finding, place, step{"sown", "sowing", ids.ID{}, p.Sown}, end)
		}
	}
}

// potEnd looks whether a pot that was emptied holds anything by its counts.
func (c *checker) potEnd(at int32, p *Pot) {
	if p.State == Void || p.Fate != Emptied {
		return
	}
	life := potLife{*p, c.r.EmergenceOf(p.ID), c.r.prickedFrom(p.ID)}
	if up, died, _ := life.last(); up-died-len(life.pricked) > 0 {
		c.add(c.r.pots.finding(at, "fate", fmt.Sprintf("does not go with %d up, %d died and %d pricked out, which leave %d", up, died, len(life.pricked), up-died-len(life.pricked)),
			"correct one of them"))
	}
}

// afterEnd reports an event that is dated after the end of what it happened to.
func (c *checker) afterEnd(finding finder, entry int32, event step, end Ending) {
	if end.On.Before(event.on) {
		c.add(finding(entry, event.column, fmt.Sprintf("comes after the end, for %s", end), "correct one of the two dates"))
	}
}

// diary looks at what the diary tells against the rows that it is about.
func (c *checker) diary() {
	t := c.r.diary
	for i := range t.entries {
		d, at := &t.entries[i], int32(i)
		if c.cursor.Status(d.ID) != Issued {
			continue
		}
		if !t.isUnreadable(at, "what") && !slices.Contains(d.What.levels(), d.ID.Level()) {
			c.add(t.finding(at, "what", fmt.Sprintf("is nothing that happens to a %s", d.ID.Level()), "correct the word or the identifier"))
			continue
		}
		if d.On.IsZero() && !t.isUnreadable(at, "on") {
			c.add(t.finding(at, "on", "the day is missing", "write it in"))
		}
		if d.What.numbered() && d.Number.N < 1 && !t.isUnreadable(at, "number") {
			c.add(t.finding(at, "number", "the number is missing", "write it in"))
		}
		if d.What == Noted {
			continue
		}
		c.diaryBegins(at, d)
		if end, ended := c.cursor.endOf(d.ID); ended {
			c.afterEnd(t.finding, at, step{"on", d.What.event(), ids.ID{}, d.On}, end)
		}
	}
}

// diaryBegins looks whether something in the diary comes before the beginning of
// what it happened to.
func (c *checker) diaryBegins(at int32, d *DiaryEntry) {
	first := step{}
	switch d.ID.Level() {
	case ids.LotLevel:
		first = step{"", "extraction", d.ID, c.cursor.Lot(d.ID).Extracted}
	case ids.PotLevel:
		first = step{"", "sowing", d.ID, c.cursor.Pot(d.ID).Sown}
	case ids.SeedlingLevel:
		s, _ := c.r.Seedling(d.ID)
		first = step{"", "pricking out", d.ID, s.Pricked}
	}
	c.order(c.r.diary.finding, at, step{"on", d.What.event(), ids.ID{}, d.On}, first)
}
