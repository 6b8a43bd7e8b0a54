package terminal

import "testing"

// The widths are those of Unicode Standard Annex #11: accents and combining
// marks add nothing, wide ideographs take two columns.
func TestTableAlignsByDisplayWidth(t *testing.T) {
	var tb Table
	tb.Row("Larkfield", "1")
	tb.Row("Błota", "2")
	tb.Row("Zo\u0308e", "3") // a combining diaeresis
	tb.Row("湖琥", "4")
	tb.Row("♀ × ♂", "5")
	want := []string{
		"Larkfield  1",
		"Błota      2",
		"Zo\u0308e        3",
		"湖琥       4",
		"♀ × ♂      5",
	}
	for i, line := range tb.Lines("") {
		if line != want[i] {
			t.Errorf("line %d is %q, want %q", i, line, want[i])
		}
	}
}
