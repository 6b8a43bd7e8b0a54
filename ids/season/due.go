package season

import (
	"cmp"
	"slices"

	"pipstake/ids"
	"pipstake/ids/registry"
)

// Kind is what a task is about.
type Kind int

// The kinds of tasks, in the order of a season.
const (
	ChangeWater Kind = iota
	EndSoak
	ColdOpens  // the first day on which seeds may come out of the cold
	Sow        // from there, in the season of sowing, until the last day
	ColdCloses // the last day in the cold
	ColdOver   // past it
	FirstLook  // for seedlings
	CountAgain
	LabelWorn // it has stood outdoors for as long as its material lasts
	KeptUntil // seed was kept on purpose, and that time has come
)

// Task is something that the season asks for.
type Task struct {
	Kind     Kind
	ID       ids.ID        // a seed lot, a pot, or what a label stands for
	Place    string        // where it stands; "" where that is not known
	From, To registry.Date // the days for it, both included; the same for one day
	Until    registry.Date // the last day on which it can still be done; zero for ever
	N, Of    int           // which water change of how many; which count; else 0
	Since    registry.Date // into the cold; outdoors
	Label    registry.Label
}

// Standing is how a task stands to a day.
type Standing int

// The standings, in the order of what matters.
const (
	Today   Standing = iota // begins today, ends today, or is in its days
	Overdue                 // its days are over, and it can still be done
	Coming
)

// Standing returns how the task stands to a day.
func (t Task) Standing(on registry.Date) Standing {
	switch {
	case on.Before(t.From):
		return Coming
	case t.To.Before(on):
		return Overdue
	}
	return Today
}

// Due returns the tasks that can still be done on a day, those in the years to
// come among them, by date. What is not on record as done counts as not done;
// what ended asks for nothing.
func Due(r *registry.Registry, practice Practice, on registry.Date) []Task {
	s := &schedule{r: r, on: on}
	for _, lot := range r.Lots() {
		if r.Grows(lot.ID) {
			s.lot(lot, practice.For(lot.ID))
		}
	}
	for _, pot := range r.Pots() {
		if r.Grows(pot.ID) && !pot.Sown.IsZero() {
			s.pot(pot, practice.For(pot.ID))
		}
	}
	for _, label := range r.Labels() {
		if label.State == registry.LabelLive && r.Status(label.ID) == registry.Issued {
			s.label(label, practice)
		}
	}
	slices.SortStableFunc(s.tasks, func(a, b Task) int {
		return cmp.Or(a.From.Compare(b.From), cmp.Compare(a.Kind, b.Kind), a.To.Compare(b.To), ids.Compare(a.ID, b.ID), cmp.Compare(a.Label.Copy, b.Label.Copy))
	})
	return s.tasks
}

// later is the later of two days; one that is not known is earlier than any.
func later(a, b registry.Date) registry.Date {
	if a.Compare(b) < 0 {
		return b
	}
	return a
}

// schedule gathers tasks.
type schedule struct {
	r     *registry.Registry
	on    registry.Date
	tasks []Task
}

// add takes up a task that is not over. One without a last day ends with its
// days.
func (s *schedule) add(t Task) {
	if t.To.IsZero() {
		t.To = t.From
	}
	if t.Until.IsZero() && t.Kind != LabelWorn {
		t.Until = t.To
	}
	if !t.Until.Before(s.on) {
		s.tasks = append(s.tasks, t)
	}
}

// pot looks at the counts of a pot. They end with the season of emergence, or
// once all seeds are up.
func (s *schedule) pot(pot registry.Pot, p Protocol) {
	life := lifeOf(s.r, pot)
	look, end := p.Emergence.Lookout(pot.Sown)
	task := Task{Kind: FirstLook, ID: pot.ID, Place: pot.Place, From: look, Until: end, N: 1}
	if n := len(life.counts); n > 0 {
		last := life.last().On
		if last.IsZero() || life.counting(p.Emergence, s.on) != Going {
			return
		}
		next := later(last.AddDays(p.Emergence.CountDays), look)
		if end.Before(next) {
			next = end // a last count closes the season
		}
		task.Kind, task.From, task.N = CountAgain, next, n+1
	}
	s.add(task)
}

// Lookout returns the days on which seedlings of a sowing are looked for first
// and last. Seeds sown during the season or in the four months after it have had
// their cold, so they are looked for one counting interval later, and for as long
// as the season lasts.
func (e Emergence) Lookout(sown registry.Date) (first, last registry.Date) {
	const months = 120 // days
	from, to := e.Season.After(sown)
	before, beforeTo := e.Season.After(from.AddDays(-365))
	if !sown.Before(from) { // within the season
		return sown.AddDays(e.CountDays), later(to, sown.AddDays(e.CountDays))
	}
	if sown.DaysSince(beforeTo) <= months && before.Before(sown) {
		first = sown.AddDays(e.CountDays)
		return first, first.AddDays(to.DaysSince(from))
	}
	return from, to
}
