package layout

import (
	"bytes"
	"image"
	"image/png"
	"math"
	"testing"

	"pipstake/label"
	"pipstake/label/symbol"
	"pipstake/layout/proof"
)

// everything is a small drawing with one of each thing that can be drawn.
func everything(t *testing.T, room label.Room) *label.Drawing {
	t.Helper()
	return &label.Drawing{W: room.W, H: room.H, Safe: room.Safe(),
		Texts: []label.Text{
			{X: 3, Baseline: 8, Size: 6, Face: label.Bold, String: "2026X012"},
			{X: 38, Baseline: 18, Size: 4, Face: label.Regular, String: "gfŁ", Turn: label.Upward},
		},
		Rules: []label.Rule{
			{X1: 3, Y1: 10, X2: 30, Y2: 10, Width: 0.8}, {X1: 3, Y1: 12, X2: 30, Y2: 12, Width: 0.6, Dash: 4, Gap: 2.5},
			{X1: 45, Y1: 3, X2: 45, Y2: 18, Width: 0.7}, {X1: 32, Y1: 12, X2: 32, Y2: 3, Width: 0.5, Dash: 2, Gap: 1}, {X1: 47, Y1: 4, X2: 57, Y2: 10, Width: 0.5},
			{X1: 50, Y1: 14, X2: 50, Y2: 14, Width: 3}, // no line at all
		},
		Circles: []label.Circle{{X: 53, Y: 13, R: 3, Width: 0.6}},
		Codes:   []label.Code{{X: 5, Y: 14, Symbol: testCode(t, symbol.DataMatrix, 0, "2026X0", room.DPI)}},
	}
}

// The preview has its ink where PDFium draws it, whichever way a label lies: of
// each thing that can be drawn, and of codes that are narrowed.
func TestPreviewOfEachThing(t *testing.T) {
	const dpi = 300
	paper := Paper{"60x80", 60, 80}
	for _, turned := range []bool{false, true} {
		s := Stock{Name: "s", Kind: DieCut, Paper: paper, Columns: 1, Rows: 2, LabelW: 60, LabelH: 24, Left: 0, Top: 10, PitchX: 60, PitchY: 30}
		if turned {
			s = Stock{Name: "s", Kind: CutSheet, Paper: Paper{"60x130", 60, 130}, Columns: 2, Rows: 2, LabelW: 24, LabelH: 60, Left: 5, Top: 5, PitchX: 25, PitchY: 60, Turned: true}
		}
		d := everything(t, s.Room(dpi))
		job := Job{Stock: s, Title: "T", Created: created, Shift: Shift{0.7, -0.4}, BackShift: Shift{-0.3, 0.6}, Flip: LongEdge, Gain: 1,
			Places: []Place{{Page: 1, Cell: 1, Drawing: d, Back: d}, {Page: 1, Cell: 2, Drawing: d}, {Page: 2, Cell: s.PerSheet(), Drawing: d, Back: d}}}
		doc := open(t, write(t, job))
		pages := previews(t, job, dpi)
		if len(pages) != 4 || len(doc.Pages()) != 4 {
			t.Fatalf("%d previews of %d pages, want 4", len(pages), len(doc.Pages()))
		}
		for i, page := range pages {
			want, err := doc.Render(i+1, dpi)
			if err != nil {
				t.Fatal(err)
			}
			if page.Rect != want.Rect {
				t.Errorf("page %d is %v, PDFium's %v", i+1, page.Rect, want.Rect)
			}
			if a, b := strayed(page, want), strayed(want, page); a+b > 30 { // of 5,000 and more; thin strokes of letters are put on whole dots
				t.Errorf("turned %v, page %d: %d dots of ink are not PDFium's, %d of PDFium's are lost", turned, i+1, a, b)
			}
		}
	}
}

// strayed counts dots that are black in one image and, to two dots around, white
// in the other: no smoothing of edges makes that.
func strayed(one, other *image.Gray) int {
	n := 0
	for y := range one.Rect.Dy() {
		for x := range one.Rect.Dx() {
			if one.Pix[y*one.Stride+x] < 64 && other.Pix[y*other.Stride+x] > 160 && darkest(other, image.Rect(x-2, y-2, x+3, y+3), image.Rectangle{}) > 160 {
				n++
			}
		}
	}
	return n
}

// A round line is as wide all around as it should be, and has no gap.
func TestPreviewOfACircle(t *testing.T) {
	const dpi = 2032 // 80 pixels a millimetre
	s := Stock{Name: "s", Kind: Roll, Paper: Paper{"20x20", 20, 20}, Columns: 1, Rows: 1, LabelW: 20, LabelH: 20, PitchX: 20, PitchY: 20}
	d := &label.Drawing{W: 20, H: 20, Circles: []label.Circle{{X: 9, Y: 11, R: 4, Width: 0.5}}}
	img := previews(t, Job{Stock: s, Title: "T", Created: created, Places: []Place{{Page: 1, Cell: 1, Drawing: d}}}, dpi)[0]
	for half := range 720 {
		sin, cos := math.Sincos(float64(half) / 360 * math.Pi)
		for r := 0.022; r < 8; r += 0.1 {
			level := img.GrayAt(int((9+r*cos)*80), int((11+r*sin)*80)).Y
			// It is made of 48 short lines, which stray from the circle by 0.0086 mm and
			// leave a hair between their outer corners.
			inside := r > 3.77 && (r < 4 || r < 4.22 && half%15 >= 5 && half%15 <= 10)
			if inside && level > 20 || (r < 3.73 || r > 4.27) && level < 255 {
				t.Fatalf("at %.1f degrees, %.3f mm from the middle: level %d", float64(half)/2, r, level)
			}
		}
	}
}

// A dashed line begins with a dash, keeps its dashes and gaps, however short, and ends
// where it should, in the middle of a dash if need be. A solid one may be short too.
func TestPreviewOfDashes(t *testing.T) {
	const dpi = 508 // 20 pixels a millimetre
	s := Stock{Name: "s", Kind: Roll, Paper: Paper{"40x10", 40, 10}, Columns: 1, Rows: 1, LabelW: 40, LabelH: 10, PitchX: 40, PitchY: 10}
	for _, c := range []struct{ dash, gap float64 }{{4, 2}, {0.8, 0.4}} {
		d := &label.Drawing{W: 40, H: 10, Rules: []label.Rule{{X1: 2, Y1: 5, X2: 33, Y2: 5, Width: 1, Dash: c.dash, Gap: c.gap}, {X1: 35, Y1: 5, X2: 36, Y2: 5, Width: 1}}}
		img := previews(t, Job{Stock: s, Title: "T", Created: created, Places: []Place{{Page: 1, Cell: 1, Drawing: d}}}, dpi)[0]
		for x := range 40 * 20 {
			at := (float64(x) + 0.5) / 20
			want := at > 2 && at < 33 && math.Mod(at-2, c.dash+c.gap) < c.dash || at > 35 && at < 36
			if black := img.GrayAt(x, 100).Y < 128; black != want {
				t.Fatalf("dashes of %v mm: at %.3f mm: black is %v", c.dash, at, black)
			}
		}
		if ink := proof.Ink(img, img.Rect); ink != image.Rect(40, 90, 720, 110) {
			t.Errorf("dashes of %v mm: the lines cover %v", c.dash, ink)
		}
	}
}

// A bitmap has the page's dots, black where at least half of a dot is ink, and
// tells its size in dots a metre (PNG, second edition, 11.3.5.3).
func TestBitmapIsHalfBlackAndHasItsSize(t *testing.T) {
	const dpi = 254 // 10 dots a millimetre, 10,000 a metre
	s := Stock{Name: "s", Kind: Roll, Paper: Paper{"40x10", 40, 10}, Columns: 1, Rows: 1, LabelW: 40, LabelH: 10, PitchX: 40, PitchY: 10}
	d := &label.Drawing{W: 40, H: 10, Rules: []label.Rule{{X1: 1.04, Y1: 5, X2: 38.94, Y2: 5, Width: 1}, {X1: 1.06, Y1: 8, X2: 38.96, Y2: 8, Width: 1}}}
	err := Bitmaps(Job{Stock: s, Title: "T", Created: created, Places: []Place{{Page: 1, Cell: 1, Drawing: d}}}, dpi, func(n, of int, data []byte) error {
		img, err := png.Decode(bytes.NewReader(data))
		if err != nil {
			return err
		}
		bits := img.(*image.Paletted)
		for y, want := range map[int][2]int{50: {10, 388}, 80: {11, 389}} {
			first, last := -1, -1
			for x := range bits.Rect.Dx() {
				if bits.ColorIndexAt(x, y) == 0 {
					first, last = max(first, -first*x), x
				}
			}
			if got := [2]int{first, last}; got != want {
				t.Errorf("line %d is black from %d to %d, want %v", y, first, last, want)
			}
		}
		chunk := []byte("\x00\x00\x00\x09pHYs\x00\x00\x27\x10\x00\x00\x27\x10\x01")
		if !bytes.Contains(data, chunk) {
			t.Errorf("no chunk % X in % X", chunk, data[:70])
		}
		return nil
	})
	if err != nil {
		t.Error(err)
	}
}
