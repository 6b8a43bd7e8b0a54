package layout

import (
	"bytes"
	"errors"
	"image"
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"pipstake/label"
	"pipstake/layout/proof"
)

func testSheet(t *testing.T, s Stock, kept Shift) TestSheet {
	t.Helper()
	return TestSheet{Stock: s, Printer: "office", Kept: kept, Created: created, Adjust: "pipstake stock adjust " + s.Name + " --printer office"}
}

func openSheet(t *testing.T, sheet TestSheet) *proof.Document {
	t.Helper()
	var out bytes.Buffer
	if err := WriteTestSheet(&out, sheet); err != nil {
		t.Fatalf("%s: %v", sheet.Stock.Name, err)
	}
	return open(t, out.Bytes())
}

// A printer draws everything off. Where the real cut of the labels, which is
// where the stock's dimensions put it, runs through the steps, the number that
// stands beside the step moves the page back; whatever shift is kept already.
func TestStepsReadTheShiftToKeep(t *testing.T) {
	if testing.Short() {
		t.Skip("takes long")
	}
	const dpi = 508 // 20 pixels a millimetre
	for _, s := range Stocks() {
		for _, kept := range []Shift{{}, {0.8, -0.4}} {
			sheet := testSheet(t, s, kept)
			if !sheet.HasSteps() {
				if s.Kind == DieCut {
					t.Errorf("%s has no steps", s.Name)
				}
				continue
			}
			doc := openSheet(t, sheet)
			page, err := doc.Render(1, dpi)
			if err != nil {
				t.Fatal(err)
			}
			texts, err := doc.Texts(1)
			if err != nil {
				t.Fatal(err)
			}
			x, y, _ := sheet.steps()
			for _, off := range [][2]int{{1, -2}, {-1, 1}, {0, 0}} { // millimetres, rightward and downward
				printed := onPaper(page, off[0]*20, off[1]*20)
				for axis, want := range map[string]int{"dx": -off[0], "dy": -off[1]} {
					if got := readStep(printed, texts, axis, x.at, y.at, off); got != signed(float64(want)) {
						t.Errorf("%s, kept %v, drawn %v mm off: %s reads %q, want %q", s.Name, kept, off, axis, got, signed(float64(want)))
					}
				}
			}
		}
	}
}

// readStep finds the number nearest to the cut beside which ink lies along the
// cut.
func readStep(printed *image.Gray, texts []proof.Text, axis string, x, y float64, off [2]int) string {
	heading := slices.IndexFunc(texts, func(t proof.Text) bool { return strings.HasPrefix(strings.TrimSpace(t.String), axis) })
	if heading < 0 {
		return "no heading"
	}
	var best proof.Text
	nearest := math.Inf(1)
	for _, t := range texts {
		words := strings.TrimSpace(t.String)
		if _, err := strconv.ParseFloat(words, 64); err != nil {
			continue
		}
		// Where the number's step lies along the cut, once printed.
		cx, cy := t.Box.X+t.Box.W/2+float64(off[0]), t.Box.Y+t.Box.H/2+float64(off[1])
		ink := 0
		for d := -8; d <= 8; d++ { // 0.4 mm to both sides along the cut
			px, py := int(math.Round(x*20)), int(math.Round(cy*20))+d
			if axis == "dy" {
				px, py = int(math.Round(cx*20))+d, int(math.Round(y*20))
			}
			for side := -2; side <= 1; side++ {
				at := image.Point{X: px + side, Y: py}
				if axis == "dy" {
					at = image.Point{X: px, Y: py + side}
				}
				if printed.GrayAt(at.X, at.Y).Y < 100 {
					ink++
				}
			}
		}
		away := math.Abs(cx - x)
		if axis == "dy" {
			away = math.Abs(cy - y)
		}
		// A step of whole millimetres is 0.3 mm wide and covers all four pixels;
		// an outline, 0.1 mm wide, does not.
		if ink >= 4*17-8 && away < nearest {
			best, nearest = t, away
		}
	}
	return strings.TrimSpace(best.String)
}

// Both rules are 100 mm long between the middles of their end ticks, and the
// corner marks lie 10 mm from the edges, whatever shift is kept.
func TestWhatIsMeasuredOnATestSheet(t *testing.T) {
	if testing.Short() {
		t.Skip("takes long")
	}
	const dpi = 1200
	mm := func(pixels int) float64 { return float64(pixels) * 25.4 / dpi }
	for _, name := range []string{"a4-3x8-70x37", "letter-cut-148x20"} {
		s := find(t, name)
		sheet := testSheet(t, s, Shift{1.5, -2})
		img, err := openSheet(t, sheet).Render(1, dpi)
		if err != nil {
			t.Fatal(err)
		}
		panel := sheet.panel()
		level := proof.Ink(img, proof.Region(label.Rect{X: panel.X + 14.9, Y: panel.Bottom() - 8.1, W: 130, H: 0.2}, dpi))
		if got := mm(level.Dx()); math.Abs(got-100.2) > 0.05 { // and half a tick at both ends
			t.Errorf("%s: the level rule is %.3f mm long", name, got)
		}
		upright := proof.Ink(img, proof.Region(label.Rect{X: panel.X + 14.9, Y: panel.Y, W: 0.2, H: panel.H}, dpi))
		if got := mm(upright.Dy()); math.Abs(got-102.1) > 0.05 { // and half a tick above, a whole one below
			t.Errorf("%s: the upright rule is %.3f mm long", name, got)
		}
		corner := proof.Ink(img, proof.Region(label.Rect{X: 9.5, Y: 9.5, W: 7, H: 7}, dpi))
		if x, y := mm(corner.Min.X), mm(corner.Min.Y); math.Abs(x-9.85) > 0.05 || math.Abs(y-9.85) > 0.05 { // marks are 0.3 mm wide
			t.Errorf("%s: the corner mark is at %.3f, %.3f mm", name, x, y)
		}
	}
}

// Only the outlines move by the shift that is kept.
func TestOutlinesMoveByTheShift(t *testing.T) {
	const dpi = 508
	s := find(t, "letter-2x5-101.6x50.8")
	sheet := testSheet(t, s, Shift{1.5, -1})
	img, err := openSheet(t, sheet).Render(1, dpi)
	if err != nil {
		t.Fatal(err)
	}
	cell := s.Cell(4) // beside nothing else
	for _, x := range []float64{cell.X + 1.5, cell.Right() + 1.5} {
		ink := proof.Ink(img, proof.Region(label.Rect{X: x - 0.5, Y: cell.Y + 10, W: 1, H: 5}, dpi))
		if got := float64(ink.Min.X+ink.Max.X) / 2 / 20; math.Abs(got-x) > 0.1 {
			t.Errorf("an edge at %.2f mm, want %.2f", got, x)
		}
	}
	cell = s.Cell(10)
	ink := proof.Ink(img, proof.Region(label.Rect{X: cell.X + 40, Y: cell.Bottom() - 1.5, W: 5, H: 1}, dpi))
	if got := float64(ink.Min.Y+ink.Max.Y) / 2 / 20; math.Abs(got-(cell.Bottom()-1)) > 0.1 {
		t.Errorf("the lower edge at %.2f mm, want %.2f", got, cell.Bottom()-1)
	}
}

// All words stand on what prints, none upon another, and tell what to do.
func TestWordsOfATestSheet(t *testing.T) {
	own := dieCut(Paper{"105x148", 105, 148}, 2, 4, 45, 30, 5, 10, 50, 32)
	single := dieCut(A4, 1, 1, 200, 287, 5, 5, 200, 287)
	for _, s := range append(someStocks(t), own, single) {
		for _, kept := range []Shift{{}, {0.8, -0.4}, {-10, 10}} {
			sheet := testSheet(t, s, kept)
			texts, err := openSheet(t, sheet).Texts(1)
			if err != nil {
				t.Fatal(err)
			}
			reach := label.Rect{W: s.Paper.W, H: s.Paper.H}
			if s.Kind != Roll {
				reach = reach.Inset(unprintable, unprintable, unprintable, unprintable)
			}
			all := ""
			for i, text := range texts {
				all += strings.TrimSpace(text.String) + " "
				if !reach.Contains(text.Box) {
					t.Errorf("%s, kept %v: %q stands at %+v", s.Name, kept, text.String, text.Box)
				}
				for _, other := range texts[:i] {
					if text.Box.Inset(0.2, 0.2, 0.2, 0.2).Overlaps(other.Box.Inset(0.2, 0.2, 0.2, 0.2)) {
						t.Errorf("%s, kept %v: %q stands on %q", s.Name, kept, text.String, other.String)
					}
				}
			}
			for _, want := range []string{s.Name, "100 mm", "\"fit to page\"", "No shift mends that", "pipstake stock adjust " + s.Name + " --printer office --dx N --dy N"} {
				if !sheet.small() && !strings.Contains(all, want) {
					t.Errorf("%s: no %q in %q", s.Name, want, all)
				}
			}
		}
	}
}

// Each rung of a ladder lies where its number says, from its edge of the paper.
func TestLadders(t *testing.T) {
	const dpi = 508 // 20 pixels a millimetre
	for _, name := range []string{"a4-3x8-70x37", "letter-cut-139x20"} {
		s := find(t, name)
		sheet := testSheet(t, s, Shift{1.5, -1})
		img, err := openSheet(t, sheet).Render(1, dpi)
		if err != nil {
			t.Fatal(err)
		}
		top, foot, sides := sheet.ladderStarts()
		for i := range 13 {
			in, along := 2+float64(i)*0.5, float64(i)*4+2
			w, h := s.Paper.W, s.Paper.H
			for edge, box := range map[string]label.Rect{
				"upper": {X: top + along, Y: in - 0.2, W: 0.5, H: 0.4}, "lower": {X: foot + along, Y: h - in - 0.2, W: 0.5, H: 0.4},
				"left": {X: in - 0.2, Y: sides + along, W: 0.4, H: 0.5}, "right": {X: w - in - 0.2, Y: sides + along, W: 0.4, H: 0.5},
			} {
				ink := proof.Ink(img, proof.Region(box, dpi))
				x, y := float64(ink.Min.X+ink.Max.X)/40, float64(ink.Min.Y+ink.Max.Y)/40
				got := map[string]float64{"upper": y, "lower": h - y, "left": x, "right": w - x}[edge]
				if ink.Empty() || math.Abs(got-in) > 0.06 {
					t.Errorf("%s, %s edge: the rung of %.1f mm is at %.3f", name, edge, in, got)
				}
			}
		}
	}
}

// The page for backs has the cells where they come to lie on the other side.
func TestTestPageForBacks(t *testing.T) {
	const dpi = 508
	s := Stock{Name: "uneven", Kind: DieCut, Paper: A4, Columns: 1, Rows: 1, LabelW: 100, LabelH: 200, Left: 30, Top: 20, PitchX: 100, PitchY: 200}
	for flip, want := range map[Flip]label.Rect{LongEdge: {X: 80, Y: 20, W: 100, H: 200}, ShortEdge: {X: 30, Y: 77, W: 100, H: 200}} {
		sheet := testSheet(t, s, Shift{})
		sheet.Flip, sheet.KeptBack = flip, Shift{X: -2}
		doc := openSheet(t, sheet)
		if n := len(doc.Pages()); n != 2 {
			t.Fatalf("%d pages", n)
		}
		img, err := doc.Render(2, dpi)
		if err != nil {
			t.Fatal(err)
		}
		for _, x := range []float64{want.X - 2, want.Right() - 2} {
			ink := proof.Ink(img, proof.Region(label.Rect{X: x - 0.5, Y: want.Y + 60, W: 1, H: 3}, dpi))
			if got := float64(ink.Min.X+ink.Max.X) / 40; math.Abs(got-x) > 0.1 {
				t.Errorf("%v: an edge at %.2f mm, want %.2f", flip, got, x)
			}
		}
	}
}

func TestTestSheetRefuses(t *testing.T) {
	sheet := testSheet(t, find(t, "a4-3x8-70x37"), Shift{})
	sheet.Printer = "🖨"
	var out bytes.Buffer
	var glyph *label.GlyphError
	if err := WriteTestSheet(&out, sheet); !errors.As(err, &glyph) || out.Len() > 0 {
		t.Errorf("%v, %d bytes", err, out.Len())
	}
	sheet = testSheet(t, Stock{Name: "none"}, Shift{})
	if err := WriteTestSheet(&out, sheet); err == nil || out.Len() > 0 {
		t.Errorf("%v, %d bytes", err, out.Len())
	}
	if err := WriteTestSheet(failing{}, testSheet(t, find(t, "a4-3x8-70x37"), Shift{})); err == nil {
		t.Error("the writer's error is lost")
	}
}

// Behind a sheet whose margins differ its labels stand as far from the other edge: on
// A4 upright, turned over its short edge, the first row as far from the head as the
// last was from the foot. Worked by hand.
func TestBehindUnevenSheets(t *testing.T) {
	uneven := Stock{Name: "uneven", Kind: DieCut, Paper: A4, Columns: 2, Rows: 3, LabelW: 80, LabelH: 50, Left: 5, Top: 6, PitchX: 90, PitchY: 61}
	for flip, want := range map[Flip][2]float64{LongEdge: {210 - 5 - 90 - 80, 6}, ShortEdge: {5, 297 - 6 - 2*61 - 50}} {
		got := TestSheet{Stock: uneven, Flip: flip}.behind().Stock
		if math.Abs(got.Left-want[0]) > 1e-9 || math.Abs(got.Top-want[1]) > 1e-9 {
			t.Errorf("flip %v: %v mm from the left and %v from the head, want %v", flip, got.Left, got.Top, want)
		}
	}
}

// The steps on a level edge stand at the right of those on an upright one where they
// have just the room before the corner mark, else at their left.
func TestStepsStandBesideOneAnother(t *testing.T) {
	sheet := TestSheet{Stock: Stock{Paper: A4}}
	last := 210 - cornerInset - stepsLength - 24.0
	for x, want := range map[float64]float64{50: 74, last: last + 24, last + 0.01: last + 0.01 - 10 - stepsLength} {
		if got := sheet.stepsLeft(edge{at: x}); math.Abs(got-want) > 1e-9 {
			t.Errorf("beside steps at %.2f mm: %.2f mm, want %.2f", x, got, want)
		}
	}
}
