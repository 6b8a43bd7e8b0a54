package season

import (
	"strings"
	"testing"

	"pipstake/ids"
	"pipstake/ids/registry"
)

// The rows of a small family: cross 2001X001 with seedlings pricked out in
// 2002.
const (
	parentLots      = "2001X001-A,2001-06-01,2001-11-10,2,8,0,2001-11-20,,"
	parentPots      = "2001X001-A1,8,2002-01-14,,,"
	parentSeedlings = "2001X001-A1-A,2002-04-10,,\n2001X001-A1-B,,,\n2001X001-A1-C,2002-04-10,void,slug"
	pickSeedling    = "\n2001X001-A1-F,2002-04-10,,,,The Pick,,"
)

func TestCheckPedigree(t *testing.T) {
	for _, c := range []struct{ crosses, want string }{
		{"2001X001,Ann,Bob,2001-05-02,,,\n2006X001,2001X001-A1-A,Bob,2006-05-02,,,", ""},
		{"2001X001,Ann,Bob,,,,\n2006X001,2001x001a1a,2001X001-A1-C,2006-05-02,,,", ""}, // a dead plant was alive once
		{"2001X001,Ann,Bob,,,,\n2002X001,2001X001-A1-A,Bob,2002-04-10,,,", ""},
		{"2001X001,Ann,Bob,,,,\n2002X001,2001X001-A1-A,Bob,2002-04-09,,,",
			`crosses.csv row 3, column seed_parent: "2001X001-A1-A" is younger than the cross: it was pricked out on 2002-04-10, after the pollination on 2002-04-09`},
		{"2001X001,Ann,Bob,,,,\n2002X001,Bob,2001X001-A1-B,2002-01-13,,,",
			`crosses.csv row 3, column pollen_parent: "2001X001-A1-B" is younger than the cross: it was sown on 2002-01-14`},
		{"2001X001,Ann,Bob,,,,\n2001X002,2001X001-A1-B,Bob,,,,",
			`crosses.csv row 3, column seed_parent: "2001X001-A1-B" cannot have flowered in 2001: it came of a cross of that year`},
		{"2001X001,Ann,Bob,,,,\n1999X001,2001X001-A1-B,Bob,,,,",
			`crosses.csv row 3, column seed_parent: "2001X001-A1-B" is younger than the cross: it came of a cross of 2001`},
		{"2001X001,Ann,Bob,,,,\n2002X001,Bob,The Pick,2002-04-09,,,",
			`crosses.csv row 3, column pollen_parent: "The Pick" is younger than the cross: it was pricked out on 2002-04-10, after the pollination on 2002-04-09`},
		{"2001X001,Ann,Bob,,,,\n2002X001,Bob,The Pick,2002-04-10,,,", ""},
		{"2001X001,Ann,Bob,,,,\n2006X001,2001X001-A1,Bob,,,,",
			`crosses.csv row 3, column seed_parent: "2001X001-A1" is a pot, not a plant`},
		{"2001X001,Ann,Bob,,,,\n2006X001,2001X001-A1-D,Bob,,,,",
			`crosses.csv row 3, column seed_parent: "2001X001-A1-D" has no row in seedlings.csv`},
		{"2001X001,Ann,Bob,,,,\n2006X001,2001X001-A1-A.K,Bob,,,,",
			`crosses.csv row 3, column seed_parent: "2001X001-A1-A.K" has the check character K, but that of 2001X001-A1-A is `},
		{"2001X001,Ann,Bob,,,,\n2006X001,2001X1-A1-A,Bob,,,,",
			`crosses.csv row 3, column seed_parent: "2001X1-A1-A" looks like an identifier and is none: `},
		{"2001X001,Ann,Bob,,,,\n2006X001,2001X001-A1,Bob,,,void,storm", ""},
		{"2001X001,2001X001-A1-A,Bob,,,,",
			"crosses.csv row 2, column id: \"2001X001\" 2001X001-A1-A is among its own ancestors: 2001X001-A1-A ← 2001X001-A1-A\n" +
				`crosses.csv row 2, column seed_parent: "2001X001-A1-A" cannot have flowered`},
	} {
		r := familyRows(t, c.crosses, "lots.csv", parentLots, "pots.csv", parentPots, "seedlings.csv", parentSeedlings+pickSeedling)
		found := map[string]bool{}
		for _, f := range CheckPedigree(r) {
			found[f.String()] = true
		}
		var wanted []string
		if c.want != "" {
			wanted = strings.Split(c.want, "\n")
		}
		if len(found) != len(wanted) {
			t.Errorf("%s\n%d findings, want %d: %v", c.crosses, len(found), len(wanted), found)
		}
		for _, w := range wanted {
			there := false
			for f := range found {
				there = there || strings.HasPrefix(f, w)
			}
			if !there {
				t.Errorf("%s\nno finding %q among %v", c.crosses, w, found)
			}
		}
	}
}

// Two lines that lead back to their start are two findings, and what descends
// from them is none.
func TestCheckPedigreeTellsEachCircleOnce(t *testing.T) {
	r := familyRows(t, familyCSV("1 = 3a × Bob\n2 = Ann × 1b\n3 = 2a × Cat\n4 = 5a × Dan\n5 = 4a × 4b\n6 = 3b × 5b\n7 = 6a × Ann"))
	circles := 0
	for _, f := range CheckPedigree(r) {
		if strings.Contains(f.What, "among its own ancestors") {
			circles++
		}
	}
	if circles != 2 {
		t.Errorf("%d circles, want 2", circles)
	}
}

func TestCheckParents(t *testing.T) {
	r := familyRows(t, "2001X001,Ann,Bob,2001-05-02,,,", "lots.csv", parentLots, "pots.csv", parentPots, "seedlings.csv", parentSeedlings)
	day := func(s string) registry.Date {
		d, err := registry.ParseDate(s)
		if err != nil {
			t.Fatal(err)
		}
		return d
	}
	for _, c := range []struct {
		seed, pollen string
		year         int
		on           registry.Date
		want         string
	}{
		{"Ann", "Bob", 2001, registry.Date{}, ""},
		{"2001X001-A1-A", "Bob", 2006, day("2006-05-01"), ""},
		{"2001X001-A1-A", "Bob", 2002, registry.Date{}, ""},
		{"Bob", "2001X001-A1-A", 2002, day("2002-02-01"), "pollen parent 2001X001-A1-A is younger than the cross: it was pricked out on 2002-04-10"},
		{"2001X001-A1-A", "Bob", 2001, day("2001-12-30"), "seed parent 2001X001-A1-A cannot have flowered in 2001"},
		{"2001X001-A1-A", "Bob", 1998, registry.Date{}, "seed parent 2001X001-A1-A is younger than the cross: it came of a cross of 2001"},
	} {
		cross := registry.Cross{ID: ids.ID{Year: c.year, Cross: 9}, SeedParent: c.seed, PollenParent: c.pollen, Pollinated: c.on}
		err := CheckParents(r, cross)
		if got := ""; err != nil {
			got = err.Error()
			if c.want == "" || !strings.HasPrefix(got, c.want) {
				t.Errorf("%v: %q, want %q", cross, got, c.want)
			}
		} else if c.want != "" {
			t.Errorf("%v is let through, want %q", cross, c.want)
		}
	}
}
