package registry

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"pipstake/ids"
)

// What may happen to a seedling, a cross and a lot, one after the other, and what
// is refused in between, with the words that say why.
func TestHappenings(t *testing.T) {
	d := newTestDisk(emptyFiles())
	play(t, d, aSeason()[:10]...) // seedlings A and B of pot A1, pricked out on 2026-11-04
	one := firstLot.Child(1).Child(1)
	other := firstLot.Child(1).Child(2)
	lotB := firstCross.Child(2)
	day := func(n int) Date { return Date{2026, time.November, n} }
	graft := func(copies, on, want int) func(*Registry) error {
		return func(r *Registry) error {
			all, err := r.Graft(one, copies, day(on), "")
			if err == nil && all != want {
				err = fmt.Errorf("%d copies, want %d", all, want)
			}
			return err
		}
	}
	name := func(id ids.ID, name string, on int) func(*Registry) error {
		return func(r *Registry) error { return r.Select(id, name, day(on)) }
	}
	first := func(word DiaryWord, on int) func(*Registry) error {
		return func(r *Registry) error { return r.First(one, word, day(on)) }
	}
	pick := func(fruit int, on Date) func(*Registry) error {
		return func(r *Registry) error {
			c, err := r.Pick(firstCross, fruit, on)
			if err == nil && (c.Fruit != Known(fruit) || c.Picked != on) {
				err = fmt.Errorf("picked %+v", c)
			}
			return err
		}
	}
	keep := func(lot ids.ID, until int) func(*Registry) error {
		return func(r *Registry) error {
			l, err := r.Keep(lot, until)
			if err == nil && l.Kept != until {
				err = fmt.Errorf("kept %+v", l)
			}
			return err
		}
	}
	for i, c := range []struct {
		do   func(*Registry) error
		want string // the beginning of the error; "" for none
	}{
		{graft(0, 9, 0), "0 more copies of 2026X001-A1-A are asked for, and it has 0; give 1 to 99"},
		{graft(2, 3, 0), "grafting on 2026-11-03 comes before the pricking out on 2026-11-04"},
		{graft(2, 4, 2), ""},
		{graft(97, 9, 99), ""},
		{graft(1, 9, 0), "1 more copies of 2026X001-A1-A are asked for, and it has 99; no label can number more"},
		{first(Flowered, 5), ""},
		{first(Flowered, 6), "the first flowering of 2026X001-A1-A is recorded already, on 2026-11-05"},
		{first(Fruited, 3), "first fruit on 2026-11-03 comes before the pricking out on 2026-11-04"},
		{first(Fruited, 7), ""},
		{name(one, "2026X009", 8), `the name "2026X009" reads as an identifier; choose another`},
		{name(one, "", 8), ""},
		{name(one, "", 9), "2026X001-A1-A was selected on 2026-11-08 already; give it another name if it is to have one"},
		{name(one, "Larkfield Early", 9), ""},
		{name(one, "Larkfield Early", 10), "2026X001-A1-A was selected on 2026-11-09 already"},
		{name(other, "larkfield early", 10), `2026X001-A1-A is named "Larkfield Early" already; choose another name`},
		{name(one, "LARKFIELD EARLY", 10), ""}, // its own name, written otherwise
		{name(other, "Larkfield Late", 10), ""},
		{pick(4, Date{}), "the day of the picking is not given"},
		{pick(4, Date{2026, time.May, 3}), "picking of the fruit on 2026-05-03 comes before the pollination on 2026-05-04"},
		{pick(4, day(1)), ""},
		{pick(5, day(2)), "4 fruit of 2026X001 were picked already, on 2026-11-01"},
		{keep(lotB, 999), "999 is no year"},
		{keep(lotB, 10_000), "10000 is no year"},
		{keep(lotB, 2030), ""},
		{keep(lotB, 0), ""},
		{keep(lotB, 9999), ""},
		{keep(firstLot, 2030), ""}, // one seed is left
		{func(r *Registry) error {
			_, err := r.End(Ending{ID: other, How: Culled, On: day(20), Note: "canker"})
			return err
		}, ""},
		{name(other, "Larkfield Last", 21), "2026X001-A1-B was culled on 2026-11-20"},
		{name(other, "Larkfield Last", 20), ""}, // on its last day
		{first(Fruited, 21), "the first fruit of 2026X001-A1-A is recorded already"},
		{func(r *Registry) error {
			_, err := r.End(Ending{ID: lotB, How: Discarded, On: day(20)})
			return err
		}, ""},
		{keep(lotB, 2031), "2026X001-B"},
		{keep(lotB, 0), ""},
	} {
		err := testStore(d).change(c.do)
		if (err == nil) != (c.want == "") || err != nil && !strings.HasPrefix(err.Error(), c.want) {
			t.Errorf("step %d: %v\nwant %s", i, err, c.want)
		}
	}
	r := open(t, d)
	var told []string
	for _, e := range r.Diary() {
		told = append(told, fmt.Sprintf("%s %s %s %s%s", e.ID, e.On, e.What, e.Number, e.Text))
	}
	want := []string{
		"2026X001-A2 2026-11-03 note =weak, \"leggy\"",
		"2026X001-A1-A 2026-11-04 grafted 2", "2026X001-A1-A 2026-11-09 grafted 97",
		"2026X001-A1-A 2026-11-05 flowered ", "2026X001-A1-A 2026-11-07 fruited ",
		"2026X001-A1-A 2026-11-08 selected ", "2026X001-A1-A 2026-11-09 selected Larkfield Early", "2026X001-A1-A 2026-11-10 selected LARKFIELD EARLY",
		"2026X001-A1-B 2026-11-10 selected Larkfield Late", "2026X001-A1-B 2026-11-20 selected Larkfield Last",
	}
	if strings.Join(told, "\n") != strings.Join(want, "\n") {
		t.Errorf("the diary tells\n%s\nwant\n%s", strings.Join(told, "\n"), strings.Join(want, "\n"))
	}
	if s, _ := r.Seedling(one); s.Name != "LARKFIELD EARLY" {
		t.Errorf("%+v", s)
	}
}

// One count, or one day, is enough to hold against what comes before it or denies
// it.
func TestOneFactIsEnough(t *testing.T) {
	d := newTestDisk(emptyFiles())
	play(t, d, aSeason()[:6]...) // pot A1 was counted once, on 2026-11-02
	pot := firstLot.Child(1)
	for i, c := range []struct {
		do   func(*Registry) error
		want string
	}{
		{func(r *Registry) error { return r.Void(pot, "slip") }, "it was counted on 2026-11-02"},
		{func(r *Registry) error {
			_, err := r.End(Ending{ID: pot, How: Lost, On: Date{2026, 11, 1}, Note: "mice"})
			return err
		}, "2026-11-02"},
	} {
		if err := testStore(d).change(c.do); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%d: %v, want %s", i, err, c.want)
		}
	}
}

// A damaged registry names the first cell, and counts the others.
func TestDamageCounts(t *testing.T) {
	finding := Finding{File: "lots.csv", Row: 2, Column: "seeds", Value: "x", What: "is no number"}
	for n, want := range []string{1: "", 2: "1 more", 3: "2 more"} {
		if n == 0 {
			continue
		}
		findings := make([]Finding, n)
		for i := range findings {
			findings[i] = finding
		}
		says := (&DamageError{findings}).Error()
		if strings.Contains(says, "more") != (n > 1) || !strings.Contains(says, want) || !strings.Contains(says, "lots.csv") {
			t.Errorf("%d findings: %s", n, says)
		}
	}
}

// An identifier without its year is that of the only one that grows, else of the
// only one there is, else of the newest year with that cross.
func TestIdentifierWithoutItsYear(t *testing.T) {
	r, err := Open(newRegistry(t, map[string]string{
		"crosses.csv": "id,seed_parent,pollen_parent,pollinated,flowers,state,notes\r\n2024X001,A,B,,,,\r\n2025X001,A,B,,,,\r\n2026X001,A,B,,,,\r\n" +
			"2025X002,A,B,,,void,hail\r\n2026X003,A,B,,,,\r\n",
		"lots.csv": "id,issued,extracted,fruit,seeds,undeveloped,chilled,state,notes\r\n2024X001-A,,,,,,,,\r\n2025X001-A,,,,,,,void,mould\r\n" +
			"2024X001-B,,,,,,,,\r\n2025X001-B,,,,,,,,\r\n2026X001-B,,,,,,,,\r\n2025X001-C,,,,,,,void,mould\r\n",
	}))
	if err != nil {
		t.Fatal(err)
	}
	for text, want := range map[string]string{
		"X003":   "2026X003",
		"X002":   "2025X002",   // void, and the only one
		"X001-A": "2024X001-A", // that of 2025 is void
		"X001-C": "2025X001-C",
		"X001-D": "2026X001-D", // in no year: the newest
		"X001-B": "without its year it may be 2024X001-B, 2025X001-B or 2026X001-B; write it with its year: 2026X001-B",
		"X004":   "there is no cross 4; write the identifier in full, as it stands on the label",
	} {
		short, ok := ids.ParseShort(text)
		if !ok {
			t.Fatalf("%s is not short", text)
		}
		got, err := r.Complete(short)
		if err != nil {
			got = err.Error()
		}
		if got != want {
			t.Errorf("%s: %s, want %s", text, got, want)
		}
	}
}

// Pots and seedlings stand where the latest of their moves brought them, in
// whichever order they are recorded.
func TestMoves(t *testing.T) {
	pot := firstLot.Child(1)
	for _, id := range []ids.ID{pot, pot.Child(1)} {
		d := newTestDisk(emptyFiles())
		play(t, d, aSeason()[:10]...)
		before := open(t, d).PlaceOf(id)
		for _, c := range []struct {
			to             string
			day            int
			from, standsAt string
		}{
			{"tunnel", 6, before, "tunnel"}, {"bench", 9, "tunnel", "bench"}, {"frame", 7, "bench", "bench"}, {"row 4", 9, "bench", "row 4"},
		} {
			err := testStore(d).change(func(r *Registry) error {
				from, err := r.Move(id, c.to, Date{2026, 11, c.day})
				if err == nil && from != c.from {
					err = fmt.Errorf("it came from %q, want %q", from, c.from)
				}
				return err
			})
			if got := open(t, d).PlaceOf(id); err != nil || got != c.standsAt {
				t.Errorf("%s, moved to %s on day %d, stands at %q: %v", id, c.to, c.day, got, err)
			}
		}
	}
}

// The largest count that a cell holds can be recorded, and no larger one.
func TestLargestCounts(t *testing.T) {
	for n, want := range map[int]bool{maxCount: true, maxCount + 1: false, 0: true, -1: false} {
		d := newTestDisk(emptyFiles())
		play(t, d, aSeason()[:2]...)
		err := testStore(d).change(func(r *Registry) error {
			_, err := r.Extract(firstLot, Extraction{Seeds: Known(n), On: Date{2026, 10, 1}})
			return err
		})
		if (err == nil) != want {
			t.Errorf("%d seeds: %v", n, err)
		}
		if l, _ := open(t, d).Lot(firstLot); want && l.Seeds != Known(n) {
			t.Errorf("%d seeds are read as %v", n, l.Seeds)
		}
	}
}
