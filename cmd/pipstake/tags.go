package main

import (
	"pipstake/ids"
	"pipstake/ids/registry"
	"pipstake/label/symbol"
)

var tagsCommand = command{
	name:      "tags",
	records:   true,
	summary:   "print tags to tie to the pollinated branches",
	arguments: "CROSS…",
	options:   "[--out FILE]",
	help: `Prints a branch tag for each cross: code, identifier, ♀ × ♂ and the day of
pollination. Cut it out, cover it with clear tape against the rain, punch it at
the small cross and tie it to the branch, where it stays until the fruit is
picked.

  pipstake tags 2026X012
  pipstake tags 2026X012 2026X036

One that was lost: pipstake labels 2026X012 --face branch --replace`,
	define: func(f *flags) action {
		on := f.day("on", "the `DATE` of printing, yyyy-mm-dd; today where left out")
		printing := f.printing()
		dir := f.registry()
		return func(e *env, args []string) error {
			crosses, err := e.readWhich(*dir, args, ids.CrossLevel)
			if err != nil {
				return err
			}
			p, err := e.newPrintRun(printing)
			if err != nil {
				return err
			}
			w := &labelSelection{face: registry.BranchFace}
			for _, id := range crosses {
				w.ids = append(w.ids, symbol.Payload{ID: id})
			}
			if err := e.labels(*dir, p, w, e.dayOr(on)); err != nil {
				return err
			}
			p.next("labels for the seed bags: pipstake bags %s --lots 3", crosses[0])
			return nil
		}
	},
}
