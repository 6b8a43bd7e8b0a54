package label

import (
	"errors"
	"math"
	"strings"
	"testing"

	"pipstake/ids"
)

// What stands below an identifier of two lines is further from it than they are from
// one another, where groups stand apart at all.
func TestLinesOfAnIdentifierStandTogether(t *testing.T) {
	apart := 0
	for _, r := range rooms {
		r.DPI = 600
		for _, kind := range []string{"stake", "seedling", "back"} {
			d, err := faces("Larkfield Tessel", "Tarn Amber")[kind].Fit(r)
			if errors.As(err, new(*RoomError)) {
				continue
			} else if err != nil {
				t.Fatal(err)
			}
			var second, below Text // the second line, and the nearest text below it
			first := d.Texts[0]
			for _, x := range d.Texts[1:] {
				switch {
				case x.Turn != Upright || x.X+x.Box.W < first.X || x.X > first.Box.Right():
				case second.Face == nil && x.Face == Signs && x.X == first.X && x.Size == first.Size:
					second = x
				case second.Face != nil && x.Box.Y > second.Box.Bottom() && (below.Face == nil || x.Box.Y < below.Box.Y):
					below = x
				}
			}
			if second.Face == nil || below.Face == nil {
				continue
			}
			within, gap := second.Box.Y-first.Box.Bottom(), below.Box.Y-second.Box.Bottom()
			if within < 0.2*first.Size || within > 0.6*first.Size {
				t.Errorf("%s on %v×%v mm: the lines are %.2f mm apart, their em is %.2f", kind, r.W, r.H, within, first.Size)
			}
			if gap < 0.06*first.Size-1e-6 {
				t.Errorf("%s on %v×%v mm: %q stands %.2f mm below an em of %.2f", kind, r.W, r.H, below.String, gap, first.Size)
			}
			if gap > within {
				apart++
			}
		}
	}
	if apart < 12 {
		t.Errorf("on %d labels groups stand apart", apart)
	}
}

// A note on several lines keeps all of its words in their order, on lines that fit,
// and ends in an ellipsis only where they do not.
func TestNotesBreakAtSpaces(t *testing.T) {
	const text = "south side of the old tree, third limb from below, the one with the red string"
	whole := 0
	for _, day := range []string{"", "2026-05-03"} {
		n := note{day: day, text: text, face: Regular}
		for _, lines := range []int{2, 3, 4, 6} {
			for ems := 9.0; ems < 45; ems += 0.9 {
				got, all := n.squeeze(ems, lines)
				if len(got) > lines || !got.fits(ems) {
					t.Fatalf("%d lines of %.1f em: %v", lines, ems, got)
				}
				var said []string
				for _, l := range got {
					for _, r := range l {
						said = append(said, strings.TrimSpace(r.text))
					}
				}
				words := strings.TrimSpace(strings.Join(said, " "))
				begin, cut := strings.CutSuffix(words, ellipsis)
				if all == cut || !strings.HasPrefix(strings.TrimSpace(day+" "+text), begin) || all && !strings.HasSuffix(words, text) {
					t.Errorf("%d lines of %.1f em: %q, said to be whole: %v", lines, ems, words, all)
				}
				if all {
					whole++
				}
			}
		}
	}
	if whole < 50 {
		t.Errorf("%d notes are whole", whole)
	}
}

// A day stands on a line of its own where that leaves more room for a word that is cut.
func TestCutNoteBelowItsDay(t *testing.T) {
	n := note{day: "2026-05-03", text: strings.Repeat("m", 40), face: Regular}
	if got, _ := n.squeeze(12, 2); len(got) != 2 || got[0][0].text != n.day || !strings.HasPrefix(got[1][0].text, "mmmmmm") {
		t.Errorf("%v", got)
	}
}

// A word wider than a line is cut there, and that is told, though what stands behind
// it has room.
func TestNoteWithALongWord(t *testing.T) {
	n := note{text: strings.Repeat("m", 40) + " limb", face: Regular}
	got, whole := n.squeeze(12, 2)
	if whole || len(got) != 2 || !strings.HasSuffix(got[0][0].text, ellipsis) || got[1][0].text != "limb" {
		t.Errorf("%v, said to be whole: %v", got, whole)
	}
}

// No more letters are cut off than have to go: one, where it is wider than the ellipsis.
func TestNoteLosesOneLetter(t *testing.T) {
	n := note{face: Regular}
	const short = "limb 4" + ellipsis
	if got, whole := n.cut("limb 4№", Regular.Width(short)); got != short || whole || Regular.Width("№") <= Regular.Width(ellipsis) {
		t.Errorf("%q, said to be whole: %v", got, whole)
	}
}

// A long note is broken rather than cut where a label has room below it.
func TestNotesUseTheRoomBelow(t *testing.T) {
	tag := BranchTag{ID: ids.ID{Year: 2026, Cross: 12}, SeedParent: "Larkfield Tessel", PollenParent: "Tarn Amber",
		Pollinated: "2026-05-03", Note: "south side of the old tree, third limb from below"}
	for _, size := range [][2]float64{{40, 90}, {66.675, 25.4}, {63.5, 33.9}, {70, 37}, {100, 25}} {
		d, err := tag.Fit(Room{W: size[0], H: size[1], Margin: Margin{1.5, 1.5, 1.5, 1.5}, DPI: 600})
		if err != nil {
			t.Fatal(err)
		}
		if len(d.Notices) > 0 {
			t.Errorf("%v mm: %q", size, d.Notices)
		}
	}
}

// On a label higher than wide the names of a bag label stand below its code, whole.
func TestNamesOfNarrowBagLabels(t *testing.T) {
	for _, size := range [][2]float64{{42.5, 58.3}, {47.7, 53}, {40, 90}} {
		d, err := faces("Larkfield Tessel", "Otterhay Lade")["bag"].Fit(Room{W: size[0], H: size[1], Margin: Margin{2, 2, 2, 2}, DPI: 300})
		if err != nil {
			t.Fatal(err)
		}
		code := d.Codes[0].Outer()
		for _, x := range d.Texts {
			if x.String == "Larkfield Tessel" && x.Box.Y < code.Bottom()-0.5 {
				t.Errorf("%v mm: the names stand at %.2f, the code ends at %.2f", size, x.Box.Y, code.Bottom())
			}
		}
		if len(d.Notices) > 0 {
			t.Errorf("%v mm: %q", size, d.Notices)
		}
	}
}

// What is cut off is counted in parts of each width, of all of them. Worked by hand.
func TestShareThatIsLost(t *testing.T) {
	for room, want := range map[float64]float64{1: (0.5 + 0.75) / 3, 2: 0.5 / 3, 3.5: 0.125 / 3, 4: 0, 9: 0} {
		if got := lost([]float64{1, 2, 4}, room); math.Abs(got-want) > 1e-12 {
			t.Errorf("room for %v: %v, want %v", room, got, want)
		}
	}
}
