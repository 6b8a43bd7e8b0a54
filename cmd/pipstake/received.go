package main

import (
	"fmt"

	"pipstake/ids/problem"
	"pipstake/ids/registry"
	"pipstake/ids/season"
	"pipstake/label/reading"
)

var receivedCommand = command{
	name:      "received",
	records:   true,
	summary:   "register seed that was given or bought, and print its bag labels",
	arguments: "SEED [POLLEN]",
	options:   "--source TEXT [--year YEAR] [--seeds N] [--lots N]",
	help: `Seed that came from elsewhere has a source and a year, and no pollination of
yours: it gets an identifier as a cross does, no branch tag, and its bags at
once. SEED is the variety whose fruit it was in; where POLLEN is left out, the
pollen parent is unknown. The year is that of the harvest, as far as it is
known.

  pipstake received "Tarn Amber" --source "Ann, seed swap" --seeds 24
  pipstake received "Tarn Amber" --open --source "Nether Hollow" --year 2025
  pipstake received unknown --source "cider press, Larkfield" --lots 3`,
	define: func(f *flags) action {
		dir := f.registry()
		source := f.text("source", "who or where the seed came from, a `TEXT` to keep")
		on := f.day("on", "the `DATE` on which it came, yyyy-mm-dd; today where left out")
		year := f.count("year", "the `YEAR` of its harvest; that of --on where left out", 1900, 9999)
		lots := f.count("lots", "how many `LOTS` (bags) it is kept in; 1 where left out", 1, 1000)
		seeds := f.count("seeds", "how many `SEEDS` are in the one bag", 1, mostSeeds)
		open, mixed := f.parentFlags()
		note := f.text("note", "a `TEXT` to keep with it")
		printing := f.issuing()
		return func(e *env, args []string) error {
			if *source == "" && !e.askFlag(f, "source", "from whom") {
				return problem.Use("received: --source is missing", `say where it came from: --source "seed swap"`)
			}
			if len(args) == 1 && !*open && *mixed == "" {
				args = append(args, registry.Parent{Kind: registry.UnknownParent}.String())
			}
			p, err := newCrossParents(args, *open, *mixed)
			if err != nil {
				return err
			}
			s := registry.NewSeed{Source: *source, On: e.dayOr(on), Year: year.n, Lots: lots.or(1), Seeds: seeds.count(), Notes: *note}
			if s.SeedParent, s.PollenParent, err = e.cells(p); err != nil {
				return err
			}
			run, err := e.newPrintRun(printing)
			if err != nil {
				return err
			}
			return e.received(*dir, run, s, !on.given() && !year.given)
		}
	},
}

// received registers seed from elsewhere; byClock says that its year is that of
// the computer's clock.
func (e *env) received(dir string, p *printRun, s registry.NewSeed, byClock bool) error {
	o, err := p.print(dir, func(r *registry.Registry) (order, error) {
		o := order{on: s.On}
		if byClock {
			if err := e.trustClock(r); err != nil {
				return o, err
			}
		}
		cross, lots, err := r.Receive(s)
		if err != nil {
			return o, err
		}
		if err := season.CheckParents(r, cross); err != nil {
			return o, err
		}
		o.lines = append(o.lines, fmt.Sprintf("%s  %s, from %s", cross.ID, parents(cross), cross.Source))
		for _, lot := range lots {
			o.tags = append(o.tags, reading.KeysOf(lot.ID)...)
		}
		return o, nil
	})
	if err != nil {
		return err
	}
	if s.Seeds.Known {
		p.next("into the cold: pipstake chill %s", o.tags[0].ID)
	} else {
		p.next("once the seeds are counted: pipstake extract %s --seeds N", o.tags[0].ID)
	}
	return nil
}
