package main

import (
	"fmt"
	"time"

	"pipstake/ids/problem"
	"pipstake/ids/registry"
)

// A computer whose battery is empty begins again years ago, and an identifier that
// took its year from it would be wrong for good.

// clockSlack is by how much a clock may be set back, or the clocks of two
// computers that share a registry may differ.
const clockSlack = 24 * time.Hour

// firstYear is before pipstake was there.
const firstYear = 2025

// trustClock refuses a clock that cannot be right: one that stands before pipstake
// was made, or before the last entry of the registry's history. It is asked where
// an identifier is about to take its year from the clock.
func (e *env) trustClock(r *registry.Registry) error {
	now := e.now()
	wrong := func(why string) error {
		return problem.Use(fmt.Sprintf("the clock of this computer says %s, %s, and the identifier would take its year from it", now.Format(time.DateTime), why),
			"set the clock, or name the day with --on")
	}
	if now.Year() < firstYear {
		return wrong("which is long ago")
	}
	events := r.History()
	if len(events) == 0 {
		return nil
	}
	last := events[len(events)-1]
	if when, err := time.Parse(time.RFC3339, last.When); err == nil && now.Add(clockSlack).Before(when) {
		return wrong(fmt.Sprintf("which is before entry %d of history.csv, %s", last.Entry, when.In(now.Location()).Format(time.DateTime)))
	}
	return nil
}
