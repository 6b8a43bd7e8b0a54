package main

import (
	"errors"
	"fmt"
	"os"

	"pipstake/ids/problem"
	"pipstake/ids/registry"
	"pipstake/ids/words"
)

var mergeCommand = command{
	name:      "merge",
	records:   true,
	summary:   "take in what was recorded in another registry",
	arguments: "DIR",
	options:   "[--dry-run] [--theirs]",
	help: `For a registry that was taken elsewhere, such as a laptop in the orchard, and
has rows that this one has not. Rows that are the same stay once; cells that are
empty here are filled in; where both sides hold something, the one that was
written later by the histories is kept, and where these do not tell, the one
here; each such cell is shown. A batch or a sheet whose number means another one
here gets the next number. The other registry is not changed.

Where an identifier stands for one thing here and for another there, nothing is
merged, and you are told what to do.

  pipstake merge /media/laptop/orchard --dry-run
  pipstake merge /media/laptop/orchard`,
	define: func(f *flags) action {
		theirs := f.onOff("theirs", "where nothing tells which is later, take the cells of the other registry")
		dir := f.registry()
		return func(e *env, args []string) error {
			j := mergeOptions{from: args[0]}
			if *theirs {
				j.prefer = registry.There
			}
			return e.merge(*dir, j)
		}
	},
}

// mergeOptions is what the command line asks to merge.
type mergeOptions struct {
	from   string
	prefer registry.Side
}

func (e *env) merge(dir string, j mergeOptions) error {
	other, err := registry.Find(e.abs(j.from), "", e.cwd)
	if err != nil {
		return problem.Use(fmt.Sprintf("%s holds no registry", quotedPath(j.from)), "name the folder that has its crosses.csv")
	}
	here, err := e.registryDir(dir)
	if err != nil {
		return err
	}
	if sameFolder(here, other) {
		return problem.Use(fmt.Sprintf("%s is the registry itself", quotedPath(j.from)), "name the other one, and this one with --registry")
	}
	there, err := registry.Open(other)
	if err != nil {
		return asAccess(err)
	}
	var merged registry.Merged
	work := func(r *registry.Registry) (err error) {
		merged, err = r.Merge(there, j.prefer)
		return err
	}
	err = e.change(dir, work)
	var clash *registry.ClashError
	if errors.As(err, &clash) {
		e.tellClashes(clash, j.from)
		return errTold
	}
	if err == nil {
		e.tellMerged(merged, j)
	}
	return err
}

// sameFolder reports whether two paths name one folder.
func sameFolder(a, b string) bool {
	one, err := os.Stat(a)
	other, err2 := os.Stat(b)
	return err == nil && err2 == nil && os.SameFile(one, other)
}

// tellClashes says what stands for two things, and what to do about it.
func (e *env) tellClashes(clash *registry.ClashError, from string) {
	folder := shellWords(from)
	for _, c := range clash.Clashes {
		e.Tell("pipstake: %s is one %s here and another there: nothing was merged", c.ID, c.ID.Level())
		e.Tell("  here   %s", words.OneLine(c.Here))
		e.Tell("  there  %s", words.OneLine(c.There))
		if c.GiveUp == "" {
			e.Tell("hint: if the two are one and the same, make both files say the same; if not, what grew there keeps its number: use that registry where it is, with --registry %s", folder)
			continue
		}
		e.Tell("hint: if the two are one and the same, make both files say the same; if not:")
		e.Tell("  1. give up the number there: pipstake void %s --note \"another here\" --registry %s", c.GiveUp, folder)
		e.Tell("  2. merge again: its row and all below it are then left out")
		e.Tell("  3. record it here anew, under a new number")
		if c.Labels > 0 {
			e.Tell("  4. print its labels, and destroy those from there: %s", words.Plural(c.Labels, "label", "labels"))
		}
	}
}

// tellMerged says what was taken in.
func (e *env) tellMerged(m registry.Merged, j mergeOptions) {
	verb := "merged"
	if e.dryRun {
		verb = "would be merged"
	}
	nothing := true
	for _, a := range m.Added {
		if a.Rows > 0 {
			e.Say("%s  %s: %s", verb, a.File, words.Plural(a.Rows, "row added", "rows added"))
		}
		if a.Filled > 0 {
			e.Say("%s  %s: %s", verb, a.File, words.Plural(a.Filled, "empty cell filled in", "empty cells filled in"))
		}
		nothing = false
	}
	for _, d := range m.Newer {
		e.Say("later   %s", differing(d))
		nothing = nothing && d.Kept == registry.Here
	}
	for _, d := range m.Differences {
		e.Say("differs %s", differing(d))
		nothing = nothing && d.Kept == registry.Here
	}
	for _, id := range m.LeftOut {
		e.Say("left out  %s, which is void there and something else here", id)
	}
	for _, n := range m.Renumbered {
		what := "batch"
		if n.Stock != "" {
			what = "of " + words.OneLine(n.Stock) + " sheet"
		}
		e.Say("renumbered  %s %d there is %d here", what, n.There, n.Here)
	}
	switch {
	case nothing:
		e.Say("nothing to merge: this registry holds all that the other does")
	case !e.dryRun:
		e.Next("look whether all goes together: pipstake check")
	}
}

// differing shows a cell that holds one thing here and another there.
func differing(d registry.Difference) string {
	kept := "here"
	if d.Kept == registry.There {
		kept = "there"
	}
	return fmt.Sprintf(" %s row %d, %s, %s: here %s, there %s: kept what is %s", d.File, d.Row, words.OneLine(d.Key), d.Column, words.Shown(d.Here), words.Shown(d.There), kept)
}
