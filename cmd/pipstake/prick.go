package main

import (
	"fmt"

	"pipstake/ids"
	"pipstake/ids/registry"
	"pipstake/ids/words"
	"pipstake/label/reading"
)

var prickCommand = command{
	name:      "prick",
	summary:   "issue seedlings pricked out of a pot and print their labels",
	arguments: "POT…",
	options:   "[--seedlings N] [--on DATE] [--out FILE]",
	help: `Issues the identifiers of seedlings that are pricked out, each into a place of its
own, and prints a label for each. From then on a seedling is a plant with a name:
2026X012-B2-C can be the parent of a later cross.

  pipstake prick 2026X012-B2 --seedlings 5
  pipstake prick 2026X012-B1 2026X012-B2 --seedlings 3     three of each pot

Later ones of the same pot go on where the letters stopped.`,
	define: func(f *flags) action {
		seedlings := f.count("seedlings", "how many `SEEDLINGS` of each pot; 1 where left out", 1, ids.MaxSeedling)
		on := f.day("on", "the `DATE` of pricking out, yyyy-mm-dd; today where left out")
		printing := f.printing()
		dir := f.registry()
		return func(e *env, args []string) error {
			pots, err := e.readIDs(args, ids.PotLevel)
			if err != nil {
				return err
			}
			p, err := e.press(printing)
			if err != nil {
				return err
			}
			return e.prick(*dir, p, pricking{pots, seedlings.or(1), e.dayOr(on)})
		}
	},
}

// pricking is so many seedlings pricked out of each pot on a day.
type pricking struct {
	pots []ids.ID
	n    int
	on   registry.Date
}

func (e *env) prick(dir string, p *press, w pricking) error {
	var first ids.ID
	var more []string // notices on pots with more seedlings than were counted
	err := p.print(dir, func(r *registry.Registry) (order, error) {
		o := order{on: w.on}
		more = nil
		for _, pot := range w.pots {
			if err := live(r, pot); err != nil {
				return o, err
			}
			seedlings, err := r.AddSeedlings(pot, w.n, w.on)
			if err != nil {
				return o, err
			}
			for _, s := range seedlings {
				o.tags = append(o.tags, reading.KeysOf(s.ID)...)
			}
			cross, _ := r.Cross(pot.At(ids.CrossLevel))
			o.lines = append(o.lines, fmt.Sprintf("%s  %s", issuedRange(seedlings), parents(cross)))
			if what := uncounted(r, pot); what != "" {
				more = append(more, what)
			}
		}
		first = o.tags[0].ID
		return o, nil
	})
	if err != nil {
		return err
	}
	for _, what := range more {
		e.Notice("%s", what)
	}
	p.next("once it flowers, it can be a parent: pipstake cross %s POLLEN; its ancestors: pipstake lineage %s", first, first)
	return nil
}

// issuedRange names the first and the last of the seedlings issued.
func issuedRange(seedlings []registry.Seedling) string {
	first, last := seedlings[0].ID, seedlings[len(seedlings)-1].ID
	if first == last {
		return first.String()
	}
	return fmt.Sprintf("%s to %s", first, ids.Letters(last.Seedling))
}

// uncounted tells of a pot from which more seedlings are pricked out than were
// counted as up.
func uncounted(r *registry.Registry, pot ids.ID) string {
	out := 0
	for _, s := range r.SeedlingsOf(pot) {
		if s.State == registry.Live {
			out++
		}
	}
	counts := r.EmergenceOf(pot)
	if len(counts) == 0 {
		return ""
	}
	last := counts[len(counts)-1]
	if !last.Up.Known || out <= last.Up.N {
		return ""
	}
	return fmt.Sprintf("%s are pricked out of %s, and %d were counted as up on %s: count again with pipstake emerged %s N",
		words.Plural(out, "seedling", "seedlings"), pot, last.Up.N, last.On, pot)
}
