package layout

import (
	"math"
	"testing"

	"pipstake/label"
)

// bounds is what a rule covers.
func bounds(r label.Rule) label.Rect {
	half := r.Width / 2
	return label.Rect{X: min(r.X1, r.X2), Y: min(r.Y1, r.Y2), W: math.Abs(r.X2 - r.X1), H: math.Abs(r.Y2 - r.Y1)}.
		Inset(-half, -half, -half, -half)
}

func cellsOf(numbers ...int) (places []Place) {
	for _, n := range numbers {
		places = append(places, Place{Page: 1, Cell: n})
	}
	return places
}

func allCells(s Stock) (places []Place) {
	for n := range s.PerSheet() {
		places = append(places, Place{Page: 1, Cell: n + 1})
	}
	return places
}

func TestMarksKeepOutOfTheSafeAreas(t *testing.T) {
	for _, s := range someStocks(t) {
		marks := s.cutMarks(allCells(s))
		if s.Kind != CutSheet {
			if len(marks) != 0 {
				t.Errorf("%s: %d cut marks on labels that are not cut", s.Name, len(marks))
			}
			continue
		}
		reach := label.Rect{W: s.Paper.W, H: s.Paper.H}.Inset(4.1, 4.1, 4.1, 4.1)
		for _, m := range marks {
			b := bounds(m)
			if !reach.Contains(b) {
				t.Errorf("%s: the mark %+v lies where nothing prints", s.Name, m)
			}
			if m.Width != 0.1 {
				t.Errorf("%s: a mark %v mm wide is no hairline", s.Name, m.Width)
			}
			for n := 1; n <= s.PerSheet(); n++ {
				if s.front(n).onPage(s.Room(600).Safe()).Overlaps(b) {
					t.Errorf("%s: the mark %+v lies on what cell %d may say", s.Name, m, n)
				}
			}
		}
	}
}

// Every cut along a pair can be found by two marks on its line at least 50 mm
// apart, or half the cut where that is shorter. The ends of the stakes that lie
// where no printer prints are the edge of the page.
func TestEveryCutHasTwoMarks(t *testing.T) {
	for _, s := range someStocks(t) {
		if s.Kind != CutSheet {
			continue
		}
		marks := s.cutMarks(allCells(s))
		for n := 1; n < s.PerSheet(); n += 2 {
			cuts := s.outline(n, n+1)
			inner := s.outline(n, n)[3]
			if s.Turned {
				inner = s.outline(n, n)[1]
			}
			for _, c := range append(cuts[:], inner) {
				upright := c.x1 == c.x2
				if upright && (c.x1 < 4.2 || c.x1 > s.Paper.W-4.2) || !upright && (c.y1 < 4.2 || c.y1 > s.Paper.H-4.2) {
					continue
				}
				low, high := math.Inf(1), math.Inf(-1)
				for _, m := range marks {
					if b := bounds(m); upright && m.X1 == c.x1 && m.X2 == c.x1 && b.Bottom() > c.y1-6 && b.Y < c.y2+6 {
						low, high = min(low, b.Y), max(high, b.Bottom())
					} else if !upright && m.Y1 == c.y1 && m.Y2 == c.y1 && b.Right() > c.x1-6 && b.X < c.x2+6 {
						low, high = min(low, b.X), max(high, b.Right())
					}
				}
				if apart := high - low; !(apart >= min(50, (c.x2-c.x1+c.y2-c.y1)/2)) {
					t.Errorf("%s, pair %d: the marks of cut %+v are %.1f mm apart", s.Name, n, c, apart)
				}
			}
		}
	}
}

// A sheet that is used in part stays white where it is not used.
func TestMarksAroundUsedCellsOnly(t *testing.T) {
	for _, name := range []string{"a4-cut-148x20", "letter-cut-148x20"} {
		s, err := FindStock(name)
		if err != nil {
			t.Fatal(err)
		}
		marks := s.cutMarks(cellsOf(1, 2, 5))
		if len(marks) == 0 {
			t.Errorf("%s: no marks", name)
		}
		for _, m := range marks {
			b := bounds(m)
			for n := 9; n <= s.PerSheet(); n++ {
				if s.Cell(n).Overlaps(b.Inset(0.05, 0.05, 0.05, 0.05)) {
					t.Errorf("%s: the mark %+v touches cell %d, which is not used", name, m, n)
				}
			}
		}
	}
}

// The marks within a pair are the shortest, so that nobody starts with them.
func TestMarksWithinAPairAreShorter(t *testing.T) {
	s, err := FindStock("a4-cut-148x20")
	if err != nil {
		t.Fatal(err)
	}
	length := func(m label.Rule) float64 { return math.Hypot(m.X2-m.X1, m.Y2-m.Y1) }
	seen := 0
	for _, m := range s.cutMarks(cellsOf(1, 2)) {
		between := m.X1 == m.X2 && math.Abs(m.X1-25) < 1e-9 // 5 mm and one stake of 20 mm
		if between {
			seen++
		}
		if between != (length(m) < 2) {
			t.Errorf("mark %+v is %.1f mm long", m, length(m))
		}
	}
	if seen != 2 {
		t.Errorf("%d marks within the pair, want 2", seen)
	}
}
