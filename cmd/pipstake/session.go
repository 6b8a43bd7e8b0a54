package main

import (
	"bytes"
	"io"
	"slices"
	"strings"

	"pipstake/cmd/pipstake/terminal"
	"pipstake/ids"
	"pipstake/ids/problem"
	"pipstake/ids/registry"
	"pipstake/ids/words"
)

// session is what a session of scanning remembers between its lines.
type session struct {
	this   ids.ID // what was scanned last; none where that was no label that lives
	pot    ids.ID // that a number would be for; none once it was counted
	digits string // scanned from the card and not used yet
	deeds  []deed // recorded and not taken back
	over   bool
}

// deed is what one line recorded.
type deed struct {
	entry int // of the history
	said  string
	count bool // it is the count that follows
	what  registry.Emergence
}

// at turns to what a line has scanned.
func (s *session) at(id ids.ID) {
	s.this, s.pot, s.digits = id, ids.ID{}, ""
	if id.Level() == ids.PotLevel {
		s.pot = id
	}
}

func (s *session) did(d deed) { s.deeds = append(s.deeds, d) }

// last is what was recorded last.
func (s *session) last() (deed, bool) {
	if len(s.deeds) == 0 {
		return deed{}, false
	}
	return s.deeds[len(s.deeds)-1], true
}

// line answers a code, or does what a line says about the one before.
func (s *scanner) line(line string) error {
	said := line
	if action, ok := readAction(line); ok {
		if said = s.ofCard(action); said == "" {
			return s.tellDigits()
		}
	}
	word, rest, _ := strings.Cut(said, " ")
	word, rest = strings.ToLower(word), strings.TrimSpace(rest)
	switch {
	case ended(said):
		s.session.over = true
		return nil
	case said == "?":
		s.help()
		return nil
	case word == "undo" && rest == "":
		return s.takeBack(line)
	case isCounted(said):
		return s.count(said)
	case word == "died":
		return s.died(line, rest)
	case slices.Contains(sessionWords, word):
		return s.act(line, word, rest)
	}
	a, err := s.answer(line)
	s.session.at(ids.ID{})
	if a.Status == registry.Issued {
		s.session.at(a.Code.ID)
	}
	return err
}

// isCounted reports whether a line is a count: 6, +2, or 6 2 with those that died.
func isCounted(line string) bool {
	numbers := strings.Fields(strings.TrimPrefix(line, "+"))
	return len(numbers) > 0 && len(numbers) <= 2 && !slices.ContainsFunc(numbers, func(n string) bool { return !isNumber(n) })
}

// sessionWords begin the lines that record something.
var sessionWords = []string{"gone", "move", "note", "prick", "select", "plant"}

// fates are the words for how something ended.
var fates = []string{"failed", "discarded", "used-up", "given-away", "lost", "emptied", "died", "culled"}

// command is the command that a line of the session stands for; nil where the line
// lacks what it is about.
func (s *scanner) command(word, rest string) []string {
	line := []string{word, s.session.this.String()}
	switch word {
	case "gone":
		how, why, _ := strings.Cut(rest, " ")
		if slices.Contains(fates, strings.ToLower(how)) {
			line, rest = append(line, "--how", strings.ToLower(how)), strings.TrimSpace(why)
		}
		if rest != "" {
			line = append(line, "--note", rest)
		}
	case "move", "plant":
		if rest = strings.TrimPrefix(rest, "to "); rest == "" {
			return nil
		}
		line = append(line, "--to", rest)
	case "note":
		if rest == "" {
			return nil
		}
		line = append(line, rest)
	case "prick":
		if rest == "" {
			rest = "1"
		}
		line = append(line, "--seedlings", rest)
	case "select":
		if rest != "" {
			line = append(line, "--name", rest)
		}
	}
	return append(line, "--on", s.today.String())
}

// act records what a line says about the label scanned last, as the command of
// that name does.
func (s *scanner) act(read, word, rest string) error {
	c := &tally{Read: read, Problems: []scanProblem{}}
	if s.session.this == (ids.ID{}) {
		return s.refuse(c, *problem.Use("no label stands before "+word, "scan the label that it is about first"))
	}
	line := s.command(word, rest)
	if line == nil {
		return s.refuse(c, *problem.Use(word+" what?", "such as: "+sessionExamples[word]))
	}
	one := s.env.within(s.r.Dir(), line...)
	var said bytes.Buffer
	if s.asJSON {
		one.Voice = terminal.NewVoice(&said, io.Discard)
	}
	before := s.env.saved.entry
	if err := run(one); err != nil {
		return s.refused(c, err)
	}
	if s.env.saved.entry != before {
		s.session.did(deed{entry: s.env.saved.entry, said: one.commandLine()})
	}
	if s.asJSON {
		if err := one.Flush(); err != nil {
			return err
		}
		c.Done = strings.TrimSpace(said.String())
		return s.env.SayJSON(c)
	}
	cross, _ := s.r.Cross(s.session.this.At(ids.CrossLevel))
	s.env.Say("  %s", parents(cross))
	return nil
}

// within returns the environment of a command that records one thing in the
// registry of a folder, as if it were typed there and nobody could be asked.
func (e *env) within(dir string, line ...string) *env {
	one := e.asking(line...)
	one.onTerminal = false // what the line lacks is an error
	one.getenv = func(name string) string {
		if name == "PIPSTAKE_REGISTRY" {
			return dir
		}
		return e.getenv(name)
	}
	return one
}

// sessionExamples show what a word takes.
var sessionExamples = map[string]string{"move": "move frame 2", "note": "note two with red leaves", "plant": "plant row 3"}

// died adds to the count recorded last how many of those seedlings have died.
func (s *scanner) died(read, rest string) error {
	c := &tally{Read: read, Problems: []scanProblem{}}
	n, err := parseCount(rest, 0, mostSeeds)
	last, ok := s.session.last()
	switch {
	case err != nil:
		return s.refuse(c, firstProblem(err))
	case !ok || !last.count || last.what.On != s.today:
		return s.refuse(c, *problem.Use("no count stands before the dead", "count what is up first: 6, or 6 2 for both"))
	}
	up := upCount{pot: last.what.Pot, on: last.what.On, up: last.what.Up.N, died: registry.Known(n), anew: true}
	err = s.env.asking(up.commandLine("")...).change(s.dir, func(r *registry.Registry) (err error) {
		c.count, err = up.record(r)
		c.look(r)
		return err
	})
	if err != nil {
		return s.refused(c, err)
	}
	s.session.did(deed{entry: s.env.saved.entry, said: read, count: false, what: c.count})
	return s.counted(c)
}

// help tells what may be typed.
func (s *scanner) help() {
	for line := range strings.SplitSeq(strings.TrimRight(sessionHelp, "\n"), "\n") {
		s.env.Tell("%s", line)
	}
	if s.session.this != (ids.ID{}) {
		s.env.Tell("  this is now    %s", words.OneLine(s.session.this.String()))
	}
}
