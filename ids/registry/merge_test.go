package registry

import (
	"errors"
	"fmt"
	"maps"
	"slices"
	"strings"
	"testing"

	"pipstake/ids"
)

// two returns a registry and its copy on a laptop, after the same commands.
func two(t *testing.T, works ...func(*Registry) error) (here, there *testDisk) {
	t.Helper()
	here = newTestDisk(emptyFiles())
	play(t, here, works...)
	return here, newTestDisk(tablesOf(t, here))
}

// then runs commands on a registry, a day later.
func then(t *testing.T, d *testDisk, command string, works ...func(*Registry) error) {
	t.Helper()
	for _, work := range works {
		s := testStore(d)
		s.opt.Command, s.opt.Now = command, s.opt.Now.AddDate(0, 0, 1)
		if err := s.change(work); err != nil {
			t.Fatal(err)
		}
	}
}

// merge merges the laptop's registry into the other.
func merge(t *testing.T, here, there *testDisk, prefer Side) (Merged, error) {
	t.Helper()
	laptop := open(t, there)
	laptop.dir = "/mnt/laptop"
	var m Merged
	s := testStore(here)
	s.opt.Command = "pipstake merge /mnt/laptop"
	err := s.change(func(r *Registry) (err error) {
		m, err = r.Merge(laptop, prefer)
		return err
	})
	return m, err
}

func cross(seed, pollen string) func(*Registry) error {
	return func(r *Registry) error {
		_, err := r.AddCross(NewCross{SeedParent: seed, PollenParent: pollen, Pollinated: Date{2026, 5, 4}})
		return err
	}
}

func extract(lot ids.ID, seeds int) func(*Registry) error {
	return func(r *Registry) error {
		_, err := r.Extract(lot, Extraction{Seeds: Known(seeds), On: Date{2026, 10, 1}, Correct: true})
		return err
	}
}

func printBags(stock string, sheet, cell int, lots ...ids.ID) func(*Registry) error {
	return func(r *Registry) error {
		var prints []Print
		for i, lot := range lots {
			prints = append(prints, Print{Face: BagFace, ID: lot, Stock: stock, Sheet: sheet, Cell: cell + i, Payload: lot.WithCheck()})
		}
		_, err := r.AddLabels(Date{2026, 8, 1}, prints)
		return err
	}
}

// What was recorded on either side is there once: rows added, cells filled in,
// corrections known by their histories; batches and sheets that mean something
// else get another number. Once more changes nothing.
func TestMergeJoins(t *testing.T) {
	a, b := firstCross.Child(1), firstCross.Child(2)
	lots := func(r *Registry) error { _, err := r.AddLots(firstCross, 2, Date{2026, 8, 1}); return err }
	here, there := two(t, cross("Larkfield Tessel", "Tarn Amber"), lots, printBags("s", 1, 1, a), extract(b, 9))
	then(t, here, "here", extract(a, 20), cross("Here", "Only"), printBags("s", 1, 2, b), extract(b, 8))
	then(t, there, "there", extract(a, 20), // the same on both sides
		func(r *Registry) error {
			_, err := r.Chill(a, Chilling{On: Date{2026, 10, 2}})
			return err
		},
		func(r *Registry) error {
			_, err := r.Sow(a, Sowing{Seeds: []int{5, 4}, On: Date{2026, 12, 1}})
			return err
		},
		printBags("s", 1, 2, a), printBags("t", 1, 1, a),
		func(r *Registry) error { _, err := r.AddEmergence(a.Child(1), Date{2027, 3, 1}, 3); return err },
		func(r *Registry) error {
			return r.AddStock(Stock{Name: "own", Kind: RollKind, Paper: "62x29", Columns: 1, Rows: 1})
		},
		func(r *Registry) error { return r.Adjust(Adjustment{Printer: "printer", Stock: "own", DX: 0.5, DY: 0}) })
	m, err := merge(t, here, there, Here)
	if err != nil {
		t.Fatal(err)
	}
	if want := []AddedRows{{"lots.csv", 0, 1}, {"pots.csv", 2, 0}, {"emergence.csv", 1, 0}, {"labels.csv", 2, 0}, {"stocks.csv", 1, 0}, {"adjustments.csv", 1, 0}, {"history.csv", 10, 0}}; !slices.Equal(m.Added, want) {
		t.Errorf("added %v\nwant %v", m.Added, want)
	}
	if want := []Difference{{"lots.csv", "2026X001-B", "seeds", 3, "8", "9", Here}}; !slices.Equal(m.Newer, want) || m.Differences != nil || m.LeftOut != nil {
		t.Errorf("newer %v\nwant %v\ndifferences %v, left out %v", m.Newer, want, m.Differences, m.LeftOut)
	}
	if want := []Renumbered{{"", 2, 4}, {"s", 1, 2}}; !slices.Equal(m.Renumbered, want) {
		t.Errorf("renumbered %v\nwant %v", m.Renumbered, want)
	}
	r := open(t, here)
	if len(r.Crosses()) != 2 || len(r.Lots()) != 2 || len(r.Pots()) != 2 || len(r.Labels()) != 4 {
		t.Errorf("%v, %v, %v, %v", r.Crosses(), r.Lots(), r.Pots(), r.Labels())
	}
	for _, f := range r.Check() { // two bag labels of one lot are in use, which is so
		if !strings.Contains(f.What, "in use already") && !strings.Contains(f.What, "stakes in use") {
			t.Errorf("%s", f)
		}
	}
	if !slices.ContainsFunc(r.History(), func(e Event) bool { return e.From == "laptop" && e.Command == "there" && e.File == "pots.csv" }) {
		t.Errorf("the history does not tell of the laptop: %v", r.History())
	}
	before := tablesOf(t, here)
	if m, err = merge(t, here, there, There); err != nil || m.Added != nil || len(m.Renumbered) != 0 {
		t.Errorf("once more: %+v, %v", m, err)
	}
	if !maps.Equal(tablesOf(t, here), before) {
		t.Error("merging once more changes the files")
	}
	_, err = merge(t, newTestDisk(before), newTestDisk(before), Here)
	if err != nil {
		t.Errorf("with itself: %v", err)
	}
}

// Where neither history tells, the side that is preferred is kept, and told.
func TestMergeDifferences(t *testing.T) {
	for _, prefer := range []Side{Here, There} {
		here, there := two(t, cross("Larkfield Tessel", "Tarn Amber"))
		edit(here, "crosses.csv", "2026-05-04,,,", "2026-05-04,12,,north")
		edit(there, "crosses.csv", "2026-05-04,,,", "2026-05-04,14,void,south")
		m, err := merge(t, here, there, prefer)
		if err != nil {
			t.Fatal(err)
		}
		want := []Difference{{"crosses.csv", "2026X001", "flowers", 2, "12", "14", prefer}, {"crosses.csv", "2026X001", "notes", 2, "north", "south", prefer}}
		if !slices.Equal(m.Differences, want) {
			t.Errorf("%v\nwant %v", m.Differences, want)
		}
		row := map[Side]string{Here: ",12,void,north", There: ",14,void,south"}[prefer]
		if text := here.now["r/crosses.csv"].data; !strings.Contains(text, row) {
			t.Errorf("crosses.csv is %q, want %q", text, row)
		}
	}
}

// edit changes a file as a spreadsheet would.
func edit(d *testDisk, file, old, new string) {
	f := d.now["r/"+file]
	f.data = strings.Replace(f.data, old, new, 1)
	d.clock++
	f.time = d.clock
}

// The same number for different things is refused with what each is, and
// nothing is changed. Void there, it is left out with all below it.
func TestMergeClash(t *testing.T) {
	second := ids.ID{Year: 2026, Cross: 2}
	lot := func(cross ids.ID, day int) func(*Registry) error {
		return func(r *Registry) error { _, err := r.AddLots(cross, 1, Date{2026, 8, day}); return err }
	}
	here, there := two(t, cross("Larkfield Tessel", "Tarn Amber"))
	then(t, here, "here", cross("A", "B"), lot(firstCross, 1))
	then(t, there, "there", cross("C", "B"), lot(second, 1), lot(firstCross, 2), printBags("s", 1, 1, second.Child(1)))
	before := tablesOf(t, here)
	_, err := merge(t, here, there, There)
	var clash *ClashError
	if !errors.As(err, &clash) {
		t.Fatalf("%v", err)
	}
	want := []Clash{
		{second, "seed parent A, pollen parent B, pollinated 2026-05-04", "seed parent C, pollen parent B, pollinated 2026-05-04", 1, second.String() + " " + second.Child(1).String()},
		{firstCross.Child(1), "issued 2026-08-01", "issued 2026-08-02", 0, firstCross.Child(1).String()},
	}
	if !slices.Equal(clash.Clashes, want) {
		t.Errorf("%v\nwant %v", clash.Clashes, want)
	}
	const says = "2026X002 is one cross here (seed parent A, pollen parent B, pollinated 2026-05-04) and another there (seed parent C, pollen parent B, pollinated 2026-05-04), and 1 more clash"
	if err.Error() != says {
		t.Errorf("%v\nwant %s", err, says)
	}
	if !maps.Equal(tablesOf(t, here), before) {
		t.Error("the registry was changed")
	}
	then(t, there, "there",
		func(r *Registry) error { return r.Void(second.Child(1), "another") },
		func(r *Registry) error { return r.Void(second, "another") },
		func(r *Registry) error { return r.Void(firstCross.Child(1), "another") })
	m, err := merge(t, here, there, There)
	if err != nil || !slices.Equal(m.LeftOut, []ids.ID{second, firstCross.Child(1)}) {
		t.Fatalf("left out %v, %v", m.LeftOut, err)
	}
	after := tablesOf(t, here)
	for name := range before {
		if name != "r/history.csv" && after[name] != before[name] {
			t.Errorf("%s was changed: %q", name, after[name])
		}
	}
}

// What was taken back here comes again where it is the same there; its number
// is never issued for something else, on either side.
func TestMergeAfterUndo(t *testing.T) {
	undo := func(r *Registry) error { _, err := r.Undo(); return err }
	here, there := two(t, cross("Larkfield Tessel", "Tarn Amber"), cross("A", "B"))
	then(t, here, "undo", undo)
	if _, err := merge(t, here, there, Here); err != nil || len(open(t, here).Crosses()) != 2 {
		t.Errorf("%v, %v", open(t, here).Crosses(), err)
	}
	here, there = two(t, cross("Larkfield Tessel", "Tarn Amber"))
	then(t, here, "here", cross("A", "B"), undo)
	then(t, there, "there", cross("C", "B"))
	_, err := merge(t, here, there, Here)
	want := "2026X002 is one cross here (taken back: seed parent A, pollen parent B, pollinated 2026-05-04) and another there (seed parent C, pollen parent B, pollinated 2026-05-04)"
	if err == nil || err.Error() != want {
		t.Errorf("%v\nwant %s", err, want)
	}
	if _, err := merge(t, there, here, Here); err != nil {
		t.Errorf("the other way: %v", err)
	}
	here, there = two(t, cross("Larkfield Tessel", "Tarn Amber"))
	then(t, there, "there", cross("A", "B"), undo)
	if _, err := merge(t, here, there, Here); err != nil {
		t.Fatal(err)
	}
	then(t, here, "here", cross("C", "D"))
	// the commands before it here had other numbers there
	here, there = two(t, cross("Larkfield Tessel", "Tarn Amber"))
	windy := func(r *Registry) error { return r.Note(firstCross, Date{2026, 5, 5}, "windy") }
	then(t, here, "here", windy, windy)
	then(t, there, "there", cross("A", "B"), undo)
	if _, err := merge(t, here, there, Here); err != nil {
		t.Fatal(err)
	}
	commands, undone := map[int]string{}, 0
	for _, e := range open(t, here).History() {
		if e.Undoes > 0 {
			undone++
			if commands[e.Undoes] != "there" {
				t.Errorf("entry %d takes back entry %d, which is that of %q", e.Entry, e.Undoes, commands[e.Undoes])
			}
		}
		commands[e.Entry] = e.Command
	}
	if undone == 0 {
		t.Error("nothing in the history is taken back")
	}
	then(t, here, "here", cross("C", "D"))
	if c := open(t, here).Crosses(); c[len(c)-1].ID.String() != "2026X003" {
		t.Errorf("%v", c)
	}
}

func TestMergeRefusesDamage(t *testing.T) {
	here, there := two(t, cross("Larkfield Tessel", "Tarn Amber"))
	edit(there, "crosses.csv", "2026-05-04", "04/05/2026")
	_, err := merge(t, here, there, Here)
	want := `/mnt/laptop/crosses.csv row 2, column pollinated: "04/05/2026" is not a date; probably 2026-05-04 or 2026-04-05; day and month cannot be told apart, so write the one that is right`
	var damage *DamageError
	if !errors.As(err, &damage) || err.Error() != want {
		t.Errorf("%v\nwant %s", err, want)
	}
	edit(there, "crosses.csv", "04/05/2026", "2026-05-04")
	there.now["r/crosses.csv"].data += "2026X001,A,B,,,,\r\n"
	if _, err = merge(t, here, there, Here); !errors.As(err, &damage) || !strings.Contains(err.Error(), "row 3, column id: \"2026X001\" stands in another row as well") {
		t.Errorf("%v", err)
	}
}

// Two laptops that each record crosses of a year of their own, lots and pots:
// merged in either order, every row of each is there once.
func TestMergeKeepsEveryRow(t *testing.T) {
	work := func(year, n int) []func(*Registry) error {
		var all []func(*Registry) error
		for i := range n {
			c := ids.ID{Year: year, Cross: i + 1}
			all = append(all, func(r *Registry) error {
				_, err := r.AddCross(NewCross{SeedParent: fmt.Sprint("S", year, i), PollenParent: "P", Year: year, Notes: "=x"})
				return err
			}, func(r *Registry) error { _, err := r.AddLots(c, 2, Date{}); return err }, extract(c.Child(1), 9),
				func(r *Registry) error {
					_, err := r.Sow(c.Child(1), Sowing{Seeds: []int{3, 3}, On: Date{year, 12, 1}})
					return err
				}, printBags("s", i+1, 1, c.Child(1), c.Child(2)))
		}
		return all
	}
	base, one := two(t, work(2026, 2)...)
	_, other := two(t, work(2026, 2)...)
	then(t, one, "one", work(2027, 3)...)
	then(t, other, "other", work(2028, 4)...)
	texts := map[string]string{}
	for _, order := range [][]*testDisk{{one, other}, {other, one}} {
		d := newTestDisk(tablesOf(t, base))
		for _, from := range order {
			if _, err := merge(t, d, from, Here); err != nil {
				t.Fatal(err)
			}
		}
		r := open(t, d)
		if len(r.Crosses()) != 9 || len(r.Lots()) != 18 || len(r.Pots()) != 18 || len(r.Labels()) != 18 || len(r.Damage()) > 0 {
			t.Fatalf("%d crosses, %d lots, %d pots, %d labels, %v", len(r.Crosses()), len(r.Lots()), len(r.Pots()), len(r.Labels()), r.Damage())
		}
		for _, from := range order {
			for _, c := range open(t, from).Crosses() {
				if got, ok := r.Cross(c.ID); !ok || got != c {
					t.Errorf("%v became %v", c, got)
				}
			}
		}
		for _, f := range r.Check() {
			if strings.Contains(f.What, "taken by batch") || strings.Contains(f.What, "missing") {
				t.Errorf("%s", f)
			}
		}
		lines := strings.Split(d.now["r/crosses.csv"].data, "\r\n")
		slices.Sort(lines)
		texts[strings.Join(lines, "\n")] = ""
	}
	if len(texts) != 1 {
		t.Error("the order of merging makes a difference to the crosses")
	}
}

// Labels that came off the printer together there do so here, whatever numbers
// their batch and their sheet get.
func TestMergeKeepsPrintingsTogether(t *testing.T) {
	var lots []ids.ID
	for n := range 4 {
		lots = append(lots, firstCross.Child(n+1))
	}
	here, there := two(t, cross("Larkfield Tessel", "Tarn Amber"), func(r *Registry) error { _, err := r.AddLots(firstCross, 4, Date{2026, 8, 1}); return err })
	then(t, here, "here", printBags("s", 1, 1, lots...), printBags("s", 2, 1, lots[0]))
	then(t, there, "there", printBags("s", 1, 3, lots[0], lots[1], lots[2]), printBags("s", 1, 6, lots[1], lots[2]), printBags("s", 3, 1, lots...))
	m, err := merge(t, here, there, Here)
	if err != nil {
		t.Fatal(err)
	}
	if want := []Renumbered{{"", 1, 4}, {"s", 1, 4}, {"", 2, 5}}; !slices.Equal(m.Renumbered, want) {
		t.Errorf("renumbered %v, want %v", m.Renumbered, want)
	}
	var got []string
	for _, l := range open(t, here).Labels()[5:] {
		got = append(got, fmt.Sprintf("batch %d, sheet %d, cell %d: %s", l.Batch, l.Sheet, l.Cell, l.ID))
	}
	want := "batch 4, sheet 4, cell 3: 2026X001-A\nbatch 4, sheet 4, cell 4: 2026X001-B\nbatch 4, sheet 4, cell 5: 2026X001-C\n" +
		"batch 5, sheet 4, cell 6: 2026X001-B\nbatch 5, sheet 4, cell 7: 2026X001-C\n" +
		"batch 3, sheet 3, cell 1: 2026X001-A\nbatch 3, sheet 3, cell 2: 2026X001-B\nbatch 3, sheet 3, cell 3: 2026X001-C\nbatch 3, sheet 3, cell 4: 2026X001-D"
	if strings.Join(got, "\n") != want {
		t.Errorf("%s\nwant\n%s", strings.Join(got, "\n"), want)
	}
}
