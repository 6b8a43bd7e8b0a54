// Package layout puts finished labels onto paper: the stocks that labels are
// printed on, the cells of their pages, and the PDF. It takes drawings in
// millimetres and never decides what a label says; it knows no registry.
//
// # Decisions
//
//   - Codes are vectors, snapped to the printer's dots: no viewer smooths them.
//     A code's level is worth more than its module size (symbol.Choose): labels
//     die of lost area. layout.Job.Gain takes dots off dark parts for ink that
//     runs.
//   - Margins. Where labels run into a printer's unprintable edge (4.2 mm, or
//     as measured), every label of the stock keeps the same larger margin.
//     Pages are whole dots high and wide. Stakes that stand on the page point
//     outward, so it is their points that lie there.
//   - Shifts move a page as a whole, a back as its front until its own is
//     known. On a test sheet only the outlines move; what is measured by stays.
//     Scaling is never a shift.
//   - A roll's label that is much higher than wide is read along itself, others
//     that are higher where nothing else fits (Stock.Ways). A refusal names
//     stocks that were tried.
//   - Every sheet says batch, page and a length to measure: at its foot; at the
//     points of its first stakes; in the band that labels at the edge of a page
//     make white on all of them; else printing says to write it on the back.
//   - Backs lie at the mirrored place, turned so that their left end is behind
//     that of the front, whichever edge the sheet is turned over.
//   - Part-used sheets. labels.csv knows every cell that was printed, so the
//     next batch goes behind the highest; on a sheet to cut only on the day it
//     was begun, since it will be cut. Rolls start afresh.
//   - Previews and plots are drawn from the outlines of the same letters
//     (label.Typeface.Outline) without a PDF in between.
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
