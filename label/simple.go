package label

import "pipstake/label/symbol"

// simple is a face with one code and one column of text: beside it, or below
// it where the label is narrow and high.
type simple struct {
	face    string
	words   string // all that is set besides the identifier
	payload symbol.Payload
	facts   symbol.Facts
	rows    func(r Room, h float64) []row // for a column h high
	tie     float64                       // kept free at the left, in millimetres
}

// fit keeps the drawing that reads best. It gives nil where the room does not
// do.
func (f simple) fit(r Room) *Drawing {
	inner := r
	inner.Margin.Left += f.tie
	s := newSaying(f.payload, f.facts)
	d := bestOf(newShape(f.face, inner, s, f.payload.ID, f.words),
		func(share float64, last *symbol.Choice) (*Drawing, float64) { return f.beside(inner, s, share, last) },
		func(share float64, last *symbol.Choice) (*Drawing, float64) { return f.below(inner, s, share, last) })
	if d != nil && f.tie > 0 {
		d.Safe = r.Safe()
		d.punch(r.Margin.Left+f.tie/2, r.H/2)
	}
	return d
}

// beside sets the code at the left, at most share of the height, and the text
// at its right, as high as the code where that is most of the label.
func (f simple) beside(r Room, s saying, share float64, last *symbol.Choice) (*Drawing, float64) {
	left := max(0, r.Margin.Left-4) // the quiet zone may reach into the margin
	d, code := s.start(r, Rect{left, r.H * (1 - share) / 2, (r.W - left) * 0.6, r.H * share}, last)
	if d == nil {
		return nil, 0
	}
	column := Rect{Y: d.Safe.Y, H: d.Safe.H}
	if code.Ink().H > 0.9*d.Safe.H {
		column = code.Ink()
	}
	column.X = code.Outer().Right() + textGap
	column.W = d.Safe.Right() - column.X
	return f.finish(r, d, column)
}

// below sets the code above, at most share of the height, and the text below.
func (f simple) below(r Room, s saying, share float64, last *symbol.Choice) (*Drawing, float64) {
	left := max(0, r.Margin.Left-4)
	d, code := s.start(r, Rect{left, 0, r.W - left, r.H * share}, last)
	if d == nil {
		return nil, 0
	}
	code.raise(r)
	d.Codes[0] = code
	top := code.Outer().Bottom() + textGap
	return f.finish(r, d, Rect{d.Safe.X, top, d.Safe.W, d.Safe.Bottom() - top})
}

func (f simple) finish(r Room, d *Drawing, column Rect) (*Drawing, float64) {
	c := d.set(column, f.rows(r, column.H))
	if c == nil {
		return nil, 0
	}
	return d, c.score() + codeScore(d.Codes[0])
}

// punch marks with a small cross where a hole for the tie goes.
func (d *Drawing) punch(x, y float64) {
	const arm = 1.5 // millimetres
	d.Rules = append(d.Rules, Rule{X1: x - arm, Y1: y, X2: x + arm, Y2: y, Width: 0.15},
		Rule{X1: x, Y1: y - arm, X2: x, Y2: y + arm, Width: 0.15})
}
