package registry

import (
	"fmt"
	"slices"
	"strings"
	"testing"
)

// The seeds of a lot are not struck out while any of them went somewhere, and the
// refusal says how many did.
func TestSeedsThatWentSomewhereStay(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		pots, diary string
		taken       int
	}{
		{"", "", 0},
		{"2026X001-A1,3,,,,", "", 3},
		{"", "2026X001-A,2027-01-02,given,2,", 2},
		{"", "2026X001-A,2027-01-02,discarded,2,", 2},
		{"2026X001-A1,2,,,,", "2026X001-A,2027-01-02,given,2,", 4},
		{"2026X001-A1,2,,,,", "2026X001-A,2027-01-02,discarded,2,", 4},
		{"", "2026X001-A,2027-01-02,given,2,\n2026X001-A,2027-01-02,discarded,2,", 4},
	} {
		d := season(map[string]string{"lots.csv": "2026X001-A,,2026-11-15,2,9,,,,", "pots.csv": c.pots, "diary.csv": c.diary, "labels.csv": "", "emergence.csv": "", "seedlings.csv": ""})
		err := testStore(d).change(func(r *Registry) error {
			_, err := r.Correct(firstLot, Correction{Seeds: &Count{}})
			return err
		})
		want := fmt.Sprintf("no seeds of 2026X001-A would be on record, and %d of them were sown, given away or discarded; give what was found", c.taken)
		if c.taken == 0 && err != nil || c.taken > 0 && (err == nil || err.Error() != want) {
			t.Errorf("%+v: %v\nwant %s", c, err, want)
		}
	}
}

// A lot of a cross that failed may have seeds on record, where none was good.
func TestFailedCrossHasNoGoodSeeds(t *testing.T) {
	t.Parallel()
	for undeveloped, ok := range map[int]bool{3: true, 2: false} {
		files := lived()
		files["lots.csv"] = fmt.Sprintf("2026X002-A,2026-06-01,2026-06-20,1,3,%d,,,,,,", undeveloped)
		files["pots.csv"], files["emergence.csv"], files["seedlings.csv"], files["diary.csv"] = "", "", "", ""
		fruit := Known(2)
		err := testStore(season(files)).change(func(r *Registry) error {
			_, err := r.Correct(mustID(t, "2026X002-A"), Correction{Fruit: &fruit})
			return err
		})
		if (err == nil) != ok || err != nil && !refused(err) {
			t.Errorf("%d of 3 undeveloped: %v", undeveloped, err)
		}
	}
}

// A pot whose rows say more than its seeds allow has room for none, not for less.
func TestRoomOfAPot(t *testing.T) {
	t.Parallel()
	day := func(n int) Date { return Date{2026, 3, n} }
	for _, c := range []struct {
		seeds   Count
		counts  []Emergence
		pricked []Date
		want    int
	}{
		{Known(5), nil, nil, 5},
		{Known(5), nil, []Date{day(1), day(2)}, 3},
		{Known(1), nil, []Date{day(1), day(2)}, 0},
		{Known(9), []Emergence{{On: day(3), Up: Known(4)}}, []Date{day(1)}, 3},
		{Known(9), []Emergence{{On: day(3), Up: Known(1)}}, []Date{day(1), day(2), day(3)}, 0},
		{Known(9), []Emergence{{On: day(3), Up: Known(4), Died: Known(3)}}, nil, 1},
	} {
		if got, _ := (potLife{Pot{Seeds: c.seeds}, c.counts, c.pricked}).room(day(1)); got != c.want {
			t.Errorf("%+v: room for %d, want %d", c, got, c.want)
		}
	}
}

// A count without a day, or without a number, stays as it is among those of a pot,
// and says nothing of the others.
func TestCountsThatSayLittle(t *testing.T) {
	t.Parallel()
	day := func(n int) Date { return Date{2026, 3, n} }
	counts := []Emergence{{Up: Known(7), Died: Known(4)}, {On: day(2)}, {On: day(3), Up: Known(2)}}
	got := potLife{Pot{Seeds: Known(9)}, counts, []Date{day(1)}}.effective()
	want := []Emergence{{Up: Known(7), Died: Known(4)}, {On: day(2)}, {On: day(1), Up: Known(1)}, {On: day(3), Up: Known(2)}}
	if !slices.Equal(got, want) {
		t.Errorf("%+v\nwant %+v", got, want)
	}
}

// Labels whose sheet or cell cannot be read are not said to lie over one another.
func TestUnreadableCellsAreNotTaken(t *testing.T) {
	t.Parallel()
	for _, place := range []string{"s,one,4", "s,1,four", ",1,4"} {
		rows := ""
		for range 2 {
			rows += "3,2026-08-01,bag,2026X001-A,," + place + ",P,\n"
		}
		for _, f := range open(t, season(map[string]string{"labels.csv": rows})).Check() {
			if strings.Contains(f.What, "is taken by") {
				t.Errorf("%s: %s", place, f)
			}
		}
	}
}

// A name that another row of varieties.csv has is not taken, wherever that row is.
func TestNameOfTheFirstVariety(t *testing.T) {
	t.Parallel()
	for _, names := range [][2]string{{"Otterhay Lade", "Tarn Amber"}, {"Tarn Amber", "Otterhay Lade"}} {
		dir := newRegistry(t, map[string]string{"varieties.csv": "name,notes\n" + names[0] + ",\n" + names[1] + ",\n"})
		err := Change(dir, Options{}, func(r *Registry) error { _, err := r.RenameVariety("Otterhay Lade", "Tarn Amber"); return err })
		if err == nil || !strings.HasPrefix(err.Error(), "Otterhay Lade and Tarn Amber both have a row in varieties.csv") {
			t.Errorf("%q: %v", names, err)
		}
	}
}

// Spaces around a parent mean nothing.
func TestSpacesAroundAParent(t *testing.T) {
	t.Parallel()
	for cell, want := range map[string]string{"  Tarn Amber ": "Tarn Amber", " n/a ": ReadParent("n/a").String(), "\topen\t": ReadParent("open").String(), " mix 3 ": ReadParent("mix 3").String()} {
		if got := ReadParent(cell).String(); got != want {
			t.Errorf("%q is %q, want %q", cell, got, want)
		}
	}
}
