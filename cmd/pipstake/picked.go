package main

import (
	"fmt"

	"pipstake/ids"
	"pipstake/ids/problem"
	"pipstake/ids/registry"
	"pipstake/ids/season"
	"pipstake/ids/words"
)

var pickedCommand = command{
	name:      "picked",
	records:   true,
	summary:   "record how many fruit of a cross were picked",
	arguments: "CROSS",
	options:   "--fruit N [--on DATE]",
	help: `All fruit of the cross together. Fruit set is reckoned from it, and how long the
fruit ripened in store before it was opened. From then on the branch tag has
done its work.

  pipstake picked 2026X012 --fruit 9 --on 2026-10-02`,
	define: func(f *flags) action {
		fruit := f.count("fruit", "how many `FRUIT` were picked; 0 where none was left", 0, mostSeeds)
		on := f.day("on", "the `DATE`, yyyy-mm-dd; today where left out")
		dir := f.registry()
		return func(e *env, args []string) error {
			crosses, err := e.readIDs(args, ids.CrossLevel)
			if err != nil {
				return err
			}
			if !fruit.given && !e.askFlag(f, "fruit", "how many fruit") {
				return problem.Use("picked: --fruit is missing", "usage: "+f.command.usage())
			}
			return e.picked(*dir, crosses[0], fruit.n, e.dayOr(on))
		}
	},
}

func (e *env) picked(dir string, cross ids.ID, fruit int, on registry.Date) error {
	var c registry.Cross
	bags := 0
	var improbable []season.Improbable
	var odd []string
	err := e.change(dir, func(r *registry.Registry) (err error) {
		if r.Status(cross) == registry.Unknown {
			return unknown(r, cross)
		}
		if c, err = r.Pick(cross, fruit, on); err != nil {
			return err
		}
		bags = len(r.LotsOf(cross))
		odd = noteOdd(nil, season.AtPicking, on, c.Pollinated)
		improbable, err = improbableOf(r, cross)
		return err
	})
	if err != nil {
		return err
	}
	set := ""
	if c.Flowers.Known && c.Flowers.N > 0 {
		set = fmt.Sprintf(" of %d flowers (%s %%)", c.Flowers.N, words.PercentOf(fruit, c.Flowers.N))
	}
	e.Say("%s  %d fruit picked%s on %s", cross, fruit, set, on)
	e.noticeAll(odd)
	e.noticeImprobable(improbable)
	switch {
	case fruit == 0:
		e.Next("where the cross failed: pipstake gone %s --how failed", cross)
	case bags == 0:
		e.Next("print bag labels: pipstake bags %s --lots N", cross)
	}
	return nil
}
