package main

import (
	"bytes"
	"fmt"

	"pipstake/ids"
	"pipstake/ids/problem"
	"pipstake/ids/registry"
	"pipstake/ids/season"
	"pipstake/ids/words"
	"pipstake/layout/plot"
)

var lineageCommand = command{
	name:      "lineage",
	summary:   "show the ancestors of a seedling or a cross",
	arguments: "ID…",
	options:   "[--generations N] [--svg FILE] [--json]",
	help: `Shows the ancestors over all generations on record: as a tree, seed parent (♀)
above pollen parent (♂); in the notation of Purdy et al. 1968, where Larkfield
Tessel/Tarn Amber//Gwennol Goch is their cross as the female with Gwennol Goch;
the founders with the share of the genes that comes from each; and Wright's
coefficient of inbreeding F. Founders are taken as unrelated, unless pipstake
variety tells of their parents, and are the same where their names are; a sport
is the same genotype as what it is a sport of. A parent called unknown, open, a
mixture or ? is no founder and no relative: F is then a least value.

  pipstake lineage 2031X004                  any seedling of that cross
  pipstake lineage 2026X012-B2-C             also tells where it is a parent
  pipstake lineage 2031X004 --svg tree.svg   draws the tree`,
	define: func(f *flags) action {
		generations := f.count("generations", "how many `GENERATIONS` the tree shows; all where left out", 1, 10_000)
		svg := f.text("svg", "draw the tree into this `FILE`, - for standard output")
		force := f.onOff("force", "replace a drawing that exists")
		asJSON := f.json()
		dir := f.registry()
		return func(e *env, args []string) error {
			if *svg != "" && (len(args) > 1 || *asJSON) {
				return problem.Use("--svg draws one tree and nothing else", "name one identifier, and leave --json out")
			}
			l := &lineage{env: e, generations: generations.n}
			var err error
			if *svg != "" {
				if l.drawing, err = e.targetOf(svgFile, "--svg", *svg, *force); err != nil {
					return err
				}
			}
			which, err := e.anyIDs(args)
			if err != nil {
				return err
			}
			if l.r, err = e.open(*dir); err != nil {
				return err
			}
			for i, id := range which {
				if err := l.show(id, i, *asJSON); err != nil {
					return err
				}
			}
			return nil
		}
	},
}

var svgFile = fileKind{noun: "an SVG drawing", starts: []string{"<svg ", "<?xml "}}

// anyIDs reads identifiers of any level, each once.
func (e *env) anyIDs(args []string) ([]ids.ID, error) {
	var read []ids.ID
	seen := map[ids.ID]bool{}
	for _, arg := range args {
		p, err := e.readID(arg)
		if err != nil {
			return nil, err
		}
		if !seen[p.ID] {
			seen[p.ID] = true
			read = append(read, p.ID)
		}
	}
	return read, nil
}

// lineage is one run of the command.
type lineage struct {
	env         *env
	r           *registry.Registry
	generations int    // of the tree; 0 for all
	drawing     target // of the SVG; shown is empty for none
}

// show writes the descent of one identifier, the i-th.
func (l *lineage) show(id ids.ID, i int, asJSON bool) error {
	switch l.r.Status(id) {
	case registry.Unknown:
		return unknown(l.r, id)
	case registry.Voided:
		l.env.Notice("%s is void", id)
	}
	d, err := descentOf(l.r, id)
	switch {
	case err != nil:
		return err
	case l.drawing.shown != "":
		return l.draw(d)
	case asJSON:
		return l.env.SayJSON(d.facts(l.generations))
	}
	if i > 0 {
		l.env.Say("")
	}
	l.env.Say("%s   %s", id, titleOf(id))
	for _, line := range d.lines(l.generations) {
		l.env.Say("%s", line)
	}
	return nil
}

func (l *lineage) draw(d *descent) error {
	var svg bytes.Buffer
	tree := d.pedigree.Tree(d.plant, l.generations)
	plants := plot.Tree(&svg, d.id.String(), d.summary(), tree)
	if err := l.env.deliver(l.drawing, svg.Bytes()); err != nil || l.drawing.stdout() {
		return err
	}
	l.env.Say("%s  %s in %s", d.id, words.Plural(plants, "plant", "plants"), l.drawing.shown)
	return nil
}

// descent is what the registry tells of the ancestors of an identifier.
type descent struct {
	id       ids.ID
	pedigree *season.Pedigree
	plant    *season.Plant
}

// descentOf looks the ancestors up. The error is a *season.CycleError.
func descentOf(r *registry.Registry, id ids.ID) (*descent, error) {
	d := &descent{id: id, pedigree: season.NewPedigree(r)}
	var err error
	d.plant, err = d.pedigree.Plant(id)
	return d, err
}

// inbreeding is F in words, and how the parents are related: "F 0.125, the
// parents are half sibs", "F 0 or more, …" where not all ancestors are known.
func (d *descent) inbreeding() string {
	f := d.pedigree.Inbreeding(d.plant)
	related := "the parents are not related as far as is on record"
	if f > 0 {
		related = d.relation()
	}
	if d.plant.PartlyUnknown() {
		return fmt.Sprintf("F %s or more, %s: not all ancestors are known", coefficient(f), related)
	}
	return fmt.Sprintf("F %s, %s", coefficient(f), related)
}

// relation returns how the parents are related.
func (d *descent) relation() string {
	seed, pollen := d.plant.Seed, d.plant.Pollen
	switch related := d.pedigree.Relation(seed, pollen); related {
	case season.SamePlant:
		if seed != pollen {
			return fmt.Sprintf("a selfing: %s and %s are one genotype", seed, pollen)
		}
		return "a selfing"
	case season.Kin:
		var through []string
		for _, p := range d.pedigree.NearestCommon(seed, pollen) {
			through = append(through, p.String())
		}
		return "the parents are related through " + words.List(words.Few(through, 4))
	case season.ParentOffspring:
		return "a cross of parent and offspring"
	default:
		return "the parents are " + related.String()
	}
}

// coefficient writes a number from 0 to 1 with five decimals at most.
func coefficient(f float64) string {
	switch {
	case f > 0 && f < 0.00001:
		return "below 0.00001"
	case f < 1 && f > 0.99999:
		return "above 0.99999"
	}
	return words.Number(f, 5)
}

// relatedParents warns of a cross between relatives; "" for none.
func relatedParents(r *registry.Registry, c registry.Cross) string {
	d, err := descentOf(r, c.ID)
	if err != nil {
		return "whether the parents are related cannot be told: " + err.Error()
	}
	f := d.pedigree.Inbreeding(d.plant)
	if f == 0 {
		return ""
	}
	more := ""
	if d.plant.PartlyUnknown() {
		more = " or more"
	}
	return fmt.Sprintf("%s: the seedlings will have a coefficient of inbreeding F of %s%s", d.relation(), coefficient(f), more)
}

// summary is the line under the drawing's heading.
func (d *descent) summary() string {
	if d.plant.IsFounder() {
		return "parents not on record"
	}
	return d.inbreeding()
}
