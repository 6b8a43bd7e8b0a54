package layout

import (
	"math"
	"strings"
	"testing"

	"pipstake/label"
)

// Dimensions may be off by the rounding that is forgiven, and by no more.
func TestStocksAtTheBounds(t *testing.T) {
	const beyond = slack + 0.01
	sheet := Stock{Name: "s", Kind: DieCut, Paper: Paper{"100x100", 100, 100}, Columns: 2, Rows: 2, LabelW: 50, LabelH: 50, PitchX: 50, PitchY: 50}
	for _, c := range []struct {
		what  string
		spoil func(*Stock)
		want  string // "" for fine
	}{
		{"as it is", func(*Stock) {}, ""},
		{"pitch", func(s *Stock) { s.PitchX, s.PitchY = s.LabelW-slack, s.LabelH-slack }, ""},
		{"pitch across", func(s *Stock) { s.PitchX = s.LabelW - beyond }, "overlap"},
		{"pitch down", func(s *Stock) { s.PitchY = s.LabelH - beyond }, "overlap"},
		{"one column", func(s *Stock) { s.Columns, s.PitchX = 1, 0 }, ""},
		{"one row", func(s *Stock) { s.Rows, s.PitchY = 1, 0 }, ""},
		{"left", func(s *Stock) { s.Left = -slack }, ""},
		{"further left", func(s *Stock) { s.Left = -beyond }, "labels reach from"},
		{"top", func(s *Stock) { s.Top = -slack }, ""},
		{"further up", func(s *Stock) { s.Top = -beyond }, "labels reach from"},
		{"right", func(s *Stock) { s.Left = slack * 0.99 }, ""},
		{"further right", func(s *Stock) { s.Left = beyond }, "labels reach from"},
		{"foot", func(s *Stock) { s.Top = slack * 0.99 }, ""},
		{"further down", func(s *Stock) { s.Top = beyond }, "labels reach from"},
		{"no columns", func(s *Stock) { s.Columns = 0 }, "hold no label"},
		{"no rows", func(s *Stock) { s.Rows = 0 }, "hold no label"},
		{"no width", func(s *Stock) { s.LabelW = 0 }, "cannot be"},
		{"no height", func(s *Stock) { s.LabelH = 0 }, "cannot be"},
		{"no paper", func(s *Stock) { s.Paper.W = 0 }, "cannot be"},
		{"paper without height", func(s *Stock) { s.Paper.H = 0 }, "cannot be"},
		{"less than none", func(s *Stock) { s.LabelH = -0.5 }, "cannot be"},
		{"small", func(s *Stock) { s.LabelW, s.LabelH = 0.5, 0.5 }, ""},
		{"small paper", func(s *Stock) {
			s.LabelW, s.LabelH, s.PitchX, s.PitchY, s.Paper = 0.2, 0.2, 0.2, 0.2, Paper{"p", 0.5, 0.5}
		}, ""},
	} {
		s := sheet
		c.spoil(&s)
		if err := s.Check(); (err == nil) != (c.want == "") || err != nil && !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v, want %q", c.what, err, c.want)
		}
	}
}

// The largest and the smallest that is taken, and what is just beyond.
func TestSizesAtTheBounds(t *testing.T) {
	for name, ok := range map[string]bool{
		"roll-5x5": true, "roll-4.999x5": false, "roll-5x4.999": false, "roll-1000x1000": true, "roll-1000.1x1000": false, "roll-1000x1000.1": false,
		"a4-cut-148x5": true, "a4-cut-148x4.9": false, "a4-cut-20x20": true, "a4-cut-297x10": true, "a4-cut-297.1x10": false,
		"a4-cut-148x100.8":  true,  // two side by side within 210 − 8.4 mm
		"a4-cut-148x100.9":  true,  // and two lying, within 297 − 8.4 mm
		"a4-cut-148x144.3":  true,  // these just so
		"a4-cut-148x144.4":  false, // these not
		"roll-62.00000x29":  true,  // eight characters
		"roll-62.000000x29": false,
	} {
		s, err := FindStock(name)
		if (err == nil) != ok {
			t.Errorf("%s: %v", name, err)
		}
		if err == nil && s.Check() != nil {
			t.Errorf("%s: %v", name, s.Check())
		}
	}
	for name, ok := range map[string]bool{"40x40": true, "39.9x40": false, "40x39.9": false, "1000x1000": true, "1000.1x40": false, "40x1000.1": false} {
		if _, err := FindPaper(name); (err == nil) != ok {
			t.Errorf("paper %s: %v", name, err)
		}
	}
	for _, c := range []struct {
		w, h float64
		ok   bool
	}{{5, 5, true}, {4.9, 5, false}, {5, 4.9, false}, {1000, 5, true}, {5, 1000, true}, {1000.1, 5, false}, {5, 1000.1, false}} {
		if _, err := OwnStock(Stock{Kind: Roll, LabelW: c.w, LabelH: c.h}); (err == nil) != c.ok {
			t.Errorf("own roll of %v×%v: %v", c.w, c.h, err)
		}
	}
}

// A sheet has up to a hundred columns or rows, a roll as many side by side.
func TestOwnStockOfManyLabels(t *testing.T) {
	wide := Stock{Paper: Paper{"1000x1000", 1000, 1000}, Columns: 100, Rows: 100, LabelW: 9, LabelH: 8, PitchX: 10, PitchY: 10}
	if got, err := OwnStock(wide); err != nil || got.PerSheet() != 10_000 || got.Kind != DieCut || got.Name != "1000x1000-100x100-9x8" {
		t.Errorf("%+v, %v", got, err)
	}
	for _, spoil := range []func(*Stock){func(s *Stock) { s.Columns = 101 }, func(s *Stock) { s.Rows = 101 }} {
		s := wide
		spoil(&s)
		if _, err := OwnStock(s); err == nil || !strings.Contains(err.Error(), "more than a sheet has: give 100 of either at the most") {
			t.Error(err)
		}
	}
	for columns, ok := range map[int]bool{1: true, 2: true, 100: true, 101: false} {
		got, err := OwnStock(Stock{Kind: Roll, LabelW: 5, LabelH: 29, Columns: columns})
		if (err == nil) != ok {
			t.Errorf("a roll with %d side by side: %v", columns, err)
		}
		if ok && (got.PerSheet() != columns || got.Paper.W != float64(5*columns)) {
			t.Errorf("a roll with %d side by side: %+v", columns, got)
		}
	}
}

// Rolls with several labels side by side, worked by hand: 2 mm beside three of
// 30 mm with gaps of 3 make a strip of 100 mm. A pitch that is left out, or less
// than the label, is the label's width.
func TestOwnRolls(t *testing.T) {
	got, err := OwnStock(Stock{Kind: Roll, LabelW: 30, LabelH: 20, Columns: 3, Left: 2, PitchX: 33, Turned: true, Clear: label.Margin{Left: 4}})
	want := Stock{Name: "roll-3x1-30x20", Kind: Roll, Paper: Paper{"roll-3x1-30x20", 100, 20}, Columns: 3, Rows: 1, LabelW: 30, LabelH: 20, Left: 2,
		PitchX: 33, PitchY: 20, Turned: true, Clear: label.Margin{Left: 4}}
	if err != nil || got != want {
		t.Errorf("%+v, %v, want\n%+v", got, err, want)
	}
	got, err = OwnStock(Stock{Kind: Roll, LabelW: 30, LabelH: 20, Left: 1.5})
	if err != nil || got.Paper.W != 33 || got.Columns != 1 || got.Left != 1.5 || got.PitchX != 30 || got.Name != "roll-30x20" {
		t.Errorf("%+v, %v", got, err)
	}
	got, err = OwnStock(Stock{Kind: Roll, LabelW: 30, LabelH: 20, Columns: 2, PitchX: 10, Name: "mine"})
	if err != nil || got.Paper.W != 60 || got.PitchX != 30 || got.Name != "mine" || got.Paper.Name != "mine" {
		t.Errorf("%+v, %v", got, err)
	}
	if _, err := OwnStock(Stock{Kind: Roll, LabelW: 30, LabelH: 20, Left: -0.5}); err == nil || !strings.Contains(err.Error(), "0 labels side by side with -0.5 mm beside them cannot be") {
		t.Error(err)
	}
}

// Names of a grower's own stocks have up to 40 letters.
func TestOwnStockNames(t *testing.T) {
	for name, ok := range map[string]bool{strings.Repeat("a", 40): true, strings.Repeat("a", 41): false, "a": true, "-a": false, "9.b-c": true} {
		if _, err := OwnStock(Stock{Kind: Roll, LabelW: 62, LabelH: 29, Name: name}); (err == nil) != ok {
			t.Errorf("%q: %v", name, err)
		}
	}
}

// What is kept clear leaves something between the safe edges of 1.5 mm.
func TestClearLeavesALabel(t *testing.T) {
	roll := Stock{Kind: Roll, LabelW: 40, LabelH: 20}
	for _, c := range []struct {
		clear label.Margin
		want  string
	}{
		{label.Margin{}, ""},
		{label.Margin{Left: 20, Right: 16.9}, ""},
		{label.Margin{Left: 20, Right: 17}, "nothing is left of a label of 40×20 mm with 37 and 0 mm kept clear"},
		{label.Margin{Top: 10, Bottom: 6.9}, ""},
		{label.Margin{Top: 10, Bottom: 7}, "nothing is left of a label of 40×20 mm with 0 and 17 mm kept clear"},
		{label.Margin{Left: -0.5}, "-0.5 mm to keep clear cannot be"},
		{label.Margin{Top: -0.5}, "-0.5 mm to keep clear cannot be"},
		{label.Margin{Right: -0.5}, "-0.5 mm to keep clear cannot be"},
		{label.Margin{Bottom: -0.5}, "-0.5 mm to keep clear cannot be"},
	} {
		s := roll
		s.Clear = c.clear
		if _, err := OwnStock(s); (err == nil) != (c.want == "") || err != nil && !strings.Contains(err.Error(), c.want) {
			t.Errorf("%+v: %v, want %q", c.clear, err, c.want)
		}
	}
}

// A roll of 108 mm goes into a desktop printer; opposite margins may differ by a
// millimetre, and labels may lie at the white edge.
func TestNoticesAtTheBounds(t *testing.T) {
	for name, want := range map[string]int{"roll-108x50": 0, "roll-108.1x50": 1} {
		if got := find(t, name).Notices(); len(got) != want {
			t.Errorf("%s: %q", name, got)
		}
	}
	sheet := Stock{Name: "s", Kind: DieCut, Paper: A4, Columns: 2, Rows: 2, LabelW: 90, LabelH: 130, Left: 10, Top: 10, PitchX: 99, PitchY: 146}
	// right: 210 − 10 − 99 − 90 = 11; foot: 297 − 10 − 146 − 130 = 11
	for _, c := range []struct {
		what  string
		spoil func(*Stock)
		want  []string
	}{
		{"a millimetre", func(*Stock) {}, nil},
		{"more across", func(s *Stock) { s.Left -= 0.1 }, []string{"the margin is 9.9 mm at the left and 11.1 mm at the right"}},
		{"more down", func(s *Stock) { s.Top -= 0.1 }, []string{"the margin is 9.9 mm at the top and 11.1 mm at the bottom"}},
		{"the other way", func(s *Stock) { s.Left, s.Top = 12, 12 }, []string{"12 mm at the left and 9 mm at the right", "12 mm at the top and 9 mm at the bottom"}},
		{"a wide white edge", func(s *Stock) { s.White = 10.5 }, []string{"labels run into the 10.5 mm at the left and top of the sheet"}},
		{"one that just does", func(s *Stock) { s.White = 10 }, nil},
	} {
		s := sheet
		c.spoil(&s)
		got := s.Notices()
		if len(got) != len(c.want) {
			t.Errorf("%s: %q, want %q", c.what, got, c.want)
			continue
		}
		for i := range got {
			if !strings.Contains(got[i], c.want[i]) {
				t.Errorf("%s: %q, want %q", c.what, got, c.want)
			}
		}
	}
}

// A margin that is short of the white edge by the rounding that is forgiven is none
// to be told of, and one that is shorter is.
func TestMarginsByRounding(t *testing.T) {
	s := Stock{Name: "s", Kind: DieCut, Paper: A4, Columns: 1, Rows: 1, LabelW: 200, LabelH: 280, Top: 8.5, PitchX: 200, PitchY: 280}
	for off, told := range map[float64]bool{slack: false, 2 * slack: true} {
		s.Left = s.Edge() - off
		if got := strings.Join(s.Notices(), "; "); strings.Contains(got, "labels run into") != told {
			t.Errorf("%v mm short: %q", off, got)
		}
	}
}

// Labels of a roll that are higher than wide may be read along the roll, and are
// so by choice where they are half as high again.
func TestWaysOfRolls(t *testing.T) {
	for name, want := range map[string]string{
		"roll-62x29": "across", "roll-40x40": "across", "roll-40x59": "across, along", "roll-40x60": "along, across", "roll-40x90": "along, across", "a4-3x8-70x37": "across",
	} {
		var ways []string
		for _, s := range find(t, name).Ways() {
			ways = append(ways, map[bool]string{false: "across", true: "along"}[s.Turned])
		}
		if got := strings.Join(ways, ", "); got != want {
			t.Errorf("%s: %s, want %s", name, got, want)
		}
	}
	turned := find(t, "roll-40x90")
	turned.Turned = true
	if ways := turned.Ways(); len(ways) != 1 || !ways[0].Turned {
		t.Errorf("turned by choice: %+v", ways)
	}
}

// The white edge that a printer was measured to leave stands for the usual one.
func TestEdgeAsMeasured(t *testing.T) {
	s := find(t, "a4-3x8-70x37")
	for white, want := range map[float64]float64{0: 4.2, 0.5: 0.5, 6: 6} {
		if s.White = white; s.Edge() != want {
			t.Errorf("%v mm measured: %v, want %v", white, s.Edge(), want)
		}
	}
}

// What a stock is, in words; a number that is no kind does not pass for one.
func TestKindsInWords(t *testing.T) {
	for kind, want := range map[StockKind]string{DieCut: "die-cut sheet", CutSheet: "sheet to cut", Roll: "roll", 0: "stock of no known kind", Roll + 1: "stock of no known kind"} {
		if kind.String() != want {
			t.Errorf("%d: %s, want %s", int(kind), kind, want)
		}
	}
}

// Lengths are written to a micrometre, those in names to a tenth, halves upward.
func TestLengthsInWords(t *testing.T) {
	for v, want := range map[float64][2]string{
		66.675: {"66.675", "66.7"}, 44.45: {"44.45", "44.5"}, 70: {"70", "70"}, 0.0004: {"0", "0"}, 0.0006: {"0.001", "0"}, 12.34: {"12.34", "12.3"}, 1.25: {"1.25", "1.3"},
	} {
		if got := [2]string{millimetres(v), tenths(v)}; got != want {
			t.Errorf("%v: %q, want %q", v, got, want)
		}
	}
	if got := toDots(25.4, 300); got != 300 || toDots(0.0423, 600) != 1 || toDots(0.0211, 600) != 0 || math.Abs(points(25.4)-72) > 1e-9 {
		t.Errorf("an inch is %d dots at 300 dpi and %v points", got, points(25.4))
	}
}

// Names of stocks that are near one another; three at most are told, the nearest
// first, and none that has little in common.
func TestNamesThatWereMeant(t *testing.T) {
	for name, want := range map[string]string{
		"a4":                       "a4-3x7-63.5x38.1 or a4-3x8-63.5x33.9 or a4-3x8-70x37",
		"a4-3x8-70x38":             "a4-3x8-70x37",
		"a4-3x8-70x3":              "a4-3x8-70x37",
		"letter-cut-139x2":         "letter-cut-139x20",
		"letter-2x5-101x50":        "letter-2x5-101.6x50.8",
		"b4-3x9-71x47":             "a4-3x8-70x37", // four of twelve letters differ
		"b4-3x9-71x48":             "",             // five
		strings.Repeat("a", 41):    "",
		"x":                        "",
		"a4-5x13-38.1x21.2-at-all": "",
	} {
		if got := strings.Join(near(name), " or "); got != want && !(want != "" && strings.HasPrefix(got, want)) {
			t.Errorf("%q: %s, want %s", name, got, want)
		}
	}
	for name, want := range map[string]string{"parchment": `there is no stock "parchment"`, "a4-3x8-70x38": `there is no stock "a4-3x8-70x38"; did you mean a4-3x8-70x37`} {
		if _, err := FindStock(name); err == nil || !strings.HasPrefix(err.Error(), want) {
			t.Errorf("%v, want %s", err, want)
		}
	}
}
