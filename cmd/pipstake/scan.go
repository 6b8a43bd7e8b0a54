package main

import (
	"bufio"
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"pipstake/ids/registry"
	"pipstake/label/symbol"
)

var scanCommand = command{
	name:      "scan",
	summary:   "tell what a label stands for: parents, counts, dates, what is next",
	arguments: "[CODE…]",
	options:   "[--json]",
	help: `Looks up codes, given as arguments or a line each on standard input: a hand
scanner types them like a keyboard, and each is answered at once, until the input
ends (Ctrl-D; on Windows Ctrl-Z and Enter). A code is the whole text of a label's
2D code, or an identifier read off the label.

  pipstake scan                          then scan label after label
  pipstake scan 2026X035-B2
  pipstake scan "2026X035-B2.H/1 7 SOWN 2027-01-14 LARKFIELD RUSSET X TARN AMBER"
  pipstake scan --json < codes.txt       an object a line

Unknown and void identifiers, wrong check characters and labels that say other
than the registry are told, and the exit status is then 1.`,
	define: func(f *flags) action {
		dir := f.registry()
		asJSON := f.json()
		on := f.day("on", "the `DATE` that days are counted to, yyyy-mm-dd; today where left out")
		return func(e *env, args []string) error {
			s := &scanner{env: e, today: e.dayOr(on), asJSON: *asJSON}
			if err := s.open(*dir); err != nil {
				return err
			}
			if len(args) > 0 {
				return s.all(wholeCode(args))
			}
			return s.lines()
		}
	},
}

// wholeCode puts the words of one code together where the shell split them.
func wholeCode(args []string) []string {
	whole := strings.Join(args, " ")
	p, _, err := symbol.ParsePayload(whole)
	if _, ok := symbol.ParseFacts(p.Text); err == nil && ok {
		return []string{whole}
	}
	return args
}

// scanner answers codes one after the other.
type scanner struct {
	env    *env
	r      *registry.Registry
	today  registry.Date
	asJSON bool
	bad    bool   // a problem was told
	seen   string // the state of the files that r was read from
}

// all answers the codes of the command line.
func (s *scanner) all(codes []string) error {
	for i, code := range codes {
		if i > 0 && !s.asJSON {
			s.env.say("")
		}
		if err := s.answer(code); err != nil {
			return err
		}
	}
	return s.verdict()
}

// mostLine is more than a scanner ever sends in one line, in bytes.
const mostLine = 64 << 10

// lines answers the lines of standard input as they come.
func (s *scanner) lines() error {
	asking := isTerminal(s.env.stdin)
	if asking {
		s.env.tell("scan labels or type identifiers; the end of input (Ctrl-D, on Windows Ctrl-Z and Enter) ends it")
	}
	in := bufio.NewScanner(s.env.stdin)
	in.Buffer(nil, mostLine)
	in.Split(splitLines)
	for {
		if asking {
			s.env.prompt("scan> ")
		}
		if !in.Scan() {
			break
		}
		code := strings.TrimSpace(in.Text())
		if code == "" {
			continue
		}
		s.refresh()
		if err := s.answer(code); err != nil {
			return err
		}
		if !s.asJSON {
			s.env.say("")
		}
		if err := s.env.flush(); err != nil {
			return &failure{what: "cannot write to standard output: " + err.Error()}
		}
	}
	if asking {
		s.env.tell("")
	}
	if err := in.Err(); err != nil {
		return &failure{what: "standard input: " + err.Error()}
	}
	return s.verdict()
}

// splitLines ends a line at a line feed or a carriage return: hand scanners
// send either, or both.
func splitLines(data []byte, atEOF bool) (advance int, line []byte, err error) {
	if i := bytes.IndexAny(data, "\r\n"); i >= 0 {
		return i + 1, data[:i], nil
	}
	if atEOF && len(data) > 0 {
		return len(data), data, nil
	}
	return 0, nil, nil
}

// answer looks one code up and tells what is known.
func (s *scanner) answer(code string) error {
	a := answerTo(s.r, code, s.today)
	s.bad = s.bad || len(a.problems) > 0
	if s.asJSON {
		return s.env.sayJSON(a.facts())
	}
	s.env.sayAnswer(a)
	return nil
}

func (s *scanner) verdict() error {
	if s.bad {
		return problems{}
	}
	return nil
}

// open reads the registry for the first time.
func (s *scanner) open(flag string) error {
	dir, err := s.env.registryDir(flag)
	if err != nil {
		return err
	}
	s.seen = tableState(dir)
	if s.r, err = registry.Open(dir); err != nil {
		return asAccess(err)
	}
	if n := len(s.r.Damage()); n > 0 {
		s.env.notice("%s in the registry cannot be read; see pipstake check", plural(n, "cell", "cells"))
	}
	return nil
}

// refresh reads the registry again where something has changed it since. While
// it cannot be read, the one read before answers.
func (s *scanner) refresh() {
	now := tableState(s.r.Dir())
	if now == s.seen {
		return
	}
	r, err := registry.Open(s.r.Dir())
	if err != nil {
		s.env.notice("the registry has changed and cannot be read now; answering from what was read before: %s", reportsOf(err)[0].what)
		return
	}
	s.r, s.seen = r, now
}

// tableState tells sizes and times of the tables in a folder.
func tableState(dir string) string {
	var b strings.Builder
	entries, _ := os.ReadDir(dir) // nothing read is nothing changed
	for _, entry := range entries {
		if filepath.Ext(entry.Name()) != ".csv" {
			continue
		}
		if info, err := os.Stat(filepath.Join(dir, entry.Name())); err == nil {
			fmt.Fprintf(&b, "%s %d %d\n", entry.Name(), info.Size(), info.ModTime().UnixNano())
		}
	}
	return b.String()
}
