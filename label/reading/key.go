// Package reading says what a label that was read means beside the registry: the
// answer to a scan, labels that are out of date, a stocktake judged, rows
// recovered from labels. It reads and writes no files, and gives facts that the
// command line words.
//
// # Decisions
//
//   - Recovery takes what most labels say, and leaves a tie open.
//   - Stocktake. Where no pot was seen with both of its stakes, the walk looked
//     at one side, and a stake is not missed. One stake has two codes, and two
//     pictures may show one pot.
package reading

import (
	"fmt"

	"pipstake/ids"
	"pipstake/ids/registry"
)

// Key names one label: what is printed for a cross, a seed lot, a pot or a
// seedling.
type Key struct {
	Face registry.Face
	ID   ids.ID
	Copy int // 0 where there is but one
}

// String is the label as messages name it: "2026X012-B2, copy 1".
func (k Key) String() string {
	if k.Copy == 0 {
		return k.ID.String()
	}
	return fmt.Sprintf("%s, copy %d", k.ID, k.Copy)
}

// KeyOf returns the label that a row of labels.csv records.
func KeyOf(l registry.Label) Key { return Key{l.Face, l.ID, l.Copy} }

// StakeCopies are the two labels of a pair.
var StakeCopies = []int{1, 2}

// KeysOf returns the labels that an identifier has: one on the branch, one on the
// bag, a pair in the pot, one beside the seedling.
func KeysOf(id ids.ID) []Key {
	switch id.Level() {
	case ids.CrossLevel:
		return []Key{{Face: registry.BranchFace, ID: id}}
	case ids.LotLevel:
		return []Key{{Face: registry.BagFace, ID: id}}
	case ids.PotLevel:
		var pair []Key
		for _, n := range StakeCopies {
			pair = append(pair, Key{registry.StakeFace, id, n})
		}
		return pair
	case ids.SeedlingLevel:
		return []Key{{Face: registry.SeedlingFace, ID: id}}
	}
	return nil
}

// KeysIn returns the labels that an identifier has by what the registry knows of
// it: those of KeysOf, and one for each grafted copy of a seedling.
func KeysIn(r *registry.Registry, id ids.ID) []Key {
	all := KeysOf(id)
	if id.Level() == ids.SeedlingLevel {
		for n := range r.CopiesOf(id) {
			all = append(all, Key{registry.SeedlingFace, id, n + 1})
		}
	}
	return all
}
