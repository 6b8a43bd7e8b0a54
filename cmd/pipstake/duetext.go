package main

import (
	"fmt"
	"slices"
	"strings"

	"pipstake/cmd/pipstake/terminal"
	"pipstake/ids"
	"pipstake/ids/registry"
	"pipstake/ids/season"
	"pipstake/ids/words"
)

// standings are the headings of a list for a day.
var standings = map[season.Standing]string{
	season.Today:   "today",
	season.Overdue: "overdue, and still possible",
	season.Coming:  "coming",
}

func (e *env) dueText(tasks []season.Task, on registry.Date, days int) {
	if len(tasks) == 0 {
		e.Say("nothing is due in the %s from %s on", words.Plural(days, "day", "days"), on)
		return
	}
	lines := season.Lines(tasks, on)
	var t terminal.Table
	headings := map[int]string{} // by the row that they stand before
	last := season.Standing(-1)
	for _, line := range lines {
		if line.Standing != last {
			last = line.Standing
			headings[t.Len()] = standings[last]
		}
		for _, cells := range lineCells(line, on) {
			t.Row(cells...)
		}
	}
	t.DropEmpty()
	rows := t.Lines("  ")
	if columns := e.Columns(); slices.ContainsFunc(rows, func(row string) bool { return words.Columns(row) > columns }) {
		e.dueBelow(lines, on)
		rows = nil
	}
	for i, line := range rows {
		if heading, ok := headings[i]; ok {
			e.Say("%s", heading)
		}
		e.Say("%s", line)
	}
	for _, line := range lines {
		if command := commandFor(line.Task); command != "" && line.Standing != season.Coming {
			e.Next("%s", command)
			return
		}
	}
}

// dueBelow says what is due on a terminal that has no room for all side by side:
// each task on a line, and for which below it.
func (e *env) dueBelow(lines []season.Line, on registry.Date) {
	last := season.Standing(-1)
	for _, line := range lines {
		if line.Standing != last {
			last = line.Standing
			e.Say("%s", standings[last])
		}
		for i, cells := range lineCells(line, on) {
			if head := cells[:3]; i == 0 {
				e.Say("  %s", strings.Join(slices.DeleteFunc(slices.Clone(head), func(cell string) bool { return cell == "" }), "  "))
			}
			e.Say("      %s", cells[3])
		}
	}
}

// lineCells are the rows of a line: when, what, where, and for which.
func lineCells(line season.Line, on registry.Date) [][]string {
	what := taskWords(line)
	if line.Standing == season.Overdue && !line.Until.IsZero() {
		what += ", until " + line.Until.String()
	}
	var rows [][]string
	for i, which := range inLines(strings.Join(idRanges(line.IDs), ", ")) {
		if i > 0 {
			rows = append(rows, []string{"", "", "", which})
		} else {
			rows = append(rows, []string{whenWords(line.Task, on), what, words.OneLine(line.Place), which})
		}
	}
	return rows
}

// whenWords say how far off a task is: "3 days late", "today", "2027-02-22, in 5
// days".
func whenWords(t season.Task, on registry.Date) string {
	days := t.From.DaysSince(on)
	switch {
	case days > 0:
		return t.From.String() + ", in " + words.Plural(days, "day", "days")
	case t.To.Before(on):
		return words.Plural(on.DaysSince(t.To), "day late", "days late")
	case t.From == t.To:
		return "today"
	case t.To == on:
		return "last day"
	}
	return "now"
}

// taskWords say what is to be done.
func taskWords(l season.Line) string {
	switch l.Kind {
	case season.ChangeWater:
		return "change the water" + unlessVarying(l, ", %d of %d", l.N, l.Of)
	case season.EndSoak:
		return "end the soak, into the cold"
	case season.ColdOpens:
		return "first day out of the cold"
	case season.Sow:
		if l.Varying {
			return "sow, the first until " + l.To.String()
		}
		return "sow, until " + l.To.String()
	case season.ColdCloses:
		return "last day in the cold"
	case season.ColdOver:
		return "past the cold, sow"
	case season.FirstLook:
		return "first look for seedlings"
	case season.CountAgain:
		return "count seedlings" + unlessVarying(l, ", count %d", l.N)
	case season.KeptUntil:
		return fmt.Sprintf("kept until %d: sow it, keep it on, or let it go", l.From.Year)
	}
	return fmt.Sprintf("print %s anew, outdoors since %s", words.Which(len(l.Tasks), "the label", "the labels"), l.Since)
}

// unlessVarying words what the tasks of a line have in common.
func unlessVarying(l season.Line, format string, args ...any) string {
	if l.Varying {
		return ""
	}
	return fmt.Sprintf(format, args...)
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
	season.KeptUntil: "kept_until",
}

// idRanges name identifiers in their order, those that follow one another as
// the commands take them, and those of one cross together:
// "2026X001-A1..3 B1", "2026X002-A1".
func idRanges(all []ids.ID) []string {
	var names []string
	for i := 0; i < len(all); {
		last := i
		for last+1 < len(all) && follows(all[last], all[last+1]) {
			last++
		}
		name, beside := all[i].String(), false
		if cross := all[i].At(ids.CrossLevel); i > 0 && cross == all[i-1].At(ids.CrossLevel) && all[i] != cross {
			name, beside = strings.TrimPrefix(name, cross.String()+"-"), true
		}
		if last > i {
			name += ".." + ownPart(all[last])
		}
		if beside {
			names[len(names)-1] += " " + name
		} else {
			names = append(names, name)
		}
		i = last + 1
	}
	return names
}

// follows reports whether b is the next number below the same parent as a.
func follows(a, b ids.ID) bool {
	level := a.Level()
	return level == b.Level() && a.Year == b.Year && a.At(level-1) == b.At(level-1) && b.Ordinal() == a.Ordinal()+1
}

// ownPart is what an identifier adds to that of its parent; that of a cross is
// whole.
func ownPart(id ids.ID) string {
	if id.Level() == ids.CrossLevel {
		return id.String()
	}
	return strings.TrimPrefix(strings.TrimPrefix(id.String(), id.At(id.Level()-1).String()), "-")
}

// inLines breaks a text between words, into lines of no more than a screen has
// room for beside what is to be done.
func inLines(text string) []string {
	const wide = 60
	var lines []string
	line := ""
	for word := range strings.FieldsSeq(text) {
		switch {
		case line == "":
			line = word
		case len(line)+1+len(word) > wide:
			lines = append(lines, line)
			line = word
		default:
			line += " " + word
		}
	}
	return append(lines, line)
}
