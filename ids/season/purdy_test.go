package season

import (
	"fmt"
	"math/rand/v2"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

// The rules and the first and third example are those of Purdy et al., Crop
// Science 8 (1968) 405–406: the female left, the male right; "/", "//", "/3/",
// the last cross with the highest number; A/B//C is (A×B) as the female with C;
// A/B*3 is A/B//B///B. The others follow from the rules.
func TestPurdy(t *testing.T) {
	for _, c := range []struct{ crosses, plant, want string }{
		{"1 = A × B", "1", "A/B"},
		{"1 = A × B\n2 = 1a × C", "2", "A/B//C"},
		{"1 = A × B\n2 = 1a × B\n3 = 2a × B", "3", "A/B*3"},
		{"1 = A × B\n2 = C × 1a", "2", "C//A/B"},
		{"1 = A × B\n2 = C × D\n3 = 1a × 2a", "3", "A/B//C/D"},
		{"1 = A × B\n2 = 1a × C\n3 = 2a × D", "3", "A/B//C/3/D"},
		{"1 = A × B\n2 = 1a × C\n3 = 2a × D\n4 = E × 3a", "4", "E/4/A/B//C/3/D"},
		{"1 = A × B\n2 = 1a × B", "2", "A/B//B"},
		{"1 = A × B\n2 = C × 1a\n3 = 2a × D\n4 = 3a × D\n5 = 4a × D\n6 = 5a × E", "6", "C//A/B/3/D*3/4/E"},
		{"1 = A × A\n2 = 1a × A\n3 = 2a × A", "3", "A/A//A/3/A"},
		{"1 = A × unknown\n2 = 1a × unknown\n3 = 2a × unknown", "3", "A/unknown//unknown/3/unknown"},
		{"1 = A × B\n2 = 1a × 1a", "2", "A/B//A/B"},
		{"1 = Blank/Nord × B*2", "1", `"Blank/Nord"/"B*2"`},
		{`1 = A × Joan "Big"`, "1", `A/"Joan ""Big"""`},
		{"2 = 1a × B", "2", "2001X001-A1-A/B"}, // the cross 1 has no row
	} {
		p := family(t, c.crosses)
		got, whole := p.Purdy(of(t, p, c.plant), 64)
		if got != c.want || !whole {
			t.Errorf("%q: %s (whole: %v), want %s", c.crosses, got, whole, c.want)
		}
	}
}

var purdySign = regexp.MustCompile(`/([0-9]+)/|//|/`)

// readPurdy reads the notation back, by splitting at the highest sign, into
// nested pairs such as ((A×B)×C).
func readPurdy(t *testing.T, text string) string {
	t.Helper()
	highest, from, to, times := 0, 0, 0, 0
	for _, m := range purdySign.FindAllStringSubmatchIndex(text, -1) {
		order := m[1] - m[0]
		if m[2] >= 0 {
			order, _ = strconv.Atoi(text[m[2]:m[3]])
		}
		switch {
		case order > highest:
			highest, from, to, times = order, m[0], m[1], 1
		case order == highest:
			times++
		}
	}
	if highest == 0 {
		return text
	}
	if times != 1 {
		t.Fatalf("%q has its highest sign %d times", text, times)
	}
	left, right := readPurdy(t, text[:from]), text[to:]
	name, doses, backcross := strings.Cut(right, "*")
	if !backcross {
		return "(" + left + "×" + readPurdy(t, right) + ")"
	}
	n, err := strconv.Atoi(doses)
	if err != nil {
		t.Fatalf("%q: %v", text, err)
	}
	for range n {
		left = "(" + left + "×" + name + ")"
	}
	return left
}

// nested writes a plant's ancestors as readPurdy does.
func nested(p *Plant) string {
	if p.IsFounder() {
		return p.String()
	}
	return "(" + nested(p.Seed) + "×" + nested(p.Pollen) + ")"
}

// What is written can be read in one way only, and says what is on record.
func TestPurdyReadsBack(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	doses, families := 0, 40
	if testing.Short() {
		families = 10
	}
	for range families {
		lines, parents := randomFamily(rng, 9)
		if rng.IntN(2) == 0 { // backcrosses behind
			for i := len(parents); i < 14; i++ {
				lines += fmt.Sprintf("%d = %da × Dan\n", i+1, i)
			}
		}
		p := family(t, lines)
		for i := range strings.Count(lines, "\n") {
			plant := of(t, p, fmt.Sprint(i+1))
			text, whole := p.Purdy(plant, 4096)
			if !whole {
				t.Fatalf("%s is cut short", text)
			}
			if got, want := readPurdy(t, text), nested(plant); got != want {
				t.Fatalf("%s\n%s reads as %s, want %s", lines, text, got, want)
			}
			doses += strings.Count(text, "*")
		}
	}
	if doses == 0 {
		t.Error("no backcross was written with an asterisk")
	}
}

// A pedigree with 2⁴⁰ lines of descent is written as far as it goes in, and own
// identifiers stand for the rest.
func TestPurdyOfFortyGenerations(t *testing.T) {
	sibs := "1 = Ann × Bob"
	for g := 2; g <= 40; g++ {
		sibs += fmt.Sprintf("\n%d = %da × %db", g, g-1, g-1)
	}
	p := family(t, sibs)
	plant := of(t, p, "40")
	for most, want := range map[int]int{1: 1, 2: 2, 3: 2, 64: 64, 100: 64} {
		text, whole := p.Purdy(plant, most)
		names := len(purdySign.FindAllString(text, -1)) + 1
		if names != want || whole {
			t.Errorf("at most %d names: %d names (whole: %v), want %d and not whole", most, names, whole, want)
		}
	}
	if text, _ := p.Purdy(plant, 2); text != "2039X001-A1-A/2039X001-A1-B" {
		t.Errorf("two names: %s", text)
	}
}

// The tree holds each plant with its ancestors once, however many lines of
// descent lead to it: with full sibs, once below each of the two plants of the
// generation after.
func TestTree(t *testing.T) {
	p := family(t, "1 = Ann × Bob\n2 = 1a × 1a\n3 = 2a × 1a")
	var draw func(b *Branch) string
	draw = func(b *Branch) string {
		s := b.Role.String() + b.Plant.String()
		if b.Again {
			s += "+"
		}
		if b.Cut {
			s += "…"
		}
		if len(b.Parents) > 0 {
			var above []string
			for _, parent := range b.Parents {
				above = append(above, draw(parent))
			}
			s += "(" + strings.Join(above, " ") + ")"
		}
		return s
	}
	plant := of(t, p, "3")
	for generations, want := range map[int]string{
		0: "2003X001(♀2002X001-A1-A(♀♂2001X001-A1-A(♀Ann ♂Bob)) ♂2001X001-A1-A+)",
		1: "2003X001(♀2002X001-A1-A… ♂2001X001-A1-A…)",
		2: "2003X001(♀2002X001-A1-A(♀♂2001X001-A1-A…) ♂2001X001-A1-A(♀Ann ♂Bob))",
	} {
		if got := draw(p.Tree(plant, generations)); got != want {
			t.Errorf("%d generations: %s, want %s", generations, got, want)
		}
	}
	sibs := "1 = Ann × Bob"
	for g := 2; g <= 40; g++ {
		sibs += fmt.Sprintf("\n%d = %da × %db", g, g-1, g-1)
	}
	p = family(t, sibs)
	if n := strings.Count(draw(p.Tree(of(t, p, "40"), 0)), "X001"); n != 1+2+4*38 {
		t.Errorf("the tree of 40 generations of full sibs shows %d own plants, want 155", n)
	}
}

// However a family is woven, selfings among it, its tree shows the ancestors of
// each plant in one place, and everywhere else that they stand there.
func TestTreeShowsAncestorsOnce(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 6))
	selfed, met := 0, 0
	for range 20 {
		lines, parents := randomFamily(rng, 9)
		last := len(parents)
		lines += fmt.Sprintf("%d = %da × %da\n%d = %da × %da\n%d = %da × %da\n", last+1, last, last, last+2, last+1, last, last+3, last+2, last+1)
		p := family(t, lines)
		shown, again := map[*Plant]int{}, map[*Plant]bool{}
		var walk func(b *Branch)
		walk = func(b *Branch) {
			switch {
			case b.Cut:
				t.Errorf("%sthe whole tree ends before %s", lines, b.Plant)
			case b.Again:
				again[b.Plant] = true
				met++
			case !b.Plant.IsFounder():
				shown[b.Plant]++
			}
			if len(b.Parents) == 1 && b.Parents[0].Role == BothRoles {
				selfed++
			}
			for _, parent := range b.Parents {
				walk(parent)
			}
		}
		walk(p.Tree(of(t, p, fmt.Sprint(last+3)), 0))
		for plant, times := range shown {
			if times != 1 {
				t.Errorf("%s%s is shown with its ancestors %d times", lines, plant, times)
			}
		}
		for plant := range again {
			if shown[plant] != 1 {
				t.Errorf("%s%s is told to be shown with its ancestors, and is not", lines, plant)
			}
		}
	}
	if selfed < 20 || met < 20 {
		t.Errorf("%d selfings and %d plants met again: too few to prove anything", selfed, met)
	}
}
