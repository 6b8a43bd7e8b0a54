package season

import (
	"slices"
	"testing"

	"pipstake/ids"
	"pipstake/ids/registry"
)

// A yield may still grow where bags are unopened, pots go on, or pots were never
// counted: any of the three will do.
func TestYieldSoFar(t *testing.T) {
	for _, c := range []struct {
		y    Yield
		want bool
	}{{Yield{}, false}, {Yield{Unpicked: 1}, false}, {Yield{Unopened: 1}, true}, {Yield{Going: 1}, true}, {Yield{Waiting: 1}, true}} {
		if c.y.SoFar() != c.want {
			t.Errorf("%+v: so far %v", c.y, !c.want)
		}
	}
}

// Fruit of a cross without a count of its own is that of its bags, the void ones
// left out; picked it is once any of them was opened.
func TestFruitOfItsBags(t *testing.T) {
	for _, c := range []struct {
		lots   string
		fruit  registry.Count
		picked bool
	}{
		{"2024X001-A,,,,,,,,,,,", registry.Count{}, false},
		{"2024X001-A,,,3,,,,,,,,\n2024X001-B,,,4,,,,,,,,", registry.Known(7), false},
		{"2024X001-A,,2024-10-01,3,,,,,,,,\n2024X001-B,,,4,,,,,,,,", registry.Known(7), true},
		{"2024X001-A,,,3,,,,,,,,\n2024X001-B,,2024-10-01,4,,,,void,,,,", registry.Known(3), false},
		{"2024X001-A,,,0,,,,,,,,", registry.Known(0), false},
	} {
		r := written(t, map[string]string{"crosses.csv": crossesHeader + "2024X001,Ann,Bob,,,,,,,,,", "lots.csv": lotsHeader + c.lots})
		if fruit, picked := FruitOf(r, r.Crosses()[0]); fruit != c.fruit || picked != c.picked {
			t.Errorf("%q: %v, picked %v", c.lots, fruit, picked)
		}
	}
}

// What waits is told apart: crosses without a harvest, bags without a count of
// seeds that still grow, pots that go on, pots that nobody counted. Counts that
// contradict each other make no percentage.
func TestWhatOfAYieldIsOpen(t *testing.T) {
	files := map[string]string{
		"crosses.csv": crossesHeader + "2024X001,Ann,Bob,,10,,,,,,,\n2024X002,Ann,Cat,,10,,,,12,,,\n2024X003,Ann,Dan,,10,,,,,,2024-06-01,failed\n2024X004,Ann,Eve,,10,void,,,5,,,\n2024X005,Ann,Flo,,10,,,,10,,,",
		"lots.csv": lotsHeader + "2024X001-A,,,,,,,,,,,\n2024X001-B,,,,,,,,,,,discarded\n2024X002-A,,2024-10-01,3,20,21,,,,,,\n2024X002-B,,2024-10-01,,20,2,,,,,,\n2024X002-C,,2024-10-01,2,,,,,,,,\n" +
			"2024X005-A,,2024-10-01,2,10,10,,void,,,,",
		"pots.csv":      potsHeader + "2024X002-A1,5,2025-01-10,,,,,\n2024X002-A2,5,2025-01-10,,,,,\n2024X002-A3,,2025-01-10,,,,,\n2024X002-A4,5,2025-01-10,,void,,,\n2024X002-A5,5,2025-01-10,,,,2025-02-01,lost\n2024X002-B1,5,2025-01-10,,,,,",
		"seedlings.csv": seedlingsHeader + "2024X002-A2-A,2025-04-01,,,,,,\n2024X002-A2-B,2025-04-01,void,,,The Void,,\n2024X002-A2-C,2025-04-01,,,,The Pick,,\n2024X002-A2-D,2025-04-01,,,,,2025-05-01,died",
		"diary.csv":     diaryHeader + "2024X002-A2-A,2030-08-01,selected,,\n2024X002-A2-D,2026-08-01,note,,tall",
		"emergence.csv": emergenceHeader + "2024X002-A2,2025-03-10,4,0,\n2024X002-B1,2025-03-10,5,1,",
	}
	r := written(t, files)
	y := YieldOf(r, Practice{Protocol: CommonPractice()}, ByYear, Scope{On: day(t, "2025-03-12")})
	got := y.Total
	if len(y.Groups) != 1 || y.Groups[0].Name != "2024" {
		t.Fatalf("%+v", y.Groups)
	}
	for _, part := range []Yield{got, y.Groups[0]} {
		// 001, 002, 003 and 005 are in use; nothing is on record of the harvest of the first.
		if want := []ids.ID{{Year: 2024, Cross: 1}, {Year: 2024, Cross: 2}, {Year: 2024, Cross: 3}, {Year: 2024, Cross: 5}}; !slices.Equal(part.IDs, want) {
			t.Errorf("crosses %v", part.IDs)
		}
		if part.Unpicked != 1 || part.Unopened != 2 || part.Going != 1 || part.Waiting != 1 {
			t.Errorf("unpicked %d, unopened %d, going %d, waiting %d", part.Unpicked, part.Unopened, part.Going, part.Waiting)
		}
		// 12 fruit of 10 flowers contradict each other, so only 0 and 10 of 10 count; 20 seeds in 3 fruit; 21 undeveloped of 20 are none.
		if part.Set != (Part{10, 20}) || part.PerFruit != (Part{20, 3}) || part.Empty != (Part{2, 20}) || part.Germinated != (Part{9, 10}) {
			t.Errorf("set %v, seeds a fruit %v, empty %v, germinated %v", part.Set, part.PerFruit, part.Empty, part.Germinated)
		}
		if got, want := yieldWords(part)[len(part.Name):], ": 40 22 40 23 20 9 3 7 2"; got != want {
			t.Errorf("%s, want %s", got, want)
		}
	}
	if total := YieldOf(r, Practice{Protocol: CommonPractice()}, ByPlace, Scope{On: day(t, "2025-03-12")}).Total; !slices.Equal(total.IDs, got.IDs) {
		t.Errorf("by place: crosses %v", total.IDs)
	}
}

// Only what is in the scope counts, and a name for a group has one spelling.
func TestYieldWithin(t *testing.T) {
	r := written(t, map[string]string{
		"crosses.csv":   crossesHeader + "2024X001,Ann,Bob,,10,,,,4,,,",
		"lots.csv":      lotsHeader + "2024X001-A,,,2,20,1,,,,,,\n2024X001-B,,,2,30,2,,,,,,",
		"pots.csv":      potsHeader + "2024X001-A1,5,2025-01-10,,,,,\n2024X001-A2,6,2025-01-10,,,,,\n2024X001-B1,7,2025-01-10,,,,,",
		"emergence.csv": emergenceHeader,
	})
	cross := ids.ID{Year: 2024, Cross: 1}
	for within, want := range map[ids.ID]string{
		cross:                   ": 10 4 50 3 18 — — — —",
		cross.Child(1):          ": — — 20 1 11 — — — —",
		cross.Child(2).Child(1): ": — — — — 7 — — — —",
	} {
		y := YieldOf(r, Practice{Protocol: CommonPractice()}, ByCross, Scope{Within: []ids.ID{within}, On: day(t, "2025-01-12")})
		if got := yieldWords(y.Total); got != want || len(y.Groups) != 1 || !slices.Equal(y.Total.IDs, []ids.ID{cross}) || !slices.Equal(y.Groups[0].IDs, []ids.ID{cross}) {
			t.Errorf("within %s: %s of %v, want %s", within, got, y.Total.IDs, want)
		}
	}
}
