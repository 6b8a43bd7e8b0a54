package registry

import (
	"fmt"
	"slices"

	"pipstake/ids"
)

// What contradicts the rest of the registry: counts, dates and labels. Rows
// that are void are left alone.

// lots looks at the counts and dates of the seed lots.
func (c *checker) lots() {
	t := c.r.lots
	for i := range t.entries {
		l, at := &t.entries[i], int32(i)
		if l.State == Void || t.index.exactly(l.ID, &c.cursor.lots)[0] != at { // a second row of the same is said elsewhere
			continue
		}
		cross := c.cursor.Cross(l.ID.At(ids.CrossLevel))
		c.order(t.finding, at, step{"extracted", "extraction", ids.ID{}, l.Extracted}, step{"", "pollination", cross.ID, cross.Pollinated})
		if !c.order(t.finding, at, step{"chilled", "start of the cold", ids.ID{}, l.Chilled}, step{"", "extraction", ids.ID{}, l.Extracted}) {
			c.order(t.finding, at, step{"chilled", "start of the cold", ids.ID{}, l.Chilled}, step{"", "pollination", cross.ID, cross.Pollinated})
		}
		sown, taken := c.sownAndTaken(l.ID)
		switch {
		case l.Seeds.Known && l.Undeveloped.N > l.Seeds.N:
			c.add(t.finding(at, "undeveloped", fmt.Sprintf("is more than the %s", several(l.Seeds.N, "seed")), "correct one of the two"))
		case l.Seeds.Known && sown+taken > l.Seeds.N-l.Undeveloped.N:
			less := fmt.Sprintf("less %d undeveloped", l.Undeveloped.N)
			if taken > 0 {
				less += fmt.Sprintf(" and %d discarded or given away", taken)
			}
			c.add(t.finding(at, "seeds", fmt.Sprintf("%s is fewer than the %d sown in its pots", less, sown), "correct it, or the pots in "+potsFile))
		case !l.Seeds.Known && sown > 0 && !t.isUnreadable(at, "seeds"):
			c.add(t.finding(at, "seeds", fmt.Sprintf("no seeds are recorded, but %d are sown in its pots", sown), "write in how many seeds were found"))
		}
	}
}

// sownAndTaken is how many seeds of a lot are in pots that are not void, and how
// many were discarded or given away while it had more.
func (c *checker) sownAndTaken(lot ids.ID) (sown, taken int) {
	for _, place := range c.r.pots.index.within(lot, &c.cursor.pots) {
		if p := &c.r.pots.entries[place]; p.State != Void {
			sown += p.Seeds.N
		}
	}
	for _, place := range c.r.diary.exactly(lot) {
		if d := &c.r.diary.entries[place]; d.What == SeedGiven || d.What == SeedDiscarded {
			taken += d.Number.N
		}
	}
	return sown, taken
}

// step is a dated event. Column holds its date; of is what it happened to,
// where that is not the row's own.
type step struct {
	column, what string
	of           ids.ID
	on           Date
}

func (s step) String() string {
	if s.of == (ids.ID{}) {
		return s.what
	}
	return s.what + " of " + s.of.String()
}

// finder makes a finding on an entry's cell.
type finder func(entry int32, column, what, remedy string) Finding

// order reports an event that is dated before one that must come first.
func (c *checker) order(finding finder, entry int32, event, first step) bool {
	if !event.on.Before(first.on) {
		return false
	}
	c.add(finding(entry, event.column, fmt.Sprintf("comes before the %s on %s", first, first.on), "correct one of the two dates"))
	return true
}

// pots looks at the counts and dates of the pots.
func (c *checker) pots() {
	t := c.r.pots
	for i := range t.entries {
		p, at := &t.entries[i], int32(i)
		if p.State == Void {
			continue
		}
		c.sowing(at, p)
		if p.Seeds.N == 0 && !t.isUnreadable(at, "seeds") {
			c.add(t.finding(at, "seeds", "the number of seeds sown is missing", "write it in, as the stake says it"))
		}
	}
}

// sowing looks at the day a pot was sown.
func (c *checker) sowing(at int32, p *Pot) {
	lot, cross := c.cursor.Lot(p.ID.At(ids.LotLevel)), c.cursor.Cross(p.ID.At(ids.CrossLevel))
	if !p.Sown.Before(lot.Chilled) && !p.Sown.Before(lot.Extracted) && !p.Sown.Before(cross.Pollinated) {
		return
	}
	for _, first := range []step{
		{"", "start of the cold", lot.ID, lot.Chilled},
		{"", "extraction", lot.ID, lot.Extracted},
		{"", "pollination", cross.ID, cross.Pollinated},
	} {
		if c.order(c.r.pots.finding, at, step{"sown", "sowing", ids.ID{}, p.Sown}, first) {
			return
		}
	}
}

// seedlings looks at the dates and the number of the seedlings.
func (c *checker) seedlings() {
	t := c.r.seedlings
	var pot Pot
	var there, died int
	for _, at := range t.sorted() {
		s := &t.entries[at]
		if s.State == Void {
			continue
		}
		if id := s.ID.At(ids.PotLevel); id != pot.ID {
			pot = c.cursor.Pot(id)
			there, died = 0, c.died(id)
		}
		c.order(t.finding, at, step{"pricked", "pricking out", ids.ID{}, s.Pricked}, step{"", "sowing", pot.ID, pot.Sown})
		c.afterEnd(t.finding, at, step{"pricked", "pricking out", ids.ID{}, s.Pricked}, Ending{ID: pot.ID, How: pot.Fate, On: pot.Ended})
		if there++; pot.Seeds.Known && there+died == pot.Seeds.N+1 {
			dead := ""
			if died > 0 {
				dead = fmt.Sprintf(", of which %d died", died)
			}
			c.add(t.finding(at, "id", fmt.Sprintf("is one seedling more than the %s sown in %s%s", several(pot.Seeds.N, "seed"), pot.ID, dead),
				"void those that were never pricked out, or correct the pot"))
		}
	}
}

// died is how many are known to have died in a pot.
func (c *checker) died(pot ids.ID) int {
	n := 0
	for _, place := range c.r.emergence.exactly(pot) {
		n = max(n, c.r.emergence.entries[place].Died.N)
	}
	return n
}

// emergence looks at the counts of seedlings, pot by pot.
func (c *checker) emergence() {
	t := c.r.emergence
	order := t.sorted()
	for len(order) > 0 {
		id := t.entries[order[0]].Pot
		n := 1
		for n < len(order) && t.entries[order[n]].Pot == id {
			n++
		}
		counts := order[:n]
		order = order[n:]
		pot := c.cursor.Pot(id)
		if n > 1 {
			counts = slices.Clone(counts)
		}
		slices.SortStableFunc(counts, func(a, b int32) int { return t.entries[a].On.Compare(t.entries[b].On) })
		for i, at := range counts {
			c.count(pot, at)
			if i > 0 {
				c.twoCounts(counts[i-1], at)
			}
		}
		c.pricked(id, counts)
	}
}

// pricked looks whether as many had come up by each count as had died and were
// pricked out by then. Counts come by their days.
func (c *checker) pricked(pot ids.ID, counts []int32) {
	t := c.r.emergence
	life := potLife{pricked: c.r.prickedFrom(pot)}
	died := 0
	for _, at := range counts {
		e := &t.entries[at]
		died = max(died, e.Died.N)
		if out := life.prickedBy(e.On); e.Up.Known && out > 0 && died+out > e.Up.N {
			c.add(t.finding(at, "up", fmt.Sprintf("is fewer than the %d that died and the %d that were pricked out by %s", died, out, e.On), "correct the count, or the days"))
			return
		}
	}
}

// count looks at one count against its pot.
func (c *checker) count(pot Pot, at int32) {
	t := c.r.emergence
	e := &t.entries[at]
	c.order(t.finding, at, step{"on", "count", ids.ID{}, e.On}, step{"", "sowing", pot.ID, pot.Sown})
	c.afterEnd(t.finding, at, step{"on", "count", ids.ID{}, e.On}, Ending{ID: pot.ID, How: pot.Fate, On: pot.Ended})
	if pot.Seeds.Known && e.Up.N > pot.Seeds.N {
		c.add(t.finding(at, "up", fmt.Sprintf("is more than the %s sown in %s", several(pot.Seeds.N, "seed"), pot.ID), "correct one of the two"))
	}
	if e.Up.Known && e.Died.N > e.Up.N {
		c.add(t.finding(at, "died", fmt.Sprintf("is more than the %d that had come up", e.Up.N), "correct one of the two"))
	}
	if e.On.IsZero() && !t.isUnreadable(at, "on") {
		c.add(t.finding(at, "on", "the day of the count is missing", "write it in"))
	}
	if !e.Up.Known && !t.isUnreadable(at, "up") {
		c.add(t.finding(at, "up", "the count is missing", "write it in"))
	}
}

// twoCounts looks at two counts of a pot of which the first is not the later.
// The finding is on the one further down in the file.
func (c *checker) twoCounts(first, second int32) {
	t := c.r.emergence
	a, b := &t.entries[first], &t.entries[second]
	at, other := max(first, second), min(first, second)
	row := t.number(int(t.at[other]))
	switch {
	case a.On.IsZero():
	case a.On == b.On:
		c.add(t.finding(at, "on", fmt.Sprintf("is the day of the count in row %d too", row), "keep the one that is right"))
	case a.Up.Known && b.Up.Known && a.Up.N > b.Up.N:
		o := &t.entries[other]
		c.add(t.finding(at, "up", fmt.Sprintf("on %s does not go with %d on %s in row %d", t.entries[at].On, o.Up.N, o.On, row),
			"correct one of the two: each is of all that had come up by then"))
	case a.Died.Known && b.Died.Known && a.Died.N > b.Died.N:
		o := &t.entries[other]
		c.add(t.finding(at, "died", fmt.Sprintf("by %s does not go with %d by %s in row %d", t.entries[at].On, o.Died.N, o.On, row),
			"correct one of the two: each is of all that had died by then"))
	}
}

// labelsTwice reports the labels that are in use twice.
func (c *checker) labelsTwice() {
	t := c.r.labels
	order := t.sorted()
	for len(order) > 0 {
		n := 1
		for n < len(order) && t.entries[order[n]].ID == t.entries[order[0]].ID {
			n++
		}
		places := order[:n]
		order = order[n:]
		if n == 1 || !c.mayBeTwice(places) || c.cursor.Status(t.entries[places[0]].ID) == Voided {
			continue
		}
		first := map[Print]int32{}
		for _, at := range places {
			l := &t.entries[at]
			if l.State != LabelLive || t.isUnreadable(at, "face", "copy", "state") {
				continue
			}
			key := Print{Face: l.Face, Copy: l.Copy}
			if before, ok := first[key]; ok {
				c.add(t.finding(at, "id", fmt.Sprintf("has its %s in use already, in row %d of batch %d", labelName(key), t.number(int(t.at[before])), t.entries[before].Batch),
					`destroy one of the labels and write "replaced" or "spoilt" into its state`))
				continue
			}
			first[key] = at
		}
	}
}

// mayBeTwice reports whether two of the labels of one identifier are alike in face
// and copy, whatever else they are.
func (c *checker) mayBeTwice(places []int32) bool {
	for i, at := range places {
		a := &c.r.labels.entries[at]
		for _, other := range places[:i] {
			if b := &c.r.labels.entries[other]; a.Copy == b.Copy && a.Face == b.Face {
				return true
			}
		}
	}
	return false
}

// labelName names a label for a message.
func labelName(p Print) string {
	if p.Copy > 0 {
		return fmt.Sprintf("%s label, copy %d,", p.Face, p.Copy)
	}
	return string(p.Face) + " label"
}

// labelsMissing reports what has no label in use, one finding an identifier.
func (c *checker) labelsMissing() {
	missing := c.r.Missing()
	for i, p := range missing {
		if i > 0 && missing[i-1].ID == p.ID {
			continue
		}
		what := fmt.Sprintf("has no %s label in use", p.Face)
		switch {
		case p.Face == SeedlingFace && p.Copy > 0:
			what = fmt.Sprintf("has no label in use on its grafted copy %d", p.Copy)
		case p.Face == StakeFace && i+1 < len(missing) && missing[i+1].ID == p.ID:
			what = "has neither of its two stakes in use"
		case p.Copy > 0:
			what = fmt.Sprintf("has no stake in use as copy %d", p.Copy)
		}
		t := c.r.level(p.ID.Level())
		c.add(t.finding(t.exactly(p.ID)[0], "id", what, "print it with: {missing labels}"))
	}
}
