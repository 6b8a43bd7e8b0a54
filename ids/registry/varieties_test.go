package registry

import (
	"errors"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

func mustOpen(t *testing.T, dir string) *Registry {
	t.Helper()
	r, err := Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func mustChange(t *testing.T, dir string, work func(*Registry) error) {
	t.Helper()
	if err := Change(dir, Options{}, work); err != nil {
		t.Fatal(err)
	}
}

// setFacts records facts of a variety.
func setFacts(v Variety, correct bool) func(*Registry) error {
	return func(r *Registry) error {
		_, err := r.SetVariety(v, correct)
		return err
	}
}

// varieties.csv is made by the first fact, and facts are added to a row.
func TestVarietiesAreKept(t *testing.T) {
	dir := newRegistry(t, map[string]string{})
	if _, err := os.Stat(filepath.Join(dir, "varieties.csv")); err == nil {
		t.Error("a new registry has varieties.csv")
	}
	for _, v := range []Variety{
		{Name: "Larkfield Tessel", SeedParent: "Old Tessel", PollenParent: "op", Ploidy: 2, SAlleles: "S3,S5", Year: 1874, Notes: "from the lane"},
		{Name: "Red Tessel", SportOf: "Larkfield Tessel"},
		{Name: "larkfield  TESSEL", Also: "Lady Tessel", Notes: "keeps until May"},
		{Name: "lady tessel", Also: "L. Tessel"},
		{Name: "Tarn Amber", Ploidy: 3, SAlleles: "s2 / 7;16b"},
	} {
		mustChange(t, dir, setFacts(v, false))
	}
	want := "\ufeffname,also,seed_parent,pollen_parent,sport_of,ploidy,s_alleles,year,notes\r\n" +
		"Larkfield Tessel,Lady Tessel; L. Tessel,Old Tessel,open,,2,S3 S5,1874,from the lane; keeps until May\r\n" +
		"Red Tessel,,,,Larkfield Tessel,,,,\r\n" +
		"Tarn Amber,,,,,3,S2 S7 S16b,,\r\n"
	if got := readFile(t, dir, "varieties.csv"); got != want {
		t.Errorf("varieties.csv is\n%s\nwant\n%s", got, want)
	}
	v, ok := mustOpen(t, dir).Variety("LADY  tessel")
	if !ok || v.Name != "Larkfield Tessel" || len(v.Alleles()) != 2 || len(v.Spellings()) != 2 {
		t.Errorf("found %+v, %v", v, ok)
	}
	mustChange(t, dir, setFacts(Variety{Name: "Red Tessel", SeedParent: "Ann", PollenParent: "Bob"}, true))
	if v, _ := mustOpen(t, dir).Variety("Red Tessel"); v.SportOf != "" || v.PollenParent != "Bob" {
		t.Errorf("corrected to %+v", v)
	}
}

// A table that a person made may have as few columns as the name alone; columns
// are added when they are needed, and others stay.
func TestVarietiesByHand(t *testing.T) {
	dir := newRegistry(t, map[string]string{"varieties.csv": "tree;Name\nrow 1;Tarn Amber\nrow 2;\"Otterhay Lade\"\n"})
	mustChange(t, dir, setFacts(Variety{Name: "Otterhay Lade", Ploidy: 3}, false))
	mustChange(t, dir, setFacts(Variety{Name: "Gwennol Goch", Year: 1690}, false))
	want := "tree;Name;ploidy;year\nrow 1;Tarn Amber\nrow 2;\"Otterhay Lade\";3\n;Gwennol Goch;;1690\n"
	if got := readFile(t, dir, "varieties.csv"); got != want {
		t.Errorf("varieties.csv is\n%s\nwant\n%s", got, want)
	}
	if found := mustOpen(t, dir).Check(); len(found) > 0 {
		t.Errorf("check finds %v", found)
	}
}

// Each refusal leaves the table as it was.
func TestVarietiesRefused(t *testing.T) {
	const rows = "name,also,seed_parent,pollen_parent,sport_of,ploidy,s_alleles,year,notes\n" +
		"Tarn Amber,Amber of Tarn,Ann,Bob,,3,S2 S3,1890,\nRed Amber,,,,Tarn Amber,,,,\nDamaged,,,,,many,,,\n"
	dir := newRegistry(t, map[string]string{"varieties.csv": rows})
	for _, c := range []struct {
		v       Variety
		correct bool
		want    string
	}{
		{Variety{Name: "Tarn Amber", SeedParent: "Cat"}, false, "Tarn Amber has seed parent Ann on record, not Cat"},
		{Variety{Name: "amber of tarn", Ploidy: 2}, false, "Tarn Amber has ploidy 3 on record, not 2"},
		{Variety{Name: "Tarn Amber", SAlleles: "S2,S5"}, false, "Tarn Amber has S-alleles S2 S3 on record, not S2 S5"},
		{Variety{Name: "Tarn Amber", Year: 1900}, false, "year 1890 on record, not 1900"},
		{Variety{Name: "Tarn Amber", SportOf: "Otterhay Lade"}, false, "has parents and is a sport as well"},
		{Variety{Name: "Red Amber", SeedParent: "Ann"}, false, "has parents and is a sport as well"},
		{Variety{Name: "New", SportOf: "new"}, false, "New would be a sport of itself"},
		{Variety{Name: "New", Also: "Amber of Tarn"}, false, "Amber of Tarn is a spelling of Tarn Amber already, in varieties.csv row 2"},
		{Variety{Name: "Red Amber", Also: "tarn amber"}, false, "tarn amber is a spelling of Tarn Amber already"},
		{Variety{Name: "2026X001-A1-A", Ploidy: 2}, false, "is the identifier of a seedling"},
		{Variety{Name: "o.p.", Ploidy: 2}, false, `"o.p." stands for open`},
		{Variety{Name: "New", Also: "mixed pollen"}, false, `"mixed pollen" stands for mixture`},
		{Variety{Name: "New", SportOf: "unknown"}, false, `"unknown" stands for unknown`},
		{Variety{Name: "", Ploidy: 2}, false, "the variety has no name"},
		{Variety{Name: "New", Ploidy: 1}, false, "1 is no number of sets"},
		{Variety{Name: "New", SAlleles: "S2,Q"}, false, `"Q" is no S-allele`},
		{Variety{Name: "New", SeedParent: "2026X001-A1-A"}, false, "there is no seedling 2026X001-A1-A"},
		{Variety{Name: "two\nlines"}, true, "holds a line break"},
		{Variety{Name: "Damaged", Year: 1900}, true, `column ploidy: "many" is not a whole number`},
	} {
		err := Change(dir, Options{}, setFacts(c.v, c.correct))
		var refusal *Refusal
		var damage *DamageError
		if err == nil || !strings.Contains(err.Error(), c.want) || !errors.As(err, &refusal) && !errors.As(err, &damage) {
			t.Errorf("%+v: %v, want %q", c.v, err, c.want)
		}
	}
	if got := readFile(t, dir, "varieties.csv"); got != rows {
		t.Errorf("varieties.csv is now\n%s", got)
	}
}

// What check finds in cells, and names that stand twice.
func TestVarietiesChecked(t *testing.T) {
	dir := newRegistry(t, map[string]string{"varieties.csv": "name,also,ploidy,s_alleles,year\nTarn Amber,Amber of Tarn,triploid,\"S2, S3\",1874\n" +
		"TARN  amber,,,,\nOtterhay Lade,amber of tarn,,,\n,,,,1900\nNew,,9,Q2,last\n"})
	var got []string
	for _, f := range mustOpen(t, dir).Check() {
		got = append(got, f.String())
	}
	want := []string{
		`varieties.csv row 3, column name: "TARN  amber" stands in row 2 already, which is the one used; delete one of the two rows`,
		`varieties.csv row 4, column also: "amber of tarn" stands in row 2 already, which is the one used; delete one of the two rows`,
		`varieties.csv row 5, column name: the name is missing; write it in, or delete the row`,
		`varieties.csv row 6, column ploidy: "9" is no number of sets of chromosomes; write 2 for a diploid, 3 for a triploid; at most 8`,
		`varieties.csv row 6, column s_alleles: "Q2" holds a word that is no S-allele: "Q2" is no S-allele; write them as S2,S3`,
		`varieties.csv row 6, column year: "last" is not a whole number; write digits only, or leave the cell empty`,
	}
	if strings.Join(got, "\n") != strings.Join(want, "\n") {
		t.Errorf("found\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
	if v, _ := mustOpen(t, dir).Variety("Tarn Amber"); v.Ploidy != 3 || v.SAlleles != "S2 S3" {
		t.Errorf("read as %+v", v)
	}
}

// A merge brings varieties in, fills in what is empty, and tells what differs.
func TestVarietiesMerged(t *testing.T) {
	here, there := two(t)
	then(t, here, "one", setFacts(Variety{Name: "Tarn Amber", Ploidy: 3}, false))
	then(t, there, "two", setFacts(Variety{Name: "TARN AMBER", SeedParent: "Ann", PollenParent: "Bob"}, false), setFacts(Variety{Name: "Otterhay Lade"}, false))
	merged, err := merge(t, here, there, Here)
	if err != nil || len(merged.Differences) > 0 {
		t.Fatalf("%+v, %v", merged, err)
	}
	if got := tablesOf(t, here)["r/varieties.csv"]; !strings.HasSuffix(got, "\r\nTarn Amber,,Ann,Bob,,3,,,\r\nOtterhay Lade,,,,,,,,\r\n") {
		t.Errorf("merged into\n%s", got)
	}
}

// A name that was wrong is right everywhere at once, in mixtures and in
// varieties.csv too.
func TestVarietyRenamedEverywhere(t *testing.T) {
	dir := newRegistry(t, map[string]string{
		"crosses.csv":   "id,seed_parent,pollen_parent,pollinated,flowers,state,notes\n2026X001,Tarn Ambre,mixture of Ann + tarn ambre,,,,\n2026X002,Ann,o.p.,,,,\n",
		"varieties.csv": "name,also,seed_parent,pollen_parent,sport_of\nTarn Ambre,,Ann,op,\nRed,,,,Tarn Ambre\nOther,,,,\n",
	})
	mustChange(t, dir, func(r *Registry) error { _, err := r.RenameVariety("TARN  ambre", "Tarn Amber"); return err })
	if got := readFile(t, dir, "crosses.csv"); !strings.HasSuffix(got, "\n2026X001,Tarn Amber,mixture of Ann + Tarn Amber,,,,\n2026X002,Ann,o.p.,,,,\n") {
		t.Errorf("crosses.csv is\n%s", got)
	}
	if got := readFile(t, dir, "varieties.csv"); !strings.HasSuffix(got, "\nTarn Amber,,Ann,op,\nRed,,,,Tarn Amber\nOther,,,,\n") {
		t.Errorf("varieties.csv is\n%s", got)
	}
	for name, want := range map[string]string{"Other": "both have a row", "open pollinated": "stands for open", "2020X001-A1-A": "there is no seedling"} {
		err := Change(dir, Options{}, func(r *Registry) error { _, err := r.RenameVariety("Tarn Amber", name); return err })
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("to %s: %v, want %q", name, err, want)
		}
	}
}

// A list of varieties says which are new, which change, and which are known so.
func TestListOfVarieties(t *testing.T) {
	dir := newRegistry(t, map[string]string{"varieties.csv": "name,also,ploidy\nTarn Amber,,\nRed Amber,,3\n"})
	var done Imported
	mustChange(t, dir, func(r *Registry) (err error) {
		done, err = r.ImportVarieties("/home/list.csv", "name,ploidy\nTarn Amber,2\nRed Amber,3\nGwennol Goch,\n", false)
		return err
	})
	if want := []string{"Tarn Amber", "Red Amber", "Gwennol Goch"}; !slices.Equal(done.Varieties, want) || done.New != 1 || done.Changed != 1 {
		t.Errorf("%+v", done)
	}
	mustChange(t, dir, func(r *Registry) (err error) { // one column has no delimiter
		done, err = r.ImportVarieties("/home/list.csv", "name\r\nOtterhay Lade\r\n", false)
		return err
	})
	if want := []string{"Otterhay Lade"}; !slices.Equal(done.Varieties, want) || done.New != 1 || done.Changed != 0 {
		t.Errorf("%+v", done)
	}
	for text, want := range map[string]string{
		"name\n":                             "/home/list.csv holds no varieties",
		"name,ploidy\n,2\n":                  "list.csv row 2, column name: the name is missing; write it in, or delete the row",
		"name,ploidy\nTarn Amber,3\n":        "list.csv row 2: Tarn Amber has ploidy 2 on record, not 3",
		"name,ploidy\nA,many\nRed Amber,2\n": "many",
	} {
		err := Change(dir, Options{}, func(r *Registry) error { _, err := r.ImportVarieties("/home/list.csv", text, false); return err })
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: %v, want %q", text, err, want)
		}
	}
}
