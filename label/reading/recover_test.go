package reading

import (
	"fmt"
	"strings"
	"testing"

	"pipstake/ids/registry"
	"pipstake/label/symbol"
)

func recovered(t *testing.T, codes ...string) Recovered {
	t.Helper()
	var all []symbol.Payload
	for _, text := range codes {
		all = append(all, code(t, text))
	}
	return Recover(all)
}

// A stake alone names its pot, lot and cross, and says what the pot holds.
func TestRecoverFromOneStake(t *testing.T) {
	got := recovered(t, "2026X001-A1.X/1"+seven, "2026X001-A1.X/1") // and its second code
	rows := got.Rows
	if len(rows.Crosses) != 1 || rows.Crosses[0].SeedParent != "LARKFIELD TESSEL" || rows.Crosses[0].PollenParent != "TARN AMBER" ||
		len(rows.Lots) != 1 || len(rows.Pots) != 1 || rows.Pots[0].Seeds != registry.Known(7) || rows.Pots[0].Sown != day(t, "2027-01-14") {
		t.Errorf("%+v", rows)
	}
	if len(rows.Labels) != 1 || rows.Labels[0].Copy != 1 || rows.Labels[0].State != registry.LabelLive {
		t.Errorf("labels %+v", rows.Labels)
	}
	if len(got.Conflicts) != 0 || got.Open != 0 {
		t.Errorf("conflicts %q, %d open", got.Conflicts, got.Open)
	}
}

// Where labels differ, most of them are right, and a tie stays open.
func TestMostLabelsAreRight(t *testing.T) {
	eight := strings.Replace(seven, " 7 ", " 8 ", 1)
	stakes := []string{"2026X001-A1.X/1" + seven, "2026X001-A1.X/2" + seven, "2026X001-A1.X/1" + eight, "2026X001-A1.X/2" + eight}
	for n, want := range map[int]string{2: "7", 3: "7", 4: ""} {
		got := recovered(t, stakes[:n]...)
		if seeds := got.Rows.Pots[0].Seeds.String(); seeds != want {
			t.Errorf("%d labels: %q seeds, want %q", n, seeds, want)
		}
		if (n > 2) != (len(got.Conflicts) == 1) {
			t.Errorf("%d labels: conflicts %q", n, got.Conflicts)
		}
		old := 0
		for _, l := range got.Rows.Labels {
			if l.State == registry.Replaced {
				old++
			}
		}
		if want := map[int]int{3: 1}[n]; old != want {
			t.Errorf("%d labels: %d are old, want %d", n, old, want)
		}
	}
}

// What no pot can hold, and days that there are not, stay open.
func TestWhatCannotBeStaysOpen(t *testing.T) {
	for text, want := range map[string]string{
		"2026X001-A1.X/1 100001 SOWN LARKFIELD TESSEL X TARN AMBER":     "no pot holds 100001 seeds",
		"2026X001-A1.X/1 SOWN 2027-02-30 LARKFIELD TESSEL X TARN AMBER": "2027-02-30",
		"2026X001-A1.X/1 SEVEN": "is not one that pipstake writes",
	} {
		got := recovered(t, text)
		if len(got.Conflicts) != 1 || !strings.Contains(got.Conflicts[0], want) {
			t.Errorf("%s: %q", text, got.Conflicts)
		}
		if p := got.Rows.Pots[0]; p.Seeds.Known || !p.Sown.IsZero() {
			t.Errorf("%s: %v seeds, sown %v", text, p.Seeds, p.Sown)
		}
	}
}

// A parent that is a plant of one's own was issued too.
func TestParentsOfOnesOwnAreNamed(t *testing.T) {
	got := recovered(t, "2030X001.8 2026X001-A1-C X TARN AMBER")
	if s := got.Rows.Seedlings; len(s) != 1 || fmt.Sprint(s[0].ID) != "2026X001-A1-C" || len(got.Rows.Crosses) != 2 {
		t.Errorf("%+v", got.Rows)
	}
	if got.Open != 0 { // its pot is known for what came of it
		t.Errorf("%d pots are open", got.Open)
	}
}
