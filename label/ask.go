package label

import "math"

// ask is the *RoomError for a batch that does not fit: it names a label that
// would do, with the margins of this one.
func (b *batch) ask() *RoomError {
	const most = 256.0 // millimetres to add
	r := b.room
	e := &RoomError{Face: b.faces[0].about().kind, W: r.W, H: r.H}
	least := most
	for _, grow := range []struct{ w, h float64 }{{1, 0}, {0, 1}, {1, 1}, {3, 1}} {
		fits := func(by float64) bool {
			bigger := r
			bigger.W, bigger.H = math.Ceil(r.W+grow.w*by), math.Ceil(r.H+grow.h*by)
			return b.faces[0].plan(b.in(bigger)) != nil
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
	return e
}
