package label

import (
	"math"
	"math/rand/v2"
	"testing"

	"pipstake/ids"
)

// Names that are too wide for their place are set as large as they go there in
// any of their shapes, no larger than the others and inside the place; where even
// the least size is too wide they are shortened, and that is told.
func TestStrayingNamesAreAsLargeAsTheyGo(t *testing.T) {
	random := rand.New(rand.NewPCG(3, 4))
	names := append(awkwardNames(t, 60), "Larkfield Tessel", "Tarn Amber", "Brackendale Swaleside Longfield Upper")
	seen := map[string]int{}
	for range 250 {
		r := parents(nil, 3, 2, names[random.IntN(len(names))], names[random.IntN(len(names))])
		s := slot{size: leastText + 3*random.Float64()}
		y := 5.0
		for range 1 + random.IntN(3) {
			s.baselines = append(s.baselines, y)
			y += 1.16*s.size + random.Float64()
		}
		c := &column{box: Rect{X: 2, Y: 1, W: 15 + 60*random.Float64(), H: 30}}
		if r.as(len(s.baselines) - 1).fits(c.box.W / s.size) {
			continue
		}
		first, last := s.baselines[0], s.baselines[len(s.baselines)-1]
		head := first - s.size*Regular.caps
		// The largest size at which a shape goes into the place, by trial.
		largest := 0.0
		for _, f := range r.shapes {
			goes := func(em float64) bool {
				high := (float64(len(f)-1)*1.16 + Regular.caps) * em
				return f.fits(c.box.W/em) && (len(f) == 1 || high <= last-head)
			}
			low, high := 0.0, s.size+0.002
			for high-low > 0.001 {
				if em := (low + high) / 2; goes(em) {
					low = em
				} else {
					high = em
				}
			}
			largest = max(largest, min(low, s.size))
		}
		d := &Drawing{}
		size, lines, baselines := c.stray(r, s, d, true)
		switch {
		case largest >= leastText+0.01:
			seen["whole"]++
			if math.Abs(size-largest) > 0.005 {
				t.Fatalf("set in %.3f mm, where %.3f would go", size, largest)
			}
			if smaller := size < 0.998*s.size; smaller != (len(d.Notices) == 1 && d.Notices[0] == "the parents' names are set smaller than on the other labels") && size < 0.9985*s.size {
				t.Errorf("%.3f mm where the others have %.3f: %q", size, s.size, d.Notices)
			}
		case largest < leastText-0.01:
			seen["cut"]++
			if size != leastText || len(d.Notices) != 1 {
				t.Errorf("set in %.3f mm with the notices %q", size, d.Notices)
			}
		}
		if len(baselines) != len(lines) || math.Abs(baselines[len(baselines)-1]-last) > 1e-9 {
			t.Fatalf("%d lines at %v; the place ends at %v", len(lines), baselines, last)
		}
		if !lines.fits(c.box.W / size) {
			short := false // a name of one letter and an ellipsis
			for _, l := range lines {
				short = short || len(l) > 1 && len([]rune(l[1].text)) <= 2
			}
			if !short {
				t.Errorf("lines are wider than %.1f mm at %.3f", c.box.W, size)
			}
		}
		if len(lines) > 1 && baselines[0]-size*Regular.caps < head-1e-6 {
			t.Errorf("%d lines of %.3f mm begin at %.3f, above their place at %.3f", len(lines), size, baselines[0]-size*Regular.caps, head)
		}
		for j := 1; j < len(baselines); j++ {
			if baselines[j]-baselines[j-1] < 1.16*size-1e-9 {
				t.Errorf("lines of %.3f mm stand %.3f apart", size, baselines[j]-baselines[j-1])
			}
		}
	}
	if seen["whole"] < 20 || seen["cut"] < 20 {
		t.Errorf("%v", seen)
	}
}

// A batch is as large as the widest of those labels that go in allows, as long as
// at least half of them go in.
func TestMostLabelsDecide(t *testing.T) {
	for _, c := range []struct {
		widths []float64
		ems    float64
		want   float64
		ok     bool
	}{
		{[]float64{4}, 4, 4, true}, {[]float64{4}, 3.9, 0, false}, {nil, 5, 0, false},
		{[]float64{4, 6}, 5, 4, true},
		{[]float64{4, 6}, 6, 6, true},
		{[]float64{3, 4, 5, 9, 9}, 5, 5, true},
		{[]float64{3, 4, 6, 9, 9}, 5, 0, false}, // two of five
		{[]float64{3, 4, 5, 5, 5}, 5, 5, true},
		{[]float64{3, 4, 6, 9}, 5, 4, true},
		{[]float64{3, 4, 6, 9, 9, 9}, 5, 0, false},
	} {
		m := measuredShape{widths: c.widths}
		if got, ok := m.widest(c.ems); got != c.want || ok != c.ok {
			t.Errorf("%v in %v: %v, %v, want %v, %v", c.widths, c.ems, got, ok, c.want, c.ok)
		}
		if c.ok {
			n := 0.0
			for _, w := range c.widths {
				if w > c.ems {
					n++
				}
			}
			if got := beyond(c.widths, c.ems); math.Abs(got-n/float64(len(c.widths))) > 1e-12 {
				t.Errorf("%v of %v are wider than %v", got, c.widths, c.ems)
			}
		}
	}
}

// A notice says which words are shortened.
func TestNoticesNameWhatIsShortened(t *testing.T) {
	room := Room{W: 45, H: 25, Margin: Margin{1.5, 1.5, 1.5, 1.5}, DPI: 300}
	const long = "the third branch from below, toward the wall and the old well beside the gate"
	for _, c := range []struct {
		tag  BranchTag
		want string
	}{
		{BranchTag{ID: ids.ID{Year: 2026, Cross: 12}, SeedParent: "Larkfield Tessel", PollenParent: "Tarn Amber", Pollinated: "2026-05-03", Note: long}, "the note is shortened on the label"},
		{BranchTag{ID: ids.ID{Year: 2026, Cross: 12}, SeedParent: "Larkfield Tessel of " + long, PollenParent: "Tarn Amber", Pollinated: "2026-05-03"}, "the parents' names are shortened on the label"},
	} {
		d, err := c.tag.Fit(room)
		if err != nil {
			t.Fatal(err)
		}
		if len(d.Notices) != 1 || d.Notices[0] != c.want {
			t.Errorf("%q, want %q", d.Notices, c.want)
		}
	}
}
