package layout

import (
	"math"

	"pipstake/label"
	"pipstake/label/symbol"
)

// block is a rectangle of dark modules, counted from the upper left module.
type block struct{ x, y, w, h int }

// blocks covers the dark modules of a symbol with rectangles that do not
// overlap: the runs down each column, those of neighbouring columns joined
// where they start and end alike. The order, column by column, is the one that
// packs smallest.
func blocks(s *symbol.Symbol) []block {
	type span struct{ y, h int }
	var out []block
	open := map[span]int{} // the block in out that ends with the column before
	for x := range s.Size {
		next := map[span]int{}
		for y := 0; y < s.Size; y++ {
			start := y
			for y < s.Size && s.Dark(x, y) {
				y++
			}
			if y == start {
				continue
			}
			run := span{start, y - start}
			i, ok := open[run]
			if ok {
				out[i].w++
			} else {
				i = len(out)
				out = append(out, block{x, start, 1, run.h})
			}
			next[run] = i
		}
		open = next
	}
	return out
}

// toDots is the printer dot nearest to a length in millimetres, counted from
// the edge of the page.
func toDots(mm float64, dpi int) int { return int(math.Round(mm * float64(dpi) / 25.4)) }

// codeDots is the upper left corner of a code's modules on the page, in
// printer dots from the upper left corner of the page. All edges of modules
// then fall on the printer's own grid, so that no rounding makes one module
// wider than another.
func (s Stock) codeDots(cell label.Rect, c label.Code) (x, y int) {
	ink := s.onPage(cell, c.Ink())
	return toDots(ink.X, c.Symbol.DPI), toDots(ink.Y, c.Symbol.DPI)
}

// onPage is where r, a part of the label as it is read, lies on the page when
// the label is in cell.
func (s Stock) onPage(cell, r label.Rect) label.Rect {
	if s.Turned {
		return label.Rect{X: cell.X + r.Y, Y: cell.Bottom() - r.Right(), W: r.H, H: r.W}
	}
	return label.Rect{X: cell.X + r.X, Y: cell.Y + r.Y, W: r.W, H: r.H}
}
