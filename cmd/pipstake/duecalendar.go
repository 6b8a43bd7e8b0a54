package main

import (
	"fmt"
	"hash/fnv"
	"strings"
	"time"

	"pipstake/cmd/pipstake/icalendar"
	"pipstake/ids"
	"pipstake/ids/practice"
	"pipstake/ids/problem"
	"pipstake/ids/registry"
	"pipstake/ids/season"
	"pipstake/ids/words"
)

// The calendar has one entry for each kind of task and day, whatever pots it is
// for. What was written is kept in the registry, so that the next calendar can
// change what changed and take back what is done.

// calendarFile is a calendar as RFC 5545 has it.
var calendarFile = fileKind{noun: "a calendar", starts: []string{"BEGIN:VCALENDAR"}}

// morning is when a phone reminds of an entry, from the beginning of its day.
const morning = 7 * time.Hour

// daysTakenBack is for how many days after their own entries are taken back.
const daysTakenBack = 400

// writeCalendar writes what begins at most so many days from a day on as a
// calendar that phones import.
func (e *env) writeCalendar(dirFlag string, on registry.Date, within int, out string, force bool) error {
	t, err := e.targetOf(calendarFile, "--ics", out, force)
	if err != nil {
		return err
	}
	stamp, err := e.creation()
	if err != nil {
		return err
	}
	dir, err := e.registryDir(dirFlag)
	if err != nil {
		return err
	}
	var said posting
	err = registry.Change(dir, registry.Options{Wait: lockWait, Now: e.now(), DryRun: e.dryRun}, func(r *registry.Registry) error {
		own, err := practice.Of(r)
		if err != nil {
			return err
		}
		said = post(r, season.Due(r, own, on), on, within)
		if len(said.events) == 0 {
			return problem.Use("nothing is due, so there is no calendar to write", "look further ahead with --within")
		}
		r.KeepCalendar(said.kept)
		return nil
	})
	if err != nil {
		return asAccess(err)
	}
	e.saved.add("the events of the calendar, in calendar.csv") // no entry of the history: undo is for what happened
	if err := e.deliver(t, said.file(stamp)); err != nil {
		return err
	}
	if !t.stdout() {
		e.Say("%s  %s", t.shown, said.counts())
	}
	return nil
}

// posting is what a calendar says.
type posting struct {
	events []icalendar.Event
	kept   []registry.CalendarEntry // as the registry keeps them
}

// post puts tasks into a calendar, beside what earlier ones said. Tasks that
// begin later than within days from on stay as they were said, if they were.
func post(r *registry.Registry, tasks []season.Task, on registry.Date, within int) posting {
	was := r.Calendar()
	name := calendarName(was, r)
	var now []registry.CalendarEntry
	details := map[string]string{}
	for _, line := range season.Entries(tasks, on) {
		entry := registry.CalendarEntry{UID: uidOf(name, line), Day: line.From, Summary: summary(line)}
		details[entry.UID] = description(r, line)
		entry.Print = fingerprint(entry.Summary + "\n" + details[entry.UID])
		now = append(now, entry)
	}
	last := on.AddDays(within)
	oldest := on.AddDays(-daysTakenBack)
	var p posting
	for _, entry := range season.Agenda(was, now) {
		stands := entry.State == registry.Stands
		if stands && last.Before(entry.Day) || !stands && entry.Day.Before(oldest) {
			continue
		}
		p.kept = append(p.kept, entry)
		p.events = append(p.events, icalendar.Event{UID: entry.UID, Sequence: entry.Sequence, Cancelled: !stands,
			Day: midnight(entry.Day), Summary: entry.Summary, Details: details[entry.UID], Alarm: morning})
	}
	return p
}

// file is the calendar's file.
func (p posting) file(stamp time.Time) []byte {
	return icalendar.Calendar{Product: "-//pipstake//season//EN", Name: "Seedlings", Stamp: stamp, Events: p.events}.Bytes()
}

// counts say how much a calendar holds: "3 entries, 2027-02-15 to 2028-01-14; 2
// taken back".
func (p posting) counts() string {
	var first, last registry.Date
	stand, back := 0, 0
	for _, entry := range p.kept {
		if entry.State != registry.Stands {
			back++
			continue
		}
		stand++
		if first.IsZero() || entry.Day.Before(first) {
			first = entry.Day
		}
		if last.Before(entry.Day) || last.IsZero() {
			last = entry.Day
		}
	}
	var parts []string
	if stand > 0 {
		parts = append(parts, fmt.Sprintf("%s, %s to %s", words.Plural(stand, "entry", "entries"), first, last))
	}
	if back > 0 {
		parts = append(parts, fmt.Sprintf("%d taken back", back))
	}
	return strings.Join(parts, "; ")
}

// calendarName keeps the calendars of this registry apart from others on the same
// phone: what they began with, and else the registry's mark.
func calendarName(was []registry.CalendarEntry, r *registry.Registry) string {
	if len(was) > 0 {
		name, _, _ := strings.Cut(was[0].UID, "-")
		return name
	}
	return r.GiveMark()
}

// uidOf names an entry by the registry, its day, and what it is.
func uidOf(name string, line season.Line) string {
	return fmt.Sprintf("%s-%s-%s@pipstake", name, strings.ReplaceAll(line.From.String(), "-", ""), dueKinds[line.Kind])
}

// summary is what a phone shows of an entry: "Count seedlings, count 2: 3 pots".
func summary(line season.Line) string {
	of := words.Plural(len(line.IDs), line.ID.Level().String(), line.ID.Level().String()+"s")
	for _, id := range line.IDs {
		if id.Level() != line.ID.Level() { // labels of several kinds
			of = fmt.Sprintf("%d places", len(line.IDs))
		}
	}
	return words.Capital(taskWords(line)) + ": " + of
}

// description lists all that an entry is for, by cross.
func description(r *registry.Registry, line season.Line) string {
	var lines []string
	var last ids.ID
	places := map[ids.ID]string{}
	for _, t := range line.Tasks {
		places[t.ID] = t.Place
	}
	for _, id := range line.IDs {
		if cross := id.At(ids.CrossLevel); cross != last {
			last = cross
			c, _ := r.Cross(cross)
			lines = append(lines, cross.String()+"  "+parents(c))
		}
		item := "  " + id.String()
		if place := places[id]; place != "" {
			item += "  " + words.OneLine(place)
		}
		lines = append(lines, item)
	}
	if command := commandFor(line.Task); command != "" {
		lines = append(lines, command)
	}
	return strings.Join(lines, "\n")
}

// fingerprint tells texts apart.
func fingerprint(text string) string {
	h := fnv.New64a()
	h.Write([]byte(text))
	return fmt.Sprintf("%016x", h.Sum64())
}

func midnight(d registry.Date) time.Time {
	return time.Date(d.Year, d.Month, d.Day, 0, 0, 0, 0, time.UTC)
}
