package label

import (
	"math"

	"pipstake/label/symbol"
)

// Action is a code that a scanning session understands as something to do, with
// what it does in words.
type Action struct{ Code, Caption string }

// Fit sets the code at the left of room r, and the words at its right. The error is
// a *symbol.TooSmallError where the code does not fit, or a *GlyphError.
func (a Action) Fit(r Room) (*Drawing, error) {
	safe := r.Safe()
	const share = 0.8 // of the height, so that a scanner does not hit the next code
	choice, err := symbol.Choose(symbol.Room{W: share * safe.H, H: share * safe.H, DPI: r.DPI}, a.Code)
	if err != nil {
		return nil, err
	}
	made, err := choice.Encode()
	if err != nil {
		return nil, err
	}
	for _, c := range a.Caption {
		if !Bold.Has(c) {
			return nil, &GlyphError{Text: a.Caption, Rune: c, Font: Bold.Called()}
		}
	}
	code := Code{X: safe.X + made.Quiet(), Y: safe.Y + (safe.H-made.Width())/2, Symbol: made}
	d := &Drawing{W: r.W, H: r.H, Safe: safe, Codes: []Code{code}, says: a.Code}
	const biggest = 7.0 // mm
	left := code.Outer().Right() + textGap
	size := min(biggest, (safe.Right()-left)/math.Max(Bold.Width(a.Caption), 0.1))
	above, below := Bold.Extent(a.Caption)
	baseline := safe.Y + safe.H/2 + (above-below)*size/2
	d.Texts = []Text{{X: left, Baseline: baseline, Size: size, Face: Bold, String: a.Caption,
		Box: Rect{left, baseline - above*size, Bold.Width(a.Caption) * size, (above + below) * size}}}
	return d, nil
}
