package main

import (
	"fmt"
	"strings"

	"pipstake/ids"
	"pipstake/ids/problem"
	"pipstake/ids/registry"
	"pipstake/ids/words"
)

var goneCommand = command{
	name:      "gone",
	records:   true,
	summary:   "record how something ended: it stays in the figures and asks for nothing",
	arguments: "ID…",
	options:   "[--how HOW] [--on DATE] [--note TEXT] [--seeds N] [--back]",
	help: `Everything ends. What has ended asks for no task, no label and no stocktake any
more; its counts stay in germination and yield, and its seeds do not come back.
An identifier that should never have been is another thing: see pipstake void.

HOW is, of

  a cross     failed
  a seed lot  discarded, used-up, given-away
  a pot       lost, emptied
  a seedling  died, culled (with --note)

Without --how: a cross failed; a lot is used up where no seed is left, and else
discarded; a pot is emptied where nothing alive is left in it, and else lost; a
seedling died. The bags of a failed cross end with it. Seedlings live on after
their pot, and pots after their seed lot.

  pipstake gone 2026X012 --on 2026-07-01 --note "June drop"
  pipstake gone 2026X012-B2 --how lost --note mice
  pipstake gone 2026X012-B1..6 --how emptied     all that still grow of these
  pipstake gone 2026X012-B --how lost            all pots of the lot
  pipstake gone 2026X012-B --seeds 4 --how given-away --note "to the school"
  pipstake gone 2026X012-B2-C --how culled --note mildew
  pipstake gone 2026X012-B2 --back               it grows after all`,
	define: func(f *flags) action {
		how := f.word("how", "`HOW` it ended", "failed", "discarded", "used-up", "given-away", "lost", "emptied", "died", "culled")
		on := f.day("on", "the `DATE`, yyyy-mm-dd; today where left out")
		note := f.text("note", "the reason, a `TEXT` to keep")
		seeds := f.count("seeds", "only so many `SEEDS` of a lot, discarded or given away", 1, mostSeeds)
		back := f.onOff("back", "take an end back that was wrong")
		dir := f.registry()
		return func(e *env, args []string) error {
			named, err := e.readSelection(args)
			if err != nil {
				return err
			}
			fate := registry.Fate(how.word)
			switch {
			case *back && (fate != "" || on.given() || *note != "" || seeds.given):
				return problem.Use("--back takes an end back, and goes with nothing else", "leave --how, --on, --note and --seeds out")
			case *back:
				return e.goneBack(*dir, named)
			case seeds.given:
				return e.seedsGone(*dir, named, registry.SeedsGone{How: fate, Seeds: seeds.n, On: e.dayOr(on), Note: *note})
			}
			return e.gone(*dir, named, registry.Ending{How: fate, On: e.dayOr(on), Note: *note})
		}
	},
}

// gone records the end of each.
func (e *env) gone(dir string, named selection, end registry.Ending) error {
	var which chosen
	var lines []string
	labels := labelTally{}
	err := e.change(dir, func(r *registry.Registry) (err error) {
		lines, labels = nil, labelTally{}
		if which, err = named.at(r, end.How.Level()); err != nil {
			return err
		}
		for _, id := range which.ids {
			one := end
			one.ID = id
			alive := r.AliveIn(id)
			all, err := r.End(one)
			if err != nil {
				return err
			}
			lines = append(lines, goneLine(r, all, alive))
			for _, e := range all {
				labels.add(r, e.ID)
			}
		}
		return nil
	})
	if err != nil {
		return err
	}
	for _, line := range lines {
		e.Say("%s", line)
	}
	e.tellLeftOut(which)
	if said := labels.String(); said != "" {
		e.Next("take away %s", said)
	}
	return nil
}

// goneLine returns what ended, with what was alive in it and what ends with it.
func goneLine(r *registry.Registry, all []registry.Ending, alive registry.Count) string {
	first := all[0]
	line := fmt.Sprintf("%s  %s on %s", first.ID, first.How.Past(), first.On)
	switch {
	case first.How == registry.Lost && alive.N > 0:
		line += fmt.Sprintf(", with %s in it", words.Plural(alive.N, "seedling", "seedlings"))
	case first.ID.Level() == ids.LotLevel:
		if sum, err := r.SeedsOf(first.ID); err == nil && sum.Gone > 0 {
			line += fmt.Sprintf(", with %s", words.Plural(sum.Gone, "seed", "seeds"))
		}
	}
	if first.Note != "" {
		line += ": " + words.OneLine(first.Note)
	}
	if len(all) > 1 {
		var with []string
		for _, e := range all[1:] {
			with = append(with, e.ID.String())
		}
		line += "; with it " + words.List(words.Few(with, 6))
	}
	return line
}

// labelTally counts labels in use by their face.
type labelTally map[registry.Face]int

// add counts the labels in use of an identifier.
func (t labelTally) add(r *registry.Registry, id ids.ID) {
	for _, l := range r.LabelsOf(id) {
		if l.State == registry.LabelLive {
			t[l.Face]++
		}
	}
}

// String lists the labels: "1 bag label and 2 stakes"; "" for none.
func (t labelTally) String() string {
	var parts []string
	for _, face := range []struct {
		face      registry.Face
		one, many string
	}{
		{registry.BranchFace, "branch tag", "branch tags"}, {registry.BagFace, "bag label", "bag labels"},
		{registry.StakeFace, "stake", "stakes"}, {registry.SeedlingFace, "seedling label", "seedling labels"},
	} {
		if n := t[face.face]; n > 0 {
			parts = append(parts, words.Plural(n, face.one, face.many))
		}
	}
	if len(parts) == 0 {
		return ""
	}
	return words.List(parts)
}

// goneBack takes the end of each back.
func (e *env) goneBack(dir string, named selection) error {
	var lines []string
	err := e.change(dir, func(r *registry.Registry) error {
		lines = nil
		for _, run := range named {
			for _, id := range run.All() {
				if r.Status(id) == registry.Unknown {
					return unknown(r, id)
				}
				was, err := r.GrowsOn(id)
				if err != nil {
					return err
				}
				lines = append(lines, fmt.Sprintf("%s  grows on: it no longer counts as %s on %s", id, was.How, was.On))
			}
		}
		return nil
	})
	if err != nil {
		return err
	}
	for _, line := range lines {
		e.Say("%s", line)
	}
	return nil
}

// seedsGone records that some seeds of a lot are gone.
func (e *env) seedsGone(dir string, named selection, g registry.SeedsGone) error {
	var lot ids.ID
	left := 0
	err := e.change(dir, func(r *registry.Registry) error {
		which, err := named.at(r, ids.LotLevel)
		if err != nil {
			return err
		}
		if len(which.ids) > 1 {
			return problem.Use(fmt.Sprintf("--seeds is of one seed lot, and %d are named", len(which.ids)), "name one: "+which.ids[0].String())
		}
		lot = which.ids[0]
		left, err = r.TakeSeeds(lot, g)
		return err
	})
	if err != nil {
		return err
	}
	how := strings.ReplaceAll(string(g.How), "-", " ")
	if how == "" {
		how = "discarded"
	}
	e.Say("%s  %s %s on %s, %d left", lot, words.Plural(g.Seeds, "seed", "seeds"), how, g.On, left)
	return nil
}
