package registry

import (
	"fmt"
	"slices"
	"strings"
	"testing"
)

// All names that a registry knows, with what is known of each: its row, the
// selection of that name, the crosses with it as a seed and as a pollen parent. Void
// rows tell of none; the first row of a name is the one used.
func TestKnownNames(t *testing.T) {
	dir := newRegistry(t, map[string]string{
		"crosses.csv":   "id,seed_parent,pollen_parent,pollinated,flowers,state,notes\n2026X001,ANN,The Pick,,,,\n2026X002,Cat,mixture of ann + Dan + 2020X001-A1-A,,,,\n2026X003,Eve,Ann,,,void,\n2026X004,Cat,op,,,,\n",
		"seedlings.csv": "id,pricked,state,notes,place,name,ended,fate\n2020X001-A1-A,,,,,The Pick,,\n2020X001-A1-B,,void,,,Void Pick,,\n2020X001-A1-C,,,,,,,\n2020X001-A1-D,,,,,the pick,,\n2020X001-A1-E,,,,,Ann,,\n",
		"varieties.csv": "name,also,seed_parent,pollen_parent,sport_of\nAnn,Anne; Annie,Flo,op,\nGuy,Anne,,,Ann\nann,,,,\n,,Hal,2020X001-A1-A,\n",
	})
	var got []string
	names := mustOpen(t, dir).Names()
	for _, n := range names.All() {
		got = append(got, strings.Join(strings.Fields(fmt.Sprint(n.Name, " ", n.Row, " ", n.Selection, " ", n.Seed, " ", n.Pollen)), " "))
	}
	want := []string{
		"Ann 0 2020X001-A1-E [2026X001] [2026X002]",
		"Cat -1 [2026X002 2026X004] []",
		"Dan -1 [] [2026X002]",
		"Flo -1 [] []",
		"Guy 1 [] []",
		"Hal -1 [] []",
		"The Pick -1 2020X001-A1-A [] [2026X001]",
	}
	if !slices.Equal(got, want) {
		t.Errorf("got\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
	for name, want := range map[string]string{"anne": "Ann", "ANNIE": "Ann", " ann ": "Ann", "the  pick": "The Pick", "Eve": "", "Void Pick": "", "2020X001-A1-A": "", "": "", "op": ""} {
		if known, ok := names.Known(name); known.Name != want || ok != (want != "") {
			t.Errorf("%q is known as %q, %v", name, known.Name, ok)
		}
	}
	f := mustOpen(t, dir).VarietyFinding(1, "also", "is odd", "look")
	if got, want := f.String(), `varieties.csv row 3, column also: "Anne" is odd; look`; got != want {
		t.Errorf("%s, want %s", got, want)
	}
	if got, want := mustOpen(t, dir).VarietyFinding(3, "", "is odd", "look").String(), `varieties.csv row 5: is odd; look`; got != want {
		t.Errorf("%s, want %s", got, want)
	}
}

// What happened to something is told by its days, whatever the order of the rows;
// entries of one day in the order in which they were written.
func TestDiaryByItsDays(t *testing.T) {
	r := open(t, season(map[string]string{"diary.csv": "2025X007-A1,2026-03-02,note,,second\n2025X007-A1,2026-03-01,note,,first\n2025X007-A1-A,2026-03-01,note,,another's\n2025X007-A1,2026-03-02,note,,third\n2025X007-A1,,note,,sometime"}))
	var got []string
	for _, e := range r.DiaryOf(mustID(t, "2025X007-A1")) {
		got = append(got, e.Text)
	}
	if s := strings.Join(got, ", "); s != "sometime, first, second, third" {
		t.Errorf("%s", s)
	}
	if n := len(r.Diary()); n != 5 {
		t.Errorf("%d entries in all", n)
	}
}

// Findings come in the order of the files and then of their rows, whatever was
// looked at first.
func TestFindingsAreInOrder(t *testing.T) {
	r := open(t, season(map[string]string{
		"crosses.csv":   "2026X001,A,B,soon,,,\n2026X001,A,B,,many,,",
		"lots.csv":      "2026X001-A,,,,many,,,,\n2026X001-A,,,,,,,,",
		"pots.csv":      "2026X001-A1,9,soon,,,",
		"seedlings.csv": "2026X001-A1-A,soon,,", "emergence.csv": "2026X001-A1,soon,2,", "labels.csv": "",
	}))
	r.beside = append(r.beside, "lots (1).csv")
	last, rows := -1, map[string]int{}
	order := []string{"crosses.csv", "lots.csv", "pots.csv", "seedlings.csv", "emergence.csv", "lots (1).csv"}
	var seen []string
	for _, f := range r.Check() {
		at := slices.Index(order, f.File)
		if at < last || f.Row < rows[f.File] {
			t.Errorf("%s comes after %v", f, seen)
		}
		last, rows[f.File] = at, f.Row
		seen = append(seen, f.File)
	}
	if seen = slices.Compact(seen); !slices.Equal(seen, order) {
		t.Errorf("findings in %q, want %q", seen, order)
	}
}

// Texts that hold a delimiter, a quote, a line break or spaces at an end come back
// from a file as they were written, wherever in the text that stands.
func TestTextsComeBack(t *testing.T) {
	for _, delimiter := range []string{",", ";", "\t"} {
		for _, text := range []string{",x", ";x", "\tx", "x,", "x;y", `"x`, `x"`, `"`, `""`, " x", "x ", "x\ny", "x\r\ny", "=x", "'x", "'=x", ",", ";", "x"} {
			d := newTestDisk(emptyFiles())
			d.now["r/lots.csv"].data = strings.ReplaceAll("id,issued,extracted,fruit,seeds,undeveloped,chilled,state,notes\r\n2026X001-A,,,,9,,,,\r\n", ",", delimiter)
			d.now["r/crosses.csv"].data += "2026X001,A,B,,,,\r\n"
			err := testStore(d).change(func(r *Registry) error {
				l := r.lots.entries[0]
				l.Notes = text
				r.lots.replace(0, l)
				l.ID = mustID(t, "2026X001-B")
				r.lots.append(l)
				return nil
			})
			if err != nil {
				t.Fatal(err)
			}
			lots := open(t, d).Lots()
			if len(lots) != 2 || lots[0].Notes != text || lots[1].Notes != text || lots[1].ID.Lot != 2 {
				t.Errorf("%q between %q: %+v\n%q", text, delimiter, lots, d.now["r/lots.csv"].data)
			}
		}
	}
}

// A correction that is refused leaves what was known of damaged cells as it was.
func TestRefusedCorrectionLeavesDamage(t *testing.T) {
	r := open(t, season(map[string]string{"pots.csv": "2026X001-A1,7,in spring,bench 3,,\n2025X007-A1,9,2026-01-14,,,"}))
	before := r.Damage()
	early := Date{2026, 11, 19} // before the cold
	if _, err := r.Correct(mustID(t, "2026X001-A1"), Correction{Sown: &early}); !refused(err) {
		t.Fatalf("%v", err)
	}
	if got := r.Damage(); !slices.Equal(got, before) || !slices.ContainsFunc(got, func(f Finding) bool { return f.File == "pots.csv" }) {
		t.Errorf("%v, before %v", got, before)
	}
	late := Date{2027, 1, 14}
	if _, err := r.Correct(mustID(t, "2026X001-A1"), Correction{Sown: &late}); err != nil || slices.ContainsFunc(r.Damage(), func(f Finding) bool { return f.File == "pots.csv" }) {
		t.Errorf("%v, %v", err, r.Damage())
	}
}
