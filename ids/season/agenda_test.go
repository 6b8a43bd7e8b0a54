package season

import (
	"math"
	"slices"
	"testing"

	"pipstake/ids/registry"
)

// RFC 5545, 3.8.7.4: the sequence goes up with each change. What stands no more
// is taken back once, and told of for ever after; what comes again stands with a
// higher number.
func TestAgenda(t *testing.T) {
	first, later := day(t, "2027-02-22"), day(t, "2027-03-01")
	entry := func(uid string, sequence int, state registry.CalendarState, print string) registry.CalendarEntry {
		return registry.CalendarEntry{UID: uid, Day: first, Sequence: sequence, State: state, Print: print}
	}
	moved := entry("b", 0, registry.Stands, "p")
	moved.Day = later
	was := []registry.CalendarEntry{
		entry("a", 3, registry.Stands, "p"), entry("b", 2, registry.Stands, "p"), entry("c", 1, registry.Stands, "p"),
		entry("d", 5, registry.TakenBack, "p"), entry("e", 4, registry.TakenBack, "p"), entry("f", 0, registry.Stands, "old"),
	}
	now := []registry.CalendarEntry{
		entry("f", 0, registry.Stands, "new"), entry("a", 0, registry.Stands, "p"), moved, entry("e", 0, registry.Stands, "p"), entry("g", 0, registry.Stands, "p"),
	}
	again := moved
	again.Sequence = 3
	want := []registry.CalendarEntry{
		entry("f", 1, registry.Stands, "new"), // another text
		entry("a", 3, registry.Stands, "p"),   // as it was
		again,                                 // another day
		entry("e", 5, registry.Stands, "p"),   // was taken back
		entry("g", 0, registry.Stands, "p"),   // never said before
		entry("c", 2, registry.TakenBack, "p"),
		entry("d", 5, registry.TakenBack, "p"),
	}
	if got := Agenda(was, now); !slices.Equal(got, want) {
		t.Errorf("got\n%+v, want\n%+v", got, want)
	}
}

// A curve has a point for each day counted, the day after sowing included, and
// begins with none. Of 4 seedlings seen up on day 1 and 4 more on day 3, which
// come evenly between, 6 are up on day 2.
func TestCurve(t *testing.T) {
	e := emerging{}
	e.add([]Rise{{1, 4}, {3, 4}})
	got := e.curve([]int{0, 1, 2, 3})
	if want := []Point{{0, 0}, {1, 4}, {2, 6}, {3, 8}}; !slices.Equal(got, want) {
		t.Errorf("%v, want %v", got, want)
	}
	first := emerging{}
	first.add([]Rise{{10, 5}, {20, 0}}) // seen at a first count: evenly from sowing on
	first.add([]Rise{{8, 0}, {12, 4}})
	if got, want := first.curve([]int{4, 10, 12, 20}), []Point{{0, 0}, {4, 2}, {10, 7}, {12, 9}, {20, 9}}; !slices.Equal(got, want) {
		t.Errorf("%v, want %v", got, want)
	}
}

// Pearson's dispersion, the sum of (up − expected)² / variance over the degrees
// of freedom (McCullagh and Nelder 1989, 4.5), by hand: of 4 pots of 10 with 10,
// 5, 0 and 0 up 68.75 / 2.34375 = 29.333, of those with 10, 10, 10 and 0 up
// 75 / 1.875 = 40, over 6. Groups in which nothing or all came up tell nothing.
func TestDispersion(t *testing.T) {
	one := []Counted{pot(10, 10), pot(5, 10), pot(0, 10), pot(0, 10)}
	other := []Counted{pot(10, 10), pot(10, 10), pot(10, 10), pot(0, 10)}
	none, full := []Counted{pot(0, 10), pot(0, 10)}, []Counted{pot(10, 10), pot(10, 10)}
	if got := dispersion(one, none, other, full); got.Freedom != 6 || math.Abs(got.Factor-(29.0+1./3+40)/6) > 1e-12 {
		t.Errorf("%+v", got)
	}
	// Pots of 4 and 8 with 3 and 1 up: a third of 12, so (5/3)²/(8/9) + (5/3)²/(16/9).
	if got := dispersion([]Counted{pot(3, 4), pot(1, 8)}); got.Freedom != 1 || math.Abs(got.Factor-75./16) > 1e-12 {
		t.Errorf("unequal pots: %+v", got)
	}
	if got := dispersion(none, full); got != (Dispersion{}) {
		t.Errorf("nothing varies: %+v", got)
	}
}

// Fruit that was picked and not counted is not known, but no more is to come.
func TestFruitOfAPickedCross(t *testing.T) {
	r := orchard(t, 1, func(*registry.Registry) error { return nil })
	for _, c := range []struct {
		cross  registry.Cross
		fruit  registry.Count
		picked bool
	}{
		{registry.Cross{ID: crossOne}, registry.Count{}, false},
		{registry.Cross{ID: crossOne, Picked: day(t, "2025-09-20")}, registry.Count{}, true},
		{registry.Cross{ID: crossOne, Fruit: registry.Known(7)}, registry.Known(7), true},
		{registry.Cross{ID: crossOne, Fate: registry.Failed}, registry.Known(0), true},
	} {
		if fruit, picked := FruitOf(r, c.cross); fruit != c.fruit || picked != c.picked {
			t.Errorf("%+v: %v, picked %v", c.cross, fruit, picked)
		}
	}
}

// The findings of a pedigree come in the order of the rows, and a cross that
// stands in two rows is told of once.
func TestFindingsOfAPedigreeComeOnce(t *testing.T) {
	r := familyRows(t, "2006X002,2003X001-A1-B,Bob,,,,\n2006X001,Ann,2003X001-A1-A,,,,\n2006X002,2003X001-A1-B,Bob,,,,",
		"lots.csv", "", "pots.csv", "", "seedlings.csv", "")
	var got []string
	for _, f := range CheckPedigree(r) {
		got = append(got, f.File+" "+f.Column)
	}
	if want := []string{"crosses.csv seed_parent", "crosses.csv pollen_parent"}; !slices.Equal(got, want) {
		t.Errorf("%q, want %q: %v", got, want, CheckPedigree(r))
	}
}
