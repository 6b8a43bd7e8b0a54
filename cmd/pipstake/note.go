package main

import (
	"fmt"

	"pipstake/ids"
	"pipstake/ids/registry"
	"pipstake/ids/words"
)

var noteCommand = command{
	name:      "note",
	records:   true,
	summary:   "keep a dated remark on anything",
	arguments: "ID TEXT",
	options:   "[--on DATE]",
	help: `Remarks are kept one beside the other, each with its day, on a cross, a seed
lot, a pot or a seedling; pipstake scan shows them. A run of identifiers may be
named.

  pipstake note 2026X012-B2 "two with red leaves"
  pipstake note 2026X012-B2-C "no scab, the others full of it" --on 2027-07-03
  pipstake note 2026X003..9 "pollen a day old"`,
	define: func(f *flags) action {
		on := f.day("on", "the `DATE`, yyyy-mm-dd; today where left out")
		dir := f.registry()
		return func(e *env, args []string) error {
			named, err := e.readSelection(args[:1])
			if err != nil {
				return err
			}
			day := e.dayOr(on)
			return e.each(*dir, named, atLevel(ids.NoLevel), func(r *registry.Registry, id ids.ID) (string, error) {
				return fmt.Sprintf("%s  noted on %s: %s", id, day, words.OneLine(args[1])), r.Note(id, day, args[1])
			})
		}
	},
}
