package registry

import (
	"errors"
	"maps"
	"slices"
	"strings"
	"testing"

	"pipstake/ids"
)

// play runs commands one after the other, and returns the files after each.
func play(t *testing.T, d *testDisk, works ...func(*Registry) error) []map[string]string {
	t.Helper()
	states := []map[string]string{tablesOf(t, d)}
	for i, work := range works {
		s := testStore(d)
		s.opt.Command = "pipstake step" + strings.Repeat("+", i)
		if err := s.change(work); err != nil {
			t.Fatalf("step %d: %v", i, err)
		}
		states = append(states, tablesOf(t, d))
	}
	return states
}

var (
	firstCross = ids.ID{Year: 2026, Cross: 1}
	firstLot   = firstCross.Child(1)
)

// aSeason is one command after the other, none of which prints.
func aSeason() []func(*Registry) error {
	return []func(*Registry) error{
		func(r *Registry) error {
			_, err := r.AddCross(NewCross{SeedParent: "Larkfield Tessel", PollenParent: `5" pot, "north"`, Pollinated: Date{2026, 5, 4}, Notes: "=1+1"})
			return err
		},
		func(r *Registry) error { _, err := r.AddLots(firstCross, 2, Date{2026, 8, 1}); return err },
		func(r *Registry) error {
			_, err := r.Extract(firstLot, Extraction{Seeds: Known(9), On: Date{2026, 10, 1}})
			return err
		},
		func(r *Registry) error {
			_, err := r.Extract(firstLot, Extraction{Seeds: Known(8), Fruit: Known(2), Correct: true})
			return err
		},
		func(r *Registry) error {
			_, err := r.Sow(firstLot, Sowing{Seeds: []int{5, 2}, On: Date{2026, 10, 2}, Place: "-2 °C frost"})
			return err
		},
		func(r *Registry) error { _, err := r.AddEmergence(firstLot.Child(1), Date{2026, 11, 2}, 3); return err },
		func(r *Registry) error {
			_, err := r.CountPot(Emergence{Pot: firstLot.Child(2), On: Date{2026, 11, 2}, Up: Known(2), Died: Known(1)})
			return err
		},
		func(r *Registry) error { return r.Note(firstLot.Child(2), Date{2026, 11, 3}, "=weak, \"leggy\"") },
		func(r *Registry) error {
			up := Known(4)
			_, err := r.CorrectCount(firstLot.Child(1), Date{2026, 11, 2}, CountCorrection{Up: &up})
			return err
		},
		func(r *Registry) error { _, err := r.AddSeedlings(firstLot.Child(1), 2, Date{2026, 11, 4}); return err },
		func(r *Registry) error {
			_, err := r.Plant(firstLot.Child(1).Child(1), "row 3", Date{2026, 11, 5})
			return err
		},
		func(r *Registry) error {
			_, err := r.End(Ending{ID: firstLot.Child(2), How: Lost, On: Date{2026, 11, 6}, Note: "mice"})
			return err
		},
		func(r *Registry) error { _, err := r.GrowsOn(firstLot.Child(2)); return err },
		func(r *Registry) error { return r.Void(firstCross.Child(2), "hail") },
		func(r *Registry) error {
			return r.AddStock(Stock{Name: "own", Kind: RollKind, Paper: "62x29", Columns: 1, Rows: 1})
		},
		func(r *Registry) error {
			return r.Adjust(Adjustment{Printer: "printer", Stock: "own", DX: 0.5, DY: -0.25})
		},
		func(r *Registry) error { return r.Adjust(Adjustment{Printer: "printer", Stock: "own", DX: 1, DY: 0}) },
	}
}

// Undo goes back command by command to the files as they were, byte for byte,
// whatever style they are in; the numbers that were issued stay spent. Columns
// that were added stay, with empty cells in the rows that used them.
func TestUndoGoesBackByteForByte(t *testing.T) {
	for _, s := range []style{
		{delimiter: ",", bom: bom, lineEnd: "\r\n"},
		{delimiter: ";", lineEnd: "\n", quoted: true, sep: "sep=;"},
		{delimiter: "\t", lineEnd: "\n", unended: true},
		{delimiter: ",", lineEnd: "\r", unended: true},
	} {
		files := map[string]string{}
		for _, table := range newTables().tables() {
			header := strings.Split(strings.TrimSuffix(strings.TrimPrefix(table.blankFile(), bom), "\r\n"), ",")
			files["r/"+table.fileName()] = s.write([][]string{header})
		}
		d := newTestDisk(files)
		states := play(t, d, aSeason()...)
		for i := len(states) - 2; i >= 0; i-- {
			err := testStore(d).change(func(r *Registry) error { _, err := r.Undo(); return err })
			if err != nil {
				t.Fatalf("%+v, step %d: %v", s, i, err)
			}
			got := tablesOf(t, d)
			for name, want := range states[i] {
				want = withHeader(want, states[len(states)-1][name], s)
				if name != "r/history.csv" && got[name] != want && shortRows(got[name], s) != shortRows(want, s) {
					t.Fatalf("%+v, step %d: %s is\n%q\nwant\n%q", s, i, name, got[name], want)
				}
			}
		}
		err := testStore(d).change(func(r *Registry) error { _, err := r.Undo(); return err })
		want := "there is no command to take back in history.csv; what was changed by hand is mended by hand"
		if err == nil || err.Error() != want {
			t.Errorf("%v\nwant %s", err, want)
		}
		states = play(t, d, aSeason()[0], func(r *Registry) error {
			if found := r.Check(); len(found) > 0 {
				t.Errorf("%v", found)
			}
			if !r.Spent(firstCross) || !r.Spent(firstLot) || r.Spent(ids.ID{Year: 2026, Cross: 2}) {
				t.Error("the history does not know which numbers are spent")
			}
			_, err := r.AddLots(ids.ID{Year: 2026, Cross: 2}, 1, Date{})
			return err
		})
		if last := states[len(states)-1]["r/lots.csv"]; !strings.Contains(last, "2026X002-A") {
			t.Errorf("lots.csv is %q", last)
		}
	}
}

// withHeader is a file's text with the header of a later state of the file.
func withHeader(text, later string, s style) string {
	line := 0
	if s.sep != "" {
		line = 1
	}
	was, is := strings.Split(text, s.lineEnd), strings.Split(later, s.lineEnd)
	if strings.HasPrefix(is[line], strings.TrimSuffix(was[line], "\r")+s.delimiter) {
		was[line] = is[line] // both end as the file's lines do
	}
	return strings.Join(was, s.lineEnd)
}

// shortRows leaves the empty cells at the ends of rows out.
func shortRows(text string, s style) string {
	rows := strings.Split(text, s.lineEnd)
	for i, row := range rows {
		end := row[len(strings.TrimSuffix(row, "\r")):]
		row = strings.TrimSuffix(row, "\r")
		for short := ""; short != row; {
			short = row
			row = strings.TrimSuffix(strings.TrimSuffix(row, s.delimiter+`""`), s.delimiter)
		}
		rows[i] = row + end
	}
	return strings.TrimSuffix(strings.Join(rows, s.lineEnd), "\r")
}

// The history says when, by which command, what was and what is.
func TestHistoryRows(t *testing.T) {
	d := newTestDisk(emptyFiles())
	play(t, d, append(aSeason()[:4], func(r *Registry) error { _, err := r.Undo(); return err })...)
	want := `entry,when,command,undoes,from,file,row,key,column,before,after
1,2026-11-14T09:30:00Z,pipstake step,,,crosses.csv,2,2026X001,,,"id=2026X001,seed_parent=Larkfield Tessel,""pollen_parent=5"""" pot, """"north"""""",pollinated=2026-05-04,notes='=1+1"
2,2026-11-14T09:30:00Z,pipstake step+,,,lots.csv,2,2026X001-A,,,"id=2026X001-A,issued=2026-08-01"
2,2026-11-14T09:30:00Z,pipstake step+,,,lots.csv,3,2026X001-B,,,"id=2026X001-B,issued=2026-08-01"
3,2026-11-14T09:30:00Z,pipstake step++,,,lots.csv,2,2026X001-A,extracted,,2026-10-01
3,2026-11-14T09:30:00Z,pipstake step++,,,lots.csv,2,2026X001-A,seeds,,9
4,2026-11-14T09:30:00Z,pipstake step+++,,,lots.csv,2,2026X001-A,fruit,,2
4,2026-11-14T09:30:00Z,pipstake step+++,,,lots.csv,2,2026X001-A,seeds,9,8
5,2026-11-14T09:30:00Z,pipstake step++++,4,,lots.csv,2,2026X001-A,fruit,2,
5,2026-11-14T09:30:00Z,pipstake step++++,4,,lots.csv,2,2026X001-A,seeds,8,9
`
	got := strings.ReplaceAll(strings.TrimPrefix(d.now["r/history.csv"].data, bom), "\r\n", "\n")
	if got != want {
		t.Errorf("history.csv is\n%s\nwant\n%s", got, want)
	}
}

// A command that changes nothing, or has no command line, leaves no trace.
func TestHistoryOfNothing(t *testing.T) {
	d := newTestDisk(emptyFiles())
	play(t, d, nothing)
	s := testStore(d)
	s.opt = Options{}
	if err := s.change(saveSeason); err != nil {
		t.Fatal(err)
	}
	if got := d.now["r/history.csv"].data; got != newHistory().blankFile() {
		t.Errorf("history.csv is %q", got)
	}
}

func TestUndoRefuses(t *testing.T) {
	edit := func(file, old, new string) func(*testDisk) {
		return func(d *testDisk) {
			f := d.now["r/"+file]
			f.data = strings.Replace(f.data, old, new, 1)
			d.clock++
			f.time = d.clock
		}
	}
	for _, c := range []struct {
		name  string
		steps int
		then  func(*testDisk)
		want  string
	}{
		{"a row edited since", 1, edit("crosses.csv", "Tessel", "Overmoor"),
			`the row of 2026X001 in crosses.csv is no longer as "pipstake step" wrote it; it was changed by hand since, so take it back by hand`},
		{"a cell edited since", 3, edit("lots.csv", ",9,", ",11,"),
			`the cell seeds of 2026X001-A in lots.csv no longer holds "9", which "pipstake step++" wrote; it was changed by hand since, so take it back by hand`},
		{"a row moved is found", 3, edit("lots.csv", "2026X001-A,", "\r\n2026X001-A,"), ""},
		{"of two rows alike neither is taken for it", 3, edit("lots.csv", "2026X001-A,", "2026X001-C,,,,,,,,\r\n2026X001-A,,,,9,,,,\r\n2026X001-A,"),
			`the cell seeds of 2026X001-A in lots.csv no longer holds "9", which "pipstake step++" wrote; it was changed by hand since, so take it back by hand`},
		{"of the first two rows neither", 3, edit("lots.csv", "2026X001-A,", "\r\n2026X001-A,,,,9,,,,\r\n2026X001-A,"),
			`the cell seeds of 2026X001-A in lots.csv no longer holds "9", which "pipstake step++" wrote; it was changed by hand since, so take it back by hand`},
		{"a row by hand depends on it", 1, func(d *testDisk) { d.now["r/lots.csv"].data += "2026X001-A,,,,,,,,\r\n" },
			`2026X001, which "pipstake step" issued, is named in lots.csv row 2; take that row back first`},
		{"a foreign file", 1, edit("history.csv", "crosses.csv", "../x.csv"),
			`history.csv tells of a file "../x.csv", which is none of the registry's; mend that row, or take the change back by hand`},
		{"its own file", 1, edit("history.csv", "crosses.csv", "history.csv"),
			`history.csv tells of a file "history.csv", which is none of the registry's; mend that row, or take the change back by hand`},
		{"a foreign column", 3, edit("history.csv", "extracted", "colour"),
			`the cell colour of 2026X001-A in lots.csv no longer holds "2026-10-01", which "pipstake step++" wrote; it was changed by hand since, so take it back by hand`},
	} {
		d := newTestDisk(emptyFiles())
		play(t, d, aSeason()[:c.steps]...)
		c.then(d)
		before := tablesOf(t, d)
		err := testStore(d).change(func(r *Registry) error { _, err := r.Undo(); return err })
		if c.want == "" {
			if err != nil {
				t.Errorf("%s: %v", c.name, err)
			}
			continue
		}
		var refusal *Refusal
		if !errors.As(err, &refusal) || err.Error() != c.want {
			t.Errorf("%s: %v\nwant %s", c.name, err, c.want)
		}
		if !maps.Equal(tablesOf(t, d), before) {
			t.Errorf("%s: the files were changed", c.name)
		}
	}
}

// What was printed is not taken back; spoiling the labels is, being the last.
func TestUndoRefusesWhatWasPrinted(t *testing.T) {
	d := newTestDisk(emptyFiles())
	play(t, d, saveSeason)
	undo := func(r *Registry) error { _, err := r.Undo(); return err }
	want := `"pipstake test" printed labels, as batch 1: 2026X001-A1; destroy them and say so with: {spoil: 1}; then take back what they were for, if it should never have been, with: {void: 2026X001 2026X001-A..B 2026X001-A1..2}`
	for range 2 {
		s := testStore(d)
		err := s.change(undo)
		if err == nil || err.Error() != strings.Replace(want, "test", "step", 1) {
			t.Fatalf("%v\nwant %s", err, want)
		}
		err = s.change(func(r *Registry) error {
			if r.RetireLabels(func(Label) bool { return true }, Spoilt) != 1 {
				t.Error("the label is not in use")
			}
			return nil
		})
		if err != nil {
			t.Fatal(err)
		}
		if err := s.change(undo); err != nil {
			t.Fatal(err)
		}
	}
	r, err := testStore(d).load(mustRead(t, d))
	if err != nil {
		t.Fatal(err)
	}
	if l := r.Labels(); len(l) != 1 || l[0].State != LabelLive {
		t.Errorf("%v", l)
	}
	if events := r.HistoryOf(firstLot); len(events) == 0 || slices.ContainsFunc(events, func(e Event) bool { return e.File == crossesFile }) {
		t.Errorf("%v", events)
	}
}

func mustRead(t *testing.T, d *testDisk) []fileState {
	t.Helper()
	states, err := testStore(d).read()
	if err != nil {
		t.Fatal(err)
	}
	return states
}
