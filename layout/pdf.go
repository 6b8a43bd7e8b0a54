package layout

import (
	"io"
	"math"
	"slices"
	"time"

	"github.com/jung-kurt/gofpdf"

	"pipstake/label"
)

// A PDF is measured in points, 1/72 of an inch, from the lower left corner of a
// page.

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

// write draws all pages and finishes the file. The library sets the texts and
// lines of a page as a template, which gives them back at once; meanwhile other
// processors add the codes of the pages before and pack them. So no more than a
// few pages stand unpacked at a time. The library's own pages stay empty until
// finish fills them.
func (d document) write(w io.Writer, sides []side) error {
	wide, high := wholeDots(d.paper.W, sides), wholeDots(d.paper.H, sides)
	pdf := gofpdf.NewCustom(&gofpdf.InitType{OrientationStr: "P", UnitStr: "pt", Size: gofpdf.SizeType{Wd: wide, Ht: high}})
	pdf.SetAutoPageBreak(false, 0)
	pdf.SetCompression(false)
	pdf.SetCatalogSort(true)
	pdf.SetCreationDate(d.created.UTC())
	pdf.SetModificationDate(d.created.UTC())
	pdf.SetProducer("pipstake", true)
	pdf.SetTitle(d.title, true)
	if err := embed(pdf, sides); err != nil {
		return err
	}

	packing := newPacker(d.gain, high, len(sides))
	for n, s := range sides {
		pdf.AddPage()
		page := pdf.CreateTemplateCustom(gofpdf.PointType{}, gofpdf.SizeType{Wd: wide, Ht: high}, func(t *gofpdf.Tpl) {
			p := &pen{pdf: t, h: high}
			p.draw(s.texts, s.rules, nil)
			for _, l := range s.labels {
				p.label(l)
			}
			if err := t.Error(); err != nil {
				pdf.SetError(err)
			}
		})
		packing.pack(n, page.Bytes(), s.labels)
	}
	packed := packing.wait()
	var raw captured
	if err := pdf.Output(&raw); err != nil {
		return err
	}
	return finish(w, raw, packed, catalog(d.flip), "[0 0 "+decimal(wide, 4)+" "+decimal(high, 4)+"]")
}

// wholeDots is a length of the paper, in millimetres, as points: as near to it as
// makes a whole number of the printer's dots where there are codes. Programs that
// lay a page from its lower edge and paint every dot that they touch, such as
// Ghostscript, would otherwise make every module higher by a dot.
func wholeDots(mm float64, sides []side) float64 {
	for _, s := range sides {
		for _, l := range s.labels {
			for _, c := range l.drawing.Codes {
				return math.Round(float64(toDots(mm, c.Symbol.DPI))*72/float64(c.Symbol.DPI)*1e4) / 1e4
			}
		}
	}
	return points(mm)
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

// embed adds the typefaces in use, each cut down to the characters in use.
func embed(pdf *gofpdf.Fpdf, sides []side) error {
	chars := map[*label.Typeface]map[rune]bool{}
	use := func(texts []label.Text) {
		for _, t := range texts {
			if chars[t.Face] == nil {
				chars[t.Face] = map[rune]bool{}
			}
			for _, r := range t.String {
				chars[t.Face][r] = true
			}
		}
	}
	for _, s := range sides {
		use(s.texts)
		for _, l := range s.labels {
			use(l.drawing.Texts)
		}
	}
	for face, chars := range chars { // the library sorts them by name
		ttf, err := face.Subset(chars)
		if err != nil {
			return err
		}
		pdf.AddUTF8FontFromBytes(face.Name, "", ttf)
	}
	return nil
}

// pen sets texts and lines on one page.
type pen struct {
	pdf   *gofpdf.Tpl
	h     float64 // of the page, in points
	below float64 // the library's y at the origin, in points
	face  *label.Typeface
	size  float64 // of letters, in millimetres
	lines
}

// lines is how lines are drawn.
type lines struct {
	width float64    // in millimetres
	dash  [2]float64 // and gap, in millimetres; none for a solid line
}

// label sets the texts and lines of a label from its own origin, the upper left
// corner as it is read: labels that are alike then differ in their letters only,
// and pack small.
func (p *pen) label(l laid) {
	outside := p.lines
	p.pdf.RawWriteStr("q " + l.matrix(p.h) + " cm")
	p.face, p.below = nil, p.h
	p.draw(l.drawing.Texts, l.drawing.Rules, l.drawing.Circles)
	p.pdf.RawWriteStr("Q") // all is set as outside again, which the library does not know
	p.face, p.below, p.lines = nil, 0, outside
}

// matrix takes points of a label, measured upward from its origin, to those of
// a page of height h (ISO 32000-1, 8.3.4).
func (l placement) matrix(h float64) string {
	x, y := l.point(0, 0)
	turned := [...]string{upright: "1 0 0 1 ", upward: "0 1 -1 0 ", over: "-1 0 0 -1 ", downward: "0 -1 1 0 "}[l.turn]
	return turned + decimal(points(x), 2) + " " + decimal(h-points(y), 2)
}

// draw sets texts, rules and circles.
func (p *pen) draw(texts []label.Text, rules []label.Rule, circles []label.Circle) {
	turned := false // text is read upward
	for i, t := range texts {
		if t.Face != p.face || t.Size != p.size {
			p.face, p.size = t.Face, t.Size
			p.pdf.SetFont(t.Face.Name, "", points(t.Size))
		}
		if t.Turn == label.Upright {
			p.pdf.Text(points(t.X), p.below+points(t.Baseline), t.String)
			continue
		}
		if !turned {
			p.pdf.RawWriteStr("q 0 1 -1 0 0 0 cm")
		}
		p.pdf.Text(p.h-p.below-points(t.Baseline), p.h+points(t.X), t.String)
		if turned = i+1 < len(texts) && texts[i+1].Turn == t.Turn && texts[i+1].Face == p.face && texts[i+1].Size == p.size; !turned {
			p.pdf.RawWriteStr("Q")
		}
	}
	for _, r := range rules {
		p.line(r.Width, r.Dash, r.Gap)
		p.pdf.Line(points(r.X1), p.below+points(r.Y1), points(r.X2), p.below+points(r.Y2))
	}
	for _, c := range circles {
		p.line(c.Width, 0, 0)
		p.pdf.Circle(points(c.X), p.below+points(c.Y), points(c.R), "D")
	}
}

// line sets how lines are drawn from here on, in millimetres.
func (p *pen) line(width, dash, gap float64) {
	if width != p.width {
		p.width = width
		p.pdf.SetLineWidth(points(width))
	}
	if both := [2]float64{dash, gap}; both != p.dash {
		p.dash = both
		var pattern []float64
		if dash > 0 {
			pattern = []float64{points(dash), points(gap)}
		}
		p.pdf.SetDashPattern(pattern, 0)
	}
}
