package main

import (
	"fmt"
	"testing"

	"pipstake/ids"
	"pipstake/ids/registry"
	"pipstake/label/reading"
)

// potTags are the stakes of pot n, those of the given copies.
func potTags(n int, copies ...int) []reading.Key {
	var tags []reading.Key
	for _, c := range copies {
		tags = append(tags, reading.Key{Face: registry.StakeFace, ID: ids.ID{Year: 2026, Cross: 12, Lot: 2, Pot: n}, Copy: c})
	}
	return tags
}

func TestSpots(t *testing.T) {
	join := func(parts ...[]reading.Key) []reading.Key {
		var all []reading.Key
		for _, p := range parts {
			all = append(all, p...)
		}
		return all
	}
	pair := []int{1, 2}
	for _, c := range []struct {
		name     string
		tags     []reading.Key
		perSheet int
		want     string // sheet.cell of each
	}{
		{"pairs", join(potTags(1, pair...), potTags(2, pair...)), 20, "[1.1 1.2 1.3 1.4]"},
		{"a single in front of a pair", join(potTags(1, 2), potTags(2, pair...)), 20, "[1.1 1.3 1.4]"},
		{"singles", join(potTags(1, 1), potTags(2, 1), potTags(3, 2)), 20, "[1.1 1.2 1.3]"},
		{"a copy 2 in front of a copy 1 is no pair", join(potTags(1, 2), potTags(1, 1)), 20, "[1.1 1.2]"},
		{"the next sheet", join(potTags(1, pair...), potTags(2, pair...)), 2, "[1.1 1.2 2.1 2.2]"},
		{"an odd sheet keeps pairs whole", join(potTags(1, pair...), potTags(2, pair...)), 3, "[1.1 1.2 2.1 2.2]"},
		{"an odd sheet after a single", join(potTags(1, 1), potTags(2, pair...)), 3, "[1.1 2.1 2.2]"},
		{"a roll", join(potTags(1, pair...), potTags(2, pair...)), 1, "[1.1 2.1 3.1 4.1]"},
	} {
		var got []string
		for _, s := range spots(c.tags, c.perSheet, 1) {
			got = append(got, fmt.Sprintf("%d.%d", s.sheet, s.cell))
		}
		if fmt.Sprint(got) != c.want {
			t.Errorf("%s on sheets of %d: %v, want %s", c.name, c.perSheet, got, c.want)
		}
	}
}

// Pairs lie side by side in cells 2k−1 and 2k, no cell is taken twice and none
// in front of the first, for every mixture of pairs and singles on sheets of up
// to nine cells.
func TestSpotsOfAllMixtures(t *testing.T) {
	for perSheet := 1; perSheet <= 9; perSheet++ {
		for mixture := range 1 << 8 {
			var tags []reading.Key
			for n := range 8 {
				if mixture>>n&1 == 0 {
					tags = append(tags, potTags(n+1, 1, 2)...)
				} else {
					tags = append(tags, potTags(n+1, 1)...)
				}
			}
			first := mixture%perSheet + 1
			placed := spots(tags, perSheet, first)
			taken := map[spot]bool{}
			for i, s := range placed {
				if taken[s] || s.sheet < 1 || s.sheet == 1 && s.cell < first || s.cell < 1 || s.cell > perSheet {
					t.Fatalf("sheets of %d, mixture %b: %v lies at %v", perSheet, mixture, tags[i], s)
				}
				taken[s] = true
				if perSheet > 1 && startsPair(tags, i) && (s.cell%2 != 1 || placed[i+1] != spot{s.sheet, s.cell + 1}) {
					t.Fatalf("sheets of %d, mixture %b: pair %v lies at %v and %v", perSheet, mixture, tags[i].ID, s, placed[i+1])
				}
			}
		}
	}
}

func TestRanges(t *testing.T) {
	for _, c := range []struct {
		numbers []int
		want    string
	}{
		{[]int{4}, "4"},
		{[]int{1, 2, 3, 4}, "1–4"},
		{[]int{1, 3, 4, 9}, "1, 3–4, 9"},
	} {
		if got := ranges(c.numbers); got != c.want {
			t.Errorf("ranges(%v) = %q, want %q", c.numbers, got, c.want)
		}
	}
}
