package main

import (
	"fmt"

	"pipstake/ids"
	"pipstake/ids/practice"
	"pipstake/ids/problem"
	"pipstake/ids/registry"
	"pipstake/ids/season"
	"pipstake/ids/words"
)

var extractCommand = command{
	name:      "extract",
	records:   true,
	summary:   "record what was found in the fruit of a seed lot",
	arguments: "[LOT…]",
	options:   "--seeds N [--undeveloped N] [--fruit N]",
	help: `Opens the fruit of one bag: counts of fruit, of all seeds, and of those among
the seeds that are flat or empty. The seeds that may be sown are seeds −
undeveloped.

On a terminal, without counts, it goes through all lots that are not opened yet,
in the order of the bench sheet (pipstake bench), or through those named, and
asks for each; 4 14 1 on one line are fruit, seeds and undeveloped. Each is
saved at once.

  pipstake extract
  pipstake extract 2026X012-B --fruit 4 --seeds 14 --undeveloped 1
  pipstake extract 2026X012-B --seeds 13 --correct     mends a miscount; what is
                                                       not named stays`,
	define: func(f *flags) action {
		dir := f.registry()
		seeds := f.count("seeds", "all `SEEDS` found, undeveloped ones included", 0, mostSeeds)
		undeveloped := f.count("undeveloped", "how many `SEEDS` of them are flat or empty", 0, mostSeeds)
		fruit := f.count("fruit", "how many `FRUIT` were opened", 0, mostSeeds)
		on := f.day("on", "the `DATE`, yyyy-mm-dd; today where left out")
		note := f.text("note", "a remark, a `TEXT` to keep with the lot")
		correct := f.onOff("correct", "replace what is recorded already")
		return func(e *env, args []string) error {
			counted := seeds.given || undeveloped.given || fruit.given || *correct || *note != ""
			switch {
			case !counted && e.onTerminal:
				return e.extractRound(*dir, args, on)
			case len(args) == 0:
				return problem.Use("extract: LOT is missing", "usage: "+f.command.usage())
			}
			lots, err := e.readWhich(*dir, args, ids.LotLevel)
			if err != nil {
				return err
			}
			if len(lots) > 1 {
				return problem.Use(fmt.Sprintf("the counts are of one seed lot, and %d are named", len(lots)), "name one: "+lots[0].String())
			}
			if !seeds.given && !*correct {
				return problem.Use("extract: --seeds is missing", "usage: "+f.command.usage())
			}
			x := extractOptions{lot: lots[0], on: on, note: *note}
			x.Seeds, x.Undeveloped, x.Fruit, x.Correct = seeds.count(), undeveloped.count(), fruit.count(), *correct
			return e.extract(*dir, x)
		}
	},
}

// extractOptions is what the command line says of one lot's fruit.
type extractOptions struct {
	lot  ids.ID
	on   *dayFlag
	note string // "" for none
	registry.Extraction
}

func (e *env) extract(dir string, x extractOptions) error {
	x.On = e.dayOr(x.on)
	var lot registry.Lot
	var improbable []season.Improbable
	var odd []string
	err := e.change(dir, func(r *registry.Registry) (err error) {
		if lot, err = r.Extract(x.lot, x.kept(r)); err != nil {
			return err
		}
		if x.note != "" {
			if err := r.Note(x.lot, x.On, x.note); err != nil {
				return err
			}
		}
		if improbable, err = improbableOf(r, lot.ID); err != nil {
			return err
		}
		cross, _ := r.Cross(lot.ID.At(ids.CrossLevel))
		odd = noteOdd(nil, season.AtExtraction, lot.Extracted, cross.Pollinated)
		return nil
	})
	if err != nil {
		return err
	}
	noted := ""
	if x.note != "" {
		noted = ": " + words.OneLine(x.note)
	}
	e.Say("%s  %s%s%s", lot.ID, foundAndGood(lot), onDay(lot.Extracted), noted)
	e.noticeAll(odd)
	e.noticeImprobable(improbable)
	if lot.Chilled.IsZero() && !e.inRound {
		e.Next("into the cold: pipstake chill %s", lot.ID)
	}
	return nil
}

// improbableOf finds counts of a cross, or of a seed lot and its cross, that are
// hardly true.
func improbableOf(r *registry.Registry, id ids.ID) ([]season.Improbable, error) {
	own, err := practice.Of(r)
	if err != nil {
		return nil, err
	}
	cross, _ := r.Cross(id.At(ids.CrossLevel))
	lot := registry.Lot{}
	if id.Level() == ids.LotLevel {
		lot, _ = r.Lot(id)
	}
	return season.ImprobableOf(r, cross, lot, own.For(id)), nil
}

func (e *env) noticeImprobable(found []season.Improbable) {
	for _, d := range found {
		e.Notice("%s", improbableWords(d))
	}
}

// improbableWords say why a count is hardly true.
func improbableWords(d season.Improbable) string {
	if d.Believed == 1 {
		return fmt.Sprintf("%d %s of %d %s: is one of the counts wrong?", d.N, d.What, d.Of, d.Beside)
	}
	return fmt.Sprintf("%d %s in %d %s are more than %d in each (fruit.believed_seeds of protocol.toml): is one of the counts wrong?", d.N, d.What, d.Of, d.Beside, d.Believed)
}

// kept is the extraction with the day taken from the registry where a
// correction does not name one. The registry keeps counts that are not named.
func (x extractOptions) kept(r *registry.Registry) registry.Extraction {
	said := x.Extraction
	if lot, ok := r.Lot(x.lot); ok && said.Correct && !x.on.given() && !lot.Extracted.IsZero() {
		said.On = lot.Extracted
	}
	return said
}

// found says what was found in a lot's fruit.
func found(l registry.Lot) string {
	if !l.Seeds.Known {
		return "not yet extracted"
	}
	text := ""
	if l.Fruit.Known {
		text = words.Plural(l.Fruit.N, "fruit", "fruit") + ", "
	}
	text += words.Plural(l.Seeds.N, "seed", "seeds")
	if l.Undeveloped.Known {
		text += fmt.Sprintf(", %d undeveloped", l.Undeveloped.N)
	}
	return text
}

// foundAndGood says as well how many of the seeds may be sown, where that is
// not all of them.
func foundAndGood(l registry.Lot) string {
	if !l.Seeds.Known || l.Undeveloped.N == 0 {
		return found(l)
	}
	return fmt.Sprintf("%s: %d may be sown", found(l), l.Seeds.N-l.Undeveloped.N)
}
