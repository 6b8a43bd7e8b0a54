package label

import (
	"math"
	"strconv"

	"pipstake/ids"
	"pipstake/label/symbol"
)

// Stake is a label to be pushed into a pot, one of a pair. A long one has its
// top at the left: a tile that is read upright in the pot, a code and the text;
// then a line where the soil comes to, with a second code below it, and a point
// at the right without text. One too short for that is a label to be stuck to a
// stick or a pot, with one code.
type Stake struct {
	ID                       ids.ID // of the pot
	Copy                     int    // 1 or 2
	Seeds                    int    // sown in the pot
	Sown                     string // ISO 8601
	SeedParent, PollenParent string
}

// Fit sets the stake by itself in room r; see the function Fit.
func (s Stake) Fit(r Room) (*Drawing, error) { return fitOne(s, r) }

func (s Stake) about() about {
	return about{kind: "stake", id: s.ID, names: []string{s.SeedParent, s.PollenParent},
		payload: symbol.Payload{ID: s.ID, Copy: s.Copy},
		facts:   symbol.Facts{Seeds: s.Seeds, Sown: s.Sown, SeedParent: s.SeedParent, PollenParent: s.PollenParent}}
}

// quiet is the size of what is said quietly against that of the line it stands
// in.
const quiet = 0.7

func (s Stake) rows(p part, font *Typeface, h float64) []row {
	count := run{Bold, s.count(), 1, flowing}
	if p == buriedPart { // sizes are those of the text above the soil
		return []row{
			{plain: leastIdentifier, least: leastIdentifier, shapes: []shape{onTwoLines(s.ID), {named(s.ID.String(), s.ID)}}},
			{plain: leastText, least: leastText, group: true, shapes: []shape{{{{Regular, s.count(), 1, flowing}}}}},
		}
	}
	if p == headPart {
		return []row{identifier(s.ID, 0.6*h).twoLinesFirst()}
	}
	line := line{count, {Regular, "  sown " + s.Sown, quiet, tabbed}, {Regular, strconv.Itoa(s.Copy) + "/2", quiet, atRight}}
	seeds := group(row{want: max(0.208*h, leastText/quiet), plain: leastText / quiet, least: leastText / quiet, shapes: []shape{{line}}})
	if p == footPart { // counts are never as small as long names
		seeds.want, seeds.free = max(0.26*h, leastText/quiet), true
		return []row{parents(font, 0.3*h, 1.8, s.SeedParent, s.PollenParent).onOwnLines(), seeds}
	}
	return []row{identifier(s.ID, 0.36*h), group(parents(font, 0.15*h, 0.11*h, s.SeedParent, s.PollenParent)), seeds}
}

// group sets a row further from the one above it.
func group(r row) row {
	r.group = true
	return r
}

func (s Stake) count() string {
	if s.Seeds == 1 {
		return "1 seed"
	}
	return strconv.Itoa(s.Seeds) + " seeds"
}

// Measures of a stake, in millimetres.
const (
	leastSlender = 4.0 // the least length of one that goes into the soil, in widths
	soilGap      = 2.0 // from the soil line to what stands beside it
	tileCaps     = 7.0 // the height of the letters in the tile
	leastTile    = 3.0 // the same at the least
	tileGap      = 1.8 // from the tile to the code's quiet zone
)

// soilShares are the parts of a stake's length, from the top, that may stay
// above the soil, the best first.
var soilShares = []float64{0.69, 0.63, 0.56}

// tip is the length at the right end that bears no text, in millimetres: it
// may be clipped to a point.
func tip(r Room) float64 { return min(0.45*r.H, 0.061*r.W) }

func (s Stake) plan(b *batch) *plan {
	if p := s.long(b); p != nil {
		return p
	}
	return s.short(b)
}

// long tries the soil line in several places, with a tile and without, and the
// codes at several sizes.
func (s Stake) long(b *batch) *plan {
	if b.room.W < leastSlender*b.room.H {
		return nil
	}
	head := newTile(b)
	var best best
	for _, soil := range soilShares {
		for _, head := range []*tile{head, nil} {
			var last [2]symbol.Choice
			for _, share := range codeShares {
				for _, full := range []bool{true, false} {
					best.offer(s.try(b, soil*b.room.W, head, share*b.room.H, full, &last))
				}
			}
		}
		if best.plan != nil {
			break
		}
	}
	return best.plan
}

// try lays the stake out with the soil line at soil and codes of at most side, in
// millimetres, and a tile unless that is nil. It returns nil where that does not fit, or
// where last says that the same codes have been tried.
func (s Stake) try(b *batch, soil float64, head *tile, side float64, full bool, last *[2]symbol.Choice) *plan {
	r := b.room
	safe := r.Safe()
	left := 0.0
	p := &plan{}
	if head != nil {
		if head.caps < leastTile {
			return nil
		}
		left = safe.X + head.width + tileGap
		p.extra = head.draw
		p.score = 2 * math.Log(head.caps)
	}
	top := (r.H - side) / 2
	above, ok1 := b.placeCode(Rect{left, top, soil - left, side}, full)
	below, ok2 := b.placeCode(Rect{soil + soilGap - 0.5, top, r.W - tip(r) - soil, side}, false)
	if !ok1 || !ok2 || last[0] == above.Symbol.Choice && last[1] == below.Symbol.Choice {
		return nil
	}
	*last = [2]symbol.Choice{above.Symbol.Choice, below.Symbol.Choice}
	p.codes = []Code{above, below}

	end := min(safe.Right(), r.W-tip(r))
	x := above.Outer().Right() + textGap
	main := b.column(wholePart, Rect{x, safe.Y, soil - soilGap - x, safe.H})
	x = below.Outer().Right() + textGap
	if main == nil {
		return nil
	}
	small := main.slots[len(main.slots)-1].size
	beside := Rect{x, below.Y, end - x, below.Ink().H}
	buried := b.column(buriedPart, beside, small, quiet*small)
	if buried == nil {
		beside.Y, beside.H = safe.Y, safe.H
		buried = b.column(buriedPart, beside, small, quiet*small)
	}
	if buried == nil {
		return nil
	}
	p.parts = []column{*main, *buried}
	p.score += main.score + 0.5*buried.score + codeScore(above, 1.8) + codeScore(below, 0)
	p.rules = append(p.rules, Rule{X1: soil, Y1: safe.Y, X2: soil, Y2: safe.Bottom(), Width: 0.25})
	p.clip(r, end)
	return p
}

// clip draws lines to clip a point along, from the long edges toward the end,
// as far as ink may lie, and leaves the corner to the sheet.
func (p *plan) clip(r Room, from float64) {
	safe := r.Safe()
	long := r.W - from
	if !r.Cut || long < 4 {
		return
	}
	at := func(y float64) float64 { return from + long*y/(r.H/2) }
	x1, x2 := at(safe.Y), min(safe.Right(), at(r.H/2-1))
	y2 := (x2 - from) / long * r.H / 2
	if x2-x1 < 1 {
		return
	}
	p.rules = append(p.rules, Rule{X1: x1, Y1: safe.Y, X2: x2, Y2: y2, Width: 0.1},
		Rule{X1: x1, Y1: safe.Bottom(), X2: x2, Y2: r.H - y2, Width: 0.1})
	p.strip = strip(r, from, x2)
	const w, h = 2.2, 1.5
	if spare := (Rect{safe.Right() - w, 0.8, w, h}); from+long*spare.Bottom()/(r.H/2) < spare.X {
		p.spare = spare
	}
}

// Measures of the strip between the lines to clip along, in millimetres.
const (
	stripGap   = 0.6 // from what stands before it, at the least
	stripClear = 0.3 // from the lines
	leastStrip = 8.3 // its length at the least, for "10 = 200 mm" in letters of 4 pt
	mostStrip  = 12.0
)

// strip is the place between the lines that run from from to the middle of the end,
// as far as ink may lie, all of it on what is left when they are clipped: as wide as
// letters of 5.7 pt need, or narrower where it would be too short for that. It is
// empty where there is none.
func strip(r Room, from, end float64) Rect {
	safe := r.Safe()
	best := Rect{}
	for _, wide := range []float64{1.9, 1.6, 1.34} {
		x := from + stripGap
		if spare := end - x - wide; spare > 0 {
			x += min(spare, 0.4)
		}
		half := r.H/2 - (x+wide-from)/(r.W-from)*r.H/2 - stripClear
		half = min(half, mostStrip/2, r.H/2-safe.Y, safe.Bottom()-r.H/2)
		if x+wide > end || 2*half < leastStrip || 2*half <= best.H || best.H > 10 {
			continue
		}
		best = Rect{x, r.H/2 - half, wide, 2 * half}
	}
	return best
}

// short lays the stake out as a label without a part in the soil.
func (s Stake) short(b *batch) *plan { return card{fullText: 1.5, foot: true, whole: true}.plan(b) }

// StakeBack is the other side of a stake, for printing on both.
type StakeBack struct{ Stake }

// Fit sets the back by itself in room r; see the function Fit.
func (s StakeBack) Fit(r Room) (*Drawing, error) { return fitOne(s, r) }

func (s StakeBack) about() about {
	a := s.Stake.about()
	a.kind = "stake's back"
	return a
}

func (s StakeBack) rows(p part, font *Typeface, h float64) []row {
	return []row{
		identifier(s.ID, 0.45*h),
		group(parents(font, 0.2*h, 0.11*h, s.SeedParent, s.PollenParent)),
	}
}

// plan keeps the back clear of the part in the soil. It has a code where there
// is room for one beside text of a good size, and none otherwise.
func (s StakeBack) plan(b *batch) *plan {
	r := b.room
	inner := r
	if r.W >= leastSlender*r.H {
		inner.Margin.Right = max(inner.Margin.Right, r.W*(1-soilShares[0]))
	}
	var best best
	best.offer(card{fullText: 1.5}.plan(b.in(inner)))
	if best.plan != nil {
		return best.plan
	}
	if c := b.column(headPart, inner.Safe()); c != nil {
		return &plan{parts: []column{*c}, score: c.score}
	}
	return nil
}
