package main

import (
	"cmp"
	"slices"
	"strings"
	"sync"

	"pipstake/ids/practice"
	"pipstake/ids/problem"
	"pipstake/ids/registry"
	"pipstake/ids/season"
	"pipstake/ids/words"
)

var checkCommand = command{
	name:    "check",
	records: true,
	summary: "look for duplicate, missing, stale and damaged entries",
	options: "[--only KIND] [--fix [--yes]] [--json]",
	help: `Looks through all tables: identifiers that stand twice, labels printed twice,
pots without two live stakes, rows without the one they belong to, numbers
skipped, more sown than there was, dates out of order, parents that are younger
than the cross or no plants at all, names that are nearly those of other
crosses, cells that a spreadsheet has damaged, and labels that were printed with
other facts than the tables now hold. Each finding names file, row and column,
and what to do. Exit status 1 where there are any. Nothing is changed.

With --fix, cells whose meaning is certain are mended after they are shown:
capitals, hyphens and spaces of identifiers, full-width digits, words in other
letters, spaces around a text, and an apostrophe before what a spreadsheet would
run as a formula. Local dates such as 26/11/2026 are mended as one column, where
one of them settles which number is the day. Any other cell that takes a guess
is left to you.

What has one cause is one finding, and the gravest come first: identity (who is
who), figures (counts and dates), labels, tidiness. --only shows one of these.

  pipstake check
  pipstake check --only figures
  pipstake check --fix
  pipstake check --json`,
	define: func(f *flags) action {
		dir := f.registry()
		fix := f.onOff("fix", "mend the cells whose meaning is certain, after showing them")
		yes := f.onOff("yes", "do not ask before mending, for scripts")
		only := f.word("only", "show one `KIND`: identity, figures, labels or tidiness", severities...)
		asJSON := f.json()
		return func(e *env, args []string) error {
			if *yes && !*fix {
				return problem.Use("check: --yes goes with --fix", "usage: "+f.command.usage())
			}
			if *fix {
				if err := e.fix(*dir, *yes); err != nil {
					return err
				}
			}
			r, err := e.open(*dir)
			if err != nil {
				return err
			}
			looking := e.Working("looking through the tables", 0)
			found := ofSeverity(r, findings(r), only.word)
			looking.End()
			if *asJSON {
				err = e.checkJSON(r, found)
			} else {
				e.checkText(r, found)
			}
			if err == nil && len(found) > 0 {
				return errTold
			}
			return err
		}
	},
}

// findings returns all that there is to find, by file and row.
func findings(r *registry.Registry) []registry.Finding {
	var entries, pedigree, stale []registry.Finding
	var all sync.WaitGroup
	all.Go(func() { entries = r.Check() })
	all.Go(func() { pedigree = season.CheckPedigree(r) })
	all.Go(func() { stale = staleLabels(r) })
	all.Wait()
	found := slices.Concat(entries, pedigree, stale, stockFindings(r), practice.Check(r))
	slices.SortStableFunc(found, func(a, b registry.Finding) int {
		return cmp.Or(strings.Compare(a.File, b.File), cmp.Compare(a.Row, b.Row))
	})
	return found
}

// counted are how many rows of each kind a registry holds.
type counted struct {
	Crosses    int `json:"crosses"`
	Lots       int `json:"lots"`
	Pots       int `json:"pots"`
	Seedlings  int `json:"seedlings"`
	Emergences int `json:"emergences"`
	Labels     int `json:"labels"`
}

func count(r *registry.Registry) counted {
	return counted{len(r.Crosses()), len(r.Lots()), len(r.Pots()), len(r.Seedlings()), len(r.Emergences()), len(r.Labels())}
}

// String is the counts in words.
func (c counted) String() string {
	return words.List([]string{words.Plural(c.Crosses, "cross", "crosses"), words.Plural(c.Lots, "seed lot", "seed lots"), words.Plural(c.Pots, "pot", "pots"),
		words.Plural(c.Seedlings, "seedling", "seedlings"), words.Plural(c.Emergences, "count", "counts"), words.Plural(c.Labels, "label", "labels")})
}

// findingFacts is a finding in JSON.
type findingFacts struct {
	File   string `json:"file"`
	Row    int    `json:"row,omitempty"` // as a spreadsheet numbers it; left out for the whole file
	Column string `json:"column,omitempty"`
	Value  string `json:"value,omitempty"`
	What   string `json:"what"`
	Hint   string `json:"hint,omitempty"`
}

// checkFacts is what check found, in JSON.
type checkFacts struct {
	Registry string         `json:"registry"`
	Counted  counted        `json:"counted"`
	Findings []findingFacts `json:"findings"`
}

func (e *env) checkJSON(r *registry.Registry, found []registry.Finding) error {
	facts := checkFacts{r.Dir(), count(r), []findingFacts{}}
	for _, f := range found {
		facts.Findings = append(facts.Findings, findingFacts{f.File, f.Row, f.Column, f.Value, f.What, e.thereToo(asTyped(f.Remedy))})
	}
	return e.SayJSON(facts)
}
