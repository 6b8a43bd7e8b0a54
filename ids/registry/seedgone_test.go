package registry

import (
	"fmt"
	"strings"
	"testing"

	"pipstake/ids"
)

// Seed from elsewhere is a cross without a pollination, with bags of it; what is in
// a bag is on record where there is one alone.
func TestSeedFromElsewhere(t *testing.T) {
	feb := Date{2027, 2, 3}
	for _, c := range []struct {
		seed NewSeed
		want string // the rows, or words of the refusal
	}{
		{NewSeed{SeedParent: "Ann", PollenParent: "op", Source: "Nether Hollow", On: feb, Lots: 1, Seeds: Known(5)}, "2027X001,Ann,open,,,,,Nether Hollow / 2027X001-A,2027-02-03,,,5,,,,"},
		{NewSeed{SeedParent: "Ann", PollenParent: "unknown", Source: "Nether Hollow", On: feb, Year: 2026, Lots: 2, Notes: "damp"}, "2026X004,Ann,unknown,,,,damp,Nether Hollow / 2026X004-A,2027-02-03,,,,,,, 2026X004-B,2027-02-03,,,,,,,"},
		{NewSeed{SeedParent: "Ann", PollenParent: "op", Source: "N", On: feb, Year: 2027, Lots: 1, Seeds: Known(0)}, "2027X001,Ann,open,,,,,N / 2027X001-A,2027-02-03,,,0,,,,"},
		{NewSeed{SeedParent: "Ann", PollenParent: "op", On: feb, Lots: 1}, "the source of the seed is not given"},
		{NewSeed{SeedParent: "Ann", PollenParent: "op", Source: "N", Lots: 1, Year: 2027}, "the day on which the seed came is not given"},
		{NewSeed{SeedParent: "Ann", PollenParent: "op", Source: "N", On: feb, Year: 2028, Lots: 1}, "seed of 2028 cannot have come on 2027-02-03"},
		{NewSeed{SeedParent: "Ann", PollenParent: "op", Source: "N", On: feb, Lots: 2, Seeds: Known(5)}, "5 seeds in 2 bags: how many are in which is open"},
		{NewSeed{SeedParent: "Ann", PollenParent: "op", Source: "N", On: feb, Lots: 0}, "0 is no number of seed lots to issue"},
		{NewSeed{SeedParent: "Ann", PollenParent: "op", Source: "N", On: feb, Lots: 1, Seeds: Known(-1)}, "-1 is no count of seeds"},
		{NewSeed{SeedParent: "Ann", PollenParent: "op", Source: "N", On: feb, Lots: 1, Seeds: Known(1_000_000)}, "2027X001,Ann,open,,,,,N / 2027X001-A,2027-02-03,,,1000000,,,,"},
		{NewSeed{SeedParent: "Ann", PollenParent: "op", Source: "N", On: feb, Lots: 1, Seeds: Known(1_000_001)}, "1000001 is no count of seeds"},
		{NewSeed{SeedParent: "", PollenParent: "op", Source: "N", On: feb, Lots: 1}, "the seed parent has no name"},
	} {
		d := season(nil)
		before := fmt.Sprint(tablesOf(t, d))
		var cross Cross
		var lots []Lot
		err := testStore(d).change(func(r *Registry) (err error) { cross, lots, err = r.Receive(c.seed); return err })
		if err != nil {
			if !refused(err) || !strings.Contains(err.Error(), c.want) || fmt.Sprint(tablesOf(t, d)) != before {
				t.Errorf("%+v: %v, want %s", c.seed, err, c.want)
			}
			continue
		}
		s := story{t, d}
		var bags []string
		for _, l := range lots {
			bags = append(bags, s.rows("lots.csv", l.ID.String()))
		}
		row, _, _ := strings.Cut(s.rows("crosses.csv", cross.ID.String()), "\n")
		if got := row + " / " + strings.Join(bags, " "); got != c.want || len(lots) != c.seed.Lots || c.seed.Seeds.Known && lots[0].Seeds != c.seed.Seeds {
			t.Errorf("%+v: %s\nwant %s", c.seed, got, c.want)
		}
	}
}

// Counts of a cross go up to the flowers that were pollinated; how a number that
// stands in the way is corrected is told by what it is of.
func TestHowANumberIsCorrected(t *testing.T) {
	for _, c := range []struct {
		do   func(*Registry) error
		want string // of the remedy; "" for no error
	}{
		{func(r *Registry) error { _, err := r.Pick(mustID(t, "2026X002"), 12, Date{2026, 6, 1}); return err }, ""},
		{func(r *Registry) error { _, err := r.Pick(mustID(t, "2026X002"), 13, Date{2026, 6, 1}); return err }, "{correct fruit: 2026X002}"},
		{func(r *Registry) error {
			_, err := r.Pick(mustID(t, "2025X007"), 1_000_000, Date{2026, 6, 1})
			return err
		}, ""},
		{func(r *Registry) error { _, err := r.Pick(mustID(t, "2025X007"), 0, Date{2026, 6, 1}); return err }, ""},
		{func(r *Registry) error {
			_, err := r.Sow(mustID(t, "2025X007-A"), Sowing{Seeds: []int{3}, On: Date{2026, 6, 1}})
			return err
		}, "{correct seeds: 2025X007-A}"}, // 20 less 9 and 9
		{func(r *Registry) error {
			_, err := r.Sow(mustID(t, "2025X007-A"), Sowing{Seeds: []int{2}, On: Date{2026, 6, 1}})
			return err
		}, ""},
		{func(r *Registry) error {
			_, err := r.AddEmergence(mustID(t, "2025X007-A2"), Date{2026, 6, 1}, 10)
			return err
		}, "{correct seeds: 2025X007-A2}"},
		{func(r *Registry) error {
			_, err := r.AddEmergence(mustID(t, "2025X007-A2"), Date{2026, 6, 1}, 5)
			return err
		}, "{correct that count: 2025X007-A2 on 2026-02-20}"},
		{func(r *Registry) error {
			_, err := r.AddSeedlings(mustID(t, "2025X007-A2"), 7, Date{2026, 2, 20})
			return err
		}, "{correct count: 2025X007-A2}"},
		{func(r *Registry) error {
			_, err := r.CountPot(Emergence{Pot: mustID(t, "2025X007-A1"), On: Date{2026, 3, 10}, Up: Known(5), Died: Known(0)})
			return err
		}, "{correct those dead: 2025X007-A1 on 2026-03-01}"},
	} {
		files := lived()
		files["crosses.csv"] = strings.Replace(files["crosses.csv"], "2026-07-01,failed", ",", 1)
		err := testStore(season(files)).change(c.do)
		switch asked, ok := err.(interface{ Unwrap() error }); {
		case c.want == "" && err != nil:
			t.Error(err)
		case c.want != "" && (err == nil || !ok || asked.Unwrap() == nil):
			t.Errorf("%v, want %s", err, c.want)
		case c.want != "":
			if told := err.(*SumError).Problems(); len(told) != 1 || !strings.HasSuffix(told[0].Remedy, "where a number on record is wrong: "+c.want) {
				t.Errorf("%+v, want %s", told, c.want)
			}
		}
	}
}

// What a lot's seeds became: the sum, what is left, what was left when it ended.
func TestSumOfSeeds(t *testing.T) {
	files := lived()
	files["diary.csv"] += "\n2025X007-B,2026-03-01,discarded,2,\n2025X007-B,2026-03-02,note,,\n2026X001-A,2027-01-20,given,1,"
	files["pots.csv"] += "\n2025X007-B2,4,2026-01-10,,void,,,\n2025X007-B3,2,2026-01-20,,,,,"
	r := open(t, season(files))
	for id, want := range map[string]SeedSum{
		"2025X007-B": {Seeds: Known(20), Sown: 7, Given: 3, Discarded: 2, Left: 8, FirstSown: Date{2026, 1, 14}},
		"2025X007-A": {Seeds: Known(20), Sown: 18, Left: 2, FirstSown: Date{2026, 1, 14}},
		"2026X001-A": {Seeds: Known(14), Undeveloped: 1, Sown: 7, Given: 1, Gone: 5, FirstSown: Date{2027, 1, 14}},
		"2026X001-B": {Seeds: Known(9), Left: 9},
	} {
		want.Lot = mustID(t, id)
		got, err := r.SeedsOf(want.Lot)
		if err != nil || got != want {
			t.Errorf("%s: %+v (%v), want %+v", id, got, err, want)
		}
		if left, err := r.LeftToSow(want.Lot); err != nil || left != Known(want.Left) {
			t.Errorf("%s: %v left (%v), want %d", id, left, err, want.Left)
		}
	}
	unknown := lived()
	unknown["lots.csv"] = strings.Replace(unknown["lots.csv"], "2026-11-15,,9", "2026-11-15,,", 1)
	if left, err := open(t, season(unknown)).LeftToSow(mustID(t, "2026X001-B")); err != nil || left != (Count{}) {
		t.Errorf("not counted: %v (%v)", left, err)
	}
	unknown["lots.csv"] = strings.Replace(unknown["lots.csv"], "2026-11-15,,,,,,,,,", "2026-11-15,,,,,,,,2026-12-01,discarded", 1)
	unknown["lots.csv"] = strings.Replace(unknown["lots.csv"], "2026X001-B,2026-08-01,2026-11-15,,,,,,,,,", "2026X001-B,2026-08-01,2026-11-15,,,,,,,,2026-12-01,discarded", 1)
	if left, err := open(t, season(unknown)).LeftToSow(mustID(t, "2026X001-B")); err != nil || left != Known(0) {
		t.Errorf("ended without a count: %v (%v)", left, err)
	}
}

// Something has ended as soon as its row has a fate or a day for it; the bags of a
// cross that failed end with it.
func TestWhatHasEnded(t *testing.T) {
	files := lived()
	files["pots.csv"] = "2026X001-A1,7,2027-01-14,,,,,lost\n2025X007-A1,9,2026-01-14,,,,2026-04-01,\n2025X007-A2,9,2026-01-14,,,,,\n2025X007-B1,5,2026-01-14,,void,,,"
	files["lots.csv"] += "\n2026X002-A,,,,,,,,,,,\n2026X003-A,,,,,,,,,,2026-08-01,discarded"
	files["seedlings.csv"] = "2025X007-A2-A,2026-03-20,,,,,,culled\n2025X007-A2-B,2026-03-20,,,,,2026-06-01,\n2025X007-A2-C,2026-03-20,,,,,,"
	r := open(t, season(files))
	for id, want := range map[string]string{
		"2026X001": "", "2026X002": "2026X002 failed on 2026-07-01",
		"2026X001-A": "2026X001-A was discarded on 2027-02-01", "2026X001-B": "",
		"2026X002-A": "2026X002 failed on 2026-07-01", "2026X003-A": "2026X003-A was discarded on 2026-08-01",
		"2026X001-A1": "2026X001-A1 was lost on a day not known", "2025X007-A1": "2025X007-A1 ended on 2026-04-01", "2025X007-A2": "",
		"2025X007-A2-A": "2025X007-A2-A was culled on a day not known", "2025X007-A2-B": "2025X007-A2-B ended on 2026-06-01", "2025X007-A2-C": "",
		"2025X007-A2-D": "", "2026X009": "",
	} {
		end, ended := r.EndOf(mustID(t, id))
		got := ""
		if ended {
			got = end.String()
		}
		grows := want == "" && id != "2025X007-A2-D" && id != "2026X009"
		if got != want || r.Grows(mustID(t, id)) != grows {
			t.Errorf("%s: %q, grows %v; want %q", id, got, r.Grows(mustID(t, id)), want)
		}
	}
	if r.Grows(mustID(t, "2025X007-B1")) || r.Grows(ids.ID{}) {
		t.Error("what is void or nothing grows")
	}
}

// As if it had been in the cold without a break: one spell is since its first day,
// of two the days of the first come off the second, and out of the cold is none.
func TestSinceWhenInTheCold(t *testing.T) {
	for _, c := range []struct{ chilled, diary, since string }{
		{"", "", ""},
		{"2026-11-20", "", "2026-11-20"},
		{"2026-11-20", "2026-12-01,out-of-cold,,", ""},
		{"2026-11-20", "2026-12-01,out-of-cold,,\n2026X001-B,2026-12-10,into-cold,,", "2026-11-29"},
		{"", "2026-12-10,into-cold,,", "2026-12-10"},
		{"2026-11-20", "2026-11-19,out-of-cold,,", "2026-11-20"}, // before it went in
		{"2026-11-20", "2026-11-20,out-of-cold,,", ""},
		{"2026-11-20", "2026-11-25,into-cold,,", "2026-11-20"},
		{"2026-11-20", "2026-11-25,note,,", "2026-11-20"},
		{"2026-11-20", "2026-11-25,given,2,", "2026-11-20"},
	} {
		files := lived()
		files["lots.csv"] = "2026X001-B,2026-08-01,2026-11-15,,9,," + c.chilled + ",,,,,"
		files["pots.csv"], files["seedlings.csv"], files["emergence.csv"], files["diary.csv"] = "", "", "", ""
		if c.diary != "" {
			files["diary.csv"] = "2026X001-B," + c.diary
		}
		if got := open(t, season(files)).ColdSince(mustID(t, "2026X001-B")).String(); got != c.since {
			t.Errorf("%+v: since %q", c, got)
		}
	}
}

// The row of something is damaged where a cell cannot be read that a request may
// need; what is noted beside it is not.
func TestDamagedRows(t *testing.T) {
	r := open(t, season(map[string]string{
		"lots.csv":      "2026X001-A,2026-08-01,2026-11-15,4,many,1,2026-11-20,,\n2026X001-B,soon,,,,,,,\n2025X007-A,,,,9,,,,",
		"pots.csv":      "2026X001-A1,7,in spring,bench 3,,\n2025X007-A1,9,2026-01-14,,,",
		"seedlings.csv": "2025X007-A1-A,then,,\n2025X007-A1-B,,,",
	}))
	for id, want := range map[string]bool{"2026X001": false, "2026X001-A": true, "2026X001-B": false, "2026X001-A1": true, "2025X007-A1": false, "2025X007-A1-A": true, "2025X007-A1-B": false, "2025X007-A9": false} {
		if got := r.DamagedRow(mustID(t, id)); got != want {
			t.Errorf("%s: damaged %v", id, got)
		}
	}
	if r.DamagedRow(ids.ID{}) {
		t.Error("nothing is damaged")
	}
}

// Seed is kept until a year of four digits, as long as there is any; 0 takes that
// back.
func TestSeedIsKept(t *testing.T) {
	for _, c := range []struct {
		id    string
		until int
		want  string // the cell, or words of the refusal
	}{
		{"2026X001-B", 2030, "2030"}, {"2026X001-B", 1000, "1000"}, {"2026X001-B", 9999, "9999"}, {"2026X001-B", 0, ""},
		{"2026X001-B", 999, "999 is no year"}, {"2026X001-B", 10000, "10000 is no year"}, {"2026X001-B", -1, "-1 is no year"},
		{"2026X001-A", 2030, "2026X001-A was discarded on 2027-02-01, so there is no seed to keep"}, {"2026X001-A", 0, ""},
		{"2025X007-A", 2030, "no seed is left of 2025X007-A"}, {"2025X007-A", 0, ""},
	} {
		files := lived()
		files["pots.csv"] += "\n2025X007-A3,2,2026-01-14,,,,,"
		files["lots.csv"] = strings.Replace(files["lots.csv"], ",,9,,,,,,,", ",,9,,,,,2028,,", 1)
		d := season(files)
		err := testStore(d).change(func(r *Registry) error { _, err := r.Keep(mustID(t, c.id), c.until); return err })
		if err != nil {
			if c.want == "" || !refused(err) || !strings.Contains(err.Error(), c.want) {
				t.Errorf("%s until %d: %v, want %q", c.id, c.until, err, c.want)
			}
			continue
		}
		if l, _ := open(t, d).Lot(mustID(t, c.id)); fmt.Sprint(l.Kept) != c.want && (l.Kept != 0 || c.want != "") {
			t.Errorf("%s until %d: kept %d, want %q", c.id, c.until, l.Kept, c.want)
		}
	}
}

// A finding on something without a row stands on its file.
func TestFindingWithoutARow(t *testing.T) {
	r := open(t, season(nil))
	for id, want := range map[string]string{
		"2026X002":    `crosses.csv row 3, column seed_parent: "Härmä Punanen" is odd; look`,
		"2025X007":    `crosses.csv row 5, column seed_parent: "Tarn Amber" is odd; look`,
		"2026X001-A1": `pots.csv row 2: is odd; look`,
	} {
		column := "seed_parent"
		if strings.HasPrefix(want, "pots") {
			column = ""
		}
		if got := r.FindingOn(mustID(t, id), column, "is odd", "look").String(); got != want {
			t.Errorf("%s: %s, want %s", id, got, want)
		}
	}
	if got := r.FindingOn(mustID(t, "2026X009"), "", "is odd", "look").String(); strings.Contains(got, " row ") {
		t.Errorf("without a row: %s", got)
	}
}
