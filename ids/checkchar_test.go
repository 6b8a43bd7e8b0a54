package ids_test

import (
	"strings"
	"testing"

	"pipstake/ids"
)

const checkAlphabet = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ"

// ISO/IEC 7064:2003, MOD 37,36. The first three are published as examples of
// the Global Release Identifier, which uses the system; the fourth, of a longer
// standard identifier, is from memory.
func TestCheckCharacterPublished(t *testing.T) {
	for text, want := range map[string]byte{
		"A12425GABC1234002":         'M',
		"B159D8FA01240000":          'K',
		"188166C734200000":          '3',
		"188166C73420000079F3A0245": 'U', // from memory
	} {
		if got := ids.CheckCharacter(text); got != want {
			t.Errorf("CheckCharacter(%q) = %c, want %c", text, got, want)
		}
	}
}

// The system detects every single substitution (ISO/IEC 7064:2003, clause 5).
func TestCheckDetectsEverySubstitution(t *testing.T) {
	for _, id := range samples() {
		text := strings.ReplaceAll(id.String(), "-", "")
		for i := range text {
			for _, c := range []byte(checkAlphabet) {
				if c == text[i] {
					continue
				}
				wrong := text[:i] + string(c) + text[i+1:]
				if got := ids.CheckCharacter(wrong); got == id.Check() {
					t.Errorf("%s and %s have the same check character %c", text, wrong, got)
				}
			}
		}
	}
}

// Recomputed from the definition: over all 36 states, 72 of the 45,360 swaps of
// two different neighbours go unnoticed, all of characters that follow one
// another in the cyclic order 0…9A…Z.
func TestCheckMissesFewTranspositions(t *testing.T) {
	swaps, missed := 0, 0
	for _, state := range checkAlphabet { // one character before leads to each state once
		for i, a := range checkAlphabet {
			for j, b := range checkAlphabet {
				if a == b {
					continue
				}
				swaps++
				if ids.CheckCharacter(string([]rune{state, a, b})) != ids.CheckCharacter(string([]rune{state, b, a})) {
					continue
				}
				missed++
				if d := (i - j + 36) % 36; d != 1 && d != 35 {
					t.Errorf("a swap of %c and %c goes unnoticed", a, b)
				}
			}
		}
	}
	if swaps != 45360 || missed != 72 {
		t.Errorf("%d of %d swaps go unnoticed, want 72 of 45360", missed, swaps)
	}
}

// samples are identifiers of every level, with small and with large numbers.
func samples() []ids.ID {
	return []ids.ID{
		{Year: 2026, Cross: 12}, {Year: 1000, Cross: 1}, {Year: 9999, Cross: ids.MaxCross}, {Year: 2031, Cross: 1000},
		{Year: 2026, Cross: 12, Lot: 2}, {Year: 2026, Cross: 999, Lot: 24}, {Year: 2026, Cross: 7, Lot: 25}, {Year: 2026, Cross: 7, Lot: ids.MaxLot},
		{Year: 2026, Cross: 12, Lot: 2, Pot: 2}, {Year: 2026, Cross: 1, Lot: 9, Pot: 10}, {Year: 2026, Cross: 1, Lot: 14, Pot: ids.MaxPot},
		{Year: 2026, Cross: 12, Lot: 2, Pot: 2, Seedling: 3}, {Year: 2027, Cross: 12345, Lot: 600, Pot: 9999, Seedling: ids.MaxSeedling},
	}
}
