package main

import (
	"slices"
	"strings"

	"pipstake/ids/practice"
	"pipstake/ids/problem"
	"pipstake/ids/registry"
	"pipstake/ids/season"
)

var dueCommand = command{
	name:    "due",
	records: true,
	summary: "what the season asks for, by date; a calendar for the phone",
	options: "[--on DATE] [--within 14d] [--ics FILE]",
	help: `Goes by the dates on record and by protocol.toml: the water changes and the end
of a soak, the first and last day of each seed lot in the cold and those past
it, sowing, the first look for seedlings, counts, labels that have stood
outdoors for as long as they last, and seed whose year of keeping has come. What
is not on record as done counts as not done, until its season is over; what
ended asks for nothing. Today comes first, then what is overdue and can still be
done.

A calendar has one entry for each day and kind of task, with an alarm at 7 in
the morning. What was written is kept in calendar.csv, so that the next calendar
takes back from the phone what is done by then, and changes what changed.

  pipstake due
  pipstake due --within 60d
  pipstake due --ics season.ics        all that is ahead, for the calendar
  pipstake due --ics season.ics --force     again, to import once more`,
	define: func(f *flags) action {
		dir := f.registry()
		on := f.day("on", "the `DATE` to look from, yyyy-mm-dd; today where left out")
		within := &daysFlag{}
		f.set.Var(within, "within", "how far ahead to look: `DAYS` such as 14d, or weeks such as 6w; 14d where left out, and all that is ahead for --ics")
		ics := f.text("ics", "write a calendar to `FILE` instead, - for standard output")
		force := f.onOff("force", "replace a calendar that exists")
		asJSON := f.json()
		return func(e *env, args []string) error {
			if *ics != "" && *asJSON {
				return problem.Use("--ics and --json are two ways to answer", "give one of them")
			}
			if *ics == "" && *force {
				return problem.Use("--force goes with --ics", "leave it out, or name a file with --ics")
			}
			day := e.seenOn(on)
			if *ics != "" {
				return e.writeCalendar(*dir, day, within.or(mostDays), *ics, *force)
			}
			r, err := e.open(*dir)
			if err != nil {
				return err
			}
			own, err := practice.Of(r)
			if err != nil {
				return err
			}
			tasks := ahead(season.Due(r, own, day), day, within.or(14))
			if *asJSON {
				return e.dueJSON(r, tasks, day)
			}
			e.dueText(tasks, day, within.or(14))
			return nil
		}
	},
}

// mostDays is as far ahead as anyone looks.
const mostDays = 36_500

// daysFlag is a flag's value that is a number of days: "14d", "2w".
type daysFlag struct {
	days  int
	given bool
}

func (d *daysFlag) Set(s string) error {
	text, unit := strings.CutSuffix(s, "w")
	days := 1
	if unit {
		days = 7
	} else {
		text = strings.TrimSuffix(s, "d")
	}
	n, err := parseCount(text, 0, mostDays/days)
	if err != nil {
		return problem.Use("it is no number of days", "write days or weeks, such as 14d or 6w")
	}
	d.days, d.given = n*days, true
	return nil
}

func (d *daysFlag) String() string { return "" }
func (d *daysFlag) Type() string   { return "DAYS" }

func (d *daysFlag) or(days int) int {
	if d.given {
		return d.days
	}
	return days
}

// ahead keeps the tasks that begin at most so many days from a day on.
func ahead(tasks []season.Task, from registry.Date, days int) []season.Task {
	last := from.AddDays(days)
	return slices.DeleteFunc(slices.Clone(tasks), func(t season.Task) bool { return last.Before(t.From) })
}

// dueFacts is what is due, in JSON.
type dueFacts struct {
	Registry string      `json:"registry"`
	On       string      `json:"on"`
	Due      []taskFacts `json:"due"`
}

// taskFacts is a task in JSON.
type taskFacts struct {
	Task    string `json:"task"`
	ID      string `json:"id"`
	From    string `json:"from"`
	To      string `json:"to"`
	Days    int    `json:"days"`            // until it begins; below zero where it began before
	Until   string `json:"until,omitempty"` // the last day on which it can be done
	Place   string `json:"place,omitempty"`
	Overdue bool   `json:"overdue"`
	N       int    `json:"n,omitempty"`
	Of      int    `json:"of,omitempty"`
	Since   string `json:"since,omitempty"`
	Face    string `json:"face,omitempty"`
	Copy    int    `json:"copy,omitempty"`
	Stock   string `json:"stock,omitempty"`
	Command string `json:"command,omitempty"`
}

func (e *env) dueJSON(r *registry.Registry, tasks []season.Task, on registry.Date) error {
	facts := dueFacts{r.Dir(), on.String(), []taskFacts{}}
	for _, t := range tasks {
		facts.Due = append(facts.Due, taskFacts{Task: dueKinds[t.Kind], ID: t.ID.String(), From: t.From.String(), To: t.To.String(),
			Days: t.From.DaysSince(on), Overdue: t.Standing(on) == season.Overdue, Until: t.Until.String(), Place: t.Place, N: t.N, Of: t.Of, Since: t.Since.String(),
			Face: string(t.Label.Face), Copy: t.Label.Copy, Stock: t.Label.Stock, Command: e.thereToo(commandFor(t))})
	}
	return e.SayJSON(facts)
}
