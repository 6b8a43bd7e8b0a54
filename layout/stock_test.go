package layout

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"
)

// Sheets by their dimensions, in millimetres, as sold. V: seen in a published
// table; M: from memory. All are recomputed below: columns, rows and margins
// must close on the page.
var published = []struct {
	paper                           Paper
	columns, rows                   int
	w, h, left, top, pitchX, pitchY float64
	name                            string
	mark                            byte
}{
	{A4, 3, 7, 63.5, 38.1, 7.2, 15.15, 66.0, 38.1, "a4-3x7-63.5x38.1", 'V'},
	{A4, 3, 8, 63.5, 33.9, 7.2, 12.9, 66.0, 33.9, "a4-3x8-63.5x33.9", 'M'},
	{A4, 3, 8, 70, 37, 0, 0.5, 70, 37, "a4-3x8-70x37", 'M'},
	{A4, 2, 7, 99.1, 38.1, 4.65, 15.15, 101.6, 38.1, "a4-2x7-99.1x38.1", 'M'},
	{A4, 5, 13, 38.1, 21.2, 4.75, 10.7, 40.6, 21.2, "a4-5x13-38.1x21.2", 'M'},
	{Letter, 3, 10, 66.675, 25.4, 4.7625, 12.7, 69.85, 25.4, "letter-3x10-66.7x25.4", 'M'},
	{Letter, 4, 20, 44.45, 12.7, 7.62, 12.7, 52.07, 12.7, "letter-4x20-44.5x12.7", 'M'},
	{Letter, 2, 5, 101.6, 50.8, 3.969, 12.7, 106.3625, 50.8, "letter-2x5-101.6x50.8", 'M'},
}

func TestStocksAreThePublishedOnes(t *testing.T) {
	for _, p := range published {
		s, err := FindStock(p.name)
		if err != nil {
			t.Errorf("%s: %v", p.name, err)
			continue
		}
		want := Stock{Name: p.name, Kind: DieCut, Paper: p.paper, Columns: p.columns, Rows: p.rows, LabelW: p.w, LabelH: p.h,
			Left: p.left, Top: p.top, PitchX: p.pitchX, PitchY: p.pitchY}
		if s != want {
			t.Errorf("%s: got %+v, want %+v", p.name, s, want)
		}
	}
	if got, want := len(Stocks()), len(published)+2; got != want {
		t.Errorf("%d built-in stocks, want the %d published and two to cut", got, want-2)
	}
}

// The page of codes to scan lies in the middle of A4: 10.5 + 3 × 63 + 10.5 mm are
// its width, and 11 + 8 × 34 mm leave 14 for the line at the foot.
func TestCardStock(t *testing.T) {
	s := CardStock()
	last := s.Cell(24)
	if err := s.Check(); err != nil || s.Name != "card" || s.PerSheet() != 24 || s.Paper != A4 || s.Cell(1).X != 10.5 || s.Cell(1).Y != 11 ||
		last.Right() != 199.5 || last.Bottom() != 283 || s.Cell(2).X != s.Cell(1).Right() || s.Cell(4).Y != s.Cell(1).Bottom() {
		t.Errorf("%+v, %v", s, err)
	}
	if texts, _ := s.foot("T", 1, 1); len(texts) == 0 {
		t.Error("there is nothing at the foot")
	}
}

// Sheets of labels are cut in the middle of the page: both margins are equal.
func TestStocksCloseOnThePage(t *testing.T) {
	for _, s := range Stocks() {
		if err := s.Check(); err != nil {
			t.Error(err)
		}
		right := s.Paper.W - (s.Left + float64(s.Columns-1)*s.PitchX + s.LabelW)
		foot := s.Paper.H - (s.Top + float64(s.Rows-1)*s.PitchY + s.LabelH)
		if math.Abs(right-s.Left) > 0.101 || math.Abs(foot-s.Top) > 0.101 { // 63.5 mm sheets: 7.2 and 7.3
			t.Errorf("%s: margins left %.3f, right %.3f, top %.3f, foot %.3f mm", s.Name, s.Left, right, s.Top, foot)
		}
	}
}

func TestPaperSizes(t *testing.T) {
	if A4.W != 210 || A4.H != 297 { // ISO 216
		t.Errorf("A4 is %v×%v mm", A4.W, A4.H)
	}
	if Letter.W != 8.5*25.4 || math.Abs(Letter.H-11*25.4) > 1e-9 { // 8½ by 11 inches
		t.Errorf("Letter is %v×%v mm", Letter.W, Letter.H)
	}
}

func TestFindStock(t *testing.T) {
	for name, want := range map[string]string{
		" A4-3x8-70X37 ":      "a4-3x8-70x37",
		"a4-3×8-70×37":        "a4-3x8-70x37",
		"a4-cut-148x20":       "a4-cut-148x20",
		"a4-cut-127.0x16":     "a4-cut-127x16",
		"letter-cut-150.5x20": "letter-cut-150.5x20",
		"roll-62x29":          "roll-62x29",
	} {
		s, err := FindStock(name)
		if err != nil || s.Name != want {
			t.Errorf("FindStock(%q) = %q, %v; want %q", name, s.Name, err, want)
		}
		if err := s.Check(); err != nil {
			t.Errorf("FindStock(%q): %v", name, err)
		}
	}
}

func TestFindStockRefuses(t *testing.T) {
	for name, want := range map[string]string{
		"a4-3x8-70x36":       `there is no stock "a4-3x8-70x36"; did you mean a4-3x8-70x37?`,
		"a4-cut":             "did you mean a4-cut-148x20",
		"letter":             "did you mean letter-3x10-66.7x25.4",
		"parchment":          `there is no stock "parchment"`,
		"":                   `there is no stock ""`,
		"a4-cut-148":         "there is no stock",
		"a4-cut-1e3x20":      "there is no stock",
		"a4-cut-NaNxInf":     "there is no stock",
		"a4-cut-20x148":      "a stake of 20×148 mm is wider than long: give the length first",
		"a4-cut-148x0":       "give sides from 5 to 1000 mm",
		"a4-cut-2000x20":     "give sides from 5 to 1000 mm",
		"a4-cut-400x20":      "not one pair of stakes of 400×20 mm goes on A4, 210×297 mm",
		"a4-cut-148.....x20": "there is no stock",
		"roll-62x2":          "a label of 62×2 mm cannot be printed",
	} {
		_, err := FindStock(name)
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("FindStock(%q): %v; want %q", name, err, want)
		}
		var unknown *UnknownStockError
		if strings.Contains(want, "no stock") && !errors.As(err, &unknown) {
			t.Errorf("FindStock(%q): %T, want *UnknownStockError", name, err)
		}
	}
}

// No more than three names are offered.
func TestThreeStocksAreOffered(t *testing.T) {
	if got := near("a4-"); len(got) != 3 {
		t.Errorf("%d offered: %q", len(got), got)
	}
}

// Sizes of stakes as sold (common practice). The counts are worked by hand:
// side by side within 210−8.4 and 297−8.4 mm, end to end on the whole page.
func TestCutStock(t *testing.T) {
	for _, c := range []struct {
		paper         Paper
		length, width float64
		columns, rows int
		turned        bool
		left, top     float64
	}{
		{A4, 148, 20, 10, 2, true, 5, 0.5},           // lying: 1×14
		{Letter, 148, 20, 1, 12, false, 33.95, 19.7}, // upright: 10×1
		{Letter, 139, 20, 10, 2, true, 7.95, 0.7},    // lying: 1×12
		{A4, 150, 20, 1, 14, false, 30, 8.5},         // upright: 10×1
		{A4, 102, 13, 2, 22, false, 3, 5.5},          // upright: 14×2
		{A4, 100, 16, 2, 18, false, 5, 4.5},          // upright: 12×2
		{A4, 127, 16, 12, 2, true, 9, 21.5},          // lying: 1×18
		{A4, 178, 16, 1, 18, false, 16, 4.5},         // upright: 12×1
		{A4, 148, 10.2, 18, 2, true, 13.2, 0.5},      // 201.6/10.2 = 19.8 side by side; lying: 1×28
		{A4, 150, 10.4, 1, 26, false, 30, 13.3},      // 288.6/10.4 = 27.8; upright: 18×1
		{A4, 216, 16, 12, 1, true, 9, 40.5},          // longer than the page is wide
	} {
		s, err := CutStock(c.paper, c.length, c.width)
		if err != nil {
			t.Errorf("%v×%v: %v", c.length, c.width, err)
			continue
		}
		if s.Columns != c.columns || s.Rows != c.rows || s.Turned != c.turned ||
			math.Abs(s.Left-c.left) > 1e-9 || math.Abs(s.Top-c.top) > 1e-9 {
			t.Errorf("%s: %d×%d, turned %v, from %.2f, %.2f mm; want %d×%d, %v, %.2f, %.2f",
				s.Name, s.Columns, s.Rows, s.Turned, s.Left, s.Top, c.columns, c.rows, c.turned, c.left, c.top)
		}
		if err := s.Check(); err != nil {
			t.Error(err)
		}
	}
}

func TestCheckRefuses(t *testing.T) {
	good, err := FindStock("a4-3x7-63.5x38.1")
	if err != nil {
		t.Fatal(err)
	}
	for want, spoil := range map[string]func(*Stock){
		"overlap at a pitch":    func(s *Stock) { s.PitchX = 60 },
		"the page is 210×297":   func(s *Stock) { s.Left = 15 },
		"from -1×15.15":         func(s *Stock) { s.Left = -1 },
		"reach from 7.2×15.15":  func(s *Stock) { s.PitchY = 42 },
		"0 columns":             func(s *Stock) { s.Columns = 0 },
		"cannot be":             func(s *Stock) { s.LabelW = math.NaN() },
		"the page is 215.9×279": func(s *Stock) { s.Paper = Letter },
	} {
		s := good
		spoil(&s)
		if err := s.Check(); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%v; want %q", err, want)
		}
	}
	// Where there is one column or one row, its pitch says nothing.
	single := good
	single.Columns, single.Rows, single.PitchX, single.PitchY = 1, 1, 0, 0
	if err := single.Check(); err != nil {
		t.Error(err)
	}
}

func TestNearNamesAreFewAndSorted(t *testing.T) {
	if got := near("a4-3x7-63.5x38"); len(got) > 3 || !slices.Contains(got, "a4-3x7-63.5x38.1") || got[0] != "a4-3x7-63.5x38.1" {
		t.Errorf("near: %q", got)
	}
}

func Example_stockNames() {
	for _, s := range Stocks() {
		fmt.Println(s.Name, s.PerSheet(), s.Kind)
	}
	// Output:
	// a4-3x7-63.5x38.1 21 die-cut sheet
	// a4-3x8-63.5x33.9 24 die-cut sheet
	// a4-3x8-70x37 24 die-cut sheet
	// a4-2x7-99.1x38.1 14 die-cut sheet
	// a4-5x13-38.1x21.2 65 die-cut sheet
	// letter-3x10-66.7x25.4 30 die-cut sheet
	// letter-4x20-44.5x12.7 80 die-cut sheet
	// letter-2x5-101.6x50.8 10 die-cut sheet
	// a4-cut-148x20 20 sheet to cut
	// letter-cut-139x20 20 sheet to cut
}
