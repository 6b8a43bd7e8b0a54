package registry

import (
	"strings"
	"testing"
)

func TestCountPotWithDeaths(t *testing.T) {
	count := func(on string, up, died int) func(*testing.T, *Registry) error {
		return func(t *testing.T, r *Registry) error {
			_, err := r.CountPot(Emergence{Pot: mustID(t, "2025X007-A1"), On: mustDate(t, on), Up: Known(up), Died: Known(died)})
			return err
		}
	}
	run(t, []request{
		{"one died", count("2026-03-10", 9, 1), "emergence.csv", "\ufeffpot,on,up,notes,died\n2025X007-A1,2026-03-10,9,,1"},
		{"none died", count("2026-03-10", 9, 0), "emergence.csv", "\ufeffpot,on,up,notes,died\n2025X007-A1,2026-03-10,9,,0"},
		{"more than came up", count("2026-03-10", 7, 8), "", "8 died of 7 that came up; give all that have come up, those that died since among them"},
		{"negative", count("2026-03-10", 7, -1), "", "-1 is no count of dead seedlings; give the number that died"},
	})
	r := open(t, season(map[string]string{"emergence.csv": "2025X007-A1,2026-03-01,5,2,"}))
	_, err := r.CountPot(Emergence{Pot: mustID(t, "2025X007-A1"), On: mustDate(t, "2026-03-10"), Up: Known(6), Died: Known(1)})
	if want := "1 died by 2026-03-10 does not go with 2 by 2026-03-01; give all that had died by then"; err == nil || err.Error() != want {
		t.Errorf("the dead came to life: %v", err)
	}
}

// A file from before deaths were recorded keeps its columns, until one is.
func TestColumnThatOlderFilesLack(t *testing.T) {
	const old = "\ufeffnotes,\"up\",on,pot\r\nwet,5,2026-03-01,2025X007-A1\r\n"
	d := season(nil)
	d.now["r/emergence.csv"].data = old
	for _, step := range []struct {
		count Emergence
		want  string
	}{
		{Emergence{On: Date{2026, 3, 10}, Up: Known(7)}, old + ",7,2026-03-10,2025X007-A1\r\n"},
		{Emergence{On: Date{2026, 3, 12}, Up: Known(8), Died: Known(2)},
			strings.Replace(old, ",pot", ",pot,died", 1) + ",7,2026-03-10,2025X007-A1\r\n,8,2026-03-12,2025X007-A1,2\r\n"},
		{Emergence{On: Date{2026, 3, 14}, Up: Known(8)},
			strings.Replace(old, ",pot", ",pot,died", 1) + ",7,2026-03-10,2025X007-A1\r\n,8,2026-03-12,2025X007-A1,2\r\n,8,2026-03-14,2025X007-A1,\r\n"},
	} {
		step.count.Pot = mustID(t, "2025X007-A1")
		err := testStore(d).change(func(r *Registry) error { _, err := r.CountPot(step.count); return err })
		if err != nil {
			t.Fatal(err)
		}
		if got := d.now["r/emergence.csv"].data; got != step.want {
			t.Errorf("after %v:\n%q\nwant\n%q", step.count, got, step.want)
		}
	}
	counts := open(t, d).EmergenceOf(mustID(t, "2025X007-A1"))
	if len(counts) != 4 || counts[0].Died.Known || counts[2].Died != Known(2) {
		t.Errorf("read back: %v", counts)
	}
}

// What stands beyond the columns of an older file is not taken for a late one.
func TestLateColumnIsNotGuessed(t *testing.T) {
	d := season(nil)
	d.now["r/emergence.csv"].data = "pot,on,up,notes\n2025X007-A1,2026-03-01,5,,3\n"
	r := open(t, d)
	if e := r.Emergences()[0]; e.Died.Known {
		t.Errorf("%v", e)
	}
	var whats []string
	for _, f := range r.Damage() {
		if f.File == "emergence.csv" {
			whats = append(whats, f.What)
		}
	}
	if len(whats) != 1 || whats[0] != "stands beyond the last column" {
		t.Errorf("%q", whats)
	}
}

func TestCheckFindsDeathsThatContradict(t *testing.T) {
	r := open(t, season(map[string]string{"emergence.csv": "2025X007-A1,2026-03-01,5,6,\n2025X007-A1,2026-03-08,6,2,"}))
	var found []string
	for _, f := range r.Check() {
		if f.File == "emergence.csv" {
			found = append(found, f.String())
		}
	}
	want := []string{
		`emergence.csv row 2, column died: "6" is more than the 5 that had come up; correct one of the two`,
		`emergence.csv row 3, column died: "2" by 2026-03-08 does not go with 6 by 2026-03-01 in row 2; correct one of the two: each is of all that had died by then`,
	}
	if strings.Join(found, "\n") != strings.Join(want, "\n") {
		t.Errorf("found\n%s\nwant\n%s", strings.Join(found, "\n"), strings.Join(want, "\n"))
	}
}
