package layout

import (
	"errors"
	"image"
	"testing"

	"pipstake/label"
)

// previews draws all pages of a job.
func previews(t *testing.T, job Job, dpi int) []*image.Gray {
	t.Helper()
	var pages []*image.Gray
	err := Preview(job, dpi, func(n, of int, img *image.Gray) error {
		if n != len(pages)+1 {
			t.Errorf("page %d after page %d", n, len(pages))
		}
		pages = append(pages, img)
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return pages
}

// difference is the mean difference of two rasters, in levels of 256. One may
// have a row and a column more, where a page ends at half a pixel.
func difference(t *testing.T, a, b *image.Gray) float64 {
	t.Helper()
	both := a.Rect.Intersect(b.Rect)
	if more := a.Rect.Union(b.Rect).Size().Sub(both.Size()); more.X > 1 || more.Y > 1 {
		t.Fatalf("one is %v, the other %v", a.Rect, b.Rect)
	}
	sum := 0.0
	for y := range both.Dy() {
		for x := range both.Dx() {
			d := float64(a.GrayAt(x, y).Y) - float64(b.GrayAt(x, y).Y)
			sum += max(d, -d)
		}
	}
	return sum / float64(both.Dx()*both.Dy())
}

// The preview is the page as PDFium draws it: fronts, backs, shifted, turned,
// narrowed, and its codes read.
func TestPreviewIsThePage(t *testing.T) {
	if testing.Short() {
		t.Skip("takes long")
	}
	for _, name := range []string{"a4-3x8-70x37", "a4-cut-148x20", "letter-cut-148x20", "letter-2x5-101.6x50.8", "roll-89x36"} {
		s := find(t, name)
		job := filled(t, s, 300, 1, 6)
		job.Shift, job.Gain = Shift{0.4, -0.3}, 1
		if s.Kind == CutSheet {
			job.Flip = ShortEdge
			for i := range job.Places {
				job.Places[i].Back = named(s)
			}
		}
		doc := open(t, write(t, job))
		// PDFium puts small letters on whole pixels, so a third of the ink may lie
		// elsewhere at 150 dpi.
		for dpi, most := range map[int]float64{150: 0.4, 300: 0.2} {
			pages := previews(t, job, dpi)
			if len(pages) != len(doc.Pages()) {
				t.Fatalf("%s: %d pages, PDFium sees %d", name, len(pages), len(doc.Pages()))
			}
			for i, page := range pages {
				want, err := doc.Render(i+1, dpi)
				if err != nil {
					t.Fatal(err)
				}
				apart, ink := difference(t, page, want), 255-difference(t, page, image.NewGray(page.Rect))
				if apart > most*ink || ink < 0.1 {
					t.Errorf("%s, page %d at %d dpi: they differ by %.2f levels where the ink is %.2f", name, i+1, dpi, apart, ink)
				}
			}
			if dpi == 300 {
				for _, p := range job.Places {
					checkCodesIn(t, pages[0], job.Shift.move(s.Cell(p.Cell)), p, dpi)
				}
			}
		}
	}
}

func TestPreviewRefusesWhatPrintingRefuses(t *testing.T) {
	s := find(t, "a4-3x8-70x37")
	none := func(int, int, *image.Gray) error { return errors.New("drawn") }
	if err := Preview(Job{Stock: s, Title: "T", Created: created}, 150, none); err == nil || err.Error() == "drawn" {
		t.Errorf("no label: %v", err)
	}
	job := Job{Stock: s, Title: "T", Created: created, Places: []Place{{Page: 1, Cell: 1, Drawing: &label.Drawing{W: 70, H: 37}}}}
	if err := Preview(job, 150, none); err == nil || err.Error() != "drawn" {
		t.Errorf("the error of the page is lost: %v", err)
	}
}
