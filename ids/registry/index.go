package registry

import (
	"cmp"
	"slices"
	"sort"

	"pipstake/ids"
)

// index finds the entries of a table by their identifiers. Looking up changes
// nothing in it, so that several may do so at once.
type index struct {
	keys  []uint64 // of the entries' identifiers, in rising order; see ids.ID.Span
	order []int32  // the entry of each; those with the same key in the order of the file
}

// newIndex sorts the entries of a table.
func newIndex[T any](entries []T, id func(*T) *ids.ID) index {
	x := index{make([]uint64, len(entries)), make([]int32, len(entries))}
	inOrder := true
	for i := range entries {
		x.keys[i], _ = id(&entries[i]).Span()
		x.order[i] = int32(i)
		inOrder = inOrder && (i == 0 || x.keys[i-1] <= x.keys[i])
	}
	if !inOrder {
		x.sort()
	}
	return x
}

// sort brings keys and order into the order of the keys. Files are mostly made
// of a few runs that rise, such as a season's bags and then its stakes, so the
// runs are found and merged.
func (x *index) sort() {
	runs := []int{0}
	for i := 1; i < len(x.keys); i++ {
		if x.keys[i] < x.keys[i-1] {
			runs = append(runs, i)
		}
	}
	const few = 4096
	if len(runs) > few {
		slices.SortFunc(x.order, func(a, b int32) int { return cmp.Or(cmp.Compare(x.keys[a], x.keys[b]), cmp.Compare(a, b)) })
		keys := make([]uint64, len(x.keys))
		for i, at := range x.order {
			keys[i] = x.keys[at]
		}
		x.keys = keys
		return
	}
	spare := index{make([]uint64, len(x.keys)), make([]int32, len(x.order))}
	for len(runs) > 1 {
		var merged []int
		for i := 0; i < len(runs); i += 2 {
			merged = append(merged, runs[i])
			mid, end := len(x.keys), len(x.keys)
			if i+1 < len(runs) {
				mid = runs[i+1]
			}
			if i+2 < len(runs) {
				end = runs[i+2]
			}
			mergeRuns(&spare, x, runs[i], mid, end)
		}
		*x, spare, runs = spare, *x, merged
	}
}

// mergeRuns writes the two runs of x that start at from and mid and end at end
// into the same stretch of to, as one.
func mergeRuns(to, x *index, from, mid, end int) {
	a, b := from, mid
	for i := from; i < end; i++ {
		next := &a
		if a == mid || b < end && x.keys[b] < x.keys[a] {
			next = &b
		}
		to.keys[i], to.order[i] = x.keys[*next], x.order[*next]
		*next++
	}
}

// within returns the places of the entries whose identifier is outer or stands
// below it, by identifier. hint is where the last one was found.
func (x *index) within(outer ids.ID, hint *int) []int32 {
	from, end := outer.Span()
	return x.between(from, end, hint)
}

// exactly returns the places of the entries with an identifier, in the order of
// the file.
func (x *index) exactly(id ids.ID, hint *int) []int32 {
	key, end := id.Span()
	return x.between(key, min(end, key+1), hint)
}

// between returns the places of the keys in a stretch.
func (x *index) between(from, end uint64, hint *int) []int32 {
	first := gallop(len(x.keys), *hint, func(i int) bool { return x.keys[i] >= from })
	last := gallop(len(x.keys), first, func(i int) bool { return x.keys[i] >= end })
	*hint = first
	return x.order[first:max(first, last)]
}

// insert adds an entry.
func (x *index) insert(id ids.ID, entry int32) {
	key, _ := id.Span()
	i := sort.Search(len(x.keys), func(i int) bool { return x.keys[i] > key })
	x.keys = slices.Insert(x.keys, i, key)
	x.order = slices.Insert(x.order, i, entry)
}

// gallop is sort.Search for an answer that is probably near a place. Those who
// walk along the identifiers ask for one near the last.
func gallop(n, near int, found func(i int) bool) int {
	near = min(near, n)
	low, high := near, near
	if near < n && !found(near) {
		low = near + 1
		high = low
		for step := 1; high < n && !found(high); step *= 2 {
			low = high + 1
			high = min(n, high+step)
		}
	} else {
		low = near - 1
		for step := 1; low >= 0 && found(low); step *= 2 {
			high = low
			low -= step
		}
		low = max(0, low+1)
	}
	return low + sort.Search(high-low, func(i int) bool { return found(low + i) })
}
