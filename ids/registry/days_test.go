package registry

import (
	"errors"
	"fmt"
	"testing"
)

// lived is a season in which all has an end: a cross that failed, a lot that was
// discarded, a pot that was lost, a seedling that died.
func lived() map[string]string {
	return map[string]string{
		"crosses.csv": "2026X001,Ann,Bob,2026-05-04,12,,,,3,2026-09-20,,\n2026X002,Ann,Cat,2026-05-04,12,,,,,,2026-07-01,failed\n" +
			"2026X003,Ann,Dan,2026-05-04,,,,,,2026-09-01,2026-09-10,failed\n2026X004,Ann,Flo,2026-05-04,,,,,,,,\n2025X007,Ann,Eve,2025-05-02,,,,,,,,",
		"lots.csv": "2026X001-A,2026-08-01,2026-11-15,3,14,1,2026-11-20,,,,2027-02-01,discarded\n2026X001-B,2026-08-01,2026-11-15,,9,,,,,,,\n" +
			"2025X007-A,2025-08-01,2025-11-16,2,20,0,2025-11-20,,,,,\n2025X007-B,2025-08-01,2025-11-16,2,20,0,2025-11-20,,,,,",
		"pots.csv":      "2026X001-A1,7,2027-01-14,,,,,\n2025X007-A1,9,2026-01-14,,,,2026-04-01,lost\n2025X007-A2,9,2026-01-14,,,,,\n2025X007-B1,5,2026-01-14,,,,,",
		"emergence.csv": "2025X007-A1,2026-02-20,3,0,\n2025X007-A1,2026-03-01,5,1,\n2025X007-A2,2026-02-20,6,,",
		"seedlings.csv": "2025X007-A1-A,2026-03-20,,,,,2026-06-01,died\n2025X007-A1-B,2026-03-20,,,,,,\n2025X007-A2-A,2026-03-20,,,,,,",
		"diary.csv":     "2025X007-B,2026-02-01,given,3,\n2025X007-A1-B,2026-05-20,planted,,row 3\n2025X007-B1,2026-04-01,moved,,bench\n2025X007-A2,2026-01-01,note,,early\n2025X007-A2,2026-12-31,note,,late",
		"labels.csv":    "",
	}
}

// refused reports whether an error refuses what was asked for.
func refused(err error) bool {
	return errors.As(err, new(*Refusal))
}

// An event may be on the very day of the one before it and of the one after it, and
// no day earlier or later; so may one that is corrected.
func TestDaysBetweenOtherDays(t *testing.T) {
	correct := func(id string, set func(c *Correction, d *Date)) func(*Registry, Date) error {
		return func(r *Registry, on Date) error {
			var c Correction
			set(&c, &on)
			_, err := r.Correct(mustID(t, id), c)
			return err
		}
	}
	pollinated := func(c *Correction, d *Date) { c.Pollinated = d }
	picked := func(c *Correction, d *Date) { c.Picked = d }
	extracted := func(c *Correction, d *Date) { c.Extracted = d }
	chilled := func(c *Correction, d *Date) { c.Chilled = d }
	sown := func(c *Correction, d *Date) { c.Sown = d }
	pricked := func(c *Correction, d *Date) { c.Pricked = d }
	ended := func(c *Correction, d *Date) { c.Ended = d }
	end := func(id string, how Fate) func(*Registry, Date) error {
		return func(r *Registry, on Date) error {
			_, err := r.End(Ending{ID: mustID(t, id), How: how, On: on, Note: "why"})
			return err
		}
	}
	for _, c := range []struct {
		name        string
		do          func(r *Registry, on Date) error
		first, last string // "" for no bound
	}{
		{"pollination corrected", correct("2026X001", pollinated), "2025-01-01", "2026-09-20"},              // the year of the number; the picking
		{"pollination of what was not picked", correct("2025X007", pollinated), "2024-01-01", "2025-11-16"}, // the extraction
		{"pollination of what failed", correct("2026X002", pollinated), "2025-01-01", "2026-07-01"},         // its end
		{"picking corrected", correct("2026X001", picked), "2026-05-04", ""},
		{"picking of what failed", correct("2026X003", picked), "2026-05-04", "2026-09-10"},
		{"failing corrected", correct("2026X003", ended), "2026-09-01", ""},
		{"failing of what was not picked", correct("2026X002", ended), "2026-05-04", ""},
		{"extraction corrected", correct("2026X001-A", extracted), "2026-05-04", "2026-11-20"},
		{"extraction, never in the cold", correct("2026X001-B", extracted), "2026-05-04", ""},
		{"extraction, seeds given away", correct("2025X007-B", extracted), "2025-05-02", "2025-11-20"},
		{"cold corrected", correct("2026X001-A", chilled), "2026-11-15", "2027-01-14"},
		{"cold, never before", correct("2026X001-B", chilled), "2026-11-15", ""},
		{"end of a lot", correct("2026X001-A", ended), "2027-01-14", ""}, // its last sowing
		{"sowing corrected", correct("2026X001-A1", sown), "2026-11-20", "2027-02-01"},
		{"sowing of what was counted", correct("2025X007-A2", sown), "2025-11-20", "2026-02-20"},
		{"pricking out corrected", correct("2025X007-A2-A", pricked), "2026-01-14", ""},
		{"pricking out of what died", correct("2025X007-A1-A", pricked), "2026-01-14", "2026-04-01"}, // the pot ended before it
		{"pricking out of what was planted", correct("2025X007-A1-B", pricked), "2026-01-14", "2026-04-01"},
		{"end of a pot", correct("2025X007-A1", ended), "2026-03-20", ""}, // the last pricking out
		{"end of a seedling", correct("2025X007-A1-A", ended), "2026-03-20", ""},
		{"a cross with good seed ends", end("2025X007", Failed), "none", ""},
		{"a cross ends", end("2026X004", Failed), "2026-05-04", ""},    // it has good seed
		{"a lot ends", end("2025X007-B", Discarded), "2026-02-01", ""}, // seeds of it were given away
		{"a lot without pots ends", end("2026X001-B", Discarded), "2026-11-15", ""},
		{"a pot ends", end("2025X007-A2", Lost), "2026-03-20", ""},
		{"a moved pot ends", end("2025X007-B1", Lost), "2026-04-01", ""},
		{"a planted seedling ends", end("2025X007-A1-B", Culled), "2026-05-20", ""},
		{"a count", func(r *Registry, on Date) error {
			_, err := r.AddEmergence(mustID(t, "2025X007-B1"), on, 1)
			return err
		}, "2026-01-14", ""},
		{"a count of what is counted", func(r *Registry, on Date) error {
			_, err := r.AddEmergence(mustID(t, "2025X007-A2"), on, 7)
			return err
		}, "2026-02-21", ""},
		{"pricking out", func(r *Registry, on Date) error {
			_, err := r.AddSeedlings(mustID(t, "2025X007-B1"), 1, on)
			return err
		}, "2026-01-14", ""},
		{"pricking out of a lost pot", func(r *Registry, on Date) error {
			_, err := r.AddSeedlings(mustID(t, "2025X007-A1"), 1, on)
			return err
		}, "2026-01-14", "2026-04-01"},
		{"a move", func(r *Registry, on Date) error { _, err := r.Move(mustID(t, "2025X007-A2"), "loft", on); return err }, "2026-01-14", ""},
		{"planting out", func(r *Registry, on Date) error {
			_, err := r.Plant(mustID(t, "2025X007-A2-A"), "row 1", on)
			return err
		}, "2026-03-20", ""},
		{"planting out of what died", func(r *Registry, on Date) error {
			_, err := r.Plant(mustID(t, "2025X007-A1-A"), "row 1", on)
			return err
		}, "2026-03-20", "2026-06-01"},
		{"grafting", func(r *Registry, on Date) error { _, err := r.Graft(mustID(t, "2025X007-A2-A"), 2, on, ""); return err }, "2026-03-20", ""},
		{"first fruit", func(r *Registry, on Date) error { return r.First(mustID(t, "2025X007-A2-A"), Fruited, on) }, "2026-03-20", ""},
		{"selecting", func(r *Registry, on Date) error { return r.Select(mustID(t, "2025X007-A2-A"), "", on) }, "2026-03-20", ""},
		{"picking", func(r *Registry, on Date) error { _, err := r.Pick(mustID(t, "2025X007"), 3, on); return err }, "2025-05-02", ""},
		{"giving seeds away", func(r *Registry, on Date) error {
			_, err := r.TakeSeeds(mustID(t, "2025X007-A"), SeedsGone{GivenAway, 2, on, ""})
			return err
		}, "2025-11-16", ""},
		{"giving seeds of a discarded lot away", func(r *Registry, on Date) error {
			_, err := r.TakeSeeds(mustID(t, "2026X001-A"), SeedsGone{GivenAway, 2, on, ""})
			return err
		}, "2026-11-15", "2027-02-01"},
		{"sowing", func(r *Registry, on Date) error {
			_, err := r.Sow(mustID(t, "2025X007-A"), Sowing{Seeds: []int{2}, On: on})
			return err
		}, "2025-11-20", ""},
		{"sowing of a discarded lot", func(r *Registry, on Date) error {
			_, err := r.Sow(mustID(t, "2026X001-A"), Sowing{Seeds: []int{2}, On: on})
			return err
		}, "2026-11-20", "2027-02-01"},
		{"into the cold", func(r *Registry, on Date) error {
			_, err := r.Chill(mustID(t, "2026X001-B"), Chilling{On: on})
			return err
		}, "2026-11-15", ""},
		{"out of the cold", func(r *Registry, on Date) error {
			_, err := r.Chill(mustID(t, "2025X007-A"), Chilling{On: on, Out: true})
			return err
		}, "2025-11-20", ""},
	} {
		try := func(on Date) error {
			return testStore(season(lived())).change(func(r *Registry) error { return c.do(r, on) })
		}
		if c.first == "none" {
			if err := try(mustDate(t, "2027-06-01")); !refused(err) {
				t.Errorf("%s: %v", c.name, err)
			}
			continue
		}
		for _, bound := range []struct {
			on    string
			out   int
			words string
		}{{c.first, -1, "before"}, {c.last, 1, "after"}} {
			if bound.on == "" {
				continue
			}
			on := mustDate(t, bound.on)
			if err := try(on); err != nil {
				t.Errorf("%s on %s: %v", c.name, on, err)
			}
			if err := try(on.AddDays(bound.out)); !refused(err) {
				t.Errorf("%s on the day %s %s: %v", c.name, bound.words, on, err)
			}
		}
		if c.last == "" {
			if err := try(mustDate(t, "2027-06-01")); err != nil && c.name != "pricking out corrected" {
				t.Errorf("%s much later: %v", c.name, err)
			}
		}
	}
}

// What needs a day is refused without one.
func TestNoDayGiven(t *testing.T) {
	for name, do := range map[string]func(r *Registry) error{
		"count":  func(r *Registry) error { _, err := r.AddEmergence(mustID(t, "2025X007-B1"), Date{}, 1); return err },
		"move":   func(r *Registry) error { _, err := r.Move(mustID(t, "2025X007-A2"), "loft", Date{}); return err },
		"graft":  func(r *Registry) error { _, err := r.Graft(mustID(t, "2025X007-A2-A"), 2, Date{}, ""); return err },
		"fruit":  func(r *Registry) error { return r.First(mustID(t, "2025X007-A2-A"), Fruited, Date{}) },
		"select": func(r *Registry) error { return r.Select(mustID(t, "2025X007-A2-A"), "", Date{}) },
		"pick":   func(r *Registry) error { _, err := r.Pick(mustID(t, "2025X007"), 3, Date{}); return err },
		"note":   func(r *Registry) error { return r.Note(mustID(t, "2025X007"), Date{}, "x") },
		"give": func(r *Registry) error {
			_, err := r.TakeSeeds(mustID(t, "2025X007-A"), SeedsGone{GivenAway, 2, Date{}, ""})
			return err
		},
		"sow":   func(r *Registry) error { _, err := r.Sow(mustID(t, "2025X007-A"), Sowing{Seeds: []int{2}}); return err },
		"chill": func(r *Registry) error { _, err := r.Chill(mustID(t, "2026X001-B"), Chilling{}); return err },
		"end":   func(r *Registry) error { _, err := r.End(Ending{ID: mustID(t, "2025X007-A2"), How: Lost}); return err },
		"sown": func(r *Registry) error {
			_, err := r.Correct(mustID(t, "2025X007-A2"), Correction{Sown: &Date{}})
			return err
		},
		"ended": func(r *Registry) error {
			_, err := r.Correct(mustID(t, "2025X007-A1"), Correction{Ended: &Date{}})
			return err
		},
		"no end": func(r *Registry) error {
			_, err := r.Correct(mustID(t, "2025X007-A2"), Correction{Ended: &Date{2027, 1, 1}})
			return err
		},
		"nothing": func(r *Registry) error { _, err := r.Correct(mustID(t, "2025X007-A2"), Correction{}); return err },
	} {
		d := season(lived())
		before := tablesOf(t, d)
		if err := testStore(d).change(do); !refused(err) || fmt.Sprint(tablesOf(t, d)) != fmt.Sprint(before) {
			t.Errorf("%s: %v", name, err)
		}
	}
}
