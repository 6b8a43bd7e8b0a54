package main

import (
	"strings"

	"pipstake/cmd/pipstake/terminal"
	"pipstake/ids"
	"pipstake/ids/problem"
	"pipstake/ids/registry"
	"pipstake/ids/words"
	"pipstake/label/reading"
)

// isNumber reports whether a line is a count.
func isNumber(line string) bool {
	const most = 9 // digits; more are no count of seedlings and no code
	return len(line) <= most && strings.Trim(line, "0123456789") == ""
}

// tally is what became of a line with a count.
type tally struct {
	Read     string        `json:"read"`
	Count    *potCount     `json:"count,omitempty"`
	Undone   *potCount     `json:"undone,omitempty"`
	Done     string        `json:"done,omitempty"` // what another action recorded, in words
	Problems []scanProblem `json:"problems"`
	cross    registry.Cross
	pot      registry.Pot
	count    registry.Emergence
}

// potCount is a count in JSON.
type potCount struct {
	Pot          string   `json:"pot"`
	On           string   `json:"on"`
	Up           int      `json:"up"`
	Seeds        *int     `json:"seeds,omitempty"`
	Percent      *float64 `json:"percent,omitempty"`
	SeedParent   string   `json:"seed_parent"`
	PollenParent string   `json:"pollen_parent"`
}

// count records the numbers that follow a pot: how many are up in it and, behind
// that, how many of them have died.
func (s *scanner) count(line string) error {
	c := &tally{Read: line, Problems: []scanProblem{}}
	if s.session.pot == (ids.ID{}) {
		return s.refuse(c, *problem.Use("no pot stands before the number", "scan the pot's label, then type how many are up in it, in all"))
	}
	numbers := strings.Fields(line)
	up, err := parseUp(numbers[0])
	if err == nil && len(numbers) > 1 {
		var died int
		died, err = parseCount(numbers[1], 0, mostSeeds)
		up.died = registry.Known(died)
	}
	if err != nil {
		return s.refuse(c, firstProblem(err))
	}
	up.pot, up.on = s.session.pot, s.today
	err = s.env.asking(up.commandLine(numbers[0])...).change(s.dir, func(r *registry.Registry) (err error) {
		c.count, err = up.record(r)
		c.look(r)
		return err
	})
	if err != nil {
		if last, ok := s.session.last(); ok && last.count && is[*registry.Refusal](err) && last.what.Pot == up.pot && last.what.On == up.on {
			return s.refuse(c, *problem.Use(firstProblem(err).What, "if that was wrong, type undo and then the right number"))
		}
		return s.refused(c, err)
	}
	s.session.did(deed{entry: s.env.saved.entry, count: true, what: c.count})
	s.session.pot = ids.ID{}
	return s.counted(c)
}

// counted tells the count that is on record now.
func (s *scanner) counted(c *tally) error {
	if s.asJSON {
		c.Count = c.facts()
		return s.env.SayJSON(c)
	}
	s.env.Say("%s   %s on %s   %s", c.count.Pot, upOf(c.count, c.pot), c.count.On, parents(c.cross))
	return nil
}

// look finds what is shown beside a count.
func (c *tally) look(r *registry.Registry) {
	c.pot, _ = r.Pot(c.count.Pot)
	c.cross, _ = r.Cross(c.count.Pot.At(ids.CrossLevel))
}

// takeBack takes back what this session recorded last; a pot may then be counted
// again.
func (s *scanner) takeBack(line string) error {
	c := &tally{Read: line, Problems: []scanProblem{}}
	last, ok := s.session.last()
	if !ok {
		return s.refuse(c, *problem.Use("nothing was recorded in this session", "pipstake undo takes back what the last command changed"))
	}
	c.count = last.what
	err := s.env.change(s.dir, func(r *registry.Registry) error {
		c.look(r)
		events, err := r.Undo()
		if err == nil && events[0].Entry != last.entry {
			return problem.Use("something else was changed since", "pipstake undo takes back one command after the other")
		}
		return err
	})
	if err != nil {
		return s.refused(c, err)
	}
	s.session.deeds = s.session.deeds[:len(s.session.deeds)-1]
	switch {
	case !last.count && s.asJSON:
		c.Done = "taken back: " + last.said
		return s.env.SayJSON(c)
	case !last.count:
		s.env.Say("taken back: %s", last.said)
		return nil
	}
	s.session.pot = c.count.Pot
	if s.asJSON {
		c.Undone = c.facts()
		return s.env.SayJSON(c)
	}
	s.env.Say("%s   taken back: %s on %s; type the right number, or go on", c.count.Pot, upOf(c.count, c.pot), c.count.On)
	return nil
}

// refused returns why a count was refused by the registry. An error that is not
// about the count ends the session.
func (s *scanner) refused(c *tally, err error) error {
	if k := statusOf(err); k != wrongUsage && k != problemsSeen {
		return err
	}
	return s.refuse(c, firstProblem(err))
}

// refuse returns why a count was not recorded.
func (s *scanner) refuse(c *tally, why problem.Problem) error {
	s.bad = true
	if s.asJSON {
		c.Problems = append(c.Problems, scanProblem{notCounted, why.What, s.env.thereToo(why.Remedy)})
		return s.env.SayJSON(c)
	}
	var t terminal.Table
	t.Row("problem", why.What)
	if why.Remedy != "" {
		t.Row("hint", s.env.thereToo(why.Remedy))
	}
	s.env.Say("%s", words.Shown(c.Read))
	s.env.SayTable(&t, "  ")
	return nil
}

// notCounted is the kind of problem that a refused count is.
const notCounted reading.Kind = "not_counted"

// facts is the count in JSON.
func (c *tally) facts() *potCount {
	f := &potCount{Pot: c.count.Pot.String(), On: c.count.On.String(), Up: c.count.Up.N, Seeds: number(c.pot.Seeds),
		SeedParent: c.cross.SeedParent, PollenParent: c.cross.PollenParent}
	if c.pot.Seeds.Known && c.pot.Seeds.N > 0 {
		share := 100 * float64(c.count.Up.N) / float64(c.pot.Seeds.N)
		f.Percent = &share
	}
	return f
}
