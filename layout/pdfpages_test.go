package layout

import (
	"maps"
	"math/bits"
	"regexp"
	"strings"
	"testing"

	"pipstake/label"
	"pipstake/label/symbol"
	"pipstake/layout/proof"
)

// Lines of labels are drawn as they say, whatever was drawn before them: solid
// beside dashed, thin after thick, on the page and on the label before.
func TestLinesAreTheirOwn(t *testing.T) {
	s := find(t, "a4-3x8-70x37")
	line := func(y, width, dash float64) label.Rule {
		return label.Rule{X1: 5, X2: 65, Y1: y, Y2: y, Width: width, Dash: dash, Gap: dash}
	}
	dashedLast := &label.Drawing{W: 70, H: 37, Rules: []label.Rule{line(10, 0.2, 0), line(20, 1, 2)}}
	plainFirst := &label.Drawing{W: 70, H: 37, Rules: []label.Rule{line(10, 1, 0), line(20, 0.2, 2)}}
	job := Job{Stock: s, Title: "T", Created: created}
	for n, d := range []*label.Drawing{dashedLast, plainFirst, dashedLast, plainFirst} {
		job.Places = append(job.Places, Place{Page: 1 + n/3, Cell: 1 + n, Drawing: d})
	}
	doc := open(t, write(t, job))
	const dpi = 600
	for _, page := range []int{1, 2} {
		img, err := doc.Render(page, dpi)
		if err != nil {
			t.Fatal(err)
		}
		for _, p := range job.Places {
			if p.Page != page {
				continue
			}
			for _, r := range p.Drawing.Rules {
				cell := s.Cell(p.Cell)
				area := label.Rect{X: cell.X + r.X1, Y: cell.Y + r.Y1 - 1, W: r.X2 - r.X1, H: 2}
				black := 0
				region := proof.Region(area, dpi)
				for y := region.Min.Y; y < region.Max.Y; y++ {
					for x := region.Min.X; x < region.Max.X; x++ {
						if img.GrayAt(x, y).Y < 128 {
							black++
						}
					}
				}
				want := r.Width * (r.X2 - r.X1)
				if r.Dash > 0 {
					want /= 2
				}
				got := float64(black) * 25.4 / dpi * 25.4 / dpi
				if got < want*0.8 || got > want*1.25 {
					t.Errorf("page %d, cell %d, line at %v mm: %.1f mm² of ink, want %.1f", page, p.Cell, r.Y1, got, want)
				}
			}
		}
	}
}

// Fonts have short names, alike on pages and in the list of what all pages use.
func TestShortNames(t *testing.T) {
	pdf := string(unpacked(t, write(t, filled(t, find(t, "a4-cut-148x20"), 600, 1, 2))))
	listed, used := map[string]bool{}, map[string]bool{}
	for _, name := range regexp.MustCompile(`(?m)^/(F[0-9a-f]+) \d+ 0 R$`).FindAllStringSubmatch(pdf, -1) {
		listed[name[1]] = true
	}
	for _, name := range regexp.MustCompile(`(?m)^/(F\S*) [0-9.]+ Tf$`).FindAllStringSubmatch(pdf, -1) {
		used[name[1]] = true
	}
	if want := map[string]bool{"F1": true, "F2": true, "F3": true}; !maps.Equal(listed, want) || !maps.Equal(used, want) {
		t.Errorf("listed are %v, used %v", listed, used)
	}
}

// What is drawn first of a code is the same in all codes of a kind and size, whatever
// they say at whatever level; the rest is not.
func TestFixedModules(t *testing.T) {
	var texts []string
	for n := 1; n < 60; n += 2 {
		texts = append(texts, strings.Repeat("7", n), strings.Repeat("K:", n), strings.Repeat("Z%4", n))
	}
	type size struct {
		kind    symbol.Kind
		modules int
	}
	first := map[size]*symbol.Symbol{}
	differ := map[size]int{}
	for _, text := range texts {
		for _, level := range []byte{0, 'L', 'M', 'Q', 'H'} {
			kind := symbol.QR
			if level == 0 {
				kind = symbol.DataMatrix
			}
			s, err := symbol.Encode(kind, level, text, 5, 300)
			if err != nil {
				continue // too long for the level
			}
			key := size{kind, s.Size}
			if first[key] == nil {
				first[key] = s
			}
			for x := 1; x <= s.Size; x++ {
				changed := darkDown(s, x) ^ darkDown(first[key], x)
				if changed&fixedDown(s, x) != 0 {
					t.Fatalf("%v, %d modules, column %d: %b is not fixed", kind, s.Size, x, changed&fixedDown(s, x))
				}
				differ[key] += bits.OnesCount64(changed)
			}
		}
	}
	if len(first) < 6+9 {
		t.Errorf("only %d sizes: %v", len(first), differ)
	}
	for key, n := range differ {
		if n == 0 {
			t.Errorf("%+v: no two codes differ", key)
		}
		// Borders of one region or of four; three finder patterns of 7×7, an alignment
		// pattern of 5×5 and the rest of a timing pattern, counted by hand.
		want := 4*key.modules - 4
		switch {
		case key.kind == symbol.QR:
			want = 3*49 + key.modules - 14
			if key.modules > 21 {
				want += 25
			}
		case key.modules >= 32:
			want = 8*key.modules - 16
		}
		fixed := 0
		for x := 1; x <= key.modules; x++ {
			fixed += bits.OnesCount64(fixedDown(first[key], x))
		}
		if fixed != want {
			t.Errorf("%+v: %d modules are fixed, not %d", key, fixed, want)
		}
	}
}

// What means something in a string of a PDF is set as it is: brackets, backslashes,
// and letters that have the same bytes in UTF-16.
func TestTextsAreSetAsTheyAre(t *testing.T) {
	const said = `(a) \b) ШЩќč ≠`
	s := find(t, "a4-3x8-70x37")
	d := &label.Drawing{W: 70, H: 37, Texts: []label.Text{{X: 5, Baseline: 20, Size: 5, Face: label.Regular, String: said}}}
	texts, err := open(t, write(t, Job{Stock: s, Title: "T", Created: created, Places: []Place{{Page: 1, Cell: 1, Drawing: d}}})).Texts(1)
	if err != nil {
		t.Fatal(err)
	}
	var all strings.Builder
	for _, text := range texts {
		all.WriteString(text.String)
	}
	if !strings.Contains(all.String(), said) {
		t.Errorf("the page says %q, not %q", all.String(), said)
	}
}

func TestAppendThousandths(t *testing.T) {
	for n, want := range map[int]string{1: ".001", 20: ".02", 960: ".96", 990: ".99", 997: ".997", 1000: "1", 1990: "1.99", 6995: "6.995", 30000: "30", 100040: "100.04"} {
		if got := string(appendThousandths([]byte("0 "), n)); got != "0 "+want {
			t.Errorf("%d: got %q, want %q", n, got, "0 "+want)
		}
	}
}
