package main

import (
	"errors"
	"fmt"

	"pipstake/ids"
	"pipstake/ids/problem"
	"pipstake/ids/registry"
)

// lifeProblems takes apart an error that says that something has ended, has
// lived, or adds up to too much, and names the command that would mend it; nil
// for any other error.
func lifeProblems(err error) []problem.Problem {
	var ended *registry.EndedError
	var lived *registry.LivedError
	var sum *registry.SumError
	switch {
	case errors.As(err, &ended):
		return problem.Use(ended.What, fmt.Sprintf("%s: pipstake gone %s --back", ended.Remedy, ended.End.ID)).Problems()
	case errors.As(err, &lived):
		return problem.Use(lived.What, fmt.Sprintf("%s: pipstake gone %s, or: pipstake correct %s", lived.Remedy, lived.ID, lived.ID)).Problems()
	case errors.As(err, &sum):
		return problem.Use(sum.What, sum.Remedy+"; "+mends(sum.ID)).Problems()
	}
	return nil
}

// mends is the command that corrects the numbers of an identifier.
func mends(id ids.ID) string {
	switch id.Level() {
	case ids.CrossLevel:
		return fmt.Sprintf("where they are wrong: pipstake correct %s --flowers N --fruit N", id)
	case ids.LotLevel:
		return fmt.Sprintf("where they are wrong: pipstake correct %s --seeds N", id)
	}
	return fmt.Sprintf("where a count is wrong: pipstake correct %s --count DATE=N --died DATE=N", id.At(ids.PotLevel))
}
