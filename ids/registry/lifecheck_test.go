package registry

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"testing"
)

// What contradicts the end of something is found, whoever wrote it.
func TestCheckFindsEndsThatContradict(t *testing.T) {
	const (
		crosses = "2026X001,A,B,2026-05-04,12,,,,,,,"
		lots    = "2026X001-A,2026-08-01,2026-11-15,4,14,1,2026-11-20,,,,,"
		pots    = "2026X001-A1,7,2027-01-14,,,,,"
		counts  = "2026X001-A1,2027-03-01,5,,"
	)
	for _, c := range []struct {
		name  string
		files map[string]string
		want  string
	}{
		{"nothing", nil, ""},
		{"void and ended", map[string]string{"pots.csv": "2026X001-A1,7,2027-01-14,,void,,2027-04-01,lost"},
			`pots.csv row 2, column state: "void" is void, and yet it was lost on 2027-04-01; keep one of the two: what lived has an end, what should never have been is void`},
		{"nothing is asked of what is void", map[string]string{"pots.csv": "2026X001-A1,,,,void,,,"}, ""},
		{"a day without a fate", map[string]string{"pots.csv": "2026X001-A1,7,2027-01-14,,,,2027-04-01,"},
			`pots.csv row 2, column fate: is missing, though it ended on 2027-04-01; write lost, emptied, or take the day out`},
		{"a fate without a day", map[string]string{"pots.csv": "2026X001-A1,7,2027-01-14,,,,,lost"},
			`pots.csv row 2, column ended: is missing, though it was lost; write in the day, or take the word out of fate`},
		{"a fate of another level", map[string]string{"pots.csv": "2026X001-A1,7,2027-01-14,,,,2027-04-01,culled"},
			`pots.csv row 2, column fate: "culled" is none of the words for fate; write lost, emptied or nothing`},
		{"ended before it began", map[string]string{"pots.csv": "2026X001-A1,7,2027-01-14,,,,2027-01-13,lost", "emergence.csv": ""},
			`pots.csv row 2, column ended: "2027-01-13" comes before the sowing on 2027-01-14; correct one of the two dates`},
		{"counted after the end", map[string]string{"pots.csv": "2026X001-A1,7,2027-01-14,,,,2027-02-20,lost"},
			`emergence.csv row 2, column on: "2027-03-01" comes after the end, for 2026X001-A1 was lost on 2027-02-20; correct one of the two dates`},
		{"pricked out after the end", map[string]string{"pots.csv": "2026X001-A1,7,2027-01-14,,,,2027-03-02,lost", "seedlings.csv": "2026X001-A1-A,2027-03-03,,,,,,"},
			`seedlings.csv row 2, column pricked: "2027-03-03" comes after the end, for 2026X001-A1 was lost on 2027-03-02; correct one of the two dates`},
		{"emptied, and five in it", map[string]string{"pots.csv": "2026X001-A1,7,2027-01-14,,,,2027-04-01,emptied"},
			`pots.csv row 2, column fate: "emptied" does not go with 5 up, 0 died and 0 pricked out, which leave 5; correct one of them`},
		{"used up, and six left", map[string]string{"lots.csv": "2026X001-A,2026-08-01,2026-11-15,4,14,1,2026-11-20,,,,2027-04-01,used-up"},
			`lots.csv row 2, column fate: "used-up" does not go with the 6 seeds that are left; correct one of the two`},
		{"sown after the end of the lot", map[string]string{"lots.csv": "2026X001-A,2026-08-01,2026-11-15,4,14,1,2026-11-20,,,,2027-01-02,discarded"},
			`pots.csv row 2, column sown: "2027-01-14" comes after the end, for 2026X001-A was discarded on 2027-01-02; correct one of the two dates`},
		{"a failed cross with seed", map[string]string{"crosses.csv": "2026X001,A,B,2026-05-04,12,,,,,,2027-07-01,failed"},
			`lots.csv row 2, column seeds: "14" are there, though 2026X001 failed on 2027-07-01; correct one of the two`},
		{"more fruit than flowers", map[string]string{"crosses.csv": "2026X001,A,B,2026-05-04,12,,,,13,2026-10-01,,"},
			`crosses.csv row 2, column fruit: "13" is more than the 12 flowers; correct one of the two`},
		{"more pricked out than came up", map[string]string{"seedlings.csv": "2026X001-A1-A,2027-02-20,,,,,,\n2026X001-A1-B,2027-02-20,,,,,,", "emergence.csv": "2026X001-A1,2027-03-01,2,1,"},
			`emergence.csv row 2, column up: "2" is fewer than the 1 that died and the 2 that were pricked out by 2027-03-01; correct the count, or the days`},
		{"all that came up pricked out", map[string]string{"seedlings.csv": "2026X001-A1-A,2027-02-20,,,,,,\n2026X001-A1-B,2027-03-01,,,,,,", "emergence.csv": "2026X001-A1,2027-03-01,2,,"}, ""},
		{"more given away than there is", map[string]string{"diary.csv": "2026X001-A,2027-02-01,given,7,"},
			`lots.csv row 2, column seeds: "14" less 1 undeveloped and 7 discarded or given away is fewer than the 7 sown in its pots; correct it, or the pots in pots.csv`},
		{"a diary of what there is not", map[string]string{"diary.csv": "2026X001-B,2027-02-01,note,,x"},
			`diary.csv row 2, column id: "2026X001-B" has no row in lots.csv; put that row back, or correct the identifier`},
		{"seed of a pot", map[string]string{"diary.csv": "2026X001-A1,2027-02-01,given,7,"},
			`diary.csv row 2, column what: "given" is nothing that happens to a pot; correct the word or the identifier`},
		{"without day and number", map[string]string{"diary.csv": "2026X001-A,,given,,"},
			"diary.csv row 2, column on: the day is missing; write it in\ndiary.csv row 2, column number: the number is missing; write it in"},
		{"without numbers", map[string]string{"seedlings.csv": "2026X001-A1-A,2027-04-01,,,,", "diary.csv": "2026X001-A,2027-02-01,discarded,,\n2026X001-A1-A,2027-05-01,grafted,,\n2026X001-A,2027-02-01,note,,dry"},
			"diary.csv row 2, column number: the number is missing; write it in\ndiary.csv row 3, column number: the number is missing; write it in"},
		{"moved before it was sown", map[string]string{"diary.csv": "2026X001-A1,2027-01-13,moved,,bench"},
			`diary.csv row 2, column on: "2027-01-13" comes before the sowing of 2026X001-A1 on 2027-01-14; correct one of the two dates`},
		{"a note before is fine", map[string]string{"diary.csv": "2026X001-A1,2027-01-13,note,,bench"}, ""},
	} {
		files := map[string]string{"crosses.csv": crosses, "lots.csv": lots, "pots.csv": pots, "seedlings.csv": "", "emergence.csv": counts, "labels.csv": ""}
		for name, text := range c.files {
			files[name] = text
		}
		var found []string
		for _, f := range open(t, season(files)).Check() {
			if !strings.HasPrefix(f.Remedy, "print it with") {
				found = append(found, f.String())
			}
		}
		if got := strings.Join(found, "\n"); got != c.want {
			t.Errorf("%s:\n%s\nwant\n%s", c.name, got, c.want)
		}
	}
}

// Diaries are joined, each entry as often as either side has it; and a count
// that was corrected away on one side does not come back from the other.
func TestMergeOfLives(t *testing.T) {
	pot := firstLot.Child(1)
	note := func(text string) func(*Registry) error {
		return func(r *Registry) error { return r.Note(firstLot, Date{2026, 11, 3}, text) }
	}
	drop := func(on Date) func(*Registry) error {
		return func(r *Registry) error {
			_, err := r.CorrectCount(pot, on, CountCorrection{Drop: true})
			return err
		}
	}
	first, second := Date{2026, 11, 2}, Date{2026, 11, 9}
	here, there := two(t, append(aSeason()[:6], note("dry"), func(r *Registry) error {
		_, err := r.AddEmergence(pot, second, 4)
		return err
	})...)
	then(t, here, "pipstake here", note("dry"), drop(first))
	then(t, there, "pipstake there", note("wet"), drop(second), func(r *Registry) error {
		_, err := r.End(Ending{ID: pot, How: Lost, On: Date{2026, 11, 12}, Note: "mice"})
		return err
	})
	for again := range 2 { // the second time there is nothing new
		m, err := merge(t, here, there, Here)
		if err != nil {
			t.Fatal(err)
		}
		if added := slices.Contains(m.Added, AddedRows{diaryFile, 1, 0}); added != (again == 0) {
			t.Errorf("merged %d times before, one row of the diary was added: %v", again, added)
		}
		r := open(t, here)
		var notes []string
		for _, d := range r.DiaryOf(firstLot) {
			notes = append(notes, d.Text)
		}
		if got := fmt.Sprint(notes); got != "[dry dry wet]" {
			t.Errorf("the diary has %s", got)
		}
		if counts := r.EmergenceOf(pot); len(counts) != 0 {
			t.Errorf("counts came back: %v", counts)
		}
		if end, ended := r.EndOf(pot); !ended || end.String() != "2026X001-A1 was lost on 2026-11-12" {
			t.Errorf("%v, %v", end, ended)
		}
	}
}

// A column is added only where no cell would seem to belong to it.
func TestColumnIsNotAddedUnderACell(t *testing.T) {
	d := season(nil)
	d.now["r/pots.csv"].data = strings.Replace(d.now["r/pots.csv"].data, "bench 3,,", "bench 3,,,2027-03-01", 1)
	before := d.now["r/pots.csv"].data
	err := testStore(d).change(func(r *Registry) error {
		_, err := r.End(Ending{ID: mustID(t, "2025X007-A1"), How: Lost, On: Date{2026, 5, 1}})
		return err
	})
	var damage *DamageError
	want := `pots.csv row 2: "2027-03-01" stands beyond the last column; look whether a delimiter inside a cell moved the others, and put that cell into quotes`
	if !errors.As(err, &damage) || err.Error() != want || d.now["r/pots.csv"].data != before {
		t.Errorf("%v\nwant %s", err, want)
	}

	d = season(nil)
	d.now["r/varieties.csv"] = &testFile{data: "name,notes\r\nTarn Amber,keeps,1890\r\n", mode: 0o644}
	err = testStore(d).change(func(r *Registry) error {
		_, err := r.SetVariety(Variety{Name: "Tarn Amber", Ploidy: 3}, false)
		return err
	})
	want = `varieties.csv row 2: "1890" stands beyond the last column; look whether a delimiter inside a cell moved the others, and put that cell into quotes`
	if !errors.As(err, &damage) || err.Error() != want {
		t.Errorf("%v\nwant %s", err, want)
	}
}

// A count that was dropped there goes here as well, and no other with it, be it
// alike.
func TestMergeDropsOneCount(t *testing.T) {
	pot := firstLot.Child(1)
	here, there := two(t, append(aSeason()[:6], func(r *Registry) error {
		_, err := r.AddEmergence(pot, Date{2026, 11, 9}, 4)
		return err
	})...)
	then(t, there, "there", func(r *Registry) error {
		_, err := r.CorrectCount(pot, Date{2026, 11, 2}, CountCorrection{Drop: true})
		return err
	})
	if _, err := merge(t, here, there, Here); err != nil {
		t.Fatal(err)
	}
	if counts := open(t, here).EmergenceOf(pot); len(counts) != 1 || counts[0].On != (Date{2026, 11, 9}) {
		t.Errorf("counts %v are left, want that of 2026-11-09", counts)
	}
}

// Where a hand edit let a pot end before it was counted or pricked out of, a
// further count is refused with what contradicts.
func TestPotThatEndedTooEarly(t *testing.T) {
	for want, files := range map[string]map[string]string{
		"2026X001-A1 was lost on 2027-02-20, before the count on 2027-03-01; correct the day, or take the end back":        {"emergence.csv": "2026X001-A1,2027-03-01,5,,"},
		"2026X001-A1 was lost on 2027-02-20, before the pricking out on 2027-03-02; correct the day, or take the end back": {"seedlings.csv": "2026X001-A1-A,2027-03-02,,,,,,"},
	} {
		all := map[string]string{"crosses.csv": "2026X001,A,B,2026-05-04,12,,,,,,,", "lots.csv": "2026X001-A,2026-08-01,2026-11-15,4,14,1,2026-11-20,,,,,",
			"pots.csv": "2026X001-A1,7,2027-01-14,,,,2027-02-20,lost", "seedlings.csv": "", "emergence.csv": "", "labels.csv": ""}
		for name, text := range files {
			all[name] = text
		}
		err := testStore(season(all)).change(func(r *Registry) error {
			_, err := r.CountPot(Emergence{Pot: firstLot.Child(1), On: Date{2027, 2, 10}, Up: Known(1)})
			return err
		})
		if err == nil || err.Error() != want {
			t.Errorf("%v\nwant %s", err, want)
		}
	}
}
