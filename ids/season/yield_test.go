package season

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"pipstake/ids"
	"pipstake/ids/registry"
)

// Fruit set and seeds a fruit as published, J. Am. Pomol. Soc. 72(4) 2018, table
// 2, and Crandall 1918, Illinois Agr. Exp. Sta. Bulletin 211, as quoted in public
// copies: 1,417 seeds in 252 fruit are 5.62 a fruit, 2,079 in 293 are 7.10. Of 30
// flowers 17 set are 56.67 %, 2 are 6.67 %, 25 are 83.33 % (the numbers of
// flowers are recomputed from the percentages).
func TestYieldOfPublishedFigures(t *testing.T) {
	for _, c := range []struct {
		flowers, fruit, seeds int
		set, each             float64
	}{
		{30, 17, 129, 56.67, 7.6}, {30, 2, 9, 6.67, 4.5}, {30, 25, 200, 83.33, 8.0},
		{0, 252, 1417, 0, 5.62}, {0, 293, 2079, 0, 7.10},
	} {
		r := orchard(t, 1, func(r *registry.Registry) error {
			_, err := r.Extract(lotA, registry.Extraction{Fruit: registry.Known(c.fruit), Seeds: registry.Known(c.seeds), On: day(t, "2025-10-01")})
			return err
		})
		if c.flowers > 0 {
			r = with(t, r, "crosses.csv", crossOne, map[string]string{"flowers": fmt.Sprint(c.flowers)})
		}
		y := YieldOf(r, Practice{Protocol: CommonPractice()}, ByCross, Scope{On: day(t, "2026-05-01")}).Groups[0]
		if y.Set.Known() != (c.flowers > 0) || y.Set.Known() && math.Abs(100*y.Set.Rate()-c.set) > .005 {
			t.Errorf("%d of %d: %+v", c.fruit, c.flowers, y.Set)
		}
		if math.Abs(y.PerFruit.Rate()-c.each) > .05 {
			t.Errorf("%d seeds in %d fruit: %v", c.seeds, c.fruit, y.PerFruit.Rate())
		}
	}
}

func yieldWords(y Yield) string {
	var all []string
	for _, c := range []registry.Count{y.Flowers, y.Fruit, y.Seeds, y.Undeveloped, y.Sown, y.Up, y.Pricked, y.Alive, y.Selected} {
		s := c.String()
		if s == "" {
			s = "—"
		}
		all = append(all, s)
	}
	return y.Name + ": " + strings.Join(all, " ")
}

// From flower to tree: two crosses of two years, of which one pot is void and
// one was not counted. What nobody counted is not known, and never 0.
func TestYieldBy(t *testing.T) {
	r := nursery(t)
	r = with(t, r, "crosses.csv", crossOne, map[string]string{"flowers": "20", "fruit": "5"})
	r = with(t, r, "lots.csv", lotA, map[string]string{"fruit": "4", "chilled": "2025-11-18"})
	r = with(t, r, "pots.csv", potA1, map[string]string{"place": "frame"})
	err := registry.Change(r.Dir(), registry.Options{}, func(r *registry.Registry) error {
		_, err := r.AddSeedlings(potA1, 3, day(t, "2026-04-01"))
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	r = with(t, r, "seedlings.csv", potA1.Child(1), map[string]string{"name": "Larkfield Early"})
	r = with(t, r, "seedlings.csv", potA1.Child(2), map[string]string{"fate": "culled", "ended": "2026-05-01"})
	for _, c := range []struct {
		by   By
		want string
	}{
		{ByCross, "2024X001: — — 12 2 5 0 0 0 0; 2025X001: 20 5 30 6 22 15 3 13 1"}, // 9−1 and 6 up, one culled
		{ByCombination, "Larkfield Tessel × Tarn Amber: 20 5 30 6 22 15 3 13 1; Tarn Amber × Larkfield Tessel: — — 12 2 5 0 0 0 0"},
		{ByPlace, ": — — — — 17 6 0 6 0; frame: — — — — 10 9 3 7 1"},
		{ByCold, ": — — — — 5 0 0 0 0; 42–48: — — — — 22 15 3 13 1"},
	} {
		out := YieldOf(r, Practice{Protocol: CommonPractice()}, c.by, Scope{On: day(t, "2026-06-01")})
		var got []string
		for _, y := range out.Groups {
			got = append(got, yieldWords(y))
		}
		if s := strings.Join(got, "; "); s != c.want {
			t.Errorf("by %d:\n%s, want\n%s", c.by, s, c.want)
		}
		if got, want := yieldWords(out.Total), ": 20 5 42 8 27 15 3 13 1"; got != want {
			t.Errorf("by %d, in all: %s, want %s", c.by, got, want)
		}
	}
	y := YieldOf(r, Practice{Protocol: CommonPractice()}, ByCross, Scope{Within: []ids.ID{crossOne}, On: day(t, "2026-06-01")}).Total
	if y.Set != (Part{5, 20}) || y.PerFruit != (Part{30, 4}) || y.Empty != (Part{6, 30}) || y.Germinated != (Part{15, 18}) || y.SoFar() {
		t.Errorf("%+v", y)
	}
	if y := YieldOf(r, Practice{Protocol: CommonPractice()}, ByCross, Scope{Within: []ids.ID{potA1}, On: day(t, "2026-06-01")}).Total; yieldWords(y) != ": — — — — 10 9 3 7 1" {
		t.Errorf("one pot: %s", yieldWords(y))
	}
	if y := YieldOf(r, Practice{Protocol: CommonPractice()}, ByCross, Scope{Years: []int{2025}, On: day(t, "2026-03-01")}).Total; !y.SoFar() || y.Going != 2 || y.Waiting != 1 {
		t.Errorf("before the end: %+v", y)
	}
	failed := with(t, r, "crosses.csv", crossOne, map[string]string{"fruit": "", "fate": "failed", "ended": "2025-07-01"})
	if y := YieldOf(failed, Practice{Protocol: CommonPractice()}, ByCross, Scope{Within: []ids.ID{crossOne}}).Total; y.Set != (Part{0, 20}) {
		t.Errorf("a cross that failed set %+v", y.Set)
	}
}
