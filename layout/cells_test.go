package layout

import (
	"math"
	"testing"

	"pipstake/label"
)

// someStocks are the built-in stocks and others that FindStock makes.
func someStocks(t *testing.T) []Stock {
	t.Helper()
	stocks := Stocks()
	for _, name := range []string{"a4-cut-102x13", "a4-cut-127x16", "letter-cut-100x16", "roll-62x29", "roll-29x90"} {
		s, err := FindStock(name)
		if err != nil {
			t.Fatal(err)
		}
		stocks = append(stocks, s)
	}
	return stocks
}

func TestCellsLieOnThePageAndApart(t *testing.T) {
	for _, s := range someStocks(t) {
		page := label.Rect{X: -slack, Y: -slack, W: s.Paper.W + 2*slack, H: s.Paper.H + 2*slack}
		for n := 1; n <= s.PerSheet(); n++ {
			if c := s.Cell(n); !page.Contains(c) {
				t.Errorf("%s, cell %d: %+v is off the page", s.Name, n, c)
			}
			for m := 1; m < n; m++ {
				if s.Cell(m).Overlaps(s.Cell(n)) {
					t.Errorf("%s: cells %d and %d overlap", s.Name, m, n)
				}
			}
		}
	}
}

// The two of a pair share a long edge wholly.
func TestPairsLieSideBySide(t *testing.T) {
	for _, s := range someStocks(t) {
		if s.Kind != CutSheet {
			continue
		}
		if s.PerSheet()%2 != 0 {
			t.Errorf("%s: %d stakes are not pairs", s.Name, s.PerSheet())
		}
		for n := 1; n < s.PerSheet(); n += 2 {
			a, b := s.Cell(n), s.Cell(n+1)
			upright := a.H > a.W && math.Abs(a.Right()-b.X) < 1e-9 && a.Y == b.Y
			lying := a.W > a.H && math.Abs(a.Bottom()-b.Y) < 1e-9 && a.X == b.X
			if upright == lying {
				t.Errorf("%s: cells %d and %d do not share a long edge: %+v, %+v", s.Name, n, n+1, a, b)
			}
		}
	}
}

// The safe part of every cell keeps 1.5 mm from its cut and, on sheets, 4.2 mm
// from the edge of the page, and is the same in all cells.
func TestRoomKeepsInkWhereItPrints(t *testing.T) {
	for _, s := range someStocks(t) {
		room := s.Room(300)
		if room.DPI != 300 {
			t.Errorf("%s: %d dpi", s.Name, room.DPI)
		}
		prints := label.Rect{W: s.Paper.W, H: s.Paper.H}
		if s.Kind != Roll {
			prints = prints.Inset(4.2, 4.2, 4.2, 4.2)
		}
		touches := false
		for n := 1; n <= s.PerSheet(); n++ {
			cell := s.Cell(n)
			safe := s.front(n).onPage(room.Safe())
			if !prints.Contains(safe) {
				t.Errorf("%s, cell %d: ink may reach %+v", s.Name, n, safe)
			}
			if !cell.Inset(1.5, 1.5, 1.5, 1.5).Contains(safe) {
				t.Errorf("%s, cell %d: ink may come nearer than 1.5 mm to the cut", s.Name, n)
			}
			touches = touches || math.Abs(safe.X-4.2) < 1e-6 || math.Abs(safe.X-cell.X-1.5) < 1e-6
		}
		if !touches {
			t.Errorf("%s: the margin is wider than it need be: %+v", s.Name, room.Margin)
		}
	}
}

// On the sheet of 148×20 mm stakes the points lie 0.5 mm from the edges of the
// page, so 3.7 mm stay white there, and 1.5 mm at the upper ends, which meet in
// the middle; the long edges lie 5 mm from the sides. Worked by hand.
func TestRoomOfATurnedStake(t *testing.T) {
	s, err := FindStock("a4-cut-148x20")
	if err != nil {
		t.Fatal(err)
	}
	want := label.Room{W: 148, H: 20, Margin: label.Margin{Left: 1.5, Top: 1.5, Right: 3.7, Bottom: 1.5}, DPI: 600, Cut: true}
	got := s.Room(600)
	for _, v := range []*float64{&got.Margin.Left, &got.Margin.Right} {
		*v = math.Round(*v*1e6) / 1e6
	}
	if got != want {
		t.Errorf("got %+v, want %+v", got, want)
	}
	// What is read at the left lies at the foot of the page, what is read at
	// the top at its left.
	at := s.front(1).onPage(label.Rect{X: 10, Y: 3, W: 20, H: 5})
	if want := (label.Rect{X: 5 + 3, Y: 148.5 - 30, W: 5, H: 20}); !want.Contains(at) || !at.Contains(want) {
		t.Errorf("on the page at %+v, want %+v", at, want)
	}
	// In the lower half the upper end lies in the middle of the sheet too.
	at = s.front(11).onPage(label.Rect{X: 10, Y: 3, W: 20, H: 5})
	if want := (label.Rect{X: 25 - 3 - 5, Y: 148.5 + 10, W: 5, H: 20}); !want.Contains(at) || !at.Contains(want) {
		t.Errorf("in the lower half at %+v, want %+v", at, want)
	}
}

// Only one side of a sheet may be short, by the first labels or by the last, and a
// place may be kept clear at one side. Worked by hand, with 4.2 mm that stay white.
func TestRoomWidensOnlyTheSidesThatNeedIt(t *testing.T) {
	one := Stock{Name: "uneven", Kind: DieCut, Paper: A4, Columns: 1, Rows: 1, LabelW: 100, LabelH: 50, Left: 1, Top: 20, PitchX: 100, PitchY: 50}
	four := Stock{Name: "four", Kind: DieCut, Paper: A4, Columns: 2, Rows: 2, LabelW: 98, LabelH: 100, Left: 9, Top: 20, PitchX: 102, PitchY: 175}
	punched := one
	punched.Clear = label.Margin{Top: 6, Right: 1}
	for _, c := range []struct {
		s    Stock
		want label.Margin
	}{
		{one, label.Margin{Left: 3.2, Top: 1.5, Right: 1.5, Bottom: 1.5}},
		{four, label.Margin{Left: 1.5, Top: 1.5, Right: 4.2 - 1, Bottom: 4.2 - 2}},
		{punched, label.Margin{Left: 3.2, Top: 6, Right: 1.5, Bottom: 1.5}},
	} {
		if got := c.s.Room(600).Margin; got != c.want {
			t.Errorf("%s: got %+v, want %+v", c.s.Name, got, c.want)
		}
	}
}
