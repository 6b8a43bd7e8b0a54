package main

import (
	"fmt"
	"strings"

	"pipstake/ids"
	"pipstake/ids/problem"
	"pipstake/ids/registry"
	"pipstake/ids/words"
	"pipstake/label"
	"pipstake/label/reading"
)

// faceNoun names a face's labels.
func faceNoun(f registry.Face, n int) string {
	switch f {
	case registry.StakeFace:
		return words.Plural(n, "stake", "stakes")
	case registry.BranchFace:
		return words.Plural(n, "branch tag", "branch tags")
	}
	return words.Plural(n, string(f)+" label", string(f)+" labels")
}

// facesNoun names a face's labels without their number.
func facesNoun(f registry.Face) string { return strings.TrimPrefix(faceNoun(f, 2), "2 ") }

// filePrefix starts the name of the PDF with labels of a face.
func filePrefix(f registry.Face) string {
	if f == registry.BranchFace {
		return "tags"
	}
	return string(f) + "s"
}

// defaultStock is the stock that a face is printed on where none is named.
func defaultStock(f registry.Face) string {
	switch f {
	case registry.StakeFace:
		return "a4-cut-148x20"
	case registry.SeedlingFace:
		return "a4-5x13-38.1x21.2"
	case registry.BranchFace:
		return "a4-cut-100x25"
	}
	return "a4-3x8-70x37"
}

// drawing fits the face of a tag into a room, filled in with all that the
// registry knows.
func drawing(r *registry.Registry, t reading.Key, room label.Room) (*label.Drawing, error) {
	cross, ok := r.Cross(t.ID.At(ids.CrossLevel))
	if !ok {
		return nil, problem.Data(fmt.Sprintf("%s has no row in crosses.csv, so its parents are not known", t.ID.At(ids.CrossLevel)),
			"see pipstake check")
	}
	if err := r.ParentsReadable(cross.ID); err != nil {
		return nil, err
	}
	switch t.Face {
	case registry.BagFace:
		return bag(r, t.ID, cross, room)
	case registry.StakeFace:
		return stake(r, t, cross, room)
	case registry.SeedlingFace:
		return seedling(r, t, cross, room)
	case registry.BranchFace:
		b := label.BranchTag{ID: t.ID, SeedParent: cross.SeedParent, PollenParent: cross.PollenParent, Pollinated: cross.Pollinated.String()}
		return b.Fit(room)
	}
	return nil, problem.Use(fmt.Sprintf("labels with the face %q cannot be printed", t.Face), "there are branch, bag, stake and seedling")
}

func bag(r *registry.Registry, id ids.ID, cross registry.Cross, room label.Room) (*label.Drawing, error) {
	lot, ok := r.Lot(id)
	if !ok {
		return nil, unknown(r, id)
	}
	b := label.Bag{ID: id, SeedParent: cross.SeedParent, PollenParent: cross.PollenParent,
		Fruit: lot.Fruit.String(), Seeds: lot.Seeds.String(), Undeveloped: lot.Undeveloped.String()}
	if !lot.Chilled.IsZero() {
		b.Chilled = lot.Chilled.String()
	}
	return b.Fit(room)
}

func stake(r *registry.Registry, t reading.Key, cross registry.Cross, room label.Room) (*label.Drawing, error) {
	pot, ok := r.Pot(t.ID)
	if !ok {
		return nil, unknown(r, t.ID)
	}
	if !pot.Seeds.Known || pot.Sown.IsZero() {
		return nil, problem.Data(fmt.Sprintf("pots.csv does not say how many seeds %s was sown with, and when", t.ID),
			"fill in seeds and sown in its row; the stake shows both")
	}
	s := label.Stake{ID: t.ID, Copy: t.Copy, Seeds: pot.Seeds.N, Sown: pot.Sown.String(),
		SeedParent: cross.SeedParent, PollenParent: cross.PollenParent}
	return s.Fit(room)
}

func seedling(r *registry.Registry, t reading.Key, cross registry.Cross, room label.Room) (*label.Drawing, error) {
	plant, ok := r.Seedling(t.ID)
	if !ok {
		return nil, unknown(r, t.ID)
	}
	s := label.Seedling{ID: t.ID, Copy: t.Copy, SeedParent: cross.SeedParent, PollenParent: cross.PollenParent, Pricked: plant.Pricked.String()}
	return s.Fit(room)
}
