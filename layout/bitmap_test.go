package layout

import (
	"bytes"
	"image"
	"image/png"
	"math"
	"testing"
)

// Every dot of every module of a bitmap is as the code has it, whatever the
// resolution, and the picture has one bit a dot and the size of the label.
func TestBitmapsAreExactDots(t *testing.T) {
	for _, name := range []string{"roll-62x29", "roll-150x20", "roll-89x36"} {
		s := find(t, name)
		for _, dpi := range []int{203, 300, 305, 360, 600} {
			job := coded(t, s, dpi)
			pages := 0
			err := Bitmaps(job, dpi, func(n, of int, data []byte) error {
				pages++
				img, err := png.Decode(bytes.NewReader(data))
				if err != nil {
					t.Fatal(err)
				}
				bits, ok := img.(*image.Paletted)
				if !ok || len(bits.Palette) != 2 || data[24] != 1 { // the depth in the header
					t.Fatalf("%s at %d dpi: %T of depth %d", name, dpi, img, data[24])
				}
				if w := int(math.Round(s.Paper.W * float64(dpi) / 25.4)); bits.Rect.Dx() != w {
					t.Errorf("%s at %d dpi is %d dots wide, want %d", name, dpi, bits.Rect.Dx(), w)
				}
				if !bytes.Contains(data[:60], []byte("pHYs")) {
					t.Errorf("%s at %d dpi does not tell its size", name, dpi)
				}
				wrong, looked := 0, 0
				for _, c := range job.Places[n-1].Drawing.Codes {
					left, top := s.front(1).codeDots(c)
					for y := range c.Symbol.Size * c.Symbol.Dots {
						for x := range c.Symbol.Size * c.Symbol.Dots {
							looked++
							if dark := bits.ColorIndexAt(left+x, top+y) == 0; dark != c.Symbol.Dark(x/c.Symbol.Dots, y/c.Symbol.Dots) {
								wrong++
							}
						}
					}
				}
				if wrong > 0 || looked == 0 {
					t.Errorf("%s at %d dpi, page %d of %d: %d of %d dots are wrong", name, dpi, n, of, wrong, looked)
				}
				return nil
			})
			if err != nil || pages != len(job.Places) {
				t.Errorf("%s at %d dpi: %d pages, %v", name, dpi, pages, err)
			}
		}
	}
}
