package main

import (
	"fmt"
	"strings"
	"unicode"

	"pipstake/ids"
	"pipstake/ids/problem"
	"pipstake/ids/registry"
	"pipstake/ids/season"
	"pipstake/ids/words"
	"pipstake/label"
)

var crossCommand = command{
	name:      "cross",
	records:   true,
	summary:   "register a cross and issue its identifier",
	arguments: "SEED [POLLEN]",
	options:   "[--open | --mixed PLANTS] [--on DATE] [--flowers N]",
	surplus:   `put a name of several words in quotes: pipstake cross "Larkfield Tessel" "Tarn Amber"`,
	help: `The seed parent (♀), whose flowers were pollinated, comes first; then the pollen
parent (♂). A parent is a name, in quotes where it has several words, or the
identifier of a seedling of your own, which must be older than the cross. Prints
the identifier, such as 2026X012: cross 12 of 2026; and where the parents are
related, how inbred the seedlings will be. Notices tell of a name that is nearly
that of a known one (on a terminal you are asked), of the same cross made that
year already, of triploids, and of parents that share their S-alleles; see
pipstake variety.

  pipstake cross "Larkfield Tessel" "Tarn Amber" --on 2026-05-02 --flowers 12
  pipstake cross 2021X007-A3-B "Tarn Amber"      with a seedling of your own
  pipstake cross "Tarn Amber" "Tarn Amber"       a selfing
  pipstake cross "Tarn Amber" --open             whatever pollen came
  pipstake cross "Tarn Amber" --mixed "Gwennol Goch, Otterhay Lade"
  pipstake cross "Gwennol Goch" "Tarn Amber" --year 2024
                                                 recorded later, day not known`,
	define: func(f *flags) action {
		dir := f.registry()
		on := f.day("on", "the `DATE` of pollination, yyyy-mm-dd; today where left out")
		year := f.count("year", "the `YEAR` of a cross whose day is not known", 1900, 9999)
		open, mixed := f.parentFlags()
		flowers := f.count("flowers", "how many `FLOWERS` were pollinated", 0, mostSeeds)
		note := f.text("note", "a `TEXT` to keep with the cross")
		font := f.font()
		return func(e *env, args []string) error {
			if len(args) == 1 && !*open && *mixed == "" {
				args = e.askPollen(args)
			}
			p, err := newCrossParents(args, *open, *mixed)
			if err != nil {
				return err
			}
			c, err := e.newCross(p, on, year)
			if err != nil {
				return err
			}
			face, err := e.typeface(*font)
			if err != nil {
				return err
			}
			for _, name := range []string{c.SeedParent, c.PollenParent} {
				if err := printable(name, face); err != nil {
					return err
				}
			}
			c.Flowers, c.Notes = flowers.count(), *note
			return e.cross(*dir, c, !on.given() && !year.given)
		}
	},
}

// newCross takes parents and day from the command line.
func (e *env) newCross(p crossParents, on *dayFlag, year *countFlag) (registry.NewCross, error) {
	var c registry.NewCross
	var err error
	if c.SeedParent, c.PollenParent, err = e.cells(p); err != nil {
		return c, err
	}
	c.Pollinated = e.dayOr(on)
	c.Year = year.or(c.Pollinated.Year)
	if c.Year != c.Pollinated.Year {
		if on.given() {
			return c, problem.Use(fmt.Sprintf("--year %d and --on %s name different years", c.Year, on.day), "leave --year out")
		}
	}
	if year.given && !on.given() {
		c.Pollinated = registry.Date{} // the day of a cross of that year is not known
	}
	return c, nil
}

// parent reads a parent's name, or the identifier of a seedling.
func (e *env) parent(role, arg string) (string, error) {
	name := strings.TrimSpace(arg)
	if name == "" {
		return "", problem.Use("the "+role+" is blank", "give a name; unknown stands for what no one knows")
	}
	read, err := ids.Parse(name)
	if is[*ids.CheckError](err) {
		return "", err
	}
	if err == nil {
		if read.ID.Level() != ids.SeedlingLevel {
			return "", problem.Use(fmt.Sprintf("%s %q is a %s, not a plant", role, arg, read.ID.Level()),
				"give a name, or a seedling's identifier such as "+example(ids.SeedlingLevel))
		}
		for _, n := range read.Notices {
			e.Notice("%s read as %s: %s", words.Shown(arg), read.ID, n)
		}
		return read.ID.String(), nil
	}
	return name, nil
}

// printable refuses a name that the labels could not show, before a number is
// spent on it. Control characters are the registry's to refuse.
func printable(name string, font *label.Typeface) error {
	if strings.ContainsFunc(name, unicode.IsControl) {
		return nil
	}
	return label.Printable(name, font)
}

// cross registers a cross; byClock says that its year is that of the computer's
// clock.
func (e *env) cross(dir string, c registry.NewCross, byClock bool) error {
	var added registry.Cross
	var doubts []season.Doubt
	var told []string
	var related string
	kept, err := e.askNames(dir, &c)
	if err != nil {
		return err
	}
	err = e.change(dir, func(r *registry.Registry) (err error) {
		if byClock {
			if err := e.trustClock(r); err != nil {
				return err
			}
		}
		known, c := r.Names(), c
		told = ownNames(known, &c)
		if added, err = r.AddCross(c); err != nil {
			return err
		}
		if err = season.CheckParents(r, added); err == nil {
			doubts, related = season.CrossDoubts(r, known, added), relatedParents(r, added)
			told = append(told, farFromBlossom(r, added))
		}
		return err
	})
	if err != nil {
		return err
	}
	for _, d := range doubts {
		told = append(told, doubtWords(d, added, kept))
	}
	e.Say("%s  %s%s", added.ID, parents(added), onDay(added.Pollinated))
	if added.Pollinated.IsZero() {
		e.Notice("the day of pollination is left open")
	}
	for _, t := range append(told, related) {
		if t != "" {
			e.Notice("%s", t)
		}
	}
	e.Next("a tag for the branch: pipstake tags %s; labels for the seed bags: pipstake bags %s --lots 3", added.ID, added.ID)
	return nil
}
