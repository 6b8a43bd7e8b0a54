package label

import (
	"math"

	"pipstake/ids"
	"pipstake/label/symbol"
)

// Bag is the label of a seed lot's bag. What is not yet known is empty and
// leaves a blank to write in.
type Bag struct {
	ID                        ids.ID // of the seed lot
	SeedParent, PollenParent  string
	Fruit, Seeds, Undeveloped string // counts
	Opened, Chilled, Ready    string // dates, ISO 8601
	Treated                   bool   // the seed is disinfected, so the label bears a caution
}

// Fit sets the bag label by itself in room r; see the function Fit.
func (b Bag) Fit(r Room) (*Drawing, error) { return fitOne(b, r) }

func (b Bag) about() about {
	return about{kind: "bag label", id: b.ID, names: []string{b.SeedParent, b.PollenParent},
		payload: symbol.Payload{ID: b.ID}, facts: symbol.Facts{SeedParent: b.SeedParent, PollenParent: b.PollenParent}}
}

func (b Bag) rows(p part, font *Typeface, h float64) []row {
	names := func(want, plain float64) row {
		return parents(font, want*h, plain*h, b.SeedParent, b.PollenParent).onOwnLines()
	}
	switch p {
	case headPart:
		return []row{identifier(b.ID, 0.6*h)}
	case footPart:
		return []row{names(0.36, 0.25)}
	}
	return []row{identifier(b.ID, 0.44*h), group(names(0.19, 0.13))}
}

// plan tries the form below the code, below the names beside it, beside both, and
// below names that stand below the code.
func (b Bag) plan(all *batch) *plan {
	var best best
	for _, arrange := range []func(*batch, float64, bool, *symbol.Choice) *plan{bagBelow, bagBeside, bagAcross, bagStacked} {
		for _, full := range []bool{true, false} {
			var last symbol.Choice
			for _, share := range codeShares {
				best.offer(arrange(all, share, full, &last))
			}
		}
	}
	return best.plan
}

// bagBelow sets code and names in a band above, at most share of the height,
// and the form below over the full width.
func bagBelow(b *batch, share float64, full bool, last *symbol.Choice) *plan {
	r := b.room
	p, code := b.start(Rect{0, 0, r.W, r.H * share}, full, last)
	if p == nil {
		return nil
	}
	code.raise(r)
	p.codes[0] = code
	safe := r.Safe()
	x := code.Outer().Right() + textGap
	top := code.Outer().Bottom() - 1 // the height of what is written stays free anyway
	return p.withForm(b, Rect{safe.X, top, safe.W, safe.Bottom() - top}, both(Rect{x, code.Y, safe.Right() - x, code.Ink().H})...)
}

// bagBeside sets the code at the left, at most share of the height, and the
// names over the form at its right.
func bagBeside(b *batch, share float64, full bool, last *symbol.Choice) *plan {
	r := b.room
	p, code := b.start(Rect{0, (r.H - r.H*share) / 2, r.W * 0.5, r.H * share}, full, last)
	if p == nil {
		return nil
	}
	safe := r.Safe()
	x := code.Outer().Right() + textGap
	names := safe.H * 0.42
	return p.withForm(b, Rect{x, safe.Y + names, safe.Right() - x, safe.H - names}, both(Rect{x, safe.Y, safe.Right() - x, names})...)
}

// bagAcross sets the code at the left, at most share of the height, then the
// names, and the form at the right.
func bagAcross(b *batch, share float64, full bool, last *symbol.Choice) *plan {
	const gap = 3.0 // between names and form
	r := b.room
	p, code := b.start(Rect{0, (r.H - r.H*share) / 2, r.W, r.H * share}, full, last)
	if p == nil {
		return nil
	}
	safe := r.Safe()
	x := code.Outer().Right() + textGap
	var best best
	for _, part := range []float64{0.3, 0.36, 0.42, 0.5} {
		w := part * (safe.Right() - x)
		own := *p
		best.offer(own.withForm(b, Rect{x + w + gap, safe.Y, safe.Right() - x - w - gap, safe.H}, both(Rect{x, safe.Y, w, safe.H})...))
	}
	return best.plan
}

// bagStacked sets the identifier beside the code, at most share of the height, and
// names and form below one another over the full width, on labels that are not wide.
func bagStacked(b *batch, share float64, full bool, last *symbol.Choice) *plan {
	r := b.room
	if r.W > 1.7*r.H {
		return nil
	}
	p, code := b.start(Rect{0, 0, r.W * 0.6, r.H * share}, full, last)
	if p == nil {
		return nil
	}
	code.raise(r)
	p.codes[0] = code
	safe := r.Safe()
	x := code.Outer().Right() + textGap
	head := placedPart{headPart, Rect{x, code.Y, safe.Right() - x, code.Ink().H}}
	top := code.Outer().Bottom() + 0.2
	var best best
	for _, part := range []float64{0.12, 0.16, 0.2} {
		own, high := *p, max(part*r.H, 6)
		form := top + high // the height of what is written stays free anyway
		best.offer(own.withForm(b, Rect{safe.X, form, safe.W, safe.Bottom() - form}, head, placedPart{footPart, Rect{safe.X, top, safe.W, high}}))
	}
	return best.plan
}

// withForm adds the text and the form, and scores how well the whole reads: the
// identifier first, then the code's module, then the room for handwriting.
func (p *plan) withForm(b *batch, form Rect, text ...placedPart) *plan {
	for _, at := range text {
		if !p.add(b, at) {
			return nil
		}
	}
	names := p.parts[len(p.parts)-1].slots
	f := newForm(form, names[len(names)-1].size, anyTreated(b))
	if f == nil {
		return nil
	}
	p.form = f
	p.score += codeScore(p.codes[0], 1.5) + 2*math.Log(f.height) + f.worth
	return p
}

// anyTreated reports whether a label of the batch bears the caution.
func anyTreated(b *batch) bool {
	for _, f := range b.faces {
		if f.(Bag).Treated {
			return true
		}
	}
	return false
}
