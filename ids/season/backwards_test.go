package season

import (
	"math"
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
