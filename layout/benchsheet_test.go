package layout

import (
	"bytes"
	"errors"
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"pipstake/label"
	"pipstake/layout/proof"
)

// benchOf is a sheet with a number of seed lots.
func benchOf(paper Paper, lots int) BenchSheet {
	s := BenchSheet{Paper: paper, Created: time.Date(2026, time.November, 14, 9, 0, 0, 0, time.UTC),
		Title: "Extraction 2026-11-14", Under: fmt.Sprintf("%d seed lots", lots),
		Mixes: []BenchMix{{Figures: [3]BenchFigure{{"120 ml", "water"}, {"8 g", "calcium hypochlorite"}, {"6.67 % w/v", "12 seed lots, 10 ml each"}}}},
		Steps: []BenchStep{{Text: "Open the fruit of one lot at a time."},
			{Text: strings.Repeat("Bathe each lot for 5\u00a0min, then rinse well. ", 4), Blanks: []string{"in", "out"}}},
		Cautions: []string{"The label of your own product comes first.", strings.Repeat("Never with acids, not even vinegar. ", 5)}}
	for n := range lots {
		s.Lots = append(s.Lots, BenchLot{fmt.Sprintf("2026X%03d-A", n+1), "♀ Błota Struga × ♂ Härmä Punanen"})
	}
	return s
}

func writtenBench(t *testing.T, s BenchSheet) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := WriteBench(&b, s); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// PDFium finds every text, inside the margins; each lot stands once, in order,
// over as many pages as they take.
func TestBenchSheetHoldsAllLots(t *testing.T) {
	if testing.Short() {
		t.Skip("takes long")
	}
	for _, paper := range []Paper{A4, Letter} {
		for _, c := range []struct{ lots, pages int }{{1, 1}, {12, 1}, {60, 3}} {
			doc, err := proof.Open(writtenBench(t, benchOf(paper, c.lots)))
			if err != nil {
				t.Fatal(err)
			}
			pages := doc.Pages()
			if len(pages) != c.pages {
				t.Errorf("%s, %d lots: %d pages, want %d", paper.Name, c.lots, len(pages), c.pages)
			}
			var ids []string
			all := ""
			for n := range pages {
				texts, err := doc.Texts(n + 1)
				if err != nil {
					t.Fatal(err)
				}
				for _, text := range texts {
					all += text.String + "\n"
					if strings.HasPrefix(text.String, "2026X") {
						ids = append(ids, strings.TrimSpace(text.String))
					}
					if text.Box.X < benchMargin-1 || text.Box.Right() > paper.W-benchMargin+1 || text.Box.Y < benchMargin-3 || text.Box.Bottom() > paper.H-benchMargin+2 {
						t.Errorf("%s: %q runs over the margin: %+v", paper.Name, text.String, text.Box)
					}
				}
			}
			doc.Close()
			if len(ids) != c.lots || !slices.IsSorted(ids) {
				t.Errorf("%s, %d lots: %v", paper.Name, c.lots, ids)
			}
			for _, want := range []string{"120 ml", "8 g", "6.67 % w/v", "calcium hypochlorite", "fruit", "undeveloped", "The label of your own product comes first.", "in", "out", fmt.Sprintf("page %d of %d", c.pages, c.pages)} {
				if !strings.Contains(all, want) {
					t.Errorf("%s, %d lots: %q is missing", paper.Name, c.lots, want)
				}
			}
		}
	}
}

// No two texts lie on each other, nor does one leave its frame.
func TestBenchTextsKeepApart(t *testing.T) {
	s := benchOf(Letter, 20)
	s.Mixes = append(s.Mixes, BenchMix{For: "for " + strings.Repeat("2026X012-B, ", 20), Figures: s.Mixes[0].Figures})
	s.Lots[3].Parents = "♀ " + strings.Repeat("Orlie d'Ancelle ", 8) + "× ♂ " + strings.Repeat("W", 60)
	pages, err := s.pages()
	if err != nil {
		t.Fatal(err)
	}
	for n, p := range pages {
		var boxes []label.Rect
		for _, text := range p.texts {
			above, below := text.Face.Extent(text.String)
			box := label.Rect{X: text.X, Y: text.Baseline - above*text.Size, W: text.Face.Width(text.String) * text.Size, H: (above + below) * text.Size}
			if box.Right() > p.right()+0.01 || box.X < p.left() {
				t.Errorf("page %d: %q runs from %.1f to %.1f mm", n+1, text.String, box.X, box.Right())
			}
			for i, other := range boxes {
				if box.Overlaps(other) {
					t.Errorf("page %d: %q lies on %q", n+1, text.String, p.texts[i].String)
				}
			}
			boxes = append(boxes, box)
		}
	}
}

// Baths, steps and cautions go on to the next page as rows do.
func TestBenchSheetOfManyBaths(t *testing.T) {
	s := benchOf(Letter, 9)
	for range 14 {
		s.Mixes = append(s.Mixes, BenchMix{For: "for 2026X012-B", Figures: s.Mixes[0].Figures})
	}
	pages, err := s.pages()
	if err != nil {
		t.Fatal(err)
	}
	for n, p := range pages {
		for _, r := range p.rules {
			if max(r.Y1, r.Y2) > s.Paper.H-benchMargin-benchFoot+0.01 {
				t.Errorf("page %d: a line at %.1f mm", n+1, max(r.Y1, r.Y2))
			}
		}
	}
	if len(pages) != 3 {
		t.Errorf("%d pages", len(pages))
	}
}

func TestBenchSheetIsTheSameAgain(t *testing.T) {
	first, again := writtenBench(t, benchOf(A4, 30)), writtenBench(t, benchOf(A4, 30))
	if !bytes.Equal(first, again) {
		t.Error("the same sheet gives other bytes")
	}
}

func TestBenchSheetRefuses(t *testing.T) {
	lost := benchOf(A4, 2)
	lost.Lots[1].Parents = "♀ 湖琥 × ♂ Tarn Amber"
	undated := benchOf(A4, 2)
	undated.Created = time.Time{}
	for name, s := range map[string]BenchSheet{"no glyph": lost, "no date": undated, "no lots": benchOf(A4, 0)} {
		var b bytes.Buffer
		err := WriteBench(&b, s)
		if err == nil || b.Len() > 0 {
			t.Errorf("%s: %v, %d bytes", name, err, b.Len())
		}
		var glyph *label.GlyphError
		if name == "no glyph" && (!errors.As(err, &glyph) || glyph.Rune != '湖') {
			t.Errorf("%v", err)
		}
	}
}

// A no-break space holds a number and its unit together.
func TestBenchWrap(t *testing.T) {
	p := &benchPage{paper: A4}
	for wide := 10.0; wide < 80; wide += 0.7 {
		for _, line := range p.wrap(label.Regular, benchText, wide, "Bathe each lot for 5\u00a0min at 4\u00a0°C, then rinse.") {
			if p.width(label.Regular, benchText, line) > wide || strings.HasPrefix(line, "min") || strings.HasPrefix(line, "°") {
				t.Errorf("%.1f mm: %q", wide, line)
			}
		}
	}
}
