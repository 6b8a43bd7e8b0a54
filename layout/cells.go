package layout

import (
	"fmt"

	"pipstake/label"
)

// safety is how far inside its cut a label's ink stays at the least, in millimetres;
// faces keep 2 mm where they have room.
const safety = 1.5

// slack forgives rounding in the dimensions of a stock, in millimetres.
const slack = 0.05

// PerSheet is the number of labels on a page.
func (s Stock) PerSheet() int { return s.Columns * s.Rows }

// Cell is the n-th label of the page, from 1, in millimetres from the page's
// upper left corner. Cells run along the rows; on a sheet to cut with lying
// stakes they run down the columns, so that 2k−1 and 2k always are a pair.
func (s Stock) Cell(n int) label.Rect {
	column, row := s.place(n)
	return label.Rect{
		X: s.Left + float64(column)*s.PitchX, Y: s.Top + float64(row)*s.PitchY,
		W: s.LabelW, H: s.LabelH,
	}
}

// place is the column and the row of cell n, both from 0.
func (s Stock) place(n int) (column, row int) {
	n--
	if s.Kind == CutSheet && !s.Turned {
		return n / s.Rows, n % s.Rows
	}
	return n % s.Columns, n / s.Columns
}

// Room is what a face has to fit into, as the label is read, for a printer of
// dpi dots in an inch. Ink stays at least 1.5 mm inside the cut. Where any label of a
// sheet runs into the edge that printers leave white, all labels of the sheet
// get the wider margin on that side, so that they look alike.
func (s Stock) Room(dpi int) label.Room {
	m := label.Margin{Left: safety, Top: safety, Right: safety, Bottom: safety}
	if s.Kind != Roll {
		right := s.Paper.W - s.Left - float64(s.Columns-1)*s.PitchX - s.LabelW
		foot := s.Paper.H - s.Top - float64(s.Rows-1)*s.PitchY - s.LabelH
		m = label.Margin{Left: max(safety, s.Edge()-s.Left), Top: max(safety, s.Edge()-s.Top),
			Right: max(safety, s.Edge()-right), Bottom: max(safety, s.Edge()-foot)}
	}
	c := s.Clear
	m = label.Margin{Left: max(m.Left, c.Left), Top: max(m.Top, c.Top), Right: max(m.Right, c.Right), Bottom: max(m.Bottom, c.Bottom)}
	if s.outward() { // the inner ends lie in the middle of the sheet
		m.Bottom, m.Top = max(safety, c.Bottom), max(m.Top, m.Bottom)
		m.Left, m.Right = max(m.Left, m.Right), max(m.Left, m.Right)
	}
	if s.Turned { // what is read as the left lies at the foot of the page
		m = label.Margin{Left: m.Bottom, Top: m.Left, Right: m.Top, Bottom: m.Right}
		return label.Room{W: s.LabelH, H: s.LabelW, Margin: m, DPI: dpi, Cut: s.Kind == CutSheet}
	}
	return label.Room{W: s.LabelW, H: s.LabelH, Margin: m, DPI: dpi, Cut: s.Kind == CutSheet}
}

// Check reports dimensions that contradict each other: labels that overlap, or
// that run off the page.
func (s Stock) Check() error {
	fault := func(format string, args ...any) error {
		return fmt.Errorf("stock %q: %s", s.Name, fmt.Sprintf(format, args...))
	}
	if s.Columns < 1 || s.Rows < 1 {
		return fault("%d columns and %d rows hold no label", s.Columns, s.Rows)
	}
	if !(s.Paper.W > 0 && s.Paper.H > 0 && s.LabelW > 0 && s.LabelH > 0) {
		return fault("labels of %s mm on a page of %s mm cannot be", size(s.LabelW, s.LabelH), size(s.Paper.W, s.Paper.H))
	}
	if s.Columns > 1 && !(s.PitchX >= s.LabelW-slack) || s.Rows > 1 && !(s.PitchY >= s.LabelH-slack) {
		return fault("labels of %s mm overlap at a pitch of %s mm", size(s.LabelW, s.LabelH), size(s.PitchX, s.PitchY))
	}
	last := s.Cell(s.PerSheet())
	page := label.Rect{W: s.Paper.W + 2*slack, H: s.Paper.H + 2*slack}
	if !(s.Left >= -slack && s.Top >= -slack && page.Contains(label.Rect{X: last.X + slack, Y: last.Y + slack, W: last.W, H: last.H})) {
		return fault("labels reach from %s to %s mm, the page is %s mm", size(s.Left, s.Top), size(last.Right(), last.Bottom()), size(s.Paper.W, s.Paper.H))
	}
	return nil
}
