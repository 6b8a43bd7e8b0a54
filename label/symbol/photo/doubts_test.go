package photo_test

import (
	"image"
	"image/draw"
	"math"
	"testing"

	"pipstake/label/symbol"
	"pipstake/label/symbol/photo"
)

// beside lays pictures side by side on a light ground.
func beside(pictures ...*image.Gray) *image.Gray {
	size := image.Point{}
	for _, p := range pictures {
		size.X, size.Y = size.X+p.Rect.Dx(), max(size.Y, p.Rect.Dy())
	}
	all := image.NewGray(image.Rectangle{Max: size})
	draw.Draw(all, all.Rect, image.White, image.Point{}, draw.Src)
	x := 0
	for _, p := range pictures {
		draw.Draw(all, p.Rect.Add(image.Pt(x, 0)), p, image.Point{}, draw.Src)
		x += p.Rect.Dx()
	}
	return all
}

// A code that a quick look does not read is looked at thoroughly beside one that
// it does, however much larger or smaller it is: a QR code that lost a corner
// pattern, and a Data Matrix whose dark edges are worn off where they meet.
func TestReadsTheDamagedBesideTheWhole(t *testing.T) {
	const other = "2026X012-B7.3/1"
	whole := drawn(t, symbol.QR, 'M', other, 4, 15)
	for _, module := range []float64{3, 5, 9, 17} {
		for _, degrees := range []float64{0, 25, 160} {
			qr := drawn(t, symbol.QR, 'H', compact, module, degrees)
			blot(t, qr, 1, 0.16, 3.3*module, 90)
			matrix := drawn(t, symbol.DataMatrix, 0, compact, module, degrees)
			blot(t, matrix, 3, 0, 6*module, 225)
			for name, damaged := range map[string]*image.Gray{"QR": qr, "Data Matrix": matrix} {
				if glanced, _ := photo.Glance(damaged); len(glanced) > 0 {
					t.Errorf("%s, modules of %v pixels, %v degrees: it is read at a glance, and shows nothing", name, module, degrees)
				}
				read, unread := photo.Read(beside(whole, damaged))
				texts := map[string]bool{}
				for _, c := range read {
					texts[c.Text] = true
				}
				if len(read) != 2 || len(unread) > 0 || !texts[compact] || !texts[other] {
					t.Errorf("%s, modules of %v pixels, %v degrees: read %v, unread %v", name, module, degrees, read, unread)
				}
			}
		}
	}
}

// blot covers a corner of the only code on a picture, from so far towards its
// middle and with a radius in pixels, with a level.
func blot(t *testing.T, img *image.Gray, corner int, inward, radius float64, level byte) {
	t.Helper()
	read, _ := photo.Read(img)
	if len(read) != 1 {
		t.Fatalf("read %v", read)
	}
	c, middle := read[0].Corners[corner], read[0].Centre()
	for i := range img.Pix {
		x, y := float64(i%img.Stride)+0.5, float64(i/img.Stride)+0.5
		if math.Hypot(x-c.X-(middle.X-c.X)*inward, y-c.Y-(middle.Y-c.Y)*inward) < radius {
			img.Pix[i] = level
		}
	}
}
