package main

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"pipstake/ids"
	"pipstake/ids/problem"
	"pipstake/ids/registry"
	"pipstake/ids/season"
)

var emergedCommand = command{
	name:      "emerged",
	records:   true,
	summary:   "record how many seedlings are up in a pot",
	arguments: "[POT] [N]",
	options:   "[--died N] [--on DATE] | --place PLACE | --from FILE [--good-rows]",
	help: `N is the total of seedlings that have come up so far, not those since the last
count; those that died since are among them. --died says how many these are, in
all. Neither number ever falls. One count for a pot and day is kept. +2 says
that two more are up than at the last count.

On a terminal, without a count, it goes through the pots of a place, or through
those named, and asks for each: 5 is up, 5 1 is up and died. Each is saved at
once.

  pipstake emerged --place "cold frame 2"
  pipstake emerged 2026X012-B2 3 --on 2027-02-26
  pipstake emerged 2026X012-B2 5 --on 2027-03-02     two more are up
  pipstake emerged 2026X012-B2 5 --died 1 --on 2027-03-09     one has died

--from takes in a CSV file of counts, such as one that the field page saved
(pipstake page): its columns are pot, on, up and, where there, died and notes.
A column registry, as the page writes it, keeps counts of another registry out.
All of its rows are recorded or, where one is wrong, none; with --good-rows,
those that are right. Counts that are recorded already stay as they are, so the
same file may be taken in twice.

  pipstake emerged --from pipstake-counts-2027-03-01.csv`,
	define: func(f *flags) action {
		dir := f.registry()
		died := f.count("died", "how many of them have died, in all", 0, mostSeeds)
		on := f.day("on", "the `DATE` of the count, yyyy-mm-dd; today where left out")
		place := f.text("place", "go through the pots at a `PLACE`, on a terminal")
		from := f.text("from", "take the counts in that a CSV `FILE` holds, - for standard input")
		goodRows := f.onOff("good-rows", "record the rows of --from that are right, where others are wrong")
		return func(e *env, args []string) error {
			switch {
			case *goodRows && *from == "":
				return problem.Use("emerged: --good-rows goes with --from", "it takes those of a table: pipstake emerged --from FILE --good-rows")
			case *from != "" && (len(args) > 0 || died.given || on.given() || *place != ""):
				return problem.Use("emerged --from takes pots, days and counts from the file", "leave POT, N, --died, --place and --on out")
			case *from != "":
				return e.emergedFrom(*dir, *from, *goodRows)
			case *place != "" && len(args) > 0:
				return problem.Use("--place goes through the pots of a place, and one is named", "leave POT or --place out")
			case len(args) < 2 && e.onTerminal && !died.given:
				return e.emergedRound(*dir, args, *place, e.dayOr(on))
			case *place != "":
				return problem.Use("--place goes through pots on a terminal, and this is none", "count one pot: pipstake emerged POT N, or a table of them: pipstake emerged --from FILE")
			case len(args) < 2:
				return problem.Use(fmt.Sprintf("emerged: %s is missing", []string{"POT", "N"}[len(args)]),
					"count one pot: pipstake emerged POT N, or a table of them: pipstake emerged --from FILE")
			}
			pots, err := e.readIDs(args[:1], ids.PotLevel)
			if err != nil {
				return err
			}
			count, err := parseUp(args[1])
			if err != nil {
				return err
			}
			count.pot, count.on, count.died = pots[0], e.dayOr(on), died.count()
			return e.emerged(*dir, count)
		}
	},
}

// upCount is what was counted in a pot: all that are up or, with more, those that
// came up since the last count.
type upCount struct {
	pot  ids.ID
	on   registry.Date
	up   int
	more bool
	died registry.Count
	anew bool // it replaces the count of that day
}

// parseUp reads a count of seedlings: 5 in all, +2 since the last count.
func parseUp(typed string) (upCount, error) {
	number, more := strings.CutPrefix(typed, "+")
	up, err := parseCount(number, 0, mostSeeds)
	if err != nil {
		r := firstProblem(err)
		return upCount{}, problem.Use(fmt.Sprintf("count %q: %s", typed, r.What), r.Remedy)
	}
	return upCount{up: up, more: more}, nil
}

// in is the count in all, beside those on record.
func (c upCount) in(r *registry.Registry) registry.Emergence {
	all := registry.Emergence{Pot: c.pot, On: c.on, Up: registry.Known(c.up), Died: c.died}
	before := 0
	for _, count := range r.CountsOf(c.pot) {
		if !c.on.Before(count.On) {
			before = count.Up.N
		}
	}
	if c.more {
		all.Up.N += before
	}
	return all
}

// record writes the count down, in the place of one of that day where it is anew.
func (c upCount) record(r *registry.Registry) (registry.Emergence, error) {
	count := c.in(r)
	if !c.anew {
		return r.CountPot(count)
	}
	correction := registry.CountCorrection{Up: &count.Up}
	if c.died.Known {
		correction.Died = &count.Died
	}
	_, err := r.CorrectCount(c.pot, c.on, correction)
	for _, now := range r.EmergenceOf(c.pot) {
		if now.On == c.on {
			count = now
		}
	}
	return count, err
}

// commandLine is the command that records the count by itself.
func (c upCount) commandLine(typed string) []string {
	if c.anew {
		line := []string{"correct", c.pot.String(), "--count", c.on.String() + "=" + strconv.Itoa(c.up)}
		if c.died.Known {
			line = append(line, "--died", c.on.String()+"="+c.died.String())
		}
		return line
	}
	line := []string{"emerged", c.pot.String(), typed}
	if c.died.Known {
		line = append(line, "--died", c.died.String())
	}
	return append(line, "--on", c.on.String())
}

// countedOn reports whether a pot was counted on a day.
func countedOn(r *registry.Registry, pot ids.ID, on registry.Date) bool {
	return slices.ContainsFunc(r.EmergenceOf(pot), func(c registry.Emergence) bool { return c.On == on })
}

func (e *env) emerged(dir string, said upCount) error {
	var pot registry.Pot
	var count registry.Emergence
	err := e.change(dir, func(r *registry.Registry) (err error) {
		count, err = said.record(r)
		pot, _ = r.Pot(said.pot)
		return err
	})
	if err != nil {
		return err
	}
	e.Say("%s  %s on %s", count.Pot, upOf(count, pot), count.On)
	if count.Up.N > 0 {
		e.noticeAll(noteOdd(nil, season.AtFirstSight, count.On, pot.Sown))
	}
	return nil
}
