package main

import (
	"cmp"
	"slices"

	"pipstake/ids"
	"pipstake/ids/problem"
	"pipstake/ids/registry"
)

var voidCommand = command{
	name:      "void",
	summary:   "take an identifier out of use for good",
	arguments: "ID…",
	options:   "--note TEXT",
	help: `For a fruit that fell, a bag that was lost, a pot that was tipped out. The row
stays, with the reason, and its number is never issued again. The seeds of a
void pot count as left to sow again. What has live pots or lots below it cannot
be voided before they are; several identifiers can be named at once.

  pipstake void 2026X012-C --note "fruit dropped in the June storm"
  pipstake void 2026X012-B 2026X012-B1 --note "mice"`,
	define: func(f *flags) action {
		dir := f.registry()
		note := f.text("note", "the reason, a `TEXT` to keep")
		return func(e *env, args []string) error {
			var read []ids.ID
			for _, arg := range args {
				p, err := e.readID(arg)
				if err != nil {
					return err
				}
				read = append(read, p.ID)
			}
			if *note == "" {
				return problem.Use("void: --note is missing", `say why: --note "fruit dropped"`)
			}
			return e.void(*dir, read, *note)
		}
	},
}

func (e *env) void(dir string, which []ids.ID, note string) error {
	slices.SortFunc(which, func(a, b ids.ID) int { return cmp.Or(int(b.Level())-int(a.Level()), ids.Compare(a, b)) }) // children first
	which = slices.Compact(which)
	err := e.change(dir, func(r *registry.Registry) error {
		for _, id := range which {
			if r.Status(id) == registry.Unknown {
				return unknown(r, id)
			}
			if err := r.Void(id, note); err != nil {
				return err
			}
		}
		return nil
	})
	if err != nil {
		return err
	}
	for _, id := range which {
		e.Say("%s  void", id)
	}
	return nil
}
