package registry

import (
	"cmp"
	"fmt"
	"slices"

	"pipstake/ids"
)

// namesSlipped looks for names of parents that are nearly those of other crosses,
// as a slip of the hand leaves them: each is one finding, where it stands first,
// however many crosses have it. A name with a row in varieties.csv is meant so.
func (c *checker) namesSlipped() {
	var used []KnownName
	for _, n := range c.r.Names().All() {
		if n.crosses() > 0 && n.Selection == (ids.ID{}) {
			used = append(used, n)
		}
	}
	near := map[string][]int{} // names that may be a slip apart, by what both have in common
	for i, n := range used {
		for _, key := range slipKeys(n.Name) {
			near[key] = append(near[key], i)
		}
	}
	for i, n := range used {
		if n.Row >= 0 {
			continue
		}
		var meant *KnownName
		for _, key := range slipKeys(n.Name) {
			for _, k := range near[key] {
				if o := &used[k]; k != i && NearlyAlike(n.Name, o.Name) && o.likelier(&n) && (meant == nil || o.likelier(meant)) {
					meant = o
				}
			}
		}
		if meant != nil {
			c.slipped(n, *meant)
		}
	}
}

// slipKeys are a name's letters as they are compared, and those with one of them
// left out: two names that are one slip apart have one in common.
func slipKeys(name string) []string {
	bare := []rune(bareName(name))
	keys := []string{string(bare), vowelPairs.Replace(string(bare))}
	for i := range bare {
		keys = append(keys, string(slices.Delete(slices.Clone(bare), i, i+1)))
	}
	return keys
}

// likelier reports whether of two names this is the one that was meant: the one
// of more crosses, or the one that was first.
func (k *KnownName) likelier(o *KnownName) bool {
	return cmp.Or(cmp.Compare(o.crosses(), k.crosses()), ids.Compare(k.firstCross(), o.firstCross())) < 0
}

// firstCross is the first of the crosses that have the name.
func (k *KnownName) firstCross() ids.ID {
	return slices.MinFunc(slices.Concat(k.Seed, k.Pollen), ids.Compare)
}

// slipped tells of a name where it stands first.
func (c *checker) slipped(n, meant KnownName) {
	places := c.r.crosses.exactly(n.firstCross())
	if len(places) == 0 {
		return
	}
	at := places[0]
	column := "pollen_parent"
	if slices.Contains(plantNames(c.r.crosses.entries[at].SeedParent), n.Name) {
		column = "seed_parent"
	}
	what := fmt.Sprintf("is nearly %q", meant.Name)
	if crosses := n.crosses(); crosses > 1 {
		what = fmt.Sprintf("stands in %d crosses, and %s", crosses, what)
	}
	c.add(c.r.crosses.finding(at, column, what,
		fmt.Sprintf("where they are one, the right name last: {one variety: %q %q}; where they are two: {a variety: %q}", n.Name, meant.Name, n.Name)))
}
