package label

import (
	"math"
	"strings"

	"pipstake/label/symbol"
)

// choice keeps the best drawing that it is offered.
type choice struct {
	drawing *Drawing
	score   float64
	by      winner
}

// offer reports whether the drawing is the best so far.
func (c *choice) offer(d *Drawing, score float64) bool {
	if d == nil || c.drawing != nil && score <= c.score {
		return false
	}
	c.drawing, c.score = d, score
	return true
}

// settle remembers the best drawing for its shape, and gives it; nil where
// there is none.
func (c *choice) settle(sh shape) *Drawing {
	if c.drawing != nil {
		sh.settle(c.by)
	}
	return c.drawing
}

// score tells how well a column reads: the first row, the identifier, counts
// double.
func (c *column) score() float64 {
	sum := math.Log(c.sizes[0]) - 0.5*float64(c.squeeze)
	for _, size := range c.sizes {
		sum += math.Log(size)
	}
	return sum
}

// codeScore tells how well a code reads. Modules of more than bestModule gain
// nothing, more text does, and a Data Matrix loses since not every phone reads
// it.
func codeScore(c Code) float64 {
	const (
		bestModule = 0.7 // millimetres
		fullText   = 3   // what a stranger's phone shows is worth smaller type
		levelScore = 0.3 // for each step of error correction
	)
	score := 3 * math.Log(min(c.Symbol.Module(), bestModule))
	if len(c.Symbol.Payload) > compactLength {
		score += fullText
	}
	if c.Symbol.Kind == symbol.DataMatrix {
		return score - 4
	}
	return score + levelScore*float64(strings.IndexByte("LMQH", c.Symbol.Level))
}

// compactLength is more than any payload has that is an identifier alone.
const compactLength = 24

// fitOrAsk draws a face with fit, which gives nil where the room does not do;
// then the *RoomError names a label that would.
func fitOrAsk(face string, r Room, fit func(Room) *Drawing) (*Drawing, error) {
	if d := fit(r); d != nil {
		return d, d.encode()
	}
	const most = 256.0 // millimetres to add
	e := &RoomError{Face: face, W: r.W, H: r.H}
	least := most
	for _, grow := range []struct{ w, h float64 }{{1, 0}, {0, 1}, {1, 1}, {3, 1}} {
		fits := func(by float64) bool {
			bigger := r
			bigger.W, bigger.H = math.Ceil(r.W+grow.w*by), math.Ceil(r.H+grow.h*by)
			return fit(bigger) != nil
		}
		by := 1.0
		for by < least && !fits(by) {
			by *= 2
		}
		if by >= least {
			continue
		}
		for step := by / 2; step >= 1; step /= 2 {
			if fits(by - step) {
				by -= step
			}
		}
		least = by
		e.NeedW, e.NeedH = math.Ceil(r.W+grow.w*by), math.Ceil(r.H+grow.h*by)
	}
	return nil, e
}

// set adds a column of rows in box. It gives nil where they do not fit.
func (d *Drawing) set(box Rect, rows []row) *column {
	if box.W <= 0 || box.H <= 0 {
		return nil
	}
	c := setColumn(box, rows)
	if c == nil {
		return nil
	}
	d.Texts = append(d.Texts, c.texts...)
	for _, t := range c.texts {
		if strings.Contains(t.String, ellipsis) {
			d.notice("a parent's name is shortened on the label")
			break
		}
	}
	return c
}

func (d *Drawing) notice(text string) {
	if text != "" {
		d.Notices = append(d.Notices, text)
	}
}

// Payload is all that the label says in the form of a code's text, whether or
// not one of its codes had room for it.
func (d *Drawing) Payload() string { return d.says }
