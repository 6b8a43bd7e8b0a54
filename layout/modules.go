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

// blocks covers the ink of a symbol with rectangles that do not overlap: the
// runs down each column, those of neighbouring columns joined where they start
// and end alike. The order is the one that packs smallest: the finder patterns,
// which are alike in all symbols of a size, then the rest, each column by column.
//
// Dark parts are narrower and lower by gain dots than their modules: the ink
// that a printer lets run makes up for it. Where dark modules touch no gap
// opens between them, and the distances of the modules stay as they are.
func blocks(s *symbol.Symbol, gain int) []block {
	g := newGrid(s, gain)
	n := len(g.lines) - 1
	out := make([]block, 0, n*n/6)
	var before, now []int // the blocks in out that end with a column, downward
	for x := range n {
		now = now[:0]
		next := 0 // in before
		for y := 0; y < n; y++ {
			start := y
			for y < n && g.dark(x, y) {
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
	sorted := make([]block, 0, len(out))
	for _, finders := range []bool{true, false} {
		for _, b := range out {
			if inFinder(s, b) == finders {
				sorted = append(sorted, b)
			}
		}
	}
	return sorted
}

// inFinder reports whether a block is part of a finder pattern, which no block
// is in part: the light separators around them see to that (ISO/IEC 18004, 6.3.4).
func inFinder(s *symbol.Symbol, b block) bool {
	const across = 7 // modules
	near, far := across*s.Dots, (s.Size-across)*s.Dots
	return s.Kind == symbol.QR && (b.x < near && b.y < near || b.x >= far && b.y < near || b.x < near && b.y >= far)
}

// grid parts a symbol where ink may begin and end: between its modules and,
// where dark parts are narrowed, also at that distance inside each module.
type grid struct {
	symbol *symbol.Symbol
	lines  []int    // in dots; alike across and down
	needs  [][2]int // the first and last module, of a row, that must be dark for ink between two lines
}

// newGrid takes half of gain off the left and upper sides of dark parts, and
// the rest, with the odd dot, off the right and lower ones.
func newGrid(s *symbol.Symbol, gain int) grid {
	g := grid{symbol: s, lines: []int{0}}
	first, last := gain/2, gain-gain/2
	for m := range s.Size {
		for _, part := range []struct {
			end     int // in the module
			needing [2]int
		}{
			{first, [2]int{m - 1, m}}, {s.Dots - last, [2]int{m, m}}, {s.Dots, [2]int{m, m + 1}},
		} {
			if end := m*s.Dots + part.end; end > g.lines[len(g.lines)-1] {
				g.lines = append(g.lines, end)
				g.needs = append(g.needs, part.needing)
			}
		}
	}
	return g
}

// dark reports whether ink goes between two lines across and two lines down.
func (g grid) dark(x, y int) bool {
	across, down := g.needs[x], g.needs[y]
	if across[0] == across[1] && down[0] == down[1] { // inside a module
		return g.symbol.Dark(across[0], down[0])
	}
	if across[0] < 0 || down[0] < 0 || across[1] >= g.symbol.Size || down[1] >= g.symbol.Size {
		return false
	}
	for my := down[0]; my <= down[1]; my++ {
		for mx := across[0]; mx <= across[1]; mx++ {
			if !g.symbol.Dark(mx, my) {
				return false
			}
		}
	}
	return true
}

// toDots is the printer dot nearest to a length in millimetres, counted from
// the edge of the page.
func toDots(mm float64, dpi int) int { return int(math.Round(mm * float64(dpi) / 25.4)) }
