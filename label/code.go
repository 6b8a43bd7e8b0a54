package label

import (
	"errors"
	"math"
	"strings"

	"pipstake/label/symbol"
)

// cutSlack is how far inside the cut a quiet zone ends at the nearest, in
// millimetres: what a careful cut may miss by.
const cutSlack = 0.5

// textGap is the least distance of text from a quiet zone, in millimetres.
const textGap = 0.6

// codeShares are the parts of a label's height that a code may take, the most
// first.
var codeShares = []float64{1, 0.92, 0.85, 0.78, 0.72, 0.66, 0.6, 0.55, 0.5, 0.46, 0.42, 0.38, 0.35}

// saying is what the codes of a label may say: all that a stranger's phone
// should show, or the identifier alone.
type saying struct {
	full, compact string // full is empty where a name cannot be folded
	notice        string // of a name that no code can carry
}

// all is as much as the label has to say.
func (s saying) all() string {
	if s.full == "" {
		return s.compact
	}
	return s.full
}

// newSaying takes the text of the label's facts, or why there is none.
func newSaying(p symbol.Payload, text string, unfolded error) saying {
	s := saying{compact: p.Compact()}
	if unfolded != nil {
		s.notice = unfolded.Error() + ": the code of " + p.ID.String() + " carries the identifier only"
		return s
	}
	p.Text = text
	s.full = p.String()
	return s
}

// placeCode chooses the code of the batch for a square region and puts it at
// the region's left, halfway down. The modules lie in the safe part of the
// room; the quiet zone may reach beyond it to cutSlack from the edge. It gives
// false where no readable code fits.
//
// A code with the full text is taken where at least half of the labels can have
// one; those that cannot carry the identifier alone in a code of the same size.
func (b *batch) placeCode(region Rect, full bool) (Code, bool) {
	if full {
		for _, n := range []int{len(b.full) - 1, len(b.full) / 2} {
			if n < 0 || 2*len(b.full) < len(b.faces) {
				break
			}
			c, ok := b.placeText(region, b.full[n], b.longest)
			if ok && c.Symbol.Payload == b.full[n] {
				return c, ok
			}
		}
	}
	return b.placeText(region, b.longest)
}

func (b *batch) placeText(region Rect, texts ...string) (Code, bool) {
	r := b.room
	safe := r.Safe()
	edge := Rect{W: r.W, H: r.H}.Inset(cutSlack, cutSlack, cutSlack, cutSlack)
	side := min(region.W, region.H, edge.W, edge.H)
	for {
		chosen, err := symbol.Choose(symbol.Room{W: side, H: side, DPI: r.DPI}, texts...)
		if err != nil {
			return Code{}, false
		}
		s := &symbol.Symbol{Choice: chosen} // encoded once the face is settled
		left := max(region.X, safe.X-s.Quiet(), edge.X)
		top := region.Y + (region.H-s.Outer())/2
		top = max(top, safe.Y-s.Quiet(), edge.Y)
		top = min(top, safe.Bottom()+s.Quiet()-s.Outer(), edge.Bottom()-s.Outer())
		c := Code{X: left + s.Quiet(), Y: top + s.Quiet(), Symbol: s}
		if safe.Contains(c.Ink()) && edge.Contains(c.Outer()) && c.Outer().Right() <= region.Right()+1e-6 {
			return c, true
		}
		side = min(side, s.Outer()) - 0.01 // the next smaller module
	}
}

// raise moves a code as high in the room as it may go.
func (c *Code) raise(r Room) { c.Y = max(r.Safe().Y, cutSlack+c.Symbol.Quiet()) }

// encode makes the n-th code of the i-th label, in the place of the one that
// was planned. Equal codes are made once.
func (d *Drawing) encode(b *batch, i, n int, planned Code) error {
	texts := []string{b.says[i].compact}
	if saysAll(planned) && b.says[i].full != "" {
		texts = []string{b.says[i].full, b.says[i].compact}
	}
	for _, text := range texts {
		choice, ok := planned.Symbol.Choice.Carrying(text)
		if !ok {
			continue
		}
		if n > 0 && d.Codes[n-1].Symbol.Choice == choice {
			planned.Symbol = d.Codes[n-1].Symbol
		} else {
			made, err := choice.Encode()
			if err != nil {
				return err
			}
			planned.Symbol = made
		}
		d.Codes = append(d.Codes, planned)
		return nil
	}
	return errors.New("the code that was chosen for the batch does not hold " + texts[len(texts)-1]) // Outgrows sees to that
}

// saysAll reports whether a code says more than the identifier: only its text has
// spaces.
func saysAll(c Code) bool { return strings.Contains(c.Symbol.Payload, " ") }

// codeScore returns how well a code reads. Modules of more than bestModule gain
// nothing, more text is worth as much as it says, and a Data Matrix loses since
// not every phone reads it.
func codeScore(c Code, fullText float64) float64 {
	const (
		bestModule = 0.7 // millimetres
		levelScore = 0.3 // for each step of error correction
		fairModule = 0.5 // millimetres; smaller ones are closed by ink that runs
		tooSmall   = 2.0 // how much more a smaller one loses
	)
	score := 3 * math.Log(min(c.Symbol.Module(), bestModule))
	if small := c.Symbol.Module() / fairModule; small < 1 {
		score += tooSmall * math.Log(small)
	}
	if saysAll(c) {
		score += fullText
	}
	switch c.Symbol.Level {
	case 0:
		return score - 4
	case 'M':
		return score + levelScore
	case 'Q':
		return score + 2*levelScore
	case 'H':
		return score + 3*levelScore
	}
	return score
}
