package reading

import (
	"fmt"
	"testing"

	"pipstake/ids/registry"
)

// What a label says and the registry knows must agree; what either of them does
// not know contradicts nothing.
func TestDifferences(t *testing.T) {
	r := orchard(t)
	for text, want := range map[string]string{
		"2026X001-A1.X/1" + seven:                                          "[]",
		"2026X001-A1.X/1":                                                  "[]",
		"2026X001-A1.X LARKFIELD TESSEL X TARN AMBER":                      "[]",
		"2026X001-A1.X 9 SOWN LARKFIELD TESSEL X TARN AMBER":               "[{2 9 7}]",
		"2026X001-A1.X SOWN 2027-01-41 LARKFIELD TESSEL X TARN AMBER":      "[{3 2027-01-41 2027-01-14}]",
		"2026X001-A1.X 7 SOWN 2027-01-14 TARN AMBER X LARKFIELD TESSEL":    "[{0 TARN AMBER Larkfield Tessel} {1 LARKFIELD TESSEL Tarn Amber}]",
		"2026X001-A1.X 8 SOWN 2027-01-15 LARKFIELD TESSEL X OTTERHAY LADE": "[{1 OTTERHAY LADE Tarn Amber} {2 8 7} {3 2027-01-15 2027-01-14}]",
		"2026X001-A1.X 7 SEEDS":                                            "[{4 7 SEEDS }]",
		"2026X004-A1.9 7 SOWN 2027-01-14 LARKFIELD TESSEL X TARN AMBER":    "[]", // nothing is known of it
	} {
		p := code(t, text)
		if got := fmt.Sprint(Differences(r, p)); got != want {
			t.Errorf("%s: %s, want %s", text, got, want)
		}
	}
}

// Earlier labels said in other words that pollen was of no one plant.
func TestOpenPollinationInOldWords(t *testing.T) {
	r := orchard(t, func(r *registry.Registry) error {
		_, err := r.AddCross(registry.NewCross{SeedParent: "Larkfield Tessel", PollenParent: "open", Pollinated: day(t, "2026-05-03")})
		return err
	})
	for _, word := range []string{"OPEN", "OPEN POLLINATED", "OP"} {
		if d := Differences(r, code(t, "2026X002.Q LARKFIELD TESSEL X "+word)); len(d) > 0 {
			t.Errorf("%s: %v", word, d)
		}
	}
}

// The quick look at many labels finds the same as the close one at each.
func TestStaleLabelsAreThoseThatDisagree(t *testing.T) {
	r := orchard(t, func(r *registry.Registry) error {
		_, err := r.Correct(id(t, "2026X001-A2"), registry.Correction{Seeds: known(5)})
		return err
	}, func(r *registry.Registry) error { // a label that carries another's code
		_, err := r.AddLabels(day(t, "2027-02-01"), []registry.Print{{Face: registry.StakeFace, ID: id(t, "2026X001-A3"), Copy: 1, Stock: "a4-cut-148x20", Sheet: 2, Cell: 1, Payload: "2026X001-A3.T/2"}})
		return err
	}, func(r *registry.Registry) error { // and one that carries none
		_, err := r.AddLabels(day(t, "2027-02-01"), []registry.Print{{Face: registry.StakeFace, ID: id(t, "2026X001-A3"), Copy: 2, Stock: "a4-cut-148x20", Sheet: 2, Cell: 2, Payload: "PEAR"}})
		return err
	})
	var want []string
	for _, l := range r.Labels() {
		if InUse(r, l) && !Compare(r, l).IsNone() {
			want = append(want, KeyOf(l).String())
		}
	}
	var got []string
	for _, s := range StaleLabels(r) {
		got = append(got, KeyOf(s.Label).String())
	}
	if fmt.Sprint(got) != fmt.Sprint(want) || fmt.Sprint(got) != "[2026X001-A2, copy 1 2026X001-A2, copy 2 2026X001-A3, copy 1 2026X001-A3, copy 2]" {
		t.Errorf("%q, want %q", got, want)
	}
}
