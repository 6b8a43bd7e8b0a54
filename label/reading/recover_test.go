package reading

import (
	"slices"
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
