package layout

import (
	"fmt"
	"math"

	"pipstake/label/symbol"
)

// GainError says that a code's modules cannot be drawn narrower by so much.
type GainError struct {
	Gain int // printer dots that dark modules should lose
	Dots int // along a module of the first code where that is so
}

func (e *GainError) Error() string {
	return fmt.Sprintf("a print gain of %d dots cannot be taken off modules of %d dots: give 0 to %d", e.Gain, e.Dots, e.Dots/2)
}

// checkGain reports a gain that would leave less than half of a module of any
// code, or that would widen it.
func (j Job) checkGain() error {
	for _, p := range j.Places {
		for _, c := range p.codes() {
			if j.Gain < 0 || j.Gain > c.Symbol.Dots/2 {
				return &GainError{j.Gain, c.Symbol.Dots}
			}
		}
	}
	return nil
}

// block is a rectangle of ink, in printer dots from the upper left corner of a
// code's first module.
type block struct{ x, y, w, h int }

// tiling covers the ink of symbols with rectangles, one symbol after another.
type tiling struct {
	grid   grid
	blocks []block
	before []int // the blocks that end with a column, downward
	now    []int // the same of the next column
}

// cover returns rectangles that do not overlap, until it is called again: the runs
// down each column, those of neighbouring columns joined where they start and end
// alike. What all symbols of a size have in common comes first and by itself, and so
// packs small.
//
// Dark parts are narrower and lower by gain dots than their modules: the ink
// that a printer lets run makes up for it. Where dark modules touch no gap
// opens between them, and the distances of the modules stay as they are.
func (t *tiling) cover(s *symbol.Symbol, gain int) []block {
	t.grid.set(s, gain)
	t.blocks = t.blocks[:0]
	t.add(s, true)
	t.add(s, false)
	return t.blocks
}

// add covers what all symbols of a kind and size have in common, or the rest.
func (t *tiling) add(s *symbol.Symbol, common bool) {
	g, n := t.grid, len(t.grid.needs)
	out, before, now := t.blocks, t.before[:0], t.now[:0]
	for x := range n {
		left, right := g.needs[x][0], g.needs[x][1]
		column, fixed := darkDown(s, left), fixedDown(s, left)
		if left != right {
			column &= darkDown(s, right)
			fixed &= fixedDown(s, right)
		}
		dark := func(y int) bool {
			up, down := g.needs[y][0], g.needs[y][1]
			return (column>>up)&(column>>down)&1 == 1 && ((fixed>>up)&(fixed>>down)&1 == 1) == common
		}
		now = now[:0]
		next := 0 // in before
		for y := 0; y < n; y++ {
			start := y
			for y < n && dark(y) {
				y++
			}
			if y == start {
				continue
			}
			run := block{g.lines[x], g.lines[start], g.lines[x+1] - g.lines[x], g.lines[y] - g.lines[start]}
			for next < len(before) && out[before[next]].y < run.y {
				next++
			}
			if next < len(before) && out[before[next]].y == run.y && out[before[next]].h == run.h {
				out[before[next]].w += run.w
				now = append(now, before[next])
			} else {
				now = append(now, len(out))
				out = append(out, run)
			}
		}
		before, now = now, before
	}
	t.blocks, t.before, t.now = out, before, now
}

// darkDown is the dark modules of a column, a bit each: symbols have 41 at the most.
// Columns and modules count from 1, and those around the symbol are light.
func darkDown(s *symbol.Symbol, column int) uint64 {
	var dark uint64
	if column < 1 || column > s.Size {
		return 0
	}
	for y := range s.Size {
		if s.Dark(column-1, y) {
			dark |= 2 << y
		}
	}
	return dark
}

// fixedDown is the modules of a column that are the same in all symbols of a kind and
// size, in the same bits: the borders of a Data Matrix and of its regions (ISO/IEC
// 16022), the finder and alignment patterns of a QR code and the column of its timing
// pattern (ISO/IEC 18004). The timing pattern's row would part the runs that cross it.
func fixedDown(s *symbol.Symbol, column int) uint64 {
	n := s.Size
	all := (uint64(1)<<n - 1) << 1
	if s.Kind == symbol.DataMatrix {
		borders := uint64(2 | 1<<n)
		if n >= 32 { // two regions across and down
			borders |= 3 << (n / 2)
		}
		if borders>>column&1 == 1 {
			return all
		}
		return borders
	}
	near, far := uint64(0xFE), uint64(0xFE)<<(n-7) // the first seven and the last
	var fixed uint64
	switch {
	case column == 7:
		return all
	case column < 7:
		fixed = near | far
	case column > n-7:
		fixed = near
	}
	if n > 21 && column >= n-8 && column <= n-4 {
		fixed |= 0x1F << (n - 8)
	}
	return fixed
}

// grid parts a symbol where ink may begin and end: between its modules and,
// where dark parts are narrowed, also at that distance inside each module.
type grid struct {
	lines []int    // in dots; alike across and down
	needs [][2]int // between a line and the next: the first and last module, of a row and from 1, that must be dark for ink
}

// set takes half of gain off the left and upper sides of dark parts, and the
// rest, with the odd dot, off the right and lower ones.
func (g *grid) set(s *symbol.Symbol, gain int) {
	g.lines, g.needs = append(g.lines[:0], 0), g.needs[:0]
	first, last := gain/2, gain-gain/2
	for m := range s.Size {
		for _, part := range [...]struct {
			end     int // in the module
			needing [2]int
		}{
			{first, [2]int{m, m + 1}}, {s.Dots - last, [2]int{m + 1, m + 1}}, {s.Dots, [2]int{m + 1, m + 2}},
		} {
			if end := m*s.Dots + part.end; end > g.lines[len(g.lines)-1] {
				g.lines = append(g.lines, end)
				g.needs = append(g.needs, part.needing)
			}
		}
	}
}

// toDots is the printer dot nearest to a length in millimetres, counted from
// the edge of the page.
func toDots(mm float64, dpi int) int { return int(math.Round(mm * float64(dpi) / 25.4)) }
