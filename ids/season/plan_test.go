package season

import (
	"math"
	"slices"
	"testing"

	"pipstake/ids/registry"

	"pipstake/ids"
)

func TestInHand(t *testing.T) {
	r := nursery(t)
	cross, _ := r.Cross(crossOne)
	h := InHandOf(r, Practice{Protocol: CommonPractice()}, cross, Aim{Seedlings: 20, Certainty: .95}, day(t, "2026-05-01"))
	// 24 good seeds: 18 in counted pots, of which 15 came up and 1 died; 4 in a
	// pot without a count and 2 in the bag are open. 6 seedlings are missing.
	if h.Seeds != 24 || h.Up != 14 || h.Open != 6 || h.InBags != 2 || h.Lots != 1 || h.Unopened != 0 {
		t.Errorf("%+v", h)
	}
	if want := SeedsFor(6, .95, .85); h.Needed != want || h.Short != want-6 {
		t.Errorf("needed %d, short %d, want %d and %d", h.Needed, h.Short, want, want-6)
	}
	if want := math.Pow(.85, 6); math.Abs(h.Chance-want) > 1e-12 { // all six must come up
		t.Errorf("chance %v, want %v", h.Chance, want)
	}
	if h := InHandOf(r, Practice{Protocol: CommonPractice()}, cross, Aim{Seedlings: 14, Certainty: .95}, day(t, "2026-05-01")); h.Needed != 0 || h.Chance != 1 || h.Short != 0 {
		t.Errorf("what is there already: %+v", h)
	}
	if h := InHandOf(r, Practice{Protocol: CommonPractice()}, cross, Aim{Seedlings: 12, Certainty: .95}, day(t, "2026-05-01")); h.Needed != 0 || h.Chance != 1 || h.Short != 0 {
		t.Errorf("more than wanted is there: %+v", h)
	}
}

// What ended is not in hand, and its seeds do not come back; what lives of it is.
func TestEndedIsNotInHand(t *testing.T) {
	r := nursery(t)
	aim := Aim{Seedlings: 20, Certainty: .95}
	for _, c := range []struct {
		name             string
		file             string
		id               ids.ID
		cells            map[string]string
		seeds, bags, up  int
		open, lots, goes int
	}{
		{"nothing ended", "lots.csv", lotA, nil, 24, 2, 14, 6, 1, 1},
		{"a lot with pots", "lots.csv", lotA, map[string]string{"fate": "discarded"}, 22, 0, 14, 4, 0, 1},
		{"a pot with seedlings", "pots.csv", potA1, map[string]string{"fate": "lost", "ended": "2026-04-01"}, 14, 2, 6, 6, 1, 1},
		{"a pot without a count", "pots.csv", lotA.Child(3), map[string]string{"fate": "lost", "ended": "2026-04-01"}, 20, 2, 14, 2, 1, 0},
		{"the cross", "crosses.csv", crossOne, map[string]string{"fate": "failed"}, 22, 0, 14, 4, 0, 1},
	} {
		r := with(t, r, c.file, c.id, c.cells)
		cross, _ := r.Cross(crossOne)
		h := InHandOf(r, Practice{Protocol: CommonPractice()}, cross, aim, day(t, "2026-05-01"))
		if h.Seeds != c.seeds || h.InBags != c.bags || h.Up != c.up || h.Open != c.open || h.Lots != c.lots || h.Going != c.goes {
			t.Errorf("%s: %+v", c.name, h)
		}
	}
}

// Before the counting is over, what has not come up is open. What it may still
// give is what the whole pot promised less what is up: of 10 seeds at .85, of
// which 3 are up, the other 7 come up at (8.5−3)/7 each.
func TestSeedsStillToCome(t *testing.T) {
	if got, want := stillToCome(10, 3, .85), (trials{7, 5.5 / 7}); got != want {
		t.Errorf("%+v, want %+v", got, want)
	}
	if got := stillToCome(8, 8, .85); got != (trials{}) {
		t.Errorf("all up: %+v", got)
	}
	if got := stillToCome(8, 9, .85); got != (trials{}) {
		t.Errorf("more up than sown: %+v", got)
	}
	if got, want := stillToCome(10, 9, .85), (trials{1, 0}); got != want {
		t.Errorf("more than promised: %+v, want %+v", got, want)
	}
	r := nursery(t)
	cross, _ := r.Cross(crossOne)
	h := InHandOf(r, Practice{Protocol: CommonPractice()}, cross, Aim{Seedlings: 20, Certainty: .95}, day(t, "2026-03-01"))
	if h.Open != 2+4+1+2 || h.Going != 3 || !h.Waits() { // in the bag, in the pot without a count, not up in the others
		t.Errorf("%+v", h)
	}
}

// Void rows are not in hand; neither is what ended, and of a lost pot only the
// seedlings that were pricked out of it live on. Bags that nobody opened, and pots
// that go on, are waited for: either will do.
func TestWhatIsInHand(t *testing.T) {
	r := written(t, map[string]string{
		"crosses.csv": crossesHeader + "2024X001,Ann,Bob,,,,,,,,,",
		"lots.csv":    lotsHeader + "2024X001-A,,2024-10-01,,20,2,,,,,,\n2024X001-B,,2024-10-01,,30,0,,void,,,,\n2024X001-C,,,,,,,,,,,",
		"pots.csv":    potsHeader + "2024X001-A1,5,2025-01-10,,,,,\n2024X001-A2,6,2025-01-10,,void,,,\n2024X001-A3,4,2025-01-10,,,,2025-05-01,lost\n2024X001-B1,7,2025-01-10,,,,,",
		"seedlings.csv": seedlingsHeader + "2024X001-A1-A,2025-04-01,,,,,,\n2024X001-A1-B,2025-04-01,void,,,,,\n2024X001-A1-C,2025-04-01,,,,,2025-06-01,died\n2024X001-A3-A,2025-04-01,,,,,,\n" +
			"2024X001-A2-A,2025-04-01,,,,,,",
		"emergence.csv": emergenceHeader + "2024X001-A1,2025-03-10,4,1,\n2024X001-A3,2025-03-10,3,0,\n2024X001-A2,2025-03-10,3,0,",
	})
	h := InHandOf(r, Practice{Protocol: CommonPractice()}, r.Crosses()[0], Aim{Seedlings: 9, Certainty: .9, Rate: .5}, day(t, "2025-07-01"))
	// 18 good seeds, of which 5, 4 and 6 in the void pot come off: the void pot's are in the bag again. Of the first pot's 4, one died, two were pricked out, of which one died.
	if h.Lots != 2 || h.Unopened != 1 || h.InBags != 9 || h.Seeds != 14 || h.Open != 9 || h.Going != 0 || h.Up != 1+1+1 || h.Rate != .5 {
		t.Errorf("%+v", h)
	}
	if want := SeedsFor(6, .9, .5); h.Needed != want || h.Short != want-9 || math.Abs(h.Chance-Chance(9, 6, .5)) > 1e-12 {
		t.Errorf("%+v, %d needed", h, want)
	}
	for want, h := range map[bool][]InHand{true: {{Going: 1}, {Unopened: 1}}, false: {{}, {Lots: 1, Open: 3}}} {
		for _, h := range h {
			if h.Waits() != want {
				t.Errorf("%+v waits: %v", h, h.Waits())
			}
		}
	}
}

// exactly is the probability of so many successes in trials, by all outcomes of
// each single one.
func exactly(want int, kinds []trials) float64 {
	if len(kinds) == 0 {
		return map[bool]float64{true: 1}[want == 0]
	}
	first := kinds[0]
	if first.n == 0 {
		return exactly(want, kinds[1:])
	}
	rest := append([]trials{{first.n - 1, first.p}}, kinds[1:]...)
	return first.p*exactly(want-1, rest) + (1-first.p)*exactly(want, rest)
}

// Trials of several kinds together, those that always or never succeed among
// them, against the sum over all outcomes.
func TestChanceOfUnequalTrials(t *testing.T) {
	for _, kinds := range [][]trials{
		nil, {{3, 0}}, {{3, 1}}, {{4, .5}}, {{2, .3}, {2, .6}},
		{{3, .85}, {2, .2}, {1, .85}, {2, 0}, {1, 1}}, {{2, 1}, {0, .5}, {2, 0}, {1, .4}},
	} {
		all := 0
		for _, kind := range kinds {
			all += kind.n
		}
		for k := range all + 2 {
			want := 0.0
			for n := k; n <= all; n++ {
				want += exactly(n, kinds)
			}
			if got := chanceOf(kinds, k); !(math.Abs(got-want) <= 1e-12) {
				t.Errorf("%v, at least %d: %v, want %v", kinds, k, got, want)
			}
		}
	}
}

// What is short is the least number of seeds that makes the aim as certain as
// asked for, together with what is open.
func TestShortIsTheLeast(t *testing.T) {
	for _, open := range [][]trials{nil, {{5, .5}}, {{4, .9}, {6, .3}}, {{3, 1}, {2, 0}}} {
		for k := range 9 {
			chance := func(more int) float64 { return chanceOf(append(slices.Clone(open), trials{more, .6}), k) }
			n := shortOf(open, k, .9, .6)
			if !(chance(n) >= .9) || n > 0 && !(chance(n-1) < .9) {
				t.Errorf("%v open for %d: %d short, which makes it %v certain", open, k, n, chance(n))
			}
		}
	}
	// Where all are alike, what is short is what the aim takes less what is open.
	for _, k := range []int{1, 5, 10, 20} {
		for open := range 30 {
			want := max(0, SeedsFor(k, .95, .8)-open)
			if got := shortOf([]trials{{open, .8}}, k, .95, .8); got != want {
				t.Errorf("%d open for %d: %d short, want %d", open, k, got, want)
			}
		}
	}
}

// What cannot be has no chance at all, whatever rounding leaves of the rest.
func TestNoChance(t *testing.T) {
	for n := 1; n < 40; n++ {
		if got := chanceOf([]trials{{n, 538. / 650}}, n+1); got != 0 {
			t.Errorf("%d of %d: %v", n+1, n, got)
		}
	}
}

// 16 seeds for 10 seedlings at .8 (Sedcole's layout, recomputed); five to ten
// seeds an apple is common practice.
func TestPlanFor(t *testing.T) {
	none := ExperienceOf(nil, Practice{Protocol: CommonPractice()}, registry.Date{})
	got := PlanFor(Aim{Seedlings: 10, Certainty: .95, Rate: .8}, CommonPractice(), none)
	if want := (Plan{Rate: .8, Seeds: 16, PerFruit: none.PerFruit, LeastFruit: 2, MostFruit: 4, Pots: 2, Stakes: 4}); got != want {
		t.Errorf("%+v, want %+v", got, want)
	}
	if got := PlanFor(Aim{Seedlings: 1, Certainty: .95}, CommonPractice(), none); got.Rate != .85 || got.Seeds != 2 {
		t.Errorf("by the protocol: %+v", got)
	}
}

// Pots and fruit hold the seeds, and one fewer of either would not.
func TestPlanHoldsTheSeeds(t *testing.T) {
	e := ExperienceOf(nil, Practice{Protocol: CommonPractice()}, registry.Date{})
	for wanted := 1; wanted <= 60; wanted++ {
		for perPot := 1; perPot <= 12; perPot++ {
			p := CommonPractice()
			p.Sowing.SeedsPerPot = perPot
			got := PlanFor(Aim{Seedlings: wanted, Certainty: .95}, p, e)
			if got.Pots*perPot < got.Seeds || (got.Pots-1)*perPot >= got.Seeds || got.Stakes != 2*got.Pots {
				t.Fatalf("%d a pot: %+v", perPot, got)
			}
			for fruit, seeds := range map[int]float64{got.LeastFruit: got.PerFruit.High, got.MostFruit: got.PerFruit.Low} {
				if float64(fruit)*seeds < float64(got.Seeds) || float64(fruit-1)*seeds >= float64(got.Seeds) {
					t.Fatalf("%d fruit of %v seeds: %+v", fruit, seeds, got)
				}
			}
		}
	}
}
