package layout

import (
	"io"
	"math"
	"slices"
	"strconv"
	"time"

	"github.com/jung-kurt/gofpdf"

	"pipstake/label"
)

// This file alone knows points, 1/72 of an inch, which is what a PDF is
// measured in. The origin of a PDF page is its lower left corner.

// points is a length in millimetres as points, to a ten-thousandth.
func points(mm float64) float64 { return math.Round(mm*72/25.4*1e4) / 1e4 }

// document is what a PDF says of itself and of all its pages.
type document struct {
	paper   Paper
	title   string
	created time.Time
	gain    int  // printer dots taken off the dark parts of codes
	flip    Flip // how viewers should ask a printer to turn the sheets
}

// pen draws on the pages of one document.
type pen struct {
	pdf   *gofpdf.Fpdf
	w, h  float64    // of a page, in points
	gain  int        // printer dots
	width float64    // of lines, as last set, in millimetres
	dash  [2]float64 // and gap, as last set; pages take both over from the one before
}

// write draws all pages and finishes the file.
func (d document) write(w io.Writer, sides []side) error {
	wide, high := points(d.paper.W), points(d.paper.H)
	pdf := gofpdf.NewCustom(&gofpdf.InitType{OrientationStr: "P", UnitStr: "pt", Size: gofpdf.SizeType{Wd: wide, Ht: high}})
	pdf.SetAutoPageBreak(false, 0)
	pdf.SetMargins(0, 0, 0)
	pdf.SetCompression(false) // finish packs better
	pdf.SetCatalogSort(true)
	pdf.SetCreationDate(d.created.UTC())
	pdf.SetModificationDate(d.created.UTC())
	pdf.SetProducer("pipstake", true)
	pdf.SetTitle(d.title, true)
	embed(pdf, sides)

	p := &pen{pdf: pdf, w: wide, h: high, gain: d.gain}
	for _, s := range sides {
		pdf.AddPage()
		p.draw(0, 0, s.texts, s.rules)
		p.labels(s.labels)
	}
	var raw captured
	if err := pdf.Output(&raw); err != nil {
		return err
	}
	return finish(w, raw, catalog(d.flip), "[0 0 "+decimal(wide, 4)+" "+decimal(high, 4)+"]")
}

// captured keeps what is written to it, without a copy where it comes in one
// piece, as the library's documents do.
type captured []byte

func (b *captured) Write(p []byte) (int, error) {
	if *b == nil {
		*b = p
	} else {
		*b = append(slices.Clip(*b), p...)
	}
	return len(p), nil
}

// embed adds the typefaces in use. The library changes the bytes it is given
// while it cuts a font down to the characters in use, so each document gets
// its own copy.
func embed(pdf *gofpdf.Fpdf, sides []side) {
	faces := map[*label.Typeface]bool{}
	for _, s := range sides {
		for _, t := range s.texts {
			faces[t.Face] = true
		}
		for _, l := range s.labels {
			for _, t := range l.drawing.Texts {
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
func (p *pen) labels(labels []laid) {
	if len(labels) == 0 {
		return
	}
	turn := labels[0].turn // the same all over a page
	if turn != upright {
		p.pdf.RawWriteStr("q " + p.matrix(turn) + " cm")
	}
	for _, l := range labels {
		x, y := p.origin(l.lie)
		p.draw(x, y, l.drawing.Texts, l.drawing.Rules)
	}
	if turn != upright {
		p.pdf.RawWriteStr("Q")
	}
	for _, l := range labels {
		for _, c := range l.drawing.Codes {
			p.code(l.lie, c)
		}
	}
}

// matrix turns the page (ISO 32000-1, 8.3.4) so that turned labels can be drawn
// as if they lay upright, with their upper left corners at origin.
func (p *pen) matrix(t turn) string {
	w, h := decimal(p.w, 4), decimal(p.h, 4)
	switch t {
	case upward: // x runs up the page, and what is below lies to the right
		return "0 1 -1 0 " + h + " 0"
	case over:
		return "-1 0 0 -1 " + w + " " + h
	}
	return "0 -1 1 0 0 " + h // downward
}

// origin is the upper left corner of a label, as it is read, under the matrix
// of its turn, in millimetres.
func (p *pen) origin(l lie) (x, y float64) {
	const mm = 25.4 / 72
	w, h := p.w*mm, p.h*mm
	switch l.turn {
	case upward:
		return h - l.at.Bottom(), l.at.X
	case over:
		return w - l.at.Right(), h - l.at.Bottom()
	case downward:
		return l.at.Y, h - l.at.Right()
	}
	return l.at.X, l.at.Y
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
func (p *pen) code(l lie, c label.Code) {
	s := c.Symbol
	dots := s.Dots // in a unit
	if p.gain > 0 {
		dots = 1
	}
	dot := 72 / float64(s.DPI)
	unit := float64(dots) * dot
	less := shy * float64(s.Dots) / float64(dots) // in units
	x, y := l.codeDots(c)
	left, top := float64(x)*dot+less/2*unit, p.h-float64(y)*dot-less/2*unit
	side := float64(s.Size*s.Dots)*dot - less*unit
	right, foot := decimal(left+side, 5), decimal(top-side, 5)
	at := decimal(left, 5) + " " + decimal(top, 5)

	m := decimal(unit, 7)
	path := []byte("q ")
	switch l.turn {
	case upright:
		path = append(path, m+" 0 0 -"+m+" "+at...)
	case upward:
		path = append(path, "0 "+m+" "+m+" 0 "+decimal(left, 5)+" "+foot...)
	case over:
		path = append(path, "-"+m+" 0 0 "+m+" "+right+" "+foot...)
	case downward:
		path = append(path, "0 -"+m+" -"+m+" 0 "+right+" "+decimal(top, 5)...)
	}
	path = append(path, " cm\n"...)
	sides := map[int]string{} // of blocks, by their whole units
	length := func(units int) string {
		text, ok := sides[units]
		if !ok {
			text = decimal(float64(units)-less, 3)
			sides[units] = text
		}
		return text
	}
	for _, b := range blocks(s, p.gain) {
		path = append(strconv.AppendInt(path, int64(b.x/dots), 10), ' ')
		path = append(strconv.AppendInt(path, int64(b.y/dots), 10), ' ')
		path = append(append(path, length(b.w/dots)...), ' ')
		path = append(append(path, length(b.h/dots)...), " re\n"...)
	}
	p.pdf.RawWriteStr(string(append(path, "f Q"...)))
}

// decimal writes v with at most so many decimals and no more than it needs.
func decimal(v float64, decimals int) string {
	scale := math.Pow10(decimals)
	return strconv.FormatFloat(math.Round(v*scale)/scale, 'f', -1, 64)
}
