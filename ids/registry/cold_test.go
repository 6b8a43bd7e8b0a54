package registry

import (
	"fmt"
	"strings"
	"testing"
)

// A lot goes in, out, in and out; days add up, and slips are mended.
func TestColdInSpells(t *testing.T) {
	dir := newRegistry(t, map[string]string{
		"crosses.csv": "id,seed_parent,pollen_parent,pollinated,flowers,state,notes\n2026X001,A,B,2026-05-04,,,\n",
		"lots.csv":    "id,issued,extracted,fruit,seeds,undeveloped,chilled,state,notes\n2026X001-A,,2026-11-10,,9,,,,\n",
	})
	lot := mustID(t, "2026X001-A")
	for _, step := range []struct {
		day          string
		out, correct bool
		want         string // spells, or the refusal
	}{
		{"2026-12-01", true, false, "nothing says that 2026X001-A is in the cold"},
		{"2026-11-09", false, false, "start of the cold of 2026X001-A on 2026-11-09 comes before the extraction"},
		{"2026-11-20", false, false, "2026-11-20–"},
		{"2026-11-21", false, false, "2026X001-A has been in the cold since 2026-11-20"},
		{"2026-11-21", false, true, "2026-11-21–"},
		{"2026-11-20", true, false, "taking out of the cold of 2026X001-A on 2026-11-20 comes before the start of the cold on 2026-11-21"},
		{"2026-12-01", true, true, "2026X001-A has not come out of the cold"},
		{"2026-12-01", true, false, "2026-11-21–2026-12-01"},
		{"2026-12-02", true, false, "2026X001-A has been out of the cold since 2026-12-01"},
		{"2026-12-03", true, true, "2026-11-21–2026-12-03"},
		{"2026-11-20", false, true, "2026-11-20–2026-12-03"},
		{"2026-12-04", false, true, "start of the cold of 2026X001-A on 2026-12-04 comes after the taking out of the cold"},
		{"2026-12-02", false, false, "return to the cold of 2026X001-A on 2026-12-02 comes before the taking out of the cold on 2026-12-03"},
		{"2026-12-10", false, false, "2026-11-20–2026-12-03 2026-12-10–"},
		{"2026-12-13", false, true, "2026-11-20–2026-12-03 2026-12-13–"},
		{"2026-12-20", true, false, "2026-11-20–2026-12-03 2026-12-13–2026-12-20"},
		{"2026-12-21", false, true, "return to the cold of 2026X001-A on 2026-12-21 comes after the taking out"},
		{"2027-01-01", false, false, "2026-11-20–2026-12-03 2026-12-13–2026-12-20 2027-01-01–"},
	} {
		err := Change(dir, Options{}, func(r *Registry) error {
			_, err := r.Chill(lot, Chilling{On: mustDate(t, step.day), Out: step.out, Correct: step.correct})
			return err
		})
		got := ""
		for _, s := range mustOpen(t, dir).ColdSpells(lot) {
			got += fmt.Sprintf(" %s–%s", s.From, s.To)
		}
		if got = strings.TrimSpace(got); err != nil {
			got = err.Error()
		}
		if got != step.want && (err == nil || !strings.HasPrefix(got, step.want)) {
			t.Errorf("%+v: %s", step, got)
		}
	}
	r := mustOpen(t, dir)
	for day, want := range map[string]int{"2026-11-20": 0, "2026-11-30": 10, "2026-12-03": 13, "2026-12-10": 13, "2026-12-14": 14, "2026-12-31": 20, "2027-01-01": 20, "2027-01-11": 30} {
		if days, known := r.ColdDays(lot, mustDate(t, day)); days != want || !known {
			t.Errorf("%d days by %s (%v), want %d", days, day, known, want)
		}
	}
	if _, known := r.ColdDays(lot, mustDate(t, "2026-11-19")); known {
		t.Error("it was in the cold before it went in")
	}
	if since := r.ColdSince(lot); since != mustDate(t, "2026-12-12") {
		t.Errorf("as if in the cold since %s, want 2026-12-12", since)
	}
}
