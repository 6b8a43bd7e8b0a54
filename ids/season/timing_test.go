package season

import (
	"math"
	"testing"
)

// The worked series is recomputed by hand from the definitions: 30 sown, 25
// up, mean 14.08 days, T50 12.0 by Coolbear et al. (1984) and 11.8 by Farooq et
// al. (2005).
func TestTimingOfAWorkedSeries(t *testing.T) {
	rises := []Rise{{0, 0}, {7, 2}, {10, 6}, {14, 10}, {17, 4}, {21, 2}, {28, 1}}
	got, ok := TimingOf(rises)
	if !ok || got.First != 7 || got.Last != 28 {
		t.Fatalf("%+v, %v", got, ok)
	}
	for _, c := range []struct {
		name      string
		got, want float64
	}{{"mean", got.Mean, 14.08}, {"Coolbear", got.HalfCoolbear, 12.0}, {"Farooq", got.HalfFarooq, 11.8}} {
		if math.Abs(c.got-c.want) > 1e-9 {
			t.Errorf("%s %v, want %v", c.name, c.got, c.want)
		}
	}
	g := Group{Sown: 30, Up: 25}
	if math.Abs(100*g.Rate()-83.33) > .005 {
		t.Errorf("germination %v", g.Rate())
	}
}

// A count that equals half gives its day.
func TestHalfOnTheDayOfACount(t *testing.T) {
	got, _ := TimingOf([]Rise{{5, 1}, {9, 1}, {12, 1}}) // (3+1)/2 = 2
	if got.HalfCoolbear != 9 {
		t.Errorf("Coolbear %v, want 9", got.HalfCoolbear)
	}
	got, _ = TimingOf([]Rise{{5, 2}, {8, 0}, {12, 2}}) // 4/2 = 2
	if got.HalfFarooq != 5 {
		t.Errorf("Farooq %v, want 5", got.HalfFarooq)
	}
}

func TestTimingOfFewSeedlings(t *testing.T) {
	if _, ok := TimingOf([]Rise{{5, 0}, {9, 0}}); ok {
		t.Error("nothing came up, and took some time")
	}
	if got, ok := TimingOf([]Rise{{9, 1}}); !ok || got.Mean != 9 || got.HalfCoolbear != 9 || got.HalfFarooq != 4.5 {
		t.Errorf("%+v", got)
	}
}
