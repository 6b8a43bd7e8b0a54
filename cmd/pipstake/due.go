package main

import (
	"fmt"
	"slices"
	"strings"

	"pipstake/cmd/pipstake/terminal"
	"pipstake/ids"
	"pipstake/ids/practice"
	"pipstake/ids/problem"
	"pipstake/ids/registry"
	"pipstake/ids/season"
	"pipstake/ids/words"
)

var dueCommand = command{
	name:    "due",
	summary: "what the season asks for, by date; a calendar for the phone",
	options: "[--on DATE] [--within 14d] [--ics FILE]",
	help: `Goes by the dates on record and by protocol.toml: the water changes and the end
of a soak, the first and last day of each seed lot in the cold and those past
it, sowing, the first look for seedlings, counts, and labels that have stood
outdoors for as long as they last. A soak starts on the day of extraction. What
is not on record as done counts as not done.

  pipstake due
  pipstake due --within 60d
  pipstake due --ics season.ics        all that is ahead, for the calendar
  pipstake due --ics season.ics --force     again: changed dates move, nothing
                                            stands there twice`,
	define: func(f *flags) action {
		dir := f.registry()
		on := f.day("on", "the `DATE` to look from, yyyy-mm-dd; today where left out")
		within := &daysFlag{}
		f.set.Var(within, "within", "how far ahead to look: `DAYS` such as 14d, or weeks such as 6w;\n14d where left out, and all that is ahead for --ics")
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
			r, err := e.open(*dir)
			if err != nil {
				return err
			}
			own, err := practice.Of(r)
			if err != nil {
				return err
			}
			day := e.dayOr(on)
			tasks := season.Due(r, own, day)
			if *ics != "" {
				return e.writeCalendar(r, ahead(tasks, day, within.or(mostDays)), *ics, *force)
			}
			tasks = ahead(tasks, day, within.or(14))
			if *asJSON {
				return e.dueJSON(r, tasks, day)
			}
			e.dueText(r, tasks, day, within.or(14))
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

// chore is what tasks of one kind, one cross and the same days have in common.
type chore struct {
	season.Task // the first of them
	ids         []ids.ID
	labels      int
}

// chores puts tasks together.
func chores(tasks []season.Task) []chore {
	var all []chore
	type key struct {
		kind     season.Kind
		cross    ids.ID
		from, to registry.Date
		n        int
	}
	place := map[key]int{}
	for _, t := range tasks {
		k := key{t.Kind, t.ID.At(ids.CrossLevel), t.From, t.To, t.N}
		i, ok := place[k]
		if !ok {
			i = len(all)
			place[k] = i
			all = append(all, chore{Task: t})
		}
		c := &all[i]
		c.labels++
		if !slices.Contains(c.ids, t.ID) {
			c.ids = append(c.ids, t.ID)
		}
	}
	return all
}

// words say what is to be done.
func (c chore) words() string {
	switch c.Kind {
	case season.ChangeWater:
		return fmt.Sprintf("change the water, %d of %d", c.N, c.Of)
	case season.EndSoak:
		return "end the soak, into the cold"
	case season.ColdOpens:
		return "first day out of the cold"
	case season.Sow:
		return "sow, until " + c.To.String()
	case season.ColdCloses:
		return "last day in the cold"
	case season.ColdOver:
		return "past the last day in the cold"
	case season.FirstLook:
		return "first look for seedlings"
	case season.CountAgain:
		return fmt.Sprintf("count seedlings, count %d", c.N)
	}
	return fmt.Sprintf("print %s anew, outdoors since %s", words.Which(c.labels, "the label", "the labels"), c.Since)
}

// commandFor is what records a task, "" for what is not recorded.
func commandFor(t season.Task) string {
	switch t.Kind {
	case season.EndSoak:
		return fmt.Sprintf("pipstake chill %s", t.ID)
	case season.Sow, season.ColdOver:
		return fmt.Sprintf("pipstake sow %s", t.ID)
	case season.FirstLook, season.CountAgain:
		return fmt.Sprintf("pipstake emerged %s N", t.ID)
	case season.LabelWorn:
		return replaceCommand(t.Label)
	}
	return ""
}

// dueKinds are the words for tasks in JSON.
var dueKinds = map[season.Kind]string{
	season.ChangeWater: "change_water", season.EndSoak: "end_soak", season.ColdOpens: "cold_first_day",
	season.Sow: "sow", season.ColdCloses: "cold_last_day", season.ColdOver: "cold_over",
	season.FirstLook: "first_look", season.CountAgain: "count", season.LabelWorn: "label_worn",
}

func (e *env) dueText(r *registry.Registry, tasks []season.Task, on registry.Date, days int) {
	if len(tasks) == 0 {
		e.Say("nothing is due in the %s from %s on", words.Plural(days, "day", "days"), on)
		return
	}
	var t terminal.Table
	first := ""
	for _, c := range chores(tasks) {
		if first == "" && !on.Before(c.From) {
			first = commandFor(c.Task)
		}
		var names []string
		for _, id := range c.ids {
			names = append(names, id.String())
		}
		cross, _ := r.Cross(c.ID.At(ids.CrossLevel))
		t.Row(c.From.String(), whenWords(c.Task, on), c.words(), strings.Join(words.Few(names, 3), ", "), parents(cross))
	}
	e.SayTable(&t, "")
	if first != "" {
		e.Next("%s", first)
	}
}

// whenWords tell how far off a task is: "overdue 3 days", "today", "in 5 days".
func whenWords(t season.Task, on registry.Date) string {
	days := t.From.DaysSince(on)
	switch {
	case days > 0:
		return "in " + words.Plural(days, "day", "days")
	case days == 0:
		return "today"
	case on.Before(t.To):
		return "now"
	case t.To == on:
		return "last day"
	}
	return "overdue " + words.Plural(-days, "day", "days")
}

// dueFacts is a task in JSON.
type dueFacts struct {
	Task    string `json:"task"`
	ID      string `json:"id"`
	From    string `json:"from"`
	To      string `json:"to"`
	Days    int    `json:"days"` // until it begins; below zero where it began before
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
	facts := struct {
		Registry string     `json:"registry"`
		On       string     `json:"on"`
		Due      []dueFacts `json:"due"`
	}{r.Dir(), on.String(), []dueFacts{}}
	for _, t := range tasks {
		facts.Due = append(facts.Due, dueFacts{Task: dueKinds[t.Kind], ID: t.ID.String(), From: t.From.String(), To: t.To.String(),
			Days: t.From.DaysSince(on), Overdue: t.To.Before(on), N: t.N, Of: t.Of, Since: t.Since.String(),
			Face: string(t.Label.Face), Copy: t.Label.Copy, Stock: t.Label.Stock, Command: commandFor(t)})
	}
	return e.SayJSON(facts)
}
