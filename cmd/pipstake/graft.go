package main

import (
	"fmt"

	"pipstake/ids"
	"pipstake/ids/problem"
	"pipstake/ids/registry"
	"pipstake/label/reading"
)

var graftCommand = command{
	name:      "graft",
	records:   true,
	summary:   "record grafted copies of a seedling and print a label for each",
	arguments: "SEEDLING",
	options:   "--copies N [--note TEXT] [--on DATE] [--out FILE]",
	help: `The copies are the same plant, so they bear the same identifier; the label of
each has its number. They go on where the numbers stopped, and outlive the
seedling.

  pipstake graft 2026X012-B2-C --copies 3 --note "on a dwarfing stock"`,
	define: func(f *flags) action {
		copies := f.count("copies", "how many `COPIES` were grafted", 1, mostCopies)
		note := f.text("note", "such as the rootstock, a `TEXT` to keep")
		on := f.day("on", "the `DATE` of grafting, yyyy-mm-dd; today where left out")
		printing := f.issuing()
		dir := f.registry()
		return func(e *env, args []string) error {
			seedlings, err := e.readIDs(args, ids.SeedlingLevel)
			if err != nil {
				return err
			}
			if !copies.given && !e.askFlag(f, "copies", "how many copies") {
				return problem.Use("graft: --copies is missing", "usage: "+f.command.usage())
			}
			p, err := e.newPrintRun(printing)
			if err != nil {
				return err
			}
			return e.graft(*dir, p, grafting{seedlings[0], copies.n, *note, e.dayOr(on)})
		}
	},
}

// mostCopies is the largest number that a label's copy can have.
const mostCopies = 99

// grafting is so many copies of a seedling, grafted on a day.
type grafting struct {
	seedling ids.ID
	copies   int
	note     string
	on       registry.Date
}

func (e *env) graft(dir string, p *printRun, g grafting) error {
	_, err := p.print(dir, func(r *registry.Registry) (order, error) {
		o := order{on: g.on}
		if err := live(r, g.seedling); err != nil {
			return o, err
		}
		all, err := r.Graft(g.seedling, g.copies, g.on, g.note)
		if err != nil {
			return o, err
		}
		for n := all - g.copies + 1; n <= all; n++ {
			o.tags = append(o.tags, reading.Key{Face: registry.SeedlingFace, ID: g.seedling, Copy: n})
		}
		cross, _ := r.Cross(g.seedling.At(ids.CrossLevel))
		numbers := fmt.Sprintf("copy %d", all)
		if g.copies > 1 {
			numbers = fmt.Sprintf("copies %d to %d", all-g.copies+1, all)
		}
		o.lines = append(o.lines, fmt.Sprintf("%s  %s grafted on %s  %s", g.seedling, numbers, g.on, parents(cross)))
		return o, nil
	})
	return err
}
