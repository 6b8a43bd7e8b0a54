package reading

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"pipstake/ids/registry"
	"pipstake/label/symbol"
)

// What most labels of an identifier say is taken, and a label that leaves
// something out has no vote on it.
func TestLabelsVote(t *testing.T) {
	const names = "LARKFIELD TESSEL X TARN AMBER"
	for _, c := range []struct {
		name      string
		texts     []string // of the labels of one pot
		seeds     registry.Count
		sown      string
		conflicts []string
		open      int
	}{
		{"alike", []string{"7 SOWN 2027-01-14 " + names, "7 SOWN 2027-01-14 " + names}, registry.Known(7), "2027-01-14", nil, 0},
		{"one without seeds", []string{"SOWN 2027-01-14 " + names, "7 SOWN 2027-01-14 " + names}, registry.Known(7), "2027-01-14", nil, 0},
		{"two without seeds", []string{names, names, "7 SOWN " + names}, registry.Known(7), "", nil, 0},
		{"none with anything", []string{names, names}, registry.Count{}, "", nil, 1},
		{"two against one", []string{"7 SOWN " + names, "7 SOWN " + names, "8 SOWN " + names}, registry.Known(7), "",
			[]string{"2026X001-A1, seeds sown: 2 labels say 7, 1 label says 8; taken: 7"}, 0},
		{"one against one", []string{"7 SOWN " + names, "8 SOWN " + names}, registry.Count{}, "",
			[]string{"2026X001-A1, seeds sown: 1 label says 7, 1 label says 8; left open"}, 0},
		{"as many as a pot may hold", []string{"100000 SOWN " + names}, registry.Known(100_000), "", nil, 0},
		{"more than any pot holds", []string{"100001 SOWN " + names}, registry.Count{}, "",
			[]string{"2026X001-A1: no pot holds 100001 seeds; left open"}, 1},
	} {
		var codes []symbol.Payload
		for i, text := range c.texts {
			codes = append(codes, symbol.Payload{ID: potA.Child(1), Copy: i + 1, Text: text})
		}
		got := Recover(codes)
		if len(got.Rows.Pots) != 1 || len(got.Rows.Crosses) != 1 {
			t.Errorf("%s: %+v", c.name, got.Rows)
			continue
		}
		pot, cross := got.Rows.Pots[0], got.Rows.Crosses[0]
		if pot.Seeds != c.seeds || pot.Sown.String() != c.sown || got.Open != c.open || !slices.Equal(got.Conflicts, c.conflicts) {
			t.Errorf("%s: %v seeds, sown %q, %d open, conflicts %q", c.name, pot.Seeds, pot.Sown, got.Open, got.Conflicts)
		}
		if cross.SeedParent != "LARKFIELD TESSEL" || cross.PollenParent != "TARN AMBER" {
			t.Errorf("%s: parents %q and %q", c.name, cross.SeedParent, cross.PollenParent)
		}
	}
}

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

// A label that was outvoted is an old one.
func TestOutvotedLabelIsOld(t *testing.T) {
	eight := strings.Replace(seven, " 7 ", " 8 ", 1)
	got := recovered(t, "2026X001-A1.X/1"+seven, "2026X001-A1.X/2"+seven, "2026X001-A1.X/1"+eight)
	var said []string
	for _, l := range got.Rows.Labels {
		said = append(said, fmt.Sprintf("%d %s", l.Copy, l.State))
	}
	if want := []string{"1 ", "1 replaced", "2 "}; !slices.Equal(said, want) {
		t.Errorf("%q, want %q", said, want)
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
