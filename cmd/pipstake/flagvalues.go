package main

import (
	"errors"
	"fmt"
	"strconv"
	"strings"

	"pipstake/ids/problem"
	"pipstake/ids/registry"
	"pipstake/ids/words"
	"pipstake/label/reading"
)

// dayFlag is a flag's value that is a day.
type dayFlag struct {
	day   registry.Date
	today *registry.Date // by which "yesterday" is told
}

func (d *dayFlag) Set(s string) error {
	day, err := registry.ReadDate(s, *d.today)
	if err != nil {
		said := problem.First(err)
		return problem.Use(said.What, said.Remedy)
	}
	d.day = day
	return nil
}

func (d *dayFlag) String() string { return "" }
func (d *dayFlag) Type() string   { return "DATE" }

func (d *dayFlag) given() bool { return !d.day.IsZero() }

// seenOn is the day of the flag, else today: for commands that look at the
// registry as of a day.
func (e *env) seenOn(flags ...*dayFlag) registry.Date {
	for _, f := range flags {
		if f.given() {
			return f.day
		}
	}
	return registry.DateOf(e.now())
}

// dayOr is the day of the flag, else today: for commands that record what was
// on a day. One that has yet to come, or is nearly a year ago, is noticed, since
// it is often a mistyped year.
func (e *env) dayOr(flags ...*dayFlag) registry.Date {
	today, day := registry.DateOf(e.now()), e.seenOn(flags...)
	if today.Before(day) {
		e.Notice("%s has yet to come: today is %s", day, today)
	}
	if ago := today.DaysSince(day); ago >= nearlyYear {
		e.Notice("%s is %d days ago: today is %s", day, ago, today)
	}
	return day
}

// nearlyYear is from how many days on a day that is recorded is noticed.
const nearlyYear = 330

// onDay is the day behind what was recorded: ", on 2026-11-14"; "" where it is
// not known.
func onDay(d registry.Date) string {
	if d.IsZero() {
		return ""
	}
	return ", on " + d.String()
}

// countFlag is a flag's value that is a whole number.
type countFlag struct {
	n           int
	given       bool
	least, most int
}

func (c *countFlag) Set(s string) error {
	n, err := parseCount(s, c.least, c.most)
	if err != nil {
		return err
	}
	c.n, c.given = n, true
	return nil
}

func (c *countFlag) String() string { return "" }
func (c *countFlag) Type() string   { return "N" }

// count is the number as the registry keeps it: not known where the flag was
// not given.
func (c *countFlag) count() registry.Count {
	if !c.given {
		return registry.Count{}
	}
	return registry.Known(c.n)
}

// or is the number, else n.
func (c *countFlag) or(n int) int {
	if c.given {
		return c.n
	}
	return n
}

// mostSeeds is more than any lot, pot or apple has.
const mostSeeds = reading.MostSeeds

// parseCount reads a whole number from least to most.
func parseCount(s string, least, most int) (int, error) {
	n, err := strconv.Atoi(strings.TrimSpace(s))
	between := fmt.Sprintf("give a whole number from %d to %d", least, most)
	switch {
	case err != nil && !errors.Is(err, strconv.ErrRange):
		return 0, problem.Use("it is no whole number", between)
	case err == nil && n < 0 && least >= 0:
		return 0, problem.Use("it is below zero", between)
	case err == nil && n < least:
		return 0, problem.Use(fmt.Sprintf("the least is %d", least), between)
	case err != nil || n > most:
		return 0, problem.Use(fmt.Sprintf("the most is %d", most), between)
	}
	return n, nil
}

// countsFlag is a flag's value of whole numbers between commas.
type countsFlag struct{ ns []int }

func (c *countsFlag) Set(s string) error {
	c.ns = nil
	for part := range strings.SplitSeq(s, ",") {
		n, err := parseCount(part, 1, mostSeeds)
		if err != nil {
			var u *problem.Problem
			errors.As(err, &u)
			return problem.Use(fmt.Sprintf("%q: %s", part, u.What), "give whole numbers with commas between them, such as 5,2")
		}
		c.ns = append(c.ns, n)
	}
	return nil
}

func (c *countsFlag) String() string { return "" }
func (c *countsFlag) Type() string   { return "N,N" }

// wordFlag is a flag's value that is one of several words.
type wordFlag struct {
	word  string
	words []string
}

func (w *wordFlag) Set(s string) error {
	for _, word := range w.words {
		if s == word {
			w.word = s
			return nil
		}
	}
	return problem.Use("it is none of "+words.List(w.words), "give one of them")
}

func (w *wordFlag) String() string { return "" }
func (w *wordFlag) Type() string   { return strings.Join(w.words, "|") }
