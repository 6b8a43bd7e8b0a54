package label

import (
	"errors"
	"testing"

	"pipstake/ids"
)

// Rectangles that share an edge do not overlap, and one contains itself; a
// thousandth of a millimetre more or less changes nothing.
func TestRectsTouchAndOverlap(t *testing.T) {
	r := Rect{10, 20, 30, 40}
	for _, c := range []struct {
		dx, dy      float64
		inside      bool // of r, moved so far
		overlapping bool
	}{
		{0, 0, true, true},
		{0.0009, 0, true, true}, {-0.0009, 0, true, true}, {0, 0.0009, true, true}, {0, -0.0009, true, true},
		{0.0011, 0, false, true}, {-0.0011, 0, false, true}, {0, 0.0011, false, true}, {0, -0.0011, false, true},
		{30, 0, false, false}, {-30, 0, false, false}, {0, 40, false, false}, {0, -40, false, false},
		{29.9991, 0, false, false}, {-29.9991, 0, false, false}, {0, 39.9991, false, false}, {0, -39.9991, false, false},
		{29.9989, 0, false, true}, {-29.9989, 0, false, true}, {0, 39.9989, false, true}, {0, -39.9989, false, true},
		{31, 0, false, false}, {-31, 0, false, false}, {0, 41, false, false}, {0, -41, false, false},
	} {
		s := r
		s.X, s.Y = s.X+c.dx, s.Y+c.dy
		if r.Contains(s) != c.inside || r.Overlaps(s) != c.overlapping || s.Overlaps(r) != c.overlapping {
			t.Errorf("moved by %v, %v: inside %v, overlapping %v and %v", c.dx, c.dy, r.Contains(s), r.Overlaps(s), s.Overlaps(r))
		}
	}
}

// Where just half of the labels can say all in their codes, those do; where fewer
// can, all carry the identifier alone.
func TestHalfOfTheLabelsSayAll(t *testing.T) {
	r := Room{W: 100, H: 60, Margin: Margin{2, 2, 2, 2}, DPI: 600}
	bag := func(lot int, parent string) Face {
		return Bag{ID: ids.ID{Year: 2026, Cross: 12, Lot: lot}, SeedParent: parent, PollenParent: "Tarn Amber"}
	}
	for _, c := range []struct {
		parents []string
		all     int // of their codes say all
	}{
		{[]string{"Larkfield Tessel", "Яблоко"}, 1},
		{[]string{"Larkfield Tessel", "Яблоко", "Яблоко"}, 0},
		{[]string{"Larkfield Tessel", "Яблоко", "Larkfield Tessel"}, 2},
		{[]string{"Яблоко"}, 0},
	} {
		var faces []Face
		for i, p := range c.parents {
			faces = append(faces, bag(1+i, p))
		}
		drawn, err := Fit(faces, r)
		if err != nil {
			t.Fatal(err)
		}
		all := 0
		for _, d := range drawn {
			if saysAll(d.Codes[0]) {
				all++
			}
		}
		if all != c.all {
			t.Errorf("%q: %d codes say all, want %d", c.parents, all, c.all)
		}
	}
}

// A note that cannot be drawn is refused as a name is.
func TestNotesThatCannotBeDrawn(t *testing.T) {
	tag := BranchTag{ID: ids.ID{Year: 2026, Cross: 12}, SeedParent: "Larkfield Tessel", PollenParent: "Tarn Amber", Note: "梨"}
	r := tagRoom
	r.DPI = 600
	var glyph *GlyphError
	if _, err := tag.Fit(r); !errors.As(err, &glyph) || glyph.Rune != '梨' || glyph.Text != "梨" {
		t.Errorf("%v", err)
	}
}

// A point of 4.9 mm, 0.061 of a stake of 80 mm, is long enough to be clipped.
func TestShortPointsAreClipped(t *testing.T) {
	d, err := faces("A", "B")["stake"].Fit(Room{W: 80, H: 12, Margin: Margin{1.5, 1, 1.5, 1}, DPI: 600, Cut: true})
	if err != nil {
		t.Fatal(err)
	}
	lines := 0
	for _, r := range d.Rules {
		if r.Width == 0.1 {
			lines++
		}
	}
	if lines != 2 {
		t.Errorf("%d lines: %v", lines, d.Rules)
	}
}
