package main

import (
	"fmt"
	"slices"
	"strings"

	"pipstake/ids/practice"
	"pipstake/ids/season"
	"pipstake/ids/words"
	"pipstake/layout"
)

// mix is the bath's frame.
func (b *bath) mix(several bool) layout.BenchMix {
	d := b.Disinfecting
	mix := d.MixFor(len(b.lots))
	product, share := amount(mix.Product)+" g", "g in 100 ml"
	if d.Kind.IsLiquid() {
		product, share = amount(mix.Product)+" ml", "ml in 100 ml"
	}
	m := layout.BenchMix{Figures: [3]layout.BenchFigure{
		{Value: amount(mix.Water) + " ml", Of: "water"},
		{Value: product, Of: spooned(d, mix)},
		{Value: words.Number(mix.Active, 1) + " %", Of: fmt.Sprintf("%s (%s %s)", activeWords(d.Kind), words.Number(mix.Percent, 1), share)},
	}}
	if several {
		var names []string
		for _, l := range b.lots {
			names = append(names, l.String())
		}
		m.For = "for " + words.List(words.Few(names, 12))
	}
	return m
}

// spooned names the product, a liquid with its amount in teaspoons of 5 ml.
func spooned(d season.Disinfecting, m season.Mix) string {
	if !d.Kind.IsLiquid() {
		return d.Product
	}
	return fmt.Sprintf("%s (%s)", d.Product, teaspoons(m.Product/5))
}

// activeWords are what the strength of a bath is counted in.
func activeWords(kind season.ProductKind) string {
	if kind.HasChlorine() {
		return "available chlorine"
	}
	return "peroxide"
}

// pouring is how a bath is made and used; "" where there is none.
func pouring(p season.Protocol) string {
	d := p.Disinfecting
	if !d.Treats() {
		return "no bath"
	}
	first := "Pour the water first, then stir the powder into it"
	if d.Kind.IsLiquid() {
		first = "Pour the water first, then the product into it"
	}
	return fmt.Sprintf("%s. Bathe each lot in %s for %s, then rinse well.", first, unit(d.PerLot, "ml"), unit(d.Minutes, "min"))
}

// bathStep is the step of the bath; false where no lot has one.
func bathStep(baths []*bath) (layout.BenchStep, bool) {
	if !slices.ContainsFunc(baths, func(b *bath) bool { return b.Disinfecting.Treats() }) {
		return layout.BenchStep{}, false
	}
	return layout.BenchStep{Text: eachBath(baths, pouring), Blanks: []string{"in", "out"}}, true
}

// bathDoubts say what is out of the ordinary in the baths.
func bathDoubts(baths []*bath) []string {
	var told []string
	for _, b := range baths {
		d := b.Disinfecting
		if !d.Treats() {
			continue
		}
		for _, doubt := range d.Doubts() {
			text := doubtfulBath(doubt, d)
			if !slices.Contains(told, text) {
				told = append(told, text)
			}
		}
	}
	return told
}

func doubtfulBath(doubt season.BathDoubt, d season.Disinfecting) string {
	active := words.Number(d.Strength().Active, 2)
	switch doubt {
	case season.WeakBath:
		return fmt.Sprintf("a bath of %s %% %s is weaker than is usual: look at [disinfecting] of %s", active, activeWords(d.Kind), practice.File)
	case season.StrongBath:
		return fmt.Sprintf("a bath of %s %% %s is stronger than is usual: look at [disinfecting] of %s", active, activeWords(d.Kind), practice.File)
	}
	return fmt.Sprintf("%s with %s %% %s is not what is usually sold: compare active_percent in %s with its label",
		d.Product, words.Plain(d.Active), activeWords(d.Kind), practice.File)
}

// The cautions. Those on chlorine follow the International Chemical Safety Card of
// calcium hypochlorite, ICSC 0638; that it kills what lives in water is its hazard
// statement H400 of the GHS. Those on ammonia and other pool chlorines, and those
// on peroxide, are usual cautions for such products.
const (
	firstCaution    = "The label of your own product, local rules and licensed practice come first."
	chlorineCaution = "Never with acids, not even vinegar, nor with ammonia, urine or other pool chlorines: poisonous gases such as chlorine gas are set free."
	burnsCaution    = "It burns skin and eyes: gloves and eye protection. Work where there is a draught."
	fireCaution     = "It sets fire to what burns: keep it away from oil, paper, sawdust and other combustibles."
	bleachCaution   = "It bleaches and eats metal: use glass or plastic, and keep it cool and in the dark."
	peroxideCaution = "Never with acids, metals or other cleaners, nor in a closed vessel: it gives off oxygen and can burst it."
	waterCaution    = "Keep it out of drains and ponds: it kills what lives in water."
	foodCaution     = "Keep it and its vessels apart from food. Treated seed is not for eating, by people or animals."
	bladeCaution    = "Cut fruit away from your hand: blades slip on cores."
)

// cautionsOf are the cautions for a kind of product.
func cautionsOf(kind season.ProductKind) []string {
	switch kind {
	case season.CalciumHypochlorite:
		return []string{chlorineCaution, burnsCaution, fireCaution, waterCaution, foodCaution}
	case season.SodiumHypochlorite:
		return []string{chlorineCaution, burnsCaution, bleachCaution, waterCaution, foodCaution}
	case season.HydrogenPeroxide:
		return []string{peroxideCaution, burnsCaution, fireCaution, waterCaution, foodCaution}
	}
	return nil
}

// benchCautions are those for all baths of the day. Where there are baths of
// several kinds, each says which it is about.
func benchCautions(baths []*bath) []string {
	var kinds []season.ProductKind
	for _, b := range baths {
		if kind := b.Disinfecting.Kind; b.Disinfecting.Treats() && !slices.Contains(kinds, kind) {
			kinds = append(kinds, kind)
		}
	}
	if len(kinds) == 0 {
		return []string{bladeCaution}
	}
	all := []string{firstCaution}
	for _, kind := range kinds {
		for _, caution := range cautionsOf(kind) {
			if len(kinds) > 1 && !slices.Contains([]string{burnsCaution, waterCaution, foodCaution}, caution) {
				caution = words.Capital(string(kind)) + ": " + strings.ToLower(caution[:1]) + caution[1:]
			}
			if !slices.Contains(all, caution) {
				all = append(all, caution)
			}
		}
	}
	return append(all, bladeCaution)
}
