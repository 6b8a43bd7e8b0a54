package symbol

import "math/bits"

// trueFinders is how many modules finderLikeness counts in the three finder
// patterns that belong in a symbol: the inner nine of each.
const trueFinders = 3 * 9

// finderLikeness returns in how many modules a symbol looks like a finder
// pattern along its row and along its column at once: trueFinders, and more
// where data imitate one.
//
// The standard's penalty only minds such a pattern in one line, beside four
// light modules. But a reader that searches from the top and stops at the third
// finder pattern it is sure of, as that of many phones does, takes an imitation
// in the data for the one at the lower left, and never reads the symbol however
// well it is printed: of 6,000 payloads as labels have them, 25.
func finderLikeness(byRow, byColumn rows) int {
	count := 0
	for x, column := range byColumn {
		exact := finderMiddle(column, 3)
		for left := nearFinder(column); left != 0; left &= left - 1 {
			y := 63 - bits.TrailingZeros64(left)
			across := finderMiddle(byRow[y], 3)
			if exact>>(63-y)&1 == 1 {
				across = nearFinder(byRow[y])
			}
			count += int(across >> (63 - x) & 1)
		}
	}
	return count
}

// nearFinder returns the middle modules of what readers take for a finder
// pattern's 1:1:3:1:1 along a line: each run may be off by half a module of the
// whole pattern's seventh, and the middle one by three halves, which leaves
// middles of two to five modules.
func nearFinder(line uint64) uint64 {
	return finderMiddle(line, 2) | finderMiddle(line, 3) | finderMiddle(line, 4) | finderMiddle(line, 5)
}

// finderMiddle returns the middle modules, set in a word, of each place of a
// line with one dark module, one light, width dark, one light and one dark, and
// light modules or the symbol's edge around.
func finderMiddle(line uint64, width int) uint64 {
	at := line &^ (line >> 1) &^ (line << 1) // at the first dark module
	at &^= line << (width + 2)
	at &= line << (width + 3)
	at &^= line << (width + 4)
	for k := range width {
		at &= line << (2 + k)
	}
	middle := uint64(0)
	for k := range width {
		middle |= at >> (2 + k)
	}
	return middle
}
