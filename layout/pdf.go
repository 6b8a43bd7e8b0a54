package layout

import (
	"bytes"
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"

	"github.com/jung-kurt/gofpdf"

	"pipstake/label"
)

// This file alone knows points, 1/72 of an inch, which is what a PDF is
// measured in. The origin of a PDF page is its lower left corner.

// points is a length in millimetres as points, to a ten-thousandth.
func points(mm float64) float64 { return math.Round(mm*72/25.4*1e4) / 1e4 }

// pen draws on the pages of one document.
type pen struct {
	pdf   *gofpdf.Fpdf
	stock Stock
	gain  int        // printer dots that dark modules lose
	h     float64    // height of a page in points
	width float64    // of lines, as last set, in millimetres
	dash  [2]float64 // and gap, as last set; pages take both over from the one before
}

// writePages draws all pages and finishes the file.
func writePages(w io.Writer, job Job, pages [][]Place) error {
	wide, high := points(job.Stock.Paper.W), points(job.Stock.Paper.H)
	pdf := gofpdf.NewCustom(&gofpdf.InitType{OrientationStr: "P", UnitStr: "pt", Size: gofpdf.SizeType{Wd: wide, Ht: high}})
	pdf.SetAutoPageBreak(false, 0)
	pdf.SetMargins(0, 0, 0)
	pdf.SetCompression(false) // finish packs better
	pdf.SetCatalogSort(true)
	pdf.SetCreationDate(job.Created.UTC())
	pdf.SetModificationDate(job.Created.UTC())
	pdf.SetProducer("pipstake", true)
	pdf.SetTitle(job.Title, true)
	embed(pdf, pages)

	p := &pen{pdf: pdf, stock: job.Stock, gain: job.Gain, h: high}
	for i, places := range pages {
		pdf.AddPage()
		texts, rules := job.Stock.foot(job.Title, i+1, len(pages))
		p.draw(0, 0, texts, append(rules, job.Stock.cutMarks(places)...))
		p.labels(places)
	}
	var raw bytes.Buffer
	if err := pdf.Output(&raw); err != nil {
		return err
	}
	return finish(w, raw.Bytes(), "[0 0 "+decimal(wide, 4)+" "+decimal(high, 4)+"]")
}

// embed adds the typefaces in use. The library changes the bytes it is given
// while it cuts a font down to the characters in use, so each document gets
// its own copy.
func embed(pdf *gofpdf.Fpdf, pages [][]Place) {
	faces := map[*label.Typeface]bool{label.Regular: true} // of the foot
	for _, places := range pages {
		for _, p := range places {
			for _, t := range p.Drawing.Texts {
				faces[t.Face] = true
			}
		}
	}
	for face := range faces { // the library sorts them by name
		pdf.AddUTF8FontFromBytes(face.Name, "", slices.Clone(face.TTF))
	}
}

// labels draws what stands in the cells of a page: all text and rules, under
// one matrix where the labels are turned, then the codes.
func (p *pen) labels(places []Place) {
	if p.stock.Turned {
		// x runs up the page, and what is below lies to the right.
		p.pdf.RawWriteStr("q 0 1 -1 0 " + decimal(p.h, 4) + " 0 cm")
	}
	for _, place := range places {
		cell := p.stock.Cell(place.Cell)
		x, y := cell.X, cell.Y
		if p.stock.Turned {
			x, y = p.stock.Paper.H-cell.Bottom(), cell.X
		}
		p.draw(x, y, place.Drawing.Texts, place.Drawing.Rules)
	}
	if p.stock.Turned {
		p.pdf.RawWriteStr("Q")
	}
	for _, place := range places {
		for _, c := range place.Drawing.Codes {
			p.code(p.stock.Cell(place.Cell), c)
		}
	}
}

// draw sets texts and rules whose origin is at x and y, in millimetres.
func (p *pen) draw(x, y float64, texts []label.Text, rules []label.Rule) {
	for _, t := range texts {
		p.pdf.SetFont(t.Face.Name, "", points(t.Size))
		p.pdf.Text(points(x+t.X), points(y+t.Baseline), t.String)
	}
	for _, r := range rules {
		if r.Width != p.width {
			p.width = r.Width
			p.pdf.SetLineWidth(points(r.Width))
		}
		if dash := [2]float64{r.Dash, r.Gap}; dash != p.dash {
			p.dash = dash
			var pattern []float64 // none for a solid line
			if r.Dash > 0 {
				pattern = []float64{points(r.Dash), points(r.Gap)}
			}
			p.pdf.SetDashPattern(pattern, 0)
		}
		p.pdf.Line(points(x+r.X1), points(y+r.Y1), points(x+r.X2), points(y+r.Y2))
	}
}

// shy is how much narrower than its modules each block of a code is drawn, in
// modules. Renderers that paint every pixel they touch would otherwise add a
// dot at each edge, since an edge lies exactly between two dots.
const shy = 0.002

// code fills the modules of a code in one path, whose unit is the module, or
// the printer's dot where the modules are narrowed.
func (p *pen) code(cell label.Rect, c label.Code) {
	s := c.Symbol
	dots := s.Dots // in a unit
	if p.gain > 0 {
		dots = 1
	}
	dot := 72 / float64(s.DPI)
	unit := float64(dots) * dot
	less := shy * float64(s.Dots) / float64(dots) // in units
	x, y := p.stock.codeDots(cell, c)
	left := float64(x)*dot + less/2*unit
	top := p.h - float64(y)*dot - less/2*unit

	m := decimal(unit, 7)
	path := []byte("q ")
	if p.stock.Turned {
		foot := top - float64(s.Size*s.Dots)*dot + less*unit
		path = append(path, "0 "+m+" "+m+" 0 "+decimal(left, 5)+" "+decimal(foot, 5)+" cm\n"...)
	} else {
		path = append(path, m+" 0 0 -"+m+" "+decimal(left, 5)+" "+decimal(top, 5)+" cm\n"...)
	}
	for _, b := range blocks(s, p.gain) {
		path = fmt.Appendf(path, "%d %d %s %s re\n", b.x/dots, b.y/dots, decimal(float64(b.w/dots)-less, 3), decimal(float64(b.h/dots)-less, 3))
	}
	p.pdf.RawWriteStr(string(append(path, "f Q"...)))
}

// decimal writes v with at most so many decimals and no more than it needs.
func decimal(v float64, decimals int) string {
	scale := math.Pow10(decimals)
	return strconv.FormatFloat(math.Round(v*scale)/scale, 'f', -1, 64)
}
