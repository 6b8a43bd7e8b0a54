package main

import (
	"slices"

	"pipstake/ids"
	"pipstake/ids/problem"
	"pipstake/ids/registry"
)

// extractRound asks on a terminal what was found in the fruit of each seed lot:
// of those named or, without names, of all that are not opened yet, in the order
// of the bench sheet.
func (e *env) extractRound(dir string, args []string, on *dayFlag) error {
	r, err := e.open(dir)
	if err != nil {
		return err
	}
	lots, err := e.lotsToOpen(r, dir, args)
	if err != nil {
		return err
	}
	today := e.dayOr(on)
	w := &round{env: e, dir: dir, level: ids.LotLevel, all: lots, needed: 1,
		questions: []question{{ask: "fruit"}, {ask: "seeds"}, {ask: "undeveloped"}, {ask: "remark", text: true}}}
	w.told = func(r *registry.Registry, id ids.ID) (string, bool) {
		cross, _ := r.Cross(id.At(ids.CrossLevel))
		lot, _ := r.Lot(id)
		if !lot.Seeds.Known {
			return parents(cross), false
		}
		return parents(cross) + "  recorded: " + found(lot) + onDay(lot.Extracted), true
	}
	w.record = func(id ids.ID, answers []string) error {
		r, err := e.open(dir)
		if err != nil {
			return err
		}
		lot, _ := r.Lot(id)
		x := extractOptions{lot: id, on: &dayFlag{}, note: answers[3]}
		x.Correct = lot.Seeds.Known
		line := []string{"extract", id.String()}
		if x.Correct {
			line = append(line, "--correct")
		} else {
			x.on.day = today
		}
		for i, flag := range []struct {
			name  string
			count *registry.Count
		}{{"--fruit", &x.Fruit}, {"--seeds", &x.Seeds}, {"--undeveloped", &x.Undeveloped}} {
			if answers[i] == "" {
				continue
			}
			n, err := parseCount(answers[i], 0, mostSeeds)
			if err != nil {
				return err
			}
			*flag.count = registry.Known(n)
			line = append(line, flag.name, answers[i])
		}
		if x.note != "" {
			line = append(line, "--note", x.note)
		}
		if !x.Correct {
			line = append(line, "--on", today.String())
		}
		return e.asking(line...).extract(dir, x)
	}
	return w.run()
}

// lotsToOpen are the seed lots of a round: those named, of wholes and runs the
// ones that are not opened yet.
func (e *env) lotsToOpen(r *registry.Registry, dir string, args []string) ([]ids.ID, error) {
	var which []ids.ID
	if len(args) == 0 {
		lots, err := e.toOpen(r, nil)
		for _, l := range lots {
			which = append(which, l.ID)
		}
		return which, err
	}
	named, err := e.readWhich(dir, args, ids.LotLevel)
	if err != nil || len(named) == 1 {
		return named, err
	}
	which = slices.DeleteFunc(slices.Clone(named), func(id ids.ID) bool {
		lot, _ := r.Lot(id)
		return lot.Seeds.Known
	})
	if len(which) == 0 {
		return nil, problem.Use("every seed lot named is opened already", "to mend a count, name one: "+named[0].String())
	}
	return which, nil
}
