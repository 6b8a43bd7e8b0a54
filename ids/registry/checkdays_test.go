package registry

import (
	"strings"
	"testing"
)

// contradictionsIn are the findings of check on a season, but for labels that are
// missing.
func contradictionsIn(t *testing.T, files map[string]string) []string {
	t.Helper()
	var all []string
	for _, f := range open(t, season(files)).Check() {
		if !strings.Contains(f.What, "in use") {
			all = append(all, f.String())
		}
	}
	return all
}

// A season in which all has an end is found to be in order, and each day or number
// that is moved too far is found where it stands. What lies on the same day, and
// what is not known, is none.
func TestCheckFindsWhatIsMoved(t *testing.T) {
	if found := contradictionsIn(t, lived()); found != nil {
		t.Fatalf("the season itself: %q", found)
	}
	for _, c := range []struct{ file, old, new, want string }{
		// Crosses: pollination, picking, end, numbers.
		{"crosses.csv", "2026-05-04,12,,,,3,2026-09-20", "2026-09-20,12,,,,3,2026-09-20", ""},
		{"crosses.csv", "2026-05-04,12,,,,3,2026-09-20", "2026-09-21,12,,,,3,2026-09-20", `column picked: "2026-09-20" comes before the pollination on 2026-09-21`},
		{"crosses.csv", ",12,,,,3,", ",3,,,,3,", ""},
		{"crosses.csv", ",12,,,,3,", ",2,,,,3,", `column fruit: "3" is more than the 2 flowers`},
		{"crosses.csv", ",12,,,,3,", ",,,,,3,", ""},
		{"crosses.csv", "2026-07-01,failed", "2026-05-04,failed", ""},
		{"crosses.csv", "2026-07-01,failed", "2026-05-03,failed", `column ended: "2026-05-03" comes before the pollination on 2026-05-04`},
		{"crosses.csv", "2026-09-01,2026-09-10,failed", "2026-09-01,2026-09-01,failed", ""},
		{"crosses.csv", "2026-09-01,2026-09-10,failed", "2026-09-01,2026-08-31,failed", `column ended: "2026-08-31" comes before the picking of the fruit on 2026-09-01`},
		{"crosses.csv", "2026-07-01,failed", "2026-07-01,", `column fate: is missing, though it ended on 2026-07-01`},
		{"crosses.csv", "2026-07-01,failed", ",failed", `column ended: is missing, though it failed`},
		{"crosses.csv", ",12,,,,,,2026-07-01", ",12,void,,,,,2026-07-01", `column state: "void" is void, and yet it failed on 2026-07-01`},
		// Lots.
		{"lots.csv", "2027-02-01,discarded", "2027-01-14,discarded", ""},
		{"lots.csv", "2027-02-01,discarded", "2027-01-13,discarded", `pots.csv row 2, column sown: "2027-01-14" comes after the end, for 2026X001-A was discarded on 2027-01-13`},
		{"lots.csv", "2027-02-01,discarded", "2027-02-01,used-up", `column fate: "used-up" does not go with the 6 seeds that are left`},
		{"lots.csv", ",3,14,1,2026-11-20,,,,2027-02-01,discarded", ",3,8,1,2026-11-20,,,,2027-02-01,used-up", ""},
		{"lots.csv", "2026X001-B,2026-08-01,2026-11-15,,9,,,,,,,", "2026X001-B,2026-08-01,2026-11-15,,9,,,,,,2026-11-14,discarded", `column ended: "2026-11-14" comes before the extraction on 2026-11-15`},
		{"lots.csv", "2026X001-B,2026-08-01,2026-11-15,,9,,,,,,,", "2026X001-B,2026-08-01,2026-11-15,,9,,2026-11-20,,,,2026-11-19,discarded", `column ended: "2026-11-19" comes before the start of the cold on 2026-11-20`},
		{"lots.csv", "2026X001-B,2026-08-01,2026-11-15,,9,,,,,,,", "2026X001-B,2026-08-01,2026-11-15,,9,9,,,,,,", ""},
		{"lots.csv", "2026X001-B,2026-08-01,2026-11-15,,9,,,,,,,", "2026X001-B,2026-08-01,2026-11-15,,9,10,,,,,,", `column undeveloped: "10" is more than the 9 seeds`},
		{"lots.csv", "2025X007-A,2025-08-01,2025-11-16,2,20,0", "2025X007-A,2025-08-01,2025-11-16,2,18,0", ""},
		{"lots.csv", "2025X007-A,2025-08-01,2025-11-16,2,20,0", "2025X007-A,2025-08-01,2025-11-16,2,18,1", `column seeds: "18" less 1 undeveloped is fewer than the 18 sown in its pots`},
		{"lots.csv", "2025X007-B,2025-08-01,2025-11-16,2,20,0", "2025X007-B,2025-08-01,2025-11-16,2,8,0", ""},
		{"lots.csv", "2025X007-B,2025-08-01,2025-11-16,2,20,0", "2025X007-B,2025-08-01,2025-11-16,2,7,0", `column seeds: "7" less 0 undeveloped and 3 discarded or given away is fewer than the 5 sown in its pots`},
		{"lots.csv", "2025X007-B,2025-08-01,2025-11-16,2,20,0", "2025X007-B,2025-08-01,2025-11-16,2,,", `column seeds: no seeds are recorded, but 5 are sown in its pots`},
		// Pots and what came up in them.
		{"pots.csv", "2026-04-01,lost", "2026-03-20,lost", ""},
		{"pots.csv", "2026-04-01,lost", "2026-03-19,lost", `seedlings.csv row 2, column pricked: "2026-03-20" comes after the end, for 2025X007-A1 was lost on 2026-03-19 // seedlings.csv row 3`},
		{"pots.csv", "2025X007-A1,9,2026-01-14,,,,2026-04-01,lost", "2025X007-A1,9,2026-01-14,,,,2026-04-01,emptied", `pots.csv row 3, column fate: "emptied" does not go with 5 up, 1 died and 2 pricked out, which leave 2`},
		{"pots.csv", "2025X007-A1,9,2026-01-14,,,,2026-04-01,lost", "2025X007-A1,5,2026-01-14,,,,2026-04-01,lost", ""},
		{"pots.csv", "2025X007-A1,9,2026-01-14,,,,2026-04-01,lost", "2025X007-A1,4,2026-01-14,,,,2026-04-01,lost", `column up: "5" is more than the 4 seeds sown in 2025X007-A1`},
		{"pots.csv", "2025X007-B1,5,2026-01-14", "2025X007-B1,5,2026-04-02", `diary.csv row 4, column on: "2026-04-01" comes before the sowing of 2025X007-B1 on 2026-04-02`},
		{"pots.csv", "2025X007-B1,5,2026-01-14", "2025X007-B1,5,2026-04-01", ""},
		{"pots.csv", "2025X007-B1,5,2026-01-14,,,,,", "2025X007-B1,5,2026-01-14,,,,2026-03-31,lost", `diary.csv row 4, column on: "2026-04-01" comes after the end, for 2025X007-B1 was lost on 2026-03-31`},
		{"emergence.csv", "2025X007-A1,2026-03-01,5,1,", "2025X007-A1,2026-04-01,5,1,", ""},
		{"emergence.csv", "2025X007-A1,2026-03-01,5,1,", "2025X007-A1,2026-04-02,5,1,", `emergence.csv row 3, column on: "2026-04-02" comes after the end, for 2025X007-A1 was lost on 2026-04-01`},
		{"emergence.csv", "2025X007-A1,2026-03-01,5,1,", "2025X007-A1,2026-03-20,3,1,", ""},
		{"emergence.csv", "2025X007-A1,2026-03-01,5,1,", "2025X007-A1,2026-03-20,3,2,", `emergence.csv row 3, column up: "3" is fewer than the 2 that died and the 2 that were pricked out by 2026-03-20`},
		{"emergence.csv", "2025X007-A1,2026-03-01,5,1,", "2025X007-A1,2026-03-01,5,5,", ""},
		{"emergence.csv", "2025X007-A1,2026-03-01,5,1,", "2025X007-A1,2026-03-01,5,6,", `emergence.csv row 3, column died: "6" is more than the 5 that had come up`},
		{"emergence.csv", "2025X007-A1,2026-02-20,3,0,", "2025X007-A1,2026-02-20,5,1,", ""},
		{"emergence.csv", "2025X007-A1,2026-02-20,3,0,", "2025X007-A1,2026-02-20,5,2,", `emergence.csv row 3, column died: "1" by 2026-03-01 does not go with 2 by 2026-02-20 in row 2`},
		// Seedlings and the diary.
		{"seedlings.csv", "2026-06-01,died", "2026-03-20,died", ""},
		{"seedlings.csv", "2026-06-01,died", "2026-03-19,died", `column ended: "2026-03-19" comes before the pricking out on 2026-03-20`},
		{"seedlings.csv", "2025X007-A1-B,2026-03-20,,,,,,", "2025X007-A1-B,2026-03-20,,,,,2026-05-20,culled", ""},
		{"seedlings.csv", "2025X007-A1-B,2026-03-20,,,,,,", "2025X007-A1-B,2026-03-20,,,,,2026-05-19,culled", `diary.csv row 3, column on: "2026-05-20" comes after the end, for 2025X007-A1-B was culled on 2026-05-19`},
		{"diary.csv", "2025X007-A1-B,2026-05-20,planted,,row 3", "2025X007-A1-B,2026-03-20,planted,,row 3", ""},
		{"diary.csv", "2025X007-A1-B,2026-05-20,planted,,row 3", "2025X007-A1-B,2026-03-19,planted,,row 3", `diary.csv row 3, column on: "2026-03-19" comes before the pricking out of 2025X007-A1-B on 2026-03-20`},
		{"diary.csv", "2025X007-A1-B,2026-05-20,planted,,row 3", "2025X007-A1-B,,planted,,row 3", `diary.csv row 3, column on: the day is missing`},
		{"diary.csv", "2025X007-A1-B,2026-05-20,planted,,row 3", "2025X007-A1,2026-03-20,planted,,row 3", `diary.csv row 3, column what: "planted" is nothing that happens to a pot`},
		{"diary.csv", "2025X007-B,2026-02-01,given,3,", "2025X007-B,2025-11-16,given,3,", ""},
		{"diary.csv", "2025X007-B,2026-02-01,given,3,", "2025X007-B,2025-11-15,given,3,", `diary.csv row 2, column on: "2025-11-15" comes before the extraction of 2025X007-B on 2025-11-16`},
		{"diary.csv", "2025X007-B,2026-02-01,given,3,", "2025X007-B,2026-02-01,given,,", `diary.csv row 2, column number: the number is missing`},
		{"diary.csv", "2025X007-B,2026-02-01,given,3,", "2025X007-B,2026-02-01,given,1,", ""},
		{"diary.csv", "2025X007-B,2026-02-01,given,3,", "2025X007-B,2026-02-01,given,0,", `diary.csv row 2, column number: "0" the number is missing`},
	} {
		files := lived()
		if files[c.file] = strings.Replace(files[c.file], c.old, c.new, 1); files[c.file] == lived()[c.file] && c.old != c.new {
			t.Fatalf("%s has no %q", c.file, c.old)
		}
		found := contradictionsIn(t, files)
		wanted := strings.Split(c.want, " // ")
		if c.want == "" {
			wanted = nil
		}
		ok := len(found) == len(wanted)
		for i := range min(len(found), len(wanted)) {
			ok = ok && strings.Contains(found[i], wanted[i])
		}
		if !ok {
			t.Errorf("%s: %s instead of %s:\n%s\nwant %s", c.file, c.new, c.old, strings.Join(found, "\n"), c.want)
		}
	}
}
