package layout

import (
	"io"
	"time"

	"pipstake/label"
)

// Place is a label in its cell.
type Place struct {
	Page, Cell int // both from 1
	Drawing    *label.Drawing
}

// Job is what goes into one PDF: one stock, the labels with their cells, and
// what the document says of itself.
type Job struct {
	Stock   Stock
	Places  []Place
	Title   string    // also printed at the foot of pages with room for it
	Created time.Time // the document's date, to the second
}

// WritePDF writes the job's pages. Nothing is written before all of it is
// known to be printable; the same job always gives the same bytes.
func WritePDF(w io.Writer, job Job) error {
	return nil
}
