package symbol

import (
	"errors"
	"testing"
)

func TestFactsText(t *testing.T) {
	for _, c := range []struct {
		facts Facts
		want  string
		back  Facts // names folded
	}{
		{Facts{7, "2027-01-14", "Larkfield Tessel", "Tarn Amber"}, "7 SOWN 2027-01-14 LARKFIELD TESSEL X TARN AMBER",
			Facts{7, "2027-01-14", "LARKFIELD TESSEL", "TARN AMBER"}},
		{Facts{0, "", "Larkfield Tessel", "Tarn Amber"}, "LARKFIELD TESSEL X TARN AMBER",
			Facts{0, "", "LARKFIELD TESSEL", "TARN AMBER"}},
		{Facts{12, "", "Nüßling", "2026X012-B2-C"}, "12 SOWN NUSSLING X 2026X012-B2-C",
			Facts{12, "", "NUSSLING", "2026X012-B2-C"}},
		{Facts{0, "2027-01-14", "Tarn Amber", "Tarn Amber"}, "SOWN 2027-01-14 TARN AMBER X TARN AMBER",
			Facts{0, "2027-01-14", "TARN AMBER", "TARN AMBER"}},
		{Facts{3, "2027-01-14", "Malus × domestica", "X"}, "3 SOWN 2027-01-14 MALUS-X-DOMESTICA X X",
			Facts{3, "2027-01-14", "MALUS-X-DOMESTICA", "X"}},
		{Facts{0, "", "X", "X"}, "X X X", Facts{0, "", "X", "X"}},
		{Facts{0, "", "Sown Early", "Tarn"}, "SOWN EARLY X TARN", Facts{0, "", "SOWN EARLY", "TARN"}},
	} {
		got, err := c.facts.Text()
		if err != nil || got != c.want {
			t.Errorf("%+v: got %q, %v, want %q", c.facts, got, err, c.want)
		}
		if back, ok := ParseFacts(got); !ok || back != c.back {
			t.Errorf("ParseFacts(%q) = %+v, %v, want %+v", got, back, ok, c.back)
		}
	}
}

func TestFactsTextRefuses(t *testing.T) {
	for _, c := range []struct {
		facts Facts
		want  string
	}{
		{Facts{7, "2027-01-14", "Яблоко", "Tarn Amber"}, `"Яблоко" cannot stand in a code: 'Я' (U+042F) has no counterpart in A–Z and 0–9`},
		{Facts{7, "2027-01-14", "Tarn Amber", "Яблоко"}, `"Яблоко" cannot stand in a code: 'Я' (U+042F) has no counterpart in A–Z and 0–9`},
		{Facts{0, "", "7 sown", "Tarn"}, `"7 SOWN X TARN" cannot stand in a code: it would be read otherwise than it is meant`},
		{Facts{7, "14.01.2027", "Larkfield", "Tarn"}, `"7 SOWN 14.01.2027 LARKFIELD X TARN" cannot stand in a code: it would be read otherwise than it is meant`},
		{Facts{-7, "2027-01-14", "Larkfield", "Tarn"}, `"-7 SOWN 2027-01-14 LARKFIELD X TARN" cannot stand in a code: it would be read otherwise than it is meant`},
	} {
		_, err := c.facts.Text()
		if !errors.As(err, new(*FoldError)) || err.Error() != c.want {
			t.Errorf("%+v:\n got %v\nwant %s", c.facts, err, c.want)
		}
	}
}

func TestParseFactsRefuses(t *testing.T) {
	for _, text := range []string{
		"", "X", " X ", "LARKFIELD TESSEL", "LARKFIELD X", "X TARN", "LARKFIELD X TARN X AMBER", "larkfield X tarn",
		"LARKFIELD  TESSEL X TARN", " LARKFIELD X TARN", "7 SOWN 2027-01-14", "7 SOWN 2027-01-14 LARKFIELD",
		"7 SOWN 2027-01-14 X TARN", "9999999999 SOWN 2027-01-14",
	} {
		if f, ok := ParseFacts(text); ok {
			t.Errorf("ParseFacts(%q) = %+v, want none", text, f)
		}
	}
}

// Whatever the facts, their text reads back as them.
func FuzzFacts(f *testing.F) {
	f.Add(7, "2027-01-14", "Larkfield Tessel", "Tarn Amber")
	f.Add(0, "", "X", "Malus × domestica")
	f.Add(0, "", "7 sown 2027-01-14 a", "b")
	f.Fuzz(func(t *testing.T, seeds int, sown, seedParent, pollenParent string) {
		facts := Facts{seeds, sown, seedParent, pollenParent}
		text, err := facts.Text()
		if err != nil {
			return
		}
		if err := checkAlphabet(text); err != nil {
			t.Error(err)
		}
		facts.SeedParent, _ = Fold(seedParent)
		facts.PollenParent, _ = Fold(pollenParent)
		if back, ok := ParseFacts(text); !ok || back != facts {
			t.Errorf("%q reads back as %+v, %v, want %+v", text, back, ok, facts)
		}
	})
}
