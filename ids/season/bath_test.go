package season

import (
	"fmt"
	"slices"
	"testing"
)

// powdered is a bath of so much powder in so much water.
func powdered(grams, water float64) Disinfecting {
	return Disinfecting{Kind: CalciumHypochlorite, Product: "powder", Active: 10, Grams: grams, Water: water, PerLot: 10, Scale: 1}
}

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
		{powdered(1, 10.25), 5, "52 5 9.62 0.96"},     // 51.25 ml: small amounts are not rounded to 5 ml
		{powdered(1, 10.75), 5, "55 5 9.09 0.91"},     // 53.75 ml are
		{powdered(10, 101.875), 8, "80 8 10.00 1.00"}, // 81.5 ml: 80 are just what the lots take
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

// The doubts begin behind the bounds: at 0.3 and 5.5 % of chlorine or 1 and 6 % of
// peroxide in the bath, and at the strengths that products are sold with (common
// practice), nothing is said. 10 g in 100 ml are 10 % of the product, 100 ml in
// 100 ml are 50 %.
func TestBathsAtTheBounds(t *testing.T) {
	for _, c := range []struct {
		kind                      ProductKind
		amount, water             float64
		least, most               float64 // strengths of the product that make the bath as weak or as strong as it may be
		productLeast, productMost float64
	}{
		{CalciumHypochlorite, 1, 100, 30, 0, 30, 75},
		{CalciumHypochlorite, 10, 100, 0, 55, 30, 75},
		{SodiumHypochlorite, 10, 90, 3, 0, 2, 15},
		{SodiumHypochlorite, 100, 100, 0, 11, 2, 15},
		{HydrogenPeroxide, 10, 90, 10, 0, 3, 35},
		{HydrogenPeroxide, 100, 400, 0, 30, 3, 35},
	} {
		doubts := func(active float64) []BathDoubt {
			return Disinfecting{Kind: c.kind, Active: active, Grams: c.amount, ML: c.amount, Water: c.water, PerLot: 10, Scale: 1}.Doubts()
		}
		has := func(active float64, doubt BathDoubt) bool { return slices.Contains(doubts(active), doubt) }
		if at := c.least; at > 0 && (has(at, WeakBath) || !has(at-.1, WeakBath) || has(at+.1, WeakBath)) {
			t.Errorf("%s at %v %%: %v, and a little less: %v", c.kind, at, doubts(at), doubts(at-.1))
		}
		if at := c.most; at > 0 && (has(at, StrongBath) || !has(at+.1, StrongBath) || has(at-.1, StrongBath)) {
			t.Errorf("%s at %v %%: %v, and a little more: %v", c.kind, at, doubts(at), doubts(at+.1))
		}
		for active, want := range map[float64]bool{c.productLeast - .1: true, c.productLeast: false, c.productMost: false, c.productMost + .1: true} {
			if has(active, OddProduct) != want {
				t.Errorf("%s of %v %%: %v, an odd product: want %v", c.kind, active, doubts(active), want)
			}
		}
	}
}

// Seeds are bathed in a product that is one and has a name.
func TestWhatIsABath(t *testing.T) {
	for _, c := range []struct {
		kind                     ProductKind
		product                  string
		treats, liquid, chlorine bool
	}{
		{CalciumHypochlorite, "pool powder", true, false, true},
		{SodiumHypochlorite, "bleach", true, true, true},
		{HydrogenPeroxide, "peroxide", true, true, false},
		{NoProduct, "bleach", false, false, false},
		{CalciumHypochlorite, " ", false, false, true},
		{CalciumHypochlorite, " None ", false, false, true},
	} {
		d := Disinfecting{Kind: c.kind, Product: c.product}
		if d.Treats() != c.treats || c.kind.IsLiquid() != c.liquid || c.kind.HasChlorine() != c.chlorine {
			t.Errorf("%s %q: treats %v, liquid %v, chlorine %v", c.kind, c.product, d.Treats(), c.kind.IsLiquid(), c.kind.HasChlorine())
		}
	}
}
