package registry

import (
	"errors"
	"strings"
	"testing"

	"pipstake/ids"
)

// What a name holds that cannot be seen, or is not what it seems, is reported by
// check where it stands in a cell, and refused or left out where it is typed. The
// characters are Unicode's; those that look alike are in its list of confusables
// (UTS #39).
func TestNamesThatAreNotWhatTheySeem(t *testing.T) {
	for _, c := range []struct {
		name, says string // "" for nothing
		typed      string // as it is taken in; "" where it is refused
	}{
		{"Tarn Amber", "", "Tarn Amber"},
		{"Błota Struga", "", "Błota Struga"},
		{"Яблоко", "", "Яблоко"},
		{"Tarn β", "", "Tarn β"},
		{"Tarn\u00ad Amber", "U+00AD", "Tarn Amber"},
		{"Tarn\u200b Amber", "U+200B", "Tarn Amber"},
		{"Tarn Am\ufffdber", "U+FFFD", ""},
		{"Tаrn Amber", "which is Cyrillic", ""},
		{"Tarn Αmber", "which is Greek", ""},
		{strings.Repeat("A", 5000), "is longer than 500 characters", ""},
	} {
		found := withCrosses(t, "2026X001,"+c.name+",Larkfield Tessel,,,,").Check()
		if said := findingsText(found); (said == "") != (c.says == "") || !strings.Contains(said, c.says) || c.says != "" && !strings.Contains(said, "crosses.csv row 2, column seed_parent") {
			t.Errorf("%.20q in a cell: %q, want %q", c.name, said, c.says)
		}
		got, err := oneName("name", c.name)
		var refusal *Refusal
		if got != c.typed || (c.typed == "") != errors.As(err, &refusal) {
			t.Errorf("%.20q typed: %.20q, %v", c.name, got, err)
		}
	}
}

// A name that is too long for a label stands in the way of printing one, with
// its row and column.
func TestLongNameStandsInTheWay(t *testing.T) {
	r := withCrosses(t, "2026X001,Larkfield Tessel,"+strings.Repeat("A", 5000)+",,,,")
	err := r.ParentsReadable(ids.ID{Year: 2026, Cross: 1})
	var damage *DamageError
	if !errors.As(err, &damage) || !strings.Contains(err.Error(), "crosses.csv row 2, column pollen_parent") {
		t.Errorf("%v", err)
	}
}

// Two names that look the same and are written with other characters are one
// finding, however many rows have them.
func TestNamesThatLookTheSame(t *testing.T) {
	rows := "2026X001,Tarn Amber,Larkfield Tessel,,,,\n" +
		"2026X002,Tarn\u00a0Amber,Larkfield Tessel,,,,\n" +
		"2026X003,Tarn\u00a0Amber,Larkfield Tessel,,,,\n" +
		"2026X004,Zoe\u0308,Zoë,,,,\n" +
		"2026X005,Tarn Ambra,Larkfield Tessel,,,,"
	said := findingsText(withCrosses(t, rows).Check())
	if n := strings.Count(said, "looks like the name in row"); n != 2 || !strings.Contains(said, "row 3, column seed_parent") || !strings.Contains(said, "row 5, column pollen_parent") {
		t.Errorf("%d findings:\n%s", n, said)
	}
}

// withCrosses is a registry that holds nothing but crosses.
func withCrosses(t *testing.T, rows string) *Registry {
	t.Helper()
	return open(t, season(map[string]string{crossesFile: rows, lotsFile: "", potsFile: "", seedlingsFile: "", emergenceFile: "", labelsFile: ""}))
}

func findingsText(found []Finding) string {
	var b strings.Builder
	for _, f := range found {
		b.WriteString(f.String() + "\n")
	}
	return b.String()
}
