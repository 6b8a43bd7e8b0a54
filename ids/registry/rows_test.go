package registry

import (
	"math/rand/v2"
	"slices"
	"sort"
	"testing"

	"pipstake/ids"
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

// The index finds what a plain search through the entries finds, whatever their
// order.
func TestIndex(t *testing.T) {
	random := rand.New(rand.NewPCG(2026, 14))
	type row struct{ id ids.ID }
	for round := range 300 {
		rows := make([]row, random.IntN(60))
		for i := range rows {
			id := ids.ID{Year: 2026, Cross: 1 + random.IntN(3), Lot: 1 + random.IntN(3), Pot: 1 + random.IntN(3), Seedling: 1 + random.IntN(2)}
			rows[i].id = id.At(ids.Level(1 + random.IntN(4)))
		}
		if round%3 == 0 { // a few rising runs
			slices.SortFunc(rows[:len(rows)/2], func(a, b row) int { return ids.Compare(a.id, b.id) })
		}
		x := newIndex(rows[:len(rows)/2], func(r *row) *ids.ID { return &r.id })
		for i := len(rows) / 2; i < len(rows); i++ {
			x.insert(rows[i].id, int32(i))
		}
		hint := 0
		for _, outer := range append(rows, row{ids.ID{Year: 2026}}, row{ids.ID{Year: 2025}}, row{ids.ID{Year: 2026, Cross: 9}}) {
			var within, exactly []int32
			for i, r := range rows {
				if r.id.Within(outer.id) {
					within = append(within, int32(i))
				}
				if r.id == outer.id {
					exactly = append(exactly, int32(i))
				}
			}
			slices.SortStableFunc(within, func(a, b int32) int { return ids.Compare(rows[a].id, rows[b].id) })
			if got := x.within(outer.id, &hint); !slices.Equal(got, within) {
				t.Fatalf("%v: within %v are %v, want %v", rows, outer.id, got, within)
			}
			if got := x.exactly(outer.id, &hint); !slices.Equal(got, exactly) {
				t.Fatalf("%v: exactly %v are %v, want %v", rows, outer.id, got, exactly)
			}
		}
	}
}

// Many short runs are sorted as few long ones are.
func TestIndexOfFallingRows(t *testing.T) {
	crosses := make([]Cross, 10_000)
	for i := range crosses {
		crosses[i].ID = ids.ID{Year: 2026, Cross: (len(crosses) - i + 1) / 2}
	}
	x := newIndex(crosses, func(c *Cross) *ids.ID { return &c.ID })
	for i := 1; i < len(x.order); i++ {
		a, b := x.order[i-1], x.order[i]
		if c := ids.Compare(crosses[a].ID, crosses[b].ID); c > 0 || c == 0 && a > b {
			t.Fatalf("%d comes before %d", a, b)
		}
	}
}
