package layout

import (
	"math"
	"strings"
	"testing"

	"pipstake/label"
)

// A text is cut only where it would run over, and no shorter than it must be.
func TestBenchCutsAsLittleAsItMust(t *testing.T) {
	p := &benchPage{paper: A4}
	for _, text := range []string{"Extraction 2026-11-14", "8", "♀ Larkfield Tessel × ♂ Tarn Amber"} {
		whole := p.width(label.Regular, 4, text)
		if got := p.cut(label.Regular, 4, whole, text); got != text {
			t.Errorf("%q just fits and becomes %q", text, got)
		}
		for wide := 0.5; wide < whole; wide += 0.3 {
			got := p.cut(label.Regular, 4, wide, text)
			begin, cut := strings.CutSuffix(got, "…")
			rest, ok := strings.CutPrefix(text, begin)
			if !ok || !cut || begin != "" && p.width(label.Regular, 4, got) > wide {
				t.Fatalf("%q in %.1f mm: %q", text, wide, got)
			}
			if longer := begin + string([]rune(rest)[0]) + "…"; p.width(label.Regular, 4, longer) <= wide {
				t.Errorf("%q in %.1f mm: %q, where %q goes", text, wide, got, longer)
			}
		}
	}
}

// Lines are as full as they go.
func TestBenchLinesAreFull(t *testing.T) {
	p := &benchPage{paper: A4}
	const text = "Open the fruit of one lot at a time, and count what is in it."
	for wide := 15.0; wide < 120; wide += 0.7 {
		lines := p.wrap(label.Regular, benchText, wide, text)
		if strings.Join(lines, " ") != text {
			t.Fatalf("%.1f mm: %q", wide, lines)
		}
		for i, line := range lines {
			if p.width(label.Regular, benchText, line) > wide {
				t.Errorf("%.1f mm: %q is too wide", wide, line)
			}
			if next, _, _ := strings.Cut(line, " "); i > 0 && p.width(label.Regular, benchText, lines[i-1]+" "+next) <= wide {
				t.Errorf("%.1f mm: %q had room for %q", wide, lines[i-1], next)
			}
		}
	}
	if got := p.wrap(label.Regular, benchText, p.width(label.Regular, benchText, text), text); len(got) != 1 {
		t.Errorf("a line that just fits is broken: %q", got)
	}
}

// What stands in a place of its own uses all of it and ends before its edge:
// figures and what they are of a millimetre before the next one, numbers of seed
// lots a millimetre before the parents, parents two before the boxes and on two
// lines at the most, the title at the margin.
func TestBenchTextsUseTheirPlaces(t *testing.T) {
	for n := 0; n < 75; n += 2 {
		s := benchOf(A4, 1)
		s.Title, s.Under = strings.Repeat("T", n), strings.Repeat("U", 2*n)
		s.Mixes[0].Figures[1] = BenchFigure{strings.Repeat("8", n), strings.Repeat("w", n)}
		s.Lots[0] = BenchLot{strings.Repeat("7", n), strings.Repeat("v", n) + " " + strings.Repeat("y", n)}
		pages, err := s.pages()
		if err != nil {
			t.Fatal(err)
		}
		p := pages[0]
		third := p.wide() / 3
		for letter, place := range map[string][2]float64{
			"T": {p.left(), p.right()}, "U": {p.left(), p.right()},
			"8": {p.left() + third + 3, p.left() + 2*third - 1}, "w": {p.left() + third + 3, p.left() + 2*third - 1},
			"7": {p.left(), p.left() + 35}, "v": {p.left() + 36, p.right() - 90 - 2}, "y": {p.left() + 36, p.right() - 90 - 2},
		} {
			lines := 0
			for _, text := range p.texts {
				begin, cut := strings.CutSuffix(text.String, "…")
				if begin == "" || strings.Trim(begin, letter) != "" {
					continue
				}
				lines++
				end := text.X + text.Face.Width(text.String)*text.Size
				if text.X != place[0] || end > place[1]+1e-9 {
					t.Errorf("%d letters: %q stands from %.2f to %.2f mm, its place is %v", n, text.String, text.X, end, place)
				}
				if more := text.X + text.Face.Width(begin+letter+"…")*text.Size; cut && more <= place[1] {
					t.Errorf("%d letters: %q ends at %.2f mm, one more would end at %.2f, its place at %.2f", n, text.String, end, more, place[1])
				}
			}
			if lines > 1 {
				t.Errorf("%d letters %s on %d lines", n, letter, lines)
			}
		}
	}
}

// Parents that take more than two lines are cut at the end of the second.
func TestBenchParentsOnTwoLines(t *testing.T) {
	s := benchOf(A4, 1)
	s.Lots[0].Parents = "one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen sixteen seventeen"
	pages, err := s.pages()
	if err != nil {
		t.Fatal(err)
	}
	p, said := pages[0], ""
	var rows []float64 // lines across, the last of which is below the row
	for _, r := range p.rules {
		if r.Y1 == r.Y2 && r.X1 == p.left() && r.X2 == p.right() {
			rows = append(rows, r.Y1)
		}
	}
	low := rows[len(rows)-1]
	middle, lines := low-benchRow/2, 0.0
	for _, text := range p.texts {
		if text.X == p.left()+36 && text.String != "parents" {
			said += " " + text.String
			above, below := text.Face.Extent("hg")
			if text.Baseline-above*text.Size < low-benchRow || text.Baseline+below*text.Size > low {
				t.Errorf("%q stands at %.1f mm, its row from %.1f to %.1f", text.String, text.Baseline, low-benchRow, low)
			}
			lines += text.Baseline - 0.36*text.Size - middle // the middle of its letters
		}
	}
	if math.Abs(lines/2) > 0.5 {
		t.Errorf("the two lines stand %.1f mm off the middle of their row", lines/2)
	}
	begin, cut := strings.CutSuffix(said[1:], "…")
	if !cut || !strings.HasPrefix(s.Lots[0].Parents, begin) || len(begin) < 30 {
		t.Errorf("the parents are %q", said)
	}
}

// Boxes to write into stand below one another with white between them, and none
// is lower than its own step, however little that says.
func TestBenchBoxesKeepApart(t *testing.T) {
	s := benchOf(A4, 1)
	s.Steps = nil
	for _, text := range []string{"Bathe.", "Rinse.", strings.Repeat("Rinse well once more. ", 12), "Dry."} {
		s.Steps = append(s.Steps, BenchStep{Text: text, Blanks: []string{"in", "out"}}, BenchStep{Text: "Wait."})
	}
	for range 2 {
		s.Steps = append(s.Steps, BenchStep{Text: "Dry.", Blanks: []string{"in"}})
	}
	pages, err := s.pages()
	if err != nil {
		t.Fatal(err)
	}
	p := pages[0]
	var tops []float64 // of boxes, by their captions
	for _, text := range p.texts {
		if text.String == "in" {
			tops = append(tops, text.Baseline)
		}
	}
	if len(tops) != 6 {
		t.Fatalf("%d boxes", len(tops))
	}
	for i, top := range tops {
		for _, text := range p.texts {
			if text.String == "Wait." && text.Baseline > top && text.Baseline-0.8*text.Size < top-2.6+blankHigh+0.5 {
				t.Errorf("the step at %.1f mm stands beside the boxes at %.1f of the one before", text.Baseline, top)
			}
		}
		if i > 0 && top-tops[i-1] < blankHigh+1 {
			t.Errorf("boxes at %.1f and %.1f mm", tops[i-1], top)
		}
	}
}

// What a bath, a step or the cautions are reckoned to take of a page, for which it
// is turned, is what they take.
func TestBenchHeightsAreAsReckoned(t *testing.T) {
	s := benchOf(A4, 1)
	p := &benchPage{paper: A4, y: benchMargin}
	check := func(what string, reckoned float64, draw func()) {
		t.Helper()
		was := p.y
		draw()
		if math.Abs(p.y-was-reckoned) > 1e-9 {
			t.Errorf("%s takes %.2f mm, %.2f are reckoned", what, p.y-was, reckoned)
		}
		for _, r := range p.rules {
			if max(r.Y1, r.Y2) > p.y+1e-9 {
				t.Errorf("%s ends at %.2f mm with a line at %.2f", what, p.y, max(r.Y1, r.Y2))
			}
		}
		for _, text := range p.texts {
			if text.Baseline > p.y+1e-9 {
				t.Errorf("%s ends at %.2f mm with %q at %.2f", what, p.y, text.String, text.Baseline)
			}
		}
	}
	for _, lots := range []string{"", "for 2026X012-B", "for " + strings.Repeat("2026X012-B, ", 30)} {
		m := s.Mixes[0]
		m.For = lots
		check("a bath", p.mixHigh(m), func() { p.mix(m) })
	}
	for _, step := range append(s.Steps, BenchStep{Text: "Dry.", Blanks: []string{"on"}}) {
		check("a step", p.stepHigh(step), func() { p.step(1, step) })
	}
	check("cautions", p.cautionsHigh(s.Cautions), func() { p.cautions(s.Cautions) })
}

// The head of the table never stands at the foot of a page without a row.
func TestBenchTableBeginsWithARow(t *testing.T) {
	turned := 0
	for n := range 25 {
		s := benchOf(A4, 3)
		s.Mixes, s.Steps = nil, nil
		for range n {
			s.Steps = append(s.Steps, BenchStep{Text: "Wait."}, BenchStep{Text: "Dry.", Blanks: []string{"on"}}, BenchStep{Text: "Wait."}) // 6.3 + 9.3 + 6.3 mm
		}
		pages, err := s.pages()
		if err != nil {
			t.Fatal(err)
		}
		turned = max(turned, len(pages))
		for i, p := range pages {
			heads, rows := 0, 0
			for _, text := range p.texts {
				if text.String == "seed lot" {
					heads++
				}
				if strings.HasPrefix(text.String, "2026X") {
					rows++
				}
				if text.Baseline > A4.H-benchMargin-benchFoot && !strings.HasPrefix(text.String, "page ") {
					t.Errorf("%d steps, page %d: %q at %.1f mm", 3*n, i+1, text.String, text.Baseline)
				}
			}
			if (heads > 0) != (rows > 0) {
				t.Errorf("%d steps, page %d: %d heads of a table and %d rows", 3*n, i+1, heads, rows)
			}
		}
	}
	if turned < 2 {
		t.Errorf("%d pages", turned)
	}
}
