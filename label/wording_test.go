package label

import (
	"errors"
	"math"
	"strings"
	"testing"

	"pipstake/ids"
	"pipstake/ids/problem"
)

// parentOf is a parent as labels set it.
func parentOf(sign, name string) parent { return newParent(sign, name, nil) }

// One letter goes where it is wider than the ellipsis.
func TestNameLosesOneLetter(t *testing.T) {
	p := parentOf("♀ ", "Lark№")
	if got := p.shorten(p.line("Lark№").width(nil) - 0.01); got[1].text != "Lark"+ellipsis {
		t.Errorf("%q", got[1].text)
	}
}

// A name loses no more letters than it must, never its first one, and ends in an
// ellipsis without a space or hyphen before it.
func TestNamesLoseAsLittleAsTheyMust(t *testing.T) {
	for _, name := range append(awkwardNames(t, 40), "Larkfield Tessel", "A-B C") {
		p := parentOf("♀ ", name)
		letters := []rune(p.name)
		whole := p.line(p.name).width(nil)
		if got := p.shorten(whole); got[1].text != p.name {
			t.Errorf("%q just fits and becomes %q", name, got[1].text)
		}
		for ems := 1.0; ems < whole; ems += 0.37 {
			got := p.shorten(ems)
			begin, cut := strings.CutSuffix(got[1].text, ellipsis)
			n := len([]rune(begin))
			if len(letters) == 1 {
				continue // there is nothing to take off
			}
			if !cut || n < 1 && strings.Trim(p.name[:1], " -") != "" || !strings.HasPrefix(p.name, begin) || strings.TrimRight(begin, " -") != begin {
				t.Fatalf("%q in %.2f em: %q", name, ems, got[1].text)
			}
			if got.width(nil) > ems && n > 1 {
				t.Errorf("%q in %.2f em: %q is too wide", name, ems, got[1].text)
			}
			// The next longer text that is not only a space or hyphen more.
			for next := n + 1; next < len(letters); next++ {
				longer := strings.TrimRight(string(letters[:next]), " -")
				if len([]rune(longer)) > n {
					if p.line(longer+ellipsis).width(nil) <= ems {
						t.Errorf("%q in %.2f em: %q, where %q goes", name, ems, got[1].text, longer)
					}
					break
				}
			}
		}
	}
}

// A name is broken at the space nearest its middle; of two as near at either.
func TestHalvesOfNames(t *testing.T) {
	for _, name := range append(awkwardNames(t, 200), "Larkfield Tessel", "One", "One Two Three Four", " x", "x ") {
		p := parentOf("♂ ", name)
		got := p.halves()
		middle, nearest := p.face.Width(p.name)/2, math.Inf(1)
		for i, r := range p.name {
			if r == ' ' {
				nearest = min(nearest, math.Abs(p.face.Width(p.name[:i])-middle))
			}
		}
		if len(got) == 1 {
			if strings.Contains(strings.TrimLeft(p.name, " "), " ") && !strings.HasPrefix(p.name, " ") {
				t.Errorf("%q is not broken", name)
			}
			continue
		}
		first, second := got[0][1].text, got[1][0].text
		if joined := strings.Fields(first + " " + second); strings.Join(joined, " ") != strings.Join(strings.Fields(p.name), " ") || got[0][0].text != "♂ " || len(got[1]) != 1 || first == "" {
			t.Errorf("%q becomes %q and %q", name, first, second)
		}
		if off := math.Abs(p.face.Width(first) - middle); off > nearest+1e-9 {
			t.Errorf("%q is broken %.2f em off its middle, there is a space at %.2f", name, off, nearest)
		}
	}
}

// On two lines each parent has its own; on one the parent that needs less than
// half leaves the rest to the other, and neither is shortened without need.
func TestParentsShareALine(t *testing.T) {
	list := append(awkwardNames(t, 30), "Larkfield Tessel", "Tarn Amber", "Bo")
	for i, seed := range list {
		pollen := list[(i*7+3)%len(list)]
		n := names{parentOf("♀ ", seed), parentOf("♂ ", pollen)}
		w1, w2 := n.seed.line(n.seed.name).width(nil), n.pollen.line(n.pollen.name).width(nil)
		shapes := parents(nil, 3, 2, seed, pollen).shapes
		for ems := 14.0; ems < 40; ems += 1.3 {
			if got, whole := n.squeeze(ems, 2, shapes[2:]); len(got) > 2 || whole && len(got) != len(shapes[2]) {
				t.Errorf("%q × %q on two lines: %d lines", seed, pollen, len(got))
			}
			if got, whole := n.squeeze(ems, 2, nil); whole || len(got) != 2 {
				t.Errorf("%q × %q on two lines: %d lines, whole: %v", seed, pollen, len(got), whole)
			}
			room := ems - between.width()
			line := n.shareLine(ems)
			first, second := line[:2].width(nil), line[3:].width(nil)
			if got, _ := n.squeeze(ems, 1, nil); len(got) != 1 || got[0].width(nil) != line.width(nil) {
				t.Errorf("%q × %q on one line: %d lines", seed, pollen, len(got))
			}
			if line.width(nil) > ems+1e-9 {
				t.Errorf("%q × %q in %.1f em is %.1f wide", seed, pollen, ems, line.width(nil))
			}
			switch {
			case w1+w2 <= room:
				if first != w1 || second != w2 {
					t.Errorf("%q × %q in %.1f em fit and are shortened", seed, pollen, ems)
				}
			case w1 <= room/2:
				if first != w1 {
					t.Errorf("%q needs less than half of %.1f em and is shortened", seed, ems)
				}
			case w2 <= room/2:
				if second != w2 {
					t.Errorf("%q needs less than half of %.1f em and is shortened", pollen, ems)
				}
			default:
				if first > room/2+1e-9 {
					t.Errorf("%q takes %.2f of %.2f em", seed, first, room)
				}
			}
		}
	}
}

// The note of a branch tag loses as little as it must, and that is told; the day
// stays whole.
func TestNotesLoseAsLittleAsTheyMust(t *testing.T) {
	last := func(f shape) run { return f[0][len(f[0])-1] }
	for _, day := range []string{"", "2026-05-03"} {
		for _, note := range []string{"south side of the old tree - third limb", "g", ""} {
			r := BranchTag{Note: note, Pollinated: day}.day(nil, 3)
			switch {
			case note == "" && day == "":
				if len(r.shapes) > 0 {
					t.Errorf("nothing is known, and set: %v", r.shapes)
				}
				continue
			case note == "":
				if got := r.shapes[0][0]; len(got) != 1 || got[0].text != "pollinated 2026-05-03" {
					t.Errorf("without a note: %v", got)
				}
				if got, whole := r.shorten(5, 1); !whole || len(got) != 1 || len(got[0]) != 1 || got[0][0].text != "2026-05-03" {
					t.Errorf("the day where there is no room for more: %v, %v", got, whole)
				}
				continue
			case day != "":
				if got := r.shapes[0][0]; got[0].text != "2026-05-03   " || got[1].text != note {
					t.Errorf("both: %v", got)
				}
			}
			whole := r.shapes[0][0].width(nil)
			if got, _ := r.shorten(0.1, 1); len(note) > 1 && last(got).text != note[:1]+ellipsis {
				t.Errorf("%q where there is no room at all: %q", note, last(got).text)
			}
			if got, all := r.shorten(whole, 1); !all || last(got).text != note {
				t.Errorf("%q just fits and becomes %q", note, last(got).text)
			}
			for ems := whole - 0.1; ems > 8 && len(note) > 1; ems -= 0.7 {
				got, all := r.shorten(ems, 1)
				begin, cut := strings.CutSuffix(last(got).text, ellipsis)
				if all || !cut || !strings.HasPrefix(note, begin) || len(got) != 1 || day != "" && got[0][0].text != r.shapes[0][0][0].text || got[0].width(nil) > ems && len(begin) > 1 {
					t.Errorf("%q in %.1f em: %q, said to be whole: %v", note, ems, last(got).text, all)
				}
				for next := len(begin) + 1; next < len(note); next++ {
					if longer := strings.TrimRight(note[:next], " -"); len(longer) > len(begin) {
						if (line{r.shapes[0][0][0], {Regular, longer + ellipsis, 1, flowing}}).width(nil) <= ems {
							t.Errorf("%q in %.1f em: %q, where %q goes", note, ems, last(got).text, longer)
						}
						break
					}
				}
			}
		}
	}
}

// A run that is tabbed begins at its tab, where that lies behind the run before it.
func TestWidthOfATabbedLine(t *testing.T) {
	l := line{{Bold, "7 seeds", 1, flowing}, {Regular, "sown", 1, tabbed}}
	count, day := Bold.Width("7 seeds"), Regular.Width("sown")
	for tab, want := range map[float64]float64{0: count + day, count + 3: count + 3 + day} {
		if got := l.width([]float64{0, tab}); got != want {
			t.Errorf("a tab at %.2f em: %.3f, want %.3f", tab, got, want)
		}
	}
	if got := l.width([]float64{count + 3}); got != count+day {
		t.Errorf("a tab for the run before it: %.3f, want %.3f", got, count+day)
	}
}

// Blanks stand in their order, in rows that are as full as they go; a blank that
// is wider than the form is refused.
func TestBlanksShareRows(t *testing.T) {
	all := blanks(10, 22, true)
	for width := 10.0; width < 220; width += 1.7 {
		rows := share(all, width, 2.5)
		widest := 0.0
		for _, b := range all {
			widest = max(widest, b.width(2.5))
		}
		if (rows == nil) != (widest > width) {
			t.Fatalf("%.1f mm: %d rows, the widest blank has %.1f", width, len(rows), widest)
		}
		n := 0
		for i, row := range rows {
			wide := -betweenKept
			for _, b := range row {
				if b.name != all[n].name {
					t.Errorf("%.1f mm: %s stands where %s belongs", width, b.name, all[n].name)
				}
				n++
				wide += betweenKept + b.width(2.5)
			}
			if wide > width+1e-9 {
				t.Errorf("%.1f mm: row %d has %.1f", width, i, wide)
			}
			if i+1 < len(rows) && wide+betweenKept+rows[i+1][0].width(2.5) <= width-1e-9 {
				t.Errorf("%.1f mm: row %d had room for %s", width, i, rows[i+1][0].name)
			}
		}
		if rows != nil && n != len(all) {
			t.Errorf("%.1f mm: %d of %d blanks", width, n, len(all))
		}
	}
	exact := []blank{{room: 8}, {room: 4}} // words of no size leave the widths as they are
	if rows := share(exact, 8+betweenKept+4, 0); len(rows) != 1 {
		t.Errorf("blanks that fill a row stand on %d", len(rows))
	}
	if rows := share(exact[:1], 8, 0); len(rows) != 1 {
		t.Errorf("a blank as wide as the form stands on %d rows", len(rows))
	}
	if got := blanks(10, 22, false); len(got) != 5 || got[3].name != "cold" {
		t.Errorf("without the day of opening: %v", got)
	}
}

// The size that a refusal names would do, and a millimetre less, as the label was
// made larger, would not: in width, in height, in both, or three in width for each
// in height.
func TestRefusalsNameTheLeastRoom(t *testing.T) {
	tried, ways := 0, map[[2]float64]int{}
	for kind, f := range faces("Larkfield Tessel", "Tarn Amber") {
		if testing.Short() && (kind == "long stake" || kind == "filled bag" || kind == "back") {
			continue
		}
		for _, r := range []Room{{W: 30, H: 12}, {W: 20, H: 20}, {W: 45.5, H: 9.5}, {W: 34, H: 8}} {
			r.DPI, r.Margin = 300, Margin{1.5, 1.5, 1.5, 1.5}
			_, err := f.Fit(r)
			var small *RoomError
			if !errors.As(err, &small) {
				continue
			}
			tried++
			fits := func(w, h float64) bool {
				bigger := r
				bigger.W, bigger.H = math.Ceil(w), math.Ceil(h)
				_, err := f.Fit(bigger)
				return err == nil
			}
			if small.NeedW < r.W || small.NeedH < r.H || !fits(small.NeedW, small.NeedH) {
				t.Errorf("%s in %v×%v: %v, which does not do", kind, r.W, r.H, err)
			}
			wider, higher := small.NeedW-math.Ceil(r.W), small.NeedH-math.Ceil(r.H)
			by, way := higher, [2]float64{0, 1}
			switch {
			case higher == 0:
				by, way = wider, [2]float64{1, 0}
			case wider == higher:
				way[0] = 1
			case wider > 0:
				way[0] = 3
			}
			if small.NeedW != math.Ceil(r.W+way[0]*by) || small.NeedH != math.Ceil(r.H+way[1]*by) || fits(r.W+way[0]*(by-1), r.H+way[1]*(by-1)) {
				t.Errorf("%s in %v×%v asks for %v×%v, though a millimetre less would do", kind, r.W, r.H, small.NeedW, small.NeedH)
			}
			ways[way]++
			if p := problem.First(err); p.Kind != problem.OfUse || p.What != err.Error() || p.Remedy != "choose a larger stock: {stocks}" {
				t.Errorf("%+v", p)
			}
		}
	}
	if tried < 10 || len(ways) < 3 {
		t.Errorf("%d refusals, larger in these ways: %v", tried, ways)
	}
}

// Which label of a batch cannot be drawn is told, counted from 1, with what is
// wrong with it.
func TestTheLabelThatCannotBeDrawn(t *testing.T) {
	b := Bag{ID: ids.ID{Year: 2026, Cross: 12, Lot: 2}, SeedParent: "Larkfield Tessel", PollenParent: "Tarn Amber"}
	wrong := b
	wrong.PollenParent = "梨"
	r := rooms[9]
	r.DPI = 300
	_, err := Fit([]Face{b, b, wrong}, r)
	var which *LabelError
	if !errors.As(err, &which) || which.Index != 2 || !strings.HasPrefix(err.Error(), "label 3: ") || !errors.As(err, new(*GlyphError)) {
		t.Errorf("%v", err)
	}
	if p := problem.First(which.Err); p.Remedy != "write the name in Latin letters, or name a font that has the character: {font}" {
		t.Errorf("%+v", p)
	}
	wrong.PollenParent = "תפוח"
	_, err = wrong.Fit(r)
	if p := problem.First(err); p.Remedy != "write the name in Latin letters" || errors.As(err, new(*LabelError)) {
		t.Errorf("%+v, %v", p, err)
	}
	if drawn, err := Fit(nil, r); err != nil || len(drawn) > 0 {
		t.Errorf("no labels: %v, %v", drawn, err)
	}
}

// Letters are measured alike whether they are kept at hand or not: around U+0250
// and at the ends.
func TestLettersAtTheEdgeOfWhatIsKept(t *testing.T) {
	names := liberation(t)
	for _, r := range []rune{0, 1, 'A', 0x24f, 0x250, 0x251, 0xfffd, 0x10ffff, -1} {
		if again := names.Width(string(r)); again != names.Width(string(r)) {
			t.Errorf("%U: %v", r, again)
		}
		var fresh glyph
		names.mu.Lock()
		fresh = names.measure(r)
		names.mu.Unlock()
		if got := names.glyph(r); got != fresh {
			t.Errorf("%U is kept as %+v, measured as %+v", r, got, fresh)
		}
	}
	if !names.Has(0x250) || names.Has(0x10ffff) {
		t.Error("a letter is lost, or found where none is")
	}
}

// A code with room for it says all that the label has to say, however short the
// parents' names are.
func TestShortNamesAreInTheCode(t *testing.T) {
	r := Room{W: 100, H: 60, Margin: Margin{2, 2, 2, 2}, DPI: 600}
	for _, f := range []interface {
		Fit(Room) (*Drawing, error)
	}{
		Bag{ID: ids.ID{Year: 2026, Cross: 12, Lot: 2}, SeedParent: "A", PollenParent: "B"},
		Seedling{ID: ids.ID{Year: 2026, Cross: 12, Lot: 2, Pot: 2, Seedling: 1}, SeedParent: "A", PollenParent: "B"},
		BranchTag{ID: ids.ID{Year: 2026, Cross: 12}, SeedParent: "A", PollenParent: "B"},
	} {
		d, err := f.Fit(r)
		if err != nil {
			t.Fatal(err)
		}
		if got := d.Codes[0].Symbol.Payload; got != d.Payload() || !strings.HasSuffix(got, " A X B") {
			t.Errorf("the code says %q, the label %q", got, d.Payload())
		}
	}
}

// A stake counts its seeds in words that go with the number.
func TestCountsInWords(t *testing.T) {
	for seeds, want := range map[int]string{0: "0 seeds", 1: "1 seed", 2: "2 seeds", 1250: "1250 seeds"} {
		s := Stake{ID: longest, Copy: 1, Seeds: seeds, Sown: "2027-01-14", SeedParent: "Larkfield Tessel", PollenParent: "Tarn Amber"}
		r := rooms[0]
		r.DPI = 600
		d, err := s.Fit(r)
		if err != nil {
			t.Fatal(err)
		}
		found := 0
		for _, x := range d.Texts {
			if x.String == want {
				found++
			}
		}
		if found != 2 { // above the soil and below it
			t.Errorf("%d seeds: %q stands %d times", seeds, want, found)
		}
	}
}

// Lines of just the height that a felt pen needs will do.
func TestLinesOfJustTheHeight(t *testing.T) {
	for _, h := range []float64{13.3, 13.29} { // two lines of 6.5 mm, and 0.3 below
		f := newForm(Rect{W: 120, H: h}, 5, false)
		if f == nil || (f.worth == forms[0].worth && len(f.rows) == 2) != (h == 13.3) {
			t.Errorf("%v mm: %+v", h, f)
		}
	}
}
