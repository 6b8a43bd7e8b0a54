package layout

import (
	"math"
	"testing"

	"pipstake/label"
)

// A sheet without margins says what it is on its first label: along its foot, or
// along its head where the foot lies in the edge that printers leave white; 1.5 mm
// from the cut, apart from what the label says itself.
func TestSheetsWithoutMarginsSayWhatTheyAre(t *testing.T) {
	s := find(t, "a4-3x8-70x37")
	for _, c := range []struct {
		cell int
		foot bool
	}{{1, true}, {2, true}, {21, true}, {22, false}, {24, false}} {
		job := filled(t, s, 300, 2, 3)
		job.Title = "pipstake batch 7, 2027-01-14: stakes"
		p := job.Places[0]
		p.Cell = c.cell
		was := p.Drawing
		got := job.marked(p, c.cell, 2, 3)
		texts, rules := got.Texts[len(was.Texts):], got.Rules[len(was.Rules):]
		if len(texts) != 2 || texts[0].String != "batch 7, 2/3" || texts[1].String != "40 mm when printed at 100 %" || len(rules) != 4 {
			t.Fatalf("cell %d: %+v %+v", c.cell, texts, rules)
		}
		at := s.front(c.cell)
		for _, x := range texts {
			above, below := x.Face.Extent(x.String)
			ink := label.Rect{X: x.X, Y: x.Baseline - above*x.Size, W: x.Face.Width(x.String) * x.Size, H: (above + below) * x.Size}
			if ink.Y < 1.499 || ink.Bottom() > 37-1.499 || (ink.Y > 37/2) != c.foot {
				t.Errorf("cell %d: %q at %+v", c.cell, x.String, ink)
			}
			if page := at.onPage(ink); page.X < 4.2 || page.Y < 4.2 || page.Right() > 210-4.2 || page.Bottom() > 297-4.2 {
				t.Errorf("cell %d: %q lies in the white edge: %+v", c.cell, x.String, page)
			}
			if ink.Overlaps(was.Safe) {
				t.Errorf("cell %d: %q lies where the label has its text", c.cell, x.String)
			}
		}
		var long float64
		for _, r := range rules {
			for _, other := range rules {
				long = max(long, math.Abs(r.X2-other.X1))
			}
		}
		if math.Abs(long-40) > 1e-6 {
			t.Errorf("cell %d: the rule is %v mm long", c.cell, long)
		}
		if other := job.marked(p, c.cell-1, 2, 3); len(other.Texts) != len(was.Texts) {
			t.Errorf("cell %d says it too when it is not the first: %+v", c.cell, other.Texts)
		}
	}
}

// No label bears it where the page has a foot, where a place is kept clear, or where
// the label has no wider margin than it needs.
func TestNoBand(t *testing.T) {
	s := find(t, "a4-3x8-70x37")
	clear := s
	clear.Clear.Left = 3
	tight := s
	tight.White = 1.5
	row := s
	row.Rows, row.Paper.H = 1, 38
	for name, s := range map[string]Stock{"foot": find(t, "a4-3x7-63.5x38.1"), "clear": clear, "narrow edge": tight, "one row": row, "roll": find(t, "roll-62x40"), "cut": find(t, "a4-cut-148x20")} {
		for n := range s.PerSheet() {
			if b := s.band(n + 1); b.W > 0 {
				t.Errorf("%s, cell %d: %+v", name, n+1, b)
			}
			said := map[string]bool{"foot": true, "roll": true}[name]
			if got := s.SaysBatch(&label.Drawing{}, n+1); got != said {
				t.Errorf("%s, cell %d: says its batch: %v", name, n+1, got)
			}
		}
	}
}

// The rule stands on a label where it has just the room, and not where it lacks a
// hundredth of a millimetre; the words do where they are just as wide as the label.
func TestBandsOfJustTheWidth(t *testing.T) {
	const words = "batch 7, 2/3"
	wide := label.Regular.Width(words) * bandSize
	for w, want := range map[float64][2]int{
		wide: {1, 0}, wide - 0.01: {0, 0}, wide + footGap + bandRule: {2, 4}, wide + footGap + bandRule - 0.01: {1, 0},
	} {
		if texts, rules := inBand(label.Rect{W: w, H: 5}, words); len(texts) != want[0] || len(rules) != want[1] {
			t.Errorf("%.2f mm: %d texts and %d lines, want %v", w, len(texts), len(rules), want)
		}
	}
}
