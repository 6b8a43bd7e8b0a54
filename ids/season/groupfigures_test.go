package season

import (
	"fmt"
	"math"
	"reflect"
	"slices"
	"strings"
	"testing"

	"pipstake/ids"
	"pipstake/ids/registry"
)

// bed is two crosses of 2024 with three lots and six pots: counted to the end,
// never counted, void, lost, and with rows that contradict themselves.
func bed(t *testing.T) *registry.Registry {
	t.Helper()
	return written(t, map[string]string{
		"crosses.csv": crossesHeader + "2024X001,Ann,Bob,,,,,,,,,\n2024X002,Ann,Cat,,,,,,,,,\n2024X003,Ann,Dan,,,void,,,,,,",
		"lots.csv": lotsHeader + "2024X001-A,,2024-10-01,,26,6,,,,,,\n2024X001-B,,2024-10-01,,20,0,,,,,,\n2024X002-A,,2024-10-01,,9,9,,,,,,\n" +
			"2024X003-A,,2024-10-01,,20,1,,,,,,",
		"pots.csv": potsHeader + "2024X001-A1,10,2025-01-10,,,,,\n2024X001-A2,5,2025-01-08,,,,,\n2024X001-B1,8,2025-01-12,,,,,\n2024X002-A1,4,2025-01-10,,,,2025-02-01,lost\n" +
			"2024X002-A2,4,2025-01-10,,,,,\n2024X002-A3,4,2025-01-10,,,,,\n2024X001-B2,4,2025-01-10,,void,,,\n2024X003-A1,4,2025-01-10,,,,,",
		"emergence.csv": emergenceHeader + "2024X001-A1,2025-02-19,4,1,\n2024X001-A1,2025-03-01,9,2,\n2024X001-A2,2025-02-27,5,0,\n2024X001-B1,2025-02-19,0,,\n2024X001-B1,2025-03-09,4,1,\n" +
			"2024X002-A1,2025-01-30,1,,\n2024X002-A2,2025-02-19,3,,\n2024X002-A2,2025-02-20,2,,",
	})
}

// All figures of a group, by hand. Pots of 10, 5 and 8 seeds, sown on 10, 8 and 12
// January; of the first lot 15 of 20 good seeds are sown, so 15/20 of its 6
// undeveloped ones came with them: 4.5, which is rounded up.
func TestFiguresOfAGroup(t *testing.T) {
	practice := Practice{Protocol: CommonPractice()}
	practice.Protocol.Germination.Expected = 80
	own := practice.Protocol
	own.Germination.Expected = 50
	practice.Crosses = map[ids.ID]Protocol{{Year: 2024, Cross: 2}: own}
	whole := Counted{Pots: 1, Sown: 10, Up: 9}
	full := Counted{Pots: 1, Sown: 5, Up: 5}
	poor := Counted{Pots: 1, Sown: 8, Up: 4}
	lost := Counted{Pots: 1, Sown: 4, Up: 1}
	want := Group{
		Name: "2024", IDs: []ids.ID{{Year: 2024, Cross: 1}, {Year: 2024, Cross: 2}}, Pots: 4, Sown: 27, Up: 19, Died: 4, // with the one in the pot that was lost on day 22
		Rises: []Rise{{20, 1}, {22, 0}, {38, 0}, {40, 4}, {50, 10}, {56, 4}}, From: day(t, "2025-01-08"), Until: day(t, "2025-03-09"),
		Undeveloped: 5, Expected: (.8*23 + .5*4) / 27, BrokenOff: 1,
		Over: Counted{Pots: 3, Sown: 23, Up: 18, Expected: .8}, Each: []Counted{whole, full, poor, lost}, Judged: []Counted{whole, full, poor},
		Timed: true,
	}
	out := Germinate(bed(t), practice, ByYear, Scope{On: day(t, "2025-05-01")})
	if len(out.Groups) != 1 {
		t.Fatalf("%d groups", len(out.Groups))
	}
	got := out.Groups[0]
	if len(got.Curve) != 7 || got.Curve[0] != (Point{}) || got.Curve[6] != (Point{56, 19}) {
		t.Errorf("curve %v", got.Curve)
	}
	if got.Timing.First != 40 || got.Timing.Last != 56 || math.Abs(got.Timing.Mean-(4*40+5*50+5*50+4*56)/18.) > 1e-9 {
		t.Errorf("timing %+v", got.Timing)
	}
	if math.Abs(got.Expected-want.Expected) > 1e-12 || math.Abs(got.Over.Expected-.8) > 1e-12 {
		t.Errorf("expected %v, of those that are over %v", got.Expected, got.Over.Expected)
	}
	got.Curve, got.Timing, want.Expected, want.Over.Expected = nil, Timing{}, got.Expected, got.Over.Expected
	if !reflect.DeepEqual(got, want) {
		t.Errorf("%+v, want\n%+v", got, want)
	}
	if !slices.Equal(out.Uncounted, []ids.ID{{Year: 2024, Cross: 2, Lot: 1, Pot: 3}}) || !slices.Equal(out.Unusable, []ids.ID{{Year: 2024, Cross: 2, Lot: 1, Pot: 2}}) {
		t.Errorf("without a count %v, unusable %v", out.Uncounted, out.Unusable)
	}
}

// As long as pots of a group go on, it says until when, and judges none of those
// that are full before: they wait, and are judged on the day after.
func TestFiguresBeforeTheEnd(t *testing.T) {
	r := bed(t)
	for _, c := range []struct {
		on, until     string
		going, judged int
	}{{"2025-03-15", "2025-03-15", 2, 0}, {"2025-03-16", "", 0, 3}} {
		g := Germinate(r, Practice{Protocol: CommonPractice()}, ByYear, Scope{On: day(t, c.on)}).Groups[0]
		if g.Going != c.going || g.LookUntil.String() != c.until || len(g.Judged) != c.judged || g.Over.Pots != c.judged || g.BrokenOff != 1 || len(g.Each) != 4 {
			t.Errorf("on %s: %+v", c.on, g)
		}
		if c.judged == 0 && (g.Over != Counted{} || g.Timed || g.Timing != Timing{} || g.Below(Wilson)) {
			t.Errorf("on %s none is judged: %+v", c.on, g)
		}
	}
	// Groups have the identifier of what they are, and only crosses have undeveloped seed put down to them.
	for by, want := range map[By]string{
		ByPot:   "2024X001-A1 [2024X001-A1] 0; 2024X001-A2 [2024X001-A2] 0; 2024X001-B1 [2024X001-B1] 0; 2024X002-A1 [2024X002-A1] 0",
		ByLot:   "2024X001-A [2024X001-A] 5; 2024X001-B [2024X001-B] 0; 2024X002-A [2024X002-A] 0", // no good seed at all is on record of the last
		ByCross: "2024X001 [2024X001] 5; 2024X002 [2024X002] 0",
	} {
		var got []string
		for _, g := range Germinate(r, Practice{Protocol: CommonPractice()}, by, Scope{On: day(t, "2025-05-01")}).Groups {
			got = append(got, fmt.Sprintf("%s %v %d", g.Name, g.IDs, g.Undeveloped))
		}
		if s := strings.Join(got, "; "); s != want {
			t.Errorf("by %d: %s, want %s", by, s, want)
		}
	}
}

// One seed that was judged is enough to expect something of.
func TestGroupOfOneSeed(t *testing.T) {
	r := written(t, map[string]string{
		"crosses.csv":   crossesHeader + "2024X001,Ann,Bob,,,,,,,,,",
		"lots.csv":      lotsHeader + "2024X001-A,,2024-10-01,,2,1,,,,,,",
		"pots.csv":      potsHeader + "2024X001-A1,1,2025-01-10,,,,,",
		"emergence.csv": emergenceHeader + "2024X001-A1,2025-03-01,1,,",
	})
	g := Germinate(r, Practice{Protocol: CommonPractice()}, ByLot, Scope{On: day(t, "2025-05-01")}).Groups[0]
	if want := (Counted{Pots: 1, Sown: 1, Up: 1, Expected: .85}); g.Over != want || g.Expected != .85 || g.Undeveloped != 1 || g.Rate() != 1 || g.RateOfAll() != .5 {
		t.Errorf("%+v", g)
	}
}

// Nothing is below what nobody expected more of, and nothing at all says nothing.
func TestBelowNeedsSeeds(t *testing.T) {
	for over, want := range map[Counted]bool{{Expected: 1}: false, {Sown: 1, Expected: .5}: false, {Sown: 40, Expected: .5}: true, {Sown: 40, Up: 20, Expected: .5}: false} {
		if got := (Group{Over: over}).Below(Wilson); got != want {
			t.Errorf("%+v: below %v", over, got)
		}
	}
}

// Groups by place, by weeks of cold and by year: places in one spelling are one,
// 48 days are the week from 42 and 49 the next, and what has no cold on record
// stands first.
func TestGroupsInTheirOrder(t *testing.T) {
	r := written(t, map[string]string{
		"crosses.csv":   crossesHeader + "2024X001,Ann,Bob,,,,,,,,,\n2023X001,Ann,Cat,,,,,,,,,",
		"lots.csv":      lotsHeader + "2024X001-A,,,,,,2024-11-23,,,,,\n2024X001-B,,,,,,2024-11-22,,,,,\n2023X001-A,,,,,,,,,,,",
		"pots.csv":      potsHeader + "2024X001-A1,10,2025-01-10,Bench,,,,\n2024X001-B1,5,2025-01-10,attic,,,,\n2023X001-A1,8,2024-01-12,bench,,,,",
		"emergence.csv": emergenceHeader + "2024X001-A1,2025-03-19,4,,\n2024X001-B1,2025-03-19,3,,\n2023X001-A1,2024-03-19,2,,",
	})
	for by, want := range map[By]string{
		ByPlace:        "attic 3, Bench 6",
		ByCold:         " 2, 42–48 4, 49–55 3",
		ByYear:         "2023 2, 2024 7",
		BySowingYear:   "2024 2, 2025 7",
		ByPollenParent: "Bob 7, Cat 2",
		BySeedParent:   "Ann 9",
	} {
		var got []string
		for _, g := range Germinate(r, Practice{Protocol: CommonPractice()}, by, Scope{On: day(t, "2025-05-01")}).Groups {
			got = append(got, fmt.Sprintf("%s %d", g.Name, g.Up))
		}
		if s := strings.Join(got, ", "); s != want {
			t.Errorf("by %d: %s, want %s", by, s, want)
		}
	}
}

// A scope holds what is named, what stands below it, and the crosses of its years.
func TestScope(t *testing.T) {
	pot := ids.ID{Year: 2024, Cross: 1, Lot: 1, Pot: 2}
	for _, c := range []struct {
		scope Scope
		want  bool
	}{
		{Scope{}, true},
		{Scope{Years: []int{2024}}, true},
		{Scope{Years: []int{2023}}, false},
		{Scope{Within: []ids.ID{pot}}, true},
		{Scope{Within: []ids.ID{pot.At(ids.LotLevel)}}, true},
		{Scope{Within: []ids.ID{pot.Child(1)}}, false},
		{Scope{Within: []ids.ID{{Year: 2024, Cross: 2}}}, false},
		{Scope{Within: []ids.ID{{Year: 2024, Cross: 2}}, Years: []int{2024}}, true},
		{Scope{Within: []ids.ID{{Year: 2024, Cross: 1}}, Years: []int{2023}}, true},
		{Scope{Within: []ids.ID{{Year: 2024, Cross: 2}}, Years: []int{2023}}, false},
	} {
		if got := c.scope.holds(pot); got != c.want {
			t.Errorf("%+v holds %s: %v", c.scope, pot, got)
		}
	}
}

// What was up on the day of sowing, or on the day after it at a first count, was
// not seen coming.
func TestHalfOfWhatWasUpAtOnce(t *testing.T) {
	for _, c := range []struct {
		rises []Rise
		want  Half
	}{
		{[]Rise{{0, 4}, {9, 2}}, Half{0, false}},
		{[]Rise{{1, 4}, {9, 2}}, Half{1, true}},
		{[]Rise{{1, 0}, {2, 4}}, Half{1.5, false}},
		{[]Rise{{1, 0}, {3, 4}, {5, 2}}, Half{2.5, false}},
		{[]Rise{{3, 2}, {7, 2}, {9, 0}, {11, 4}}, Half{7, false}},
	} {
		if got, ok := TimingOf(c.rises); !ok || got.HalfFarooq != c.want {
			t.Errorf("%v: %+v, want %+v", c.rises, got.HalfFarooq, c.want)
		}
	}
	// Half of ten is up before the two of the other pot that were first seen on day
	// 28: at 5/8 of the week in which eight came up. Had those two been up from the
	// beginning, it would be at 3/8.
	if got, _ := TimingOf([]Rise{{21, 0}, {28, 8}}, []Rise{{28, 2}}); got.HalfFarooq != (Half{21 + 7*5/8., true}) {
		t.Errorf("%+v", got.HalfFarooq)
	}
}
