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
)

// Task is something that the season asks for.
type Task struct {
	Kind     Kind
	ID       ids.ID        // a seed lot, a pot, or what a label stands for
	From, To registry.Date // both included; the same for one day
	N, Of    int           // which water change of how many; which count; else 0
	Since    registry.Date // into the cold; outdoors
	Label    registry.Label
}

// Waits tells whether a task stays due after its days, until it is done or
// void. Others are over when their days are.
func (t Task) Waits() bool {
	return t.Kind != ChangeWater && t.Kind != ColdOpens && t.Kind != ColdCloses && t.Kind != Sow
}

// Due gives the tasks that are not over on a day, those in the years to come
// among them, by date. What is not on record as done counts as not done.
func Due(r *registry.Registry, practice Practice, on registry.Date) []Task {
	d := &diary{r: r, on: on}
	for _, lot := range r.Lots() {
		if r.Status(lot.ID) == registry.Issued {
			d.lot(lot, practice.For(lot.ID))
		}
	}
	for _, pot := range r.Pots() {
		if r.Status(pot.ID) == registry.Issued && !pot.Sown.IsZero() {
			d.pot(pot, practice.For(pot.ID))
		}
	}
	for _, label := range r.Labels() {
		if label.State == registry.LabelLive && r.Status(label.ID) == registry.Issued {
			d.label(label, practice.For(label.ID))
		}
	}
	slices.SortStableFunc(d.tasks, func(a, b Task) int {
		return cmp.Or(compareDates(a.From, b.From), cmp.Compare(a.Kind, b.Kind), compareDates(a.To, b.To), ids.Compare(a.ID, b.ID), cmp.Compare(a.Label.Copy, b.Label.Copy))
	})
	return d.tasks
}

func compareDates(a, b registry.Date) int {
	switch {
	case a.Before(b):
		return -1
	case b.Before(a):
		return 1
	}
	return 0
}

// diary gathers tasks.
type diary struct {
	r     *registry.Registry
	on    registry.Date
	tasks []Task
}

// add takes up a task that is not over.
func (d *diary) add(t Task) {
	if t.To.IsZero() {
		t.To = t.From
	}
	if t.Waits() || !t.To.Before(d.on) {
		d.tasks = append(d.tasks, t)
	}
}

// lot looks at the seeds in a bag. A bag that is empty asks for nothing.
func (d *diary) lot(lot registry.Lot, p Protocol) {
	if left, err := d.r.LeftToSow(lot.ID); err != nil || !left.Known || left.N == 0 {
		return
	}
	switch {
	case !lot.Chilled.IsZero():
		d.cold(lot, p)
	case !lot.Extracted.IsZero():
		d.soak(lot, p.Soaking)
	}
}

// soak starts on the day of extraction. A change after part of a day belongs
// to the day on which that part began; the end never comes early.
func (d *diary) soak(lot registry.Lot, s Soaking) {
	changes := (s.Hours - 1) / s.ChangeHours
	for n := 1; n <= changes; n++ {
		d.add(Task{Kind: ChangeWater, ID: lot.ID, From: lot.Extracted.AddDays(n * s.ChangeHours / 24), N: n, Of: changes})
	}
	d.add(Task{Kind: EndSoak, ID: lot.ID, From: lot.Extracted.AddDays(roundUp(s.Hours, 24))})
}

func (d *diary) cold(lot registry.Lot, p Protocol) {
	first, last := lot.Chilled.AddDays(p.Cold.LeastDays), lot.Chilled.AddDays(p.Cold.MostDays)
	if last.Before(d.on) {
		d.add(Task{Kind: ColdOver, ID: lot.ID, From: last.AddDays(1), Since: lot.Chilled})
		return
	}
	d.add(Task{Kind: ColdOpens, ID: lot.ID, From: first, Since: lot.Chilled})
	d.add(Task{Kind: ColdCloses, ID: lot.ID, From: last, Since: lot.Chilled})
	sow := Task{Kind: Sow, ID: lot.ID, From: first, To: last, Since: lot.Chilled}
	if from, to := p.Sowing.Season.After(first); !last.Before(from) { // else seeds cannot wait for the season
		sow.From = later(first, from)
		if to.Before(last) {
			sow.To = to
		}
	}
	d.add(sow)
}

// later is the later of two days; one that is not known is earlier than any.
func later(a, b registry.Date) registry.Date {
	if a.IsZero() || a.Before(b) {
		return b
	}
	return a
}

// pot looks at the counts of a pot. They end with the season of emergence, or
// once all seeds are up.
func (d *diary) pot(pot registry.Pot, p Protocol) {
	look, end := p.Emergence.lookout(pot.Sown)
	counts := d.r.EmergenceOf(pot.ID)
	if len(counts) == 0 {
		d.add(Task{Kind: FirstLook, ID: pot.ID, From: look, N: 1})
		return
	}
	last := counts[len(counts)-1]
	if last.On.IsZero() || !last.On.Before(end) || pot.Seeds.Known && last.Up.N >= pot.Seeds.N {
		return
	}
	next := later(last.On.AddDays(p.Emergence.CountDays), look)
	if end.Before(next) {
		next = end // a last count closes the season
	}
	d.add(Task{Kind: CountAgain, ID: pot.ID, From: next, N: len(counts) + 1})
}

// lookout is when seedlings of a sowing are looked for first and last. Seeds
// sown during the season or in the four months after it have had their cold,
// so they are looked for one counting interval later, and for as long as the
// season lasts.
func (e Emergence) lookout(sown registry.Date) (first, last registry.Date) {
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

// label looks at how long a label has stood outdoors: one in a pot since the
// pot was sown, one beside a seedling since it was pricked out, one on a branch
// since it was printed; none before it was printed. Bags stay indoors.
func (d *diary) label(l registry.Label, p Protocol) {
	since := l.Printed
	switch l.Face {
	case registry.StakeFace:
		pot, _ := d.r.Pot(l.ID)
		since = later(since, pot.Sown)
	case registry.SeedlingFace:
		seedling, _ := d.r.Seedling(l.ID)
		since = later(since, seedling.Pricked)
	case registry.BagFace:
		return
	}
	if since.IsZero() {
		return
	}
	d.add(Task{Kind: LabelWorn, ID: l.ID, From: since.AddDays(p.Labels.Lasts(l.Stock)), Since: since, Label: l})
}
