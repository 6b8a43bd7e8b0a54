package season

import (
	"fmt"
	"strings"
	"testing"

	"pipstake/ids"
)

// A list for a day begins with what is to be done on it, and has one line for
// each kind and place.
func TestLinesOfADay(t *testing.T) {
	id := func(n int) ids.ID { return lotA.Child(n) }
	task := func(kind Kind, n int, place, from, to string) Task {
		return Task{Kind: kind, ID: id(n), Place: place, From: day(t, from), To: day(t, to)}
	}
	tasks := []Task{
		task(FirstLook, 4, "frame", "2026-02-15", "2026-02-15"),
		task(FirstLook, 5, "frame", "2026-02-16", "2026-02-16"),
		task(FirstLook, 6, "bench", "2026-02-16", "2026-02-16"),
		task(Sow, 9, "", "2026-02-01", "2026-02-28"),
		task(CountAgain, 2, "frame", "2026-02-20", "2026-02-20"),
		task(CountAgain, 1, "frame", "2026-02-20", "2026-02-20"),
		task(CountAgain, 1, "frame", "2026-02-20", "2026-02-20"), // another label of the same
		task(CountAgain, 3, "frame", "2026-02-21", "2026-02-21"),
		task(CountAgain, 7, "frame", "2026-02-22", "2026-02-22"),
	}
	words := func(lines []Line) string {
		var all []string
		for _, l := range lines {
			var pots []string
			for _, id := range l.IDs {
				pots = append(pots, fmt.Sprint(id.Pot))
			}
			s := fmt.Sprintf("%d:%s %s", l.Standing, shown([]Task{l.Task}), strings.Join(pots, "+"))
			if l.Varying {
				s += " varying"
			}
			all = append(all, s)
		}
		return strings.Join(all, "; ")
	}
	on := day(t, "2026-02-20")
	want := "0:sow 2026-02-01..2026-02-28 9; 0:count 2026-02-20 1+2; 1:look 2026-02-16 6; 1:look 2026-02-15 4+5 varying; 2:count 2026-02-21 3; 2:count 2026-02-22 7"
	if got := words(Lines(tasks, on)); got != want {
		t.Errorf("lines\n%s, want\n%s", got, want)
	}
	want = "0:sow 2026-02-01..2026-02-28 9; 1:look 2026-02-15 4; 1:look 2026-02-16 5+6; 0:count 2026-02-20 1+2; 2:count 2026-02-21 3; 2:count 2026-02-22 7"
	if got := words(Entries(tasks, on)); got != want {
		t.Errorf("entries\n%s, want\n%s", got, want)
	}
}
