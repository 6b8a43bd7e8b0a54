package season

import (
	"math"
	"strings"
)

// ProductKind is what the seeds are bathed in, which decides what to say of it.
type ProductKind string

// The kinds of products.
const (
	CalciumHypochlorite ProductKind = "calcium hypochlorite" // a powder
	SodiumHypochlorite  ProductKind = "sodium hypochlorite"  // a liquid, household bleach
	HydrogenPeroxide    ProductKind = "hydrogen peroxide"    // a liquid
	NoProduct           ProductKind = "none"                 // seeds are not bathed
)

// ProductKinds are all of them.
var ProductKinds = []ProductKind{CalciumHypochlorite, SodiumHypochlorite, HydrogenPeroxide, NoProduct}

// IsLiquid reports whether the product is poured, not weighed.
func (k ProductKind) IsLiquid() bool { return k == SodiumHypochlorite || k == HydrogenPeroxide }

// HasChlorine reports whether the product is one of chlorine.
func (k ProductKind) HasChlorine() bool { return k == CalciumHypochlorite || k == SodiumHypochlorite }

// Disinfecting is the bath that seeds are given before they are soaked.
type Disinfecting struct {
	Kind    ProductKind
	Product string  // what it is called
	Active  float64 // percent of the product that is available chlorine, or peroxide
	Grams   float64 // of a powder
	ML      float64 // of a liquid product
	Water   float64 // ml that they go into
	PerLot  float64 // ml of the bath for each seed lot
	Minutes float64
	Scale   float64 // g that the scales at hand tell apart
}

// Treats reports whether seeds are bathed at all.
func (d Disinfecting) Treats() bool {
	product := strings.TrimSpace(d.Product)
	return d.Kind != NoProduct && product != "" && !strings.EqualFold(product, string(NoProduct))
}

// amount is grams of a powder, ml of a liquid.
func (d Disinfecting) amount() float64 {
	if d.Kind.IsLiquid() {
		return d.ML
	}
	return d.Grams
}

// Mix is what to mix for a bath.
type Mix struct {
	Water   float64 // ml
	Product float64 // g of a powder, ml of a liquid
	Percent float64 // of the product in the bath: w/v of a powder, v/v of a liquid
	Active  float64 // percent of available chlorine, or of peroxide, in the bath
}

// Half a teaspoon, which is the least that a liquid is measured in, and how many
// steps of the scales or spoons make an amount that is right within a tenth.
const (
	halfTeaspoon = 2.5 // ml
	leastSteps   = 5
)

// Strength is the bath as the protocol has it, whatever its amount.
func (d Disinfecting) Strength() Mix { return d.mixed(d.Water, d.amount()) }

// mixed works out the strength of what is mixed.
func (d Disinfecting) mixed(water, product float64) Mix {
	m := Mix{Water: water, Product: product}
	whole := water
	if d.Kind.IsLiquid() {
		whole += product
	}
	m.Percent = 100 * product / whole
	m.Active = m.Percent * d.Active / 100
	return m
}

// MixFor is what to mix for a number of seed lots: at least what they take, and so
// much that kitchen scales can weigh the powder, or spoons measure the liquid, to a
// tenth. Its strength is that of the amounts as they are rounded.
func (d Disinfecting) MixFor(lots int) Mix {
	bath := float64(lots) * d.PerLot
	step, least, need := d.Scale, leastSteps*d.Scale, bath*d.Grams/d.Water
	if d.Kind.IsLiquid() {
		step, least, need = halfTeaspoon, 2*halfTeaspoon, bath*d.ML/(d.ML+d.Water)
	}
	product := max(least, math.Ceil(need/step-1e-9)*step)
	water := product * d.Water / d.amount()
	if d.Kind.IsLiquid() {
		bath -= product // which is a part of it
	}
	if round := math.Round(water/5) * 5; round > 50 && round >= bath {
		water = round
	} else {
		water = math.Ceil(water)
	}
	return d.mixed(water, product)
}

// BathDoubt is something out of the ordinary in a bath.
type BathDoubt int

// The doubts. The ranges are common practice; of products, what is sold: calcium
// hypochlorite holds about 30–70 % available chlorine (from memory).
const (
	WeakBath BathDoubt = iota
	StrongBath
	OddProduct // the product's own strength is not that of its kind
)

// ordinary are the ranges in percent: of the bath, and of the product.
var ordinary = map[ProductKind]struct{ bathLeast, bathMost, productLeast, productMost float64 }{
	CalciumHypochlorite: {0.3, 5.5, 30, 75},
	SodiumHypochlorite:  {0.3, 5.5, 2, 15},
	HydrogenPeroxide:    {1, 6, 3, 35},
}

// Doubts returns what is out of the ordinary.
func (d Disinfecting) Doubts() []BathDoubt {
	usual, treated := ordinary[d.Kind]
	if !treated {
		return nil
	}
	var doubts []BathDoubt
	switch active := d.Strength().Active; {
	case active < usual.bathLeast:
		doubts = append(doubts, WeakBath)
	case active > usual.bathMost:
		doubts = append(doubts, StrongBath)
	}
	if d.Active < usual.productLeast || d.Active > usual.productMost {
		doubts = append(doubts, OddProduct)
	}
	return doubts
}
