package icalendar

import (
	"bytes"
	"os"
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	"pipstake/layout/proof/outside"
)

var someDay = time.Date(2027, time.February, 22, 0, 0, 0, 0, time.UTC)

// lines are those of a file, each without its end.
func lines(t *testing.T, file []byte) []string {
	t.Helper()
	text, ok := strings.CutSuffix(string(file), "\r\n")
	if !ok {
		t.Fatal("the last line does not end in CRLF")
	}
	return strings.Split(text, "\r\n")
}

// RFC 5545, 3.1: lines end in CRLF and hold 75 octets at most; a long one is
// folded by CRLF and a space. The lengths for fifty times é, of two octets each,
// are recomputed.
func TestLinesAreFolded(t *testing.T) {
	var lengths []int
	for i, line := range lines(t, Calendar{Events: []Event{{Summary: strings.Repeat("é", 50), Day: someDay}}}.Bytes()) {
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

// unescaped is a text as a reader sees it (RFC 5545, 3.1 and 3.3.11).
func unescaped(s string) string {
	return strings.NewReplacer(`\\`, `\`, `\n`, "\n", `\N`, "\n", `\;`, ";", `\,`, ",").Replace(s)
}

// No fold falls within a character or an escape, whatever the text, and the text
// comes back.
func FuzzFolding(f *testing.F) {
	for shift := range 76 {
		f.Add(strings.Repeat("x", shift) + strings.Repeat(`\,;`+"\n", 40))
		f.Add(strings.Repeat("x", shift) + strings.Repeat("♀é𝄞", 20))
	}
	f.Fuzz(func(t *testing.T, text string) {
		text = strings.ToValidUTF8(text, "?")
		var found []string
		for _, line := range lines(t, Calendar{Events: []Event{{Details: "." + text, Day: someDay}}}.Bytes()) {
			if len(line) > 75 || !utf8.ValidString(line) {
				t.Errorf("%q", line)
			}
			if strings.HasPrefix(line, "DESCRIPTION:") || len(found) > 0 && strings.HasPrefix(line, " ") {
				found = append(found, line)
				if tail := line[len(strings.TrimRight(line, `\`)):]; len(tail)%2 == 1 {
					t.Errorf("an escape is parted: %q", line)
				}
			} else if len(found) > 0 {
				break
			}
		}
		got := unescaped(strings.TrimPrefix(strings.ReplaceAll(strings.Join(found, "\n"), "\n ", ""), "DESCRIPTION:"))
		var want strings.Builder
		for _, r := range "." + text {
			if r == '\n' || r == '\t' || r >= ' ' && r != 0x7F && (r < 0x80 || r > 0x9F) {
				want.WriteRune(r)
			}
		}
		if got != want.String() {
			t.Errorf("read back %q, want %q", got, want.String())
		}
	})
}

// Debian's python3-icalendar, which shares no code with the writer, reads the
// entries back: whole days with the end excluded, an alarm in the morning, and
// none for what is cancelled.
func TestReadsBack(t *testing.T) {
	const python = "/usr/bin/python3"
	if outside.Command(python, "-c", "import icalendar").Run() != nil {
		if os.Getenv("CI") == "true" {
			t.Fatal("python3-icalendar is missing")
		}
		t.Skip("python3-icalendar is missing")
	}
	stamp := time.Date(2027, time.January, 15, 9, 0, 0, 0, time.FixedZone("", 3600))
	file := Calendar{Product: "-//pipstake//season//EN", Name: "Seedlings", Stamp: stamp, Events: []Event{
		{UID: "a-1@pipstake", Day: someDay, Summary: `Sow; count, "two" \ three`, Details: "♀ Härmä\n  2026X001-A1", Alarm: 7 * time.Hour},
		{UID: "a-2@pipstake", Day: time.Date(2028, time.February, 29, 0, 0, 0, 0, time.UTC), Sequence: 3, Cancelled: true, Summary: "Gone", Alarm: 7 * time.Hour},
	}}.Bytes()
	const script = `
import sys, icalendar
calendar = icalendar.Calendar.from_ical(sys.stdin.buffer.read())
print(calendar["METHOD"], calendar["PRODID"], calendar["X-WR-CALNAME"])
for e in calendar.walk("VEVENT"):
    if e.errors: sys.exit(str(e.errors))
    alarms = [str(a.decoded("TRIGGER")) + " " + a["ACTION"] for a in e.walk("VALARM")]
    print(e["UID"], e["SEQUENCE"], e["STATUS"], e.decoded("DTSTART").isoformat(), e.decoded("DTEND").isoformat(), e.decoded("DTSTAMP").isoformat(), e["SUMMARY"], "|".join(e.get("DESCRIPTION", "").split("\n")), alarms, sep="\t")
`
	cmd := outside.Command(python, "-c", script)
	cmd.Stdin = bytes.NewReader(file)
	cmd.Env = append(os.Environ(), "PYTHONUTF8=1")
	out, err := cmd.CombinedOutput()
	if err != nil {
		t.Fatalf("%v: %s", err, out)
	}
	const want = "PUBLISH -//pipstake//season//EN Seedlings\n" +
		"a-1@pipstake\t0\tCONFIRMED\t2027-02-22\t2027-02-23\t2027-01-15T08:00:00+00:00\tSow; count, \"two\" \\ three\t♀ Härmä|  2026X001-A1\t['7:00:00 DISPLAY']\n" +
		"a-2@pipstake\t3\tCANCELLED\t2028-02-29\t2028-03-01\t2027-01-15T08:00:00+00:00\tGone\t\t[]\n"
	if string(out) != want {
		t.Errorf("read back\n%s, want\n%s", out, want)
	}
}
