package season

import (
	"errors"
	"fmt"
	"strings"
	"testing"

	"pipstake/ids"
	"pipstake/ids/registry"
)

// A parent that was selfed by hand may stand on either side, and pollen of no one
// plant is another each time.
func TestParentsThatAreNoName(t *testing.T) {
	for _, c := range []struct {
		crosses string
		want    float64
		open    bool
	}{
		{"1 = Ann × selfed", .5, false},
		{"1 = selfed × Ann", .5, false},
		{"1 = unknown × selfed", .5, true}, // whatever it was, it is one plant
		{"1 = unknown × unknown", 0, true},
		{"1 = Ann × Bob\n2 = 1a × op", 0, true},
		{"1 = op × Bob\n2 = Cat × 1a", 0, true},
		{"1 = Ann × Bob\n2 = Cat × 1a", 0, false},
	} {
		p := family(t, c.crosses)
		plant := of(t, p, c.crosses[strings.LastIndex(c.crosses, "\n")+1:][:1])
		if got := p.Inbreeding(plant); got != c.want || plant.PartlyUnknown() != c.open || plant.IsUnknown() {
			t.Errorf("%q: F %v, partly unknown %v", c.crosses, got, plant.PartlyUnknown())
		}
		for _, parent := range []*Plant{plant.Seed, plant.Pollen} {
			if parent.IsUnknown() != (parent.String() == "unknown" || parent.String() == "open") {
				t.Errorf("%q: %s is unknown: %v", c.crosses, parent, parent.IsUnknown())
			}
		}
	}
}

// Any name can be asked for: one that nobody has on record is a founder, and the
// same one each time.
func TestNamedPlants(t *testing.T) {
	r := varietyFamily(t, "1 = Ann × Bob\n2 = 1a × Cat", "Sister,Sis,Ann,Bob,,,,,\nOdd,,,,unknown,,,,\nOdder,,,,Odd,,,,\nHalf,,,Cat,,,,,\n", "2001X001-A1-A,,,,,The Pick,,")
	p := NewPedigree(r)
	named := func(name string) *Plant {
		plant, err := p.Named(name)
		if err != nil {
			t.Fatal(err)
		}
		return plant
	}
	for _, c := range []struct {
		name, shown string
		founder     bool
		generations int
	}{
		{"Old Stranger", "Old Stranger", true, 0},
		{"sis", "Sister", false, 1},
		{"the pick", "The Pick", false, 1},
		{"2001X001-A1-A", "The Pick", false, 1},
		{"Odd", "Odd", true, 0}, // a sport of what is no plant
		{"Odder", "Odder", true, 0},
		{"Half", "Half", false, 1},
	} {
		plant := named(c.name)
		if plant.String() != c.shown || plant.IsFounder() != c.founder || plant.Generations() != c.generations || plant != named(strings.ToUpper(c.name)) {
			t.Errorf("%s: %s, founder %v, %d generations", c.name, plant, plant.IsFounder(), plant.Generations())
		}
	}
	if half := named("Half"); half.Seed.String() != "unknown" || half.Pollen.String() != "Cat" || !half.PartlyUnknown() {
		t.Errorf("Half: %s × %s", half.Seed, half.Pollen)
	}
	if a, b := named("Old Stranger"), named("New Stranger"); a == b || p.Coancestry(a, b) != 0 || p.Coancestry(a, a) != .5 {
		t.Errorf("two strangers: %v", p.Coancestry(a, b))
	}
	if own := of(t, p, "2"); own.Seed != named("The Pick") || own.Generations() != 2 || own.String() != "2002X001" {
		t.Errorf("%s: %s × %s", own, own.Seed, own.Pollen)
	}
}

// A circle is told of each time anew, whoever asks, and leaves other plants alone.
func TestCirclesAreToldOfEachTime(t *testing.T) {
	r := varietyFamily(t, "1 = A × Bob\n2 = Ann × Bob", "A,,B,Cat,,,,,\nB,,,,C,,,,\nC,,Dan,A,,,,,\n")
	p := NewPedigree(r)
	for range 2 {
		for name, want := range map[string]string{"A": "A ← B ← C ← A", "B": "B ← C ← A ← B", "C": "C ← A ← B ← C"} {
			var cycle *CycleError
			if _, err := p.Named(name); !errors.As(err, &cycle) || err.Error() != name+" is among its own ancestors: "+want {
				t.Errorf("%s: %v", name, err)
			}
		}
		if plant, err := p.Plant(ids.ID{Year: 2002, Cross: 1}); err != nil || plant.Seed.String() != "Ann" {
			t.Errorf("another cross: %v (%v)", plant, err)
		}
		if plant, err := p.Named("Dan"); err != nil || !plant.IsFounder() {
			t.Errorf("a parent of one of them: %v (%v)", plant, err)
		}
	}
	if err := CheckVariety(r, "Ann", "Bob"); err != nil {
		t.Errorf("varieties beside the circle: %v", err)
	}
	var refusal *registry.Refusal
	if err := CheckVariety(r, "Ann", "C"); !errors.As(err, &refusal) {
		t.Errorf("the second of two names: %v", err)
	}
}

// Common ancestors come in the order in which the pedigree met them, founders with
// the largest share first and then by their names.
func TestOrderOfAncestors(t *testing.T) {
	p := family(t, "1 = Zoe × Ann\n2 = Cat × Bob\n3 = 1a × 2a\n4 = 1b × 2b")
	three, four := of(t, p, "3"), of(t, p, "4")
	names := func(all []*Plant) string {
		var names []string
		for _, a := range all {
			names = append(names, a.String())
		}
		return strings.Join(names, " ")
	}
	for _, both := range [][]*Plant{{three, four}, {four, three}} {
		if got := names(p.NearestCommon(both[0], both[1])); got != "Zoe Ann Cat Bob" {
			t.Errorf("common ancestors %s", got)
		}
	}
	var shares []string
	for _, s := range p.Founders(of(t, family(t, "1 = Zoe × Ann\n2 = 1a × Bob"), "2")) {
		shares = append(shares, fmt.Sprint(s.Founder, s.Part))
	}
	if got := strings.Join(shares, " "); got != "Bob 0.5 Ann 0.25 Zoe 0.25" {
		t.Errorf("founders %s", got)
	}
	ann := three.Seed.Pollen
	if got := p.Founders(ann); len(got) != 1 || got[0] != (Share{ann, 1}) {
		t.Errorf("a founder descends from %v", got)
	}
	if got := p.NearestCommon(three, ann); len(got) != 1 || got[0] != ann {
		t.Errorf("a plant and its founder have %v in common", got)
	}
}

// Where a pedigree is cut, its oldest generations are left out: identifiers and
// names stand for what they hide, and backcrosses count in full.
func TestPurdyIsCut(t *testing.T) {
	for _, c := range []struct {
		crosses string
		most    int
		want    string
		whole   bool
	}{
		{"1 = A × B\n2 = 1a × B\n3 = 2a × B\n4 = 3a × B\n5 = 4a × B", 6, "A/B*5", true},
		{"1 = A × B\n2 = 1a × B\n3 = 2a × B\n4 = 3a × B\n5 = 4a × B", 5, "2001X001-A1-A/B*4", false},
		{"1 = A × B\n2 = 1a × B\n3 = 2a × B\n4 = 3a × B\n5 = 4a × B", 4, "2002X001-A1-A/B*3", false},
		{"1 = A × B\n2 = 1a × B\n3 = 2a × B\n4 = 3a × B\n5 = 4a × B", 3, "2003X001-A1-A/B//B", false},
		{"1 = A × B\n2 = C × D\n3 = 1a × 2a", 4, "A/B//C/D", true},
		{"1 = A × B\n2 = C × D\n3 = 1a × 2a", 3, "2001X001-A1-A/2002X001-A1-A", false},
		{"1 = A × B\n2 = C × D\n3 = 1a × 2a", 2, "2001X001-A1-A/2002X001-A1-A", false},
		{"1 = A × B\n2 = C × D\n3 = 1a × 2a", 1, "2003X001", false},
		{"1 = A × B\n2 = 1a × C", 2, "2001X001-A1-A/C", false},
	} {
		p := family(t, c.crosses)
		number := c.crosses[strings.LastIndex(c.crosses, "\n")+1:][:1]
		if got, whole := p.Purdy(of(t, p, number), c.most); got != c.want || whole != c.whole {
			t.Errorf("%q, at most %d names: %s (whole: %v), want %s", c.crosses, c.most, got, whole, c.want)
		}
	}
	founder, err := family(t, "1 = A × B").Named("A")
	if err != nil {
		t.Fatal(err)
	}
	if text, whole := family(t, "1 = A × B").Purdy(founder, 1); text != "A" || !whole {
		t.Errorf("a founder: %s (whole: %v)", text, whole)
	}
}

// What a parent must be older than is the last day on record before it could
// flower: of pricking out, else of sowing, else of opening the fruit.
func TestYoungParents(t *testing.T) {
	for _, c := range []struct{ lots, pots, seedlings, want string }{
		{"2001X001-A,,2001-10-03,,,,,,,,,", "2001X001-A1,8,2002-01-14,,,,,", "2001X001-A1-A,2002-04-10,,,,,,", "it was pricked out on 2002-04-10"},
		{"2001X001-A,,2001-10-03,,,,,,,,,", "2001X001-A1,8,2002-01-14,,,,,", "2001X001-A1-A,,,,,,,", "it was sown on 2002-01-14"},
		{"2001X001-A,,2001-10-03,,,,,,,,,", "2001X001-A1,8,,,,,,", "2001X001-A1-A,,,,,,,", "it was a seed taken from the fruit on 2001-10-03"},
		{"2001X001-A,,,,,,,,,,,", "2001X001-A1,8,,,,,,", "2001X001-A1-A,,,,,,,", ""},
	} {
		r := written(t, map[string]string{"crosses.csv": crossesHeader + "2001X001,Ann,Bob,,,,,,,,,", "lots.csv": lotsHeader + c.lots, "pots.csv": potsHeader + c.pots, "seedlings.csv": seedlingsHeader + c.seedlings})
		cross := registry.Cross{ID: ids.ID{Year: 2002, Cross: 1}, SeedParent: "Cat", PollenParent: "2001X001-A1-A", Pollinated: day(t, "2001-05-02")}
		err := CheckParents(r, cross)
		if c.want == "" && err != nil || c.want != "" && (err == nil || !strings.Contains(err.Error(), c.want)) {
			t.Errorf("%v, want %q", err, c.want)
		}
	}
}

// The findings of circles stand on the row of what they begin with.
func TestCirclesAreFoundOnTheirRows(t *testing.T) {
	for _, c := range []struct{ crosses, varieties, want string }{
		{"2 = Ann × Bob\n1 = 1a × Cat", "", "crosses.csv 3 id"},
		{"1 = Ann × Bob", "Ida,,Ann,Bob,,,,,\nEve,,Eve,Bob,,,,,\n", "varieties.csv 3 name"},
		{"1 = Ann × Bob", "Ida,,Eve,Bob,,,,,\nEve,,Ida,Bob,,,,,\n", "varieties.csv 2 name"},
	} {
		r := varietyFamily(t, c.crosses, c.varieties)
		var got []string
		for _, f := range CheckPedigree(r) {
			if strings.Contains(f.What, "own ancestors") {
				got = append(got, fmt.Sprint(f.File, f.Row, " ", f.Column))
			}
		}
		if s := strings.Join(got, "; "); strings.ReplaceAll(s, " ", "") != strings.ReplaceAll(c.want, " ", "") {
			t.Errorf("%q, %q: %s, want %s", c.crosses, c.varieties, s, c.want)
		}
	}
}
