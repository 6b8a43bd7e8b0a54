package layout

import "pipstake/label"

// The turns of a drawing on the page.
const (
	upright  = label.Upright
	upward   = label.Upward
	over     = label.Over
	downward = label.Downward
)

// placement is how a drawing lies on a page.
type placement struct {
	at   label.Rect // what the label covers, in millimetres from the page's upper left corner
	turn label.Turn
}

// point is where a point of the label, as it is read, lies on the page.
func (l placement) point(x, y float64) (pageX, pageY float64) {
	switch l.turn {
	case upward:
		return l.at.X + y, l.at.Bottom() - x
	case over:
		return l.at.Right() - x, l.at.Bottom() - y
	case downward:
		return l.at.Right() - y, l.at.Y + x
	}
	return l.at.X + x, l.at.Y + y
}

// onPage is where r, a part of the label as it is read, lies on the page.
func (l placement) onPage(r label.Rect) label.Rect {
	x1, y1 := l.point(r.X, r.Y)
	x2, y2 := l.point(r.Right(), r.Bottom())
	return label.Rect{X: min(x1, x2), Y: min(y1, y2), W: max(x1, x2) - min(x1, x2), H: max(y1, y2) - min(y1, y2)}
}

// codeDots is the upper left corner of a code's modules on the page, in
// printer dots from the upper left corner of the page. All edges of modules
// then fall on the printer's own grid, so that no rounding makes one module
// wider than another.
func (l placement) codeDots(c label.Code) (x, y int) {
	ink := l.onPage(c.Ink())
	return toDots(ink.X, c.Symbol.DPI), toDots(ink.Y, c.Symbol.DPI)
}

// Shift is how far everything on a page is moved, rightward and downward, in
// millimetres, for a printer that draws beside where it should.
type Shift struct{ X, Y float64 }

// move is r moved by the shift.
func (s Shift) move(r label.Rect) label.Rect {
	r.X, r.Y = r.X+s.X, r.Y+s.Y
	return r
}

// Flip is the edge of the paper over which a sheet is turned to print its back.
type Flip int

// The flips.
const (
	NoFlip    Flip = iota // fronts only
	LongEdge              // as the pages of a book turn, on upright paper
	ShortEdge             // as the pages of a wall calendar turn
)

// sideways reports whether the flip swaps left and right of the page; else it
// swaps head and foot.
func (f Flip) sideways(p Paper) bool { return (f == LongEdge) == (p.H >= p.W) }

// front is how the label in cell n lies on the page. Stakes that stand on the page
// point outward, so that their upper ends meet in the middle of the sheet, away from
// the edges that printers leave white.
func (s Stock) front(n int) placement {
	switch {
	case !s.Turned:
		return placement{s.Cell(n), upright}
	case s.outward() && s.rowOf(n) >= s.Rows/2:
		return placement{s.Cell(n), downward}
	}
	return placement{s.Cell(n), upward}
}

// outward reports whether the stakes of the lower half point downward.
func (s Stock) outward() bool { return s.Kind == CutSheet && s.Turned && s.Rows%2 == 0 }

func (s Stock) rowOf(n int) int {
	_, row := s.place(n)
	return row
}

// OnPage is where a part of the label in cell n, as it is read, lies on the page,
// and which way the label is turned there.
func (s Stock) OnPage(n int, part label.Rect) (label.Rect, label.Turn) {
	l := s.front(n)
	return l.onPage(part), l.turn
}

// back is how the back of the label in cell n lies on the page that is printed
// behind: at the mirrored place, and so that its left end, as it is read, is
// behind the left end of the front. What is read upright on the one side is
// then read upright on the other when the label is turned over about its
// length.
func (s Stock) back(n int, f Flip) placement {
	l := s.front(n)
	if f.sideways(s.Paper) {
		l.at.X = s.Paper.W - l.at.Right()
	} else {
		l.at.Y = s.Paper.H - l.at.Bottom()
	}
	if f.sideways(s.Paper) != s.Turned { // the left end has changed sides
		l.turn = (l.turn + over) % 4
	}
	return l
}

// BackRoom is what the back of a label has to fit into, as the back is read,
// for a printer of dpi dots in an inch. It is the room of the front with head
// and foot changed over.
func (s Stock) BackRoom(dpi int) label.Room {
	r := s.Room(dpi)
	r.Margin.Top, r.Margin.Bottom = r.Margin.Bottom, r.Margin.Top
	return r
}
