package main

import (
	"fmt"
	"io"
	"strings"

	"pipstake/ids"
	"pipstake/ids/problem"
	"pipstake/ids/registry"
	"pipstake/label/symbol"
)

// lines answers the lines of standard input as they come.
func (s *scanner) lines() error {
	asking := s.env.onTerminal
	text := s.env.stdin
	if asking {
		s.env.Remark("scan labels or type identifiers, and after a pot how many are up in it; ? tells what else, quit ends it")
	} else if plain, err := plainText(text); err == nil {
		text = plain
	} else {
		return problem.Failure("standard input: "+problem.Reason(err), "")
	}
	in := newLineReader(text)
	for {
		if asking {
			s.env.Prompt("scan> ")
		}
		next, err := in.next()
		if err == io.EOF {
			break
		}
		if err != nil {
			return problem.Failure("standard input: "+problem.Reason(err), "")
		}
		line := strings.TrimSpace(next.text)
		if line == "" {
			continue
		}
		s.refresh()
		if next.tooLong != nil {
			err = s.answerLong(line, fmt.Errorf("line %d: %w", next.number, next.tooLong))
		} else {
			err = s.line(line)
		}
		if err != nil {
			return err
		}
		if s.session.over {
			return s.outcome()
		}
		if !s.asJSON {
			s.env.Say("")
		}
		if err := s.env.Flush(); err != nil {
			return err
		}
		s.env.saved.forget()
	}
	if asking {
		s.env.Tell("")
	}
	return s.outcome()
}

// answerLong answers a line that is longer than any code.
func (s *scanner) answerLong(line string, why error) error {
	s.session.at(ids.ID{})
	return s.tellAnswer(unreadable(line, why, s.today))
}

// readScan looks up what a scanner typed: also with something around it where
// the check character proves it, else with a word on what it may have been.
func readScan(r *registry.Registry, read string, today registry.Date) *answer {
	meant, told := read, []string(nil)
	if short, ok := ids.ParseShort(read); ok {
		full, err := r.Complete(short)
		if err != nil {
			return unreadable(read, err, today)
		}
		meant, told = full, []string{"typed without its year"}
	}
	p, notices, err := symbol.ParseScan(meant)
	notices = append(told, notices...)
	if err != nil {
		a := unreadable(read, err, today)
		if hint := misread(r, read); hint != "" && !is[*symbol.PayloadError](err) {
			a.problems[0].Hint = hint
		}
		return a
	}
	a := answerTo(r, p, today)
	a.read, a.notices = read, notices
	if a.Status == registry.Unknown && p.Copy == 0 && p.Text == "" {
		if id, ok := stopLost(r, p.ID); ok {
			a.problems[0].Hint = fmt.Sprintf("where the full stop was lost it is %s; scan it again", id.WithCheck())
		}
	}
	return a
}

// misread says what a text that cannot be read probably was, and what to do;
// "" where nothing is likely. What is offered has the right check character.
func misread(r *registry.Registry, read string) string {
	var likely, known []symbol.Offer
	for _, o := range symbol.Offers(read) {
		switch {
		case o.Likely:
			likely = append(likely, o)
		case r.Status(o.Payload.ID) != registry.Unknown:
			known = append(known, o)
		}
	}
	switch {
	case len(likely) == 1:
		return fmt.Sprintf("it looks as if %s; then it is %s: type that, or mend it and scan again", likely[0].Why, likely[0].Payload.Compact())
	case len(likely) == 0 && len(known) == 1:
		return fmt.Sprintf("if %s, it is %s: scan it again", known[0].Why, known[0].Payload.Compact())
	}
	if why, id := symbol.LayoutHint(read); why != "" {
		return fmt.Sprintf("it looks as if %s; then it reads %s, which no check character proves: set both alike and scan again", why, id)
	}
	return ""
}

// stopLost finds the identifier that was meant where a scanner lost the full
// stop, so that the check character was read as a letter of the identifier.
func stopLost(r *registry.Registry, id ids.ID) (ids.ID, bool) {
	text := strings.ReplaceAll(id.String(), "-", "")
	p, _, err := symbol.ParsePayload(text[:len(text)-1] + "." + text[len(text)-1:])
	if err != nil || r.Status(p.ID) == registry.Unknown {
		return ids.ID{}, false
	}
	return p.ID, true
}
