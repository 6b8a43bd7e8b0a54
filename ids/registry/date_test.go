package registry

import (
	"testing"
	"time"
)

func TestParseDate(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{"2026-11-14", "2026-11-14"},
		{"2028-02-29", "2028-02-29"}, // a leap year
		{"0001-01-01", "0001-01-01"},
		{"2026-02-30", `"2026-02-30" is not a date: February 2026 has 28 days; write year-month-day, like 2026-11-14`},
		{"2100-02-29", `"2100-02-29" is not a date: February 2100 has 28 days; write year-month-day, like 2026-11-14`},
		{"2026-04-31", `"2026-04-31" is not a date: April 2026 has 30 days; write year-month-day, like 2026-11-14`},
		{"2026-04-00", `"2026-04-00" is not a date: April 2026 has 30 days; write year-month-day, like 2026-11-14`},
		{"2026-13-01", `"2026-13-01" is not a date: a year has months 01 to 12; write year-month-day, like 2026-11-14`},
		{"2026-00-01", `"2026-00-01" is not a date: a year has months 01 to 12; write year-month-day, like 2026-11-14`},
		{"14/11/2026", `"14/11/2026" is not a date; probably 2026-11-14; write it so if that is right`},
		{"11/14/2026", `"11/14/2026" is not a date; probably 2026-11-14; write it so if that is right`},
		{"3/4/2026", `"3/4/2026" is not a date; probably 2026-04-03 or 2026-03-04; day and month cannot be told apart, so write the one that is right`},
		{"4/4/2026", `"4/4/2026" is not a date; probably 2026-04-04; write it so if that is right`},
		{"14.11.2026", `"14.11.2026" is not a date; probably 2026-11-14; write it so if that is right`},
		{"2026-11-14 00:00:00", `"2026-11-14 00:00:00" is not a date; probably 2026-11-14; write it so if that is right`},
		{"2026-1-5", `"2026-1-5" is not a date; probably 2026-01-05; write it so if that is right`},
		{"14 Nov 2026", `"14 Nov 2026" is not a date; probably 2026-11-14; write it so if that is right`},
		{"14-Nov", `"14-Nov" is not a date; the day or the year is lost; write year-month-day, like 2026-11-14`},
		{"46340", `"46340" is not a date; probably 2026-11-14, which spreadsheets keep as 46340; write it so if that is right`},
		{"", `"" is not a date; write year-month-day, like 2026-11-14`},
		{" 2026-11-14", `" 2026-11-14" is not a date; write 2026-11-14`},
		{"２026-11-14", `"２026-11-14" is not a date; write 2026-11-14`},
	} {
		d, err := ParseDate(c.text)
		got := d.String()
		if err != nil {
			got = err.Error()
		}
		if got != c.want {
			t.Errorf("ParseDate(%q): %s\nwant %s", c.text, got, c.want)
		}
	}
}

// Calendar arithmetic of ISO 8601, recomputed from the lengths of the months.
func TestDateArithmetic(t *testing.T) {
	for _, c := range []struct {
		from string
		days int
		to   string
	}{
		{"2025-12-01", 30, "2025-12-31"},
		{"2025-12-01", 60, "2026-01-30"},
		{"2028-01-31", 30, "2028-03-01"},
		{"2027-01-31", 30, "2027-03-02"},
		{"2027-01-31", 0, "2027-01-31"},
		{"2026-03-01", -1, "2026-02-28"},
	} {
		from, err := ParseDate(c.from)
		if err != nil {
			t.Fatal(err)
		}
		to := from.AddDays(c.days)
		if to.String() != c.to || to.DaysSince(from) != c.days || from.DaysSince(to) != -c.days {
			t.Errorf("%s %+d days is %s, %d days later; want %s", c.from, c.days, to, to.DaysSince(from), c.to)
		}
		if from.Before(to) != (c.days > 0) || to.Before(from) != (c.days < 0) {
			t.Errorf("%s and %s are in the wrong order", from, to)
		}
	}
}

func TestDateNotKnown(t *testing.T) {
	var none Date
	day := Date{2026, time.May, 4}
	if !none.IsZero() || day.IsZero() || none.String() != "" || none.Before(day) || day.Before(none) {
		t.Error("a date that is not known must have no place in the order")
	}
}

// The day is that of the clock handed in, in its own time zone.
func TestDateOf(t *testing.T) {
	east := time.FixedZone("east", 10*3600)
	at := time.Date(2026, time.May, 4, 22, 0, 0, 0, time.UTC)
	if got := DateOf(at.In(east)).String(); got != "2026-05-05" {
		t.Errorf("%s", got)
	}
	if got := DateOf(at).String(); got != "2026-05-04" {
		t.Errorf("%s", got)
	}
}

// The calendar of dates in cells begins with the year 1, and a month with its first
// day.
func TestDatesAtTheirBounds(t *testing.T) {
	for text, ok := range map[string]bool{
		"0000-11-14": false, "0001-01-01": true, "9999-12-31": true, "2026-00-01": false, "2026-13-01": false, "2026-12-00": false, "2026-12-32": false, "2026-04-31": false, "2026-04-30": true,
		"2028-02-29": true, "2027-02-29": false, "2100-02-29": false, "2000-02-29": true, "2026-1-01": false, "2026/11/14": false, "2026-11/14": false, "2026-11-1x": false, "2026-11-140": false, "": false,
	} {
		d, err := ParseDate(text)
		if (err == nil) != ok || ok && d.String() != text || !ok && !refused(err) {
			t.Errorf("%q: %v, %v", text, d, err)
		}
	}
}
