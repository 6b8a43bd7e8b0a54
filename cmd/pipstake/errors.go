package main

import (
	"errors"
	"fmt"

	"pipstake/ids/problem"
	"pipstake/layout"
)

// status is the exit status of the program.
type status int

// The exit statuses.
const (
	fine         status = iota
	problemsSeen        // something is wrong in the data: a damaged cell, a finding of check, a scan that finds trouble
	wrongUsage          // another command line would mend it
	noRegistry          // the registry cannot be read or written
	failed              // anything else
)

var statuses = map[problem.Kind]status{problem.OfData: problemsSeen, problem.OfUse: wrongUsage, problem.OfAccess: noRegistry, problem.Other: failed}

// errTold says that a command has told already what is wrong in the data.
var errTold = problem.Data("there are problems in the data", "")

// complain reports the error that a command ended with.
func (e *env) complain(err error) {
	if errors.Is(err, errTold) {
		return
	}
	for _, p := range problemsOf(err) {
		e.Tell("pipstake: %s", p.What)
		if p.Remedy != "" {
			e.Tell("hint: %s", p.Remedy)
		}
	}
}

// statusOf maps an error to the exit status.
func statusOf(err error) status {
	if err == nil {
		return fine
	}
	return statuses[problemsOf(err)[0].Kind]
}

// problemsOf takes an error apart, with remedies as they are typed.
func problemsOf(err error) []problem.Problem {
	var gain *layout.GainError
	if errors.As(err, &gain) {
		return problem.Use(fmt.Sprintf("--gain %d: modules are %d dots wide at this resolution", gain.Gain, gain.Dots), fmt.Sprintf("give 0 to %d", gain.Dots/2)).Problems()
	}
	all := problem.Of(err)
	for i := range all {
		all[i].Remedy = asTyped(all[i].Remedy)
	}
	return all
}

// firstProblem is the first thing that is wrong.
func firstProblem(err error) problem.Problem { return problemsOf(err)[0] }

// is reports whether err is, or wraps, an error of type T.
func is[T error](err error) bool {
	var t T
	return errors.As(err, &t)
}
