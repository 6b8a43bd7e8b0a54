package season

import (
	"maps"
	"math"
	"slices"
	"strings"
	"testing"

	"pipstake/ids/registry"
)

// From seedlings back to flowers: at 80 % up 10 seedlings take 16 seeds with 95 %
// certainty (Sedcole's layout, recomputed); with a tenth undeveloped 18, in fruit of
// 7.5 seeds 3, of which half the flowers set: 6.
func TestBackwards(t *testing.T) {
	e := Experience{Germination: Figure{Value: .8}, Empty: Figure{Value: .1}, PerFruit: Figure{Value: 7.5}, Set: Figure{Value: .5}}
	b := BackwardsFrom(Aim{Seedlings: 10, Certainty: .95}, e)
	if b.Good != 16 || b.Seeds != 18 || b.Fruit != 3 || b.Flowers != 6 {
		t.Errorf("%+v", b)
	}
	if b := BackwardsFrom(Aim{Seedlings: 10, Certainty: .95, Rate: .5}, e); b.Good != 28 { // the same table
		t.Errorf("at another rate: %+v", b)
	}
}

// Own figures are taken once three crosses with enough counted have them; a
// figure that there is not enough of is the protocol's.
func TestExperience(t *testing.T) {
	f := Figure{Value: .85}
	few := []Part{{50, 60}, {45, 60}}
	if got := f.orOwn(few, 100); got != f {
		t.Errorf("two crosses: %+v", got)
	}
	got := f.orOwn(append(few, Part{}, Part{10, 30}), 100)
	if want := (Figure{Value: 105. / 150, Low: 10. / 30, High: 50. / 60, Crosses: 3, Counted: 150}); math.Abs(got.Value-want.Value) > 1e-12 || got.Low != want.Low || got.High != want.High || got.Crosses != 3 || got.Counted != 150 || !got.Own() {
		t.Errorf("%+v, want %+v", got, want)
	}
	if got := f.orOwn([]Part{{3, 10}, {3, 10}, {3, 10}}, 100); got != f {
		t.Errorf("too little counted: %+v", got)
	}
	none := ExperienceOf(nil, Practice{Protocol: CommonPractice()}, day(t, "2026-05-01"))
	if none.Germination.Value != .85 || none.PerFruit.Value != 7.5 || none.Set.Value != .5 || none.Empty.Value != 0 || none.Set.Own() {
		t.Errorf("%+v", none)
	}
	if got := ExperienceOf(nursery(t), Practice{Protocol: CommonPractice()}, day(t, "2026-05-01")); got.Germination.Own() || got.Set.Own() {
		t.Errorf("two crosses of a nursery: %+v", got)
	}
}

// Three crosses with just enough of all: 100 seeds, and as many sown, 20 fruit, 30
// flowers; and one with nothing on record.
func TestOwnExperience(t *testing.T) {
	enough := map[string]string{
		"crosses.csv": "id,seed_parent,pollen_parent,pollinated,flowers,state,notes,fruit\n" +
			"2021X001,Ann,Bob,,10,,,8\n2021X002,Ann,Cat,,12,,,6\n2021X003,Dan,Bob,,8,,,6\n2021X004,Dan,Cat,,,,,",
		"lots.csv": "id,issued,extracted,fruit,seeds,undeveloped,chilled,state,notes\n" +
			"2021X001-A,,2021-10-01,8,48,8,,,\n2021X002-A,,2021-10-01,6,30,0,,,\n2021X003-A,,2021-10-01,6,32,2,,,",
		"pots.csv": "id,seeds,sown,place,state,notes\n" +
			"2021X001-A1,40,2022-01-10,,,\n2021X002-A1,30,2022-01-10,,,\n2021X003-A1,30,2022-01-10,,,",
		"emergence.csv": "pot,on,up,notes\n" +
			"2021X001-A1,2022-03-05,30,\n2021X002-A1,2022-03-05,27,\n2021X003-A1,2022-03-05,15,",
	}
	practice := Practice{Protocol: CommonPractice()}
	after := day(t, "2022-05-01")
	got := ExperienceOf(written(t, enough), practice, after)
	for _, c := range []struct {
		name             string
		got              Figure
		value, low, high float64
		counted          int
	}{
		{"germination", got.Germination, 72. / 100, 15. / 30, 27. / 30, 100},
		{"empty", got.Empty, 10. / 110, 0, 8. / 48, 110},
		{"seeds a fruit", got.PerFruit, 110. / 20, 5, 6, 20},
		{"set", got.Set, 20. / 30, .5, .8, 30},
	} {
		if math.Abs(c.got.Value-c.value) > 1e-12 || math.Abs(c.got.Low-c.low) > 1e-12 || math.Abs(c.got.High-c.high) > 1e-12 || c.got.Crosses != 3 || c.got.Counted != c.counted {
			t.Errorf("%s: %+v", c.name, c.got)
		}
	}
	if early := ExperienceOf(written(t, enough), practice, day(t, "2022-03-10")); early.Germination.Own() || !early.Set.Own() {
		t.Errorf("before the pots are over: %+v", early)
	}
	own := got.Germination.Value
	for _, c := range []struct {
		e    Experience
		aim  float64
		want float64
	}{{got, 0, own}, {got, .5, .5}, {ExperienceOf(nil, practice, after), 0, 0}} {
		if aim := c.e.AimOf(Aim{Seedlings: 7, Certainty: .9, Rate: c.aim}); aim != (Aim{7, .9, c.want}) {
			t.Errorf("an aim of %v with %+v: %+v", c.aim, c.e.Germination, aim)
		}
	}
	// One fewer of each is not enough.
	for file, cells := range map[string][2]string{
		"emergence.csv": {"X003-A1,2022-03-05,15", "X003-A1,,"}, // two crosses
		"lots.csv":      {"-A,,2021-10-01,6,32,2", "-A,,2021-10-01,5,32,2"},
		"crosses.csv":   {",8,,,6", ",7,,,6"},
		"pots.csv":      {"X003-A1,30", "X003-A1,29"},
	} {
		less := maps.Clone(enough)
		if less[file] = strings.Replace(enough[file], cells[0], cells[1], 1); less[file] == enough[file] {
			t.Fatalf("%s has no %q", file, cells[0])
		}
		e := ExperienceOf(written(t, less), practice, after)
		for name, own := range map[string]bool{"emergence.csv": e.Germination.Own(), "pots.csv": e.Germination.Own(), "lots.csv": e.PerFruit.Own(), "crosses.csv": e.Set.Own()} {
			if own != (name != file && !(file == "emergence.csv" && name == "pots.csv") && !(file == "pots.csv" && name == "emergence.csv")) {
				t.Errorf("with less in %s: %+v", file, e)
			}
		}
	}
}

// Nothing up of a hundred seeds is no rate to reckon with; one is.
func TestNoOwnRateOfNothing(t *testing.T) {
	f := Figure{Value: .85}
	if got := f.orOwn([]Part{{0, 40}, {0, 40}, {0, 40}}, 100); got != f {
		t.Errorf("nothing came up: %+v", got)
	}
	if got := f.orOwn([]Part{{1, 40}, {0, 40}, {0, 40}}, 100); got.Value != 1./120 || got.Low != 0 || got.High != 1./40 {
		t.Errorf("one came up: %+v", got)
	}
}

// Where all seed was undeveloped, a hundredth is reckoned good. Numbers that come
// out whole are not rounded up by what arithmetic leaves: each is the least whole
// one that does.
func TestBackwardsIsTheLeast(t *testing.T) {
	e := Experience{Germination: Figure{Value: 1}, Empty: Figure{Value: 1}, PerFruit: Figure{Value: 1}, Set: Figure{Value: 1}}
	if b := BackwardsFrom(Aim{Seedlings: 16, Certainty: .95}, e); b.Good != 16 || b.Seeds != 1600 {
		t.Errorf("all undeveloped: %+v", b)
	}
	for seedlings := 1; seedlings <= 60; seedlings++ {
		for tenths := range 10 {
			e := Experience{Germination: Figure{Value: 1}, Empty: Figure{Value: float64(tenths) / 10}, PerFruit: Figure{Value: .7}, Set: Figure{Value: .3}}
			up := func(n, of int) int { return (n + of - 1) / of }
			b := BackwardsFrom(Aim{Seedlings: seedlings, Certainty: .95}, e)
			seeds := up(10*seedlings, 10-tenths)
			if fruit := up(10*seeds, 7); b.Good != seedlings || b.Seeds != seeds || b.Fruit != fruit || b.Flowers != up(10*fruit, 3) {
				t.Errorf("%d seedlings, %d tenths undeveloped: %+v", seedlings, tenths, b)
			}
		}
	}
}

// What is improbable is told with its numbers; void lots count for nothing.
func TestImprobableTellsItsNumbers(t *testing.T) {
	r := written(t, map[string]string{
		"crosses.csv": "id,seed_parent,pollen_parent,pollinated,flowers,state,notes,fruit\n2021X001,Ann,Bob,,10,,,7",
		"lots.csv":    "id,issued,extracted,fruit,seeds,undeveloped,chilled,state,notes\n2021X001-A,,,4,48,,,,\n2021X001-B,,,3,30,,,,\n2021X001-C,,,9,90,,,void,",
	})
	cross, lot := r.Crosses()[0], r.Lots()[0]
	p := CommonPractice()
	if got := ImprobableOf(r, cross, lot, p); got != nil {
		t.Errorf("as many opened as picked: %+v", got)
	}
	cross.Fruit, cross.Flowers, p.Fruit.BelievedSeeds = registry.Known(6), registry.Known(5), 11
	want := []Improbable{{"fruit opened", 7, "fruit picked", 6, 1}, {"fruit", 6, "flowers pollinated", 5, 1}, {"seeds", 48, "fruit", 4, 11}}
	if got := ImprobableOf(r, cross, lot, p); !slices.Equal(got, want) {
		t.Errorf("%+v, want %+v", got, want)
	}
	cross.Fruit, cross.Flowers, lot.Fruit = registry.Count{}, registry.Known(6), registry.Count{}
	if got := ImprobableOf(r, cross, lot, p); !slices.Equal(got, []Improbable{{"fruit", 7, "flowers pollinated", 6, 1}}) {
		t.Errorf("nothing picked on record: %+v", got)
	}
}

// More fruit than flowers, and more seeds than an apple holds, are noticed.
func TestImprobable(t *testing.T) {
	r := nursery(t)
	p := CommonPractice()
	cross := registry.Cross{ID: crossOne, Flowers: registry.Known(4), Fruit: registry.Known(5)}
	for _, c := range []struct {
		fruit, seeds, flowers, want int
	}{{5, 60, 5, 0}, {5, 61, 5, 1}, {5, 60, 4, 1}, {5, 61, 4, 2}, {0, 1, 5, 1}} {
		cross.Flowers = registry.Known(c.flowers)
		lot := registry.Lot{ID: lotA, Fruit: registry.Known(c.fruit), Seeds: registry.Known(c.seeds)}
		if got := ImprobableOf(r, cross, lot, p); len(got) != c.want {
			t.Errorf("%+v: %+v", c, got)
		}
	}
	opened := with(t, r, "lots.csv", lotA, map[string]string{"fruit": "6"})
	if got := ImprobableOf(opened, registry.Cross{ID: crossOne, Fruit: registry.Known(5)}, registry.Lot{}, p); len(got) != 1 || got[0] != (Improbable{"fruit opened", 6, "fruit picked", 5, 1}) {
		t.Errorf("more opened than picked: %+v", got)
	}
	if got := ImprobableOf(r, registry.Cross{ID: crossOne}, registry.Lot{ID: lotA, Seeds: registry.Known(500)}, p); got != nil {
		t.Errorf("nothing is known: %+v", got)
	}
}
