package main

import (
	"bytes"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"pipstake/cmd/pipstake/serve"
	"pipstake/cmd/pipstake/terminal"
	"pipstake/ids"
	"pipstake/ids/problem"
	"pipstake/ids/registry"
	"pipstake/ids/words"
)

// desk records what phones send, each entry as the command does that is typed for
// it: counts as emerged, ends as gone, remarks as note.
type desk struct {
	env      *env
	dir      string
	recorded int
	notes    map[serve.Entry]int // entries of the history, by what phones noted
}

// inEntry are remedies as they are entered on a phone.
var inEntry = map[string]string{"with day": "in the field On"}

// take records one entry, tells it on the terminal, and returns what became of it.
func (d *desk) take(from string, entry serve.Entry) serve.Answer {
	answer := d.answer(entry)
	line := answer.Said
	if answer.State != serve.Recorded {
		line = "not recorded: " + line
	}
	d.env.Say("%s  %s   from %s", d.env.now().Format("15:04"), words.OneLine(line), from)
	_ = d.env.Flush() // a terminal that is gone ends nothing: the phone is told
	d.env.saved.forget()
	return answer
}

// answer records one entry and returns what became of it.
func (d *desk) answer(entry serve.Entry) serve.Answer {
	read, err := ids.Parse(entry.ID)
	if err != nil {
		return d.refused(err)
	}
	on, err := registry.ParseDate(entry.On)
	if err != nil {
		return d.refused(err)
	}
	entry.ID, entry.On = read.ID.String(), on.String()
	r, err := registry.Open(d.dir)
	if err != nil {
		return d.refused(asAccess(err))
	}
	switch entry.Kind {
	case "count":
		return d.count(r, read.ID, on, entry)
	case "gone":
		return d.gone(r, read.ID, on, entry)
	case "note":
		return d.note(r, read.ID, on, entry)
	}
	return d.refused(problem.Use(fmt.Sprintf("%s is nothing that is recorded", words.Shown(entry.Kind)), "reload the page"))
}

// count records a count of a pot, or takes it back.
func (d *desk) count(r *registry.Registry, pot ids.ID, on registry.Date, entry serve.Entry) serve.Answer {
	now := serve.Count{Up: entry.Up, Died: entry.Died}
	was, counted := countOn(r, pot, on)
	said := upCount{pot: pot, on: on, up: now.Up}
	if now.Died > 0 {
		said.died = registry.Known(now.Died)
	}
	switch {
	case entry.Withdrawn && !counted:
		return serve.Answer{State: serve.Recorded, Said: fmt.Sprintf("%s has no count of %s", pot, on)}
	case entry.Withdrawn && was != now:
		return serve.Answer{State: serve.Recorded, Said: fmt.Sprintf("%s  has another count of %s, which stays: %s", pot, on, upAndDied(was))}
	case entry.Withdrawn:
		return d.run("correct", entry.ID, "--drop", entry.On)
	case counted && was == now:
		return serve.Answer{State: serve.Recorded, Said: fmt.Sprintf("%s  %d up on %s, as recorded already", pot, now.Up, on)}
	case counted && entry.Instead != nil && *entry.Instead == was:
		said.anew, said.died = true, registry.Known(now.Died)
		return d.run(said.commandLine("")...)
	case counted:
		what := fmt.Sprintf("%s on %s: %s on record, and %s from a phone", pot, on, upAndDied(was), upAndDied(now))
		return serve.Answer{State: serve.Clash, Said: what, Hint: "say which is right", There: &was}
	}
	return d.run(said.commandLine(strconv.Itoa(now.Up))...)
}

// upAndDied shows a count: "5 up, 1 died".
func upAndDied(c serve.Count) string {
	if c.Died == 0 {
		return fmt.Sprintf("%d up", c.Up)
	}
	return fmt.Sprintf("%d up, %d died", c.Up, c.Died)
}

// countOn is the count of a pot on a day; false for none.
func countOn(r *registry.Registry, pot ids.ID, on registry.Date) (serve.Count, bool) {
	for _, c := range r.EmergenceOf(pot) {
		if c.On == on {
			return serve.Count{Up: c.Up.N, Died: c.Died.N}, true
		}
	}
	return serve.Count{}, false
}

// gone records how something ended, or takes the end back.
func (d *desk) gone(r *registry.Registry, id ids.ID, on registry.Date, entry serve.Entry) serve.Answer {
	end, ended := r.EndOf(id)
	same := ended && end.On == on && (entry.How == "" || string(end.How) == entry.How)
	switch {
	case entry.Withdrawn && !ended:
		return serve.Answer{State: serve.Recorded, Said: entry.ID + " has not ended"}
	case entry.Withdrawn && same:
		return d.run("gone", entry.ID, "--back")
	case same:
		return serve.Answer{State: serve.Recorded, Said: fmt.Sprintf("%s  %s on %s, as recorded already", entry.ID, end.How.Past(), on)}
	case ended:
		return serve.Answer{State: serve.Refused, Said: fmt.Sprintf("%s %s on %s already", entry.ID, end.How.Past(), end.On), Hint: "where that is wrong, correct it at the computer"}
	}
	line := []string{"gone", entry.ID, "--on", entry.On}
	if slices.Contains(fates, entry.How) {
		line = append(line, "--how", entry.How)
	}
	if entry.Text != "" {
		line = append(line, "--note", entry.Text)
	}
	return d.run(line...)
}

// note keeps a remark, or takes it back where nothing was recorded since.
func (d *desk) note(r *registry.Registry, id ids.ID, on registry.Date, entry serve.Entry) serve.Answer {
	there := slices.ContainsFunc(r.DiaryOf(id), func(e registry.DiaryEntry) bool {
		return e.What == registry.Noted && e.On == on && e.Text == entry.Text
	})
	known := serve.Entry{ID: entry.ID, On: entry.On, Text: entry.Text}
	switch {
	case entry.Withdrawn && !there:
		return serve.Answer{State: serve.Recorded, Said: entry.ID + " has no such note"}
	case entry.Withdrawn:
		return d.takeBack(d.notes[known])
	case there:
		return serve.Answer{State: serve.Recorded, Said: fmt.Sprintf("%s  noted on %s already", id, on)}
	}
	answer := d.run("note", "--on", entry.On, "--", entry.ID, entry.Text)
	if answer.State == serve.Recorded && !d.env.dryRun {
		if d.notes == nil {
			d.notes = map[serve.Entry]int{}
		}
		d.notes[known] = d.env.saved.entry
	}
	return answer
}

// takeBack takes back an entry of the history if it is the last.
func (d *desk) takeBack(entry int) serve.Answer {
	var events []registry.Event
	err := d.env.asking("undo").change(d.dir, func(r *registry.Registry) (err error) {
		if events, err = r.Undo(); err == nil && events[0].Entry != entry {
			return problem.Use("something else was recorded since", "take the note back at the computer")
		}
		return err
	})
	if err != nil {
		return d.refused(err)
	}
	d.tally()
	return serve.Answer{State: serve.Recorded, Said: "taken back: " + events[0].Command}
}

// run runs a command that records one thing.
func (d *desk) run(line ...string) serve.Answer {
	if d.env.dryRun {
		line = slices.Insert(line, 1, "--dry-run")
	}
	one := d.env.within(d.dir, line...)
	one.stdin = strings.NewReader("")
	var said, told bytes.Buffer
	one.Voice = terminal.NewVoice(&said, &told)
	if err := run(one); err != nil {
		return d.refused(err)
	}
	_ = one.Flush() // into memory
	d.tally()
	return serve.Answer{State: serve.Recorded, Said: lastLine(said.String()), Hint: noticesIn(told.String())}
}

// lastLine is the last line of what a command said.
func lastLine(said string) string {
	lines := strings.Split(strings.TrimSpace(said), "\n")
	return strings.TrimSpace(lines[len(lines)-1])
}

// noticesIn are the notices among what a command told.
func noticesIn(told string) string {
	var all []string
	for line := range strings.Lines(told) {
		if notice, ok := strings.CutPrefix(strings.TrimSpace(line), "notice: "); ok {
			all = append(all, notice)
		}
	}
	return strings.Join(all, "; ")
}

// refused says why an entry was not recorded: for good, or just now.
func (d *desk) refused(err error) serve.Answer {
	answer := serve.Answer{State: serve.Refused}
	if s := statusOf(err); s == noRegistry || s == failed {
		answer.State = serve.Later
	}
	said := problem.First(err)
	answer.Said, answer.Hint = said.What, asTyped(asTypedWith(inEntry, said.Remedy))
	return answer
}

// tally counts what was recorded.
func (d *desk) tally() {
	if !d.env.dryRun {
		d.recorded++
	}
}
