package registry

import (
	"encoding/csv"
	"errors"
	"maps"
	"strings"
	"testing"

	"pipstake/ids"
)

// mustID reads an identifier; "" is the zero one.
func mustID(t *testing.T, s string) ids.ID {
	t.Helper()
	if s == "" {
		return ids.ID{}
	}
	r, err := ids.Parse(s)
	if err != nil {
		t.Fatal(err)
	}
	return r.ID
}

func mustDate(t *testing.T, s string) Date {
	t.Helper()
	if s == "" {
		return Date{}
	}
	d, err := ParseDate(s)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

// The files of a season under way. Rows are given without the headers.
const (
	someCrosses = `2026X001,Larkfield Tessel,Tarn Amber,2026-05-04,12,,
2026X002,Härmä Punanen,2025X007-A1-B,2026-05-06,,,
2026X003,Gwennol Goch,Otterhay Lade,,,void,hail
2025X007,Tarn Amber,Larkfield Tessel,2025-05-02,,,`
	someLots = `2026X001-A,2026-08-01,2026-11-15,4,14,1,2026-11-20,,
2026X001-B,2026-08-01,,,,,,,
2026X001-C,2026-08-01,2026-11-15,,6,,,void,mould
2026X002-A,2026-08-01,2026-11-16,2,many,0,,,
2026X003-A,2026-08-01,2026-11-16,2,8,0,,,
2025X007-A,2025-08-01,2025-11-16,2,9,0,2025-11-20,,`
	somePots = `2026X001-A1,7,2027-01-14,bench 3,,
2026X001-A2,3,2027-01-14,bench 3,void,knocked over
2026X001-A3,four,2027-01-14,,void,
2025X007-A1,9,2026-01-14,,,`
	someSeedlings = `2025X007-A1-A,2026-03-20,,
2025X007-A1-B,2026-03-20,,
2025X007-A1-C,2026-03-20,void,slug`
	someEmergence = `2025X007-A1,2026-02-20,3,
2025X007-A1,2026-03-01,5,`
	someLabels = `3,2026-08-01,bag,2026X001-A,,s,1,1,2026X001-A.2,
3,2026-08-01,bag,2026X001-B,,s,1,2,P,
7,2027-01-14,stake,2026X001-A1,1,t,2,1,P,
7,2027-01-14,stake,2026X001-A1,2,t,2,2,P,spoilt`
)

// season returns a disk with the season, of which some files may be replaced. A
// file whose first row has a cell for each late column as well has those too.
func season(replaced map[string]string) *testDisk {
	files := emptyFiles()
	rows := map[string]string{"crosses.csv": someCrosses, "lots.csv": someLots, "pots.csv": strings.Replace(somePots, "four", "4", 1),
		"seedlings.csv": someSeedlings, "emergence.csv": someEmergence, "labels.csv": someLabels}
	maps.Copy(rows, replaced)
	for _, table := range newTables().tables() {
		text, isThere := rows[table.fileName()]
		if !isThere || text == "" {
			continue
		}
		header := files["r/"+table.fileName()]
		if known := table.(interface{ known() []string }).known(); cellsIn(text) == len(known) {
			header = bom + strings.Join(known, ",") + "\r\n"
		}
		files["r/"+table.fileName()] = header + strings.ReplaceAll(text, "\n", "\r\n") + "\r\n"
	}
	return newTestDisk(files)
}

// cellsIn is the number of cells in the first row of a text.
func cellsIn(text string) int {
	first, _, _ := strings.Cut(text, "\n")
	cells, err := csv.NewReader(strings.NewReader(first)).Read()
	if err != nil {
		return 0
	}
	return len(cells)
}

func open(t *testing.T, d *testDisk) *Registry {
	t.Helper()
	states, err := testStore(d).read()
	if err != nil {
		t.Fatal(err)
	}
	r, err := testStore(d).load(states)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// request is one request and what it writes, or the error it gives.
type request struct {
	name string
	do   func(t *testing.T, r *Registry) error
	file string // where the row is to be found
	want string // the row, or the error's message
}

func addCross(c NewCross, on string) func(*testing.T, *Registry) error {
	return func(t *testing.T, r *Registry) error {
		c.Pollinated = mustDate(t, on)
		_, err := r.AddCross(c)
		return err
	}
}

func TestAddCross(t *testing.T) {
	run(t, []request{
		{"next of the year", addCross(NewCross{SeedParent: " Orlie d'Ancelle ", PollenParent: "Błota Struga", Flowers: Known(0)}, "2026-05-09"),
			"crosses.csv", "2026X004,Orlie d'Ancelle,Błota Struga,2026-05-09,0,,"},
		{"year given", addCross(NewCross{SeedParent: "A", PollenParent: "B", Year: 2027}, ""), "crosses.csv", "2027X001,A,B,,,,"},
		{"a season over New Year", addCross(NewCross{SeedParent: "A", PollenParent: "B", Year: 2027}, "2026-10-09"), "crosses.csv", "2027X001,A,B,2026-10-09,,,"},
		{"selfing", addCross(NewCross{SeedParent: "A", PollenParent: "A", Year: 2024, Notes: `by "hand", twice`}, ""), "crosses.csv", `2024X001,A,A,,,,"by ""hand"", twice"`},
		{"an own seedling", addCross(NewCross{SeedParent: "2025x007a1b", PollenParent: "A", Year: 2024}, ""), "crosses.csv", "2024X001,2025X007-A1-B,A,,,,"},
		{"a void seedling", addCross(NewCross{SeedParent: "2025X007-A1-C", PollenParent: "A", Year: 2024}, ""), "", "2025X007-A1-C is void; use another, its number stays spent"},
		{"an unknown seedling", addCross(NewCross{SeedParent: "A", PollenParent: "2025X007-A1-D", Year: 2024}, ""), "", "there is no seedling 2025X007-A1-D in the registry; compare it with the label"},
		{"no seedling", addCross(NewCross{SeedParent: "2025X007", PollenParent: "A", Year: 2024}, ""), "", "2025X007 is a cross, not a seedling; give the identifier of a seedling"},
		{"wrong check", addCross(NewCross{SeedParent: "2025X007-A1-B.A", PollenParent: "A", Year: 2024}, ""), "",
			`seed parent "2025X007-A1-B.A": the check character is A, but that of 2025X007-A1-B is H; compare each character with the label`},
		{"mistyped", addCross(NewCross{SeedParent: "2025X007-A1-", PollenParent: "A", Year: 2024}, ""), "",
			`seed parent "2025X007-A1-", character 12: nothing follows the hyphen; add the letter of the seedling, or leave the hyphen out`},
		{"no name", addCross(NewCross{SeedParent: "A", PollenParent: " ", Year: 2024}, ""), "", `the pollen parent has no name; give its name, or "unknown"`},
		{"line break", addCross(NewCross{SeedParent: "A\nB", PollenParent: "C", Year: 2024}, ""), "", `the seed parent "A\nB" holds a line break or a control character; write it on one line`},
		{"terminal control", addCross(NewCross{SeedParent: "A\x1b[2J", PollenParent: "C", Year: 2024}, ""), "", `the seed parent "A\x1b[2J" holds a line break or a control character; write it on one line`},
		{"text turned round", addCross(NewCross{SeedParent: "A\u202eB", PollenParent: "C", Year: 2024}, ""), "", `the seed parent "A\u202eB" holds a line break or a control character; write it on one line`},
		{"not UTF-8", addCross(NewCross{SeedParent: "H\xe4rm\xe4", PollenParent: "C", Year: 2024}, ""), "", `the seed parent "H\xe4rm\xe4" is not UTF-8 text; type it again`},
		{"negative flowers", addCross(NewCross{SeedParent: "A", PollenParent: "C", Year: 2024, Flowers: Known(-1)}, ""), "", "-1 is no count of flowers; give the number that was counted"},
		{"no year", addCross(NewCross{SeedParent: "A", PollenParent: "C"}, ""), "", "the cross has no year; give the day of pollination or the year"},
		{"years apart", addCross(NewCross{SeedParent: "A", PollenParent: "C", Year: 2024}, "2026-05-01"), "", "the year 2024 does not go with a pollination on 2026-05-01; correct one of the two"},
		{"short year", addCross(NewCross{SeedParent: "A", PollenParent: "C", Year: 26}, ""), "", `"26" can hold no cross; give the year of the pollination in four digits`},
	})
}

// run makes each request of a fresh season. One that is refused must change
// nothing; one that is not writes its row and changes no other.
func run(t *testing.T, requests []request) {
	t.Helper()
	for _, c := range requests {
		d := season(nil)
		before := maps.Clone(d.now)
		err := testStore(d).change(func(r *Registry) error { return c.do(t, r) })
		if c.file == "" {
			var refusal *Refusal
			var damage *DamageError
			if err == nil || err.Error() != c.want || !errors.As(err, &refusal) && !errors.As(err, &damage) {
				t.Errorf("%s: %v\nwant %s", c.name, err, c.want)
			}
			if !maps.Equal(d.now, before) {
				t.Errorf("%s: refused, but the files changed", c.name)
			}
			continue
		}
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		was := strings.Split(before["r/"+c.file].data, "\r\n")
		var fresh []string
		for i, line := range strings.Split(d.now["r/"+c.file].data, "\r\n") {
			if i >= len(was) || line != was[i] {
				fresh = append(fresh, line)
			}
		}
		if got := strings.TrimSpace(strings.Join(fresh, "\n")); got != c.want {
			t.Errorf("%s: %s is now\n%s\nwant\n%s", c.name, c.file, got, c.want)
		}
		for path := range before {
			if path != "r/"+c.file && path != "r/history.csv" && d.now[path].data != before[path].data {
				t.Errorf("%s: %s changed too", c.name, path)
			}
		}
	}
}

func TestAddLotsAndSeedlings(t *testing.T) {
	lots := func(id string, n int) func(*testing.T, *Registry) error {
		return func(t *testing.T, r *Registry) error {
			_, err := r.AddLots(mustID(t, id), n, Date{2026, 8, 2})
			return err
		}
	}
	seedlings := func(id string, n int, on string) func(*testing.T, *Registry) error {
		return func(t *testing.T, r *Registry) error {
			_, err := r.AddSeedlings(mustID(t, id), n, mustDate(t, on))
			return err
		}
	}
	run(t, []request{
		{"after a void one", lots("2026X001", 2), "lots.csv", "2026X001-D,2026-08-02,,,,,,,\n2026X001-E,2026-08-02,,,,,,,"},
		{"none", lots("2026X001", 0), "", "0 is no number of seed lots to issue; give a number from 1"},
		{"too many", lots("2026X001", 598), "", "2026X001 has 597 numbers left, and 598 more seed lots are asked for; ask for fewer; there can be 600 in all"},
		{"of a void cross", lots("2026X003", 1), "", "2026X003 is void; use another, its number stays spent"},
		{"of an unknown cross", lots("2026X009", 1), "", "there is no cross 2026X009 in the registry; compare it with the label"},
		{"of a lot", lots("2026X001-A", 1), "", "2026X001-A is a seed lot, not a cross; give the identifier of a cross"},
		{"seedlings", seedlings("2025X007-A1", 2, "2026-03-21"), "seedlings.csv", "2025X007-A1-D,2026-03-21,,\n2025X007-A1-E,2026-03-21,,"},
		{"more seedlings than seeds", seedlings("2025X007-A1", 8, "2026-03-21"), "",
			"2025X007-A1 was sown with 9 seeds, 2 seedlings were issued already, and 8 more are asked for; issue at most 7"},
		{"before sowing", seedlings("2025X007-A1", 1, "2026-01-13"), "", "pricked out on 2026-01-13 comes before the sowing on 2026-01-14; correct the day {with day}"},
		{"of a void pot", seedlings("2026X001-A2", 1, ""), "", "2026X001-A2 is void; use another, its number stays spent"},
	})
}

func TestExtractAndChill(t *testing.T) {
	extract := func(id string, e Extraction, on string) func(*testing.T, *Registry) error {
		return func(t *testing.T, r *Registry) error {
			e.On = mustDate(t, on)
			_, err := r.Extract(mustID(t, id), e)
			return err
		}
	}
	chill := func(id string, c Chilling, on string) func(*testing.T, *Registry) error {
		return func(t *testing.T, r *Registry) error {
			c.On = mustDate(t, on)
			_, err := r.Chill(mustID(t, id), c)
			return err
		}
	}
	run(t, []request{
		{"first", extract("2026X001-B", Extraction{Seeds: Known(9), Fruit: Known(3)}, "2026-11-15"), "lots.csv", "2026X001-B,2026-08-01,2026-11-15,3,9,,,,"},
		{"no seed at all", extract("2026X001-B", Extraction{Seeds: Known(0)}, "2026-11-15"), "lots.csv", "2026X001-B,2026-08-01,2026-11-15,,0,,,,"},
		{"again", extract("2026X001-A", Extraction{Seeds: Known(9)}, "2026-11-15"), "", "2026X001-A is extracted already: 14 seeds on 2026-11-15; use {correct} if that was wrong"},
		{"corrected", extract("2026X001-A", Extraction{Seeds: Known(15), Correct: true}, ""), "lots.csv", "2026X001-A,2026-08-01,2026-11-15,4,15,1,2026-11-20,,"},
		{"a damaged count", extract("2026X002-A", Extraction{Seeds: Known(5)}, "2026-11-16"), "", `lots.csv row 5, column seeds: "many" is not a whole number; write digits only, or leave the cell empty`},
		{"a damaged count corrected", extract("2026X002-A", Extraction{Seeds: Known(5), Correct: true}, ""), "lots.csv", "2026X002-A,2026-08-01,2026-11-16,2,5,0,,,"},
		{"a damaged count left", extract("2026X002-A", Extraction{Fruit: Known(5), Correct: true}, ""), "", `the number of seeds in 2026X002-A is not given; give what was found {with seeds}`},
		{"no seeds given", extract("2026X001-B", Extraction{Fruit: Known(5)}, "2026-11-15"), "", "the number of seeds in 2026X001-B is not given; give what was found {with seeds}"},
		{"no day given", extract("2026X001-B", Extraction{Seeds: Known(5)}, ""), "", "the day of the extraction of 2026X001-B is not given; give it {with day}"},
		{"more undeveloped", extract("2026X001-B", Extraction{Seeds: Known(5), Undeveloped: Known(6)}, "2026-11-15"), "", "6 undeveloped are more than the 5 seeds; give all seeds, the undeveloped ones among them"},
		{"negative", extract("2026X001-B", Extraction{Seeds: Known(5), Undeveloped: Known(-1)}, "2026-11-15"), "", "-1 is no count of undeveloped seeds; give the number that was counted"},
		{"fewer than sown", extract("2026X001-A", Extraction{Seeds: Known(7), Correct: true}, ""), "",
			"7 seeds less 1 undeveloped are fewer than the 7 sown from 2026X001-A already; count again, or correct the seeds of its pots"},
		{"before pollination", extract("2026X001-B", Extraction{Seeds: Known(7)}, "2026-05-03"), "", "extraction on 2026-05-03 comes before the pollination on 2026-05-04; correct the day {with day}"},
		{"after the cold", extract("2026X001-A", Extraction{Correct: true}, "2026-11-21"), "", "extraction on 2026-11-21 comes after the start of the cold on 2026-11-20; correct the day {with day}"},
		{"void", extract("2026X001-C", Extraction{Seeds: Known(7)}, "2026-11-15"), "", "2026X001-C is void; use another, its number stays spent"},
		{"of a void cross", extract("2026X003-A", Extraction{Seeds: Known(7)}, "2026-11-15"), "", "2026X003-A is void, since its cross 2026X003 is; use another, its number stays spent"},

		{"cold", chill("2025X007-A", Chilling{Correct: true}, "2025-11-18"), "lots.csv", "2025X007-A,2025-08-01,2025-11-16,2,9,0,2025-11-18,,"},
		{"cold again", chill("2026X001-A", Chilling{}, "2026-11-22"), "", "2026X001-A has been in the cold since 2026-11-20; use {correct} if that was wrong"},
		{"cold without seed", chill("2026X001-B", Chilling{}, "2026-11-22"), "", "no seed of 2026X001-B is recorded yet; record it first with: {extract: 2026X001-B}"},
		{"cold before extraction", chill("2026X001-A", Chilling{Correct: true}, "2026-11-14"), "", "start of the cold of 2026X001-A on 2026-11-14 comes before the extraction on 2026-11-15; correct the day {with day}"},
		{"cold after sowing", chill("2026X001-A", Chilling{Correct: true}, "2027-01-15"), "", "start of the cold of 2026X001-A on 2027-01-15 comes after the first sowing on 2027-01-14; correct the day {with day}"},
		{"cold without a day", chill("2026X001-A", Chilling{Correct: true}, ""), "", "the day on which 2026X001-A went into the cold is not given; give it {with first day}"},
	})
}

func TestSow(t *testing.T) {
	sow := func(id string, s Sowing, on string) func(*testing.T, *Registry) error {
		return func(t *testing.T, r *Registry) error {
			s.On = mustDate(t, on)
			_, err := r.Sow(mustID(t, id), s)
			return err
		}
	}
	run(t, []request{
		// 14 seeds, 1 undeveloped, 7 in pot 1; those of the void pots went back.
		{"all that is left", sow("2026X001-A", Sowing{Seeds: []int{4, 2}, Place: "bench 4"}, "2027-01-15"), "pots.csv",
			"2026X001-A4,4,2027-01-15,bench 4,,\n2026X001-A5,2,2027-01-15,bench 4,,"},
		{"more than is left", sow("2026X001-A", Sowing{Seeds: []int{4, 3}}, "2027-01-15"), "",
			"2026X001-A has 14 seeds, 1 undeveloped, 7 sown already: 6 left, and 7 asked for; take at most 6"},
		{"an empty pot", sow("2026X001-A", Sowing{Seeds: []int{4, 0}}, "2027-01-15"), "", "a pot with 0 seeds cannot be sown; give every pot 1 or more"},
		{"a negative pot", sow("2026X001-A", Sowing{Seeds: []int{7, -1}}, "2027-01-15"), "", "a pot with -1 seeds cannot be sown; give every pot 1 or more"},
		{"no pot", sow("2026X001-A", Sowing{}, "2027-01-15"), "", "0 is no number of pots to issue; give a number from 1"},
		{"not extracted", sow("2026X001-B", Sowing{Seeds: []int{1}}, "2027-01-15"), "", "no seed of 2026X001-B is recorded yet; record it first with: {extract: 2026X001-B}"},
		{"damaged count", sow("2026X002-A", Sowing{Seeds: []int{1}}, "2027-01-15"), "", `lots.csv row 5, column seeds: "many" is not a whole number; write digits only, or leave the cell empty`},
		{"before the cold", sow("2026X001-A", Sowing{Seeds: []int{1}}, "2026-11-19"), "", "sowing of 2026X001-A on 2026-11-19 comes before the start of the cold on 2026-11-20; correct the day {with day}"},
		{"before extraction", sow("2026X001-A", Sowing{Seeds: []int{1}}, "2026-11-14"), "", "sowing of 2026X001-A on 2026-11-14 comes before the extraction on 2026-11-15; correct the day {with day}"},
		{"no day", sow("2026X001-A", Sowing{Seeds: []int{1}}, ""), "", "the day of sowing is not given; give it {with day}"},
		{"place on two lines", sow("2026X001-A", Sowing{Seeds: []int{1}, Place: "a\nb"}, "2027-01-15"), "", `the place "a\nb" holds a line break or a control character; write it on one line`},
		{"void", sow("2026X001-C", Sowing{Seeds: []int{1}}, "2027-01-15"), "", "2026X001-C is void; use another, its number stays spent"},
	})
}

func TestAddEmergence(t *testing.T) {
	up := func(id, on string, n int) func(*testing.T, *Registry) error {
		return func(t *testing.T, r *Registry) error {
			_, err := r.AddEmergence(mustID(t, id), mustDate(t, on), n)
			return err
		}
	}
	run(t, []request{
		{"later", up("2025X007-A1", "2026-03-10", 9), "emergence.csv", "2025X007-A1,2026-03-10,9,"},
		{"between", up("2025X007-A1", "2026-02-25", 4), "emergence.csv", "2025X007-A1,2026-02-25,4,"},
		{"the first", up("2026X001-A1", "2027-01-14", 0), "emergence.csv", "2026X001-A1,2027-01-14,0,"},
		{"more than sown", up("2025X007-A1", "2026-03-10", 10), "", "10 seedlings are more than the 9 seeds sown in 2025X007-A1; count again"},
		{"falling", up("2025X007-A1", "2026-03-10", 4), "", "4 up on 2026-03-10 does not go with 5 up on 2026-03-01; give all that had come up by then, those that died since among them"},
		{"above a later one", up("2025X007-A1", "2026-02-25", 6), "", "6 up on 2026-02-25 does not go with 5 up on 2026-03-01; give all that had come up by then, those that died since among them"},
		{"the same day", up("2025X007-A1", "2026-03-01", 5), "", "2025X007-A1 was counted on 2026-03-01 already: 5 up (emergence.csv row 3); leave it as it is"},
		{"before sowing", up("2026X001-A1", "2027-01-13", 0), "", "count on 2027-01-13 comes before the sowing on 2027-01-14; correct the day {with day}"},
		{"negative", up("2026X001-A1", "2027-01-20", -1), "", "-1 is no count of seedlings; give the number that was counted"},
		{"no day", up("2026X001-A1", "", 1), "", "the day of the count is not given; give it {with day}"},
		{"of a lot", up("2026X001-A", "2027-01-20", 1), "", "2026X001-A is a seed lot, not a pot; give the identifier of a pot"},
	})
}

func TestVoid(t *testing.T) {
	void := func(id, note string) func(*testing.T, *Registry) error {
		return func(t *testing.T, r *Registry) error { return r.Void(mustID(t, id), note) }
	}
	run(t, []request{
		{"a pot", void("2026X001-A1", "frost, hard"), "pots.csv", `2026X001-A1,7,2027-01-14,bench 3,void,"frost, hard"`},
		{"a seedling", void("2025X007-A1-A", "one too many"), "seedlings.csv", "2025X007-A1-A,2026-03-20,void,one too many"},
		{"without a reason", void("2025X007-A1-A", " "), "", "2025X007-A1-A is voided without a reason; give it {with note}"},
		{"a parent", void("2025X007-A1-B", "slug"), "", "2025X007-A1-B has lived: it is a parent of 2026X002; say how it ended, or correct what is wrong"},
		{"a lot", void("2026X001-B", "no fruit"), "lots.csv", "2026X001-B,2026-08-01,,,,,,void,no fruit"},
		{"a cross with live lots", void("2026X001", ""), "", "2026X001 still has 2026X001-A, 2026X001-A1, 2026X001-B; void what stands below with it: {void: 2026X001 2026X001-A..B 2026X001-A1}"},
		{"a pot that lived", void("2025X007-A1", ""), "", "2025X007-A1 has lived: it was counted on 2026-03-01, 2 seedlings were pricked out of it; say how it ended, or correct what is wrong"},
		{"void already", void("2026X003", ""), "", "2026X003 is void; use another, its number stays spent"},
		{"below a void one", void("2026X003-A", ""), "", "2026X003-A is void, since its cross 2026X003 is; use another, its number stays spent"},
		{"nothing", void("", ""), "", "there is nothing to void; give an identifier"},
		{"unknown", void("2026X001-A9", ""), "", "there is no pot 2026X001-A9 in the registry; compare it with the label"},
		{"a note on two lines", void("2026X001-B", "a\rb"), "", `the note "a\rb" holds a line break or a control character; write it on one line`},
	})
}
