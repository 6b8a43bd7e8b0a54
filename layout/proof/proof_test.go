package proof

import (
	"image"
	"image/color"
	"image/draw"
	"slices"
	"testing"

	"pipstake/label"
	"pipstake/label/symbol"
)

// paint draws a symbol with its upper left module at a point, dark pixels of
// the given level.
func paint(t *testing.T, img *image.Gray, s *symbol.Symbol, at image.Point, level byte) {
	t.Helper()
	for y := range s.Size {
		for x := range s.Size {
			if s.Dark(x, y) {
				r := image.Rect(0, 0, s.Dots, s.Dots).Add(at).Add(image.Pt(x*s.Dots, y*s.Dots))
				draw.Draw(img, r, image.NewUniform(color.Gray{Y: level}), image.Point{}, draw.Src)
			}
		}
	}
}

func encode(t *testing.T, kind symbol.Kind, level byte, text string, dots int) *symbol.Symbol {
	t.Helper()
	s, err := symbol.Encode(kind, level, text, dots, 300)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func white(w, h int) *image.Gray {
	img := image.NewGray(image.Rect(0, 0, w, h))
	draw.Draw(img, img.Rect, image.White, image.Point{}, draw.Src)
	return img
}

func TestDecodeFindsEveryCodeInTheRegion(t *testing.T) {
	img := white(900, 400)
	paint(t, img, encode(t, symbol.QR, 'M', "FIRST", 5), image.Pt(40, 40), 0)
	paint(t, img, encode(t, symbol.DataMatrix, 0, "SECOND", 5), image.Pt(300, 45), 0)
	paint(t, img, encode(t, symbol.QR, 'H', "THIRD: LOWER DOWN", 4), image.Pt(20, 220), 60)
	paint(t, img, encode(t, symbol.QR, 'L', "OUTSIDE", 5), image.Pt(700, 40), 0)
	draw.Draw(img, image.Rect(200, 200, 560, 204), image.Black, image.Point{}, draw.Src) // a rule
	got := Decode(img, image.Rect(0, 0, 600, 400))
	if want := []string{"FIRST", "SECOND", "THIRD: LOWER DOWN"}; !slices.Equal(got, want) {
		t.Errorf("read %q, want %q", got, want)
	}
}

func TestDecodeOfACodeThatIsNone(t *testing.T) {
	img := white(300, 300)
	s := encode(t, symbol.QR, 'L', "SPOILT", 6)
	paint(t, img, s, image.Pt(40, 40), 0)
	draw.Draw(img, image.Rect(40, 40, 40+s.Size*6, 40+s.Size*4), image.White, image.Point{}, draw.Src)
	if got := Decode(img, img.Rect); len(got) != 0 {
		t.Errorf("read %q from a third of a code", got)
	}
	if got := Decode(white(100, 100), image.Rect(0, 0, 100, 100)); len(got) != 0 {
		t.Errorf("read %q from white", got)
	}
}

func TestInk(t *testing.T) {
	img := white(50, 40)
	img.SetGray(7, 9, color.Gray{Y: 127})
	img.SetGray(30, 20, color.Gray{Y: 0})
	img.SetGray(40, 30, color.Gray{Y: 128}) // lighter than half
	if got, want := Ink(img, img.Rect), image.Rect(7, 9, 31, 21); got != want {
		t.Errorf("ink in %v, want %v", got, want)
	}
	if got := Ink(img, image.Rect(8, 0, 30, 40)); !got.Empty() {
		t.Errorf("ink in %v of a white part", got)
	}
}

// An inch is 25.4 mm.
func TestRegion(t *testing.T) {
	if got, want := Region(label.Rect{X: 25.4, Y: 12.7, W: 50.8, H: 2.54}, 300), image.Rect(300, 150, 900, 180); got != want {
		t.Errorf("got %v, want %v", got, want)
	}
}

func TestOpenRefusesWhatIsNoPDF(t *testing.T) {
	if _, err := Open([]byte("not a page")); err == nil {
		t.Error("no error")
	}
}

// A page made by hand: 72 by 36 points with a black square, 9 points wide, at
// 18 points from the left and 6 from the foot (ISO 32000-1, 8.3.2.3: one point
// is 1/72 inch, the origin is the lower left corner).
func TestRenderPutsInkWhereThePageDoes(t *testing.T) {
	d, err := Open([]byte("%PDF-1.4\n1 0 obj\n<</Type/Catalog/Pages 2 0 R>>\nendobj\n2 0 obj\n<</Type/Pages/Kids[3 0 R]/Count 1>>\nendobj\n" +
		"3 0 obj\n<</Type/Page/Parent 2 0 R/MediaBox[0 0 72 36]/Contents 4 0 R>>\nendobj\n" +
		"4 0 obj\n<</Length 14>>\nstream\n18 6 9 9 re f \nendstream\nendobj\ntrailer\n<</Root 1 0 R>>\n"))
	if err != nil {
		t.Fatal(err)
	}
	if got := d.Pages(); len(got) != 1 || got[0] != (Size{25.4, 12.7}) {
		t.Errorf("pages %v", got)
	}
	img, err := d.Render(1, 720)
	if err != nil {
		t.Fatal(err)
	}
	if got, want := Ink(img, img.Rect), image.Rect(180, 210, 270, 300); got != want || img.Rect != image.Rect(0, 0, 720, 360) {
		t.Errorf("ink in %v of %v, want %v", got, img.Rect, want)
	}
	for _, n := range []int{0, 2} {
		if _, err := d.Render(n, 72); err == nil {
			t.Errorf("page %d of 1: no error", n)
		}
		if _, err := d.Texts(n); err == nil {
			t.Errorf("text of page %d of 1: no error", n)
		}
	}
	if err := d.Close(); err != nil {
		t.Error(err)
	}
}
