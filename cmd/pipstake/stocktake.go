package main

import (
	"fmt"
	"slices"
	"strings"

	"pipstake/ids"
	"pipstake/ids/problem"
	"pipstake/ids/registry"
	"pipstake/ids/words"
	"pipstake/label/reading"
)

var stocktakeCommand = command{
	name:      "stocktake",
	records:   true,
	summary:   "compare what a walk along the pots saw with what should stand there",
	arguments: "[FILE…]",
	options:   "[--place FRAME] [--of ID,ID] [--print FILE.pdf] [--json]",
	help: `Compares the codes that a walk along the pots saw with the pots that should
stand there: all that grow, those of one place, or those of the seed lots,
crosses or pots that --of names; and likewise with the seedlings whose place is
on record. A FILE is a scanner's log with a code on each line, a CSV file of a
phone's scanning program with any columns, or a photograph; a folder stands for
all that is in it. Without a FILE the codes come from standard input.

  pipstake stocktake walk.csv
  pipstake stocktake photographs --place "frame 2"
  pipstake stocktake photographs --print replace.pdf
  pipstake stocktake --of 2026X012-B        then scan label after label

Told are pots seen and not seen, stakes that are lost, stakes of which there
seem to be two, unknown and void identifiers, and labels with other facts than
the registry. Where no pot was seen with both of its stakes, the walk looked at
one for each pot, and no stake counts as lost. A code on a photograph that could
not be read may be any of those that lack there, so none of these counts as
lost: take another picture.

--print makes the stakes that were found lost or out of date anew and retires
the old ones. Pots that were not seen at all are not among them: pipstake labels
ID --replace prints theirs. Exit status 1 where there is any finding.`,
	define: func(f *flags) action {
		place := f.text("place", "only pots whose place in pots.csv is `FRAME`")
		of := f.text("of", "only pots of these seed lots, crosses or pots: `ID,ID`")
		printed := f.text("print", "print the stakes to replace into `FILE.pdf`")
		replacing := f.replacing(printed)
		on := f.day("on", "the `DATE` of printing, yyyy-mm-dd; today where left out")
		asJSON := f.json()
		dir := f.registry()
		return func(e *env, args []string) error {
			w := &stocktake{Stocktake: reading.Stocktake{Today: e.seenOn(on), Place: strings.TrimSpace(*place), Unclear: map[string]bool{}}}
			if err := w.readSelection(e, *of); err != nil {
				return err
			}
			var p *printRun
			switch {
			case *printed == "":
			case *asJSON || *printed == "-":
				return problem.Use("--print makes a file beside the findings, which standard output holds", "name a file, and leave --json out: --print FILE.pdf")
			default:
				var err error
				if p, err = e.newPrintRun(replacing); err != nil {
					return err
				}
			}
			if err := w.saw(e, args); err != nil {
				return err
			}
			r, err := e.open(*dir)
			if err != nil {
				return err
			}
			e.noticeDamage(r)
			if err := w.expect(r); err != nil {
				return err
			}
			w.Judge(r)
			if *asJSON {
				err = e.SayJSON(w.facts(e.thereToo))
			} else {
				e.sayStocktake(w)
			}
			if err == nil && p != nil {
				err = e.printReplacements(*dir, p, w)
			}
			if err == nil && (len(w.Findings) > 0 || w.troubled()) {
				return errTold
			}
			return err
		}
	},
}

// stocktake is what was seen, against what should stand there.
type stocktake struct {
	reading.Stocktake
	r       *registry.Registry
	sources stocktakeSources
}

// stocktakeSources tell what was read.
type stocktakeSources struct {
	Photographs int        `json:"photographs"`
	Files       int        `json:"files"` // of text
	Codes       int        `json:"codes"`
	NotRead     int        `json:"codes_not_read"`
	OtherCodes  int        `json:"other_codes"`
	Numbers     int        `json:"numbers"` // left out
	Unread      []notRead  `json:"unread,omitempty"`
	Refused     []notTaken `json:"refused,omitempty"`
}

// notRead is a photograph with codes that were seen and not read.
type notRead struct {
	Photo  string       `json:"photo"`
	Places []placeFacts `json:"places"`
}

// notTaken is a line or a file that was not taken for a code.
type notTaken struct {
	Where string `json:"where"`
	What  string `json:"what"`
	Hint  string `json:"hint,omitempty"`
}

// troubled reports whether something could not be read, or nothing was.
func (w *stocktake) troubled() bool {
	return w.sources.NotRead > 0 || len(w.sources.Refused) > 0 || len(w.Sightings) == 0 && len(w.Expected) > 0
}

// readSelection reads the identifiers after --of.
func (w *stocktake) readSelection(e *env, of string) error {
	if of == "" {
		return nil
	}
	for text := range strings.SplitSeq(of, ",") {
		p, err := e.readID(strings.TrimSpace(text))
		if err != nil {
			return err
		}
		if p.ID.Level() == ids.SeedlingLevel {
			return problem.Use(fmt.Sprintf("--of %q: %s is a seedling, and pots are counted", of, p.ID), "name pots, seed lots or crosses")
		}
		w.Of = append(w.Of, p.ID)
	}
	return nil
}

// expect lists the pots that should stand there.
func (w *stocktake) expect(r *registry.Registry) error {
	for _, id := range w.Of {
		if err := live(r, id); err != nil {
			return err
		}
	}
	w.r = r
	w.Expect(r)
	if len(w.Expected) > 0 || w.Place == "" {
		return nil
	}
	var places []string
	for _, p := range r.Pots() {
		if p.Place != "" {
			places = append(places, p.Place)
		}
	}
	for _, s := range r.Seedlings() {
		if s.Place != "" {
			places = append(places, s.Place)
		}
	}
	hint := "pots.csv names no place yet; fill in its column place"
	if len(places) > 0 {
		slices.Sort(places)
		hint = "pots.csv has the places " + strings.Join(words.Few(slices.Compact(places), 12), ", ")
	}
	return problem.Use(fmt.Sprintf("--place %q: no pot in use stands there", w.Place), hint)
}
