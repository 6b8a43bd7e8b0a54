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
	records:   true,
	summary:   "take back an identifier that should never have been",
	arguments: "ID…",
	options:   "--note TEXT | --lift",
	help: `For a slip at the keyboard: a cross entered twice, a pot too many. It leaves the
figures, and the seeds of a void pot count as left to sow. The row stays, with
the reason, and its number is never issued again. What lived is never void: a
pot that mice emptied, a bag that was lost, a cull have an end; see pipstake
gone.

What was counted, pricked out, or used as a parent cannot be voided, and what
has anything in use below it only after that; several can be named at once.
--lift takes an identifier back into use.

  pipstake void 2026X012-C --note "printed one bag too many"
  pipstake void 2026X012-B 2026X012-B1 --note "typed the wrong cross"
  pipstake void 2026X012-C --lift`,
	define: func(f *flags) action {
		note := f.text("note", "the reason, a `TEXT` to keep")
		lift := f.onOff("lift", "take what is void back into use")
		dir := f.registry()
		return func(e *env, args []string) error {
			named, err := e.readSelection(args)
			switch {
			case err != nil:
				return err
			case *lift && *note != "":
				return problem.Use("--lift and --note contradict each other", "do one of the two")
			case *lift:
				return e.lift(*dir, named)
			case *note == "" && !e.askFlag(f, "note", "why should it never have been"):
				return problem.Use("void: --note is missing", `say why: --note "one bag too many"`)
			}
			return e.void(*dir, named, *note)
		}
	},
}

// void takes back each, those below first.
func (e *env) void(dir string, named selection, note string) error {
	which := named.all()
	slices.SortFunc(which, func(a, b ids.ID) int { return cmp.Or(int(b.Level())-int(a.Level()), ids.Compare(a, b)) })
	labels := labelTally{}
	err := e.change(dir, func(r *registry.Registry) error {
		labels = labelTally{}
		for _, id := range which {
			if r.Status(id) == registry.Unknown {
				return unknown(r, id)
			}
			if err := r.Void(id, note); err != nil {
				return err
			}
			labels.add(r, id)
		}
		return nil
	})
	if err != nil {
		return err
	}
	for _, id := range which {
		e.Say("%s  void", id)
	}
	if said := labels.String(); said != "" {
		e.Next("destroy %s; taken back with: pipstake void %s --lift", said, which[0])
	}
	return nil
}

// all are the identifiers of a selection, each once.
func (s selection) all() []ids.ID {
	var all []ids.ID
	for _, run := range s {
		all = append(all, run.All()...)
	}
	slices.SortFunc(all, ids.Compare)
	return slices.Compact(all)
}

// lift takes each back into use, those above first.
func (e *env) lift(dir string, named selection) error {
	which := named.all()
	err := e.change(dir, func(r *registry.Registry) error {
		for _, id := range which {
			if r.Status(id) == registry.Unknown {
				return unknown(r, id)
			}
			if err := r.Lift(id); err != nil {
				return err
			}
		}
		return nil
	})
	if err != nil {
		return err
	}
	for _, id := range which {
		e.Say("%s  in use again", id)
	}
	e.Next("where labels were destroyed: pipstake labels %s --replace", which[0])
	return nil
}
