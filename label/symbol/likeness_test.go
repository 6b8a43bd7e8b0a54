package symbol

import (
	"math/rand/v2"
	"slices"
	"testing"
)

// likeIn counts, module by module, where a symbol looks like a finder pattern.
func likeIn(r rows) int {
	n := 0
	dark := func(x, y int) bool { return r[y]>>(63-x)&1 == 1 }
	for y := range r {
		for x := range r {
			if likeFinder(dark, len(r), x, y) {
				n++
			}
		}
	}
	return n
}

// plant draws a ring around a middle of w by h modules, like a finder pattern,
// with its upper left corner at x and y, and light modules around it as far as
// the symbol reaches.
func plant(r rows, x, y, w, h int) {
	for dy := -1; dy < h+5; dy++ {
		for dx := -1; dx < w+5; dx++ {
			if x+dx < 0 || y+dy < 0 || x+dx >= len(r) || y+dy >= len(r) {
				continue
			}
			ring := dx == 0 || dy == 0 || dx == w+3 || dy == h+3
			middle := dx >= 2 && dx < w+2 && dy >= 2 && dy < h+2
			outside := dx < 0 || dy < 0 || dx > w+3 || dy > h+3
			bit := uint64(1) << (63 - x - dx)
			r[y+dy] &^= bit
			if (ring || middle) && !outside {
				r[y+dy] |= bit
			}
		}
	}
}

// What looks like a finder pattern is counted as it is described, whatever the
// symbol: among noise, at the edges, and with middles that are just too small or
// too large.
func TestFinderLikenessModuleByModule(t *testing.T) {
	random := rand.New(rand.NewPCG(18004, 2))
	seen := map[bool]int{}
	for range 400 {
		size := qrSize(1 + random.IntN(len(qrCapacity)))
		share := random.Float64()
		r := rowsFrom(size, func(int, int) bool { return random.Float64() < share })
		for range random.IntN(5) {
			w, h := 1+random.IntN(6), 1+random.IntN(6)
			plant(r, random.IntN(size-w-3), random.IntN(size-h-3), w, h)
		}
		for range random.IntN(4) { // flaws
			r[random.IntN(size)] ^= 1 << (63 - random.IntN(size))
		}
		want := likeIn(r)
		seen[want > 0]++
		if got := finderLikeness(r, r.transposed()); got != want {
			t.Fatalf("%d modules look like a finder pattern, want %d, in\n%s", got, want, picture(&Symbol{Choice: Choice{Size: size}, modules: r}))
		}
	}
	if seen[true] < 80 || seen[false] < 80 {
		t.Errorf("with and without something alike: %v", seen)
	}
}

// Of the eight masks that one wins which has the lowest penalty (ISO/IEC 18004,
// evaluation of masking results) among those where data imitate no finder
// pattern; where all imitate one, the one that does so least. Imitations are put
// where a mask of choice shows them and the others do not.
func TestMaskWithoutImitations(t *testing.T) {
	random := rand.New(rand.NewPCG(18004, 3))
	const version, level = 6, 1
	m, err := masksFor(version, level)
	if err != nil {
		t.Fatal(err)
	}
	size := qrSize(version)
	places := [][2]int{{10, 1}, {20, 1}, {1, 10}, {12, 12}, {22, 11}, {1, 21}, {12, 22}, {22, 21}}
	allImitate, standards := 0, 0
	for range 40 {
		first := rowsFrom(size, func(int, int) bool { return random.IntN(2) == 0 })
		chance := random.Float64() * 1.5
		for mask, at := range places {
			if random.Float64() < chance {
				shown := first.xor(m.rows[mask], make(rows, len(first)))
				plant(shown, at[0], at[1], 2+random.IntN(4), 3)
				first = shown.xor(m.rows[mask], make(rows, len(first)))
			}
		}
		for _, at := range [][2]int{{0, 0}, {size - 7, 0}, {0, size - 7}} {
			plant(first, at[0], at[1], 3, 3)
		}
		var masked [8]rows
		var penalties, likeness [8]int
		for k := range masked {
			masked[k] = first.xor(m.rows[k], make(rows, len(first)))
			penalties[k], likeness[k] = countedPenalty(masked[k]), likeIn(masked[k])
		}
		want := 0
		for k := range masked {
			if likeness[k] < likeness[want] || likeness[k] == likeness[want] && penalties[k] < penalties[want] {
				want = k
			}
		}
		if likeness[want] > 27 { // three finder patterns with nine modules in the middle
			allImitate++
		}
		if penalties[want] == slices.Min(penalties[:]) {
			standards++
		}
		got := m.best(first)
		if picture(&Symbol{Choice: Choice{Size: size}, modules: got}) != picture(&Symbol{Choice: Choice{Size: size}, modules: masked[want]}) {
			t.Fatalf("mask %d is not taken; penalties %v, modules that look like a finder pattern %v", want, penalties, likeness)
		}
	}
	if allImitate < 5 || allImitate > 35 || standards < 3 || standards > 30 {
		t.Errorf("of 40 symbols %d imitate a finder pattern with every mask, and %d keep the mask of the lowest penalty: that tells little", allImitate, standards)
	}
}
