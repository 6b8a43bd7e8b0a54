package season

import (
	"bytes"
	"encoding/csv"
	"errors"
	"strings"
	"testing"

	"pipstake/ids"
)

var apple = Holder{Genus: "Malus", Species: "domestica"}

// The columns, ACQDATE with hyphens for missing parts, SAMPSTAT 410 and the
// semicolon between values are those of the FAO/Bioversity multi-crop passport
// descriptors V2.1 (2015).
func TestPassports(t *testing.T) {
	r := familyRows(t, "2001X001,Ann,Bob; early,2001-05-02,,,\n2002X001,Ann,Cat,,,,\n2003X001,Dan,Cat,2003-05-01,,void,frost\n2006X001,2001X001-A1-A,Cat,2006-05-01,,,",
		"seedlings.csv", parentSeedlings)
	h := apple
	h.Institute, h.Breeder = "ABC123", "Joan; and others"
	all, err := Passports(r, h, nil)
	if err != nil {
		t.Fatal(err)
	}
	var out bytes.Buffer
	if err := WritePassports(&out, all); err != nil {
		t.Fatal(err)
	}
	want := "\ufeffINSTCODE,ACCENUMB,GENUS,SPECIES,CROPNAME,ACCENAME,ACQDATE,BREDNAME,SAMPSTAT,ANCEST\r\n" +
		"ABC123,2001X001,Malus,domestica,apple,\"Ann × Bob, early\",20010502,\"Joan, and others\",410,\"Ann/Bob, early\"\r\n" +
		"ABC123,2002X001,Malus,domestica,apple,Ann × Cat,2002----,\"Joan, and others\",410,Ann/Cat\r\n" +
		"ABC123,2006X001,Malus,domestica,apple,2001X001-A1-A × Cat,20060501,\"Joan, and others\",410,\"Ann/Bob, early//Cat\"\r\n" +
		"ABC123,2001X001-A1-A,Malus,domestica,apple,\"Ann × Bob, early\",20020410,\"Joan, and others\",410,\"Ann/Bob, early\"\r\n" +
		"ABC123,2001X001-A1-B,Malus,domestica,apple,\"Ann × Bob, early\",,\"Joan, and others\",410,\"Ann/Bob, early\"\r\n"
	if out.String() != want {
		t.Errorf("passports\n%s\nwant\n%s", out.String(), want)
	}

	some, err := Passports(r, apple, []ids.ID{{Year: 2001, Cross: 1, Lot: 1}})
	if err != nil || len(some) != 2 || some[0].Number != "2001X001-A1-A" {
		t.Errorf("below a seed lot: %v (%v), want its two seedlings", some, err)
	}
}

// Columns without a value are left out.
func TestPassportColumns(t *testing.T) {
	var out bytes.Buffer
	if err := WritePassports(&out, []Passport{{Number: "2001X001", Status: "410"}}); err != nil {
		t.Fatal(err)
	}
	if want := "\ufeffACCENUMB,SAMPSTAT\r\n2001X001,410\r\n"; out.String() != want {
		t.Errorf("%q, want %q", out.String(), want)
	}
}

// No cell begins as a formula does (the characters are those of OWASP's page on
// CSV injection), and taking one apostrophe off those that have one in front of
// such a character gives every name back.
func TestPassportsHoldNoFormulas(t *testing.T) {
	names := []string{"=1+1", "+1", "-2 °C frost", "@home", "'=1", "''@x", "'Twas", "Ann", "=HYPERLINK(\"http://x\")"}
	for _, name := range names {
		var out bytes.Buffer
		if err := WritePassports(&out, []Passport{{Number: "2001X001", Ancestry: name}}); err != nil {
			t.Fatal(err)
		}
		rows, err := csv.NewReader(&out).ReadAll()
		if err != nil {
			t.Fatal(err)
		}
		cell := rows[1][1]
		if strings.ContainsAny(cell[:1], "=+-@\t\r\n") {
			t.Errorf("%q becomes %q, a formula", name, cell)
		}
		back := cell
		if rest := strings.TrimLeft(cell, "'"); rest != cell && strings.ContainsAny(rest[:1], "=+-@\t\r\n") {
			back = cell[1:]
		}
		if back != name {
			t.Errorf("%q becomes %q, which gives back %q", name, cell, back)
		}
	}
}

func TestPassportsOfACircle(t *testing.T) {
	var cycle *CycleError
	if _, err := Passports(familyRows(t, familyCSV("1 = 2a × Ann\n2 = 1a × Bob")), apple, nil); !errors.As(err, &cycle) {
		t.Errorf("error %v, want a *CycleError", err)
	}
}
