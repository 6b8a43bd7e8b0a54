package layout

import (
	"cmp"
	"fmt"
	"io"
	"maps"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
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

// write draws all pages and finishes the file. The library embeds the typefaces and
// writes what holds the pages together; its own pages stay empty until finish fills
// them.
func (d document) write(w io.Writer, sides []side) error {
	wide, high := wholeDots(d.paper.W, sides), wholeDots(d.paper.H, sides)
	pdf := gofpdf.NewCustom(&gofpdf.InitType{OrientationStr: "P", UnitStr: "pt", Size: gofpdf.SizeType{Wd: wide, Ht: high}})
	pdf.SetCompression(false)
	pdf.SetCatalogSort(true)
	pdf.SetCreationDate(d.created.UTC())
	pdf.SetModificationDate(d.created.UTC())
	pdf.SetProducer("pipstake", true)
	pdf.SetTitle(d.title, true)
	fonts, shorter, err := embed(pdf, sides)
	if err != nil {
		return err
	}

	packed := pen{gain: d.gain, h: high, fonts: fonts}.pack(sides)
	for range sides {
		pdf.AddPage()
	}
	var raw captured
	if err := pdf.Output(&raw); err != nil {
		return err
	}
	return finish(w, raw, packed, shorter, catalog(d.flip), "[0 0 "+decimal(wide, 4)+" "+decimal(high, 4)+"]")
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

// embed adds the typefaces in use, each cut down to the characters in use. It returns
// their names on pages, and what puts these for the library's own of 40 hexadecimal
// digits.
func embed(pdf *gofpdf.Fpdf, sides []side) (map[*label.Typeface]string, *strings.Replacer, error) {
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
	faces := slices.SortedFunc(maps.Keys(chars), func(a, b *label.Typeface) int { return cmp.Compare(a.Name, b.Name) })
	for _, face := range faces {
		ttf, err := face.Subset(chars[face])
		if err != nil {
			return nil, nil, err
		}
		pdf.AddUTF8FontFromBytes(face.Name, "", ttf)
	}
	used := pdf.CreateTemplateCustom(gofpdf.PointType{}, gofpdf.SizeType{Wd: 1, Ht: 1}, func(t *gofpdf.Tpl) {
		for _, face := range faces {
			t.SetFont(face.Name, "", 1)
		}
		for _, face := range faces {
			t.SetFont(face.Name, "", 1)
			t.Text(0, 0, string(slices.Collect(maps.Keys(chars[face])))) // it embeds what was set once
		}
		if err := t.Error(); err != nil {
			pdf.SetError(err)
		}
	})
	long := longName.FindAllString(string(used.Bytes()), len(faces))
	if len(long) < len(faces) {
		return nil, nil, cmp.Or(pdf.Error(), errDrawn)
	}
	names := map[*label.Typeface]string{}
	var renamed []string
	for n, face := range faces {
		names[face] = fmt.Sprintf("/F%d", n+1)
		renamed = append(renamed, long[n], names[face])
	}
	return names, strings.NewReplacer(renamed...), pdf.Error()
}

var longName = regexp.MustCompile(`/F[0-9a-f]{40}`)

// pen draws pages, as a PDF writes them.
type pen struct {
	to    []byte
	gain  int                        // printer dots taken off the dark parts of codes
	h     float64                    // of the page, in points
	fonts map[*label.Typeface]string // their names

	tiling tiling

	below float64 // from h down to the origin, in points: nothing on the page itself, all of h where a matrix has moved it
	face  *label.Typeface
	size  float64    // of letters, in millimetres
	turn  label.Turn // of the last line of text
	at    [2]int     // where it began, as it is turned, in hundredths of a point
	lines
}

// lines is how lines are drawn.
type lines struct {
	width float64    // in millimetres
	dash  [2]float64 // and gap, in millimetres; none for a solid line
}

// page draws a page: texts and lines, then codes.
func (p *pen) page(s side) {
	p.to = append(p.to[:0], "0 J\n0 j\n0.57 w\n0.000 G\n0.000 g\n"...) // all black, lines with plain ends
	p.below, p.face, p.lines = 0, nil, lines{}
	p.draw(s.texts, s.rules, nil)
	for _, l := range s.labels {
		p.label(l)
	}
	p.codes(s.labels)
}

// label sets the texts and lines of a label from its own origin, the upper left
// corner as it is read: labels that are alike then differ in their letters only,
// and pack small.
func (p *pen) label(l laid) {
	outside := p.lines
	p.to = append(p.to, "q "+l.matrix(p.h)+" cm\n"...)
	p.face, p.below = nil, p.h
	p.draw(l.drawing.Texts, l.drawing.Rules, l.drawing.Circles)
	p.to = append(p.to, "Q\n"...) // all is set as outside again
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
	if len(texts) > 0 {
		p.to, p.at, p.turn = append(p.to, "BT\n"...), [2]int{}, label.Upright
		for _, t := range texts {
			p.text(t)
		}
		p.to = append(p.to, "ET\n"...)
	}
	for _, r := range rules {
		p.line(r.Width, r.Dash, r.Gap)
		p.put(2, points(r.X1), p.up(r.Y1))
		p.to = append(p.to, " m"...)
		p.put(2, points(r.X2), p.up(r.Y2))
		p.to = append(p.to, " l S\n"...)
	}
	for _, c := range circles {
		p.line(c.Width, 0, 0)
		p.circle(points(c.X), p.up(c.Y), points(c.R))
	}
}

// up is a length downward from the origin as a PDF counts it, upward from its own.
func (p *pen) up(mm float64) float64 { return p.h - (p.below + points(mm)) }

// put writes numbers with so many decimals.
func (p *pen) put(decimals int, numbers ...float64) {
	for _, v := range numbers {
		if n := len(p.to); p.to[n-1] != '\n' {
			p.to = append(p.to, ' ')
		}
		p.to = strconv.AppendFloat(p.to, v, 'f', decimals, 64)
	}
}

// text sets a line of text, placed from the one before it that is turned alike.
func (p *pen) text(t label.Text) {
	if t.Face != p.face || t.Size != p.size {
		p.face, p.size = t.Face, t.Size
		p.to = append(p.to, p.fonts[t.Face]...)
		p.put(2, points(t.Size))
		p.to = append(p.to, " Tf\n"...)
	}
	if t.Turn != p.turn {
		p.to = append(p.to, [...]string{label.Upright: "1 0 0 1 0 0 Tm\n", label.Upward: "0 1 -1 0 0 0 Tm\n"}[t.Turn]...)
		p.turn, p.at = t.Turn, [2]int{}
	}
	x, y := points(t.X), p.up(t.Baseline)
	if t.Turn == label.Upward {
		x, y = y, -x
	}
	before := p.at
	p.at = [2]int{int(math.Round(x * 100)), int(math.Round(y * 100))}
	p.put(-1, float64(p.at[0]-before[0])/100, float64(p.at[1]-before[1])/100)
	p.to = append(p.to, " Td ("...)
	p.string(t.String)
	p.to = append(p.to, ") Tj\n"...)
}

// string writes the letters of a text in UTF-16, as the library embeds typefaces.
func (p *pen) string(s string) {
	for _, r := range s { // none is above U+FFFF
		for _, b := range [...]byte{byte(r >> 8), byte(r)} {
			switch b {
			case '\\', '(', ')': // ISO 32000-1, 7.3.4.2
				p.to = append(p.to, '\\', b)
			case '\r':
				p.to = append(p.to, `\r`...)
			default:
				p.to = append(p.to, b)
			}
		}
	}
}

// circle draws a round line in six curves.
func (p *pen) circle(x, y, r float64) {
	const sixth = math.Pi / 3
	p.put(2, x+r, y)
	p.to = append(p.to, " m\n"...)
	for n := range 6 {
		sin1, cos1 := math.Sincos(float64(n) * sixth)
		sin2, cos2 := math.Sincos(float64(n+1) * sixth)
		p.put(5, x+r*(cos1-sin1*sixth/3), y+r*(sin1+cos1*sixth/3),
			x+r*(cos2+sin2*sixth/3), y+r*(sin2-cos2*sixth/3), x+r*cos2, y+r*sin2)
		p.to = append(p.to, " c\n"...)
	}
	p.to = append(p.to, "S\n"...)
}

// line sets how lines are drawn from here on, in millimetres.
func (p *pen) line(width, dash, gap float64) {
	if width != p.width {
		p.width = width
		p.put(2, points(width))
		p.to = append(p.to, " w\n"...)
	}
	if both := [2]float64{dash, gap}; both != p.dash {
		p.dash = both
		p.to = append(p.to, '[')
		if dash > 0 {
			p.to = strconv.AppendFloat(p.to, points(dash), 'f', 2, 64)
			p.put(2, points(gap))
		}
		p.to = append(p.to, "] 0.00 d\n"...)
	}
}
