package main

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"syscall"

	"pipstake/cmd/pipstake/terminal"
	"pipstake/ids/problem"
	"pipstake/ids/registry"
	"pipstake/ids/words"
)

// Said and saved are one: what a command has recorded is said on standard output,
// and where that cannot be written, on standard error. All commands end here.

// execute runs the command that e.args ask for, tells what went wrong, and
// returns the exit status. Where standard output could not be written it is the
// status of that, whatever else there was to tell.
func execute(e *env) status {
	e.Voice = terminal.NewVoice(e.stdout, e.stderr)
	e.commands = commands()
	e.saved = &saved{}
	err := run(e)
	lost := e.Flush()
	if err != nil && (lost == nil || !errors.Is(err, lost)) {
		e.complain(err)
	}
	if lost == nil {
		return statusOf(err)
	}
	e.unsaid(lost)
	return failed
}

// unsaid says why standard output could not be written, and what is recorded
// all the same. A reader that was satisfied and went away, as head does, needs no
// word where nothing was recorded.
func (e *env) unsaid(lost error) {
	if e.dryRun || len(e.saved.words) == 0 {
		if !errors.Is(lost, syscall.EPIPE) {
			e.complain(problem.Failure(cannotSay(lost), "nothing was recorded"))
		}
		return
	}
	e.complain(problem.Failure(fmt.Sprintf("%s; recorded all the same: %s", cannotSay(lost), strings.Join(e.saved.words, "; ")),
		"do not run the command again; pipstake history shows what it did"))
}

// cannotSay says why standard output cannot be written.
func cannotSay(lost error) string {
	return "cannot write to standard output: " + problem.Reason(lost)
}

// saved is what was recorded and perhaps not said, in words. Copies of an
// environment share one.
type saved struct {
	words []string
	entry int // of the history, the one saved last
}

func (s *saved) add(words string) {
	if s != nil {
		s.words = append(s.words, words)
	}
}

// forget is called once all of it is said.
func (s *saved) forget() {
	if s != nil {
		s.words = nil
	}
}

// keepSaved takes note of what has been recorded: what unsaid may have to tell.
func (e *env) keepSaved(entry int, events []registry.Event) {
	var keys []string
	for _, event := range events {
		if !slices.Contains(keys, event.Key) {
			keys = append(keys, event.Key)
		}
	}
	const most = 12
	if more := len(keys) - most; more > 0 {
		keys = append(keys[:most], fmt.Sprintf("%d more", more))
	}
	if e.saved != nil {
		e.saved.entry = entry
	}
	e.saved.add(fmt.Sprintf("entry %d of the history, %s", entry, words.List(keys)))
}
