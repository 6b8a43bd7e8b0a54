package registry

import (
	"strings"
	"testing"
)

// What people write by hand for pollen that is of no one plant; common practice,
// collected from the ways in which such notes are commonly kept. None of it may
// become a founder.
var byHand = map[ParentKind][]string{
	OpenPollen: {"op", "OP", "o.p.", "O. P.", "o.p", "o p", " Op ", "open", "Open", "OPEN", "open pollinated", "open-pollinated",
		"Open‑Pollinated", "openpollinated", "open  pollination", "Open Poll.", "(open)", "[OP]", "\"open\"", "open pollinated (bees)", "op, row 3",
		"OP: orchard by the lane", "open – no bag", "free pollination", "freely pollinated", "o/p", "O-P", "frei abgeblüht", "Freie Abblüte",
		"pollinisation libre", "vrij bestoven", "Fri bestøvning", "op seedling"},
	MixedPollen: {"mixed pollen", "Mixed", "mix", "pollen mix", "Pollen-mix", "mixture", "bulk pollen", "bulked pollen", "polymix", "various",
		"several", "mixed pollen ", "MIXED POLLEN?", "Pollenmischung"},
	UnknownParent: {"?", "??", "???", "-", "—", "–", "unknown", "Unknown", "UNKNOWN", "unknown?", "(unknown)", "not known", "n/a", "N.A.", "n / a",
		"...", "unkown", "no label", "don't know", "?, maybe a crab", "unbekannt", "inconnu", "unknown pollen", "not recorded", "¿?", "*"},
	OwnPollen: {"self", "Selfed", "selfing", "self-pollinated", "itself", "selbst"},
}

func TestParentsByHand(t *testing.T) {
	n := 0
	for kind, cells := range byHand {
		for _, cell := range cells {
			n++
			p := ReadParent(cell)
			if p.Kind != kind || p.Names != nil {
				t.Errorf("%q is read as %v %q, want %v", cell, p.Kind, p.Names, kind)
			}
			if again := ReadParent(p.String()); again.Kind != kind {
				t.Errorf("%q is written as %q, which is read as %v", cell, p, again.Kind)
			}
		}
	}
	if n < 40 {
		t.Errorf("%d spellings are too few", n)
	}
}

// Names that hold such a word, or begin as one does, are names.
func TestNamesThatLookLikeNoPlant(t *testing.T) {
	for _, name := range []string{"Openshaw Tessel", "Opal Vindal", "Op de Heide", "Mixbury Lade", "Selfridge Amber", "Unknown Soldier's Clasp", "Nonesuch Vindal", "Variousholm",
		"Tarn Amber", "Tarn Amber?", "St. Orlie", "Freilassing Goch", "Ann", "Na", "N", "X", "12", "R 14-3", "2026X012-B2-C", "Bob; early", "Bulkhead Lade", "Selby",
		"Lost Hollow", "Mix Amber", "Open Gate Tesselet"} {
		if p := ReadParent(name); p.Kind != OnePlant || len(p.Names) != 1 || p.Names[0] != name || p.String() != name {
			t.Errorf("%q is read as %v %q", name, p.Kind, p.Names)
		}
	}
}

func TestMixturesByHand(t *testing.T) {
	for cell, want := range map[string]string{
		"mixture of Tarn Amber + Gwennol Goch": "mixture of Tarn Amber + Gwennol Goch",
		"Mixed: Tarn Amber, Gwennol Goch":      "mixture of Tarn Amber + Gwennol Goch",
		"pollen mix (Tarn Amber; Otterhay)":    "mixture of Tarn Amber + Otterhay",
		"mix = A & B & C":                      "mixture of A + B + C",
		"Tarn Amber + Gwennol Goch":            "mixture of Tarn Amber + Gwennol Goch",
		"mixed pollen of A, B + C":             "mixture of A, B + C",
		"mix 3":                                "mixture of 3",
		"bulk pollen no. 12":                   "mixture of 12",
		"MIXTURE OF TARN AMBER + GWENNOL GOCH": "mixture of TARN AMBER + GWENNOL GOCH",
		"mixture of":                           "mixture",
		"mixture:":                             "mixture",
		"(mixture of Tarn Amber + Gwennol)":    "mixture of Tarn Amber + Gwennol",
		"[mixed: Tarn Amber, Gwennol]":         "mixture of Tarn Amber + Gwennol",
		"mixed - A, B of the lane":             "mixture of A + B of the lane",
	} {
		p := ReadParent(cell)
		if p.Kind != MixedPollen || p.String() != want {
			t.Errorf("%q is read as %v %q, want %q", cell, p.Kind, p, want)
		}
		if again := ReadParent(p.String()); again.String() != want {
			t.Errorf("%q is read back as %q", want, again)
		}
	}
}

// Whatever stands in a cell, what the program writes for it means the same when
// it is read again.
func FuzzReadParent(f *testing.F) {
	for _, cells := range byHand {
		for _, cell := range cells {
			f.Add(cell)
		}
	}
	f.Add("mix (A + , + B")
	f.Fuzz(func(t *testing.T, cell string) {
		p := ReadParent(cell)
		said := p.String()
		again := ReadParent(said)
		if again.Kind != p.Kind || again.String() != said && p.Kind != MixedPollen {
			t.Errorf("%q is written as %q (%v), and read as %q (%v)", cell, said, p.Kind, again, again.Kind)
		}
	})
}

// A cell stays as a person wrote it, and is read as the program has it.
func TestHandWordsStayInTheFile(t *testing.T) {
	header := "id,seed_parent,pollen_parent,pollinated,flowers,state,notes\n"
	rows := header + "2026X001,Ann,o. p.,2026-05-01,,,\n2026X002,Ann,\"mixed: Bob, Cat\",2026-05-01,,,\n"
	dir := newRegistry(t, map[string]string{"crosses.csv": rows})
	r := mustOpen(t, dir)
	if got := r.Crosses()[0].PollenParent + "; " + r.Crosses()[1].PollenParent; got != "open; mixture of Bob + Cat" {
		t.Errorf("read as %q", got)
	}
	mustChange(t, dir, func(r *Registry) error {
		_, err := r.AddCross(NewCross{SeedParent: "Ann", PollenParent: "OP", Year: 2027})
		return err
	})
	if got := readFile(t, dir, "crosses.csv"); got != rows+"2027X001,Ann,open,,,,\n" {
		t.Errorf("crosses.csv is now\n%s", got)
	}
	if found := mustOpen(t, dir).Damage(); len(found) > 0 {
		t.Errorf("damage: %v", found)
	}
}

// Each plant of a mixture is looked at as a single parent is.
func TestMixtureOfPlantsThatAreNotThere(t *testing.T) {
	dir := newRegistry(t, nil)
	for _, c := range []struct{ pollen, want string }{
		{"mixture of Ann + 2025X001-A1-A", "there is no seedling 2025X001-A1-A"},
		{"mixture of Ann + 2025X001-A1-A.Z", "the check character"},
	} {
		err := Change(dir, Options{}, func(r *Registry) error {
			_, err := r.AddCross(NewCross{SeedParent: "Ann", PollenParent: c.pollen, Year: 2026})
			return err
		})
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v, want %q", c.pollen, err, c.want)
		}
	}
}

func BenchmarkReadParent(b *testing.B) {
	for b.Loop() {
		for _, cell := range []string{"Larkfield Tessel", "Härmä Punanen", "2026X012-B2-C", "open"} {
			ReadParent(cell)
		}
	}
}
