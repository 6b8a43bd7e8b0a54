package main

import (
	"fmt"

	"pipstake/ids"
	"pipstake/ids/practice"
	"pipstake/ids/problem"
	"pipstake/ids/registry"
	"pipstake/ids/season"
	"pipstake/ids/words"
	"pipstake/label/reading"
)

var sowCommand = command{
	name:      "sow",
	records:   true,
	summary:   "issue pots and print their paired stakes",
	arguments: "LOT…",
	options:   "[--pots N] [--seeds N,N] [--out FILE]",
	help: `Sows what is left of a seed lot into pots, evenly, the larger shares first:
seven seeds in two pots are 4 and 3. --seeds says it pot by pot. Prints a pair
of stakes for each pot: two labels side by side, copy 1 and copy 2, one for each
side of the pot.

  pipstake sow 2026X012-B                    all that is left, in one pot
  pipstake sow 2026X012-B --pots 2           evenly
  pipstake sow 2026X012-B --seeds 5,2       as said, the rest stays in the bag
  pipstake sow 2026X012-A 2026X012-B --pots 2 --place "cold frame 1"
                                             two pots of each lot, in one PDF`,
	define: func(f *flags) action {
		pots := f.count("pots", "how many `POTS` of each lot; 1 where left out", 1, 1000)
		seeds := f.counts("seeds", "the `SEEDS` of each pot, such as 5,2")
		place := f.text("place", "where the pots stand, a `TEXT` to keep")
		on := f.day("on", "the `DATE` of sowing, yyyy-mm-dd; today where left out")
		printing := f.issuing()
		edge := f.twoSided()
		dir := f.registry()
		return func(e *env, args []string) error {
			lots, err := e.readWhich(*dir, args, ids.LotLevel)
			if err != nil {
				return err
			}
			switch {
			case seeds.ns != nil && len(lots) > 1:
				return problem.Use("--seeds goes with one lot only", "sow the lots one by one, or leave --seeds out")
			case seeds.ns != nil && pots.given && pots.n != len(seeds.ns):
				return problem.Use(fmt.Sprintf("--seeds names %s and --pots says %d", words.Plural(len(seeds.ns), "pot", "pots"), pots.n),
					"leave --pots out, and give --seeds a number for each pot, such as 10,10,10")
			}
			p, err := e.newPrintRun(printing)
			if err != nil {
				return err
			}
			p.setFlip(edge)
			s := sowOptions{lots: lots, pots: pots.or(1)}
			s.Seeds, s.Place, s.On = seeds.ns, *place, e.dayOr(on)
			return e.sow(*dir, p, s)
		}
	},
}

// sowOptions is what the command line says. Without Seeds, what is left of each
// lot is split over its pots.
type sowOptions struct {
	lots []ids.ID
	pots int
	registry.Sowing
}

func (e *env) sow(dir string, p *printRun, s sowOptions) error {
	o, err := p.print(dir, func(r *registry.Registry) (order, error) {
		o := order{on: s.On, notices: s.doubts(r)}
		for _, id := range s.lots {
			pots, err := s.of(r, id)
			if err != nil {
				return o, err
			}
			for _, pot := range pots {
				o.tags = append(o.tags, reading.KeysOf(pot.ID)...)
				if lot, _ := r.Lot(id); lot.Kept == 0 {
					o.notices = noteOdd(o.notices, season.AtSowing, pot.Sown, lot.Extracted)
				}
				o.lines = append(o.lines, fmt.Sprintf("%s  %s%s", pot.ID, words.Plural(pot.Seeds.N, "seed", "seeds"), onDay(pot.Sown)))
			}
			if left, err := r.LeftToSow(id); err == nil && left.Known {
				o.lines = append(o.lines, fmt.Sprintf("%s  %s left to sow", id, words.Plural(left.N, "seed", "seeds")))
			}
		}
		return o, nil
	})
	if err != nil {
		return err
	}
	p.next("when seedlings come up: pipstake emerged %s N", o.tags[0].ID)
	return nil
}

// doubts returns which lots the registry does not know to have had enough cold.
// They are sown all the same: the grower sees whether seed has sprouted.
func (s sowOptions) doubts(r *registry.Registry) []string {
	own, err := practice.Of(r)
	if err != nil {
		return []string{err.Error()}
	}
	var doubts []string
	for _, id := range s.lots {
		lot, ok := r.Lot(id)
		if !ok {
			continue // which is an error of its own
		}
		least := own.For(id).Cold.LeastDays
		switch days, _ := r.ColdDays(id, s.On); {
		case lot.Chilled.IsZero():
			doubts = append(doubts, fmt.Sprintf("nothing says when %s went into the cold; to record it: pipstake chill %s --from DATE", id, id))
		case days < least:
			doubts = append(doubts, fmt.Sprintf("%s has had %s of cold, %s asks for %d: seed that has not sprouted yet may fail to come up",
				id, words.Plural(days, "day", "days"), practice.File, least))
		}
	}
	return doubts
}

// of sows one lot.
func (s sowOptions) of(r *registry.Registry, lot ids.ID) ([]registry.Pot, error) {
	w := s.Sowing
	if w.Seeds == nil {
		left, err := r.LeftToSow(lot)
		if err != nil {
			return nil, err
		}
		if w.Seeds, err = shares(lot, left, s.pots); err != nil {
			return nil, err
		}
	}
	return r.Sow(lot, w)
}

// shares splits what is left of a lot over its pots, the larger shares first.
func shares(lot ids.ID, left registry.Count, pots int) ([]int, error) {
	switch {
	case !left.Known:
		return nil, problem.Use(fmt.Sprintf("it is not known how many seeds %s holds", lot), fmt.Sprintf("record them first: pipstake extract %s --seeds N", lot))
	case left.N <= 0:
		return nil, problem.Use(fmt.Sprintf("no seed of %s is left to sow", lot), "see pipstake scan "+lot.String())
	case left.N < pots:
		return nil, problem.Use(fmt.Sprintf("%s of %s cannot be split over %d pots", words.Plural(left.N, "seed", "seeds"), lot, pots),
			fmt.Sprintf("give --pots %d at the most", left.N))
	}
	seeds := make([]int, pots)
	for i := range seeds {
		seeds[i] = left.N / pots
		if i < left.N%pots {
			seeds[i]++
		}
	}
	return seeds, nil
}
