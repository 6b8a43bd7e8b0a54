package registry

import (
	"fmt"
	"slices"
	"strings"
	"testing"
)

// Mending writes what is certain and no other byte, once; the rest of what
// check finds stays.
func TestMend(t *testing.T) {
	files := emptyFiles()
	files["r/crosses.csv"] = "id;seed_parent;pollen_parent;pollinated;flowers;state;notes\n" +
		"2026x001; Larkfield Tessel ;@home;2026–05–04;１２; Void;-2 °C\n" +
		"\"2026X002 \";Tarn Amber;Gwennol Goch;04/05/2026;14,0;;\"kept, as is\"\n"
	files["r/lots.csv"] = "id,issued,extracted,fruit,seeds,undeveloped,chilled,state,notes\n2O26X002-A,,,,,,,,\n2026x002b,,,,,,,,\n"
	files["r/stocks.csv"] = "name,kind,paper,columns,rows,label_width,label_height,left,top,pitch_x,pitch_y,turned,notes\n own,Roll,62x29,1,1,62,29,0,0,62,29,,\n"
	d := newTestDisk(files)
	var shown []string
	err := testStore(d).change(func(r *Registry) error {
		for _, f := range r.Mend() {
			shown = append(shown, fmt.Sprintf("%s %d %s: %s -> %s", f.Finding.File, f.Finding.Row, f.Finding.Column, f.Finding.Value, f.Want))
		}
		if c := r.Crosses()[0]; c.SeedParent != "Larkfield Tessel" || c.PollenParent != "@home" || c.State != Void || c.Flowers != Known(12) {
			t.Errorf("read as %+v", c)
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	want := []string{
		"crosses.csv 2 id: 2026x001 -> 2026X001",
		"crosses.csv 2 seed_parent:  Larkfield Tessel  -> Larkfield Tessel",
		"crosses.csv 2 pollen_parent: @home -> '@home",
		"crosses.csv 2 pollinated: 2026–05–04 -> 2026-05-04",
		"crosses.csv 2 flowers: １２ -> 12",
		"crosses.csv 2 state:  Void -> void",
		"crosses.csv 2 notes: -2 °C -> '-2 °C",
		"crosses.csv 3 id: 2026X002  -> 2026X002",
		"lots.csv 3 id: 2026x002b -> 2026X002-B",
		"stocks.csv 2 name:  own -> own",
		"stocks.csv 2 kind: Roll -> roll",
	}
	if !slices.Equal(shown, want) {
		t.Errorf("mended\n%s\nwant\n%s", strings.Join(shown, "\n"), strings.Join(want, "\n"))
	}
	for name, want := range map[string]string{
		"crosses.csv": "id;seed_parent;pollen_parent;pollinated;flowers;state;notes\n" +
			"2026X001;Larkfield Tessel;'@home;2026-05-04;12;void;'-2 °C\n" +
			"\"2026X002\";Tarn Amber;Gwennol Goch;04/05/2026;14,0;;\"kept, as is\"\n",
		"lots.csv": "id,issued,extracted,fruit,seeds,undeveloped,chilled,state,notes\n2O26X002-A,,,,,,,,\n2026X002-B,,,,,,,,\n",
	} {
		if got := d.now["r/"+name].data; got != want {
			t.Errorf("%s is\n%q\nwant\n%q", name, got, want)
		}
	}
	r := open(t, d)
	if left := r.Fixes(); len(left) > 0 {
		t.Errorf("still to be mended: %v", left)
	}
	if n := len(r.Check()); n == 0 {
		t.Error("what takes a guess is no longer found")
	}
	if err := testStore(d).change(func(r *Registry) error { _, err := r.Undo(); return err }); err != nil {
		t.Fatal(err)
	}
	for name, want := range files {
		bare := func(s string) string { return strings.ReplaceAll(s, `"`, "") } // spaces may come back in quotes
		if got := d.now[name].data; name != "r/history.csv" && bare(got) != bare(want) {
			t.Errorf("taken back, %s is\n%q\nwant\n%q", name, got, want)
		}
	}
}

// Whatever stands in a file: mending it leaves a file that reads the same and
// has nothing more to mend, and taking it back leaves what was read before.
func FuzzMend(f *testing.F) {
	f.Add("id;seed_parent;pollen_parent;pollinated;flowers;state;notes\n2026x001; A ;@home;2026–05–04;１２; Void;-2 °C\n")
	f.Add("sep=,\r\n\"id\",seed_parent,pollen_parent,pollinated,flowers,state,notes\r\n2O26X001.8,'=1,''=1,04/05/2026,\"1,0\",VOID,\"=\n\"\r\n\r\n,,,\r\n2026×002,A")
	f.Add("id\tseed_parent\tpollen_parent\tpollinated\tflowers\tstate\tnotes\tid2\r2026X001\t\t\t46340\t+1\t\t＝\tx\ty")
	f.Fuzz(func(t *testing.T, text string) {
		files := emptyFiles()
		files["r/crosses.csv"] = text
		d := newTestDisk(files)
		states := mustRead(t, d)
		before, err := testStore(d).load(states)
		if err != nil {
			return
		}
		before.Check()
		if err := testStore(d).change(func(r *Registry) error { r.Mend(); return nil }); err != nil {
			t.Fatal(err)
		}
		after := open(t, d)
		if left := after.Fixes(); len(left) > 0 {
			t.Fatalf("%q: still to be mended: %v", d.now["r/crosses.csv"].data, left)
		}
		if !slices.Equal(before.Crosses(), after.Crosses()) || len(before.Damage()) != len(after.Damage()) {
			t.Fatalf("%q reads as\n%v, %v\nwant\n%v, %v", d.now["r/crosses.csv"].data, after.Crosses(), after.Damage(), before.Crosses(), before.Damage())
		}
		if len(before.Fixes()) == 0 {
			return
		}
		if err := testStore(d).change(func(r *Registry) error { _, err := r.Undo(); return err }); err != nil {
			t.Fatal(err)
		}
		if back := open(t, d); !slices.Equal(before.Crosses(), back.Crosses()) || len(before.Fixes()) != len(back.Fixes()) {
			t.Fatalf("taken back, %q reads as\n%v\nwant\n%v", d.now["r/crosses.csv"].data, back.Crosses(), before.Crosses())
		}
	})
}
