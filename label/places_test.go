package label

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"
)

// In a room of any size a code stands halfway down the label or as high as it may,
// and the identifier begins right of its quiet zone, with a gap of 0.6 mm, or at
// the left edge of what may be printed on.
func TestCodesAndIdentifiersHaveTheirPlaces(t *testing.T) {
	random := rand.New(rand.NewPCG(5, 6))
	rooms, places := 60, map[string]int{}
	if testing.Short() {
		rooms = 12
	}
	for range rooms {
		m := 0.6 + 3*random.Float64()
		r := Room{W: 20 + 110*random.Float64(), H: 10 + 50*random.Float64(), Margin: Margin{m, 1.5, m, 1.5}, DPI: []int{203, 300, 600}[random.IntN(3)]}
		for kind, f := range faces("Larkfield Tessel", "Tarn Amber") {
			if kind == "long stake" || kind == "filled bag" {
				continue
			}
			d, err := f.Fit(r)
			if errors.As(err, new(*RoomError)) {
				continue
			} else if err != nil {
				t.Fatal(err)
			}
			if fault := faultOf(d); fault != "" {
				t.Errorf("%s in %.1f×%.1f mm: %s", kind, r.W, r.H, fault)
			}
			if len(d.Codes) == 0 {
				continue // a back without room for one
			}
			wide := Rect{W: r.W, H: r.H}.Inset(max(m, 2), 2, max(m, 2), 2)
			if d.Safe != r.Safe() && d.Safe != wide {
				t.Errorf("%s in %.1f×%.1f mm: ink lies in %v", kind, r.W, r.H, d.Safe)
			}
			left := d.Safe.X
			if kind == "branch tag" {
				left = max(left, tieRoom)
			}
			for _, c := range d.Codes {
				halfway, top := r.H/2-c.Ink().H/2, max(d.Safe.Y, cutSlack+c.Symbol.Quiet())
				switch {
				case math.Abs(c.Y-halfway) < 1e-6:
					places["halfway"]++
				case math.Abs(c.Y-top) < 1e-6:
					places["top"]++
				default:
					t.Errorf("%s in %.1f×%.1f mm: the code begins at %.3f, halfway would be %.3f, the top %.3f", kind, r.W, r.H, c.Y, halfway, top)
				}
			}
			c, x := d.Codes[0], d.Texts[0].X
			switch {
			case math.Abs(x-c.Outer().Right()-0.6) < 1e-6:
				places["beside"]++
			case math.Abs(x-left) < 1e-6:
				places["below"]++
			default:
				t.Errorf("%s in %.1f×%.1f mm: the identifier begins at %.3f, the quiet zone ends at %.3f", kind, r.W, r.H, x, c.Outer().Right())
			}
			tiled := false
			for _, x := range d.Texts {
				tiled = tiled || x.Turn != Upright
			}
			first := max(d.Safe.X, cutSlack+c.Symbol.Quiet())
			if kind == "branch tag" {
				first = max(left, cutSlack+c.Symbol.Quiet())
				if c.X > first+1e-6 || c.X < tieRoom-4-1e-6 {
					t.Errorf("%s in %.1f×%.1f mm: the code begins at %.3f, the tie needs %d", kind, r.W, r.H, c.X, tieRoom)
				}
			} else if !tiled && math.Abs(c.X-first) > 1e-6 {
				t.Errorf("%s in %.1f×%.1f mm: the code begins at %.3f, it may from %.3f on", kind, r.W, r.H, c.X, first)
			}
		}
	}
	for _, place := range []string{"halfway", "top", "beside", "below"} {
		if places[place] < 2 {
			t.Errorf("%v", places)
		}
	}
}

// A stake too narrow for a tile begins with its code, as far left as it may.
func TestStakesWithoutATile(t *testing.T) {
	for _, r := range []Room{{W: 150, H: 12}, {W: 120, H: 11}, {W: 178, H: 13}} {
		for _, m := range []float64{0.6, 1.5, 3.5} {
			r.DPI, r.Margin = 600, Margin{m, 1, m, 1}
			d, err := faces("Larkfield Tessel", "Tarn Amber")["long stake"].Fit(r)
			if err != nil {
				t.Fatal(err)
			}
			for _, x := range d.Texts {
				if x.Turn != Upright {
					t.Errorf("%v mm: a tile of %v", r.H, x)
				}
			}
			if len(d.Codes) != 2 {
				t.Errorf("%v×%v mm: %d codes", r.W, r.H, len(d.Codes))
			}
			if c := d.Codes[0]; math.Abs(c.X-max(m, cutSlack+c.Symbol.Quiet())) > 1e-6 {
				t.Errorf("%v×%v mm, margin %v: the code begins at %.3f", r.W, r.H, m, c.X)
			}
		}
	}
}

// Lines to clip a point along run inward to the end from both long edges, alike,
// inside what may be printed on and with no text beyond where they begin; the
// strip lies between them, all of it, and the corner that goes to the sheet outside them.
func TestPointsOfStakes(t *testing.T) {
	clipped, spare, strips := 0, 0, 0
	for _, r := range []Room{{W: 148, H: 20}, {W: 139, H: 20}, {W: 100, H: 16}, {W: 178, H: 16}, {W: 102, H: 13}, {W: 216, H: 16}, {W: 60, H: 12}, {W: 148, H: 30}} {
		for _, m := range []float64{1.5, 4.2, 7} {
			r.DPI, r.Margin = 600, Margin{m, 1.5, m, 1.5}
			for _, cut := range []bool{true, false} {
				r.Cut = cut
				d, err := faces("Larkfield Tessel", "Tarn Amber")["stake"].Fit(r)
				if err != nil {
					t.Fatal(err)
				}
				var lines []Rule
				for _, rule := range d.Rules {
					if rule.Width == 0.1 {
						lines = append(lines, rule)
					}
				}
				if len(lines) == 0 {
					if d.Strip != (Rect{}) || d.Spare != (Rect{}) {
						t.Errorf("%v×%v mm: places at a point that is not clipped: %v, %v", r.W, r.H, d.Strip, d.Spare)
					}
					continue
				}
				clipped++
				if !cut {
					t.Errorf("%v×%v mm: lines to clip along on a label that is not cut", r.W, r.H)
				}
				upper, lower := lines[0], lines[1]
				if len(lines) != 2 || upper.X1 != lower.X1 || upper.X2 != lower.X2 || math.Abs(upper.Y1+lower.Y1-r.H) > 1e-9 || math.Abs(upper.Y2+lower.Y2-r.H) > 1e-9 {
					t.Errorf("%v×%v mm: %v", r.W, r.H, lines)
				}
				if upper.X2-upper.X1 < 1 || upper.Y1 != d.Safe.Y || upper.Y2 <= upper.Y1 || upper.Y2 > r.H/2-1+1e-9 || upper.X2 > d.Safe.Right()+1e-9 {
					t.Errorf("%v×%v mm: %v", r.W, r.H, upper)
				}
				// The line goes on to the corner of what has no text, and to the middle of the end.
				slope := (upper.Y2 - upper.Y1) / (upper.X2 - upper.X1)
				from := upper.X1 - upper.Y1/slope
				if math.Abs(from+r.H/2/slope-r.W) > 1e-6 {
					t.Errorf("%v×%v mm: the lines meet at %.2f", r.W, r.H, from+r.H/2/slope)
				}
				if r.W-from < 4 {
					t.Errorf("%v×%v mm: a point of %.2f mm", r.W, r.H, r.W-from)
				}
				for _, x := range d.Texts {
					if x.Box.Right() > from+1e-6 {
						t.Errorf("%v×%v mm: %q ends at %.2f, the point begins at %.2f", r.W, r.H, x.String, x.Box.Right(), from)
					}
				}
				under := func(x float64) float64 { return (x - from) * slope } // the upper line
				s := d.Strip
				if s != (Rect{}) {
					strips++
					if !d.Safe.Contains(s) || s.X < from+0.5 || s.Y < under(s.Right())+0.2 || math.Abs(s.Y+s.H/2-r.H/2) > 1e-9 || s.Right() > upper.X2 {
						t.Errorf("%v×%v mm: the strip %v does not lie between the lines", r.W, r.H, s)
					}
					if s.W < 1.3 || s.H < 8.2 { // the width and height of "10 = 200 mm" at 4 pt
						t.Errorf("%v×%v mm: the strip %v is too small for words", r.W, r.H, s)
					}
				}
				if p := d.Spare; p.W > 0 {
					spare++
					if p.Bottom() > under(p.X)+1e-6 || p.Right() > d.Safe.Right()+1e-9 || p.Y < 0 {
						t.Errorf("%v×%v mm: the corner %v is not outside the lines", r.W, r.H, p)
					}
				}
			}
		}
	}
	// Worked by hand: 100 × 16 mm has 0.061 × 100 = 6.1 mm without text, from 93.9 on;
	// 1.5 mm below the edge a line along the point is at 95.04, and ink ends at 96.70.
	d, err := faces("Larkfield Tessel", "Tarn Amber")["stake"].Fit(Room{W: 100, H: 16, Margin: Margin{1.5, 1.5, 3.3, 1.5}, DPI: 600, Cut: true})
	if err != nil {
		t.Fatal(err)
	}
	found := false
	for _, r := range d.Rules {
		found = found || r.Width == 0.1 && math.Abs(r.X1-95.04375) < 0.001 && math.Abs(r.X2-96.7) < 0.001
	}
	if !found {
		t.Errorf("100×16 mm: no line to clip along: %v", d.Rules)
	}
	if clipped < 6 || spare < 3 || strips < clipped/2 {
		t.Errorf("%d points, %d corners, %d strips", clipped, spare, strips)
	}
}

// On narrow tags the day stands alone, inside what may be printed on.
func TestDayOfANarrowTag(t *testing.T) {
	alone := 0
	for w := 27.0; w < 45; w += 0.7 {
		r := Room{W: w, H: 42.5, Margin: Margin{1.5, 1.5, 1.5, 1.5}, DPI: 600}
		d, err := faces("Larkfield Tessel", "Tarn Amber")["branch tag"].Fit(r)
		if errors.As(err, new(*RoomError)) {
			continue
		} else if err != nil {
			t.Fatal(err)
		}
		if fault := faultOf(d); fault != "" {
			t.Errorf("%.1f mm: %s", w, fault)
		}
		for _, x := range d.Texts {
			if x.String == "2026-05-03" {
				alone++
			}
		}
	}
	if alone == 0 {
		t.Error("the day stands nowhere alone")
	}
}

// A tag that is cut out leaves its lower left corner to the sheet where it is more
// than 14 mm high.
func TestCornerOfATag(t *testing.T) {
	for _, r := range []Room{{H: 13.5}, {H: 14}, {H: 14.1}, {H: 25}, {H: 25, Cut: true}, {H: 14.1, Cut: true}, {H: 14, Cut: true}, {H: 13.5, Cut: true}} {
		r.W, r.DPI, r.Margin = 100, 600, Margin{1.5, 1.5, 1.5, 1.5}
		d, err := faces("Larkfield Tessel", "Tarn Amber")["branch tag"].Fit(r)
		if err != nil {
			t.Fatal(err)
		}
		if spare := d.Spare.W > 0; spare != (r.Cut && r.H > 14) {
			t.Errorf("%v mm high, cut %v: %v", r.H, r.Cut, d.Spare)
		}
		if len(d.Circles) != 1 || d.Circles[0].R != 2.5 || d.Circles[0].Width != 0.2 || d.Circles[0].Y != r.H/2 || d.Circles[0].X-2.5 < 1.5 || d.Circles[0].X+2.5 > d.Codes[0].Outer().X {
			t.Errorf("%v mm high: the hole is %v, the code's quiet zone begins at %.2f", r.H, d.Circles, d.Codes[0].Outer().X)
		}
		for _, x := range d.Texts {
			if x.Box.Overlaps(d.Spare) {
				t.Errorf("%v mm high: %q stands on the corner", r.H, x.String)
			}
		}
	}
}

// A margin at the foot costs a code as much as one at the head: the code moves out
// of its way.
func TestCodesMoveOutOfMargins(t *testing.T) {
	for _, deep := range []float64{1.5, 3, 6, 9, 12} {
		var codes [2]Code
		for i, m := range []Margin{{1.5, 1.5, 1.5, deep}, {1.5, deep, 1.5, 1.5}} {
			b := batch{room: Room{W: 70, H: 37, Margin: m, DPI: 600}}
			c, ok := b.placeText(Rect{0, 0, 37, 37}, "2026X012-B2.3/1")
			if !ok {
				t.Fatalf("%v: no code", m)
			}
			codes[i] = c
		}
		head, foot := codes[1], codes[0]
		if head.Symbol.Choice != foot.Symbol.Choice || math.Abs(head.Y+head.Ink().H-(37-foot.Y)) > 1e-6 {
			t.Errorf("%v mm at the foot: %s at %.2f; at the head: %s at %.2f", deep, foot.Symbol, foot.Y, head.Symbol, head.Y)
		}
	}
}

// Nothing on a tag or a bag label comes nearer than 2 mm to a cut, nor on a large
// label of any face; a stake and a seedling label keep to the 1.5 mm that their room
// asks for, so as to be as large as they can.
func TestDistanceFromCuts(t *testing.T) {
	for _, c := range []struct {
		face string
		w, h float64
		want float64 // millimetres
	}{
		{"branch tag", 100, 25, 2}, {"branch tag", 100, 50, 2}, {"bag", 100, 50, 2}, {"seedling", 62, 40, 2}, {"stake", 148, 30, 2},
		{"stake", 148, 20, 1.5}, {"seedling", 38.1, 21.2, 1.5}, {"branch tag", 178, 16, 1.5}, {"bag", 63.5, 38.1, 1.5},
	} {
		d, err := faces("Larkfield Tessel", "Tarn Amber")[c.face].Fit(Room{W: c.w, H: c.h, Margin: Margin{1.5, 1.5, 1.5, 1.5}, DPI: 600, Cut: true})
		if err != nil {
			t.Fatal(err)
		}
		nearest := c.w
		note := func(r Rect) {
			nearest = min(nearest, r.X, r.Y, c.w-r.Right(), c.h-r.Bottom())
		}
		for _, x := range d.Texts {
			note(x.Box)
		}
		for _, code := range d.Codes {
			note(code.Ink())
		}
		for _, r := range d.Rules {
			note(Rect{min(r.X1, r.X2), min(r.Y1, r.Y2), math.Abs(r.X2 - r.X1), math.Abs(r.Y2 - r.Y1)})
		}
		if math.Abs(nearest-c.want) > 0.01 {
			t.Errorf("%s, %v×%v mm: ink comes as near as %.3f mm, want %v", c.face, c.w, c.h, nearest, c.want)
		}
	}
}
