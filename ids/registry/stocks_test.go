package registry

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"
)

var ownStock = Stock{Name: "a4-4x12-45.7x21.2", Kind: DieCutKind, Paper: "a4", Columns: 4, Rows: 12, LabelWidth: 45.7, LabelHeight: 21.2,
	Left: 9.85, Top: 21.25, PitchX: 48.2, PitchY: 21.2, Notes: "bought in spring"}

// A registry has no files of its own stocks and adjustments until the first is
// recorded; from then on it has, and the others stay as they were.
func TestStocksAndAdjustmentsAreKept(t *testing.T) {
	dir := newRegistry(t, nil)
	before := readFile(t, dir, "crosses.csv")
	for _, name := range []string{"stocks.csv", "adjustments.csv"} {
		if _, err := os.Stat(filepath.Join(dir, name)); err == nil {
			t.Errorf("a new registry has %s", name)
		}
	}
	change := func(work func(r *Registry) error) {
		t.Helper()
		if err := Change(dir, Options{}, work); err != nil {
			t.Fatal(err)
		}
	}
	change(func(r *Registry) error { return r.AddStock(ownStock) })
	if _, err := os.Stat(filepath.Join(dir, "adjustments.csv")); err == nil {
		t.Error("adjustments.csv was made without a row")
	}
	change(func(r *Registry) error {
		return errors.Join(r.Adjust(Adjustment{Printer: "office", Stock: ownStock.Name, DX: 0.5, DY: -0.25}), r.Adjust(Adjustment{Printer: "barn", Stock: ownStock.Name, DX: 1, DY: 0}))
	})
	change(func(r *Registry) error {
		return r.Adjust(Adjustment{Printer: "office", Stock: ownStock.Name, DX: -0.3, DY: -0.25})
	})

	// The columns are part of the file format, so they stand here once more.
	for name, want := range map[string]string{
		"stocks.csv": "name,kind,paper,columns,rows,label_width,label_height,left,top,pitch_x,pitch_y,turned,notes,clear\r\n" +
			"a4-4x12-45.7x21.2,die-cut,a4,4,12,45.7,21.2,9.85,21.25,48.2,21.2,,bought in spring,\r\n",
		"adjustments.csv": "printer,stock,dx,dy,back_dx,back_dy,margin\r\noffice,a4-4x12-45.7x21.2,-0.3,-0.25,,,\r\nbarn,a4-4x12-45.7x21.2,1,0,,,\r\n",
	} {
		if got := readFile(t, dir, name); got != "\ufeff"+want {
			t.Errorf("%s is %q, want %q", name, got, want)
		}
	}
	if got := readFile(t, dir, "crosses.csv"); got != before {
		t.Errorf("crosses.csv is now %q", got)
	}
	r, err := Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	if got, ok, err := r.Stock("A4-4X12-45.7x21.2"); !ok || err != nil || got != ownStock || !reflect.DeepEqual(r.Stocks(), []Stock{ownStock}) {
		t.Errorf("%+v, %v, %v; %+v", got, ok, err, r.Stocks())
	}
	if got, err := r.Adjustment("Office", ownStock.Name); err != nil || got.DX != -0.3 || got.DY != -0.25 {
		t.Errorf("%+v, %v", got, err)
	}
	if got, err := r.Adjustment("office", "a4-3x8-70x37"); err != nil || got.DX != 0 || got.DY != 0 {
		t.Errorf("%+v, %v", got, err)
	}
	if len(r.Adjustments()) != 2 || len(r.Check()) > 0 {
		t.Errorf("%+v, %v", r.Adjustments(), r.Check())
	}
	var refusal *Refusal
	if err := r.AddStock(ownStock); !errors.As(err, &refusal) {
		t.Errorf("a second stock of the name: %v", err)
	}
}

func TestStocksEditedByHand(t *testing.T) {
	const header = "name;kind;paper;columns;rows;label_width;label_height;left;top;pitch_x;pitch_y;turned;notes\r\n"
	r, err := Open(newRegistry(t, map[string]string{
		// A spreadsheet wrote decimal commas, and a date in place of a measure.
		"stocks.csv": header + "own;die-cut;a4;2;5;99,1;57;4,65;6;101,6;57;;\r\n" +
			"other;die-cut;a4;2;5;99,1;57;05. Apr;6;101,6;57;;\r\n" +
			"Own;sheet;a4;2;5;99.1;57;4.65;6;101.6;57;;\r\n",
		"adjustments.csv": "printer,stock,dx,dy\nbarn,own,0.5 mm,0\nbarn,other,-1,\n",
	}))
	if err != nil {
		t.Fatal(err)
	}
	if s, ok, err := r.Stock("own"); !ok || err != nil || s.LabelWidth != 99.1 || s.Left != 4.65 || s.PitchX != 101.6 {
		t.Errorf("%+v, %v, %v", s, ok, err)
	}
	var damage *DamageError
	if _, _, err := r.Stock("other"); !errors.As(err, &damage) {
		t.Errorf("a stock with a damaged cell: %v", err)
	}
	if _, err := r.Adjustment("barn", "own"); !errors.As(err, &damage) {
		t.Errorf("an adjustment with a damaged cell: %v", err)
	}
	if err := r.Adjust(Adjustment{Printer: "barn", Stock: "own", DX: 1, DY: 1}); !errors.As(err, &damage) {
		t.Errorf("a damaged adjustment was replaced: %v", err)
	}
	var got []string
	for _, f := range r.Check() {
		got = append(got, f.String())
	}
	want := []string{
		`stocks.csv row 3, column left: "05. Apr" is not a measure in millimetres; write digits, with a decimal point where needed`,
		`stocks.csv row 4, column kind: "sheet" is none of the words for kind; write die-cut, roll`,
		`stocks.csv row 4, column name: "Own" stands in row 2 already, which is the one used; delete one of the two rows`,
		`adjustments.csv row 2, column dx: "0.5 mm" is not a measure in millimetres; write digits, with a decimal point where needed`,
		`adjustments.csv row 3, column dy: the measure is missing; write it in, in millimetres`,
	}
	if strings.Join(got, "\n") != strings.Join(want, "\n") {
		t.Errorf("found\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
}

// A stock and the printing on it are saved together: after a stop at any
// operation both are there or neither.
func TestStockIsSavedWholeOrNotAtAll(t *testing.T) {
	work := func(r *Registry) error {
		if err := r.AddStock(ownStock); err != nil {
			return err
		}
		_, err := r.AddCross(NewCross{SeedParent: "Larkfield Tessel", PollenParent: "Tarn Amber", Pollinated: Date{2026, 5, 4}})
		return err
	}
	files := emptyFiles()
	delete(files, "r/stocks.csv")
	delete(files, "r/adjustments.csv")
	newStore := func(d *testDisk) store {
		seen := registryDisk().(optionalFiles)
		return store{disk: optionalFiles{d, seen.blank}, dir: "r", names: fileNames()}
	}
	d := newTestDisk(files)
	if err := newStore(d).change(work); err != nil {
		t.Fatal(err)
	}
	for stopped := 1; stopped <= d.ops; stopped++ {
		d := newTestDisk(files)
		d.failAt, d.stop = stopped, true
		_ = newStore(d).change(work) // stopped on its way
		after := newTestDisk(map[string]string{})
		for path, f := range d.now {
			after.now[path] = f
		}
		states, err := newStore(after).read()
		if err != nil {
			t.Fatalf("stopped at %d: %v", stopped, err)
		}
		r, err := newStore(after).load(states)
		if err != nil {
			t.Fatalf("stopped at %d: %v", stopped, err)
		}
		if len(r.Stocks()) != len(r.Crosses()) {
			t.Errorf("stopped at %d: %d stocks, %d crosses", stopped, len(r.Stocks()), len(r.Crosses()))
		}
		if err := newStore(after).change(func(*Registry) error { return nil }); err != nil {
			t.Errorf("stopped at %d, then carried on: %v", stopped, err)
		}
		if left := after.now["r/.stocks.csv.new"]; left != nil {
			t.Errorf("stopped at %d: the new file is left behind", stopped)
		}
	}
}

func TestSheetOf(t *testing.T) {
	const header = "batch,printed,face,id,copy,stock,sheet,cell,payload,state\r\n"
	r, err := Open(newRegistry(t, map[string]string{
		"crosses.csv": "id,seed_parent,pollen_parent,pollinated,flowers,state,notes\r\n2026X001,Larkfield Tessel,Tarn Amber,,,,\r\n",
		"labels.csv": header + "1,,bag,2026X001-A,,s,1,1,,\r\n1,,bag,2026X001-B,,s,1,2,,spoilt\r\n" +
			"2,,bag,2026X001-C,,s,1,4,,replaced\r\n2,,bag,2026X001-D,,s,2,1,,\r\n" +
			"3,,bag,X001-E,,s,2,2,,spoilt\r\n3,,bag,2026X001-E,,s,2,3,,spoilt\r\n" + // one identifier is lost
			"4,,bag,2026X001-F,,other,1,x,,\r\n4,,bag,2026X001-F,,third,x,3,,\r\n" +
			// sorted by hand: the last batch on the sheet does not stand last
			"6,,bag,2026X001-G,,s,4,2,,spoilt\r\n5,,bag,2026X001-H,,s,4,1,,\r\n" +
			"8,,bag,2026X001-J,,s,5,2,,\r\n7,,bag,2026X001-K,,s,5,1,,spoilt\r\n" +
			// small labels, and rolls, have many cells
			"9,,bag,2026X001-L,,s,6,129,,\r\n9,,bag,2026X001-M,,s,6,128,,\r\n9,,bag,2026X001-N,,s,6,127,,\r\n9,,bag,2026X001-P,,s,6,1000,,\r\n",
	}))
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []struct {
		stock string
		sheet Sheet
	}{
		{"s", Sheet{Number: 1, Used: []int{1, 2, 4}, Last: 2}},
		{"s", Sheet{Number: 2, Used: []int{1, 2, 3}, Last: 3, Spoilt: true}},
		{"s", Sheet{Number: 3}},
		{"s", Sheet{Number: 4, Used: []int{1, 2}, Last: 6, Spoilt: true}},
		{"s", Sheet{Number: 5, Used: []int{1, 2}, Last: 8}},
		{"s", Sheet{Number: 6, Used: []int{127, 128, 129, 1000}, Last: 9}},
		{"other", Sheet{Number: 1, Doubtful: true}},
		{"third", Sheet{Number: 1, Doubtful: true}}, // it may be any sheet's
	} {
		if got := r.SheetOf(want.stock, want.sheet.Number); !reflect.DeepEqual(got, want.sheet) {
			t.Errorf("%s: %+v, want %+v", want.stock, got, want.sheet)
		}
	}
}

func TestCheckFindsLabelsOverOneAnother(t *testing.T) {
	for _, c := range []struct {
		cells [2]int
		found bool
	}{
		{[2]int{7, 7}, true}, {[2]int{7, 8}, false}, {[2]int{63, 127}, false},
		{[2]int{128, 128}, true}, {[2]int{130, 131}, false}, {[2]int{1, 129}, false}, // rolls have as many
	} {
		r, err := Open(newRegistry(t, map[string]string{
			"crosses.csv": "id,seed_parent,pollen_parent,pollinated,flowers,state,notes\r\n2026X001,Larkfield Tessel,Tarn Amber,,,,\r\n",
			"lots.csv":    "id,issued,extracted,fruit,seeds,undeveloped,chilled,state,notes\r\n2026X001-A,,,,,,,,\r\n2026X001-B,,,,,,,,\r\n",
			"labels.csv": fmt.Sprintf("batch,printed,face,id,copy,stock,sheet,cell,payload,state\r\n"+
				"1,,bag,2026X001-A,,s,1,%d,,\r\n2,,bag,2026X001-B,,s,1,%d,,\r\n", c.cells[0], c.cells[1]),
		}))
		if err != nil {
			t.Fatal(err)
		}
		var want []string
		if c.found {
			want = []string{fmt.Sprintf(`labels.csv row 3, column cell: "%d" of sheet 1 of s is taken by batch 1 in row 2; correct sheet and cell; where one was printed over the other, print both anew`, c.cells[0])}
		}
		var found []string
		for _, f := range r.Check() {
			found = append(found, f.String())
		}
		if !slices.Equal(found, want) {
			t.Errorf("cells %v: %q\nwant %q", c.cells, found, want)
		}
	}
}
