package plot

import (
	"bytes"
	"image/color"
	"slices"
	"time"

	"github.com/jung-kurt/gofpdf"

	"pipstake/label"
)

// pdfSurface writes a PDF of one page, whose letters are text that can be sought.
type pdfSurface struct{ pdf *gofpdf.Fpdf }

func newPDF(w, h float64, created time.Time) *pdfSurface {
	pdf := gofpdf.NewCustom(&gofpdf.InitType{OrientationStr: "P", UnitStr: "mm", Size: gofpdf.SizeType{Wd: w, Ht: h}})
	pdf.SetAutoPageBreak(false, 0)
	pdf.SetMargins(0, 0, 0)
	pdf.SetCatalogSort(true)
	pdf.SetCreationDate(created.UTC())
	pdf.SetModificationDate(created.UTC())
	pdf.SetProducer("pipstake", true)
	for _, face := range []*label.Typeface{label.Regular, label.Bold} { // the library changes the bytes it is given
		pdf.AddUTF8FontFromBytes(face.Name, "", slices.Clone(face.TTF))
	}
	pdf.AddPage()
	return &pdfSurface{pdf}
}

func (s *pdfSurface) line(c color.RGBA, width, dash float64, points ...point) {
	s.pdf.SetDrawColor(int(c.R), int(c.G), int(c.B))
	s.pdf.SetLineWidth(width)
	var dashes []float64
	if dash > 0 {
		dashes = []float64{dash, dash}
	}
	s.pdf.SetDashPattern(dashes, 0)
	for i, p := range points {
		if i == 0 {
			s.pdf.MoveTo(p.x, p.y)
		} else {
			s.pdf.LineTo(p.x, p.y)
		}
	}
	s.pdf.DrawPath("D")
}

func (s *pdfSurface) area(c color.RGBA, corners ...point) {
	s.pdf.SetFillColor(int(c.R), int(c.G), int(c.B))
	var polygon []gofpdf.PointType
	for _, p := range corners {
		polygon = append(polygon, gofpdf.PointType{X: p.x, Y: p.y})
	}
	s.pdf.Polygon(polygon, "F")
}

func (s *pdfSurface) dot(c color.RGBA, middle point, radius float64) {
	s.pdf.SetFillColor(int(c.R), int(c.G), int(c.B))
	s.pdf.Circle(middle.x, middle.y, radius, "F")
}

func (s *pdfSurface) text(t textStyle, from point, upward bool, text string) {
	s.pdf.SetTextColor(int(t.tint.R), int(t.tint.G), int(t.tint.B))
	s.pdf.SetFont(t.face.Name, "", t.size*72/25.4)
	if upward {
		s.pdf.TransformBegin()
		s.pdf.TransformRotate(90, from.x, from.y)
		defer s.pdf.TransformEnd()
	}
	s.pdf.Text(from.x, from.y, text)
}

func (s *pdfSurface) file() ([]byte, error) {
	var b bytes.Buffer
	err := s.pdf.Output(&b)
	return b.Bytes(), err
}
