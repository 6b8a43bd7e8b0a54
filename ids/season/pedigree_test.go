package season

import (
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"pipstake/ids"
	"pipstake/ids/registry"
)

// familyRows is a registry with some rows in crosses.csv, and others in
// further tables: "seedlings.csv", rows, and so on.
func familyRows(t *testing.T, crosses string, more ...string) *registry.Registry {
	t.Helper()
	dir := blank(t)
	headers := map[string]string{
		"crosses.csv":   "id,seed_parent,pollen_parent,pollinated,flowers,state,notes\n",
		"lots.csv":      "id,issued,extracted,fruit,seeds,undeveloped,chilled,state,notes\n",
		"pots.csv":      "id,seeds,sown,place,state,notes\n",
		"seedlings.csv": "id,pricked,state,notes,place,name,ended,fate\n",
		"varieties.csv": varietiesHeader,
	}
	tables := append([]string{"crosses.csv", crosses}, more...)
	for i := 0; i < len(tables); i += 2 {
		rows := headers[tables[i]] + tables[i+1] + "\n"
		if err := os.WriteFile(filepath.Join(dir, tables[i]), []byte(rows), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	r, err := registry.Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// family reads crosses off lines such as "2001X001 = Ann × Bob". Below a line
// "1 = Ann × Bob", 1a and 1b are two plants of that cross.
func family(t *testing.T, lines string) *Pedigree {
	t.Helper()
	return NewPedigree(familyRows(t, familyCSV(lines)))
}

// familyCSV writes such lines as rows: number 1 is cross 2001X001, and 1a its
// seedling 2001X001-A1-A.
func familyCSV(lines string) string {
	var rows []string
	for line := range strings.SplitSeq(strings.TrimSpace(lines), "\n") {
		id, parents, _ := strings.Cut(line, " = ")
		seed, pollen, _ := strings.Cut(parents, " × ")
		rows = append(rows, fmt.Sprintf("%s,%s,%s,,,,", familyID(strings.TrimSpace(id)), familyPlant(seed), familyPlant(pollen)))
	}
	return strings.Join(rows, "\n")
}

func familyID(number string) string {
	var n int
	var letter rune
	fmt.Sscanf(number, "%d%c", &n, &letter)
	id := fmt.Sprintf("%04dX001", 2000+n)
	if letter != 0 {
		id += "-A1-" + strings.ToUpper(string(letter))
	}
	return id
}

// familyPlant is a parent: 1a is a seedling, anything else a name.
func familyPlant(name string) string {
	if name[0] >= '0' && name[0] <= '9' {
		return familyID(name)
	}
	return name
}

// of returns the plant with a number.
func of(t *testing.T, p *Pedigree, number string) *Plant {
	t.Helper()
	read, err := ids.Parse(familyID(number))
	if err != nil {
		t.Fatal(err)
	}
	plant, err := p.Plant(read.ID)
	if err != nil {
		t.Fatal(err)
	}
	return plant
}

// The handbook values of the coefficient of inbreeding F with unrelated
// founders (Falconer and Mackay, Introduction to Quantitative Genetics,
// chapters 4 and 5), worked out anew from the definition.
func TestInbreedingOfTheHandbooks(t *testing.T) {
	for _, c := range []struct {
		name, crosses, plant string
		want                 float64
		relation             Relation
	}{
		{"unrelated founders", "1 = Ann × Bob", "1", 0, Unrelated},
		{"selfing", "1 = Ann × Ann", "1", 1. / 2, SamePlant},
		{"selfed twice", "1 = Ann × Ann\n2 = 1a × 1a", "2", 3. / 4, SamePlant},
		{"full sibs", "1 = Ann × Bob\n2 = 1a × 1b", "2", 1. / 4, FullSibs},
		{"reciprocal full sibs", "1 = Ann × Bob\n2 = Bob × Ann\n3 = 1a × 2a", "3", 1. / 4, FullSibs},
		{"half sibs by the pollen parent", "1 = Ann × Bob\n2 = Cat × Bob\n3 = 1a × 2a", "3", 1. / 8, HalfSibs},
		{"half sibs by opposite parents", "1 = Ann × Bob\n2 = Bob × Cat\n3 = 1a × 2a", "3", 1. / 8, HalfSibs},
		{"parent and offspring", "1 = Ann × Bob\n2 = 1a × Ann", "2", 1. / 4, ParentOffspring},
		{"offspring and parent", "1 = Ann × Bob\n2 = Bob × 1a", "2", 1. / 4, ParentOffspring},
		{"first cousins", "1 = Ann × Bob\n2 = 1a × Cat\n3 = 1b × Dan\n4 = 2a × 3a", "4", 1. / 16, Kin},
		{"double first cousins", "1 = Ann × Bob\n2 = Cat × Dan\n3 = 1a × 2a\n4 = 1b × 2b\n5 = 3a × 4a", "5", 1. / 8, Kin},
	} {
		p := family(t, c.crosses)
		plant := of(t, p, c.plant)
		if got := p.Inbreeding(plant); got != c.want {
			t.Errorf("%s: F %v, want %v", c.name, got, c.want)
		}
		if got := p.Relation(plant.Seed, plant.Pollen); got != c.relation {
			t.Errorf("%s: the parents are %v, want %v", c.name, got, c.relation)
		}
		if got := p.Relation(plant.Pollen, plant.Seed); got != c.relation {
			t.Errorf("%s: the other way round the parents are %v, want %v", c.name, got, c.relation)
		}
	}
}

// Mrode, Linear Models for the Prediction of Animal Breeding Values, table 2.1:
// 3 = (1,2), 4 = (1,?), 5 = (4,3), 6 = (5,2); F5 = F6 = 0.125. The numerator
// relationships, twice the coancestries, are those of his example as remembered,
// and agree with the tabular method worked by hand.
func TestMrodesPedigree(t *testing.T) {
	p := family(t, "3 = One × Two\n4 = One × unknown\n5 = 4a × 3a\n6 = 5a × Two")
	for plant, want := range map[string]float64{"3a": 0, "4a": 0, "5a": 0.125, "6a": 0.125} {
		if got := p.Inbreeding(of(t, p, plant)); got != want {
			t.Errorf("F of %s is %v, want %v", plant, got, want)
		}
	}
	three := of(t, p, "3a")
	animals := []*Plant{three.Seed, three.Pollen, three, of(t, p, "4a"), of(t, p, "5a"), of(t, p, "6a")}
	want := [][]float64{
		{1},
		{0, 1},
		{0.5, 0.5, 1},
		{0.5, 0, 0.25, 1},
		{0.5, 0.25, 0.625, 0.625, 1.125},
		{0.25, 0.625, 0.5625, 0.3125, 0.6875, 1.125},
	}
	for i, row := range want {
		for j, a := range row {
			if got := 2 * p.Coancestry(animals[i], animals[j]); got != a {
				t.Errorf("a(%d,%d) = %v, want %v", i+1, j+1, got, a)
			}
			if there, back := p.Coancestry(animals[i], animals[j]), p.Coancestry(animals[j], animals[i]); there != back {
				t.Errorf("coancestry of %d and %d: %v, and %v the other way round", i+1, j+1, there, back)
			}
		}
	}
}

// Regular systems of inbreeding over 40 generations, in which a plant has up to
// 2⁴⁰ lines of descent. The recurrences are those of Falconer and Mackay,
// chapter 5, from memory; the first values of full-sib mating are those of
// their table 5.1 (.25, .375, .5, .594, .672), from memory too.
func TestFortyGenerations(t *testing.T) {
	const n = 40
	selfing, sibs, back := "1 = Ann × Ann", "1 = Ann × Bob", "1 = Bob × Ann"
	for g := 2; g <= n; g++ {
		selfing += fmt.Sprintf("\n%d = %da × %da", g, g-1, g-1)
		sibs += fmt.Sprintf("\n%d = %da × %db", g, g-1, g-1)
		back += fmt.Sprintf("\n%d = %da × Ann", g, g-1)
	}
	self, sib, recurrent := family(t, selfing), family(t, sibs), family(t, back)
	first := []float64{0, 0.25, 0.375, 0.5, 0.59375, 0.671875}
	f1, f2, fb := 0., 0., 0. // of one generation before, of two, of backcrosses
	fs := 0.
	for g := 1; g <= n; g++ {
		fs = (1 + fs) / 2
		if got := self.Inbreeding(of(t, self, fmt.Sprint(g))); got != fs {
			t.Errorf("selfed %d times: F %v, want %v", g, got, fs)
		}
		f := 0.
		if g > 1 {
			f = (1 + 2*f1 + f2) / 4
			fb = (1 + 2*fb) / 4
		}
		f1, f2 = f, f1
		got := sib.Inbreeding(of(t, sib, fmt.Sprint(g)))
		if diff := got - f; diff > 1e-12 || diff < -1e-12 || g <= len(first) && got != first[g-1] {
			t.Errorf("generation %d of full sibs: F %v, want %v", g, got, f)
		}
		if got := recurrent.Inbreeding(of(t, recurrent, fmt.Sprint(g))); got != fb {
			t.Errorf("backcross %d: F %v, want %v", g, got, fb)
		}
	}
	plant := of(t, sib, fmt.Sprint(n))
	if plant.Generations() != n {
		t.Errorf("%d generations, want %d", plant.Generations(), n)
	}
	if shares := sib.Founders(plant); len(shares) != 2 || shares[0].Part != 0.5 || shares[1].Part != 0.5 {
		t.Errorf("founders %v, want half from each", shares)
	}
}

// randomFamily returns crosses among four founders, some of them unknown, and
// the plants of earlier crosses. Each parent is a number, or negative for a
// founder.
func randomFamily(rng *rand.Rand, crosses int) (lines string, parents [][2]int) {
	names := []string{"Ann", "Bob", "Cat", "unknown"}
	for i := range crosses {
		var words [2]string
		var pair [2]int
		for j := range 2 {
			if i == 0 || rng.IntN(3) == 0 {
				k := rng.IntN(len(names))
				words[j], pair[j] = names[k], -1-k
			} else {
				k := rng.IntN(i)
				words[j], pair[j] = fmt.Sprintf("%da", k+1), k
			}
		}
		lines += fmt.Sprintf("%d = %s × %s\n", i+1, words[0], words[1])
		parents = append(parents, pair)
	}
	return lines, parents
}

// The coancestries agree with the tabular method (Emik and Terrill, Journal of
// Heredity 40 (1949) 51–55; from memory), which builds the matrix of
// relationships row by row from the founders down.
func TestCoancestryByTheTabularMethod(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	families := 60
	if testing.Short() {
		families = 12
	}
	for range families {
		lines, parents := randomFamily(rng, 12)
		p := family(t, lines)
		const founders = 3
		n := founders + len(parents)
		at := func(k int) int { // the row of a parent; -1 for an unknown one
			switch {
			case k == -4:
				return -1
			case k < 0:
				return -1 - k
			}
			return founders + k
		}
		a := make([][]float64, n)
		for i := range a {
			a[i] = make([]float64, n)
		}
		related := func(i, j int) float64 {
			if i < 0 || j < 0 {
				return 0
			}
			return a[i][j]
		}
		for i := range n {
			a[i][i] = 1
			if i < founders {
				continue
			}
			s, d := at(parents[i-founders][0]), at(parents[i-founders][1])
			a[i][i] += related(s, d) / 2
			for j := range i {
				a[i][j] = (related(j, s) + related(j, d)) / 2
				a[j][i] = a[i][j]
			}
		}
		for i := founders; i < n; i++ {
			for j := founders; j <= i; j++ {
				x, y := of(t, p, fmt.Sprintf("%da", i-founders+1)), of(t, p, fmt.Sprintf("%da", j-founders+1))
				if got := 2 * p.Coancestry(x, y); got != a[i][j] {
					t.Fatalf("%sa(%v,%v) = %v, want %v", lines, x, y, got, a[i][j])
				}
			}
		}
	}
}

func TestFoundersAndCommonAncestors(t *testing.T) {
	p := family(t, "1 = Ann × Bob\n2 = 1a × Ann\n3 = 1b × unknown\n4 = 2a × 3a")
	var got []string
	sum := 0.
	for _, s := range p.Founders(of(t, p, "4")) {
		got = append(got, fmt.Sprintf("%s %v", s.Founder, s.Part))
		sum += s.Part
	}
	if want := "Ann 0.5; unknown 0.25; Bob 0.25"; sum != 1 || !sameParts(got, want) {
		t.Errorf("founders %v (sum %v), want %s", got, sum, want)
	}
	got = nil
	plant := of(t, p, "4")
	for _, a := range p.NearestCommon(plant.Seed, plant.Pollen) {
		got = append(got, a.String())
	}
	if !sameParts(got, "Ann; Bob") {
		t.Errorf("common ancestors %v, want Ann and Bob", got)
	}
	// A parent stands for all that descends through it alone.
	if common := p.NearestCommon(of(t, p, "2a"), of(t, p, "1a")); len(common) != 1 || common[0] != of(t, p, "1a") {
		t.Errorf("common ancestors of offspring and parent: %v, want the parent", common)
	}
	if common := p.NearestCommon(of(t, p, "1a"), of(t, family(t, "7 = Cat × Dan"), "7a")); len(common) != 0 {
		t.Errorf("common ancestors of strangers: %v", common)
	}
}

// sameParts compares without the order.
func sameParts(got []string, want string) bool {
	wanted := strings.Split(want, "; ")
	if len(got) != len(wanted) {
		return false
	}
	for _, w := range wanted {
		if !strings.Contains(strings.Join(got, "; "), w) {
			return false
		}
	}
	return true
}

// Founders are the same where their names are, however they are written; those
// that are not known never are.
func TestSameFounder(t *testing.T) {
	p := family(t, "1 = Härmä Punanen × Bob\n2 = ha\u0308rma\u0308  PUNANEN × Cat\n3 = 1a × 2a\n"+
		"4 = unknown × Bob\n5 = Unknown × Cat\n6 = 4a × 5a\n7 = Ann × open pollinated\n8 = 7a × 7b\n9 = ? × ?")
	for plant, want := range map[string]float64{
		"3": 1. / 8, // half sibs
		"6": 0,
		"8": 1. / 8, // two seeds of one tree, pollen unknown: half sibs
		"9": 0,      // no selfing
	} {
		if got := p.Inbreeding(of(t, p, plant)); got != want {
			t.Errorf("F of %s is %v, want %v", plant, got, want)
		}
	}
}

// A seedling whose cross has no row is a founder under its identifier; a seed
// lot or pot stands for any plant of its cross.
func TestPlantsWithoutRows(t *testing.T) {
	p := family(t, "1 = Ann × Bob\n3 = 2a × 2a")
	plant := of(t, p, "3")
	if !plant.Seed.IsFounder() || plant.Seed.String() != "2002X001-A1-A" || p.Inbreeding(plant) != 0.5 {
		t.Errorf("%v selfed: %v, F %v", plant.Seed, plant.Seed.IsFounder(), p.Inbreeding(plant))
	}
	lot, err := p.Plant(ids.ID{Year: 2001, Cross: 1, Lot: 2})
	if err != nil || lot != of(t, p, "1") {
		t.Errorf("the plant of a seed lot is %v (%v), want that of its cross", lot, err)
	}
}

func TestCycleError(t *testing.T) {
	for lines, want := range map[string]string{
		"1 = 1a × Bob": "2001X001-A1-A is among its own ancestors: 2001X001-A1-A ← 2001X001-A1-A",
		"1 = 3a × Bob\n2 = Ann × 1b\n3 = 2a × Cat":            "2003X001-A1-A is among its own ancestors: 2003X001-A1-A ← 2002X001-A1-A ← 2001X001-A1-B ← 2003X001-A1-A",
		"1 = Ann × Bob\n2 = 1a × Cat\n3 = 2a × 2b\n4 = ? × ?": "",
	} {
		p := family(t, lines)
		for range 2 { // the second time is no different
			_, err := p.Plant(ids.ID{Year: 2001, Cross: 1})
			var cycle *CycleError
			if want == "" && err != nil || want != "" && (!errors.As(err, &cycle) || err.Error() != want) {
				t.Errorf("%q: %v, want %q", lines, err, want)
			}
		}
	}
}
