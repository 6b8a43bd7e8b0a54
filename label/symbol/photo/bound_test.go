package photo

import (
	"image"
	"image/color"
	"testing"
)

// A picture full of corner patterns that belong to no code, and one of noise,
// cost no more than the work that is allowed: it is counted, so that this holds on
// every machine.
func TestWorkIsBounded(t *testing.T) {
	const side, allowed = 900, 3_000_000
	patterns := image.NewGray(image.Rect(0, 0, side, side))
	noise := image.NewGray(patterns.Rect)
	seed := uint32(1)
	for y := range side {
		for x := range side {
			u, v := x%36/4, y%36/4 // a pattern of 7 modules of 4 pixels, and 2 between
			ring := max(max(u-3, 3-u), max(v-3, 3-v))
			light := u > 6 || v > 6 || ring == 2
			patterns.SetGray(x, y, color.Gray{Y: map[bool]uint8{true: 235, false: 20}[light]})
			seed = seed*1664525 + 1013904223
			noise.SetGray(x, y, color.Gray{Y: uint8(seed >> 24)})
		}
	}
	for name, img := range map[string]*image.Gray{"corner patterns": patterns, "noise": noise} {
		s := look(img, allowed)
		// What was begun is brought to its end: one candidate, with all of its models.
		if s.work > allowed*5/4 {
			t.Errorf("%s: %d modules were looked at, %d are allowed", name, s.work, allowed)
		}
		if len(s.read) > 0 {
			t.Errorf("%s: reads %v", name, s.read)
		}
		if name == "corner patterns" && !s.tired() {
			t.Errorf("%s: only %d modules were looked at", name, s.work)
		}
	}
}
