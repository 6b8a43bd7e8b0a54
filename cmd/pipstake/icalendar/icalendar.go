// Package icalendar writes calendars of whole days as RFC 5545 has them, for
// phones to import. It knows no pot and opens no file.
package icalendar

import (
	"bytes"
	"fmt"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"
)

// Calendar is what a file holds.
type Calendar struct {
	Product string // who made it, in the form of a formal public identifier
	Name    string // as a phone shows it
	Stamp   time.Time
	Events  []Event
}

// Event is an entry for a whole day. The day stays free for other things.
type Event struct {
	UID       string
	Sequence  int  // raised whenever the entry changes
	Cancelled bool // whoever has it takes it away
	Day       time.Time
	Summary   string
	Details   string
	Alarm     time.Duration // from the beginning of the day; 0 for none
}

// Bytes returns the file.
func (c Calendar) Bytes() []byte {
	var w writer
	w.line("BEGIN", "VCALENDAR")
	w.line("VERSION", "2.0")
	w.line("PRODID", escaped(c.Product))
	w.line("CALSCALE", "GREGORIAN")
	w.line("METHOD", "PUBLISH")
	w.line("NAME", escaped(c.Name)) // RFC 7986
	w.line("X-WR-CALNAME", escaped(c.Name))
	for _, e := range c.Events {
		w.event(e, c.Stamp)
	}
	w.line("END", "VCALENDAR")
	return w.Bytes()
}

// writer gathers lines.
type writer struct{ bytes.Buffer }

func (w *writer) event(e Event, stamp time.Time) {
	status := "CONFIRMED"
	if e.Cancelled {
		status = "CANCELLED"
	}
	w.line("BEGIN", "VEVENT")
	w.line("UID", escaped(e.UID))
	w.line("DTSTAMP", stamp.UTC().Format("20060102T150405Z"))
	w.line("SEQUENCE", fmt.Sprint(e.Sequence))
	w.line("STATUS", status)
	w.line("DTSTART;VALUE=DATE", e.Day.Format("20060102"))
	w.line("DTEND;VALUE=DATE", e.Day.AddDate(0, 0, 1).Format("20060102")) // the first day after it
	w.line("TRANSP", "TRANSPARENT")
	w.line("SUMMARY", escaped(e.Summary))
	if e.Details != "" {
		w.line("DESCRIPTION", escaped(e.Details))
	}
	if e.Alarm > 0 && !e.Cancelled {
		w.line("BEGIN", "VALARM")
		w.line("ACTION", "DISPLAY")
		w.line("TRIGGER", fmt.Sprintf("PT%dM", int(e.Alarm.Minutes())))
		w.line("DESCRIPTION", escaped(e.Summary))
		w.line("END", "VALARM")
	}
	w.line("END", "VEVENT")
}

// mostOctets is the length of a line without its end (RFC 5545, 3.1).
const mostOctets = 75

// line writes a property. A long one is folded, by CRLF and a space, between
// whole characters and whole escapes.
func (w *writer) line(name, value string) {
	room := mostOctets
	for rest := name + ":" + value; rest != ""; {
		size := unit(rest)
		if size > room {
			w.WriteString("\r\n ")
			room = mostOctets - 1
		}
		w.WriteString(rest[:size])
		rest, room = rest[size:], room-size
	}
	w.WriteString("\r\n")
}

// unit is the length of what a text begins with that must not be parted: an
// escape or a character.
func unit(s string) int {
	_, size := utf8.DecodeRuneInString(s)
	if s[0] == '\\' && len(s) > 1 {
		_, next := utf8.DecodeRuneInString(s[1:])
		return size + next
	}
	return size
}

// escaped writes a text as a value (RFC 5545, 3.3.11). Control characters, which
// have no place in one, are left out.
func escaped(s string) string {
	var b strings.Builder
	for _, r := range s {
		switch {
		case r == '\n':
			b.WriteString(`\n`)
		case r == '\\' || r == ';' || r == ',':
			b.WriteByte('\\')
			b.WriteRune(r)
		case r == '\t' || !unicode.IsControl(r):
			b.WriteRune(r)
		}
	}
	return b.String()
}
