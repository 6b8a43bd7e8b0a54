package layout

import (
	"math"
	"strings"
	"testing"
)

func TestFindPaper(t *testing.T) {
	for name, want := range map[string]Paper{"A4": A4, " letter ": Letter, "120x200": {"120x200", 120, 200}, "105×148.5": {"105x148.5", 105, 148.5}} {
		if got, err := FindPaper(name); err != nil || got != want {
			t.Errorf("%q: %v, %v", name, got, err)
		}
	}
	for name, want := range map[string]string{"a3": `"a3" is no paper`, "": "is no paper", "2000x200": "no page of 2000×200 mm", "120x": "is no paper", "1x1": "give sides from 40"} {
		if _, err := FindPaper(name); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: %v, want %q", name, err, want)
		}
	}
}

// Every built-in sheet comes out of its measures with its name.
func TestOwnStockIsNamedAsTheBuiltInOnes(t *testing.T) {
	for _, want := range Stocks() {
		if want.Kind != DieCut {
			continue
		}
		s := want
		s.Name, s.Kind = "", 0
		if got, err := OwnStock(s); err != nil || got != want {
			t.Errorf("%+v, %v; want %+v", got, err, want)
		}
	}
	if got, err := OwnStock(Stock{Kind: Roll, LabelW: 62, LabelH: 29}); err != nil || got.Name != "roll-62x29" || got.PerSheet() != 1 {
		t.Errorf("%+v, %v", got, err)
	}
	if got, err := OwnStock(Stock{Kind: Roll, Columns: 2, LabelW: 30, LabelH: 20, PitchX: 32}); err != nil || got.Name != "roll-2x1-30x20" || got.PerSheet() != 2 {
		t.Errorf("%+v, %v", got, err)
	}
}

func TestOwnStockRefuses(t *testing.T) {
	good := find(t, "a4-3x7-63.5x38.1")
	good.Name = ""
	for want, spoil := range map[string]func(*Stock){
		"3 columns do not close on the page: 7.2 + 2 × 72 + 63.5 = 214.7 mm, and the paper is 210 mm wide":   func(s *Stock) { s.PitchX = 72 },
		"8 rows do not close on the page: 15.15 + 7 × 38.1 + 38.1 = 319.95 mm, and the paper is 297 mm high": func(s *Stock) { s.Rows = 8 },
		"overlap at a pitch of 60×38.1 mm":   func(s *Stock) { s.PitchX = 60 },
		"0 columns and 7 rows hold no label": func(s *Stock) { s.Columns = 0 },
		"1000 columns and 7 rows are more":   func(s *Stock) { s.Columns = 1000 },
		"a label of 0×38.1 mm cannot be":     func(s *Stock) { s.LabelW = 0 },
		"a label of NaN×38.1 mm cannot be":   func(s *Stock) { s.LabelW = math.NaN() },
		`"My Labels" cannot be the name`:     func(s *Stock) { s.Name = "My Labels" },
		"labels reach from -2×15.15":         func(s *Stock) { s.Left = -2 },
	} {
		s := good
		spoil(&s)
		if _, err := OwnStock(s); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%v; want %q", err, want)
		}
	}
}

// Worked by hand: 70×37 labels fill the width of A4 and leave 0.5 mm above and
// below; the sheet of 38.1×21.2 ends 4.75 mm from the sides.
func TestNotices(t *testing.T) {
	uneven := find(t, "a4-3x7-63.5x38.1")
	uneven.Left = 5
	for _, c := range []struct {
		stock Stock
		want  string
	}{
		{find(t, "a4-3x8-70x37"), "labels run into the 4.2 mm at the left, top, right and bottom of the sheet"},
		{find(t, "a4-5x13-38.1x21.2"), ""},
		{find(t, "a4-cut-148x20"), "at the top and bottom of the sheet"},
		{find(t, "roll-62x29"), ""},
		{uneven, "the margin is 5 mm at the left and 9.5 mm at the right"},
	} {
		if got := strings.Join(c.stock.Notices(), "; "); !strings.Contains(got, c.want) || c.want == "" && got != "" {
			t.Errorf("%s: %q, want %q", c.stock.Name, got, c.want)
		}
	}
}

func TestStrays(t *testing.T) {
	for _, c := range []struct {
		name  string
		shift Shift
		want  string
	}{
		{"a4-3x8-70x37", Shift{}, ""},
		{"a4-3x8-70x37", Shift{-0.5, 0}, "the shift moves ink into the 4.2 mm at the left of the sheet that printers leave white"},
		{"a4-3x8-70x37", Shift{-5, 0.3}, "the shift moves ink off the sheet at the left"},
		{"a4-5x13-38.1x21.2", Shift{2, -3}, ""}, // 4.75 + 1.5 mm to the sides, 10.7 + 1.5 above
		{"a4-5x13-38.1x21.2", Shift{2.2, -9}, "the shift moves ink into the 4.2 mm at the top and right of the sheet that printers leave white"},
		{"roll-62x29", Shift{1, 1}, ""},
		{"roll-62x29", Shift{1, 2}, "the shift moves ink off the sheet at the bottom"},
	} {
		if got := find(t, c.name).Strays(c.shift); got != c.want {
			t.Errorf("%s, %v: %q, want %q", c.name, c.shift, got, c.want)
		}
	}
}

// Where there is one column the last label is what strays at the foot first.
func TestTheLastLabelStrays(t *testing.T) {
	s := Stock{Name: "s", Kind: DieCut, Paper: A4, Columns: 1, Rows: 2, LabelW: 190, LabelH: 100, Left: 10, Top: 40, PitchX: 190, PitchY: 150}
	// The second ends at 290 mm, its ink at 288.5: 8.5 from the foot, 4.3 from what prints.
	for shift, want := range map[Shift]string{
		{0, 4.2}: "", {0, 4.5}: "the shift moves ink into the 4.2 mm at the bottom of the sheet that printers leave white",
		{0, 8.6}: "the shift moves ink off the sheet at the bottom", {-7.2, 0}: "", {-7.4, 0}: "the shift moves ink into the 4.2 mm at the left of the sheet that printers leave white",
		{0, -37.2}: "", {0, -37.4}: "the shift moves ink into the 4.2 mm at the top of the sheet that printers leave white",
		{7.2, 0}: "", {7.4, 0}: "the shift moves ink into the 4.2 mm at the right of the sheet that printers leave white",
		{0.1, 0}: "", {0, 0.1}: "",
	} {
		if got := s.Strays(shift); got != want {
			t.Errorf("%v: %q, want %q", shift, got, want)
		}
	}
}
