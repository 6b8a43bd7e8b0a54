package label

import (
	"errors"

	"pipstake/label/symbol"
)

// cutSlack is how far inside the cut a quiet zone ends at the nearest, in
// millimetres: what a careful cut may miss by.
const cutSlack = 0.5

// textGap is the least distance of text from a quiet zone, in millimetres.
const textGap = 0.6

// placeCode chooses the code for the first of payloads that can be made
// readable in region and puts it at the region's left, halfway down. The
// modules lie in the safe part of the room; the quiet zone may reach beyond it
// to cutSlack from the edge. The error is a *symbol.TooSmallError where none
// fits.
func placeCode(r Room, region Rect, payloads ...string) (Code, error) {
	safe := r.Safe()
	edge := Rect{W: r.W, H: r.H}.Inset(cutSlack, cutSlack, cutSlack, cutSlack)
	side := min(region.W, region.H, edge.W, edge.H)
	for {
		chosen, err := symbol.Choose(symbol.Room{W: side, H: side, DPI: r.DPI}, payloads...)
		if err != nil {
			return Code{}, err
		}
		s := &symbol.Symbol{Choice: chosen} // encoded once the face is settled
		left := max(region.X, safe.X-s.Quiet(), edge.X)
		top := region.Y + (region.H-s.Outer())/2
		top = max(top, safe.Y-s.Quiet(), edge.Y)
		top = min(top, safe.Bottom()+s.Quiet()-s.Outer(), edge.Bottom()-s.Outer())
		c := Code{X: left + s.Quiet(), Y: top + s.Quiet(), Symbol: s}
		if safe.Contains(c.Ink()) && edge.Contains(c.Outer()) && c.Outer().Right() <= region.Right()+1e-6 {
			return c, nil
		}
		side = min(side, s.Outer()) - 0.01 // the next smaller module
	}
}

// encode makes the codes that the drawing has settled on, equal ones once.
func (d *Drawing) encode() error {
	for i, c := range d.Codes {
		if i > 0 && d.Codes[i-1].Symbol.Choice == c.Symbol.Choice {
			d.Codes[i].Symbol = d.Codes[i-1].Symbol
			continue
		}
		s, err := c.Symbol.Encode()
		if err != nil {
			return err
		}
		d.Codes[i].Symbol = s
	}
	return nil
}

// saying is what the codes of a label may say: first all that a stranger's
// phone should show, then the identifier alone.
type saying struct {
	texts  []string
	notice string // of a name that no code can carry
}

func newSaying(p symbol.Payload, facts symbol.Facts) saying {
	compact := p.Compact()
	text, err := facts.Text()
	if err != nil {
		s := saying{texts: []string{compact}}
		var fold *symbol.FoldError
		if errors.As(err, &fold) {
			s.notice = err.Error() + ": the code of " + p.ID.String() + " carries the identifier only"
		}
		return s
	}
	p.Text = text
	return saying{texts: []string{p.String(), compact}}
}

// start chooses a code in a region of the label and begins its drawing. It
// gives nil where none fits there, or the same one as last time.
func (s saying) start(r Room, region Rect, last *symbol.Choice) (*Drawing, Code) {
	code, err := placeCode(r, region, s.texts...)
	if err != nil || code.Symbol.Choice == *last {
		return nil, Code{}
	}
	*last = code.Symbol.Choice
	d := &Drawing{W: r.W, H: r.H, Safe: r.Safe(), Codes: []Code{code}, says: s.texts[0]}
	d.notice(s.notice)
	return d, code
}

// arrangement draws a face with its code at most share of the label's height,
// and scores how well it reads; nil where it does not fit, or where last says
// that the same code has been tried.
type arrangement func(share float64, last *symbol.Choice) (*Drawing, float64)

// bestOf is the drawing of a shape that reads best over several arrangements
// and sizes of the code, nil where none fits.
func bestOf(sh shape, arrangements ...arrangement) *Drawing {
	if w, ok := sh.winner(); ok {
		d, _ := arrangements[w.arrangement](w.share, new(symbol.Choice))
		return d
	}
	var best choice
	last := make([]symbol.Choice, len(arrangements))
	for _, share := range codeShares {
		for i, draw := range arrangements {
			if best.offer(draw(share, &last[i])) {
				best.by = winner{i, share}
			}
		}
	}
	return best.settle(sh)
}

// codeShares are the parts of a label's height that a code may take, the most
// first.
var codeShares = []float64{1, 0.92, 0.85, 0.78, 0.72, 0.66, 0.6, 0.55, 0.5, 0.46, 0.42, 0.38, 0.35}

// raise moves a code as high in the room as it may go.
func (c *Code) raise(r Room) { c.Y = max(r.Safe().Y, cutSlack+c.Symbol.Quiet()) }
