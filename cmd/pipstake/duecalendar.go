package main

import (
	"bytes"
	"fmt"
	"strings"
	"time"

	ics "github.com/arran4/golang-ical"

	"pipstake/ids"
	"pipstake/ids/problem"
	"pipstake/ids/registry"
	"pipstake/ids/season"
	"pipstake/ids/words"
)

// calendarFile is a calendar as RFC 5545 has it.
var calendarFile = fileKind{noun: "a calendar", starts: []string{"BEGIN:VCALENDAR"}}

// writeCalendar writes tasks as a calendar that phones import.
func (e *env) writeCalendar(r *registry.Registry, tasks []season.Task, out string, force bool) error {
	t, err := e.targetOf(calendarFile, "--ics", out, force)
	if err != nil {
		return err
	}
	stamp, err := e.creation()
	if err != nil {
		return err
	}
	all := chores(tasks)
	if len(all) == 0 {
		return problem.Use("nothing is due, so there is no calendar to write", "look further ahead with --within")
	}
	var b bytes.Buffer
	if err := calendar(r, all, stamp).SerializeTo(&b, ics.WithNewLine("\r\n")); err != nil {
		return fmt.Errorf("writing the calendar: %w", err)
	}
	if err := e.deliver(t, b.Bytes()); err != nil {
		return err
	}
	if !t.stdout() {
		e.Say("%s  %s, %s to %s", t.shown, words.Plural(len(all), "entry", "entries"), all[0].From, latest(all))
	}
	return nil
}

func latest(all []chore) registry.Date {
	last := all[0].To
	for _, c := range all {
		if last.Before(c.To) {
			last = c.To
		}
	}
	return last
}

// calendar makes an event of whole days of each chore.
func calendar(r *registry.Registry, all []chore, stamp time.Time) *ics.Calendar {
	cal := ics.NewCalendarFor("pipstake")
	cal.SetProductId("-//pipstake//season//EN")
	cal.SetName("Seedlings")
	seen := map[string]int{}
	for _, c := range all {
		uid := c.uid()
		if seen[uid]++; seen[uid] > 1 { // a pot's labels that wear out on several days
			uid = fmt.Sprintf("%d-%s", seen[uid], uid)
		}
		event := cal.AddEvent(uid)
		event.SetDtStampTime(stamp)
		event.SetModifiedAt(stamp)
		event.SetAllDayStartAt(midnight(c.From))
		event.SetAllDayEndAt(midnight(c.To.AddDays(1))) // the first day after it
		cross, _ := r.Cross(c.ID.At(ids.CrossLevel))
		event.SetSummary(fmt.Sprintf("%s: %s", c.ID.At(ids.CrossLevel), words.Capital(c.words())))
		event.SetDescription(c.description(cross))
		event.SetProperty(ics.ComponentPropertyTransp, string(ics.TransparencyTransparent)) // the day stays free
	}
	return cal
}

// uid names a chore for as long as it is to be done, whatever its day: by what
// it is and by the first of the identifiers that it is for.
func (c chore) uid() string {
	name := dueKinds[c.Kind]
	if c.N > 0 {
		name += fmt.Sprintf("-%d", c.N)
	}
	if c.Kind == season.LabelWorn {
		name += fmt.Sprintf("-%s-%d", c.Label.Face, c.Label.Copy)
	}
	return strings.ToLower(c.ID.String()) + "-" + name + "@pipstake"
}

// description lists all that a chore is for.
func (c chore) description(cross registry.Cross) string {
	lines := []string{parents(cross)}
	for _, id := range c.ids {
		lines = append(lines, id.String())
	}
	if command := commandFor(c.Task); command != "" {
		lines = append(lines, command)
	}
	return strings.Join(lines, "\n")
}

func midnight(d registry.Date) time.Time {
	return time.Date(d.Year, d.Month, d.Day, 0, 0, 0, 0, time.UTC)
}
