package label

import (
	"image"
	"image/draw"
	"math"
	"testing"

	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/opentype"
	"golang.org/x/image/math/fixed"
	"golang.org/x/image/vector"
)

// The outlines of a line, filled, make the letters that x/image's opentype draws
// of the same font, wherever they are told to stand.
func TestOutlineFillsTheLetters(t *testing.T) {
	const text, size, left, base = "R80 ♀×é", 60, 7, 70
	const w, h = 260, 100
	parsed, err := opentype.Parse(gobold.TTF)
	if err != nil {
		t.Fatal(err)
	}
	face, err := opentype.NewFace(parsed, &opentype.FaceOptions{Size: size, DPI: 72})
	if err != nil {
		t.Fatal(err)
	}
	want := image.NewAlpha(image.Rect(0, 0, w, h))
	x := fixed.I(left)
	for _, r := range text { // one by one: kerning is not used
		(&font.Drawer{Dst: want, Src: image.Opaque, Face: face, Dot: fixed.Point26_6{X: x, Y: fixed.I(base)}}).DrawString(string(r))
		x += fixed.Int26_6(math.Round(Bold.Width(string(r)) * size * 64))
	}
	fill := vector.NewRasterizer(w, h)
	if err := Bold.Outline(text, fill, func(along, below float64) (float32, float32) {
		return float32(left + along*size), float32(base + below*size)
	}); err != nil {
		t.Fatal(err)
	}
	got := image.NewAlpha(image.Rect(0, 0, w, h))
	fill.DrawOp = draw.Src
	fill.Draw(got, got.Bounds(), image.Opaque, image.Point{})
	ink, off := 0, 0
	for i, v := range want.Pix {
		ink += int(v)
		off += int(math.Abs(float64(v) - float64(got.Pix[i])))
	}
	if ink < 255*2000 || off*50 > ink {
		t.Errorf("of %d of ink, %d differs", ink, off)
	}
}

// steps records what an outline is made of.
type steps struct{ done []string }

func (s *steps) MoveTo(x, y float32)           { s.done = append(s.done, "move") }
func (s *steps) LineTo(x, y float32)           { s.done = append(s.done, "draw") }
func (s *steps) QuadTo(x1, y1, x2, y2 float32) { s.done = append(s.done, "draw") }
func (s *steps) ClosePath()                    { s.done = append(s.done, "close") }

// Each curve is closed before the next one begins, and the last one at the end: 8
// has three, i two, and a space none.
func TestEachCurveIsClosed(t *testing.T) {
	for text, curves := range map[string]int{"8": 3, "i": 2, "8i": 5, " ": 0, "": 0} {
		var s steps
		if err := Regular.Outline(text, &s, func(along, below float64) (float32, float32) { return float32(along), float32(below) }); err != nil {
			t.Fatal(err)
		}
		moves := 0
		for n, step := range s.done {
			if step != "move" {
				continue
			}
			if moves++; moves > 1 && s.done[n-1] != "close" {
				t.Errorf("%q: curve %d begins after %q", text, moves, s.done[n-1])
			}
		}
		if moves != curves || len(s.done) == 0 || s.done[len(s.done)-1] != "close" {
			t.Errorf("%q: %d curves, want %d: %q", text, moves, curves, s.done)
		}
	}
}
