package main

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"pipstake/ids"
	"pipstake/ids/problem"
	"pipstake/ids/registry"
	"pipstake/ids/words"
	"pipstake/label/symbol"
)

// sessionHelp is what a session of scanning understands besides codes.
const sessionHelp = `  6               up in this pot, in all; 6 2 of which died, +2 more than before
  gone mice       it ended, and why; gone lost mice says how
  move frame 2    it stands there now
  note red leaves a remark
  prick 5         so many seedlings pricked out, with their labels in a PDF
  select          worth keeping; select Larkfield Rowan names it
  undo            takes back what was recorded last
  ?               tells this, and quit ends it
`

var scanCommand = command{
	name:      "scan",
	summary:   "tell what a label stands for: parents, counts, dates, what is next",
	arguments: "[CODE…]",
	options:   "[--json] | --photo FILE… | --card FILE",
	help: `Looks up codes, given as arguments or a line each on standard input: a hand
scanner types them like a keyboard, and each is answered at once, until the
input ends (Ctrl-D; on Windows Ctrl-Z and Enter). A code is the whole text of a
label's 2D code, or an identifier read off the label.

  pipstake scan                          then scan label after label
  pipstake scan 2026X012-B2
  pipstake scan "2026X012-B2.3/1 7 SOWN 2027-01-14 LARKFIELD TESSEL"
  pipstake scan --json < codes.txt       an object a line; - says the same

Between codes it records what is typed about the label scanned last, each line
saved at once as if it were a command, and echoed with its day:

` + sessionHelp + `
pipstake scan --card FILE prints these as codes, with the digits: then no
keyboard is needed beside the frame.

--photo reads the codes on photographs, JPEG or PNG, of any number of labels at
any angle; a folder stands for all that is in it. A code that was seen and could
not be read is told: take another picture, nearer and without blur. With --json
each code that was read is told with its text and its corners, in pixels.

  pipstake scan --photo IMG_2041.jpg IMG_2042.jpg

Unknown and void identifiers, wrong check characters, codes that could not be
read and labels that say other than the registry are told, and the exit status
is then 1.`,
	define: func(f *flags) action {
		dir := f.registry()
		asJSON := f.json()
		card := f.text("card", "print the card of codes that record, into a PDF `FILE`")
		force := f.onOff("force", "replace a card that exists")
		photos := f.onOff("photo", "the arguments are photographs, or folders of them")
		on := f.day("on", "the `DATE` that days are counted to, and of counts, yyyy-mm-dd; today where left out")
		return func(e *env, args []string) error {
			s := &scanner{env: e, dir: *dir, today: e.dayOr(on), asJSON: *asJSON}
			var files []string
			switch {
			case *force && *card == "":
				return problem.Use("--force goes with --card", "leave it out, or name a file with --card")
			case *card != "" && (len(args) > 0 || *photos || *asJSON || on.given()):
				return problem.Use("--card prints a card and scans nothing", "leave the codes and the other flags out")
			case *card != "":
				return e.actionCard(*dir, *card, *force)
			}
			if *photos {
				var err error
				if files, err = e.filesOf(args); err != nil {
					return err
				}
			}
			if err := s.open(); err != nil {
				return err
			}
			switch {
			case *photos:
				return s.photographs(files)
			case len(args) > 0 && !slices.Equal(args, []string{"-"}):
				return s.all(wholeCode(args))
			}
			return s.lines()
		}
	},
}

// wholeCode puts the words of one code together where the shell split them. A
// word with a check character of its own is another code.
func wholeCode(args []string) []string {
	for _, later := range args[1:] {
		_, _, err := symbol.ParsePayload(later)
		if strings.Contains(later, ".") && (err == nil || is[*ids.CheckError](err)) {
			return args
		}
	}
	whole := strings.Join(args, " ")
	p, _, err := symbol.ParsePayload(whole)
	if _, ok := symbol.ParseFacts(p.Text); err == nil && ok {
		return []string{whole}
	}
	return args
}

// scanner answers codes one after the other.
type scanner struct {
	env     *env
	dir     string // as the flag says
	r       *registry.Registry
	today   registry.Date
	asJSON  bool
	bad     bool   // a problem was told
	seen    string // the state of the files that r was read from
	session session
}

// all answers the codes of the command line.
func (s *scanner) all(codes []string) error {
	for i, code := range codes {
		if i > 0 && !s.asJSON {
			s.env.Say("")
		}
		if _, err := s.answer(code); err != nil {
			return err
		}
	}
	return s.outcome()
}

// answer looks one code up and tells what is known.
func (s *scanner) answer(code string) (*answer, error) {
	a := readScan(s.r, code, s.today)
	return a, s.tellAnswer(a)
}

func (s *scanner) tellAnswer(a *answer) error {
	s.bad = s.bad || len(a.problems) > 0
	if s.asJSON {
		return s.env.SayJSON(s.env.toCopy(a.facts()))
	}
	s.env.sayAnswer(a)
	return nil
}

func (s *scanner) outcome() error {
	if s.bad {
		return errTold
	}
	return nil
}

// open reads the registry for the first time.
func (s *scanner) open() error {
	dir, err := s.env.registryDir(s.dir)
	if err != nil {
		return err
	}
	s.seen = tableState(dir)
	if s.r, err = registry.Open(dir); err != nil {
		return asAccess(err)
	}
	s.env.noticeDamage(s.r)
	return nil
}

// noticeDamage says that some of the registry could not be read.
func (e *env) noticeDamage(r *registry.Registry) {
	if n := len(r.Damage()); n > 0 {
		e.Notice("%s in the registry cannot be read; see pipstake check", words.Plural(n, "cell", "cells"))
	}
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
		s.env.Notice("the registry has changed and cannot be read now; answering from what was read before: %s", firstProblem(err).What)
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
