package layout

import (
	"bytes"
	"fmt"
	"io"
	"math"
	"slices"
	"time"

	"pipstake/label"
)

// Place is a label in its cell.
type Place struct {
	Page, Cell int // both from 1; a page is a sheet, front and back
	Drawing    *label.Drawing
	Back       *label.Drawing // nil for none
}

// codes are those on both sides of the label.
func (p Place) codes() []label.Code {
	if p.Back == nil {
		return p.Drawing.Codes
	}
	return slices.Concat(p.Drawing.Codes, p.Back.Codes)
}

// Job is what goes into one PDF: one stock, the labels with their cells, and
// what the document says of itself.
type Job struct {
	Stock   Stock
	Places  []Place
	Title   string    // also printed at the foot of pages that have room for it
	Created time.Time // the document's date, to the second

	Shift     Shift // of all fronts
	BackShift Shift // of all backs
	Flip      Flip  // over which edge sheets are turned to print their backs

	// Begun says that the first sheet has been printed on before, so that the
	// line at its foot stands already.
	Begun bool

	// Gain is how much narrower than their modules the dark parts of codes are
	// drawn, in printer dots, for a printer whose ink runs by as much. From 0
	// to half a module; a *GainError otherwise.
	Gain int
}

// WritePDF writes the job's pages. Nothing is written before all of it is
// known to be printable; the same job always gives the same bytes.
//
// Errors: a *label.GlyphError for a character that the page's font cannot
// draw; a *GainError for a print gain out of bounds; others for a stock or a
// place that contradicts itself, and from w.
func WritePDF(w io.Writer, job Job) error {
	pages, err := job.pages()
	if err != nil {
		return err
	}
	var out bytes.Buffer
	doc := document{job.Stock.Paper, job.Title, job.Created, job.Gain, job.Flip}
	if err := doc.write(&out, job.sides(pages)); err != nil {
		return fmt.Errorf("laying out the PDF: %w", err)
	}
	_, err = w.Write(out.Bytes())
	return err
}

// pages checks the job and returns the places of each page in the order of their
// cells.
func (j Job) pages() ([][]Place, error) {
	if err := j.Stock.Check(); err != nil {
		return nil, err
	}
	if j.Created.IsZero() {
		return nil, fmt.Errorf("the document %q has no date", j.Title)
	}
	if len(j.Places) == 0 {
		return nil, fmt.Errorf("the document %q has no label", j.Title)
	}
	if err := drawable(label.Regular, j.Title); err != nil {
		return nil, err
	}
	places := slices.Clone(j.Places)
	slices.SortStableFunc(places, func(a, b Place) int {
		if a.Page != b.Page {
			return a.Page - b.Page
		}
		return a.Cell - b.Cell
	})
	var pages [][]Place
	for i, p := range places {
		if err := j.Stock.accepts(p); err != nil {
			return nil, fmt.Errorf("page %d, cell %d: %w", p.Page, p.Cell, err)
		}
		if p.Back != nil && j.Flip == NoFlip {
			return nil, fmt.Errorf("page %d, cell %d: there is a back, and no edge to turn the sheet over", p.Page, p.Cell)
		}
		if i > 0 && p.Page == places[i-1].Page && p.Cell == places[i-1].Cell {
			return nil, fmt.Errorf("page %d, cell %d: two labels in one cell", p.Page, p.Cell)
		}
		switch {
		case p.Page == len(pages)+1:
			pages = append(pages, nil)
		case p.Page > len(pages):
			return nil, fmt.Errorf("page %d, cell %d: page %d has no label", p.Page, p.Cell, len(pages)+1)
		}
		pages[p.Page-1] = append(pages[p.Page-1], p)
	}
	return pages, j.checkGain()
}

// accepts reports what keeps a place from being printed on the stock.
func (s Stock) accepts(p Place) error {
	if p.Page < 1 {
		return fmt.Errorf("pages count from 1")
	}
	if p.Cell < 1 || p.Cell > s.PerSheet() {
		return fmt.Errorf("stock %q has cells 1 to %d", s.Name, s.PerSheet())
	}
	if p.Drawing == nil {
		return fmt.Errorf("there is nothing to draw")
	}
	if p.Back != nil {
		if err := s.acceptsDrawing(p.Back); err != nil {
			return fmt.Errorf("back: %w", err)
		}
	}
	return s.acceptsDrawing(p.Drawing)
}

// acceptsDrawing reports what keeps one side of a label from being printed.
func (s Stock) acceptsDrawing(d *label.Drawing) error {
	room := s.Room(0)
	if math.Abs(d.W-room.W) > slack || math.Abs(d.H-room.H) > slack {
		return fmt.Errorf("a label of %s mm was laid out for a cell of %s mm", size(d.W, d.H), size(room.W, room.H))
	}
	for _, t := range d.Texts {
		if err := drawable(t.Face, t.String); err != nil {
			return err
		}
	}
	return nil
}

// drawable reports the first character of text that would be lost in the PDF:
// one that the font lacks, or one above U+FFFF, where the embedding of fonts
// ends.
func drawable(face *label.Typeface, text string) error {
	for _, r := range text {
		if r > 0xFFFF || !face.Has(r) {
			return &label.GlyphError{Text: text, Rune: r, Font: face.Called()}
		}
	}
	return nil
}
