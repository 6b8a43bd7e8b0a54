package main

import (
	"fmt"
	"strings"

	"pipstake/ids"
	"pipstake/ids/practice"
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

// faceOf is what the label of a tag says, filled in with all that the registry
// knows.
func (p *printRun) faceOf(r *registry.Registry, t reading.Key) (label.Face, error) {
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
		return p.bag(r, t.ID, cross)
	case registry.StakeFace:
		return stake(r, t, cross)
	case registry.SeedlingFace:
		return seedling(r, t, cross)
	case registry.BranchFace:
		b := label.BranchTag{ID: t.ID, SeedParent: cross.SeedParent, PollenParent: cross.PollenParent, Pollinated: cross.Pollinated.String()}
		if err := label.Printable(words.OneLine(cross.Notes), p.names); err != nil {
			p.env.Notice("the note of %s is left out: %s", t.ID, err)
		} else {
			b.Note = words.OneLine(cross.Notes)
		}
		return b, nil
	}
	return nil, problem.Use(fmt.Sprintf("labels with the face %q cannot be printed", t.Face), "there are branch, bag, stake and seedling")
}

func (p *printRun) bag(r *registry.Registry, id ids.ID, cross registry.Cross) (label.Face, error) {
	lot, ok := r.Lot(id)
	if !ok {
		return nil, unknown(r, id)
	}
	treated, err := p.treats(r, id)
	if err != nil {
		return nil, err
	}
	b := label.Bag{ID: id, SeedParent: cross.SeedParent, PollenParent: cross.PollenParent, Treated: treated,
		Fruit: lot.Fruit.String(), Seeds: lot.Seeds.String(), Undeveloped: lot.Undeveloped.String()}
	if !lot.Extracted.IsZero() {
		b.Opened = lot.Extracted.String()
	}
	if !lot.Chilled.IsZero() {
		b.Chilled = lot.Chilled.String()
	}
	return b, nil
}

// treats reports whether the grower's protocol disinfects the seed of id.
func (p *printRun) treats(r *registry.Registry, id ids.ID) (bool, error) {
	if p.practice == nil {
		own, err := practice.Of(r)
		if err != nil {
			return false, err
		}
		p.practice = &own
	}
	return p.practice.For(id.At(ids.CrossLevel)).Disinfecting.Treats(), nil
}

func stake(r *registry.Registry, t reading.Key, cross registry.Cross) (label.Face, error) {
	pot, ok := r.Pot(t.ID)
	if !ok {
		return nil, unknown(r, t.ID)
	}
	if !pot.Seeds.Known || pot.Sown.IsZero() {
		return nil, problem.Data(fmt.Sprintf("pots.csv does not say how many seeds %s was sown with, and when", t.ID),
			"fill in seeds and sown in its row; the stake shows both")
	}
	return label.Stake{ID: t.ID, Copy: t.Copy, Seeds: pot.Seeds.N, Sown: pot.Sown.String(),
		SeedParent: cross.SeedParent, PollenParent: cross.PollenParent}, nil
}

func seedling(r *registry.Registry, t reading.Key, cross registry.Cross) (label.Face, error) {
	plant, ok := r.Seedling(t.ID)
	if !ok {
		return nil, unknown(r, t.ID)
	}
	return label.Seedling{ID: t.ID, Copy: t.Copy, SeedParent: cross.SeedParent, PollenParent: cross.PollenParent, Pricked: plant.Pricked.String()}, nil
}
