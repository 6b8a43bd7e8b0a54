// Package layout puts finished labels onto paper: the stocks that labels are
// printed on, the cells of their pages, and the PDF. It takes drawings in
// millimetres and never decides what a label says; it knows no registry.
package layout

import "fmt"

// Paper is a page to print on, W by H millimetres, as it lies in the printer's
// tray with the short edge first.
type Paper struct {
	Name string // lower case, as in the names of stocks
	W, H float64
}

// The papers of the built-in sheets.
var (
	A4     = Paper{Name: "a4", W: 210, H: 297}         // ISO 216
	Letter = Paper{Name: "letter", W: 215.9, H: 279.4} // 8½ by 11 inches
)

// papers are those that the name of a stock may start with.
var papers = []Paper{A4, Letter}

// unprintable is the width of the edge of a sheet that desktop printers leave
// white, in millimetres: most lasers need 4.0 to 4.2 (common practice).
const unprintable = 4.2

// Edge returns the width of the edge of the sheet that stays white, in millimetres.
func (s Stock) Edge() float64 {
	if s.White > 0 {
		return s.White
	}
	return unprintable
}

// String returns the size: "A4, 210×297 mm".
func (p Paper) String() string {
	name := p.Name
	switch p {
	case A4:
		name = "A4"
	case Letter:
		name = "Letter"
	}
	return fmt.Sprintf("%s, %s mm", name, size(p.W, p.H))
}

// size writes a size in millimetres with no more decimals than it needs.
func size(w, h float64) string { return millimetres(w) + "×" + millimetres(h) }
