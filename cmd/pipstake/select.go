package main

import (
	"fmt"

	"pipstake/ids"
	"pipstake/ids/registry"
	"pipstake/ids/words"
)

var selectCommand = command{
	name:      "select",
	records:   true,
	summary:   "record that a seedling is worth keeping, and its name",
	arguments: "SEEDLING",
	options:   "[--name NAME] [--on DATE]",
	help: `A selection keeps its identifier, and may bear a name as well, now or later. As
a parent of a cross it is named by its identifier, so that its pedigree is
known.

  pipstake select 2026X012-B2-C --on 2032-09-30
  pipstake select 2026X012-B2-C --name "Larkfield Rowan" --on 2035-02-01`,
	define: func(f *flags) action {
		name := f.text("name", "the `NAME` of the selection")
		on := f.day("on", "the `DATE`, yyyy-mm-dd; today where left out")
		dir := f.registry()
		return func(e *env, args []string) error {
			seedlings, err := e.readIDs(args, ids.SeedlingLevel)
			if err != nil {
				return err
			}
			return e.chooses(*dir, seedlings[0], *name, e.dayOr(on))
		}
	},
}

func (e *env) chooses(dir string, id ids.ID, name string, on registry.Date) error {
	copies := 0
	err := e.change(dir, func(r *registry.Registry) error {
		if r.Status(id) == registry.Unknown {
			return unknown(r, id)
		}
		copies = r.CopiesOf(id)
		return r.Select(id, name, on)
	})
	if err != nil {
		return err
	}
	called := ""
	if name != "" {
		called = fmt.Sprintf(" as %s", words.OneLine(name))
	}
	e.Say("%s  selected%s on %s", id, called, on)
	if copies == 0 {
		e.Next("once copies are grafted: pipstake graft %s --copies N", id)
	}
	return nil
}
