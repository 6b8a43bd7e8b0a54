package main

import (
	"pipstake/ids"
	"pipstake/ids/registry"
	"pipstake/label"
)

// sample is a label with invented data, to see what a face looks like.
type sample struct {
	name string // as in labels.csv
	of   registry.Face
	face label.Face
}

// sampleFaces are labels of an invented orchard, with parents' names of a usual
// length, one of each face.
func sampleFaces() []sample {
	const seed, pollen = "Larkfield Tessel", "Tarn Amber"
	lot := ids.ID{Year: 2026, Cross: 12, Lot: 2}
	pot := lot.Child(2)
	return []sample{
		{"bag", registry.BagFace, label.Bag{ID: lot, SeedParent: seed, PollenParent: pollen, Treated: true}},
		{"stake", registry.StakeFace, label.Stake{ID: pot, Copy: 1, Seeds: 7, Sown: "2027-01-14", SeedParent: seed, PollenParent: pollen}},
		{"seedling", registry.SeedlingFace, label.Seedling{ID: pot.Child(3), SeedParent: seed, PollenParent: pollen, Pricked: "2027-04-02"}},
		{"branch", registry.BranchFace, label.BranchTag{ID: lot.At(ids.CrossLevel), SeedParent: seed, PollenParent: pollen, Pollinated: "2026-05-03", Note: "row 2, tree 7"}},
		{"back", registry.StakeFace, label.StakeBack{Stake: label.Stake{ID: pot, Copy: 1, Seeds: 7, SeedParent: seed, PollenParent: pollen}}},
	}
}
