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
