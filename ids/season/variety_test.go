package season

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"pipstake/ids"
	"pipstake/ids/registry"
)

const varietiesHeader = "name,also,seed_parent,pollen_parent,sport_of,ploidy,s_alleles,year,notes\n"

// varietyFamily is family with rows for varieties.csv, such as
// "Red Ann,,,,Ann,,,,", and for seedlings.csv behind them.
func varietyFamily(t *testing.T, crosses, varieties string, seedlings ...string) *registry.Registry {
	t.Helper()
	tables := []string{"varieties.csv", varieties}
	for _, s := range seedlings {
		tables = append(tables, "seedlings.csv", s)
	}
	return familyRows(t, familyCSV(crosses), tables...)
}

// Handbook values of F where sports, varieties with known parents, other
// spellings and selections stand between the crosses and the founders: a sport
// is the genotype that it was found on (Falconer and Mackay's definition of F by
// identity of descent leaves no other value).
func TestInbreedingThroughVarieties(t *testing.T) {
	const varieties = "Red Ann,Rote Anne; R. Ann,,,Ann,,,,\n" + // sport of a founder
		"Early Red Ann,,,,red  ann,,,,\n" + // sport of a sport
		"Sister,,Ann,Bob,,,,,\nBrother,,Bob,Red Ann,,,,1874,\n" + // full sibs, one through a sport
		"Sister Two,,,,Sister,,,,\n" + // sport of a variety with parents
		"Half,,Ann,,,,,,\n" + // pollen parent not known
		"Wild,,open,unknown,,,,,\n"
	for _, c := range []struct {
		name, crosses string
		want          float64
		relation      Relation
		least         bool // F is a least value
	}{
		{"two sports of one: a selfing", "1 = Red Ann × Early Red Ann", 1. / 2, SamePlant, false},
		{"a sport by another spelling", "1 = Ann × ROTE ANNE", 1. / 2, SamePlant, false},
		{"full sibs through a sport", "1 = Sister × Brother", 1. / 4, FullSibs, false},
		{"a sport of a full sib", "1 = Sister Two × Brother", 1. / 4, FullSibs, false},
		{"sports of founders are no kin of others", "1 = Red Ann × Bob", 0, Unrelated, false},
		{"parent and offspring through a sport", "1 = Early Red Ann × Sister", 1. / 4, ParentOffspring, false},
		{"half sibs, one parent open", "1 = Half × Sister", 1. / 8, HalfSibs, true},
		{"nothing known", "1 = Wild × Half", 0, Unrelated, true},
		{"a selection by its name", "2 = Ann × Bob\n3 = The Pick × Sister", 1. / 4, FullSibs, false},
		{"open pollen twice is not the same pollen", "1 = Ann × op\n2 = 1a × open pollinated", 0, Unrelated, true},
		{"a mixture is no relative", "1 = Ann × mixture of Ann + Bob", 0, Unrelated, true},
		{"selfed, by hand", "1 = Bob × selfed", 1. / 2, SamePlant, false},
	} {
		seedlings := ""
		if strings.Contains(c.crosses, "The Pick") {
			seedlings = "2002X001-A1-A,2002-04-01,,,,The Pick,,"
		}
		r := familyRows(t, familyCSV(c.crosses), "varieties.csv", varieties, "seedlings.csv", seedlings)
		p := NewPedigree(r)
		lines := strings.Split(c.crosses, "\n")
		last, _, _ := strings.Cut(lines[len(lines)-1], " ")
		plant := of(t, p, last)
		if got := p.Inbreeding(plant); got != c.want {
			t.Errorf("%s: F %v, want %v", c.name, got, c.want)
		}
		if got := p.Relation(plant.Seed, plant.Pollen); got != c.relation {
			t.Errorf("%s: the parents are %v, want %v", c.name, got, c.relation)
		}
		if plant.PartlyUnknown() != c.least {
			t.Errorf("%s: least value %v, want %v", c.name, plant.PartlyUnknown(), c.least)
		}
	}
}

// randomPlants is a pedigree of founders, varieties, sports, crosses and
// selections, each with parents among those before it.
type randomPlants struct {
	names    []string // how each is named as a parent; some in more than one spelling
	parents  [][2]int // -1 for none known
	genotype []int    // of a sport, the first plant that it is one of; else the plant itself
	cross    []string // "7a" for a plant of cross 7, else ""
	registry *registry.Registry
}

func newRandomPlants(t *testing.T, rng *rand.Rand, n int) randomPlants {
	var all randomPlants
	var crosses []string
	var varieties, seedlings strings.Builder
	pick := func() (string, int) {
		if rng.IntN(8) == 0 {
			return []string{"unknown", "?", "o. p.", "mixed pollen"}[rng.IntN(4)], -1
		}
		i := rng.IntN(len(all.names))
		name := all.names[i]
		switch spelled := rng.IntN(3); {
		case name[0] < 'A': // a number
		case spelled == 0:
			name = strings.ToUpper(name)
		case spelled == 1 && all.cross[i] == "":
			name = "Old " + name // on record as another spelling
		}
		return name, i
	}
	for i := range n {
		name := fmt.Sprintf("Plant %d", i)
		kind := rng.IntN(5)
		if i < 3 {
			kind = 0
		}
		parents, genotype, cross := [2]int{-1, -1}, i, ""
		switch kind {
		case 0: // a founder
			fmt.Fprintf(&varieties, "%s,Old %s,,,,,,,\n", name, name)
		case 1: // a variety with parents
			seed, s := pick()
			pollen, d := pick()
			parents = [2]int{s, d}
			fmt.Fprintf(&varieties, "%s,Old %s,%s,%s,,,,,\n", name, name, familyPlant(seed), familyPlant(pollen))
		case 2: // a sport
			of, s := pick()
			if s < 0 {
				of, s = all.names[0], 0
			}
			parents, genotype = all.parents[s], all.genotype[s]
			fmt.Fprintf(&varieties, "%s,Old %s,,,%s,,,,\n", name, name, familyPlant(of))
		default: // a cross, and a selection of it
			seed, s := pick()
			pollen, d := pick()
			parents = [2]int{s, d}
			cross = fmt.Sprintf("%da", i+1)
			crosses = append(crosses, fmt.Sprintf("%d = %s × %s", i+1, seed, pollen))
			selection := ""
			if kind == 4 {
				selection = name
			} else {
				name = cross
			}
			fmt.Fprintf(&seedlings, "%s,,,,,%s,,\n", familyID(cross), selection)
		}
		all.names, all.parents, all.genotype, all.cross = append(all.names, name), append(all.parents, parents), append(all.genotype, genotype), append(all.cross, cross)
	}
	if crosses == nil {
		crosses = []string{"1 = Plant 0 × Plant 1"}
	}
	all.registry = familyRows(t, familyCSV(strings.Join(crosses, "\n")), "varieties.csv", varieties.String(), "seedlings.csv", seedlings.String())
	return all
}

// relationships are those of the genotypes, by the decomposition A = TDTᵀ
// (Henderson, Biometrics 32 (1976) 69–83; Thompson, Biometrics 33 (1977)
// 705–712; both from memory): T holds the share of each genotype's genes that
// comes of each before it, and D what Mendelian sampling adds. Nothing in it
// goes from pair to pair, as the program does.
func (all randomPlants) relationships() [][]float64 {
	n := len(all.names)
	trace := make([][]float64, n) // T
	sampling := make([]float64, n)
	inbred := make([]float64, n)
	for i := range n {
		trace[i] = make([]float64, n)
		if all.genotype[i] != i {
			copy(trace[i], trace[all.genotype[i]])
			continue
		}
		trace[i][i] = 1
		sampling[i] = 1
		for _, parent := range all.parents[i] {
			if parent < 0 {
				continue
			}
			of := all.genotype[parent]
			for j := range i {
				trace[i][j] += trace[of][j] / 2
			}
			sampling[i] -= (1 + inbred[of]) / 4
		}
		own := 0.
		for j := range i + 1 {
			own += trace[i][j] * trace[i][j] * sampling[j]
		}
		inbred[i] = own - 1
	}
	a := make([][]float64, n)
	for i := range n {
		a[i] = make([]float64, n)
		for j := range n {
			for k := range n {
				a[i][j] += trace[i][k] * sampling[k] * trace[j][k]
			}
		}
	}
	return a
}

// Over 200 random pedigrees with varieties, sports, selections, other spellings
// and parents that nobody knows, coancestries are those of the second method.
func TestKinshipOfVarietiesByAnotherMethod(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	related, sports, families := 0, 0, 200
	if testing.Short() {
		families = 40
	}
	for range families {
		all := newRandomPlants(t, rng, 14)
		want := all.relationships()
		p := NewPedigree(all.registry)
		plants := make([]*Plant, len(all.names))
		for i, name := range all.names {
			var err error
			if plants[i], err = p.Named(familyPlant(name)); err != nil {
				t.Fatal(err)
			}
		}
		for i := range plants {
			if all.genotype[i] != i {
				sports++
			}
			for j := range i + 1 {
				if got := 2 * p.Coancestry(plants[i], plants[j]); math.Abs(got-want[i][j]) > 1e-12 {
					t.Fatalf("%s and %s: relationship %v, want %v\n%v", all.names[i], all.names[j], got, want[i][j], all.parents)
				}
				if i != j && want[i][j] > 0 {
					related++
				}
			}
		}
	}
	if related < 10*families || sports < families {
		t.Errorf("%d pairs of relatives and %d sports: too few to prove anything", related, sports)
	}
}

// A tree shows a sport by its own name and with the parents of what it is one of.
func TestTreeOfASport(t *testing.T) {
	r := varietyFamily(t, "1 = Red Sister × Cat", "Sister,,Ann,Bob,,,,,\nRed Sister,,,,Sister,,,,\n")
	p := NewPedigree(r)
	plant := of(t, p, "1")
	tree := p.Tree(plant, 0)
	sport := tree.Parents[0]
	if sport.Plant.String() != "Red Sister" || sport.Plant.Sport.String() != "Sister" || len(sport.Parents) != 2 || sport.Parents[1].Plant.String() != "Bob" {
		t.Errorf("the sport is %v with %d parents", sport.Plant, len(sport.Parents))
	}
	if text, whole := p.Purdy(plant, 32); text != "Ann/Bob//Cat" || !whole {
		t.Errorf("Purdy %s", text)
	}
	var founders []string
	for _, s := range p.Founders(plant) {
		founders = append(founders, fmt.Sprint(s.Founder, s.Part))
	}
	if got := strings.Join(founders, " "); got != "Cat 0.5 Ann 0.25 Bob 0.25" {
		t.Errorf("founders %s", got)
	}
}

// A sport descends from the founders of what it is one of, and has with another
// sport all that in common.
func TestSportsOfFounders(t *testing.T) {
	p := NewPedigree(varietyFamily(t, "1 = Red Ann × Bob", "Red Ann,,,,Ann,,,,\nEarly Red Ann,,,,Red Ann,,,,\n"))
	named := func(name string) *Plant {
		plant, err := p.Named(name)
		if err != nil {
			t.Fatal(err)
		}
		return plant
	}
	for _, name := range []string{"Ann", "Red Ann", "Early Red Ann"} {
		if got := p.Founders(named(name)); len(got) != 1 || got[0] != (Share{named("Ann"), 1}) {
			t.Errorf("%s descends from %v", name, got)
		}
		if got := p.NearestCommon(named(name), named("Early Red Ann")); len(got) != 1 || got[0] != named("Ann") {
			t.Errorf("%s and Early Red Ann have %v in common", name, got)
		}
		if got := p.NearestCommon(of(t, p, "1"), named(name)); len(got) != 1 || got[0] != named("Ann") {
			t.Errorf("a cross and %s have %v in common", name, got)
		}
	}
}

func TestCheckVariety(t *testing.T) {
	for varieties, want := range map[string]string{
		"A,,B,Cat,,,,,\nB,,,,C,,,,\nC,,Dan,A,,,,,\n": "A is among its own ancestors: A ← B ← C ← A",
		"A,,,,B,,,,\nB,,,,A,,,,\n":                   "A is among its own ancestors: A ← B ← A",
		"A,,Ann,a,,,,,\n":                            "A is among its own ancestors: A ← A",
		"A,,2001X001-A1-A,Bob,,,,,\n":                "A is among its own ancestors: A ← 2001X001-A1-A ← A",
		"A,,Ann,Bob,,,,,\nB,,A,A,,,,,\n":             "",
	} {
		r := varietyFamily(t, "1 = A × Bob", varieties, "2001X001-A1-A,,,,,,,")
		err := CheckVariety(r, "A")
		var refusal *registry.Refusal
		if want == "" && err != nil || want != "" && (!errors.As(err, &refusal) || refusal.What != want) {
			t.Errorf("%q: %v, want %q", varieties, err, want)
		}
		found := 0
		for _, f := range CheckPedigree(r) {
			if strings.Contains(f.What, "among its own ancestors") {
				found++
			}
		}
		if found > 1 || (found == 1) != (want != "") {
			t.Errorf("%q: check finds %d circles", varieties, found)
		}
	}
}

// What a hand edit can leave in varieties.csv; years before 1900 are fine.
func TestCheckVarieties(t *testing.T) {
	for row, want := range map[string]string{
		"Ann,,Old,Bob,,,,1792,\nOld,,,,,,,1650,":      "",
		"Ann,,Old,Bob,,,,1650,\nOld,,,,,,,1792,":      `row 2, column seed_parent: "Old" is of 1792, and Ann of 1650`,
		"Ann,,Bob,Cat,Dan,,,,":                        `row 2, column sport_of: "Dan" a sport has the parents of what it is a sport of, and this row has its own`,
		"The Pick,,Bob,Cat,,,,,":                      `row 2, column name: "The Pick" is the name of the selection 2001X001-A1-A, whose parents are those of its cross`,
		"The Pick,,,,,3,S2 S3,,":                      "",
		"Ann,,2001X001-A1-B,Cat,,,,,":                 `row 2, column seed_parent: "2001X001-A1-B" has no row in seedlings.csv`,
		"Ann,,2001X001-A1,Cat,,,,,":                   `row 2, column seed_parent: "2001X001-A1" is a pot, not a plant`,
		"Ann,,2001X001-A1-A,unknown,,,,2001,":         `row 2, column seed_parent: "2001X001-A1-A" came of a cross of 2001, and Ann is of 2001`,
		"Ann,,2001X001-A1-A,open pollinated,,,,2010,": "",
		"Old,,,,,,,1792,\nAnn,,Old,Bob,,,,1650,":      `row 3, column seed_parent: "Old" is of 1792, and Ann of 1650`,
		"Old,,,,,,,1,\nAnn,,Old,Bob,,,,1650,":         "",
		"Ann,,Bob,The Pick,,,,2002,":                  "", // Bob has no row
		"Ann,,Bob,,,,,,\nBob,,,,,,,1990,":             "", // of which year is not known
		"Ann,,Bob,Cat,,,,1990,\nBob,,,,,,,1990,":      "",
		"Ann,,Nobody,Cat,,,,1990,":                    "",
		"Ann,,2001X001-A1-A,Cat,,,,2002,":             "",
		"Ann,,,,2001X001-A1-B,,,,":                    `row 2, column sport_of: "2001X001-A1-B" has no row in seedlings.csv`,
		"Ann,,Cat,2001X001-A1,,,,,":                   `row 2, column pollen_parent: "2001X001-A1" is a pot, not a plant`,
		"The Pick,,,,Dan,,,,":                         `row 2, column name: "The Pick" is the name of the selection 2001X001-A1-A, whose parents are those of its cross`,
		"Ann,,The Pick,Cat,,,,1990,":                  `row 2, column seed_parent: "The Pick" came of a cross of 2001, and Ann is of 1990`,
	} {
		r := varietyFamily(t, "1 = Ida × Bob", row, "2001X001-A1-A,,,,,The Pick,,")
		var got []string
		for _, f := range CheckPedigree(r) {
			got = append(got, f.String())
		}
		said := strings.Join(got, "\n")
		if want == "" && said != "" || !strings.HasPrefix(said, strings.TrimSuffix("varieties.csv "+want, "varieties.csv ")) || len(got) > 1 {
			t.Errorf("%s:\n%s\nwant %s", row, said, want)
		}
	}
}

// A named selection must be older than the cross, by name as by identifier.
func TestSelectionTooYoung(t *testing.T) {
	r := varietyFamily(t, "1 = Ann × Bob", "", "2001X001-A1-A,2002-05-01,,,,The Pick,,")
	for cross, want := range map[registry.Cross]string{
		{ID: ids.ID{Year: 2001, Cross: 2}, SeedParent: "the pick", PollenParent: "Ann"}:                                                           "seed parent the pick cannot have flowered in 2001",
		{ID: ids.ID{Year: 2003, Cross: 1}, SeedParent: "Ann", PollenParent: "The Pick", Pollinated: registry.Date{Year: 2002, Month: 4, Day: 30}}: "pollen parent The Pick is younger than the cross",
		{ID: ids.ID{Year: 2004, Cross: 1}, SeedParent: "Ann", PollenParent: "The Pick"}:                                                           "",
	} {
		err := CheckParents(r, cross)
		if want == "" && err != nil || want != "" && (err == nil || !strings.HasPrefix(err.Error(), want)) {
			t.Errorf("%v: %v, want %q", cross.ID, err, want)
		}
	}
	p := NewPedigree(familyRows(t, familyCSV("1 = Ann × Bob\n3 = the  PICK × Cat\n4 = 1a × 1a\n5 = 1b × Cat\n6 = Ann × 1b")+"\n2007X001,The Pick,Bob,,,void,frost", "seedlings.csv", "2001X001-A1-A,,,,,The Pick,,\n2001X001-A1-B,,,,,,,"))
	var uses []string
	for _, u := range p.Uses(ids.ID{Year: 2001, Cross: 1, Lot: 1, Pot: 1, Seedling: 1}) {
		uses = append(uses, u.Cross.String()+u.Role.String())
	}
	if got := strings.Join(uses, " "); got != "2003X001♀ 2004X001♀♂" {
		t.Errorf("uses %q", got)
	}
}
