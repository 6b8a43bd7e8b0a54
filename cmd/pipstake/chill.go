package main

import (
	"fmt"

	"pipstake/ids"
	"pipstake/ids/problem"
	"pipstake/ids/registry"
	"pipstake/ids/words"
)

var chillCommand = command{
	name:      "chill",
	records:   true,
	summary:   "record that seed lots went into the cold, or came out of it",
	arguments: "LOT…",
	options:   "[--out] [--from DATE]",
	help: `Apple seed has to lie cold and moist for weeks before it sprouts. The day on
which that began is kept with the seed lot.

  pipstake chill 2026X012-A 2026X012-B
  pipstake chill 2026X012-B --from 2026-11-20
  pipstake chill 2026X012-B --from 2026-11-21 --correct
  pipstake chill 2026X012-B --out --on 2026-12-10         the power failed
  pipstake chill 2026X012-B --on 2026-12-14               in again`,
	define: func(f *flags) action {
		dir := f.registry()
		from := f.day("from", "the first `DATE` in the cold, or out of it, yyyy-mm-dd; today where left out")
		on := f.day("on", "the same as --from `DATE`")
		out := f.onOff("out", "the lots came out of the cold")
		correct := f.onOff("correct", "replace the day that was recorded last")
		return func(e *env, args []string) error {
			lots, err := e.readWhich(*dir, args, ids.LotLevel)
			if err != nil {
				return err
			}
			if from.given() && on.given() && from.day != on.day {
				return problem.Use("--from and --on name different days", "give one of them")
			}
			return e.chill(*dir, lots, registry.Chilling{On: e.dayOr(from, on), Out: *out, Correct: *correct})
		}
	},
}

func (e *env) chill(dir string, lots []ids.ID, c registry.Chilling) error {
	var said []string
	err := e.change(dir, func(r *registry.Registry) error {
		said = nil
		for _, id := range lots {
			if _, err := r.Chill(id, c); err != nil {
				return err
			}
			said = append(said, coldSaid(r, id, c))
		}
		return nil
	})
	if err != nil {
		return err
	}
	for _, line := range said {
		e.Say("%s", line)
	}
	if c.Out {
		e.Next("when it goes in again: pipstake chill %s", lots[0])
		return nil
	}
	e.Next("when the first seeds sprout: pipstake sow %s --pots 2", lots[0])
	return nil
}

// coldSaid returns what was recorded, with the days of earlier spells.
func coldSaid(r *registry.Registry, id ids.ID, c registry.Chilling) string {
	days, _ := r.ColdDays(id, c.On)
	switch {
	case c.Out:
		return fmt.Sprintf("%s  out of the cold on %s, after %s in it", id, c.On, words.Plural(days, "day", "days"))
	case days > 0:
		return fmt.Sprintf("%s  in the cold again since %s, after %s before", id, c.On, words.Plural(days, "day", "days"))
	}
	return fmt.Sprintf("%s  in the cold since %s", id, c.On)
}
