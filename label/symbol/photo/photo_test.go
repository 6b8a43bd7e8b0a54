package photo_test

import (
	"fmt"
	"image"
	"math"
	"math/rand/v2"
	"testing"

	"pipstake/label/symbol"
	"pipstake/label/symbol/photo"
)

// drawn is a code turned by degrees, with modules of so many pixels, in the
// middle of a light picture.
func drawn(tb testing.TB, kind symbol.Kind, level byte, payload string, module, degrees float64) *image.Gray {
	tb.Helper()
	s, err := symbol.Encode(kind, level, payload, 1, 300)
	if err != nil {
		tb.Fatal(err)
	}
	side := int(float64(s.Size)*module*1.5) + 60
	img := image.NewGray(image.Rect(0, 0, side, side))
	sin, cos := math.Sincos(degrees * math.Pi / 180)
	const fine = 4 // samples across a pixel
	for y := range side {
		for x := range side {
			dark := 0
			for k := range fine * fine {
				u := float64(x) + (float64(k%fine)+0.5)/fine - float64(side)/2
				v := float64(y) + (float64(k/fine)+0.5)/fine - float64(side)/2
				mx := int(math.Floor((u*cos+v*sin)/module + float64(s.Size)/2))
				my := int(math.Floor((-u*sin+v*cos)/module + float64(s.Size)/2))
				if mx >= 0 && my >= 0 && mx < s.Size && my < s.Size && s.Dark(mx, my) {
					dark++
				}
			}
			img.Pix[y*img.Stride+x] = byte(225 - 190*dark/(fine*fine))
		}
	}
	return img
}

func inverted(img *image.Gray) *image.Gray {
	out := image.NewGray(img.Rect)
	for i, v := range img.Pix {
		out.Pix[i] = 255 - v
	}
	return out
}

const (
	compact = "2026X012-B2.3/1"
	full    = "2026X012-B2.3/1 7 SOWN 2027-01-14 LARKFIELD TESSEL X TARN AMBER"
)

func TestReadsAtAnyAngle(t *testing.T) {
	for _, c := range []struct {
		kind    symbol.Kind
		level   byte
		payload string
	}{
		{symbol.QR, 'H', compact}, {symbol.QR, 'M', full}, {symbol.QR, 'L', "2026X012.M"},
		{symbol.DataMatrix, 0, "2026X012.M"}, {symbol.DataMatrix, 0, compact}, {symbol.DataMatrix, 0, full},
	} {
		angles := []float64{0, 8, 45, 71, 137, 250}
		if testing.Short() {
			angles = angles[2:4]
		}
		for _, degrees := range angles {
			for _, module := range []float64{2.3, 9} {
				img := drawn(t, c.kind, c.level, c.payload, module, degrees)
				for name, img := range map[string]*image.Gray{"dark on light": img, "light on dark": inverted(img)} {
					read, unread := photo.Read(img)
					if len(read) != 1 || len(unread) != 0 || read[0].Text != c.payload || read[0].Kind != c.kind {
						t.Errorf("%v %q, %v degrees, modules of %v pixels, %s: %v, unread %v", c.kind, c.payload, degrees, module, name, read, unread)
						continue
					}
					middle := float64(img.Rect.Dx()) / 2
					if at := read[0].Centre(); math.Hypot(at.X-middle, at.Y-middle) > 2*module {
						t.Errorf("%q found at %v, not in the middle, %v", c.payload, at, middle)
					}
				}
			}
		}
	}
}

// A corner pattern is under dirt: the code is found by the other two, or by
// its outline.
func TestReadsWithoutACornerPattern(t *testing.T) {
	for corner := range 3 {
		for _, degrees := range []float64{0, 25, 160} {
			img := drawn(t, symbol.QR, 'H', compact, 4, degrees)
			read, unread := photo.Read(img)
			if len(read) != 1 || len(unread) != 0 {
				t.Fatal(read, unread)
			}
			c, middle := read[0].Corners[(corner+3)%4], read[0].Centre()
			for i := range img.Pix {
				x, y := float64(i%img.Stride)+0.5, float64(i/img.Stride)+0.5
				if math.Hypot(x-c.X-(middle.X-c.X)*0.16, y-c.Y-(middle.Y-c.Y)*0.16) < 13 {
					img.Pix[i] = 90
				}
			}
			if read, _ := photo.Read(img); len(read) != 1 || read[0].Text != compact {
				t.Errorf("corner %d, %v degrees: %v", corner, degrees, read)
			}
		}
	}
}

// What cannot be read is still seen: more is destroyed than can be corrected.
func TestSeesWhatItCannotRead(t *testing.T) {
	img := drawn(t, symbol.QR, 'L', full, 4, 20)
	side := img.Rect.Dx()
	rnd := rand.New(rand.NewPCG(1, 2))
	for range 60 { // blots on the data, none on the corner patterns
		x0, y0 := side/2-10+rnd.IntN(50), side/2-10+rnd.IntN(50)
		for dy := range 9 {
			for dx := range 9 {
				img.Pix[(y0+dy)*img.Stride+x0+dx] = byte(30 + 190*rnd.IntN(2))
			}
		}
	}
	read, unread := photo.Read(img)
	if len(read) != 0 || len(unread) != 1 || unread[0].Text != "" {
		t.Fatalf("read %v, unread %v", read, unread)
	}
	if at := unread[0].Centre(); math.Hypot(at.X-float64(side)/2, at.Y-float64(side)/2) > 10 {
		t.Errorf("seen at %v", at)
	}
}

func TestFindsNothingWhereNothingIs(t *testing.T) {
	rnd := rand.New(rand.NewPCG(3, 4))
	noise := image.NewGray(image.Rect(0, 0, 600, 400))
	for i := range noise.Pix {
		noise.Pix[i] = byte(rnd.IntN(256))
	}
	checks := image.NewGray(image.Rect(0, 0, 500, 500))
	for i := range checks.Pix {
		checks.Pix[i] = byte((i/5 + i/2500) % 2 * 255)
	}
	stripes := image.NewGray(image.Rect(0, 0, 300, 300))
	for i := range stripes.Pix {
		stripes.Pix[i] = byte(i / 4 % 2 * 200)
	}
	pictures := map[string]*image.Gray{"noise": noise, "checks": checks, "stripes": stripes}
	for _, size := range []image.Point{{}, {1, 1}, {1, 500}, {500, 1}, {21, 21}, {90, 40}} {
		pictures[fmt.Sprint("empty ", size)] = image.NewGray(image.Rectangle{Max: size})
	}
	for name, img := range pictures {
		if read, unread := photo.Read(img); len(read)+len(unread) > 0 {
			t.Errorf("%s: read %v, unread %v", name, read, unread)
		}
	}
}
