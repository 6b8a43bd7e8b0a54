package layout

import (
	"bufio"
	"bytes"
	"fmt"
	"image"
	"io"
	"math"
	"os"
	"slices"
	"strings"
	"testing"

	"pipstake/label"
	"pipstake/label/symbol"
	"pipstake/layout/proof"
)

// Paper sizes: A4 by ISO 216, Letter in inches, a roll by its name. A point is
// 1/72 inch (ISO 32000-1, 8.3.2.3).
func TestMediaBoxIsThePaper(t *testing.T) {
	for name, want := range map[string]proof.Size{
		"a4-3x8-70x37":          {W: 210, H: 297},
		"a4-cut-148x20":         {W: 210, H: 297},
		"letter-3x10-66.7x25.4": {W: 215.9, H: 279.4},
		"letter-cut-148x20":     {W: 215.9, H: 279.4},
		"roll-62x29":            {W: 62, H: 29}, // wider than high: reported to come out turned
		"roll-29x62":            {W: 29, H: 62},
	} {
		s := find(t, name)
		job := Job{Stock: s, Title: "T", Created: created, Places: []Place{{Page: 1, Cell: 1, Drawing: cornered(s)}, {Page: 2, Cell: 1, Drawing: cornered(s)}, {Page: 3, Cell: 1, Drawing: cornered(s)}}}
		pdf := write(t, job)
		pages := open(t, pdf).Pages()
		if len(pages) != 3 {
			t.Errorf("%s: %d pages, want 3", name, len(pages))
		}
		for _, p := range pages {
			if math.Abs(p.W-want.W) > 0.0005 || math.Abs(p.H-want.H) > 0.0005 {
				t.Errorf("%s: a page of %v×%v mm, want %v×%v", name, p.W, p.H, want.W, want.H)
			}
		}
		// Each page says so itself: once a page and once for all.
		if n := bytes.Count(pdf, []byte("/MediaBox [")); n != 4 {
			t.Errorf("%s: %d media boxes in the file, want 4", name, n)
		}
	}
}

// Text at the foot of a page is reported to start another page in libraries
// that break pages by themselves.
func TestTextAtTheFootAddsNoPage(t *testing.T) {
	s := find(t, "a4-3x8-70x37")
	d := &label.Drawing{W: 70, H: 37}
	for _, y := range []float64{20, 30, 36.9, 60} { // the last one would lie below the page
		d.Texts = append(d.Texts, label.Text{X: 5, Baseline: y, Size: 4, Face: label.Bold, String: "at the foot"})
	}
	doc := open(t, write(t, Job{Stock: s, Title: "T", Created: created, Places: []Place{{Page: 1, Cell: 24, Drawing: d}, {Page: 2, Cell: 24, Drawing: d}}}))
	if n := len(doc.Pages()); n != 2 {
		t.Errorf("%d pages, want 2", n)
	}
}

// The corners of the safe part of each cell, measured on a raster of 1200 dpi,
// lie where the stock's dimensions put them to a tenth of a millimetre, and as
// far beside that as the page is shifted.
func TestCellsOnTheRaster(t *testing.T) {
	if testing.Short() {
		t.Skip("takes long")
	}
	for _, s := range someStocks(t) {
		checkCells(t, s, Shift{})
		checkCells(t, s, Shift{0.7, -0.4})
	}
}

func checkCells(t *testing.T, s Stock, shift Shift) {
	t.Helper()
	const dpi = 600 // a pixel is less than half of what is tolerated
	job := Job{Stock: s, Title: "T", Created: created, Shift: shift}
	d := cornered(s)
	for n := range s.PerSheet() {
		job.Places = append(job.Places, Place{Page: 1, Cell: n + 1, Drawing: d})
	}
	img, err := open(t, write(t, job)).Render(1, dpi)
	if err != nil {
		t.Fatal(err)
	}
	read := s.Room(dpi).Margin
	for n := 1; n <= s.PerSheet(); n++ {
		margin := read
		switch s.front(n).turn { // as read to as it lies
		case upward:
			margin = label.Margin{Left: read.Top, Top: read.Right, Right: read.Bottom, Bottom: read.Left}
		case downward:
			margin = label.Margin{Left: read.Bottom, Top: read.Left, Right: read.Top, Bottom: read.Right}
		}
		column, row := s.place(n)
		x, y := s.Left+float64(column)*s.PitchX+shift.X, s.Top+float64(row)*s.PitchY+shift.Y
		want := label.Rect{X: x + margin.Left, Y: y + margin.Top,
			W: s.LabelW - margin.Left - margin.Right, H: s.LabelH - margin.Top - margin.Bottom}
		// Cut marks lie on the edges of the cell: look 0.4 mm inside.
		ink := proof.Ink(img, proof.Region(shift.move(s.Cell(n)).Inset(0.4, 0.4, 0.4, 0.4), dpi))
		for side, pair := range map[string][2]float64{
			"left": {float64(ink.Min.X), want.X}, "right": {float64(ink.Max.X), want.Right()},
			"top": {float64(ink.Min.Y), want.Y}, "foot": {float64(ink.Max.Y), want.Bottom()},
		} {
			if n == 1 && side == "foot" && s.band(n).W > 0 {
				continue // the sheet says there what it is
			}
			if got := pair[0] * 25.4 / dpi; math.Abs(got-pair[1]) > 0.1 {
				t.Errorf("%s, shifted %v, cell %d: %s at %.3f mm, want %.3f", s.Name, shift, n, side, got, pair[1])
			}
		}
	}
}

// coded fills the stock with codes at awkward places.
func coded(t *testing.T, s Stock, dpi int) Job {
	job := Job{Stock: s, Title: "T", Created: created}
	room := s.Room(dpi)
	for n := 1; n <= s.PerSheet(); n++ {
		d := &label.Drawing{W: room.W, H: room.H}
		qr := testCode(t, symbol.QR, 'M', fmt.Sprintf("2026X012-B%d.3/1", n), dpi)
		dm := testCode(t, symbol.DataMatrix, 0, fmt.Sprintf("2026X012-B%d.3/2", n), dpi)
		d.Codes = []label.Code{
			{X: 5 + float64(n)*0.377, Y: 2.5 + float64(n)*0.013, Symbol: qr},
			{X: 40.2 + float64(n)*0.091, Y: 3.1, Symbol: dm},
		}
		job.Places = append(job.Places, Place{Page: 1, Cell: n, Drawing: d})
	}
	return job
}

// compareModules counts pixels of codes, and two around them, that are not as
// the modules say: a module covers whole dots, counted from the upper left
// corner of the page, and no pixel is more than tolerance off black or white.
func compareModules(t *testing.T, img *image.Gray, job Job, tolerance int) (wrong, looked int) {
	for _, p := range job.Places {
		for _, c := range p.Drawing.Codes {
			s, cell := c.Symbol, job.Stock.Cell(p.Cell)
			left, top := cell.X+c.X, cell.Y+c.Y
			turn := job.Stock.front(p.Cell).turn
			switch turn {
			case upward:
				left, top = cell.X+c.Y, cell.Bottom()-c.X-s.Width()
			case downward:
				left, top = cell.Right()-c.Y-s.Width(), cell.Y+c.X
			}
			x0 := int(math.Round(left / 25.4 * float64(s.DPI)))
			y0 := int(math.Round(top / 25.4 * float64(s.DPI)))
			side := s.Size * s.Dots
			for y := -2; y < side+2; y++ {
				for x := -2; x < side+2; x++ {
					want := 255
					if x >= 0 && y >= 0 && x < side && y < side {
						column, row := x/s.Dots, y/s.Dots
						switch turn {
						case upward:
							column, row = s.Size-1-y/s.Dots, x/s.Dots
						case downward:
							column, row = y/s.Dots, s.Size-1-x/s.Dots
						}
						if s.Dark(column, row) {
							want = 0
						}
					}
					looked++
					if got := int(img.GrayAt(x0+x, y0+y).Y); max(got-want, want-got) > tolerance {
						wrong++
					}
				}
			}
		}
	}
	return wrong, looked
}

// PDFium smooths edges: an edge that falls between two dots is black on one
// side and white on the other, any other is grey. A twentieth of a level
// allows for edges drawn a hundredth of a dot inside the module.
func TestModulesAreWholeDots(t *testing.T) {
	if testing.Short() {
		t.Skip("takes long")
	}
	for _, dpi := range []int{203, 300, 600, 1200} {
		for _, name := range []string{"a4-cut-148x20", "letter-cut-148x20"} {
			job := coded(t, find(t, name), dpi)
			img, err := open(t, write(t, job)).Render(1, dpi)
			if err != nil {
				t.Fatal(err)
			}
			wrong, looked := compareModules(t, img, job, 255/20)
			if wrong > 0 || looked == 0 {
				t.Errorf("%s at %d dpi: %d of %d pixels are wrong", name, dpi, wrong, looked)
			}
		}
	}
}

// Poppler without smoothing paints every pixel that a shape touches, as the
// rule for scan conversion in PostScript and PDF has it (ISO 32000-1, 10.6.5).
func TestModulesAreWholeDotsWherePixelsTouched(t *testing.T) {
	if testing.Short() {
		t.Skip("takes long")
	}
	for _, dpi := range []int{203, 300, 600, 1200} {
		for _, name := range []string{"a4-cut-148x20", "letter-cut-148x20"} {
			job := coded(t, find(t, name), dpi)
			prefix := t.TempDir() + "/page"
			program(t, write(t, job), "pdftoppm", "-r", fmt.Sprint(dpi), "-mono", "-singlefile", "@", prefix)
			file, err := os.ReadFile(prefix + ".pbm")
			if err != nil {
				t.Fatal(err)
			}
			wrong, looked := compareModules(t, bilevel(t, bytes.NewReader(file)), job, 0)
			if wrong > 0 || looked == 0 {
				t.Errorf("%s at %d dpi: %d of %d pixels are wrong", name, dpi, wrong, looked)
			}
		}
	}
}

// The same by the other programs that printers' queues use. Ghostscript counts
// from the lower edge of the page and paints every pixel touched, MuPDF counts
// from the upper one and is asked for grey, of which half counts as black.
func TestModulesAreWholeDotsInOtherPrograms(t *testing.T) {
	for _, dpi := range []int{203, 300, 600} {
		for _, name := range []string{"a4-cut-148x20", "letter-cut-148x20", "roll-150x20"} {
			if testing.Short() && (dpi != 300 || name != "roll-150x20") {
				continue
			}
			job := coded(t, find(t, name), dpi)
			pdf := write(t, job)
			page := t.TempDir() + "/page"
			program(t, pdf, "gs", "-q", "-dSAFER", "-dNOPAUSE", "-dBATCH", "-sDEVICE=pbmraw", fmt.Sprintf("-r%d", dpi), "-sOutputFile="+page+".pbm", "@")
			program(t, pdf, "mutool", "draw", "-q", "-r", fmt.Sprint(dpi), "-c", "mono", "-A", "0", "-o", page+"2.pbm", "@", "1")
			for of, file := range map[string]string{"Ghostscript": page + ".pbm", "MuPDF": page + "2.pbm"} {
				drawn, err := os.ReadFile(file)
				if err != nil {
					t.Fatal(err)
				}
				wrong, looked := compareModules(t, bilevel(t, bytes.NewReader(drawn)), job, 0)
				if wrong > 0 || looked == 0 {
					t.Errorf("%s, %s at %d dpi: %d of %d pixels are wrong", of, name, dpi, wrong, looked)
				}
			}
		}
	}
}

// bilevel reads a portable bitmap, one bit a pixel, 1 for black.
func bilevel(t *testing.T, r io.Reader) *image.Gray {
	t.Helper()
	in := bufio.NewReader(r)
	var magic string
	var w, h int
	if _, err := fmt.Fscanln(in, &magic); err != nil || magic != "P4" {
		t.Fatalf("no portable bitmap: %q, %v", magic, err)
	}
	for next, err := in.Peek(1); err == nil && next[0] == '#'; next, err = in.Peek(1) { // a comment
		if _, err := in.ReadString('\n'); err != nil {
			t.Fatal(err)
		}
	}
	if _, err := fmt.Fscan(in, &w, &h); err != nil {
		t.Fatalf("no portable bitmap: %v", err)
	}
	bits, err := io.ReadAll(in)
	stride := (w + 7) / 8
	if err != nil || len(bits) != 1+stride*h {
		t.Fatalf("a bitmap of %d×%d has %d bytes, %v", w, h, len(bits), err)
	}
	img := image.NewGray(image.Rect(0, 0, w, h))
	for y := range h {
		for x := range w {
			if bits[1+y*stride+x/8]&(0x80>>(x%8)) == 0 {
				img.Pix[y*img.Stride+x] = 255
			}
		}
	}
	return img
}

// On pages as they are used all ink keeps 4.2 mm from the edge of the sheet,
// every code reads, and what is read is what the label carries.
func TestFilledPages(t *testing.T) {
	for _, used := range []struct {
		stock string
		dpi   int
	}{
		{"a4-3x7-63.5x38.1", 600}, {"a4-3x8-63.5x33.9", 300}, {"a4-3x8-70x37", 600}, {"a4-2x7-99.1x38.1", 1200},
		{"letter-2x5-101.6x50.8", 203}, {"letter-3x10-66.7x25.4", 600}, {"letter-cut-148x20", 600},
		{"a4-cut-148x20", 203}, {"a4-cut-148x20", 300}, {"a4-cut-148x20", 600},
	} {
		if testing.Short() && used.stock != "a4-3x8-70x37" {
			continue
		}
		s := find(t, used.stock)
		job := filled(t, s, used.dpi, 2, 3)
		doc := open(t, write(t, job))
		for page := 1; page <= 2; page++ {
			img, err := doc.Render(page, 300)
			if err != nil {
				t.Fatal(err)
			}
			ink := proof.Ink(img, img.Rect)
			prints := proof.Region(label.Rect{W: s.Paper.W, H: s.Paper.H}.Inset(4.15, 4.15, 4.15, 4.15), 300)
			if !ink.In(prints) || ink.Empty() {
				t.Errorf("%s, page %d: ink reaches %v, a printer %v", s.Name, page, ink, prints)
			}
			for _, p := range job.Places {
				if p.Page == page {
					checkCodes(t, img, s, p, 300)
				}
			}
		}
	}
}

// checkCodes reads the codes in a cell without being told where they are.
func checkCodes(t *testing.T, img *image.Gray, s Stock, p Place, dpi int) {
	t.Helper()
	checkCodesIn(t, img, s.Cell(p.Cell), p, dpi)
}

func checkCodesIn(t *testing.T, img *image.Gray, cell label.Rect, p Place, dpi int) {
	t.Helper()
	var want []string
	for _, c := range p.Drawing.Codes {
		want = append(want, c.Symbol.Payload)
	}
	got := proof.Decode(img, proof.Region(cell, dpi))
	slices.Sort(got)
	slices.Sort(want)
	if len(want) == 0 || !slices.Equal(got, want) {
		t.Errorf("page %d, cell %d at %+v: read %q, want %q", p.Page, p.Cell, cell, got, want)
	}
}

// PDFium's text of each label lies in its cell, and all words are there.
func TestTextsLieInTheirCells(t *testing.T) {
	for _, name := range []string{"a4-cut-148x20", "letter-3x10-66.7x25.4"} {
		s := find(t, name)
		job := filled(t, s, 600, 1, s.PerSheet())
		texts, err := open(t, write(t, job)).Texts(1)
		if err != nil {
			t.Fatal(err)
		}
		words := map[int]string{}
		for _, text := range texts {
			for n := 1; n <= s.PerSheet(); n++ {
				if s.Cell(n).Contains(text.Box) {
					words[n] += " " + strings.TrimSpace(text.String)
				}
			}
		}
		for _, p := range job.Places {
			for _, text := range p.Drawing.Texts {
				for _, word := range strings.Fields(text.String) {
					if !strings.Contains(words[p.Cell], word) {
						t.Errorf("%s, cell %d: %q is not among %q", name, p.Cell, word, words[p.Cell])
					}
				}
			}
		}
	}
}

// The rule at the foot is 100 mm long on the raster, where the stock has room; that
// in the first label of a sheet without margins 40 mm.
func TestFootRule(t *testing.T) {
	if testing.Short() {
		t.Skip("takes long")
	}
	const dpi = 1200
	for name, want := range map[string]float64{"a4-3x7-63.5x38.1": 100, "letter-2x5-101.6x50.8": 100, "letter-cut-148x20": 100,
		"a4-3x8-70x37": 40, "a4-cut-148x20": 0, "roll-62x29": 0} {
		s := find(t, name)
		doc := open(t, write(t, Job{Stock: s, Title: "Bag labels, batch 7", Created: created, Places: []Place{{Page: 1, Cell: 1, Drawing: cornered(s)}}}))
		texts, err := doc.Texts(1)
		if err != nil {
			t.Fatal(err)
		}
		var all []string
		for _, text := range texts {
			all = append(all, strings.TrimSpace(text.String))
		}
		if want == 0 {
			if len(all) > 0 {
				t.Errorf("%s: text at a foot without room: %q", name, all)
			}
			continue
		}
		says := "Bag labels, batch 7, page 1 of 1"
		if want < 100 {
			says = "Bag labels, 1/1"
		}
		ruled := fmt.Sprintf("%g mm when printed at 100 %%", want)
		if !slices.Contains(all, says) || !slices.Contains(all, ruled) {
			t.Errorf("%s: the foot says %q", name, all)
		}
		img, err := doc.Render(1, dpi)
		if err != nil {
			t.Fatal(err)
		}
		caption := texts[slices.Index(all, ruled)].Box
		strip := label.Rect{X: caption.X + caption.W/2 - want/2 - 2, Y: caption.Y, W: want + 4, H: caption.H}
		ink := proof.Ink(img, proof.Region(strip, dpi))
		if got := float64(ink.Dx()) * 25.4 / dpi; math.Abs(got-want-0.1) > 0.05 { // with half a hairline at both ends
			t.Errorf("%s: the rule is %.3f mm long", name, got)
		}
	}
}
