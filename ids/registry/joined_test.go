package registry

import (
	"slices"
	"strings"
	"testing"
)

// Registries without a history, as the first ones are, are merged by their rows: a
// copy brings nothing that is there already.
func TestMergeWithACopyWithoutHistory(t *testing.T) {
	t.Parallel()
	for _, files := range []map[string]string{cleanSeason(), lived()} {
		here := season(files)
		before := tablesOf(t, here)
		m, err := merge(t, here, season(files), There)
		if err != nil || m.Added != nil || m.Newer != nil || m.Differences != nil || m.LeftOut != nil || m.Renumbered != nil {
			t.Errorf("%+v, %v", m, err)
		}
		for name, text := range tablesOf(t, here) {
			if text != before[name] {
				t.Errorf("%s changed", name)
			}
		}
	}
}

// What a table holds comes over, whichever table it is.
func TestMergeTakesInEveryTable(t *testing.T) {
	t.Parallel()
	files := lived()
	files["varieties.csv"] = "name,notes\nAnn,early\n"
	files["stocks.csv"] = "name,kind,paper,columns,rows,label_width,label_height,left,top,pitch_x,pitch_y,turned,notes\nown,roll,62x29,1,1,62,29,0,0,62,29,,\n"
	files["adjustments.csv"] = "printer,stock,dx,dy,notes\noffice,own,0.5,0,\n"
	files["labels.csv"] = someLabels
	there := season(files)
	for _, name := range []string{"varieties.csv", "stocks.csv", "adjustments.csv"} {
		there.now["r/"+name].data = files[name]
	}
	here := newTestDisk(emptyFiles())
	if _, err := merge(t, here, there, Here); err != nil {
		t.Fatal(err)
	}
	if got, want := contents(open(t, here)), contents(open(t, there)); got != want {
		t.Errorf("here are\n%s\nand there\n%s", got, want)
	}
}

// Where two sides say different things of a variety, a count or a label, the later
// one is kept where a history tells, and else the one preferred; both are told.
func TestMergeTellsOfEveryTable(t *testing.T) {
	t.Parallel()
	pot := firstLot.Child(1)
	count := func(up int) func(*Registry) error {
		return func(r *Registry) error {
			n := Known(up)
			_, err := r.CorrectCount(pot, Date{2027, 3, 1}, CountCorrection{Up: &n})
			return err
		}
	}
	base := func() (here, there *testDisk) {
		return two(t, cross("Larkfield Tessel", "Tarn Amber"), func(r *Registry) error { _, err := r.AddLots(firstCross, 1, Date{2026, 8, 1}); return err },
			extract(firstLot, 9), func(r *Registry) error {
				_, err := r.Sow(firstLot, Sowing{Seeds: []int{5}, On: Date{2026, 12, 1}})
				return err
			}, func(r *Registry) error { _, err := r.AddEmergence(pot, Date{2027, 3, 1}, 3); return err },
			func(r *Registry) error {
				_, err := r.SetVariety(Variety{Name: "Tarn Amber", Ploidy: 2}, false)
				return err
			})
	}
	for _, prefer := range []Side{Here, There} {
		here, there := base()
		then(t, there, "there", count(4), func(r *Registry) error {
			_, err := r.SetVariety(Variety{Name: "Tarn Amber", Ploidy: 3}, true)
			return err
		})
		m, err := merge(t, here, there, prefer)
		newer := []Difference{{"emergence.csv", "2026X001-A1", "up", 2, "3", "4", There}, {"varieties.csv", "Tarn Amber", "ploidy", 2, "2", "3", There}}
		if err != nil || !slices.Equal(m.Newer, newer) || m.Differences != nil {
			t.Errorf("%+v, %v\nwant %v", m, err, newer)
		}
		r := open(t, here)
		if v, _ := r.Variety("Tarn Amber"); v.Ploidy != 3 || r.EmergenceOf(pot)[0].Up != Known(4) {
			t.Errorf("%+v, %+v", v, r.EmergenceOf(pot))
		}

		here, there = base()
		edit(here, "varieties.csv", ",2", ",4")
		edit(there, "varieties.csv", ",2", ",3")
		then(t, here, "here", dropCount(pot, Date{2027, 3, 1}), func(r *Registry) error { _, err := r.AddEmergence(pot, Date{2027, 3, 1}, 5); return err })
		m, err = merge(t, here, there, prefer)
		want := []Difference{{"emergence.csv", "2026X001-A1", "up", 2, "5", "3", prefer}, {"varieties.csv", "Tarn Amber", "ploidy", 2, "4", "3", prefer}}
		if err != nil || !slices.Equal(m.Differences, want) || m.Newer != nil {
			t.Errorf("%+v, %v\nwant %v", m, err, want)
		}
		up, ploidy := 5, 4
		if prefer == There {
			up, ploidy = 3, 3
		}
		r = open(t, here)
		if v, _ := r.Variety("Tarn Amber"); v.Ploidy != ploidy || r.EmergenceOf(pot)[0].Up != Known(up) {
			t.Errorf("%+v, %+v", v, r.EmergenceOf(pot))
		}
	}
}

// A label that came by a merge and whose row was deleted by hand comes again, and
// changes no other.
func TestMergedLabelDeletedByHand(t *testing.T) {
	t.Parallel()
	lots := func(r *Registry) error { _, err := r.AddLots(firstCross, 2, Date{2026, 8, 1}); return err }
	here, there := two(t, cross("Larkfield Tessel", "Tarn Amber"), lots)
	second := firstCross.Child(2)
	then(t, here, "here", printBags("s", 1, 1, firstLot))
	then(t, there, "there", printBags("s", 1, 1, second))
	if _, err := merge(t, here, there, Here); err != nil {
		t.Fatal(err)
	}
	f := here.now["r/labels.csv"]
	lines := strings.SplitAfter(f.data, "\r\n")
	f.data = strings.Join(lines[:len(lines)-2], "") // the last is empty
	if _, err := merge(t, here, there, Here); err != nil {
		t.Fatal(err)
	}
	labels := open(t, here).Labels()
	if len(labels) != 2 || labels[0].ID != firstLot || labels[1].ID != second || labels[1].Sheet != 2 {
		t.Errorf("%+v", labels)
	}
}

// A row that is changed and dropped in one command is gone; where it was the last,
// without a line end, what comes after it stands on a line of its own.
func TestChangedDroppedAndFollowed(t *testing.T) {
	t.Parallel()
	for _, end := range []string{"\r\n", ""} {
		d := season(nil)
		f := d.now["r/emergence.csv"]
		f.data = strings.TrimSuffix(f.data, "\r\n") + end
		header, rest, _ := strings.Cut(f.data, "\r\n")
		first, _, _ := strings.Cut(rest, "\r\n")
		pot, four := mustID(t, "2025X007-A1"), Known(4)
		err := testStore(d).change(func(r *Registry) error {
			if _, err := r.CorrectCount(pot, Date{2026, 3, 1}, CountCorrection{Up: &four}); err != nil {
				return err
			}
			if err := dropCount(pot, Date{2026, 3, 1})(r); err != nil {
				return err
			}
			_, err := r.AddEmergence(pot, Date{2026, 3, 9}, 6)
			return err
		})
		if want := header + "\r\n" + first + "\r\n2025X007-A1,2026-03-09,6,\r\n"; err != nil || d.now["r/emergence.csv"].data != want {
			t.Errorf("%q, %v\nwant %q", d.now["r/emergence.csv"].data, err, want)
		}
	}
}

// A file that was cut off within its last line end loses a row as any other does.
func TestUndoInAFileCutOff(t *testing.T) {
	t.Parallel()
	d := newTestDisk(emptyFiles())
	play(t, d, aSeason()[0], aSeason()[1])
	f := d.now["r/lots.csv"]
	header, _, _ := strings.Cut(f.data, "\r\n")
	f.data = strings.TrimSuffix(f.data, "\n")
	if err := testStore(d).change(undo); err != nil {
		t.Fatal(err)
	}
	if got := d.now["r/lots.csv"].data; got != header {
		t.Errorf("lots.csv is %q, want %q", got, header)
	}
}
