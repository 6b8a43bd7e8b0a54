package main

import (
	"fmt"
	"strings"

	"pipstake/cmd/pipstake/terminal"
	"pipstake/ids"
	"pipstake/ids/problem"
	"pipstake/ids/registry"
	"pipstake/ids/words"
	"pipstake/label/reading"
)

// countSession records counts in a session of scanning.
type countSession struct {
	pot      ids.ID               // that a number would be for; none where the line before was no pot
	recorded []registry.Emergence // in this session and not taken back
}

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

// count records the number that follows a pot.
func (s *scanner) count(line string) error {
	c := &tally{Read: line, Problems: []scanProblem{}}
	if s.counter.pot == (ids.ID{}) {
		return s.refuse(c, *problem.Use("no pot stands before the number", "scan the pot's label, then type how many are up in it, in all"))
	}
	up, err := parseCount(line, 0, mostSeeds)
	if err != nil {
		r := firstProblem(err)
		return s.refuse(c, *problem.Use(fmt.Sprintf("count %q: %s", line, r.What), r.Remedy))
	}
	c.count = registry.Emergence{Pot: s.counter.pot, On: s.today, Up: registry.Known(up)}
	err = s.as(c.count).change(s.dir, func(r *registry.Registry) (err error) {
		c.look(r)
		_, err = r.CountPot(c.count)
		return err
	})
	if err != nil {
		if last := len(s.counter.recorded) - 1; last >= 0 && is[*registry.Refusal](err) &&
			s.counter.recorded[last].Pot == c.count.Pot && s.counter.recorded[last].On == c.count.On {
			return s.refuse(c, *problem.Use(firstProblem(err).What, "if that was wrong, type undo and then the right number"))
		}
		return s.refused(c, err)
	}
	s.counter.recorded = append(s.counter.recorded, c.count)
	s.counter.pot = ids.ID{}
	if s.asJSON {
		c.Count = c.facts()
		return s.env.SayJSON(c)
	}
	s.env.Say("%s   %s on %s   %s", c.count.Pot, upOf(c.count, c.pot), c.count.On, parents(c.cross))
	return nil
}

// as is the environment of the command that records a count by itself, so that
// the history tells it.
func (s *scanner) as(count registry.Emergence) *env {
	e := *s.env
	e.args = []string{"emerged", count.Pot.String(), count.Up.String(), "--on", count.On.String()}
	return &e
}

// look finds what is shown beside a count.
func (c *tally) look(r *registry.Registry) {
	c.pot, _ = r.Pot(c.count.Pot)
	c.cross, _ = r.Cross(c.count.Pot.At(ids.CrossLevel))
}

// takeBack takes the last count of this session back; the pot may then be
// counted again.
func (s *scanner) takeBack(line string) error {
	c := &tally{Read: line, Problems: []scanProblem{}}
	n := len(s.counter.recorded)
	if n == 0 {
		return s.refuse(c, *problem.Use("nothing was counted in this session", "pipstake undo takes back what the last command changed"))
	}
	c.count = s.counter.recorded[n-1]
	err := s.env.change(s.dir, func(r *registry.Registry) error {
		c.look(r)
		events, err := r.Undo()
		if err == nil && !isCount(events, c.count) {
			return problem.Use("something else was changed since", "pipstake undo takes back one command after the other")
		}
		return err
	})
	if err != nil {
		return s.refused(c, err)
	}
	s.counter.recorded = s.counter.recorded[:n-1]
	s.counter.pot = c.count.Pot
	if s.asJSON {
		c.Undone = c.facts()
		return s.env.SayJSON(c)
	}
	s.env.Say("%s   taken back: %s on %s; type the right number, or go on", c.count.Pot, upOf(c.count, c.pot), c.count.On)
	return nil
}

// isCount reports whether events are the recording of one count.
func isCount(events []registry.Event, count registry.Emergence) bool {
	return len(events) == 1 && events[0].Key == count.Pot.String() && events[0].Before == "" &&
		strings.Contains(events[0].After, count.On.String())
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
		c.Problems = append(c.Problems, scanProblem{notCounted, why.What, why.Remedy})
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
