package label

import "pipstake/label/symbol"

// card is a layout with one code: the text beside it, or below it where the
// label is narrow and high, or part of it beside and the rest below both over
// the full width.
type card struct {
	fullText float64 // what a code with all that the label says is worth
	tie      float64 // kept free at the left, in millimetres
	foot     bool    // part of the text may stand below the code
	whole    bool    // the head has nothing that could be left out
}

// plan keeps what reads best; nil where nothing fits.
func (c card) plan(b *batch) *plan {
	inner := b.room
	inner.Margin.Left = max(inner.Margin.Left, c.tie)
	in := b.in(inner)
	arrangements := []func(*batch, float64, bool, *symbol.Choice) *plan{c.beside, c.below}
	if c.foot {
		arrangements = append(arrangements, c.footed)
	}
	var best best
	for _, arrange := range arrangements {
		for _, full := range []bool{true, false} {
			var last symbol.Choice
			for _, share := range codeShares {
				best.offer(arrange(in, share, full, &last))
			}
		}
	}
	return best.plan
}

// start begins a plan with a code in a region; nil where none fits there, or
// the same one as last time.
func (b *batch) start(region Rect, full bool, last *symbol.Choice) (*plan, Code) {
	code, ok := b.placeCode(region, full)
	if !ok || code.Symbol.Choice == *last {
		return nil, Code{}
	}
	*last = code.Symbol.Choice
	return &plan{codes: []Code{code}}, code
}

// left is where a code may begin: its quiet zone may reach into the margin.
func left(r Room) float64 { return max(0, r.Margin.Left-4) }

// beside sets the code at the left, at most share of the height, and the text
// at its right.
func (c card) beside(b *batch, share float64, full bool, last *symbol.Choice) *plan {
	r := b.room
	x := left(r)
	p, code := b.start(Rect{x, r.H * (1 - share) / 2, (r.W - x) * 0.6, r.H * share}, full, last)
	if p == nil {
		return nil
	}
	safe := r.Safe()
	box := Rect{Y: safe.Y, H: safe.H}
	if code.Ink().H > 0.9*safe.H {
		box = code.Ink()
	}
	box.X = code.Outer().Right() + textGap
	box.W = safe.Right() - box.X
	return c.finish(b, p, both(box))
}

// below sets the code above, at most share of the height, and the text below.
func (c card) below(b *batch, share float64, full bool, last *symbol.Choice) *plan {
	r := b.room
	x := left(r)
	p, code := b.start(Rect{x, 0, r.W - x, r.H * share}, full, last)
	if p == nil {
		return nil
	}
	code.raise(r)
	p.codes[0] = code
	safe := r.Safe()
	top := code.Outer().Bottom() + textGap
	return c.finish(b, p, both(Rect{safe.X, top, safe.W, safe.Bottom() - top}))
}

// footed sets the code above at the left, at most share of the height, the
// first part of the text at its right and the second below both.
func (c card) footed(b *batch, share float64, full bool, last *symbol.Choice) *plan {
	r := b.room
	x := left(r)
	p, code := b.start(Rect{x, 0, (r.W - x) * 0.6, r.H * share}, full, last)
	if p == nil {
		return nil
	}
	code.raise(r)
	p.codes[0] = code
	safe := r.Safe()
	top := code.Outer().Bottom() + 0.2
	head := Rect{X: code.Outer().Right() + textGap, Y: safe.Y, H: top - headGap - safe.Y}
	head.W = safe.Right() - head.X
	foot := placedPart{footPart, Rect{safe.X, top, safe.W, safe.Bottom() - top}}
	bare := *p
	var best best
	best.offer(c.finish(b, p, []placedPart{{headPart, head}, foot}))
	if c.whole {
		return best.plan
	}
	if without := c.finish(b, &bare, []placedPart{{barePart, head}, foot}); without != nil {
		without.score -= dayWorth
		best.offer(without)
	}
	return best.plan
}

// headGap is the least distance of a head from the foot, in millimetres.
const headGap = 1.4

// dayWorth is what it costs to leave out the day that a head would show: more than a
// somewhat larger identifier is worth.
const dayWorth = 0.5

// placedPart is a part of the text and its place.
type placedPart struct {
	part part
	box  Rect
}

// both is the text in one place.
func both(box Rect) []placedPart { return []placedPart{{wholePart, box}} }

func (c card) finish(b *batch, p *plan, parts []placedPart) *plan {
	for _, at := range parts {
		if !p.add(b, at) {
			return nil
		}
	}
	if len(p.parts) > 1 {
		p.parts[1].lower()
	}
	p.score += codeScore(p.codes[0], c.fullText)
	return p
}

// add sets a part of the text in its place. What is not the first of them is clearly
// smaller than the identifier, and stands apart from it. It reports false where the
// part does not fit.
func (p *plan) add(b *batch, at placedPart) bool {
	col := b.column(at.part, at.box)
	if col != nil && len(p.parts) > 0 {
		head := p.parts[0]
		if most := min(clearlySmaller*head.slots[0].size, (at.box.Y-head.foot)/groupGap); col.slots[0].size > most {
			col = b.column(at.part, at.box, most)
		}
	}
	if col == nil {
		return false
	}
	p.parts = append(p.parts, *col)
	p.score += col.score
	return true
}
