package main

import (
	"fmt"
	"slices"
	"strings"

	"pipstake/ids"
	"pipstake/ids/problem"
	"pipstake/ids/registry"
	"pipstake/ids/season"
	"pipstake/ids/words"
)

// crossParents are the parents of a cross as the command line has them.
type crossParents struct {
	seed, pollen string // arguments
	open         bool
	mixed        string // names with commas between them
}

// parentFlags adds the flags for pollen that is not of one plant.
func (f *flags) parentFlags() (open *bool, mixed *string) {
	return f.onOff("open", "open pollinated: the pollen came as it came"),
		f.text("mixed", "a mixture of pollen: its `PLANTS`, such as \"Tarn Amber, Gwennol Goch\"")
}

// newCrossParents looks at the arguments and flags together.
func newCrossParents(args []string, open bool, mixed string) (crossParents, error) {
	p := crossParents{seed: args[0], open: open, mixed: mixed}
	switch {
	case open && mixed != "":
		return p, problem.Use("--open and --mixed exclude each other", "give one of them")
	case len(args) > 1 && (open || mixed != ""):
		return p, problem.Use(fmt.Sprintf("cross: the pollen parent %q stands beside --open or --mixed", args[1]), "leave one of the two out")
	case len(args) > 1:
		p.pollen = args[1]
	case !open && mixed == "":
		return p, problem.Use("cross: POLLEN is missing", `give the pollen parent, or --open, or --mixed "Tarn Amber, Gwennol Goch"`)
	}
	return p, nil
}

// cells reads the parents as the registry keeps them.
func (e *env) cells(p crossParents) (seed, pollen string, err error) {
	if seed, err = e.parent("seed parent", p.seed); err != nil {
		return "", "", err
	}
	switch {
	case p.open:
		return seed, registry.Parent{Kind: registry.OpenPollen}.String(), nil
	case p.mixed != "":
		pollen, err = e.mixture(p.mixed)
	default:
		pollen, err = e.parent("pollen parent", p.pollen)
	}
	if registry.ReadParent(pollen).Kind == registry.OwnPollen {
		pollen = seed
	}
	return seed, pollen, err
}

// mixture reads the plants of a mixture.
func (e *env) mixture(arg string) (string, error) {
	var names []string
	for part := range strings.SplitSeq(arg, ",") {
		if strings.TrimSpace(part) == "" {
			continue
		}
		name, err := e.parent("pollen parent", part)
		if err != nil {
			return "", err
		}
		if p := registry.ReadParent(name); p.Kind != registry.OnePlant {
			return "", problem.Use(fmt.Sprintf("--mixed %q: %q is no plant", arg, name), "name the plants of the mixture, with commas between them")
		}
		names = append(names, name)
	}
	if len(names) < 2 {
		return "", problem.Use(fmt.Sprintf("--mixed %q: a mixture has two plants or more", arg), "name them with commas between them; one alone is the pollen parent")
	}
	return registry.Parent{Kind: registry.MixedPollen, Names: names}.String(), nil
}

// eachName replaces the names in the cell of a parent by what change makes of
// them; identifiers stay.
func eachName(cell string, change func(name string) string) string {
	p := registry.ReadParent(cell)
	names := slices.Clone(p.Names)
	for i, name := range names {
		if _, err := ids.Parse(name); err != nil {
			names[i] = change(name)
		}
	}
	p.Names = names
	return p.String()
}

// askNames asks, on a terminal, of each name of a cross that is new and nearly
// that of a known one, which of the two is meant. It returns the names that
// were kept.
func (e *env) askNames(dir string, c *registry.NewCross) (kept []string, err error) {
	if !e.onTerminal {
		return nil, nil
	}
	r, err := e.open(dir)
	if err != nil {
		return nil, err
	}
	known := r.Names()
	ask := func(name string) string {
		near, how := known.Near(name)
		if how != registry.Alike || slices.Contains(kept, name) {
			return name
		}
		if e.agreed(fmt.Sprintf("%s is new. Did you mean %s? [y/n] ", name, near.Name)) {
			return near.Name
		}
		kept = append(kept, name)
		return name
	}
	c.SeedParent, c.PollenParent = eachName(c.SeedParent, ask), eachName(c.PollenParent, ask)
	return kept, nil
}

// ownNames puts the own name of a variety in place of another spelling on
// record, and tells what it was.
func ownNames(known *registry.Names, c *registry.NewCross) (told []string) {
	change := func(name string) string {
		near, how := known.Near(name)
		if how != registry.OtherSpelled {
			return name
		}
		told = append(told, fmt.Sprintf("%s is a spelling of %s, and is recorded as that", name, near.Name))
		return near.Name
	}
	c.SeedParent, c.PollenParent = eachName(c.SeedParent, change), eachName(c.PollenParent, change)
	return told
}

// doubtWords words what is worth knowing of a cross; "" for what was asked
// about already.
func doubtWords(d season.Doubt, c registry.Cross, kept []string) string {
	switch d.Kind {
	case season.NearName:
		if slices.Contains(kept, d.Name) {
			return ""
		}
		if registry.NameKey(d.Name) == registry.NameKey(d.Of) {
			return fmt.Sprintf("%s is written %s elsewhere: labels will show both", d.Name, d.Of)
		}
		return fmt.Sprintf("%s is new, and nearly %s: did you mean that? pipstake undo takes this cross back", d.Name, d.Of)
	case season.SameCross:
		var made []string
		for _, id := range d.Crosses {
			made = append(made, id.String())
		}
		return fmt.Sprintf("the same cross was made in %d already: %s", c.ID.Year, words.List(words.Few(made, 4)))
	case season.TriploidPollen:
		return fmt.Sprintf("%s is a triploid: little of its pollen is sound, so expect few seeds, and weak seedlings among them", d.Name)
	case season.TriploidSeed:
		return fmt.Sprintf("%s is a triploid: few of its seeds grow into sound plants", d.Name)
	case season.SharedAlleles:
		return fmt.Sprintf("%s and %s share the S-alleles %s: its pollen will hardly grow there, so expect next to no fruit",
			d.Name, d.Of, words.List(d.Alleles))
	case season.InMixture:
		return fmt.Sprintf("%s is in the mixture too: some of the seedlings may be selfings", d.Name)
	}
	return ""
}
