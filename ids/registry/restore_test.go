package registry

import (
	"path/filepath"
	"strings"
	"testing"

	"pipstake/ids"
)

var (
	cross1 = ids.ID{Year: 2026, Cross: 1}
	lot1B  = cross1.Child(2)
	pot1B2 = lot1B.Child(2)
)

func TestRestore(t *testing.T) {
	whole := func() Recovered {
		return Recovered{
			Crosses:   []Cross{{ID: cross1, SeedParent: "LARKFIELD TESSEL", PollenParent: "TARN AMBER"}},
			Lots:      []Lot{{ID: lot1B}},
			Pots:      []Pot{{ID: pot1B2, Seeds: Known(7)}},
			Seedlings: []Seedling{{ID: pot1B2.Child(1), Name: "Old Pick"}},
			Labels:    []Label{{Batch: 1, Face: StakeFace, ID: pot1B2, Copy: 1, Sheet: 1, Cell: 1}},
		}
	}
	for _, c := range []struct {
		name  string
		spoil func(*Recovered)
		want  string // the error
	}{
		{"whole", func(*Recovered) {}, ""},
		{"no lot", func(r *Recovered) { r.Lots = nil }, "2026X001-B2 has no row for its seed lot 2026X001-B; give that row as well"},
		{"twice", func(r *Recovered) { r.Pots = append(r.Pots, r.Pots[0]) }, "2026X001-B2 stands there twice; give each identifier one row"},
		{"wrong table", func(r *Recovered) { r.Lots = append(r.Lots, Lot{ID: pot1B2}) }, "2026X001-B2 is a pot, not a seed lot; look at the label"},
		{"no identifier", func(r *Recovered) { r.Crosses[0].ID = ids.ID{} }, "a cross has no identifier; look at the label"},
		{"two lines", func(r *Recovered) { r.Crosses[0].SeedParent = "TARN\nAMBER" }, `the text "TARN\nAMBER" holds a line break or a control character; write it on one line`},
		{"label of nothing", func(r *Recovered) { r.Labels[0].ID = lot1B.Child(3) }, "a label of 2026X001-B3 has no row for it; give that row as well"},
		{"label without a place", func(r *Recovered) { r.Labels[0].Cell = 0 }, "the label of 2026X001-B2 has no place on a sheet; count batches, sheets and cells from 1"},
	} {
		t.Run(c.name, func(t *testing.T) {
			dir := filepath.Join(t.TempDir(), "registry")
			if err := Init(dir); err != nil {
				t.Fatal(err)
			}
			rows := whole()
			c.spoil(&rows)
			err := Change(dir, Options{}, func(r *Registry) error { return r.Restore(rows) })
			r, openErr := Open(dir)
			if openErr != nil {
				t.Fatal(openErr)
			}
			if c.want != "" {
				if err == nil || err.Error() != c.want {
					t.Errorf("got %v, want %s", err, c.want)
				}
				if len(r.Crosses())+len(r.Lots())+len(r.Pots()) > 0 {
					t.Error("rows were kept all the same")
				}
				return
			}
			if err != nil {
				t.Fatal(err)
			}
			if p, ok := r.Pot(pot1B2); !ok || p.Seeds != Known(7) || len(r.LabelsOf(pot1B2)) != 1 || len(r.Damage()) > 0 {
				t.Errorf("the pot came back as %+v with %d labels; damage %v", p, len(r.LabelsOf(pot1B2)), r.Damage())
			}
			if len(r.Crosses()) != 1 || len(r.Lots()) != 1 || len(r.Pots()) != 1 || len(r.Seedlings()) != 1 || r.Seedlings()[0] != rows.Seedlings[0] {
				t.Errorf("%v, %v, %v, %v came back", r.Crosses(), r.Lots(), r.Pots(), r.Seedlings())
			}
			again := Change(dir, Options{}, func(r *Registry) error { return r.Restore(rows) })
			if again == nil || !strings.Contains(again.Error(), "holds 1 row of crosses already; name a new folder") {
				t.Errorf("a second time: %v", again)
			}
		})
	}
}

func TestReadCounts(t *testing.T) {
	rows, found, err := ReadCounts("/home/wren/counts.csv", "\ufeffup;died;pot;on\n5;1;2026X001-B2.R;2027-02-27\n\n6;;2026X001-B2;27.02.2027\n7;;2026X001-B2.K;2027-03-01\n")
	if err != nil {
		t.Fatal(err)
	}
	want := CountRow{Emergence{Pot: pot1B2, On: Date{2027, 2, 27}, Up: Known(5), Died: Known(1)}, 2, ""}
	if len(rows) != 2 || rows[0] != want || rows[1].Row != 4 {
		t.Errorf("rows %+v, want %+v and row 4", rows, want)
	}
	if len(found) != 2 || found[0].File != "counts.csv" || found[0].Row != 4 || found[0].Column != "on" || found[1].Row != 5 || found[1].Column != "pot" {
		t.Errorf("findings %v", found)
	}
	if _, _, err := ReadCounts("counts.csv", "pot,on\n2026X001-B2,2027-02-27\n"); err == nil || !strings.Contains(err.Error(), `the column "up" is missing`) {
		t.Errorf("without the column up: %v", err)
	}
}
