package main

import (
	"fmt"

	"pipstake/ids"
	"pipstake/ids/problem"
	"pipstake/ids/registry"
	"pipstake/ids/words"
)

var moveCommand = command{
	name:      "move",
	records:   true,
	summary:   "record that pots or seedlings stand at another place",
	arguments: "ID…",
	options:   "--to PLACE [--on DATE]",
	help: `The place stands on the stocktake and beside each pot; earlier ones stay in the
diary. A seed lot stands for all of its pots, a cross for those of all its lots.

  pipstake move 2026X012-B2 --to "tunnel, bench 3"
  pipstake move 2026X012-B --to tunnel --on 2027-04-02     all pots of the lot
  pipstake move 2026X012-B2-A..F --to "nursery row 2"`,
	define: func(f *flags) action {
		to := f.text("to", "the `PLACE` where they stand now")
		on := f.day("on", "the `DATE` of the move, yyyy-mm-dd; today where left out")
		dir := f.registry()
		return func(e *env, args []string) error {
			named, err := e.readSelection(args)
			if err != nil {
				return err
			}
			if *to == "" && !e.askFlag(f, "to", "to which place") {
				return problem.Use("move: --to is missing", `say where: --to "tunnel, bench 3"`)
			}
			return e.moves(*dir, named, *to, e.dayOr(on))
		}
	},
}

// moves records the new place of each.
func (e *env) moves(dir string, named selection, place string, on registry.Date) error {
	return e.each(dir, named, levelToMove, func(r *registry.Registry, id ids.ID) (string, error) {
		from, err := r.Move(id, place, on)
		if from != "" {
			from = " from " + words.OneLine(from)
		}
		return fmt.Sprintf("%s  moved to %s%s on %s", id, words.OneLine(place), from, on), err
	})
}

// levelToMove is what is moved where an identifier is named: a seedling itself,
// and else pots.
func levelToMove(id ids.ID) ids.Level { return max(id.Level(), ids.PotLevel) }

// each does something to all that a selection stands for, at the level that each
// identifier asks for, and says the line that it gives; all or nothing.
func (e *env) each(dir string, named selection, level func(ids.ID) ids.Level, do func(*registry.Registry, ids.ID) (string, error)) error {
	var lines []string
	var left chosen
	err := e.change(dir, func(r *registry.Registry) error {
		lines, left = nil, chosen{}
		for _, run := range named {
			which, err := selection{run}.at(r, level(run.First))
			if err != nil {
				return err
			}
			left.leftOut = append(left.leftOut, which.leftOut...)
			for _, id := range which.ids {
				line, err := do(r, id)
				if err != nil {
					return err
				}
				lines = append(lines, line)
			}
		}
		return nil
	})
	if err != nil {
		return err
	}
	for _, line := range lines {
		e.Say("%s", line)
	}
	e.tellLeftOut(left)
	return nil
}

// atLevel is the same level for every identifier.
func atLevel(level ids.Level) func(ids.ID) ids.Level {
	return func(ids.ID) ids.Level { return level }
}
