package registry

import (
	"errors"
	"fmt"
	"strings"
	"testing"

	"pipstake/ids"
)

// story runs steps on one registry, each a command of its own, and tells of
// those that do not end as they should: "" for no error.
type story struct {
	t *testing.T
	d *testDisk
}

func newStory(t *testing.T) *story { return &story{t, season(nil)} }

// on does something on the registry. With want, it is to be refused so, and to
// change nothing.
func (s *story) on(want string, do func(r *Registry) error) {
	s.t.Helper()
	before := tablesOf(s.t, s.d)
	err := testStore(s.d).change(do)
	got := ""
	if err != nil {
		got = err.Error()
		var refusal *Refusal
		var damage *DamageError
		if !errors.As(err, &refusal) && !errors.As(err, &damage) {
			s.t.Errorf("%T: %v", err, err)
		}
		for name, text := range tablesOf(s.t, s.d) {
			if before[name] != text {
				s.t.Errorf("refused, but %s changed", name)
			}
		}
	}
	if got != want {
		s.t.Errorf("%s\nwant %s", got, want)
	}
}

func (s *story) id(text string) ids.ID { return mustID(s.t, text) }

// end ends something.
func (s *story) end(want, id string, how Fate, on, note string) {
	s.t.Helper()
	s.on(want, func(r *Registry) error {
		_, err := r.End(Ending{ID: s.id(id), How: how, On: mustDate(s.t, on), Note: note})
		return err
	})
}

// rows are the rows of a file that name an identifier.
func (s *story) rows(file, id string) string {
	var rows []string
	for _, line := range strings.Split(s.d.now["r/"+file].data, "\r\n") {
		if strings.Contains(line, id+",") {
			rows = append(rows, line)
		}
	}
	return strings.Join(rows, "\n")
}

func (s *story) wantRows(file, id, want string) {
	s.t.Helper()
	if got := s.rows(file, id); got != want {
		s.t.Errorf("%s has\n%s\nwant\n%s", file, got, want)
	}
}

// problems are the findings of check on a file.
func (s *story) problems(file string) string {
	var all []string
	for _, f := range open(s.t, s.d).Check() {
		if f.File == file {
			all = append(all, f.String())
		}
	}
	return strings.Join(all, "\n")
}

func TestEnd(t *testing.T) {
	s := newStory(t)
	s.end("2025X007-A1 is a pot, and \"died\" is no end of one; choose from lost, emptied", "2025X007-A1", Died, "2026-04-01", "")
	s.end("the day of the end is not given; give it {with day}", "2025X007-A1", Lost, "", "")
	s.end("end of 2025X007-A1 on 2026-03-10 comes before the pricking out of 2025X007-A1-A on 2026-03-20; correct the day {with day}", "2025X007-A1", Lost, "2026-03-10", "")
	// 5 up on 1 March, 2 pricked out: 3 are left.
	s.end("3 of the seedlings that came up in 2025X007-A1 are neither dead nor pricked out, so it is not emptied; prick them out, count those that died, or say that the pot was lost",
		"2025X007-A1", Emptied, "2026-04-01", "")
	s.end("", "2025X007-A1", "", "2026-04-01", "mice")
	s.wantRows("pots.csv", "2025X007-A1", "2025X007-A1,9,2026-01-14,,,mice,2026-04-01,lost")
	s.end("2025X007-A1 was lost on 2026-04-01 already; take that end back if it was wrong", "2025X007-A1", Emptied, "2026-04-02", "")
	r := open(t, s.d)
	if alive := r.AliveIn(s.id("2025X007-A1")); alive != Known(0) || r.Grows(s.id("2025X007-A1")) || !r.Grows(s.id("2025X007-A1-A")) {
		t.Errorf("alive %v", alive)
	}
	s.on("2025X007-A1 was lost on 2026-04-01, so there is no count on 2026-04-02; correct the day, or take the end back", func(r *Registry) error {
		_, err := r.AddEmergence(s.id("2025X007-A1"), mustDate(t, "2026-04-02"), 6)
		return err
	})
	s.on("2025X007-A1 was lost on 2026-04-01, so there is no pricking out on 2026-04-02; correct the day, or take the end back", func(r *Registry) error {
		_, err := r.AddSeedlings(s.id("2025X007-A1"), 1, mustDate(t, "2026-04-02"))
		return err
	})
	s.on("", func(r *Registry) error { // what happened before may be written in later
		_, err := r.AddEmergence(s.id("2025X007-A1"), mustDate(t, "2026-03-25"), 6)
		return err
	})

	s.end("2025X007-A1-A is culled without a reason; give it {with note}", "2025X007-A1-A", Culled, "2026-06-01", "")
	s.end("end of 2025X007-A1-A on 2026-03-19 comes before the pricking out on 2026-03-20; correct the day {with day}", "2025X007-A1-A", Died, "2026-03-19", "")
	s.end("", "2025X007-A1-A", Culled, "2026-06-01", "mildew")
	s.wantRows("seedlings.csv", "2025X007-A1-A", "2025X007-A1-A,2026-03-20,,mildew,2026-06-01,culled")
	s.end("2025X007-A1-C is void; use another, its number stays spent", "2025X007-A1-C", Died, "2026-06-01", "")

	s.end("6 seeds are left of 2026X001-A, so it is not used up; discard them or give them away, or correct the count", "2026X001-A", UsedUp, "2027-02-01", "")
	s.end("no seed of 2026X001-B is recorded yet; record it first with: {extract: 2026X001-B}", "2026X001-B", UsedUp, "2027-02-01", "")
	s.end("end of 2026X001-A on 2027-01-10 comes before the sowing of 2026X001-A1 on 2027-01-14; correct the day {with day}", "2026X001-A", "", "2027-01-10", "")
	s.end("", "2026X001-A", GivenAway, "2027-02-01", "to the neighbour")
	s.end("", "2026X001-B", "", "2026-10-01", "bag dropped")
	s.wantRows("lots.csv", "2026X001-A", "2026X001-A,2026-08-01,2026-11-15,4,14,1,2026-11-20,,to the neighbour,2027-02-01,given-away")
	s.wantRows("lots.csv", "2026X001-B", "2026X001-B,2026-08-01,,,,,,,bag dropped,2026-10-01,discarded")
	s.on("2026X001-A was given away on 2027-02-01, so there is no sowing on 2027-02-02; correct the day, or take the end back", func(r *Registry) error {
		_, err := r.Sow(s.id("2026X001-A"), Sowing{Seeds: []int{1}, On: mustDate(t, "2027-02-02")})
		return err
	})
	sum, err := open(t, s.d).SeedsOf(s.id("2026X001-A"))
	if want := (SeedSum{Lot: s.id("2026X001-A"), Seeds: Known(14), Undeveloped: 1, Sown: 7, Gone: 6, FirstSown: Date{2027, 1, 14}}); err != nil || sum != want {
		t.Errorf("%+v, %v\nwant %+v", sum, err, want)
	}
	if missing := open(t, s.d).Missing(); fmt.Sprint(missing) != fmt.Sprint([]Print{{Face: BagFace, ID: s.id("2026X002-A")}, {Face: StakeFace, ID: s.id("2026X001-A1"), Copy: 2}, {Face: SeedlingFace, ID: s.id("2025X007-A1-B")}}) {
		t.Errorf("labels are asked for: %v", missing)
	}
	for _, file := range []string{"crosses.csv", "pots.csv", "seedlings.csv"} {
		if got := s.problems(file); strings.Contains(got, "end") {
			t.Errorf("%s", got)
		}
	}
}

// A cross that failed takes its bags along, and takes them back with it.
func TestFailedCross(t *testing.T) {
	s := newStory(t)
	s.end("2026X001-A holds 13 good seeds of 2026X001, so the cross did not fail; end the seed lot instead, or correct its count", "2026X001", "", "2026-07-01", "")
	s.on("", func(r *Registry) error {
		c, err := r.AddCross(NewCross{SeedParent: "A", PollenParent: "B", Pollinated: mustDate(t, "2026-05-09")})
		if err == nil {
			_, err = r.AddLots(c.ID, 2, mustDate(t, "2026-08-01"))
		}
		return err
	})
	e := Ending{ID: s.id("2026X004"), On: mustDate(t, "2026-07-01"), Note: "June drop"}
	ends, err := open(t, s.d).Ends(e)
	if got := fmt.Sprint(ends); err != nil || got != "[2026X004 failed on 2026-07-01 2026X004-A failed on 2026-07-01 2026X004-B failed on 2026-07-01]" {
		t.Errorf("%s, %v", got, err)
	}
	s.end("", "2026X004", "", "2026-07-01", "June drop")
	s.wantRows("crosses.csv", "2026X004", "2026X004,A,B,2026-05-09,,,June drop,2026-07-01,failed")
	s.end("2026X004 failed on 2026-07-01 already; take that end back if it was wrong", "2026X004-B", "", "2026-09-01", "")
	s.on("2026X004 failed on 2026-07-01, so there is no seed lot; correct the day, or take the end back", func(r *Registry) error {
		_, err := r.AddLots(s.id("2026X004"), 1, mustDate(t, "2026-09-01"))
		return err
	})
	s.on("2026X004 failed on 2026-07-01, so there are no good seeds in 2026X004-A; take the end of the cross back", func(r *Registry) error {
		_, err := r.Extract(s.id("2026X004-A"), Extraction{Seeds: Known(3), On: mustDate(t, "2026-06-30")})
		return err
	})
	if open(t, s.d).Grows(s.id("2026X004-B")) || strings.Contains(s.problems("lots.csv"), "2026X004") {
		t.Errorf("a bag of a failed cross asks for something: %s", s.problems("lots.csv"))
	}
	s.on("2026X004-A ended with its cross: 2026X004 failed on 2026-07-01; take the end of the cross back", func(r *Registry) error {
		_, err := r.GrowsOn(s.id("2026X004-A"))
		return err
	})
	s.on("", func(r *Registry) error { _, err := r.GrowsOn(s.id("2026X004")); return err })
	if !open(t, s.d).Grows(s.id("2026X004-B")) {
		t.Error("the bag did not come back with its cross")
	}
	s.on("2026X004 has not ended; look it up first", func(r *Registry) error { _, err := r.GrowsOn(s.id("2026X004")); return err })
}

func TestTakeSeeds(t *testing.T) {
	s := newStory(t)
	take := func(want, lot string, how Fate, n int, on, note string) {
		t.Helper()
		s.on(want, func(r *Registry) error {
			_, err := r.TakeSeeds(s.id(lot), SeedsGone{How: how, Seeds: n, On: mustDate(t, on), Note: note})
			return err
		})
	}
	take("2026X001-A has 14 seeds, 1 undeveloped, 7 sown already: 6 left, and 7 asked for; take at most 6", "2026X001-A", GivenAway, 7, "2027-01-20", "")
	take(`"used-up" is nothing that happens to a part of a lot's seeds; choose from discarded, given-away`, "2026X001-A", UsedUp, 1, "2027-01-20", "")
	take("0 is no number of seeds; give a number from 1", "2026X001-A", "", 0, "2027-01-20", "")
	take("giving away of seeds on 2026-11-14 comes before the extraction on 2026-11-15; correct the day {with day}", "2026X001-A", GivenAway, 1, "2026-11-14", "")
	take("the day of the discarding of seeds is not given; give it {with day}", "2026X001-A", "", 1, "", "")
	take("", "2026X001-A", GivenAway, 4, "2027-01-20", "to the school")
	take("", "2026X001-A", "", 1, "2027-01-22", "mould")
	s.wantRows("diary.csv", "2026X001-A", "2026X001-A,2027-01-20,given,4,to the school\n2026X001-A,2027-01-22,discarded,1,mould")
	s.on("2026X001-A has 14 seeds, 1 undeveloped, 7 sown already, 4 given away, 1 discarded: 1 left, and 2 asked for; take at most 1",
		func(r *Registry) error {
			_, err := r.Sow(s.id("2026X001-A"), Sowing{Seeds: []int{2}, On: mustDate(t, "2027-01-25")})
			return err
		})
	fewer := Known(12)
	s.on("2026X001-A has 12 seeds, 1 undeveloped, 7 sown already, 4 given away, 1 discarded: 1 more than there are; count again", func(r *Registry) error {
		_, err := r.Correct(s.id("2026X001-A"), Correction{Seeds: &fewer})
		return err
	})
	s.on("2026X001-A has lived: seeds of it were given away or discarded on 2027-01-20; say how it ended, or correct what is wrong", func(r *Registry) error { return r.Void(s.id("2026X001-A"), "slip") })
	take("", "2026X001-A", "", 1, "2027-01-23", "")
	s.end("", "2026X001-A", "", "2027-02-01", "")
	s.wantRows("lots.csv", "2026X001-A", "2026X001-A,2026-08-01,2026-11-15,4,14,1,2026-11-20,,,2027-02-01,used-up")
}

// The counts of a pot as they follow from counts, prickings and an end.
func TestCountsOf(t *testing.T) {
	for _, c := range []struct{ name, pot, counts, seedlings, want, alive string }{
		{"nothing", "2025X007-A1,9,2026-01-14,,,", "", "", "", ""},
		{"a count", "2025X007-A1,9,2026-01-14,,,", "2025X007-A1,2026-03-01,5,,", "", "2026-03-01 5/", "5"},
		{"deaths stay known", "2025X007-A1,9,2026-01-14,,,", "2025X007-A1,2026-03-01,5,2,\n2025X007-A1,2026-03-08,6,,\n2025X007-A1,2026-03-15,8,3,", "",
			"2026-03-01 5/2, 2026-03-08 6/2, 2026-03-15 8/3", "5"},
		{"never counted", "2025X007-A1,9,2026-01-14,,,", "", "2025X007-A1-A,2026-03-20,,\n2025X007-A1-B,2026-03-25,,", "2026-03-20 1/, 2026-03-25 2/", "0"},
		{"beyond the last count", "2025X007-A1,9,2026-01-14,,,", "2025X007-A1,2026-03-01,2,1,", "2025X007-A1-A,2026-03-20,,\n2025X007-A1-B,2026-03-20,,", "2026-03-01 2/1, 2026-03-20 3/1", "0"},
		{"within the last count", "2025X007-A1,9,2026-01-14,,,", "2025X007-A1,2026-03-01,5,,", "2025X007-A1-A,2026-03-20,,", "2026-03-01 5/", "4"},
		{"before a count", "2025X007-A1,9,2026-01-14,,,", "2025X007-A1,2026-03-21,5,,", "2025X007-A1-A,2026-03-20,,\n2025X007-A1-B,2026-03-20,,", "2026-03-20 2/, 2026-03-21 5/", "3"},
		{"void ones", "2025X007-A1,9,2026-01-14,,,", "2025X007-A1,2026-03-01,5,,", "2025X007-A1-A,2026-03-20,void,", "2026-03-01 5/", "5"},
		{"lost", "2025X007-A1,9,2026-01-14,,,,2026-04-01,lost", "2025X007-A1,2026-03-01,5,1,", "2025X007-A1-A,2026-03-20,,", "2026-03-01 5/1, 2026-04-01 5/4", "0"},
		{"lost on the day of a count", "2025X007-A1,9,2026-01-14,,,,2026-03-01,lost", "2025X007-A1,2026-03-01,5,,", "", "2026-03-01 5/5", "0"},
		{"lost, never counted", "2025X007-A1,9,2026-01-14,,,,2026-04-01,lost", "", "", "", "0"},
	} {
		r := open(t, season(map[string]string{"pots.csv": c.pot, "emergence.csv": c.counts, "seedlings.csv": c.seedlings}))
		var all []string
		for _, e := range r.CountsOf(mustID(t, "2025X007-A1")) {
			all = append(all, fmt.Sprintf("%s %s/%s", e.On, e.Up, e.Died))
		}
		if got := strings.Join(all, ", "); got != c.want || r.AliveIn(mustID(t, "2025X007-A1")).String() != c.alive {
			t.Errorf("%s: %s, alive %s\nwant %s, alive %s", c.name, got, r.AliveIn(mustID(t, "2025X007-A1")), c.want, c.alive)
		}
	}
}

// What came up is no fewer than what died and what was pricked out.
func TestPrickingAndCounting(t *testing.T) {
	s := newStory(t)
	prick := func(want string, n int, on string) {
		t.Helper()
		s.on(want, func(r *Registry) error {
			_, err := r.AddSeedlings(s.id("2025X007-A1"), n, mustDate(t, on))
			return err
		})
	}
	count := func(want, on string, up int, died Count) {
		t.Helper()
		s.on(want, func(r *Registry) error {
			_, err := r.CountPot(Emergence{Pot: s.id("2025X007-A1"), On: mustDate(t, on), Up: Known(up), Died: died})
			return err
		})
	}
	// 3 up on 20 February, 5 on 1 March, of 9; 2 pricked out on 20 March.
	prick("2025X007-A1 had 5 up on 2026-03-01, 0 pricked out by then: 5 alive, and 6 more are asked for; issue at most 5", 6, "2026-02-28")
	prick("2025X007-A1 had 3 up on 2026-02-20, 0 pricked out by then: 3 alive, and 4 more are asked for; issue at most 3", 4, "2026-02-20")
	prick("2025X007-A1 was sown with 9 seeds, 2 seedlings were issued already, and 8 more are asked for; issue at most 7", 8, "2026-03-25")
	count("", "2026-03-24", 6, Known(3))
	prick("2025X007-A1 was sown with 9 seeds, 3 died, 2 seedlings were issued already, and 5 more are asked for; issue at most 4", 5, "2026-03-25")
	prick("2025X007-A1 had 6 up on 2026-03-24, 3 died, 2 pricked out by then: 1 alive, and 2 more are asked for; issue at most 1", 2, "2026-03-24")
	prick("", 3, "2026-03-25") // two more than were counted
	count("2025X007-A1 had 7 up on 2026-03-26, and 3 died and 5 pricked out by then are more; correct the count, or the days", "2026-03-26", 7, Count{})
	count("", "2026-03-26", 8, Count{})
	r := open(t, s.d)
	if r.AliveIn(s.id("2025X007-A1")) != Known(0) || r.AllOut(s.id("2025X007-A1")) {
		t.Errorf("alive %v, all out %v", r.AliveIn(s.id("2025X007-A1")), r.AllOut(s.id("2025X007-A1")))
	}
	count("", "2026-03-27", 9, Known(4))
	if !open(t, s.d).AllOut(s.id("2025X007-A1")) {
		t.Error("nothing is left to come, and it is not all out")
	}
	s.end("", "2025X007-A1", "", "2026-04-01", "")
	s.wantRows("pots.csv", "2025X007-A1", "2025X007-A1,9,2026-01-14,,,,2026-04-01,emptied")
	none := Known(3)
	s.on("2025X007-A1 was emptied on 2026-04-01, and 9 up less 3 died less 5 pricked out would leave 1 in it; correct those that died as well, or take the end back", func(r *Registry) error {
		_, err := r.CorrectCount(s.id("2025X007-A1"), mustDate(t, "2026-03-27"), CountCorrection{Died: &none})
		return err
	})
	if got := s.problems("emergence.csv") + s.problems("seedlings.csv"); strings.Contains(got, "died") || strings.Contains(got, "fewer") {
		t.Errorf("check: %s", got)
	}
}

func TestCorrect(t *testing.T) {
	s := newStory(t)
	correct := func(want, id string, c Correction) (changed []Changed) {
		t.Helper()
		s.on(want, func(r *Registry) (err error) { changed, err = r.Correct(s.id(id), c); return err })
		return changed
	}
	text := func(s string) *string { return &s }
	count := func(n int) *Count { c := Known(n); return &c }
	day := func(d string) *Date { on := mustDate(t, d); return &on }

	if got := fmt.Sprint(correct("", "2026X001", Correction{Swap: true})); got != "[{2026X001  seed_parent Larkfield Tessel Tarn Amber} {2026X001  pollen_parent Tarn Amber Larkfield Tessel}]" {
		t.Errorf("swapped: %s", got)
	}
	s.wantRows("crosses.csv", "2026X001", "2026X001,Tarn Amber,Larkfield Tessel,2026-05-04,12,,")
	correct("", "2026X002", Correction{SeedParent: text("Härmä Punanen 2"), Flowers: count(9)})
	s.wantRows("crosses.csv", "2026X002", "2026X002,Härmä Punanen 2,2025X007-A1-B,2026-05-06,9,,")
	correct("the pollen parent has no name; give its name, or \"unknown\"", "2026X002", Correction{PollenParent: text(" ")})
	correct("2025X007-A1-B comes from 2025X007, so it is no parent of it; compare the identifiers with the labels", "2025X007", Correction{PollenParent: text("2025X007-A1-B")})
	correct("pollination on 2026-11-16 comes after the extraction of 2026X001-A on 2026-11-15; correct the day {with day}", "2026X001", Correction{Pollinated: day("2026-11-16")})
	correct("the year 2026 does not go with a pollination on 2028-05-04; correct one of the two", "2026X001", Correction{Pollinated: day("2028-05-04")})
	correct("2026X001 is a cross, and a cross has no sown; correct it where it belongs", "2026X001", Correction{Sown: day("2027-01-01")})
	correct("what is wrong of 2026X001 is not said; name a fact and what it is", "2026X001", Correction{})

	correct("7 seeds less 1 undeveloped are fewer than the 7 sown from 2026X001-A already; count again, or correct the seeds of its pots", "2026X001-A", Correction{Seeds: count(7)})
	correct("15 undeveloped are more than the 14 seeds; give all seeds, the undeveloped ones among them", "2026X001-A", Correction{Undeveloped: count(15)})
	correct("start of the cold on 2027-01-20 comes after the first sowing on 2027-01-14; correct the day {with day}", "2026X001-A", Correction{Chilled: day("2027-01-20")})
	correct("no seeds of 2026X001-A would be on record, and 7 of them were sown, given away or discarded; give what was found", "2026X001-A", Correction{Seeds: &Count{}})
	correct("", "2026X002-A", Correction{Seeds: count(5)}) // a cell that could not be read
	s.wantRows("lots.csv", "2026X002-A", "2026X002-A,2026-08-01,2026-11-16,2,5,0,,,")

	correct("2026X001-A would have 14 seeds, 1 undeveloped, 14 sown already: 1 more than there are; correct the seeds of the lot first, if they were more", "2026X001-A1", Correction{Seeds: count(14)})
	correct("2025X007-A would have 9 seeds, 0 undeveloped, 10 sown already: 1 more than there are; correct the seeds of the lot first, if they were more", "2025X007-A1", Correction{Seeds: count(10)})
	correct("5 seedlings, counted on 2026-03-01, are more than the 4 seeds sown in 2025X007-A1; look which of the two is right", "2025X007-A1", Correction{Seeds: count(4)})
	correct("count on 2026-02-20 comes before the sowing on 2026-02-21; correct the day {with day}", "2025X007-A1", Correction{Sown: day("2026-02-21")})
	correct("", "2025X007-A1", Correction{Seeds: count(8), Sown: day("2026-01-15"), Place: text("tunnel")})
	s.wantRows("pots.csv", "2025X007-A1", "2025X007-A1,8,2026-01-15,tunnel,,")

	correct("pricking out on 2026-01-14 comes before the sowing on 2026-01-15; correct the day {with day}", "2025X007-A1-A", Correction{Pricked: day("2026-01-14")})
	correct("", "2025X007-A1-A", Correction{Pricked: day("2026-02-20")})
	correct("2025X007-A1-A has not ended; end it first", "2025X007-A1-A", Correction{Ended: day("2026-05-20")})
	if got := s.problems("seedlings.csv"); strings.Contains(got, "comes") {
		t.Errorf("check: %s", got)
	}
}

func TestCorrectCount(t *testing.T) {
	s := newStory(t)
	count := func(n int) *Count { c := Known(n); return &c }
	correct := func(want, on string, c CountCorrection) (changed []Changed) {
		t.Helper()
		s.on(want, func(r *Registry) (err error) {
			changed, err = r.CorrectCount(s.id("2025X007-A1"), mustDate(t, on), c)
			return err
		})
		return changed
	}
	// 3 up on 20 February, 5 on 1 March, of 9; 2 pricked out on 20 March.
	correct("2025X007-A1 was not counted on 2026-03-02; it was counted on 2026-02-20, 2026-03-01", "2026-03-02", CountCorrection{Up: count(4)})
	correct("2 up on 2026-03-01 does not go with 3 up on 2026-02-20; give all that had come up by then, those that died since among them", "2026-03-01", CountCorrection{Up: count(2)})
	correct("10 seedlings are more than the 9 seeds sown in 2025X007-A1; count again", "2026-03-01", CountCorrection{Up: count(10)})
	correct("8 died of 5 that came up; give all that have come up, those that died since among them", "2026-03-01", CountCorrection{Died: count(8)})
	correct("what is wrong of the count on 2026-03-01 is not said; give the number that was counted", "2026-03-01", CountCorrection{})
	if got := fmt.Sprint(correct("", "2026-03-01", CountCorrection{Up: count(4), Died: count(1)})); got != "[{2025X007-A1 2026-03-01 up 5 4} {2025X007-A1 2026-03-01 died  1}]" {
		t.Errorf("corrected: %s", got)
	}
	s.wantRows("emergence.csv", "2025X007-A1", "2025X007-A1,2026-02-20,3,\n2025X007-A1,2026-03-01,4,,1")
	before := s.d.now["r/emergence.csv"].data
	correct("", "2026-02-20", CountCorrection{Drop: true})
	s.wantRows("emergence.csv", "2025X007-A1", "2025X007-A1,2026-03-01,4,,1")
	s.on("", func(r *Registry) error { _, err := r.Undo(); return err })
	s.wantRows("emergence.csv", "2025X007-A1", "2025X007-A1,2026-03-01,4,,1\n2025X007-A1,2026-02-20,3,,")
	if after := s.d.now["r/emergence.csv"].data; len(after) != len(before)+1 { // a comma for the late column
		t.Errorf("after undo\n%q\nbefore\n%q", after, before)
	}
	if got := open(t, s.d).EmergenceOf(s.id("2025X007-A1")); len(got) != 2 || got[0].Up != Known(3) {
		t.Errorf("%v", got)
	}
}

// A misspelt variety is mended wherever it stands.
func TestRenameVariety(t *testing.T) {
	s := newStory(t)
	var changed []Changed
	s.on("", func(r *Registry) (err error) { changed, err = r.RenameVariety("tarn  amber", "Tarn Umber"); return err })
	if got := fmt.Sprint(changed); got != "[{2026X001  pollen_parent Tarn Amber Tarn Umber} {2025X007  seed_parent Tarn Amber Tarn Umber}]" {
		t.Errorf("%s", got)
	}
	s.on(`no cross has a parent "Tarn Amber", and no selection is named so; compare it with crosses.csv`, func(r *Registry) error {
		_, err := r.RenameVariety("Tarn Amber", "Tarn Umber")
		return err
	})
}

func TestLift(t *testing.T) {
	s := newStory(t)
	lift := func(want, id string) {
		t.Helper()
		s.on(want, func(r *Registry) error { return r.Lift(s.id(id)) })
	}
	lift("2026X001-A1 is not void; there is nothing to lift", "2026X001-A1")
	lift("2026X003-A is void, since its cross 2026X003 is; lift 2026X003 first", "2026X003-A")
	lift("there is no pot 2026X001-A9 in the registry; compare it with the label", "2026X001-A9")
	// 13 good seeds: 7 are sown, and 3 and 4 were in the two void pots.
	lift("", "2026X001-A2")
	s.wantRows("pots.csv", "2026X001-A2", "2026X001-A2,3,2027-01-14,bench 3,,knocked over")
	lift("2026X001-A would have 14 seeds, 1 undeveloped, 14 sown already: 1 more than there are; correct the seeds of the lot first, if they were more", "2026X001-A3")
	lift("", "2025X007-A1-C")
	lift("", "2026X003")
}
