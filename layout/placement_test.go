package layout

import (
	"bytes"
	"image"
	"math"
	"slices"
	"strings"
	"testing"

	"pipstake/label"
	"pipstake/label/symbol"
	"pipstake/layout/proof"
)

// named is a back with a name on it, where the stock's backs have their room.
func named(s Stock) *label.Drawing {
	room := s.BackRoom(300)
	safe := room.Safe()
	return &label.Drawing{W: room.W, H: room.H, Safe: safe, Texts: []label.Text{
		{X: safe.X, Baseline: safe.Y + 6, Size: 6, Face: label.Bold, String: "2026X012"}}}
}

// stairs are bars in the safe part of a room, each shorter than the one above
// it; seen from behind, each shorter than the one below it.
func stairs(room label.Room, behind bool) *label.Drawing {
	safe := room.Safe()
	d := &label.Drawing{W: room.W, H: room.H, Safe: safe}
	const bars = 4
	high := safe.H / bars
	for i := range bars {
		y := safe.Y + (float64(i)+0.5)*high
		if behind {
			y = safe.Bottom() - (float64(i)+0.5)*high
		}
		d.Rules = append(d.Rules, label.Rule{X1: safe.X, Y1: y, X2: safe.X + safe.W*(1-float64(i)/bars), Y2: y, Width: high})
	}
	return d
}

// onPaper is a page as a printer puts it on the paper that draws everything
// off by as many pixels to the right and downward.
func onPaper(page *image.Gray, right, down int) *image.Gray {
	img := image.NewGray(page.Rect)
	w, h := page.Rect.Dx(), page.Rect.Dy()
	for y := range h {
		row := img.Pix[y*img.Stride:][:w]
		for x := range row {
			row[x] = 255
		}
		if from := y - down; from >= 0 && from < h {
			copy(row[max(right, 0):], page.Pix[from*page.Stride:][max(-right, 0):w-max(right, 0)])
		}
	}
	return img
}

// through is the back of a sheet as it is seen through the paper from the
// front, when the sheet was turned over its long or its short edge.
func through(back *image.Gray, flip Flip) *image.Gray {
	img := image.NewGray(back.Rect)
	w, h := back.Rect.Dx(), back.Rect.Dy()
	for y := range h {
		row := img.Pix[y*img.Stride:][:w]
		if flip == ShortEdge { // all papers here stand upright
			copy(row, back.Pix[(h-1-y)*back.Stride:])
			continue
		}
		copy(row, back.Pix[y*back.Stride:])
		slices.Reverse(row)
	}
	return img
}

// Held against the light, each back lies behind its front, left end behind
// left end, whichever edge the sheet is turned over and whatever the printer's
// shift, on sheets whose labels are turned and on those whose margins differ.
func TestBacksLieBehindTheirFronts(t *testing.T) {
	if testing.Short() {
		t.Skip("takes long")
	}
	const dpi = 254 // a tenth of a millimetre a pixel
	uneven := Stock{Name: "uneven", Kind: DieCut, Paper: A4, Columns: 2, Rows: 3, LabelW: 80, LabelH: 50, Left: 0.5, Top: 1.2, PitchX: 90, PitchY: 61}
	for _, m := range []label.Margin{uneven.Room(dpi).Margin, uneven.BackRoom(dpi).Margin} {
		if math.Abs(m.Left-m.Right) < 1 || math.Abs(m.Top-m.Bottom) < 1 {
			t.Fatalf("the margins do not differ: %+v", m)
		}
	}
	turned := uneven
	turned.Turned = true
	for _, s := range []Stock{find(t, "a4-cut-148x20"), find(t, "letter-cut-148x20"), find(t, "a4-cut-102x13"), uneven, turned} {
		for _, flip := range []Flip{LongEdge, ShortEdge} {
			for _, shift := range []Shift{{}, {1.2, -0.7}} {
				job := Job{Stock: s, Title: "", Created: created, Shift: shift, BackShift: shift, Flip: flip}
				for _, cell := range []int{1, 2, s.PerSheet()} {
					job.Places = append(job.Places, Place{1, cell, stairs(s.Room(dpi), false), stairs(s.BackRoom(dpi), true)})
				}
				doc := open(t, write(t, job))
				if len(doc.Pages()) != 2 {
					t.Fatalf("%s: %d pages", s.Name, len(doc.Pages()))
				}
				var sides []*image.Gray
				for n := 1; n <= 2; n++ {
					page, err := doc.Render(n, dpi)
					if err != nil {
						t.Fatal(err)
					}
					sides = append(sides, onPaper(page, -int(math.Round(shift.X*10)), -int(math.Round(shift.Y*10))))
				}
				seen := through(sides[1], flip)
				for _, p := range job.Places {
					safe := proof.Region(s.front(p.Cell).onPage(p.Drawing.Safe), dpi)
					front, back := proof.Ink(sides[0], safe.Inset(-5)), proof.Ink(seen, safe.Inset(-5))
					if !near1(front, back) || front.Dx() < 50 {
						t.Errorf("%s, flip %d, shift %v, cell %d: front %v, back behind it %v", s.Name, flip, shift, p.Cell, front, back)
					}
					if apart := differing(sides[0], seen, safe); apart > 0.02 {
						t.Errorf("%s, flip %d, shift %v, cell %d: %.1f %% of the pixels differ", s.Name, flip, shift, p.Cell, 100*apart)
					}
				}
			}
		}
	}
}

// near1 reports whether two rectangles are within a pixel of each other.
func near1(a, b image.Rectangle) bool {
	return a.In(b.Inset(-1)) && b.In(a.Inset(-1))
}

// differing is the share of a region that is ink in one of the images only.
func differing(a, b *image.Gray, region image.Rectangle) float64 {
	n := 0
	for y := region.Min.Y; y < region.Max.Y; y++ {
		for x := region.Min.X; x < region.Max.X; x++ {
			if (a.GrayAt(x, y).Y < 128) != (b.GrayAt(x, y).Y < 128) {
				n++
			}
		}
	}
	return float64(n) / float64(region.Dx()*region.Dy())
}

// Codes and words on a back read, whichever way it is turned.
func TestBacksRead(t *testing.T) {
	for _, name := range []string{"a4-cut-148x20", "letter-cut-148x20"} {
		for _, flip := range []Flip{LongEdge, ShortEdge} {
			s := find(t, name)
			back := named(s)
			back.Codes = []label.Code{{X: 60, Y: 4, Symbol: testCode(t, symbol.QR, 'M', "BEHIND.X", 600)},
				{X: 90, Y: 4, Symbol: testCode(t, symbol.DataMatrix, 0, "BEHIND.Y", 600)}}
			job := Job{Stock: s, Title: "T", Created: created, Flip: flip, Places: []Place{{1, 3, stairs(s.Room(600), false), back}}}
			doc := open(t, write(t, job))
			img, err := doc.Render(2, 600)
			if err != nil {
				t.Fatal(err)
			}
			behind := s.back(3, flip)
			got := proof.Decode(img, proof.Region(behind.at, 600))
			if len(got) != 2 || !strings.Contains(strings.Join(got, " "), "BEHIND.X") || !strings.Contains(strings.Join(got, " "), "BEHIND.Y") {
				t.Errorf("%s, flip %d: read %q", name, flip, got)
			}
			if wrong, looked := modulesApart(img, behind, back.Codes); wrong > 0 || looked == 0 {
				t.Errorf("%s, flip %d: %d of %d modules are not whole dots", name, flip, wrong, looked)
			}
			texts, err := doc.Texts(2)
			if err != nil || len(texts) != 1 || strings.TrimSpace(texts[0].String) != "2026X012" || !behind.at.Contains(texts[0].Box) {
				t.Errorf("%s, flip %d: %+v, %v", name, flip, texts, err)
			}
		}
	}
}

// modulesApart counts modules of codes that are not wholly black or white.
func modulesApart(img *image.Gray, l placement, codes []label.Code) (wrong, looked int) {
	for _, c := range codes {
		x0, y0 := l.codeDots(c)
		n := c.Symbol.Dots
		for my := range c.Symbol.Size {
			for mx := range c.Symbol.Size {
				looked++
				first := img.GrayAt(x0+mx*n, y0+my*n).Y
				for i := range n * n {
					if v := img.GrayAt(x0+mx*n+i%n, y0+my*n+i/n).Y; max(v, first)-min(v, first) > 12 {
						wrong++
						break
					}
				}
			}
		}
	}
	return wrong, looked
}

// A viewer is told over which edge to turn (ISO 32000-1, table 150).
func TestViewersAreToldTheEdge(t *testing.T) {
	s := find(t, "a4-cut-148x20")
	for flip, want := range map[Flip]string{LongEdge: "/Duplex /DuplexFlipLongEdge", ShortEdge: "/Duplex /DuplexFlipShortEdge"} {
		pdf := write(t, Job{Stock: s, Title: "T", Created: created, Flip: flip, Places: []Place{{1, 1, cornered(s), named(s)}}})
		if !bytes.Contains(pdf, []byte(want)) {
			t.Errorf("no %q", want)
		}
		program(t, pdf, "qpdf", "--check", "@")
	}
	pdf := write(t, Job{Stock: s, Title: "T", Created: created, Places: []Place{{1, 1, cornered(s), nil}}})
	if !bytes.Contains(pdf, []byte("/Duplex /Simplex")) || bytes.Contains(pdf, []byte("/DuplexFlip")) {
		t.Error("fronts only: the file does not ask for one side")
	}
}

func TestBackWithoutAnEdgeIsRefused(t *testing.T) {
	s := find(t, "a4-cut-148x20")
	err := WritePDF(&bytes.Buffer{}, Job{Stock: s, Title: "T", Created: created, Places: []Place{{1, 1, cornered(s), named(s)}}})
	if err == nil || !strings.Contains(err.Error(), "no edge to turn the sheet over") {
		t.Errorf("%v", err)
	}
	err = WritePDF(&bytes.Buffer{}, Job{Stock: s, Title: "T", Created: created, Flip: LongEdge, Places: []Place{{1, 1, cornered(s), &label.Drawing{W: 20, H: 148}}}})
	if err == nil || !strings.Contains(err.Error(), "cell 1: back: a label of 20×148 mm") {
		t.Errorf("%v", err)
	}
}

// The foot of a sheet that has been printed on before is left as it is.
func TestFootStandsOnce(t *testing.T) {
	s := find(t, "a4-3x7-63.5x38.1")
	job := Job{Stock: s, Title: "Bag labels", Created: created, Begun: true,
		Places: []Place{{Page: 1, Cell: 5, Drawing: cornered(s)}, {Page: 2, Cell: 1, Drawing: cornered(s)}}}
	doc := open(t, write(t, job))
	for page, want := range map[int]bool{1: false, 2: true} {
		texts, err := doc.Texts(page)
		if err != nil || (len(texts) > 0) != want {
			t.Errorf("page %d: %+v, %v", page, texts, err)
		}
	}
}
