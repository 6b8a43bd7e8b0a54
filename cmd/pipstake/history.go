package main

import (
	"fmt"
	"slices"
	"strings"

	"pipstake/ids/registry"
	"pipstake/ids/words"
)

var historyCommand = command{
	name:      "history",
	summary:   "show what commands changed, and when",
	arguments: "[ID…]",
	options:   "[--last N] [--json]",
	help: `Lists the commands that changed the registry, each with what it changed: the
file, the row as it was numbered then, what it is about, and what was there
before and after. With identifiers, only what concerns them or what stands below
them. What is edited in a spreadsheet is not in the history.

  pipstake history
  pipstake history 2026X012-B
  pipstake history --last 3`,
	define: func(f *flags) action {
		last := f.count("last", "show only the last `COMMANDS`", 1, 1_000_000)
		dir := f.registry()
		asJSON := f.json()
		return func(e *env, args []string) error {
			named, err := e.readSelection(args)
			if err != nil {
				return err
			}
			r, err := e.open(*dir)
			if err != nil {
				return err
			}
			events := r.History()
			if len(named) > 0 {
				events = historyOf(r, named)
			}
			shown := lastCommands(events, last.or(len(events)))
			if *asJSON {
				return e.historyJSON(r, shown)
			}
			e.historyText(shown, undoneBy(r.History()))
			return nil
		}
	},
}

// historyOf returns what concerns any of those named, in the order in which it
// happened.
func historyOf(r *registry.Registry, named selection) []registry.Event {
	var all []registry.Event
	for _, run := range named {
		for _, id := range run.All() {
			for _, event := range r.HistoryOf(id) {
				if !slices.Contains(all, event) {
					all = append(all, event)
				}
			}
		}
	}
	slices.SortStableFunc(all, func(a, b registry.Event) int { return a.Entry - b.Entry })
	return all
}

// lastCommands keeps the events of the last n commands.
func lastCommands(events []registry.Event, n int) []registry.Event {
	at := len(events)
	for ; at > 0; at-- {
		if at < len(events) && events[at-1].Entry != events[at].Entry {
			if n--; n == 0 {
				break
			}
		}
	}
	return events[at:]
}

// undoneBy returns, for each entry that was taken back which one did so.
func undoneBy(events []registry.Event) map[int]int {
	by := map[int]int{}
	for _, e := range events {
		if e.Undoes > 0 {
			by[e.Undoes] = e.Entry
		}
	}
	return by
}

// historyText lists events under their commands.
func (e *env) historyText(events []registry.Event, undone map[int]int) {
	const most = 8 // changes shown of one command
	if len(events) == 0 {
		e.Say("nothing is recorded")
		return
	}
	count := 0
	for i, event := range events {
		first := i == 0 || events[i-1].Entry != event.Entry
		if first {
			count = 0
			e.Say("%d  %s  %s%s", event.Entry, day(event.When), words.OneLine(event.Command), takenBack(event, undone))
		}
		if count++; count <= most {
			e.Say("     %s", change(event))
		}
		if last := i == len(events)-1 || events[i+1].Entry != event.Entry; last && count > most {
			e.Say("     and %s", words.Plural(count-most, "more change", "more changes"))
		}
	}
}

// takenBack is what to say of a command that was undone, or undid another.
func takenBack(e registry.Event, undone map[int]int) string {
	switch {
	case undone[e.Entry] > 0:
		return fmt.Sprintf("  (taken back by %d)", undone[e.Entry])
	case e.Undoes > 0:
		return fmt.Sprintf("  (takes back %d)", e.Undoes)
	case e.From != "":
		return "  (in " + words.OneLine(e.From) + ")"
	}
	return ""
}

// day is the day and minute of a time in the history.
func day(when string) string {
	if date, time, ok := strings.Cut(when, "T"); ok && len(time) >= len("15:04") {
		return date + " " + time[:len("15:04")]
	}
	return when
}

// change says what one event did: `lots.csv row 2, 2026X001-A, seeds: "9" → "8"`.
func change(e registry.Event) string {
	where := fmt.Sprintf("%s row %d, %s", e.File, e.Row, words.OneLine(e.Key))
	switch {
	case e.Column != "":
		return fmt.Sprintf("%s, %s: %s → %s", where, e.Column, words.Shown(e.Before), words.Shown(e.After))
	case e.After == "":
		return where + ": row taken away"
	}
	return fmt.Sprintf("%s: row added", where)
}

// eventFacts is an event in JSON.
type eventFacts struct {
	Entry   int    `json:"entry"`
	When    string `json:"when"`
	Command string `json:"command"`
	Undoes  int    `json:"undoes,omitempty"` // the entry that the command took back
	From    string `json:"from,omitempty"`   // the registry that it came from by a merge
	File    string `json:"file"`
	Row     int    `json:"row"` // as a spreadsheet numbered it then
	Key     string `json:"key"`
	Column  string `json:"column,omitempty"` // left out for a whole row
	Before  string `json:"before"`
	After   string `json:"after"`
}

// historyFacts is what commands changed, in JSON.
type historyFacts struct {
	Registry string       `json:"registry"`
	Events   []eventFacts `json:"events"`
}

func (e *env) historyJSON(r *registry.Registry, events []registry.Event) error {
	facts := historyFacts{r.Dir(), []eventFacts{}}
	for _, event := range events {
		facts.Events = append(facts.Events, eventFacts(event))
	}
	return e.SayJSON(facts)
}
