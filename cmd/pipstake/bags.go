package main

import (
	"fmt"

	"pipstake/ids"
	"pipstake/ids/registry"
	"pipstake/label/reading"
)

var bagsCommand = command{
	name:      "bags",
	records:   true,
	summary:   "issue seed lots and print their bag labels",
	arguments: "CROSS…",
	options:   "[--lots N] [--out FILE]",
	help: `Issues seed lots A, B, C … of each cross and prints a label for the bag of each,
before the fruit is opened: fruit, seeds, undeveloped, and the days are blanks
to write in. Make a lot for all fruit that stays together; one for each branch
or picking is common.

  pipstake bags 2026X012 --lots 3             lots A to C, in bags-0007.pdf
  pipstake bags 2026X012 2026X036             one more lot of each
  pipstake bags 2026X012 --stock letter-3x10-66.7x25.4
  pipstake bags 2026X012 --out - | lp         straight to the printer`,
	define: func(f *flags) action {
		lots := f.count("lots", "how many `LOTS` of each cross; 1 where left out", 1, 1000)
		on := f.day("on", "the `DATE` of issue, yyyy-mm-dd; today where left out")
		printing := f.issuing()
		dir := f.registry()
		return func(e *env, args []string) error {
			crosses, err := e.readWhich(*dir, args, ids.CrossLevel)
			if err != nil {
				return err
			}
			p, err := e.newPrintRun(printing)
			if err != nil {
				return err
			}
			return e.bags(*dir, p, crosses, lots.or(1), e.dayOr(on))
		}
	},
}

func (e *env) bags(dir string, p *printRun, crosses []ids.ID, lots int, on registry.Date) error {
	o, err := p.print(dir, func(r *registry.Registry) (order, error) {
		o := order{on: on}
		for _, id := range crosses {
			added, err := r.AddLots(id, lots, on)
			if err != nil {
				return o, err
			}
			cross, _ := r.Cross(id)
			for _, lot := range added {
				o.tags = append(o.tags, reading.KeysOf(lot.ID)...)
				o.lines = append(o.lines, fmt.Sprintf("%s  %s", lot.ID, parents(cross)))
			}
		}
		return o, nil
	})
	if err != nil {
		return err
	}
	p.next("once the fruit is opened: pipstake extract %s --seeds N --undeveloped N", o.tags[0].ID)
	return nil
}
