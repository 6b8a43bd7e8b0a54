package main

import (
	"fmt"
	"slices"
	"strings"

	"pipstake/ids"
	"pipstake/ids/registry"
	"pipstake/label/symbol"
)

// round goes through seed lots or pots on a terminal, one after the other, and
// asks for what was counted in each. Every answer is saved before the next is
// asked for.
type round struct {
	env       *env
	dir       string // as the flag says
	level     ids.Level
	all       []ids.ID
	questions []question
	needed    int // the question without whose answer nothing is recorded
	// told returns what stands above the questions, and reports whether something
	// is recorded already.
	told func(r *registry.Registry, id ids.ID) (line string, known bool)
	// record saves the answers, "" for what was not said.
	record func(id ids.ID, answers []string) error

	at       int
	recorded map[ids.ID]bool
}

// question is one of a round. Text takes all that is typed, a number one word.
type question struct {
	ask       string
	text      bool
	whenTyped bool // not asked for: only taken where it is typed behind the one before
}

// turn is where an answer leads.
type turn int

const (
	onward  turn = iota // to the next question or, after the last, the next one of the round
	back                // to the question or the one before
	stay                // ask again
	jumped              // to another one of the round
	skipped             // nothing of this one, go on
	over                // the round has ended
)

// run asks until the round has ended, and tells how far it went.
func (w *round) run() error {
	w.recorded = map[ids.ID]bool{}
	w.env.Remark("Enter skips, - goes back, a scanned code goes there, q ends; ? tells more")
	for w.at < len(w.all) {
		r, err := w.env.open(w.dir)
		if err != nil {
			return err
		}
		id := w.all[w.at]
		told, known := w.told(r, id)
		w.env.Tell("%s  %s  (%d of %d)", id, told, w.at+1, len(w.all))
		answers, next := w.askAll(r, known)
		switch next {
		case over:
			return w.end()
		case back:
			w.at = max(0, w.at-1)
		case skipped:
			w.at++
		case onward:
			if w.save(id, answers) {
				w.at++
			}
		}
	}
	return w.end()
}

// end tells how many of the round are recorded.
func (w *round) end() error {
	left := 0
	for _, id := range w.all {
		if !w.recorded[id] {
			left++
		}
	}
	w.env.Remark("%d recorded, %d left out", len(w.recorded), left)
	return nil
}

// save records the answers on one, and tells where they are refused. It reports
// whether they were recorded.
func (w *round) save(id ids.ID, answers []string) bool {
	err := w.record(id, answers)
	if err != nil {
		w.env.complain(err)
		return false
	}
	w.recorded[id] = true
	return true
}

// askAll asks the questions on one. What is typed on one line answers several of
// them, and then none is left open. Where something is known of it already, none
// is needed.
func (w *round) askAll(r *registry.Registry, known bool) (answers []string, next turn) {
	answers = make([]string, len(w.questions))
	warned := false
	for i := 0; i < len(w.questions); {
		if w.questions[i].whenTyped {
			i++
			continue
		}
		line, ok := w.env.ask("  " + w.questions[i].ask + "? ")
		if !ok {
			return nil, over
		}
		switch next := w.command(r, line, w.questions[i].text); {
		case next == back && i > 0:
			i--
			for w.questions[i].whenTyped {
				i--
			}
			continue
		case next == stay:
			continue
		case next != onward:
			return nil, next
		}
		switch several, wrong := w.take(answers, i, line); {
		case wrong != "":
			w.env.Tell("  %s", wrong)
			continue
		case several:
			return answers, onward
		}
		if i == w.needed && line == "" && !known {
			if !slices.ContainsFunc(answers, isAnswer) {
				return nil, skipped
			}
			if !warned {
				w.env.Tell("  without %s nothing is recorded; Enter once more skips it, - goes back", w.questions[i].ask)
				warned = true
				continue
			}
			return nil, skipped
		}
		i++
	}
	if !slices.ContainsFunc(answers, isAnswer) {
		return nil, skipped
	}
	return answers, onward
}

func isAnswer(answer string) bool { return answer != "" }

// command looks whether a line is about the round itself.
func (w *round) command(r *registry.Registry, line string, text bool) turn {
	switch {
	case ended(line):
		return over
	case line == "-":
		return back
	case line == "?":
		w.help()
		return stay
	case text:
		return onward
	}
	return w.jump(r, line)
}

// jump goes to what a scanned code or a typed identifier names.
func (w *round) jump(r *registry.Registry, line string) turn {
	if short, ok := ids.ParseShort(line); ok {
		if full, err := r.Complete(short); err == nil {
			line = full
		}
	}
	p, _, err := symbol.ParseScan(line)
	if err != nil {
		return onward
	}
	if err := live(r, p.ID); err != nil {
		w.env.complain(err)
		return stay
	}
	if err := levelIs(p.ID, w.level); err != nil {
		w.env.complain(err)
		return stay
	}
	at := slices.Index(w.all, p.ID)
	if at < 0 {
		at = w.at
		w.all = slices.Insert(w.all, at, p.ID)
	}
	w.at = at
	return jumped
}

// take puts the words of a line where they belong, from question i on. It reports
// whether there were several, and what is wrong with them.
func (w *round) take(answers []string, i int, line string) (several bool, wrong string) {
	clear(answers[i:])
	words := strings.Fields(line)
	for n := 0; n < len(words); n++ {
		switch {
		case i+n >= len(w.questions):
			return false, fmt.Sprintf("%q is one answer too many", words[n])
		case w.questions[i+n].text:
			answers[i+n] = strings.Join(words[n:], " ")
			return n > 0, ""
		}
		if _, err := parseCount(strings.TrimPrefix(words[n], "+"), 0, mostSeeds); err != nil {
			return false, fmt.Sprintf("%s %q: %s", w.questions[i+n].ask, words[n], firstProblem(err).What)
		}
		answers[i+n] = words[n]
	}
	return len(words) > 1, ""
}

// help tells what may be answered.
func (w *round) help() {
	var asked []string
	for _, q := range w.questions {
		asked = append(asked, q.ask)
	}
	for _, line := range []string{
		"a number or text  the answer; several on one line, such as 4 14 1, are " + strings.Join(asked, ", ") + " at once",
		"Enter             leaves a question open, and the first ones all open skips to the next",
		"-                 goes back a question, or to the one before",
		"2026X012-B        or a scanned code goes there",
		"q                 ends; what was answered is saved",
	} {
		w.env.Tell("  %s", line)
	}
}
