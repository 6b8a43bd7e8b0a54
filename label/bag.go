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

func (b Bag) rows(_ part, font *Typeface, h float64) []row {
	return []row{
		identifier(b.ID, 0.44*h),
		group(parents(font, 0.19*h, 0.13*h, b.SeedParent, b.PollenParent).onOwnLines()),
	}
}

// plan tries the form below the code, below the names beside it, and beside
// both.
func (b Bag) plan(all *batch) *plan {
	var best best
	for _, arrange := range []func(*batch, float64, bool, *symbol.Choice) *plan{bagBelow, bagBeside, bagAcross} {
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
	return p.withForm(b, Rect{x, code.Y, safe.Right() - x, code.Ink().H}, Rect{safe.X, top, safe.W, safe.Bottom() - top})
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
	return p.withForm(b, Rect{x, safe.Y, safe.Right() - x, names}, Rect{x, safe.Y + names, safe.Right() - x, safe.H - names})
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
		best.offer(own.withForm(b, Rect{x, safe.Y, w, safe.H}, Rect{x + w + gap, safe.Y, safe.Right() - x - w - gap, safe.H}))
	}
	return best.plan
}

// withForm adds the names and the form, and scores how well the whole reads:
// the identifier first, then the code's module, then the room for handwriting.
func (p *plan) withForm(b *batch, names, form Rect) *plan {
	c := b.column(headPart, names)
	if c == nil {
		return nil
	}
	f := newForm(form, c.slots[len(c.slots)-1].size, anyTreated(b))
	if f == nil {
		return nil
	}
	p.parts, p.form = []column{*c}, f
	p.score = c.score + codeScore(p.codes[0], 1.5) + 2*math.Log(f.height) + f.worth
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
