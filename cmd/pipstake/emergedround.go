package main

import (
	"cmp"
	"slices"
	"strconv"
	"strings"

	"pipstake/ids"
	"pipstake/ids/problem"
	"pipstake/ids/registry"
	"pipstake/ids/words"
)

// emergedRound asks on a terminal how many seedlings are up in each pot: of those
// named or, without names, of all that grow at a place.
func (e *env) emergedRound(dir string, args []string, place string, on registry.Date) error {
	pots, err := e.potsToCount(dir, args, place)
	if err != nil {
		return err
	}
	w := &round{env: e, dir: dir, level: ids.PotLevel, all: pots,
		questions: []question{{ask: "up"}, {ask: "died", whenTyped: true}}}
	w.told = func(r *registry.Registry, id ids.ID) (string, bool) {
		cross, _ := r.Cross(id.At(ids.CrossLevel))
		pot, _ := r.Pot(id)
		line := parents(cross) + "  " + seedsWords(pot)
		if counts := r.EmergenceOf(id); len(counts) > 0 {
			last := counts[len(counts)-1]
			line += ", " + upOf(last, pot) + " on " + last.On.String()
		}
		return line, true
	}
	w.record = func(id ids.ID, answers []string) error {
		count, err := parseUp(answers[0])
		if err != nil {
			return err
		}
		r, err := e.open(dir)
		if err != nil {
			return err
		}
		count.pot, count.on, count.anew = id, on, countedOn(r, id, on)
		if answers[1] != "" {
			died, err := parseCount(answers[1], 0, mostSeeds)
			if err != nil {
				return err
			}
			count.died = registry.Known(died)
		}
		return e.asking(count.commandLine(answers[0])...).emerged(dir, count)
	}
	return w.run()
}

// seedsWords are the seeds of a pot: "7 seeds".
func seedsWords(p registry.Pot) string {
	if !p.Seeds.Known {
		return "an unknown number of seeds"
	}
	return words.Plural(p.Seeds.N, "seed", "seeds")
}

// potsToCount are the pots of a round: those named or, without names, those that
// grow at a place, which is asked for where there are several.
func (e *env) potsToCount(dir string, args []string, place string) ([]ids.ID, error) {
	if len(args) > 0 {
		return e.readWhich(dir, args, ids.PotLevel)
	}
	r, err := e.open(dir)
	if err != nil {
		return nil, err
	}
	var pots []registry.Pot
	for _, p := range r.Pots() {
		if r.Grows(p.ID) {
			pots = append(pots, p)
		}
	}
	places := placesInUse(r)
	if place == "" && len(places) > 1 {
		if place, err = e.askPlace(places); err != nil {
			return nil, err
		}
	}
	pots = slices.DeleteFunc(pots, func(p registry.Pot) bool { return place != "" && !strings.EqualFold(p.Place, place) })
	switch {
	case len(pots) == 0 && place != "":
		return nil, problem.Use(words.Shown(place)+" holds no pot that grows", "pots stand at "+words.List(words.Few(places, 8)))
	case len(pots) == 0:
		return nil, problem.Use("no pot grows", "sow some first: pipstake sow LOT")
	}
	slices.SortFunc(pots, func(a, b registry.Pot) int {
		return cmp.Or(cmp.Compare(a.Place, b.Place), ids.Compare(a.ID, b.ID))
	})
	var which []ids.ID
	for _, p := range pots {
		which = append(which, p.ID)
	}
	return which, nil
}

// askPlace asks for one of several places, by its number or its name; "" is all.
func (e *env) askPlace(places []string) (string, error) {
	for i, p := range places {
		e.Tell("  %d  %s", i+1, words.OneLine(p))
	}
	for {
		answer, ok := e.ask("which place (Enter for all)? ")
		if !ok || answer == "" {
			return "", nil
		}
		if ended(answer) {
			return "", problem.Use("no place was named", "pipstake emerged --place "+shellWords(places[0]))
		}
		if n, err := strconv.Atoi(answer); err == nil && 0 < n && n <= len(places) {
			return places[n-1], nil
		}
		i := slices.IndexFunc(places, func(p string) bool { return strings.EqualFold(p, answer) })
		if i >= 0 {
			return places[i], nil
		}
		e.Tell("  no pot stands at %s", words.Shown(answer))
	}
}
