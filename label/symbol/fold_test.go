package symbol

import (
	"errors"
	"strings"
	"testing"
)

// Letters without decomposition are written as is common practice in their
// languages' ASCII spellings.
func TestFold(t *testing.T) {
	for _, c := range []struct{ name, want string }{
		{"Larkfield Tessel", "LARKFIELD TESSEL"},
		{"Tarn Amber", "TARN AMBER"},
		{"Orlie d'Ormesson-sur-Tille", "ORLIE DORMESSON-SUR-TILLE"},
		{"Orlie d’Ormesson", "ORLIE DORMESSON"},
		{"Grünhöfer Nüßling", "GRUNHOFER NUSSLING"},
		{"GROẞE ÉTOILE", "GROSSE ETOILE"},
		{"Grünhöfer", "GRUNHOFER"}, // decomposed
		{"Æbleskær Rød", "AEBLESKAER ROD"},
		{"Łąkowa Żółta", "LAKOWA ZOLTA"},
		{"Þórsmörk Eplið", "THORSMORK EPLID"},
		{"Đurđevka", "DURDEVKA"},
		{"Cœur d'Été", "COEUR DETE"},
		{"Işıl İnci", "ISIL INCI"},
		{"Ħamra ŋ ŧ ŉ", "HAMRA NG T N"},
		{"ſchöner ﬁne Ⅷ ½", "SCHONER FINE VIII 1/2"},
		{"Ｔａｒｎ　１２", "TARN 12"},
		{"Tarn – Amber—II‑3 −4", "TARN - AMBER-II-3 -4"},
		{"  Tarn \t\u00a0 Amber ", "TARN AMBER"},
		{"Tarn (Amber), \"early\"; no. 7 & 8!", "TARN AMBER EARLY NO. 7 8"},
		{"A/B//C*3 50% $1 +x:y", "A/B//C*3 50% $1 +X:Y"},
		{"Tarn_Amber", "TARN-AMBER"},
		{"so\u00adft\u200b", "SOFT"},
		{"2026X012-B2-C", "2026X012-B2-C"},
		{"Malus × domestica", "MALUS-X-DOMESTICA"},
		{"Malus x domestica", "MALUS-X-DOMESTICA"},
		{"X 12", "X-12"},
		{"Tarn X", "TARN-X"},
		{"X", "X"},
		{"x X ×", "X-X-X"},
		{"Xenia Fox 2×3", "XENIA FOX 2X3"},
	} {
		got, err := Fold(c.name)
		if err != nil || got != c.want {
			t.Errorf("Fold(%q) = %q, %v, want %q", c.name, got, err, c.want)
		}
	}
}

func TestFoldRefuses(t *testing.T) {
	for _, c := range []struct {
		name string
		r    rune
		want string
	}{
		{"Яблоко", 'Я', `"Яблоко" cannot stand in a code: 'Я' (U+042F) has no counterpart in A–Z and 0–9`},
		{"Tarn Аmber", 'А', `"Tarn Аmber" cannot stand in a code: 'А' (U+0410) has no counterpart in A–Z and 0–9`},
		{"Μήλο", 'Μ', `"Μήλο" cannot stand in a code: 'Μ' (U+039C) has no counterpart in A–Z and 0–9`},
		{"林檎", '林', `"林檎" cannot stand in a code: '林' (U+6797) has no counterpart in A–Z and 0–9`},
		{"Tarn ٣", '٣', `"Tarn ٣" cannot stand in a code: '٣' (U+0663) has no counterpart in A–Z and 0–9`},
		{"Tarn\x1b[31m", '\x1b', `"Tarn\x1b[31m" cannot stand in a code: '\x1b' (U+001B) is a control character`},
		{"Tarn\xe9", '\ufffd', `"Tarn\xe9" cannot stand in a code: it is not UTF-8 text`},
		{"", 0, `"" cannot stand in a code: nothing of it is left in the letters A–Z`},
		{"’ ♀!", 0, `"’ ♀!" cannot stand in a code: nothing of it is left in the letters A–Z`},
	} {
		_, err := Fold(c.name)
		var fold *FoldError
		if !errors.As(err, &fold) {
			t.Errorf("Fold(%q): error %v, want a *FoldError", c.name, err)
			continue
		}
		if fold.Rune != c.r || err.Error() != c.want {
			t.Errorf("Fold(%q):\n got %v (%q)\nwant %s", c.name, err, fold.Rune, c.want)
		}
	}
}

// What is folded keeps to the alphabet, folds to itself and says nothing of
// parents.
func FuzzFold(f *testing.F) {
	for _, name := range []string{"Larkfield Tessel", "Malus × domestica", "Nüßling d’Été", "x X - ×", "Яблоко", "\xff", "´a`b", "ŉ"} {
		f.Add(name)
	}
	f.Fuzz(func(t *testing.T, name string) {
		folded, err := Fold(name)
		if err != nil {
			return
		}
		if err := checkAlphabet(folded); err != nil {
			t.Errorf("Fold(%q) = %q: %v", name, folded, err)
		}
		if again, err := Fold(folded); err != nil || again != folded {
			t.Errorf("Fold(%q) = %q, which folds to %q, %v", name, folded, again, err)
		}
		if strings.Contains(folded, " X ") {
			t.Errorf("Fold(%q) = %q would read as two parents", name, folded)
		}
	})
}
