package main

import (
	"bytes"
	"maps"
	"os"
	"os/exec"
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	ics "github.com/arran4/golang-ical"

	"pipstake/ids"
	"pipstake/ids/registry"
	"pipstake/ids/season"
	"pipstake/ids/words"
)

// serialized is a calendar as it is written.
func serialized(t *testing.T, cal *ics.Calendar) string {
	t.Helper()
	var b bytes.Buffer
	if err := cal.SerializeTo(&b, ics.WithNewLine("\r\n")); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// RFC 5545, 3.1: lines end in CRLF and hold 75 octets at most; a long one is
// folded by CRLF and a space, never inside a character. The lengths for fifty
// times é, of two octets each, are recomputed.
func TestCalendarLinesAreFolded(t *testing.T) {
	cal := ics.NewCalendarFor("pipstake")
	cal.AddEvent("1").SetSummary(strings.Repeat("é", 50))
	var lengths []int
	text := serialized(t, cal)
	for i, line := range strings.Split(text, "\r\n") {
		if strings.HasPrefix(line, "SUMMARY:") || len(lengths) == 1 {
			lengths = append(lengths, len(line))
		}
		if len(line) > 75 || !utf8.ValidString(line) || strings.ContainsAny(line, "\r\n") {
			t.Errorf("line %d: %q", i+1, line)
		}
	}
	if len(lengths) != 2 || lengths[0] != 74 || lengths[1] != 35 {
		t.Errorf("folded to %v octets, want 74 and 35", lengths)
	}
}

// seasonCalendar is a calendar of the demo's registry under a protocol, with
// the tasks that it holds.
func seasonCalendar(t *testing.T, p season.Protocol, on string, stamp time.Time) (string, []chore) {
	t.Helper()
	dir := demoRegistry(t)
	r, err := registry.Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	all := chores(season.Due(r, season.Practice{Protocol: p}, demoDay(on)))
	return serialized(t, calendar(r, all, stamp)), all
}

// demoRegistry is the demo's registry without sheets.
func demoRegistry(t *testing.T) string {
	t.Helper()
	dir := t.TempDir()
	if err := registry.Init(dir); err != nil {
		t.Fatal(err)
	}
	for _, work := range []func(*registry.Registry) (order, error){pollinate, extractAndSow, countAndSlip} {
		err := registry.Change(dir, registry.Options{}, func(r *registry.Registry) error { _, err := work(r); return err })
		if err != nil {
			t.Fatal(err)
		}
	}
	return dir
}

// A second import updates: what is still to be done keeps its UID, whatever
// the day it is looked at, and no two entries share one.
func TestCalendarKeepsItsUIDs(t *testing.T) {
	stamp := time.Date(2026, time.February, 1, 12, 0, 0, 0, time.UTC)
	uids := func(p season.Protocol, on string) map[string]bool {
		text, all := seasonCalendar(t, p, on, stamp)
		found := map[string]bool{}
		for line := range strings.SplitSeq(text, "\r\n") {
			if uid, ok := strings.CutPrefix(line, "UID:"); ok {
				if found[uid] {
					t.Errorf("on %s two entries share %s", on, uid)
				}
				found[uid] = true
			}
		}
		if len(found) != len(all) {
			t.Errorf("on %s: %d identifiers, %d entries", on, len(found), len(all))
		}
		return found
	}
	common, slow := season.CommonPractice(), season.CommonPractice()
	slow.Cold = season.Cold{LeastDays: 70, MostDays: 100}
	early, late := uids(common, "2025-12-20"), uids(common, "2026-01-10")
	if moved := uids(slow, "2025-12-20"); !maps.Equal(moved, uids(common, "2025-12-19")) {
		t.Errorf("with other dates: %v", moved)
	}
	for uid := range late {
		if !early[uid] {
			t.Errorf("%s is new, though nothing was recorded", uid)
		}
	}
	if len(late) != 18 { // a count of each cross, and three crosses with seed in the cold
		t.Errorf("%d entries are left", len(late))
	}
	for _, want := range []string{"2025x010-d-cold_last_day@pipstake", "2025x012-c-sow@pipstake", "2025x001-a1-count-4@pipstake"} {
		if !late[want] {
			t.Errorf("there is no %s", want)
		}
	}
}

// pythonWithCalendars finds Debian's python3-icalendar. The first python3 of a
// machine need not be Debian's.
func pythonWithCalendars(t *testing.T) string {
	t.Helper()
	for _, python := range []string{"/usr/bin/python3", "python3"} {
		if exec.Command(python, "-c", "import icalendar").Run() == nil {
			return python
		}
	}
	if os.Getenv("CI") == "true" {
		t.Fatal("python3-icalendar is missing")
	}
	t.Skip("python3-icalendar is missing")
	return ""
}

// Debian's python3-icalendar, which shares no code with the writer, reads the
// entries back: whole days with the end excluded, UID and DTSTAMP on each.
func TestCalendarReadsBack(t *testing.T) {
	python := pythonWithCalendars(t)
	text, all := seasonCalendar(t, season.CommonPractice(), "2025-12-20", time.Date(2026, time.February, 1, 12, 0, 0, 0, time.UTC))
	const script = `
import sys, icalendar
calendar = icalendar.Calendar.from_ical(sys.stdin.buffer.read())
for e in calendar.walk("VEVENT"):
    if e.errors: sys.exit(str(e.errors))
    print(e.decoded("DTSTART").isoformat(), e.decoded("DTEND").isoformat(), e["UID"], e.decoded("DTSTAMP").isoformat(), e["SUMMARY"], "|".join(e["DESCRIPTION"].split("\n")), sep="\t")
`
	cmd := exec.Command(python, "-c", script)
	cmd.Stdin = strings.NewReader(text)
	cmd.Env = append(os.Environ(), "PYTHONUTF8=1")
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("%v: %s", err, out)
	}
	lines := strings.Split(strings.TrimRight(string(out), "\n"), "\n")
	if len(lines) != len(all) {
		t.Fatalf("%d entries read back, %d written", len(lines), len(all))
	}
	dir := demoRegistry(t)
	r, _ := registry.Open(dir)
	for i, c := range all {
		cross, _ := r.Cross(c.ID.At(ids.CrossLevel))
		want := strings.Join([]string{c.From.String(), c.To.AddDays(1).String(), c.uid(), "2026-02-01T12:00:00+00:00",
			cross.ID.String() + ": " + words.Capital(c.words()), strings.ReplaceAll(c.description(cross), "\n", "|")}, "\t")
		if lines[i] != want {
			t.Errorf("entry %d:\n%s, want\n%s", i+1, lines[i], want)
		}
	}
}
