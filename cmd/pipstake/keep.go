package main

import (
	"fmt"

	"pipstake/ids"
	"pipstake/ids/problem"
	"pipstake/ids/registry"
	"pipstake/ids/words"
)

var keepCommand = command{
	name:      "keep",
	records:   true,
	summary:   "keep the seed of lots on purpose until a year",
	arguments: "LOT…",
	options:   "--until YEAR | --no-longer",
	help: `Seed that is left over and stays in the cold or in a dry tin on purpose asks for
nothing until then. A cross stands for all of its lots.

  pipstake keep 2026X012-B --until 2029
  pipstake keep 2026X012-B --no-longer`,
	define: func(f *flags) action {
		until := f.count("until", "the `YEAR` until which it is kept", 1000, 9999)
		not := f.onOff("no-longer", "take that back: it may be sown")
		dir := f.registry()
		return func(e *env, args []string) error {
			named, err := e.readSelection(args)
			if err != nil {
				return err
			}
			if !until.given && !*not {
				e.askFlag(f, "until", "until which year")
			}
			if until.given == *not {
				return problem.Use("keep: say until which year, or --no-longer", "usage: "+f.command.usage())
			}
			return e.each(*dir, named, atLevel(ids.LotLevel), func(r *registry.Registry, id ids.ID) (string, error) {
				l, err := r.Keep(id, until.n)
				if err != nil {
					return "", err
				}
				return fmt.Sprintf("%s  %s", id, keptWords(r, l)), nil
			})
		}
	},
}

// keptWords says how many seeds of a lot are kept, and until when.
func keptWords(r *registry.Registry, l registry.Lot) string {
	text := "its seed is"
	if left, err := r.LeftToSow(l.ID); err == nil && left.Known {
		text = words.Plural(left.N, "seed is", "seeds are")
	}
	if l.Kept == 0 {
		return text + " kept no longer"
	}
	return fmt.Sprintf("%s kept until %d", text, l.Kept)
}
