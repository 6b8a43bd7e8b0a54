package season

import (
	"cmp"
	"slices"

	"pipstake/ids"
	"pipstake/ids/registry"
)

// Line is what tasks of one kind in one place have in common, as a list for a
// day shows them.
type Line struct {
	Task              // with the first of the days
	Standing Standing // of all
	Tasks    []Task   // in the order of their days
	IDs      []ids.ID // that they are for, each once, in order
	Varying  bool     // their days or numbers are not all the same
}

// Lines puts tasks together for a list that is made on a day: what is to be
// done today, what is overdue, and what is coming, day by day.
func Lines(tasks []Task, on registry.Date) []Line {
	type key struct {
		standing Standing
		from     registry.Date // of what is coming
		kind     Kind
		place    string
	}
	return gather(tasks, func(t Task) key {
		k := key{standing: t.Standing(on), kind: t.Kind, place: t.Place}
		if k.standing == Coming {
			k.from = t.From
		}
		return k
	}, func(a, b key) int {
		return cmp.Or(cmp.Compare(a.standing, b.standing), a.from.Compare(b.from), cmp.Compare(a.kind, b.kind), cmp.Compare(a.place, b.place))
	}, on)
}

// Entries puts tasks together for a calendar: one entry for each kind and day.
func Entries(tasks []Task, on registry.Date) []Line {
	type key struct {
		from registry.Date
		kind Kind
	}
	return gather(tasks, func(t Task) key { return key{t.From, t.Kind} }, func(a, b key) int {
		return cmp.Or(a.from.Compare(b.from), cmp.Compare(a.kind, b.kind))
	}, on)
}

// gather puts tasks together that have a key in common.
func gather[K comparable](tasks []Task, keyOf func(Task) K, compare func(a, b K) int, on registry.Date) []Line {
	lines := map[K]*Line{}
	var keys []K
	for _, t := range tasks {
		k := keyOf(t)
		line := lines[k]
		if line == nil {
			line = &Line{Task: t, Standing: t.Standing(on)}
			lines[k] = line
			keys = append(keys, k)
		}
		line.add(t)
	}
	slices.SortStableFunc(keys, compare)
	var all []Line
	for _, k := range keys {
		line := lines[k]
		slices.SortFunc(line.IDs, ids.Compare)
		line.IDs = slices.Compact(line.IDs)
		all = append(all, *line)
	}
	return all
}

// add takes up a task.
func (l *Line) add(t Task) {
	l.Varying = l.Varying || t.From != l.From || t.To != l.To || t.N != l.N || t.Of != l.Of || t.Since != l.Since
	if t.From.Before(l.From) {
		l.From = t.From
	}
	if t.To.Before(l.To) {
		l.To = t.To
	}
	if t.Until.Before(l.Until) {
		l.Until = t.Until
	}
	if t.Since.Before(l.Since) {
		l.Since = t.Since
	}
	l.Tasks = append(l.Tasks, t)
	l.IDs = append(l.IDs, t.ID)
}
