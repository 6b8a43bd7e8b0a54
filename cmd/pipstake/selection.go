package main

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"pipstake/ids"
	"pipstake/ids/problem"
	"pipstake/ids/registry"
	"pipstake/ids/words"
)

// selection is the identifiers that a command takes: single ones, runs of them,
// and wholes that stand for what is below them.
type selection []ids.Run

// readSelection reads the identifiers that a command takes: typed, scanned, or
// a run such as 2026X012-A1..6. What was folded is noticed.
func (e *env) readSelection(args []string) (selection, error) {
	if err := numbersApart(args); err != nil {
		return nil, err
	}
	var all selection
	for _, arg := range args {
		if !isRun(arg) {
			p, err := e.readID(arg)
			if err != nil {
				return nil, err
			}
			all = append(all, ids.Run{First: p.ID, Last: p.ID})
			continue
		}
		arg, err := e.completedRun(arg)
		if err != nil {
			return nil, err
		}
		run, notices, err := ids.ParseRun(arg)
		if err != nil {
			return nil, err
		}
		if run.Len() > longestRun {
			return nil, problem.Use(fmt.Sprintf("%s is a run of %d", run, run.Len()), fmt.Sprintf("a run has at most %d; look at its end", longestRun))
		}
		for _, n := range notices {
			e.Notice("%s read as %s: %s", words.Shown(arg), run, n)
		}
		all = append(all, run)
	}
	return all, nil
}

// isRun reports whether an argument is a run of identifiers.
func isRun(arg string) bool { return strings.Contains(arg, "..") || strings.Contains(arg, "…") }

// readWhole returns what grows of a run, each of its members for itself, and
// tells what was left out.
func (e *env) readWhole(dir, run string) ([]ids.ID, error) {
	named, err := e.readSelection([]string{run})
	if err != nil {
		return nil, err
	}
	r, err := e.open(dir)
	if err != nil {
		return nil, err
	}
	which, err := named.at(r, ids.NoLevel)
	if err != nil {
		return nil, err
	}
	e.tellLeftOut(which)
	return which.ids, nil
}

// completedRun gives both ends of a run their years where they were left out.
func (e *env) completedRun(arg string) (string, error) {
	head, tail, _ := strings.Cut(strings.ReplaceAll(arg, "…", ".."), "..")
	first, err := e.completed(head)
	if err != nil || first == head {
		return arg, err
	}
	if last, ok := ids.ParseShort(tail); ok {
		year, _ := strconv.Atoi(first[:len("2026")]) // it begins with one
		tail = last.In(year)
	}
	return first + ".." + tail, nil
}

// longestRun is more than anybody names at once.
const longestRun = 2000

// chosen is what a selection stands for in a registry.
type chosen struct {
	ids     []ids.ID
	leftOut []string // of runs and wholes: what is void or has ended
}

// at returns what a selection stands for at a level; with NoLevel each
// identifier for itself. A cross stands for all of its lots, a lot for all of
// its pots, as far as they grow, and a run for those of its members that do.
// One that is named by itself is taken whatever its state.
func (s selection) at(r *registry.Registry, level ids.Level) (chosen, error) {
	var c chosen
	for _, run := range s {
		for _, id := range run.All() {
			if r.Status(id) == registry.Unknown {
				return c, unknown(r, id)
			}
			if level != ids.NoLevel && id.Level() > level {
				return c, levelIs(id, level)
			}
			some := len(c.ids) + len(c.leftOut)
			c.add(r, id, level, run.One())
			if len(c.ids)+len(c.leftOut) == some && !slices.Contains(c.ids, id) && level > id.Level() && !c.hasBelow(id) {
				return c, problem.Use(fmt.Sprintf("%s has no %s", id, level), "look it up: pipstake scan "+id.String())
			}
		}
	}
	if len(c.ids) == 0 {
		return c, problem.Use("nothing that is named grows: "+words.List(words.Few(c.leftOut, 4)), "name what is meant by itself")
	}
	return c, nil
}

// anyAbove reports whether a selection names something above a level.
func (s selection) anyAbove(level ids.Level) bool {
	return slices.ContainsFunc(s, func(run ids.Run) bool { return run.First.Level() < level })
}

// hasBelow reports whether anything below an identifier was chosen already.
func (c *chosen) hasBelow(id ids.ID) bool {
	return slices.ContainsFunc(c.ids, func(other ids.ID) bool { return other.Within(id) })
}

// add takes up an identifier or, above the level, all that grows below it.
func (c *chosen) add(r *registry.Registry, id ids.ID, level ids.Level, named bool) {
	switch {
	case level != ids.NoLevel && id.Level() < level:
		for _, below := range childrenOf(r, id) {
			c.add(r, below, level, false)
		}
	case slices.Contains(c.ids, id):
	case named || r.Grows(id):
		c.ids = append(c.ids, id)
	default:
		c.leftOut = append(c.leftOut, stateOf(r, id))
	}
}

// stateOf says of what does not grow that it is void or how it ended.
func stateOf(r *registry.Registry, id ids.ID) string {
	if end, ended := r.EndOf(id); ended {
		return end.String()
	}
	return id.String() + " is void"
}

// readWhich reads the identifiers of one level that a command takes, each once.
// Runs and wholes are looked up in the registry; without them it is not opened.
func (e *env) readWhich(dir string, args []string, level ids.Level) ([]ids.ID, error) {
	named, err := e.readSelection(args)
	if err != nil {
		return nil, err
	}
	if which, err := named.single(level); which != nil || err != nil {
		return which, err
	}
	r, err := e.open(dir)
	if err != nil {
		return nil, err
	}
	which, err := named.at(r, level)
	if err != nil {
		return nil, err
	}
	e.tellLeftOut(which)
	return which.ids, nil
}

// single returns the identifiers of a selection that names each of them by
// itself; nil where there are runs or wholes in it.
func (s selection) single(level ids.Level) ([]ids.ID, error) {
	var which []ids.ID
	for _, run := range s {
		id := run.First
		if !run.One() || id.Level() < level {
			return nil, nil
		}
		if err := levelIs(id, level); err != nil {
			return nil, err
		}
		if slices.Contains(which, id) {
			return nil, problem.Use(fmt.Sprintf("%s stands there twice", id), "name each "+level.String()+" once")
		}
		which = append(which, id)
	}
	return which, nil
}

// tellLeftOut notices what of runs and wholes was left out.
func (e *env) tellLeftOut(c chosen) {
	if len(c.leftOut) > 0 {
		e.Notice("left out: %s", words.List(words.Few(c.leftOut, 6)))
	}
}
