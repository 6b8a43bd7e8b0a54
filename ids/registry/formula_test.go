package registry

import (
	"strings"
	"testing"
)

// The signs are those of the OWASP page "CSV Injection": = + - @ TAB CR LF and
// the full-width forms.
var formulas = []string{"=1+1", "-2 °C frost", "@home", "+49 170 1234", "\tx", "\rx", "\nx", "＝1", "＋1", "－1", "＠x", "=HYPERLINK(\"http://x\")"}

func TestGuard(t *testing.T) {
	for _, text := range formulas {
		if got := Guard(text); got != "'"+text || isFormula(got) {
			t.Errorf("Guard(%q) is %q", text, got)
		}
		for range 5 { // every text comes back, however many apostrophes it has
			if got := Unguard(Guard(text)); got != text {
				t.Errorf("%q came back as %q", text, got)
			}
			text = "'" + text
		}
	}
	for _, text := range []string{"", "'", "''", "'t Groene Hout", "5\" pot", "Larkfield Tessel", " =1+1", "1=1", "Ä=1"} {
		if Guard(text) != text || Unguard(text) != text {
			t.Errorf("%q becomes %q, and is read as %q", text, Guard(text), Unguard(text))
		}
	}
}

func FuzzGuard(f *testing.F) {
	for _, s := range append(formulas, "", "'", "'=", "''@", "x", "\xff", "'\xef\xbc") {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		cell := Guard(text)
		if got := Unguard(cell); got != text {
			t.Errorf("%q came back as %q", text, got)
		}
		if isFormula(cell) {
			t.Errorf("%q is written as the formula %q", text, cell)
		}
		if again := Guard(Unguard(cell)); again != cell {
			t.Errorf("%q is written as %q the second time", cell, again)
		}
	})
}

// Five saves of the same text, each of which writes its cell, leave it as it
// was; a formula that somebody wrote in by hand is told, and mended for certain.
func TestFormulasDoNotPileUp(t *testing.T) {
	d := newTestDisk(emptyFiles())
	err := testStore(d).change(func(r *Registry) error {
		_, err := r.AddCross(NewCross{SeedParent: "@home", PollenParent: "-2 °C frost", Year: 2026, Notes: "=1+1"})
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	row := "2026X001,'@home,'-2 °C frost,,,,'=1+1"
	for range 5 {
		if text := d.now["r/crosses.csv"].data; !strings.HasSuffix(text, "\r\n"+row+"\r\n") {
			t.Fatalf("crosses.csv is %q", text)
		}
		r := open(t, d)
		if c := r.Crosses()[0]; c.SeedParent != "@home" || c.PollenParent != "-2 °C frost" || c.Notes != "=1+1" {
			t.Fatalf("read as %+v", c)
		}
		if found := r.Check(); len(found) > 0 {
			t.Fatalf("%v", found)
		}
		err := testStore(d).change(func(r *Registry) error {
			c := r.crosses.entries[0]
			c.Notes += "; frost"
			r.crosses.replace(0, c)
			return nil
		})
		if err != nil {
			t.Fatal(err)
		}
		row += "; frost"
		if err = testStore(d).change(func(r *Registry) error {
			c := r.crosses.entries[0]
			c.Notes = strings.TrimSuffix(c.Notes, "; frost")
			r.crosses.replace(0, c)
			return nil
		}); err != nil {
			t.Fatal(err)
		}
		row = strings.TrimSuffix(row, "; frost")
	}
	d.now["r/crosses.csv"].data = strings.Replace(d.now["r/crosses.csv"].data, "'@home", "@home", 1)
	r := open(t, d)
	want := `crosses.csv row 2, column seed_parent: "@home" would be run as a formula by a spreadsheet; put an apostrophe before it`
	if found := r.Check(); len(found) != 1 || found[0].String() != want {
		t.Errorf("%v\nwant %s", found, want)
	}
	if c := r.Crosses()[0]; c.SeedParent != "@home" {
		t.Errorf("read as %q", c.SeedParent)
	}
}
