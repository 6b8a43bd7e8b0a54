package main

import (
	"fmt"

	"pipstake/ids"
	"pipstake/ids/problem"
	"pipstake/ids/registry"
	"pipstake/ids/words"
)

var plantCommand = command{
	name:      "plant",
	records:   true,
	summary:   "record that seedlings were planted out, first flowered or first fruited",
	arguments: "ID…",
	options:   "--to PLACE | --flowered | --fruited [--on DATE]",
	help: `A pot stands for all of its seedlings that grow, and so does a lot or a cross.

  pipstake plant 2026X012-B2-A..F --to "row 4, from the gate" --on 2028-03-20
  pipstake plant 2026X012-B2-C --flowered --on 2031-05-02
  pipstake plant 2026X012-B2-C --fruited --on 2031-10-01`,
	define: func(f *flags) action {
		to := f.text("to", "the `PLACE` where they were planted")
		flowered := f.onOff("flowered", "it flowered for the first time")
		fruited := f.onOff("fruited", "it bore fruit for the first time")
		on := f.day("on", "the `DATE`, yyyy-mm-dd; today where left out")
		dir := f.registry()
		return func(e *env, args []string) error {
			named, err := e.readSelection(args)
			if err != nil {
				return err
			}
			if *to == "" && !*flowered && !*fruited {
				e.askFlag(f, "to", "to which place")
			}
			given := 0
			for _, is := range []bool{*to != "", *flowered, *fruited} {
				if is {
					given++
				}
			}
			if given != 1 {
				return problem.Use("plant: say one of --to, --flowered and --fruited", "usage: "+f.command.usage())
			}
			p := planting{*to, registry.Flowered, e.dayOr(on)}
			if *fruited {
				p.first = registry.Fruited
			}
			return e.each(*dir, named, atLevel(ids.SeedlingLevel), p.record)
		}
	},
}

// planting is what a seedling did once it was out.
type planting struct {
	place string
	first registry.DiaryWord // where there is no place
	on    registry.Date
}

// record writes it down for one seedling.
func (p planting) record(r *registry.Registry, id ids.ID) (string, error) {
	if p.place != "" {
		_, err := r.Plant(id, p.place, p.on)
		return fmt.Sprintf("%s  planted out at %s on %s", id, words.OneLine(p.place), p.on), err
	}
	what := "first flowered"
	if p.first == registry.Fruited {
		what = "first bore fruit"
	}
	return fmt.Sprintf("%s  %s on %s", id, what, p.on), r.First(id, p.first, p.on)
}
