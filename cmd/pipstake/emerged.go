package main

import (
	"fmt"

	"pipstake/ids"
	"pipstake/ids/problem"
	"pipstake/ids/registry"
	"pipstake/ids/season"
)

var emergedCommand = command{
	name:      "emerged",
	summary:   "record how many seedlings are up in a pot",
	arguments: "[POT] [N]",
	options:   "[--died N] [--on DATE] | --from FILE",
	help: `N is the total of seedlings that have come up so far, not those since the last
count; those that died since are among them. --died says how many these are, in
all. Neither number ever falls. One count for a pot and day is kept.

  pipstake emerged 2026X012-B2 3 --on 2027-02-26
  pipstake emerged 2026X012-B2 5 --on 2027-03-02     two more are up
  pipstake emerged 2026X012-B2 5 --died 1 --on 2027-03-09     one has died

--from takes in a CSV file of counts, such as one that the field page saved
(pipstake page): its columns are pot, on, up and, where there, died and notes.
All of its rows are recorded or, where one is wrong, none. Counts that are
recorded already stay as they are, so the same file may be taken in twice.

  pipstake emerged --from pipstake-counts-2027-03-01.csv`,
	define: func(f *flags) action {
		dir := f.registry()
		died := f.count("died", "how many of them have died, in all", 0, mostSeeds)
		on := f.day("on", "the `DATE` of the count, yyyy-mm-dd; today where left out")
		from := f.text("from", "take the counts in that a CSV `FILE` holds, - for standard input")
		return func(e *env, args []string) error {
			switch {
			case *from != "" && (len(args) > 0 || died.given || on.given()):
				return problem.Use("emerged --from takes pots, days and counts from the file", "leave POT, N, --died and --on out")
			case *from != "":
				return e.emergedFrom(*dir, *from)
			case len(args) < 2:
				return problem.Use(fmt.Sprintf("emerged: %s is missing", []string{"POT", "N"}[len(args)]),
					"usage: pipstake emerged POT N, or: pipstake emerged --from FILE")
			}
			pots, err := e.readIDs(args[:1], ids.PotLevel)
			if err != nil {
				return err
			}
			up, err := parseCount(args[1], 0, mostSeeds)
			if err != nil {
				r := firstProblem(err)
				return problem.Use(fmt.Sprintf("count %q: %s", args[1], r.What), r.Remedy)
			}
			return e.emerged(*dir, registry.Emergence{Pot: pots[0], On: e.dayOr(on), Up: registry.Known(up), Died: died.count()})
		}
	},
}

func (e *env) emerged(dir string, count registry.Emergence) error {
	var pot registry.Pot
	err := e.change(dir, func(r *registry.Registry) (err error) {
		count, err = r.CountPot(count)
		pot, _ = r.Pot(count.Pot)
		return err
	})
	if err != nil {
		return err
	}
	e.Say("%s  %s on %s", count.Pot, upOf(count, pot), count.On)
	if count.Up.N > 0 {
		e.noticeAll(noteOdd(nil, season.AtFirstSight, count.On, pot.Sown))
	}
	return nil
}
