package season

import (
	"fmt"
	"testing"
)

// Amounts and strengths recomputed by hand. 10 g in 150 ml is 6.67 % w/v; of a
// product with 65 % available chlorine that is 4.33 % of it, of one with 30 %, 2.00.
func TestMixFor(t *testing.T) {
	powder := CommonPractice().Disinfecting
	weak := powder
	weak.Active = 30
	fine := powder
	fine.Scale = 0.1
	bleach := Disinfecting{Kind: SodiumHypochlorite, Product: "bleach", Active: 5, ML: 50, Water: 150, PerLot: 10, Minutes: 5, Scale: 1}
	peroxide := Disinfecting{Kind: HydrogenPeroxide, Product: "peroxide", Active: 3, ML: 100, Water: 0.001, PerLot: 10, Minutes: 5, Scale: 1}
	for _, c := range []struct {
		d    Disinfecting
		lots int
		want string // water, product, percent, active
	}{
		{powder, 1, "75 5 6.67 4.33"}, // 0.67 g cannot be weighed in whole grams
		{powder, 7, "75 5 6.67 4.33"}, // 70 ml would do
		{powder, 8, "90 6 6.67 4.33"}, // 80 ml take 5.3 g
		{powder, 40, "405 27 6.67 4.33"},
		{weak, 1, "75 5 6.67 2.00"},
		{fine, 1, "11 0.7 6.36 4.14"},  // 10.5 ml
		{bleach, 1, "15 5 25.00 1.25"}, // 2.5 ml in 7.5 is no spoonful
		{bleach, 10, "75 25 25.00 1.25"},
		{bleach, 11, "85 27.5 24.44 1.22"},
		{peroxide, 2, "1 20 95.24 2.86"},
	} {
		m := c.d.MixFor(c.lots)
		if got := fmt.Sprintf("%v %.4g %.2f %.2f", m.Water, m.Product, m.Percent, m.Active); got != c.want {
			t.Errorf("%d lots of %s: %s, want %s", c.lots, c.d.Product, got, c.want)
		}
	}
}

// Whatever is mixed is enough for the lots, can be weighed or spooned, and is as
// strong as the protocol says within a tenth.
func TestMixesAreEnoughAndRight(t *testing.T) {
	for _, kind := range []ProductKind{CalciumHypochlorite, SodiumHypochlorite, HydrogenPeroxide} {
		for lots := 1; lots <= 60; lots++ {
			for _, amount := range []float64{1, 5, 10, 40} {
				d := Disinfecting{Kind: kind, Active: 10, Grams: amount, ML: amount, Water: 150, PerLot: 7, Scale: 1}
				m := d.MixFor(lots)
				whole, step := m.Water, 1.0
				if kind.IsLiquid() {
					whole, step = m.Water+m.Product, 2.5
				}
				steps := m.Product / step
				off := m.Percent/d.Strength().Percent - 1
				if whole < 7*float64(lots)-1e-9 || steps != float64(int(steps)) || off < -0.1 || off > 0.1 {
					t.Errorf("%s, %v in 150, %d lots: %+v", kind, amount, lots, m)
				}
			}
		}
	}
}

func TestBathDoubts(t *testing.T) {
	change := func(f func(*Disinfecting)) Disinfecting {
		d := CommonPractice().Disinfecting
		f(&d)
		return d
	}
	for _, c := range []struct {
		d    Disinfecting
		want string
	}{
		{CommonPractice().Disinfecting, "[]"},
		{change(func(d *Disinfecting) { d.Grams = 0.5 }), fmt.Sprint([]BathDoubt{WeakBath})},
		{change(func(d *Disinfecting) { d.Grams = 15 }), fmt.Sprint([]BathDoubt{StrongBath})},
		{change(func(d *Disinfecting) { d.Active = 5 }), fmt.Sprint([]BathDoubt{OddProduct})},
		{change(func(d *Disinfecting) { d.Kind = NoProduct; d.Active = 0 }), "[]"},
		{Disinfecting{Kind: HydrogenPeroxide, Active: 35, ML: 100, Water: 100, PerLot: 10, Scale: 1}, fmt.Sprint([]BathDoubt{StrongBath})},
	} {
		if got := fmt.Sprint(c.d.Doubts()); got != c.want {
			t.Errorf("%+v: %s, want %s", c.d, got, c.want)
		}
	}
}
