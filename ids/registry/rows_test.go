package registry

import (
	"sort"
	"testing"
)

// The search near a place finds what the plain search does, from every place.
func TestGallop(t *testing.T) {
	for n := range 40 {
		for first := range n + 1 {
			found := func(i int) bool {
				if i < 0 || i >= n {
					t.Fatalf("asked for %d of %d", i, n)
				}
				return i >= first
			}
			for near := range n + 3 {
				if got, want := gallop(n, near, found), sort.Search(n, found); got != want {
					t.Fatalf("%d of %d from %d: %d, want %d", first, n, near, got, want)
				}
			}
		}
	}
}
