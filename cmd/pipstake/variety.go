package main

import (
	"cmp"
	"fmt"
	"strings"

	"pipstake/ids/problem"
	"pipstake/ids/registry"
	"pipstake/ids/season"
	"pipstake/ids/words"
)

var varietyCommand = command{
	name:      "variety",
	records:   true,
	summary:   "keep what is known of the parents: pedigree, sports, ploidy, S-alleles",
	arguments: "[VARIETY]",
	options:   "[--parents \"A, B\"] [--sport-of VARIETY] [--ploidy N] [--s-alleles S2,S3]",
	help: `Without a name, lists the varieties: those of varieties.csv, your named
selections, and every parent of a cross, with how often each was used. With a
name and nothing else, shows that one. With facts, records them. Pedigrees,
coefficients of inbreeding and the notices of pipstake cross reach through what
is recorded here: a sport counts as the genotype that it was found on, and
varieties without parents are taken as unrelated. The seed parent comes first; a
parent that nobody knows is unknown or open. Another spelling, once recorded, is
the same variety.

  pipstake variety
  pipstake variety "Tarn Amber"
  pipstake variety "Tarn Amber" --parents "Gwennol Goch, unknown" --year 1874
  pipstake variety "Red Amber" --sport-of "Tarn Amber"
  pipstake variety "Tarn Amber" --ploidy 3 --s-alleles S2,S3,S9
  pipstake variety "Tarn Amber" --also "Amber of Tarn"
  pipstake variety --from list.csv             many at once

A list is a CSV file with a row for each variety. Its columns are those of
varieties.csv: name, also, seed_parent, pollen_parent, sport_of, ploidy,
s_alleles, year, notes. Only the name must be there. All rows are recorded or
none.`,
	surplus: `put a name of several words in quotes: pipstake variety "Tarn Amber"`,
	define: func(f *flags) action {
		o := &varietyOptions{}
		o.parents = f.text("parents", "seed parent and pollen parent, `A, B` or \"A × B\"")
		o.sportOf = f.text("sport-of", "the `VARIETY` that it is a bud sport of")
		o.ploidy = f.count("ploidy", "how many sets of chromosomes: 2, or 3 for a triploid; `N`", registry.LeastPloidy, registry.MostPloidy)
		o.alleles = f.text("s-alleles", "the alleles of self-incompatibility, `S2,S3`")
		o.also = f.text("also", "another `SPELLING`; several with semicolons between them")
		o.year = f.count("year", "the `YEAR` in which it was raised or first recorded", 1, 9999)
		o.note = f.text("note", "a `TEXT` to keep with it")
		o.from = f.text("from", "record the varieties of a CSV `FILE`, - for standard input")
		o.correct = f.onOff("correct", "replace facts that are recorded already")
		o.json = f.json()
		o.dir = f.registry()
		return func(e *env, args []string) error { return e.runVariety(o, args) }
	},
}

// varietyOptions are the flags of the command.
type varietyOptions struct {
	parents, sportOf, alleles, also, note, from *string
	ploidy, year                                *countFlag
	correct, json                               *bool
	dir                                         *string
}

// facts are those on the command line; false where there are none.
func (o *varietyOptions) facts() (registry.Variety, bool, error) {
	v := registry.Variety{Also: *o.also, SportOf: *o.sportOf, Ploidy: o.ploidy.n, SAlleles: *o.alleles, Year: o.year.n, Notes: *o.note}
	if *o.parents != "" {
		var err error
		if v.SeedParent, v.PollenParent, err = bothParents(*o.parents); err != nil {
			return v, false, err
		}
	}
	return v, v != registry.Variety{}, nil
}

// bothParents reads "A × B", "A x B" or "A, B".
func bothParents(arg string) (seed, pollen string, err error) {
	for _, sign := range []string{" × ", " x ", " X ", ","} {
		if parts := strings.Split(arg, sign); len(parts) == 2 {
			seed, pollen = strings.TrimSpace(parts[0]), strings.TrimSpace(parts[1])
			if seed != "" && pollen != "" {
				return seed, pollen, nil
			}
		}
	}
	return "", "", problem.Use(fmt.Sprintf("--parents %q does not name two parents", arg), `write the seed parent first: --parents "Gwennol Goch, unknown"`)
}

func (e *env) runVariety(o *varietyOptions, args []string) error {
	facts, given, err := o.facts()
	if err != nil {
		return err
	}
	switch {
	case *o.from != "" && (given || len(args) > 0 || *o.json):
		return problem.Use("variety: --from records a list and nothing else", "leave the rest out")
	case *o.from != "":
		return e.varietiesFrom(*o.dir, *o.from, *o.correct)
	case given && len(args) == 0:
		return problem.Use("variety: VARIETY is missing", "name the variety that this is about")
	case given && *o.json:
		return problem.Use("variety: --json shows, and facts record", "leave one of the two out")
	case given:
		facts.Name = args[0]
		return e.recordVariety(*o.dir, facts, *o.correct)
	}
	r, err := e.open(*o.dir)
	if err != nil {
		return err
	}
	if len(args) == 0 {
		return e.listVarieties(r, *o.json)
	}
	return e.showVariety(r, args[0], *o.json)
}

// recordVariety records facts of one variety.
func (e *env) recordVariety(dir string, v registry.Variety, correct bool) error {
	var change registry.VarietyChange
	var told string
	err := e.change(dir, func(r *registry.Registry) (err error) {
		known, how := r.Names().Near(v.Name)
		told = ""
		switch {
		case how == registry.Alike && registry.NameKey(known.Name) == registry.NameKey(v.Name):
			v.Name = known.Name // as it is written already
		case how == registry.Alike:
			told = fmt.Sprintf("%s is new, and nearly %s: did you mean that? pipstake undo takes this back", v.Name, known.Name)
		}
		if change, err = r.SetVariety(v, correct); err != nil {
			return err
		}
		return season.CheckVariety(r, change.Now.Name)
	})
	if err != nil {
		return err
	}
	e.tellVariety(change)
	if told != "" {
		e.Notice("%s", told)
	}
	return nil
}

// tellVariety says what was recorded, and what stood there before.
func (e *env) tellVariety(c registry.VarietyChange) {
	was, now := varietyFacts(c.Before), varietyFacts(c.Now)
	var told []string
	for i, f := range now {
		switch before := was[i].text; {
		case f.text == before:
		case before == "":
			told = append(told, f.what+" "+f.text)
		default:
			told = append(told, fmt.Sprintf("%s %s (was %s)", f.what, f.text, before))
		}
	}
	if told == nil {
		e.Say("%s  nothing new", c.Now.Name)
		return
	}
	e.Say("%s  %s", c.Now.Name, strings.Join(told, "; "))
}

// varietyFact is one fact in words.
type varietyFact struct{ what, text string }

// varietyFacts are the facts of a variety, "" for those not known.
func varietyFacts(v registry.Variety) []varietyFact {
	year := ""
	if v.Year != 0 {
		year = fmt.Sprint(v.Year)
	}
	return []varietyFact{
		{"also", strings.Join(v.Spellings(), ", ")},
		{"parents", varietyParents(v)},
		{"sport of", v.SportOf},
		{"ploidy", ploidyWords(v.Ploidy)},
		{"S-alleles", v.SAlleles},
		{"year", year},
		{"notes", v.Notes},
	}
}

// varietyParents is "♀ Gwennol Goch × ♂ open"; "" where none is known.
func varietyParents(v registry.Variety) string {
	if v.SeedParent+v.PollenParent == "" {
		return ""
	}
	return parents(registry.Cross{SeedParent: orUnknown(v.SeedParent), PollenParent: orUnknown(v.PollenParent)})
}

func orUnknown(name string) string {
	return cmp.Or(name, registry.Parent{Kind: registry.UnknownParent}.String())
}

// ploidyWords is "3 (triploid)".
func ploidyWords(n int) string {
	switch n {
	case 0:
		return ""
	case 2:
		return "2 (diploid)"
	case 3:
		return "3 (triploid)"
	case 4:
		return "4 (tetraploid)"
	}
	return fmt.Sprint(n)
}

// listOfVarieties is what --from takes in.
var listOfVarieties = fromFile{"list of varieties", "name a CSV file with the column name", "name the CSV file of the list"}

// varietiesFrom records the varieties of a file, all or none.
func (e *env) varietiesFrom(dir, name string, correct bool) error {
	text, err := e.textFrom(name, listOfVarieties)
	if err != nil {
		return err
	}
	var recorded registry.Imported
	err = e.change(dir, func(r *registry.Registry) (err error) {
		if recorded, err = r.ImportVarieties(inputName(name), string(text), correct); err != nil {
			return err
		}
		return season.CheckVariety(r, recorded.Varieties...)
	})
	if err != nil {
		return err
	}
	e.Say("%s recorded from %s: %d new, %d with new facts, %d as they were",
		words.Plural(len(recorded.Varieties), "variety", "varieties"), inputName(name), recorded.New, recorded.Changed, len(recorded.Varieties)-recorded.New-recorded.Changed)
	return nil
}
