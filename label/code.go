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

// encode makes the codes that the drawing has settled on.
func (d *Drawing) encode() error {
	for i, c := range d.Codes {
		s, err := c.Symbol.Encode()
		if err != nil {
			return err
		}
		d.Codes[i].Symbol = s
	}
	return nil
}

// payloads are the texts to try in a code that has room for more than the
// identifier: what a stranger's phone should show, then the identifier alone.
// The notice tells of a name that the code cannot carry.
func payloads(p symbol.Payload, facts symbol.Facts) (texts []string, notice string) {
	compact := p.Compact()
	text, err := facts.Text()
	if err != nil {
		var fold *symbol.FoldError
		if errors.As(err, &fold) {
			notice = err.Error() + ": the code of " + p.ID.String() + " carries the identifier only"
		}
		return []string{compact}, notice
	}
	p.Text = text
	return []string{p.String(), compact}, ""
}
