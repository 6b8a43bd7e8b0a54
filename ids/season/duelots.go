package season

import (
	"time"

	"pipstake/ids/registry"
)

// lot looks at the seeds in a bag. A bag that is empty asks for nothing, nor
// does one that is kept on purpose before the year until which it is.
func (s *schedule) lot(lot registry.Lot, p Protocol) {
	if left, _ := s.r.LeftToSow(lot.ID); left.N == 0 { // or not known
		return
	}
	if lot.Kept == 0 {
		s.bag(lot, p)
		return
	}
	first := registry.Date{Year: lot.Kept, Month: time.January, Day: 1}
	own := &schedule{r: s.r, on: later(s.on, first)}
	own.bag(lot, p)
	if len(own.tasks) > 0 { // it went into the cold for that year
		s.tasks = append(s.tasks, own.tasks...)
		return
	}
	s.add(Task{Kind: KeptUntil, ID: lot.ID, From: first, To: registry.Date{Year: lot.Kept, Month: time.December, Day: 31}})
}

// bag looks at the seeds of a bag by the last thing that is on record of them.
func (s *schedule) bag(lot registry.Lot, p Protocol) {
	switch {
	case !lot.Chilled.IsZero():
		s.cold(lot, p)
	case !lot.Extracted.IsZero():
		s.soak(lot, p)
	}
}

// SoakEnds is the day on which a soak ends that starts on a day. It never comes
// early.
func (p Protocol) SoakEnds(extracted registry.Date) registry.Date {
	return extracted.AddDays(roundUp(p.Soaking.Hours, 24))
}

// soak starts on the day of extraction. A change after part of a day belongs
// to the day on which that part began. The cold can be started, and put on
// record, as long as there is something left of the next season of sowing.
func (s *schedule) soak(lot registry.Lot, p Protocol) {
	changes := (p.Soaking.Hours - 1) / p.Soaking.ChangeHours
	for n := 1; n <= changes; n++ {
		s.add(Task{Kind: ChangeWater, ID: lot.ID, From: lot.Extracted.AddDays(n * p.Soaking.ChangeHours / 24), N: n, Of: changes})
	}
	end := p.SoakEnds(lot.Extracted)
	_, until := p.Sowing.Season.After(end)
	s.add(Task{Kind: EndSoak, ID: lot.ID, From: end, Until: until})
}

// Chilled is what follows from the day on which seeds go into the cold.
type Chilled struct {
	First, Last    registry.Date // days on which they may come out of it
	SowFrom, SowTo registry.Date // within the season of sowing where the two meet
	Until          registry.Date // the last day on which they can still be sown
}

// Chilled returns the days of seeds that go into the cold on a day. Past the
// last of them they can still be sown for as long as the season of sowing goes
// on, or for as long again as they could come out.
func (p Protocol) Chilled(on registry.Date) Chilled {
	c := Chilled{First: on.AddDays(p.Cold.LeastDays), Last: on.AddDays(p.Cold.MostDays)}
	c.SowFrom, c.SowTo = c.First, c.Last
	c.Until = c.Last.AddDays(p.Cold.MostDays - p.Cold.LeastDays)
	if from, to := p.Sowing.Season.After(c.First); !c.Last.Before(from) { // else seeds cannot wait for the season
		c.SowFrom = later(c.First, from)
		if to.Before(c.Last) {
			c.SowTo = to
		}
		c.Until = later(c.Until, to)
	}
	return c
}

// cold looks at seeds that are in the cold, or were. Days add up over the spells
// there. Seeds that are out of it ask for nothing before they have had enough, and
// then to be sown.
func (s *schedule) cold(lot registry.Lot, p Protocol) {
	since := s.r.ColdSince(lot.ID)
	if since.IsZero() {
		s.outOfCold(lot, p)
		return
	}
	c := p.Chilled(since)
	task := Task{ID: lot.ID, Since: since}
	if c.Last.Before(s.on) {
		task.Kind, task.From, task.Until = ColdOver, c.Last.AddDays(1), c.Until
		s.add(task)
		return
	}
	for _, day := range []struct {
		kind     Kind
		from, to registry.Date
	}{{ColdOpens, c.First, c.First}, {ColdCloses, c.Last, c.Last}, {Sow, c.SowFrom, c.SowTo}} {
		task.Kind, task.From, task.To = day.kind, day.from, day.to
		s.add(task)
	}
}

// outOfCold looks at seeds that came out of the cold.
func (s *schedule) outOfCold(lot registry.Lot, p Protocol) {
	spells := s.r.ColdSpells(lot.ID)
	out := spells[len(spells)-1].To
	if days, _ := s.r.ColdDays(lot.ID, out); days < p.Cold.LeastDays {
		return
	}
	from, to := p.Sowing.Season.After(out)
	s.add(Task{Kind: Sow, ID: lot.ID, Since: out, From: later(from, out), To: to})
}
