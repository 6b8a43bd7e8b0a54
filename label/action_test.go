package label_test

import (
	"errors"
	"math"
	"strings"
	"testing"

	"pipstake/label"
	"pipstake/label/symbol"
)

// A code for something to do is read as it was asked for, with its words beside
// it, wherever it is not refused with the size that would do.
func TestActions(t *testing.T) {
	for _, a := range []label.Action{{Code: "+1", Caption: "one more"}, {Code: "UNDO", Caption: "take back"}, {Code: "X", Caption: ""}, {Code: "I", Caption: "i"}, {Code: "PLACE FRAME 3", Caption: strings.Repeat("a place far away ", 4)}} {
		set := 0
		for w := 30.0; w < 130; w += 3.1 {
			for h := 4.0; h < w/1.5; h += 2.3 {
				r := label.Room{W: w, H: h, DPI: 600}
				d, err := a.Fit(r)
				var small *symbol.TooSmallError
				if errors.As(err, &small) {
					continue
				}
				if err != nil || len(d.Codes) != 1 || len(d.Texts) != 1 || d.Codes[0].Symbol.Payload != a.Code || d.Texts[0].String != a.Caption {
					t.Fatalf("%q in %v × %v: %+v, %v", a.Code, w, h, d, err)
				}
				set++
				c, text := d.Codes[0], d.Texts[0]
				if ink := c.Ink(); c.Outer().H > 0.8*h+1e-9 || math.Abs(ink.Y+ink.H/2-h/2) > 1e-9 {
					t.Errorf("%q in %v × %v: the code is %v", a.Code, w, h, ink)
				}
				if text.Size < 0 || text.Size > 7 || text.Box.X < c.Outer().Right() || math.Abs(text.Box.Y+text.Box.H/2-h/2) > 1e-9 {
					t.Errorf("%q in %v × %v: %q is %v high at %v", a.Code, w, h, a.Caption, text.Size, text.Box)
				}
				if fills := math.Abs(text.Box.Right()-r.Safe().Right()) < 1e-9; a.Caption != "" && text.Size > 0 && text.Size < 7 && !fills {
					t.Errorf("%q in %v × %v: %q is %v high and ends at %v", a.Code, w, h, a.Caption, text.Size, text.Box.Right())
				}
				if text.Size > 0 && text.Box.Right() > r.Safe().Right()+1e-9 {
					t.Errorf("%q in %v × %v: %q ends at %v", a.Code, w, h, a.Caption, text.Box.Right())
				}
			}
		}
		if set < 100 {
			t.Errorf("%q was set in %d rooms", a.Code, set)
		}
	}
}

func TestActionsThatCannotBeSet(t *testing.T) {
	var small *symbol.TooSmallError
	if d, err := (label.Action{Code: "UNDO", Caption: "take back"}).Fit(label.Room{W: 60, H: 5, DPI: 600}); !errors.As(err, &small) || d != nil {
		t.Errorf("in 5 mm: %v, %v", d, err)
	}
	var glyph *label.GlyphError
	if d, err := (label.Action{Code: "UNDO", Caption: "戻る"}).Fit(label.Room{W: 60, H: 30, DPI: 600}); !errors.As(err, &glyph) || glyph.Rune != '戻' || d != nil {
		t.Errorf("in letters that the font has not: %v, %v", d, err)
	}
}
