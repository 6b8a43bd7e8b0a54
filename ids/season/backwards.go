package season

import (
	"math"

	"pipstake/ids/registry"
)

// Figure is a number that a plan rests on.
type Figure struct {
	Value     float64
	Low, High float64 // of the single crosses that it was found in
	Crosses   int     // these; 0 where it is the protocol's
	Counted   int     // seeds, fruit or flowers behind it
}

// Own reports whether the figure is the grower's own.
func (f Figure) Own() bool { return f.Crosses > 0 }

// Experience is what a grower's crosses gave, or else the protocol's numbers.
type Experience struct {
	Germination Figure // part of one
	Empty       Figure // undeveloped seed, part of one
	PerFruit    Figure // seeds
	Set         Figure // part of one
}

// Enough own figures are those of at least so many crosses, with so much counted
// in all: one cross says little of the next.
const (
	enoughCrosses = 3
	enoughSeeds   = 100
	enoughFruit   = 20
	enoughFlowers = 30
)

// ExperienceOf gathers what the crosses of a registry gave by a day, of pots that
// are over. Without a registry, or where there is not enough of something, it is
// the protocol's.
func ExperienceOf(r *registry.Registry, practice Practice, on registry.Date) Experience {
	p := practice.Protocol
	e := Experience{
		Germination: Figure{Value: p.Germination.Expected / 100},
		PerFruit:    Figure{Value: float64(p.Fruit.LeastSeeds+p.Fruit.MostSeeds) / 2, Low: float64(p.Fruit.LeastSeeds), High: float64(p.Fruit.MostSeeds)},
		Set:         Figure{Value: p.Fruit.SetPercent / 100},
	}
	if r == nil {
		return e
	}
	var germination, empty, perFruit, set []Part
	for _, g := range Germinate(r, practice, ByCross, Scope{On: on}).Groups {
		germination = append(germination, Part{g.Over.Up, g.Over.Sown})
	}
	for _, y := range YieldOf(r, practice, ByCross, Scope{On: on}).Groups {
		empty, perFruit, set = append(empty, y.Empty), append(perFruit, y.PerFruit), append(set, y.Set)
	}
	e.Germination = e.Germination.orOwn(germination, enoughSeeds)
	e.Empty = e.Empty.orOwn(empty, enoughSeeds)
	e.PerFruit = e.PerFruit.orOwn(perFruit, enoughFruit)
	e.Set = e.Set.orOwn(set, enoughFlowers)
	return e
}

// AimOf is an aim with the grower's own rate of germination, where there is one
// and the aim names none.
func (e Experience) AimOf(aim Aim) Aim {
	if aim.Rate == 0 && e.Germination.Own() {
		aim.Rate = e.Germination.Value
	}
	return aim
}

// orOwn is the figure of some crosses, where they are enough and it is not 0.
func (f Figure) orOwn(crosses []Part, enough int) Figure {
	own := Figure{Low: math.Inf(1)}
	n := 0
	for _, part := range crosses {
		if !part.Known() {
			continue
		}
		own.Crosses++
		own.Counted += part.Of
		n += part.N
		own.Low, own.High = min(own.Low, part.Rate()), max(own.High, part.Rate())
	}
	if own.Crosses < enoughCrosses || own.Counted < enough || n == 0 {
		return f
	}
	own.Value = float64(n) / float64(own.Counted)
	return own
}

// Backwards is what an aim takes, from seedlings back to flowers.
type Backwards struct {
	Experience
	Good    int // seeds to sow
	Seeds   int // with the undeveloped ones
	Fruit   int
	Flowers int
}

// BackwardsFrom reckons from seedlings back to flowers. The certainty is that of
// the seeds sown; how many seeds, fruit and flowers they take is a mean.
func BackwardsFrom(aim Aim, e Experience) Backwards {
	b := Backwards{Experience: e}
	rate := aim.Rate
	if rate == 0 {
		rate = e.Germination.Value
	}
	up := func(n float64) int { return int(math.Ceil(n - 1e-9)) }
	b.Good = SeedsFor(aim.Seedlings, aim.Certainty, rate)
	b.Seeds = up(float64(b.Good) / (1 - min(e.Empty.Value, 0.99)))
	b.Fruit = up(float64(b.Seeds) / e.PerFruit.Value)
	b.Flowers = up(float64(b.Fruit) / e.Set.Value)
	return b
}
