package layout

import (
	"fmt"
	"math"
	"slices"
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

func TestCutsKeepOutOfTheSafeAreas(t *testing.T) {
	for _, s := range someStocks(t) {
		marks := s.cutLines(allCells(s))
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

// Every cut around every label is a line from its one end to the other, as far as
// printers print.
func TestEveryCutIsALine(t *testing.T) {
	for _, s := range someStocks(t) {
		if s.Kind != CutSheet {
			continue
		}
		lines := s.cutLines(allCells(s))
		prints := label.Rect{W: s.Paper.W, H: s.Paper.H}.Inset(4.2, 4.2, 4.2, 4.2)
		for n := 1; n <= s.PerSheet(); n++ {
			c := s.Cell(n)
			for _, want := range []cut{{c.X, c.Y, c.X, c.Bottom()}, {c.Right(), c.Y, c.Right(), c.Bottom()}, {c.X, c.Y, c.Right(), c.Y}, {c.X, c.Bottom(), c.Right(), c.Bottom()}} {
				x1, y1 := max(want.x1, prints.X), max(want.y1, prints.Y)
				x2, y2 := min(want.x2, prints.Right()), min(want.y2, prints.Bottom())
				if x2 < x1 || y2 < y1 {
					continue // nothing prints there
				}
				found := false
				for _, l := range lines {
					found = found || l.X1 <= x1+0.001 && l.Y1 <= y1+0.001 && l.X2 >= x2-0.001 && l.Y2 >= y2-0.001 && (l.X1 == l.X2) == (want.x1 == want.x2)
				}
				if !found {
					t.Errorf("%s, cell %d: no line along %+v", s.Name, n, want)
				}
			}
		}
		if most := s.Columns + s.Rows + 2; len(lines) > most {
			t.Errorf("%s: %d lines where %d would do", s.Name, len(lines), most)
		}
	}
}

// A sheet that is used in part stays white where it is not used.
func TestCutsAroundUsedCellsOnly(t *testing.T) {
	for _, name := range []string{"a4-cut-148x20", "letter-cut-148x20"} {
		s, err := FindStock(name)
		if err != nil {
			t.Fatal(err)
		}
		marks := s.cutLines(cellsOf(1, 2, 5))
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

// Lines that touch, give or take the rounding that is forgiven, are one; those
// apart stay so, and one within another adds nothing.
func TestLinesThatTouchAreOne(t *testing.T) {
	for _, c := range []struct{ parts, want []span }{
		{[]span{{10, 20}, {0, 10}}, []span{{0, 20}}},
		{[]span{{0, 10}, {10 + slack, 20}}, []span{{0, 20}}},
		{[]span{{0, 10}, {10 + 1.1*slack, 20}}, []span{{0, 10}, {10 + 1.1*slack, 20}}},
		{[]span{{0, 30}, {5, 10}, {29, 31}}, []span{{0, 31}}},
		{[]span{{7, 9}}, []span{{7, 9}}},
		{nil, nil},
	} {
		if got := joined(slices.Clone(c.parts)); !slices.Equal(got, c.want) {
			t.Errorf("%v: %v, want %v", c.parts, got, c.want)
		}
	}
}

// A line is drawn as far as the printer prints, and not at all where it would be
// a point, or beyond.
func TestLinesEndAtTheWhiteEdge(t *testing.T) {
	s := Stock{Paper: A4, White: 5} // prints from 5 to 205 and 292 mm
	for _, c := range []struct {
		cut  cut
		want string
	}{
		{cut{50, 0, 50, 297}, "50,5 50,292"}, {cut{0, 60, 210, 60}, "5,60 205,60"}, {cut{50, 20, 50, 30}, "50,20 50,30"},
		{cut{5, 0, 5, 297}, "5,5 5,292"}, {cut{205, 0, 205, 297}, "205,5 205,292"}, {cut{0, 5, 210, 5}, "5,5 205,5"}, {cut{0, 292, 210, 292}, "5,292 205,292"},
		{cut{4.9, 0, 4.9, 297}, ""}, {cut{205.1, 0, 205.1, 297}, ""}, {cut{0, 4.9, 210, 4.9}, ""}, {cut{0, 292.1, 210, 292.1}, ""},
		{cut{50, 0, 50, 5}, ""}, {cut{50, 292, 50, 297}, ""}, {cut{0, 60, 5, 60}, ""}, {cut{205, 60, 210, 60}, ""},
	} {
		got := ""
		for _, r := range s.printed(c.cut) {
			got += fmt.Sprintf("%v,%v %v,%v", r.X1, r.Y1, r.X2, r.Y2)
		}
		if got != c.want {
			t.Errorf("%v: %q, want %q", c.cut, got, c.want)
		}
	}
}
