package label

import (
	"strconv"
	"strings"

	"pipstake/ids"
	"pipstake/label/symbol"
)

// Stake is a label to be pushed into a pot, one of a pair.
type Stake struct {
	ID                       ids.ID // of the pot
	Copy                     int    // 1 or 2
	Seeds                    int    // sown in the pot
	Sown                     string // ISO 8601
	SeedParent, PollenParent string
}

// soilShares are the parts of a stake's length, from the top, that may stay
// above the soil, the best first.
var soilShares = []float64{0.65, 0.6, 0.55}

// dateScale is the size of the date against that of the count beside it.
const dateScale = 0.68

// soilGap is the width that the word at the soil line needs to either side of
// it, in millimetres.
const soilGap = 2.8

// Fit sets the stake in room r. A long one has its top at the left, its point
// at the right, a dashed line where the soil comes to and a second code below
// that; one too short for it is a label to be stuck to a stick or a pot, with
// one code. The error is a *RoomError, a *GlyphError or a *ScriptError.
func (s Stake) Fit(r Room) (*Drawing, error) {
	if err := printable(r, s.SeedParent, s.PollenParent); err != nil {
		return nil, err
	}
	return fitOrAsk("stake", r, func(r Room) *Drawing {
		if d := s.long(r); d != nil {
			return d
		}
		return s.short(r)
	})
}

// leastSlender is the least length of a stake that goes into the soil, in
// widths.
const leastSlender = 4

// long tries the soil line in several places and the codes at several sizes,
// and keeps the drawing that reads best. It gives nil where the room does not
// do.
func (s Stake) long(r Room) *Drawing {
	if r.W < leastSlender*r.H {
		return nil
	}
	says := newSaying(symbol.Payload{ID: s.ID, Copy: s.Copy}, s.facts())
	sh := newShape("stake", r, says, s.ID, s.words())
	at := func(soil int, share float64, last *[2]symbol.Choice) (*Drawing, float64) {
		codes, ok := stakeCodes(r, soilShares[soil]*r.W, share*r.H, says.texts)
		if !ok {
			return nil, 0
		}
		now := [2]symbol.Choice{codes[0].Symbol.Choice, codes[1].Symbol.Choice}
		if now == *last {
			return nil, 0
		}
		*last = now
		d, score := s.try(r, soilShares[soil]*r.W, codes)
		if d != nil {
			d.says = says.texts[0]
			d.notice(says.notice)
		}
		return d, score
	}
	if w, ok := sh.winner(); ok {
		d, _ := at(w.arrangement, w.share, new([2]symbol.Choice))
		return d
	}
	var best choice
	for soil := range soilShares {
		var last [2]symbol.Choice
		for _, share := range codeShares {
			if best.offer(at(soil, share, &last)) {
				best.by = winner{soil, share}
			}
		}
		if best.drawing != nil {
			break
		}
	}
	return best.settle(sh)
}

// words are all that the stake says besides its identifier.
func (s Stake) words() string {
	return strings.Join([]string{s.count(), s.copyOf(), s.Sown, s.SeedParent, s.PollenParent}, "\n")
}

// short draws the stake as a label without a part in the soil.
func (s Stake) short(r Room) *Drawing {
	face := simple{face: "short stake", words: s.words(), payload: symbol.Payload{ID: s.ID, Copy: s.Copy}, facts: s.facts(), rows: func(r Room, h float64) []row {
		return []row{
			identifier(s.ID, 0.4*h),
			plain(max(0.26*h, leastText/dateScale), leastText/dateScale, run{Bold, s.count(), 1, false}, run{Bold, s.copyOf(), dateScale, true}),
			parents(r, 0.18*h, s.SeedParent, s.PollenParent),
			plain(max(0.15*h, leastText), leastText, run{Regular, "sown " + s.Sown, 1, false}),
		}
	}}
	return face.fit(r)
}

// Back sets the other side of the stake in room r, for printing on both: the
// identifier and the parents, clear of the part in the soil. Errors are those
// of Fit.
func (s Stake) Back(r Room) (*Drawing, error) {
	if err := printable(r, s.SeedParent, s.PollenParent); err != nil {
		return nil, err
	}
	return fitOrAsk("stake's back", r, func(r Room) *Drawing {
		d := &Drawing{W: r.W, H: r.H, Safe: r.Safe()}
		box := d.Safe
		if r.W >= leastSlender*r.H {
			box.W = soilShares[0]*r.W - box.X
		}
		if d.set(box, []row{identifier(s.ID, 0.6*box.H), parents(r, 0.3*box.H, s.SeedParent, s.PollenParent)}) == nil {
			return nil
		}
		return d
	})
}

func (s Stake) facts() symbol.Facts {
	return symbol.Facts{Seeds: s.Seeds, Sown: s.Sown, SeedParent: s.SeedParent, PollenParent: s.PollenParent}
}

// stakeCodes chooses the code above the soil line and the one below it, both
// of at most side, in millimetres.
func stakeCodes(r Room, soil, side float64, texts []string) (codes [2]Code, ok bool) {
	top := (r.H - side) / 2
	above, err := placeCode(r, Rect{0, top, soil / 2, side}, texts...)
	if err != nil {
		return codes, false
	}
	compact := texts[len(texts)-1]
	below, err := placeCode(r, Rect{soil + soilGap, top, r.Safe().Right() - soil, side}, compact)
	return [2]Code{above, below}, err == nil
}

// try draws the stake around its codes with the soil line at soil, in
// millimetres, and scores how well the whole reads.
func (s Stake) try(r Room, soil float64, codes [2]Code) (*Drawing, float64) {
	safe := r.Safe()
	d := &Drawing{W: r.W, H: r.H, Safe: safe, Codes: codes[:]}
	above, below := codes[0], codes[1]

	band := above.Ink()
	if band.H < 0.9*safe.H {
		band.Y, band.H = safe.Y, safe.H
	}
	x := above.Outer().Right() + textGap
	main := d.set(Rect{x, band.Y, soil - soilGap - x, band.H}, s.rows(r, band.H))
	x = below.Outer().Right() + textGap
	buried := d.set(Rect{x, band.Y, safe.Right() - x, band.H}, s.buriedRows(band.H))
	if main == nil || buried == nil {
		return nil, 0
	}
	d.soilLine(soil, safe)
	return d, main.score() + codeScore(above) + codeScore(below)
}

// soilLine marks how deep the stake goes in: a dashed line at x with the word
// in its middle, so that nobody takes it for a place to cut.
func (d *Drawing) soilLine(x float64, safe Rect) {
	word := newText(0, 0, leastText, Regular, "soil")
	middle := safe.Y + safe.H/2
	word = newText(x-word.Box.W/2, middle-word.Box.Y-word.Box.H/2, leastText, Regular, "soil")
	d.Texts = append(d.Texts, word)
	for _, part := range [][2]float64{{safe.Y, word.Box.Y - 0.6}, {word.Box.Bottom() + 0.6, safe.Bottom()}} {
		d.Rules = append(d.Rules, Rule{X1: x, Y1: part[0], X2: x, Y2: part[1], Width: 0.2, Dash: 0.9, Gap: 0.9})
	}
}

// rows is what the stake says above the soil, in a column of height h.
func (s Stake) rows(r Room, h float64) []row {
	return []row{
		identifier(s.ID, 0.6*h),
		plain(0.34*h, leastText/dateScale,
			run{Bold, s.count(), 1, false},
			run{Regular, "   sown " + s.Sown, dateScale, false},
			run{Bold, s.copyOf(), dateScale, true}),
		parents(r, 0.25*h, s.SeedParent, s.PollenParent),
	}
}

// buriedRows is what the stake says below the soil line, in a column of
// height h.
func (s Stake) buriedRows(h float64) []row {
	return []row{
		identifier(s.ID, 0.3*h),
		plain(0.2*h, leastText, run{Regular, s.count(), 1, false}),
		plain(0.2*h, leastText, run{Regular, s.copyOf(), 1, false}),
	}
}

func (s Stake) count() string {
	if s.Seeds == 1 {
		return "1 seed"
	}
	return strconv.Itoa(s.Seeds) + " seeds"
}

func (s Stake) copyOf() string { return "copy " + strconv.Itoa(s.Copy) + " of 2" }
