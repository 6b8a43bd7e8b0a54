package season

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"pipstake/ids"
	"pipstake/ids/registry"
)

// The headers of files as the program makes them.
const (
	lotsHeader      = "id,issued,extracted,fruit,seeds,undeveloped,chilled,state,notes,kept,ended,fate\n"
	potsHeader      = "id,seeds,sown,place,state,notes,ended,fate\n"
	seedlingsHeader = "id,pricked,state,notes,place,name,ended,fate\n"
	crossesHeader   = "id,seed_parent,pollen_parent,pollinated,flowers,state,notes,source,fruit,picked,ended,fate\n"
	emergenceHeader = "pot,on,up,died,notes\n"
	labelsHeader    = "batch,printed,face,id,copy,stock,sheet,cell,payload,state\n"
	diaryHeader     = "id,on,what,number,text\n"
)

// worn lists what labels are worn on a day, as "face of id copy: from, until; since
// at place".
func worn(r *registry.Registry, lasts int, on registry.Date) []string {
	p := CommonPractice()
	p.Labels.OutdoorDays = lasts
	var all []string
	for _, task := range Due(r, Practice{Protocol: p}, on) {
		if task.Kind == LabelWorn {
			all = append(all, fmt.Sprintf("%s of %s: %s until %s, since %s at %s", task.Label.Face, task.ID, task.From, task.Until, task.Since, task.Place))
		}
	}
	return all
}

// A branch tag wears from its printing on, and is of use until 270 days after the
// blossom, or after the printing where nobody wrote down the blossom; for ever
// where neither is known. 2 May and 270 days are 27 January, 10 May and 270 days
// 4 February (counted by hand).
func TestBranchTagsWearUntilTheHarvest(t *testing.T) {
	for _, c := range []struct {
		cross, lot, printed string // pollinated,,,,,fruit,picked,ended,fate
		lasts               int
		on, want            string
	}{
		{"2025-05-02,,,,,,,,", "", "2025-05-04", 100, "2025-06-01", "2025-08-12 until 2026-01-27, since 2025-05-04"},
		{"2025-05-02,,,,,,,,", "", "2025-05-04", 100, "2026-01-27", "2025-08-12 until 2026-01-27, since 2025-05-04"},
		{"2025-05-02,,,,,,,,", "", "2025-05-04", 100, "2026-01-28", ""},
		{"2025-05-02,,,,,,,,", "", "2025-05-04", 268, "2025-06-01", "2026-01-27 until 2026-01-27, since 2025-05-04"},
		{"2025-05-02,,,,,,,,", "", "2025-05-04", 269, "2025-06-01", ""}, // it lasts longer than it is of use
		{",,,,,,,,", "", "2025-05-10", 100, "2025-06-01", "2025-08-18 until 2026-02-04, since 2025-05-10"},
		{",,,,,,,,", "", "", 100, "2025-06-01", ""},
		{"2025-05-02,,,,,,,,", "", "", 100, "2025-06-01", ""},
		{"2025-05-02,,,,,,2025-09-20,,", "", "2025-05-04", 100, "2025-06-01", ""}, // picked
		{"2025-05-02,,,,,,,2025-07-01,failed", "", "2025-05-04", 100, "2025-06-01", ""},
		{"2025-05-02,,,,,,,,", "2025-10-01,,,,,,,,,", "2025-05-04", 100, "2025-06-01", ""}, // opened
		{"2025-05-02,,,,,,,,", ",,,,,,,,,", "2025-05-04", 100, "2025-06-01", "2025-08-12 until 2026-01-27, since 2025-05-04"},
		{"2025-05-02,,,,,,,,", "2025-10-01,,,,,void,,,,", "2025-05-04", 100, "2025-06-01", "2025-08-12 until 2026-01-27, since 2025-05-04"},
	} {
		files := map[string]string{
			"crosses.csv": crossesHeader + "2025X001,Ann,Bob," + c.cross,
			"labels.csv":  labelsHeader + "1," + c.printed + ",branch,2025X001,,roll,1,1,,",
		}
		if c.lot != "" {
			files["lots.csv"] = lotsHeader + "2025X001-A,," + c.lot
		}
		want := ""
		if c.want != "" {
			want = "branch of 2025X001: " + c.want + " at "
		}
		if got := strings.Join(worn(written(t, files), c.lasts, day(t, c.on)), "; "); got != want {
			t.Errorf("%+v: %q, want %q", c, got, want)
		}
	}
}

// Labels in pots and beside seedlings wear from the later of printing and standing
// out; what has no day at all never does. Spoilt labels, void pots and dead plants
// ask for nothing.
func TestLabelsWearWhereTheyStand(t *testing.T) {
	r := written(t, map[string]string{
		"crosses.csv":   crossesHeader + "2025X001,Ann,Bob,,,,,,,,,",
		"lots.csv":      lotsHeader + "2025X001-A,,,,,,,,,,,",
		"pots.csv":      potsHeader + "2025X001-A1,8,2026-01-14,frame,,,,\n2025X001-A2,8,,bench,,,,\n2025X001-A3,8,2026-01-14,,void,,,\n2025X001-A4,8,,,,,,\n2025X001-A5,8,2026-01-14,,,,,",
		"seedlings.csv": seedlingsHeader + "2025X001-A5-A,2026-04-10,,,row 3,,,\n2025X001-A5-B,2026-04-10,,,,,2026-05-01,died\n2025X001-A5-C,,,,,,,",
		"labels.csv": labelsHeader + "1,2026-01-10,stake,2025X001-A1,1,roll,1,1,,\n1,2026-01-10,stake,2025X001-A1,2,roll,1,2,,spoilt\n" +
			"1,2026-01-10,stake,2025X001-A2,1,roll,1,3,,\n1,2026-01-10,stake,2025X001-A3,1,roll,1,4,,\n1,,stake,2025X001-A4,1,roll,1,5,,\n" +
			"1,2026-04-01,seedling,2025X001-A5-A,,roll,1,6,,\n1,2026-04-01,seedling,2025X001-A5-B,,roll,1,7,,\n1,,seedling,2025X001-A5-C,,roll,1,8,,\n" +
			"1,2026-01-10,bag,2025X001-A,,roll,1,9,,",
	})
	want := []string{
		"stake of 2025X001-A2: 2026-04-20 until , since 2026-01-10 at bench",
		"stake of 2025X001-A1: 2026-04-24 until , since 2026-01-14 at frame",
		"seedling of 2025X001-A5-A: 2026-07-19 until , since 2026-04-10 at row 3",
	}
	for _, on := range []string{"2026-04-02", "2030-01-01"} {
		if got := worn(r, 100, day(t, on)); !slices.Equal(got, want) {
			t.Errorf("on %s:\n%s\nwant\n%s", on, strings.Join(got, "\n"), strings.Join(want, "\n"))
		}
	}
}

// Tasks come by their first day, then in the order of a season, then by their last
// day, and then by what they are for.
func TestTasksAreInOrder(t *testing.T) {
	r := written(t, map[string]string{
		"crosses.csv":   crossesHeader + "2025X002,Ann,Bob,,,,,,,,,\n2025X001,Ann,Bob,,,,,,,,,",
		"lots.csv":      lotsHeader + "2025X002-A,,,,9,,2025-12-20,,,,,\n2025X001-B,,,,9,,2025-12-16,,,,,\n2025X001-A,,,,9,,2025-12-16,,,,,",
		"pots.csv":      potsHeader + "2025X001-A2,3,2026-01-14,,,,,\n2025X001-A1,3,2026-01-14,,,,,",
		"labels.csv":    labelsHeader + "1,2025-02-16,stake,2025X001-A2,2,roll,1,1,,\n1,2025-02-16,stake,2025X001-A2,1,roll,1,2,,\n1,2025-02-16,stake,2025X001-A1,1,roll,1,3,,",
		"emergence.csv": emergenceHeader,
	})
	p := CommonPractice()
	p.Labels.OutdoorDays = 32 // from sowing on: to 2026-02-15
	var got []string
	for _, task := range Due(r, Practice{Protocol: p}, day(t, "2026-01-18")) {
		got = append(got, fmt.Sprintf("%s of %s %d", shown([]Task{task}), task.ID, task.Label.Copy))
	}
	want := []string{
		"opens 2026-01-19 of 2025X002-A 0",
		"sow 2026-01-15..2026-02-14 of 2025X001-A 0", "sow 2026-01-15..2026-02-14 of 2025X001-B 0",
		"sow 2026-01-19..2026-02-18 of 2025X002-A 0",
		"closes 2026-02-14 of 2025X001-A 0", "closes 2026-02-14 of 2025X001-B 0",
		"look 2026-02-15 1/0 of 2025X001-A1 0", "look 2026-02-15 1/0 of 2025X001-A2 0",
		"worn 2026-02-15 of 2025X001-A1 1", "worn 2026-02-15 of 2025X001-A2 1", "worn 2026-02-15 of 2025X001-A2 2",
		"closes 2026-02-18 of 2025X002-A 0",
	}
	slices.SortStableFunc(want, func(a, b string) int { return strings.Compare(strings.Fields(a)[1][:10], strings.Fields(b)[1][:10]) })
	if !slices.Equal(got, want) {
		t.Errorf("got\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
}

// Bags whose seed is not counted, empty bags, seed without a day, and pots that
// were never sown ask for nothing.
func TestWhatIsNotKnownAsksForNothing(t *testing.T) {
	for lot, want := range map[string]string{
		"2025-11-15,,9,2,,,,,,":          "water 2025-11-16 1/2, water 2025-11-17 2/2, end 2025-11-18",
		"2025-11-15,,9,9,,,,,,":          "",
		"2025-11-15,,,,,,,,,":            "",
		",,9,2,,,,,,":                    "",
		"2025-11-15,,9,2,,void,,,,":      "",
		"2025-11-15,,9,2,,,,,,used-up":   "",
		"2025-11-15,,9,2,,,,2027,,":      "kept 2027-01-01..2027-12-31",
		"2025-11-15,,9,,2025-11-20,,,,,": "opens 2025-12-20, sow 2025-12-20..2026-01-19, closes 2026-01-19",
	} {
		r := written(t, map[string]string{
			"crosses.csv": crossesHeader + "2025X001,Ann,Bob,,,,,,,,,",
			"lots.csv":    lotsHeader + "2025X001-A,," + lot,
			"pots.csv":    potsHeader + "2025X001-B1,3,,,,,,",
		})
		if got := shown(Due(r, Practice{Protocol: CommonPractice()}, day(t, "2025-11-15"))); got != want {
			t.Errorf("%s: %q, want %q", lot, got, want)
		}
	}
}

// A pot whose last count has no day waits for that day to be mended, and a pot that
// was counted after the season for nothing.
func TestCountsOfOddPots(t *testing.T) {
	for counts, want := range map[string]string{
		"2026-02-20,2,,": "count 2026-02-27 2/0",
		",3,,":           "",
		"2026-03-20,2,,": "",
	} {
		r := written(t, map[string]string{
			"crosses.csv":   crossesHeader + "2025X001,Ann,Bob,,,,,,,,,",
			"lots.csv":      lotsHeader + "2025X001-A,,,,9,,,,,,,",
			"pots.csv":      potsHeader + "2025X001-A1,8,2026-01-14,frame,,,,",
			"emergence.csv": emergenceHeader + "2025X001-A1," + counts,
		})
		tasks := Due(r, Practice{Protocol: CommonPractice()}, day(t, "2026-02-21"))
		if got := shown(tasks); got != want || want != "" && tasks[0].Place != "frame" {
			t.Errorf("%q: %q, want %q", counts, got, want)
		}
	}
}

// Seed out of the cold asks to be sown once it has had enough of it, in what is
// left of the next season: 30 days by 15 December, from there on; 29 days never.
func TestSowingAfterTheCold(t *testing.T) {
	for out, want := range map[string]string{
		"2025-12-14": "",
		"2025-12-15": "sow 2025-12-15..2026-02-28",
		"2026-03-01": "sow 2026-12-01..2027-02-28",
	} {
		r := written(t, map[string]string{
			"crosses.csv": crossesHeader + "2025X001,Ann,Bob,,,,,,,,,",
			"lots.csv":    lotsHeader + "2025X001-A,,2025-11-01,,9,,2025-11-15,,,,,",
			"diary.csv":   diaryHeader + "2025X001-A," + out + ",out-of-cold,,",
		})
		tasks := Due(r, Practice{Protocol: CommonPractice()}, day(t, "2025-12-15"))
		if got := shown(tasks); got != want || want != "" && tasks[0].Since.String() != out {
			t.Errorf("out of the cold %s: %q, want %q", out, got, want)
		}
	}
}

// One line of a list has the earliest of all days, every task in its order, and
// every identifier once; it varies where any of the numbers does.
func TestALineHoldsItsTasks(t *testing.T) {
	base := Task{Kind: CountAgain, ID: lotA.Child(3), Place: "frame", From: day(t, "2026-02-20"), To: day(t, "2026-02-20"), Until: day(t, "2026-03-15"), N: 2, Of: 0, Since: day(t, "2026-01-10")}
	on := day(t, "2026-02-25")
	earlier := day(t, "2026-02-18")
	for name, change := range map[string]func(*Task){
		"nothing": func(*Task) {},
		"from":    func(k *Task) { k.From = earlier },
		"to":      func(k *Task) { k.To = earlier },
		"until":   func(k *Task) { k.Until = day(t, "2026-03-01") },
		"number":  func(k *Task) { k.N = 3 },
		"of":      func(k *Task) { k.Of = 4 },
		"since":   func(k *Task) { k.Since = day(t, "2026-01-01") },
	} {
		other := base
		other.ID = lotA.Child(1)
		change(&other)
		for _, tasks := range [][]Task{{base, other}, {other, base}} {
			lines := Lines(tasks, on)
			if len(lines) != 1 {
				t.Fatalf("%s: %d lines", name, len(lines))
			}
			l := lines[0]
			first := func(a, b registry.Date) registry.Date {
				if b.Before(a) {
					return b
				}
				return a
			}
			if l.From != first(base.From, other.From) || l.To != first(base.To, other.To) || l.Until != first(base.Until, other.Until) || l.Since != first(base.Since, other.Since) {
				t.Errorf("%s: %+v", name, l.Task)
			}
			if l.Varying != (name != "nothing" && name != "until") || !slices.Equal(l.Tasks, tasks) || !slices.Equal(l.IDs, []ids.ID{lotA.Child(1), lotA.Child(3)}) {
				t.Errorf("%s: varying %v, %d tasks of %v", name, l.Varying, len(l.Tasks), l.IDs)
			}
		}
	}
}
