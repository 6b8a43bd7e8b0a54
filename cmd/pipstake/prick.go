package main

import (
	"fmt"

	"pipstake/ids"
	"pipstake/ids/problem"
	"pipstake/ids/registry"
	"pipstake/ids/season"
	"pipstake/label/reading"
)

var prickCommand = command{
	name:      "prick",
	records:   true,
	summary:   "issue seedlings pricked out of a pot and print their labels",
	arguments: "POT…",
	options:   "[--seedlings N | --all] [--on DATE] [--out FILE]",
	help: `Issues the identifiers of seedlings that are pricked out, each into a place of
its own, and prints a label for each. From then on a seedling is a plant with a
name: 2026X012-B2-C can be the parent of a later cross.

  pipstake prick 2026X012-B2 --seedlings 5
  pipstake prick 2026X012-B1..2 --seedlings 3     three of each pot
  pipstake prick 2026X012-B --all                 all alive, of each pot

Later ones of the same pot go on where the letters stopped.`,
	define: func(f *flags) action {
		seedlings := f.count("seedlings", "how many `SEEDLINGS` of each pot; 1 where left out", 1, ids.MaxSeedling)
		whole := f.onOff("all", "all seedlings that are alive in each pot")
		on := f.day("on", "the `DATE` of pricking out, yyyy-mm-dd; today where left out")
		printing := f.issuing()
		dir := f.registry()
		return func(e *env, args []string) error {
			pots, err := e.readSelection(args)
			switch {
			case err != nil:
				return err
			case *whole && seedlings.given:
				return problem.Use("--all and --seedlings contradict each other", "give one of the two")
			case !*whole && !seedlings.given && pots.anyAbove(ids.PotLevel):
				return problem.Use(fmt.Sprintf("%s stands for all of its pots", pots[0]), "say --all, or how many of each: --seedlings N")
			}
			p, err := e.newPrintRun(printing)
			if err != nil {
				return err
			}
			return e.prick(*dir, p, prickOptions{pots, seedlings.or(1), *whole, e.dayOr(on)})
		}
	},
}

// prickOptions is so many seedlings pricked out of each pot on a day.
type prickOptions struct {
	pots selection
	n    int
	all  bool // as many as are alive, instead of n
	on   registry.Date
}

func (e *env) prick(dir string, p *printRun, w prickOptions) error {
	o, err := p.print(dir, func(r *registry.Registry) (order, error) {
		o := order{on: w.on}
		which, err := w.pots.at(r, ids.PotLevel)
		if err != nil {
			return o, err
		}
		for _, pot := range which.ids {
			if err := live(r, pot); err != nil {
				return o, err
			}
			n, err := w.from(r, pot, len(which.ids) == 1)
			if err != nil || n == 0 {
				if err != nil {
					return o, err
				}
				continue
			}
			seedlings, err := r.AddSeedlings(pot, n, w.on)
			if err != nil {
				return o, err
			}
			for _, s := range seedlings {
				o.tags = append(o.tags, reading.KeysOf(s.ID)...)
			}
			cross, _ := r.Cross(pot.At(ids.CrossLevel))
			sown, _ := r.Pot(pot)
			o.notices = noteOdd(o.notices, season.AtPrickingOut, w.on, sown.Sown)
			o.lines = append(o.lines, fmt.Sprintf("%s  %s%s", issuedRange(seedlings), parents(cross), onDay(seedlings[0].Pricked)))
			if what := uncounted(r, pot); what != "" {
				o.notices = append(o.notices, what)
			}
		}
		if len(o.tags) == 0 {
			return o, problem.Use("nothing is alive in these pots", "count them first: pipstake emerged POT N")
		}
		return o, nil
	})
	if err != nil {
		return err
	}
	p.next("once it flowers, it can be a parent: pipstake cross %s POLLEN; its ancestors: pipstake lineage %s", o.tags[0].ID, o.tags[0].ID)
	return nil
}

// from is how many seedlings are pricked out of a pot. Where all are wanted and
// it is the only pot, none is a mistake.
func (w prickOptions) from(r *registry.Registry, pot ids.ID, only bool) (int, error) {
	if !w.all {
		return w.n, nil
	}
	alive := r.AliveIn(pot)
	switch {
	case !alive.Known && only:
		return 0, problem.Use(fmt.Sprintf("%s was never counted", pot), fmt.Sprintf("count what is up first: pipstake emerged %s N; or say how many: --seedlings N", pot))
	case alive.N == 0 && only:
		return 0, problem.Use(fmt.Sprintf("nothing is alive in %s", pot), "count again: pipstake emerged "+pot.String()+" N")
	}
	return alive.N, nil
}

// issuedRange names the first and the last of the seedlings issued.
func issuedRange(seedlings []registry.Seedling) string {
	first, last := seedlings[0].ID, seedlings[len(seedlings)-1].ID
	if first == last {
		return first.String()
	}
	return fmt.Sprintf("%s to %s", first, ids.Letters(last.Seedling))
}

// uncounted returns the notice on a pot from which more seedlings are pricked out
// than were counted as up: the others count as up from then on; "" for any other.
func uncounted(r *registry.Registry, pot ids.ID) string {
	counted, known := r.EmergenceOf(pot), r.CountsOf(pot)
	if len(counted) == 0 || len(known) == 0 {
		return ""
	}
	was, is := counted[len(counted)-1], known[len(known)-1]
	if is.Up.N <= was.Up.N {
		return ""
	}
	return fmt.Sprintf("%d were counted as up in %s on %s, and %s more came up since: %d count as up on %s",
		was.Up.N, pot, was.On, fmt.Sprint(is.Up.N-was.Up.N), is.Up.N, is.On)
}
