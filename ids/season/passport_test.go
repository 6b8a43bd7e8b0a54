package season

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"testing"

	"pipstake/ids"
	"pipstake/ids/registry"
)

var apple = Holder{Genus: "Malus", Species: "domestica"}

// The columns, ACQDATE with hyphens for missing parts, SAMPSTAT 410 (breeder's
// line) and 415 (segregating population) and the semicolon between values are
// those of the FAO/Bioversity multi-crop passport descriptors V2.1 (2015); 415 and
// the codes of STORAGE from memory.
func TestPassports(t *testing.T) {
	r := familyRows(t, "2001X001,Ann,Bob; early,2001-05-02,,,\n2002X001,Ann,=1+1,,,,\n2003X001,Dan,Cat,2003-05-01,,void,frost\n2006X001,2001X001-A1-A,Cat,2006-05-01,,,",
		"seedlings.csv", parentSeedlings+"\n2001X001-A1-E,2002-04-10,,,,Gone,2004-01-01,died\n2001X001-A1-D,2002-04-10,,,,The Pick,,",
		"lots.csv", "2001X001-A,2001-08-01,2001-10-03,,9,,,,\n2001X001-B,2001-08-01,,,,,,,\n2002X001-A,2002-08-01,,,7,,,,\n2002X001-B,2002-08-01,,,4,,,,\n2003X001-A,,,,7,,,,",
		"pots.csv", "2001X001-A1,4,2002-01-05,,,\n2002X001-B1,4,2003-01-05,,,") // all of a bag is sown
	h := apple
	h.Institute, h.Breeder, h.Origin = "ABC123", "Joan; and others", "NOR"
	all, out, err := Passports(r, h, nil)
	if err != nil {
		t.Fatal(err)
	}
	var file bytes.Buffer
	if err := WritePassports(&file, all); err != nil {
		t.Fatal(err)
	}
	const mine = ",Malus,domestica,apple,%s,%s,NOR,\"Joan, and others\",%s,%s,%s\r\n"
	want := "\ufeffINSTCODE,ACCENUMB,GENUS,SPECIES,CROPNAME,ACCENAME,ACQDATE,ORIGCTY,BREDNAME,SAMPSTAT,ANCEST,STORAGE\r\n" +
		fmt.Sprintf("ABC123,2001X001-A"+mine, "", "20011003", "415", "\"Ann/Bob, early\"", "10") +
		fmt.Sprintf("ABC123,2002X001-A"+mine, "", "20020801", "415", "Ann/=1+1", "10") +
		fmt.Sprintf("ABC123,2001X001-A1-A"+mine, "", "20020410", "410", "\"Ann/Bob, early\"", "20") +
		fmt.Sprintf("ABC123,2001X001-A1-B"+mine, "", "", "410", "\"Ann/Bob, early\"", "20") +
		fmt.Sprintf("ABC123,2001X001-A1-D"+mine, "The Pick", "20020410", "410", "\"Ann/Bob, early\"", "20")
	if file.String() != want {
		t.Errorf("passports\n%s\nwant\n%s", file.String(), want)
	}
	if out != (LeftOut{Crosses: 1, Lots: 2, Pots: 2, Ended: 1, Void: 2}) {
		t.Errorf("left out %+v", out)
	}

	some, _, err := Passports(r, apple, []ids.ID{{Year: 2001, Cross: 1, Lot: 1, Pot: 1}})
	if err != nil || len(some) != 3 || some[0].Number != "2001X001-A1-A" {
		t.Errorf("below a pot: %v (%v), want its three seedlings", some, err)
	}
}

// Seed from elsewhere names its donor, and not the holder as its breeder.
func TestPassportOfReceivedSeed(t *testing.T) {
	dir := familyRows(t, "2001X001,Ann,Bob,,,,").Dir()
	err := registry.Change(dir, registry.Options{}, func(r *registry.Registry) error {
		_, _, err := r.Receive(registry.NewSeed{SeedParent: "Ann", PollenParent: "op", Source: "Nether Hollow", On: registry.Date{Year: 2009, Month: 2, Day: 3}, Lots: 1, Seeds: registry.Known(5)})
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	r, err := registry.Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	h := apple
	h.Breeder, h.Origin = "Joan", "NOR"
	all, _, err := Passports(r, h, nil)
	if err != nil || len(all) != 1 || all[0].Donor != "Nether Hollow" || all[0].Breeder+all[0].Origin != "" || all[0].Acquired != "20090203" || all[0].Ancestry != "Ann/open" {
		t.Errorf("%+v (%v)", all, err)
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

// Texts stand as they are: no apostrophe before what a spreadsheet would run.
func TestPassportsAreNotGuarded(t *testing.T) {
	for _, name := range []string{"=1+1", "-2 °C frost", "'=1", "'Twas", "=HYPERLINK(\"http://x\")"} {
		var out bytes.Buffer
		if err := WritePassports(&out, []Passport{{Number: "2001X001-A", Ancestry: name}}); err != nil {
			t.Fatal(err)
		}
		rows, err := csv.NewReader(&out).ReadAll()
		if err != nil || rows[1][1] != name {
			t.Errorf("%q becomes %q (%v)", name, rows, err)
		}
	}
}

func TestPassportsOfACircle(t *testing.T) {
	var cycle *CycleError
	circle := familyRows(t, familyCSV("1 = 2a × Ann\n2 = 1a × Bob"), "seedlings.csv", "2001X001-A1-A,,,,,,,")
	if _, _, err := Passports(circle, apple, nil); !errors.As(err, &cycle) {
		t.Errorf("error %v, want a *CycleError", err)
	}
}
