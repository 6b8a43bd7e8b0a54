package layout

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"pipstake/label"
)

// covered is the box of a text that is read across the page.
func covered(t label.Text) label.Rect {
	above, below := t.Face.Extent(t.String)
	return label.Rect{X: t.X, Y: t.Baseline - above*t.Size, W: t.Face.Width(t.String) * t.Size, H: (above + below) * t.Size}
}

// On small pages, of every size, all that is said stands on the page, nothing on
// anything else, and the rule to measure is the longest of whole tens of
// millimetres that leaves five at either side, up to 100 mm.
func TestSmallTestSheets(t *testing.T) {
	for w := 40.0; w < 160; w += 3.5 {
		for _, h := range []float64{40, 43, 47, 52, 60, 90, 148, 179.9} {
			s := Stock{Name: "s", Kind: DieCut, Paper: Paper{"p", w, h}, Columns: 1, Rows: 1, LabelW: w - 10, LabelH: h - 10, Left: 5, Top: 5, PitchX: w, PitchY: h}
			sheet := testSheet(t, s, Shift{})
			if !sheet.small() || sheet.HasSteps() || sheet.HasLadder() || sheet.Inset() != 3 {
				t.Fatalf("%v×%v mm is not small", w, h)
			}
			drawn := sheet.side()
			page := label.Rect{W: w, H: h}
			longest := 0.0
			for i, text := range drawn.texts {
				if !page.Inset(3, 3, 3, 3).Contains(covered(text)) {
					t.Errorf("%v×%v mm: %q stands at %+v", w, h, text.String, covered(text))
				}
				for _, other := range drawn.texts[:i] {
					if covered(text).Overlaps(covered(other)) {
						t.Errorf("%v×%v mm: %q stands on %q", w, h, text.String, other.String)
					}
				}
				for _, r := range drawn.rules {
					if r.X1 == r.X2 && r.Y2-r.Y1 > 20 || r.Width == hairline {
						continue // outlines, which are printed to be written over
					}
					if covered(text).Overlaps(bounds(r)) {
						t.Errorf("%v×%v mm: %q stands on the line %+v", w, h, text.String, r)
					}
				}
			}
			for _, r := range drawn.rules {
				if !page.Contains(bounds(r)) {
					t.Errorf("%v×%v mm: the line %+v runs off the page", w, h, r)
				}
				if r.Y1 == r.Y2 && r.Width == 0.2 {
					longest = max(longest, r.X2-r.X1)
				}
			}
			want := min(100, math.Floor((w-10)/10)*10)
			if math.Abs(longest-want) > 1e-9 || !strings.Contains(allTexts(drawn), fmt.Sprintf("%.0f mm", want)) {
				t.Errorf("%v×%v mm: the rule has %v mm, want %v: %s", w, h, longest, want, allTexts(drawn))
			}
			if w > 60 && h > 43 && !strings.Contains(allTexts(drawn), "dx = 3 − left edge to mark | dy = 3 − upper edge to mark") {
				t.Errorf("%v×%v mm: %s", w, h, allTexts(drawn))
			}
		}
	}
}

func allTexts(s side) string {
	var all []string
	for _, t := range s.texts {
		all = append(all, t.String)
	}
	return strings.Join(all, " | ")
}

// A page is small below 140 mm of width and 180 of height.
func TestLargeEnoughForSteps(t *testing.T) {
	for _, c := range []struct {
		w, h  float64
		inset float64
	}{{140, 180, 10}, {139.9, 180, 3}, {140, 179.9, 3}, {210, 297, 10}} {
		s := Stock{Name: "s", Kind: DieCut, Paper: Paper{"p", c.w, c.h}, Columns: 2, Rows: 2, LabelW: 50, LabelH: 50, Left: 10, Top: 10, PitchX: 55, PitchY: 55}
		sheet := testSheet(t, s, Shift{})
		if sheet.Inset() != c.inset || sheet.HasLadder() != (c.inset == 10) {
			t.Errorf("%v×%v mm: corner marks at %v mm, a ladder: %v", c.w, c.h, sheet.Inset(), sheet.HasLadder())
		}
		long := 0.0
		for _, r := range sheet.side().rules {
			if r.X1 == c.inset && r.Y1 == c.inset && r.Y2 == c.inset {
				long = r.X2 - r.X1
			}
		}
		if math.Abs(long-6) > 1e-9 {
			t.Errorf("%v×%v mm: a corner mark of %v mm", c.w, c.h, long)
		}
	}
	tiny := testSheet(t, Stock{Name: "s", Kind: Roll, Paper: Paper{"p", 20, 25}, Columns: 1, Rows: 1, LabelW: 20, LabelH: 25, PitchX: 20, PitchY: 25}, Shift{})
	var s side
	tiny.corners(&s)
	for _, r := range s.rules {
		if length := math.Abs(r.X2-r.X1) + math.Abs(r.Y2-r.Y1); math.Abs(length-4) > 1e-9 { // a fifth of the short side
			t.Errorf("a corner mark of %v mm on 20×25", length)
		}
	}
}

// The steps lie on the edge with the most white around it, which has its steps
// within what is printed; of equals on the first. Steps reach 8 mm to either side.
func TestEdgeToReadFrom(t *testing.T) {
	at := func(places ...float64) (all []edge) {
		for _, p := range places {
			all = append(all, edge{p, fmt.Sprint(p)})
		}
		return all
	}
	for _, c := range []struct {
		edges    []edge
		from, to float64
		want     string
	}{
		{at(10, 13, 17, 22), 2, 30, "22"},
		{at(10, 13, 17, 22), 2, 29.9, "17"},
		{at(22, 17, 13, 10)[:1], 2, 30, "22"},
		{at(10, 15, 20), 2, 28, "10"},
		{at(10, 15, 20), 2.1, 28, "15"},
		{at(10, 12, 40, 42), 2, 100, "10"}, // all have 2 mm at one side
		{at(10, 12.5, 40, 46), 2, 100, "40"},
		{at(10, 12.5, 40, 46), 2, 53.9, "40"},
		{at(10), 2.1, 100, ""},
		{at(10), 2, 17.9, ""},
		{nil, 0, 100, ""},
	} {
		got, ok := readable(c.edges, c.from, c.to)
		if got.name != c.want || ok != (c.want != "") {
			t.Errorf("%v from %v to %v: %q, %v, want %q", c.edges, c.from, c.to, got.name, ok, c.want)
		}
	}
	var names []string
	for _, e := range edges(10, 30, 30, 3, "left", "right", "column") {
		names = append(names, fmt.Sprintf("%v %s", e.at, e.name))
	}
	if got, want := strings.Join(names, "; "), "10 left edge of column 1; 40 between columns 1 and 2; 70 between columns 2 and 3; 100 right edge of column 3"; got != want {
		t.Errorf("edges of labels that touch: %s, want %s", got, want)
	}
	names = nil
	for _, e := range edges(10, 30, 32, 2, "upper", "lower", "row") {
		names = append(names, fmt.Sprintf("%v %s", e.at, e.name))
	}
	if got, want := strings.Join(names, "; "), "10 upper edge of row 1; 40 lower edge of row 1; 42 upper edge of row 2; 72 lower edge of row 2"; got != want {
		t.Errorf("edges of labels apart: %s, want %s", got, want)
	}
}

// The part of a line inside a box goes, and what only touches it stays.
func TestClippedLines(t *testing.T) {
	box := label.Rect{X: 10, Y: 20, W: 30, H: 40} // to 40 and 60
	for _, c := range []struct{ line, want string }{
		{"15,0 15,100", "15,0 15,20; 15,60 15,100"},
		{"15,30 15,100", "15,60 15,100"},
		{"15,0 15,50", "15,0 15,20"},
		{"15,30 15,50", ""},
		{"15,20 15,60", ""},
		{"10,0 10,100", "10,0 10,100"},
		{"40,0 40,100", "40,0 40,100"},
		{"15,0 15,20", "15,0 15,20"},
		{"15,60 15,100", "15,60 15,100"},
		{"15,0 15,10", "15,0 15,10"},
		{"15,70 15,80", "15,70 15,80"},
		{"0,30 5,30", "0,30 5,30"},
		{"50,30 60,30", "50,30 60,30"},
		{"0,30 100,30", "0,30 10,30; 40,30 100,30"},
		{"20,30 100,30", "40,30 100,30"},
		{"0,30 20,30", "0,30 10,30"},
		{"20,30 30,30", ""},
		{"0,20 100,20", "0,20 100,20"},
		{"0,60 100,60", "0,60 100,60"},
		{"0,30 10,30", "0,30 10,30"},
		{"40,30 100,30", "40,30 100,30"},
	} {
		var r label.Rule
		fmt.Sscanf(c.line, "%g,%g %g,%g", &r.X1, &r.Y1, &r.X2, &r.Y2)
		var parts []string
		for _, p := range clipOut(r, box) {
			parts = append(parts, fmt.Sprintf("%v,%v %v,%v", p.X1, p.Y1, p.X2, p.Y2))
		}
		if got := strings.Join(parts, "; "); got != c.want {
			t.Errorf("%s: left is %q, want %q", c.line, got, c.want)
		}
	}
}

// Lines of words are filled as far as they go, and a new paragraph begins on a
// line of its own.
func TestWrappedInstructions(t *testing.T) {
	const words = "Lay this page and a sheet of the labels edge on edge, and hold both against the light."
	for ems := 3.0; ems < 40; ems += 0.5 {
		lines := wrapped(words, ems)
		if got := strings.Join(lines, " "); got != words {
			t.Fatalf("%v ems: %q", ems, lines)
		}
		for i, line := range lines {
			if strings.Contains(line, " ") && label.Regular.Width(line) > ems {
				t.Errorf("%v ems: %q is too wide", ems, line)
			}
			if i > 0 {
				next, _, _ := strings.Cut(line, " ")
				if label.Regular.Width(lines[i-1]+" "+next) <= ems {
					t.Errorf("%v ems: %q had room for %q", ems, lines[i-1], next)
				}
			}
		}
	}
	if got := wrapped("one two", label.Regular.Width("one two")); len(got) != 1 {
		t.Errorf("a line that just fits is broken: %q", got)
	}
	if got := wrapped("one\ntwo", 100); len(got) != 2 {
		t.Errorf("two paragraphs: %q", got)
	}
}

// At the foot as much is said as goes there: title and page, the title, or the
// page; 4 mm stay free before the rule.
func TestFootSaysWhatGoesThere(t *testing.T) {
	s := find(t, "a4-3x7-63.5x38.1")
	seen := map[string]int{}
	for n := range 120 {
		title := strings.Repeat("n", n)
		texts, rules := s.foot(title, 2, 3)
		words := ""
		start := 0.0
		for _, r := range rules {
			if start == 0 || r.X1 < start {
				start = r.X1
			}
		}
		const left = 7.2 + 1.5 // of the labels, with what stays clear of their cut
		for _, text := range texts {
			if text.X < start {
				words = text.String
				if text.X != left {
					t.Errorf("%q begins at %v mm", words, text.X)
				}
			}
		}
		want := ""
		for _, w := range []string{title + ", page 2 of 3", title, "page 2 of 3"} {
			if w != "" && left+label.Regular.Width(w)*footSize <= start-4 {
				want = w
				break
			}
		}
		if words != want {
			t.Errorf("a title of %d letters: %q, want %q", n, words, want)
		}
		seen[strings.Trim(words, "n")]++
	}
	if len(seen) != 3 {
		t.Errorf("%v", seen)
	}
}

// A strip of 4 mm below the labels is enough for the foot, of a sheet to cut
// beyond the ends of its lines; less is not, and a roll has none.
func TestRoomForTheFoot(t *testing.T) {
	s := Stock{Name: "s", Kind: DieCut, Paper: Paper{"p", 200, 100}, Columns: 1, Rows: 2, LabelW: 180, LabelH: 40, Left: 10, PitchX: 180, PitchY: 40}
	for _, c := range []struct {
		top  float64
		kind StockKind
		want bool
	}{{11.5, DieCut, true}, {11.9, DieCut, false}, {5.5, CutSheet, true}, {5.9, CutSheet, false}, {0, Roll, false}} {
		s.Top, s.Kind = c.top, c.kind
		texts, _ := s.foot("T", 1, 1)
		if (len(texts) > 0) != c.want {
			t.Errorf("%v with labels from %v mm on: %+v", c.kind, c.top, texts)
		}
	}
}

// Words across a strip are centred in it, as large as they go, and no smaller
// than 4 pt; a number is centred in a small place.
func TestWordsInSmallPlaces(t *testing.T) {
	const words = "batch 7, 1/12"
	for _, box := range []label.Rect{{X: 3, Y: 4, W: 3, H: 60}, {X: 3, Y: 4, W: 30, H: 15}, {X: 1, Y: 2, W: 8, H: 8}} {
		text := across(box, words)
		long := label.Regular.Width(words) * text.Size
		if d := text.Baseline - long/2 - (box.Y + box.H/2); math.Abs(d) > 1e-9 {
			t.Errorf("%+v: along the strip %v mm off the middle", box, d)
		}
		if d := text.X - 0.36*text.Size - (box.X + box.W/2); math.Abs(d) > 1e-9 {
			t.Errorf("%+v: %v mm off the middle", box, d)
		}
		fills := math.Abs(long-box.H) < 1e-6 || math.Abs(0.95*text.Size-box.W) < 1e-6
		fits := long <= box.H+1e-6 && 0.95*text.Size <= box.W+1e-6
		if text.Size < leastNumber || text.Size > leastNumber && !(fills && fits) || text.Turn != label.Upward {
			t.Errorf("%+v: %v mm of letters, %v long", box, text.Size, long)
		}
	}
	for _, box := range []label.Rect{{X: 3, Y: 4, W: 3, H: 60}, {X: 3, Y: 4, W: 30, H: 2}} {
		text := within(box, "17")
		wide := label.Regular.Width("17") * text.Size
		if math.Abs(text.X+wide/2-box.X-box.W/2) > 1e-9 || math.Abs(text.Baseline-0.36*text.Size-box.Y-box.H/2) > 1e-9 {
			t.Errorf("%+v: %+v is not in the middle", box, text)
		}
		if !(math.Abs(wide-box.W) < 1e-9 && 0.75*text.Size <= box.H || math.Abs(0.75*text.Size-box.H) < 1e-9 && wide <= box.W) {
			t.Errorf("%+v: %+v does not fill it", box, text)
		}
	}
}

// A drawing may be off its cell by the rounding that is forgiven.
func TestDrawingsThatAreAlmostRight(t *testing.T) {
	s := find(t, "a4-3x8-70x37")
	for _, c := range []struct {
		w, h float64
		ok   bool
	}{{70.04, 37, true}, {69.96, 37, true}, {70, 37.04, true}, {70, 36.96, true}, {70.06, 37, false}, {69.94, 37, false}, {70, 37.06, false}, {70, 36.94, false}} {
		_, err := Job{Stock: s, Title: "T", Created: created, Places: []Place{{Page: 1, Cell: 24, Drawing: &label.Drawing{W: c.w, H: c.h}}}}.pages()
		if (err == nil) != c.ok {
			t.Errorf("%v×%v mm: %v", c.w, c.h, err)
		}
	}
}

// Where the foot of a sheet to cut has no room, the first stake bears batch and page
// at its point, and the one beside it how wide ten of them are, to be measured.
func TestSheetsWithoutAFootSayWhatTheyAre(t *testing.T) {
	s := find(t, "a4-cut-148x20")
	job := filled(t, s, 300, 2, 4)
	job.Title = "pipstake batch 7, 2027-01-14: stakes"
	pages, err := job.pages()
	if err != nil {
		t.Fatal(err)
	}
	for i, places := range pages {
		for n, p := range places {
			var more []string
			was := map[string]int{}
			for _, text := range p.Drawing.Texts {
				was[text.String]++
			}
			for _, text := range job.marked(p, places[0].Cell, i+1, len(pages)).Texts {
				if was[text.String]--; was[text.String] < 0 {
					more = append(more, text.String)
				}
			}
			want := []string{fmt.Sprint(p.Cell)}
			switch n {
			case 0:
				want = append(want, fmt.Sprintf("batch 7, %d/2", i+1))
			case 1:
				want = append(want, "10 = 200 mm")
			}
			if p.Drawing.Spare.W == 0 {
				want = want[1:]
			}
			if strings.Join(more, "; ") != strings.Join(want, "; ") {
				t.Errorf("page %d, cell %d: %q, want %q", i+1, p.Cell, more, want)
			}
		}
	}
}

// Words that a strip is too short for are left out from behind, so that none stand
// beyond it.
func TestWordsStayInTheStrip(t *testing.T) {
	s := find(t, "a4-cut-148x20")
	for _, c := range []struct {
		long  float64 // millimetres
		title string
		want  string
	}{
		{12, "pipstake batch 1000, 2027-01-14: stakes", "batch 1000, 12/34"},
		{9.2, "pipstake batch 1000, 2027-01-14: stakes", "batch 1000"},
		{9.2, "pipstake batch 7, 2027-01-14: stakes", "batch 7, 12/34"},
	} {
		d := &label.Drawing{W: 148, H: 20, Strip: label.Rect{X: 140, Y: 10 - c.long/2, W: 1.34, H: c.long}}
		job := Job{Stock: s, Title: c.title}
		texts := job.marked(Place{Page: 12, Cell: 1, Drawing: d}, 1, 12, 34).Texts
		if len(texts) != 1 || texts[0].String != c.want || label.Regular.Width(texts[0].String)*texts[0].Size > c.long {
			t.Errorf("%v mm, %s: %+v, want %q", c.long, c.title, texts, c.want)
		}
	}
}
