package main

import (
	"pipstake/ids"
	"pipstake/ids/problem"
	"pipstake/ids/registry"
)

var chillCommand = command{
	name:      "chill",
	summary:   "record that seed lots went into the cold",
	arguments: "LOT…",
	options:   "[--from DATE]",
	help: `Apple seed has to lie cold and moist for weeks before it sprouts. The day on which
that began is kept with the seed lot.

  pipstake chill 2026X012-A 2026X012-B
  pipstake chill 2026X012-B --from 2026-11-20
  pipstake chill 2026X012-B --from 2026-11-21 --correct`,
	define: func(f *flags) action {
		dir := f.registry()
		from := f.day("from", "the first `DATE` in the cold, yyyy-mm-dd; today where left out")
		on := f.day("on", "the same as --from `DATE`")
		correct := f.onOff("correct", "replace the day that is recorded already")
		return func(e *env, args []string) error {
			lots, err := e.readIDs(args, ids.LotLevel)
			if err != nil {
				return err
			}
			if from.given() && on.given() && from.day != on.day {
				return problem.Use("--from and --on name different days", "give one of them")
			}
			return e.chill(*dir, lots, registry.Chilling{On: e.dayOr(from, on), Correct: *correct})
		}
	},
}

func (e *env) chill(dir string, lots []ids.ID, c registry.Chilling) error {
	err := e.change(dir, func(r *registry.Registry) error {
		for _, id := range lots {
			if _, err := r.Chill(id, c); err != nil {
				return err
			}
		}
		return nil
	})
	if err != nil {
		return err
	}
	for _, id := range lots {
		e.Say("%s  in the cold since %s", id, c.On)
	}
	e.Next("when the first seeds sprout: pipstake sow %s --pots 2", lots[0])
	return nil
}
