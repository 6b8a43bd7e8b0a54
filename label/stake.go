package label

import (
	"strconv"

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

// soilShare is the part of a stake's length, from the top, that stays above
// the soil.
const soilShare = 0.65

// Fit sets the stake in room r, which is wider than high: the top of the stake
// at the left, its point at the right, and a dashed line where the soil comes
// to. The error is a *RoomError or a *GlyphError.
func (s Stake) Fit(r Room) (*Drawing, error) {
	if err := printable(s.SeedParent, s.PollenParent); err != nil {
		return nil, err
	}
	return fitOrAsk("stake", r, s.fit)
}

// fit gives nil where the room does not do.
func (s Stake) fit(r Room) *Drawing {
	safe := r.Safe()
	soil := soilShare * r.W
	d := &Drawing{W: r.W, H: r.H, Safe: safe}
	p := symbol.Payload{ID: s.ID, Copy: s.Copy}
	texts, notice := payloads(p, symbol.Facts{Seeds: s.Seeds, Sown: s.Sown, SeedParent: s.SeedParent, PollenParent: s.PollenParent})
	d.notice(notice)

	above, err := placeCode(r, Rect{0, 0, soil * 0.4, r.H}, texts...)
	if err != nil {
		return nil
	}
	below, err := placeCode(r, Rect{soil + 1.5, 0, safe.Right() - soil, r.H}, p.Compact())
	if err != nil {
		return nil
	}
	d.Codes = []Code{above, below}

	band := above.Ink()
	if band.H < safe.H*0.7 {
		band = Rect{Y: safe.Y, H: safe.H}
	}
	x := above.Outer().Right() + textGap
	if !d.set(Rect{x, band.Y, soil - 2 - x, band.H}, s.rows(band.H)) {
		return nil
	}
	x = below.Outer().Right() + textGap
	if !d.set(Rect{x, band.Y, safe.Right() - x, band.H}, s.buriedRows(band.H)) {
		return nil
	}
	d.Rules = append(d.Rules, Rule{X1: soil, Y1: safe.Y, X2: soil, Y2: safe.Bottom(), Width: 0.2, Dash: 1, Gap: 1})
	return d
}

// rows is what the stake says above the soil, in a column of height h.
func (s Stake) rows(h float64) []row {
	return []row{
		identifier(s.ID, 0.6*h),
		plain(0.34*h, leastText/0.6,
			run{Bold, s.count(), 1, false},
			run{Regular, "   sown " + s.Sown, 0.6, false},
			run{Bold, s.copyOf(), 0.6, true}),
		parents(0.25*h, s.SeedParent, s.PollenParent),
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

// identifier is the row that names a thing, with its check character in a
// lighter face behind.
func identifier(id ids.ID, want float64) row {
	return plain(max(want, leastIdentifier), leastIdentifier,
		run{Bold, id.String(), 1, false},
		run{Regular, "." + string(rune(id.Check())), 1, false})
}
