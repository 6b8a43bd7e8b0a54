package registry

import (
	"cmp"
	"fmt"
	"time"
)

// Date is a day of the calendar. The zero Date is one that is not known.
type Date struct {
	Year  int
	Month time.Month
	Day   int
}

// ParseDate reads a date as ISO 8601-1 writes it in full, year-month-day:
// 2026-11-14. The error is a *Refusal that says what is wrong, and for a local
// form what it may have meant.
func ParseDate(s string) (Date, error) {
	d, ok := scanDate(s)
	if !ok {
		return Date{}, &Refusal{What: fmt.Sprintf("%q is not a date", shorten(s)), Remedy: dateRemedy(s)}
	}
	if d.Year == 0 || d.Month < 1 || d.Month > 12 {
		return Date{}, &Refusal{What: fmt.Sprintf("%q is not a date: a year has months 01 to 12", s), Remedy: isoRemedy}
	}
	if last := daysIn(d.Year, d.Month); d.Day < 1 || d.Day > last {
		return Date{}, &Refusal{What: fmt.Sprintf("%q is not a date: %s %d has %d days", s, d.Month, d.Year, last), Remedy: isoRemedy}
	}
	return d, nil
}

const isoRemedy = "write year-month-day, like 2026-11-14"

// scanDate reads dddd-dd-dd, whatever the numbers.
func scanDate(s string) (Date, bool) {
	if len(s) != len("2026-11-14") || s[4] != '-' || s[7] != '-' {
		return Date{}, false
	}
	var n [3]int
	for i, part := range [3]string{s[:4], s[5:7], s[8:]} {
		for _, c := range []byte(part) {
			if c < '0' || c > '9' {
				return Date{}, false
			}
			n[i] = n[i]*10 + int(c-'0')
		}
	}
	return Date{n[0], time.Month(n[1]), n[2]}, true
}

// daysIn is the number of days in a month.
func daysIn(year int, month time.Month) int {
	return time.Date(year, month+1, 0, 0, 0, 0, 0, time.UTC).Day()
}

// DateOf is the day of t in t's own time zone.
func DateOf(t time.Time) Date {
	y, m, d := t.Date()
	return Date{y, m, d}
}

// String writes the date as ISO 8601 does, "2026-11-14"; "" for the zero Date.
func (d Date) String() string {
	if d.IsZero() {
		return ""
	}
	return fmt.Sprintf("%04d-%02d-%02d", d.Year, d.Month, d.Day)
}

// IsZero reports whether the date is not known.
func (d Date) IsZero() bool { return d == Date{} }

// Before reports whether d comes before e. A date that is not known comes before
// none, and none before it.
func (d Date) Before(e Date) bool {
	return !d.IsZero() && !e.IsZero() && d.Compare(e) < 0
}

// Compare orders dates as package cmp has it; the zero Date is first.
func (d Date) Compare(e Date) int {
	return cmp.Or(cmp.Compare(d.Year, e.Year), cmp.Compare(d.Month, e.Month), cmp.Compare(d.Day, e.Day))
}

// AddDays is the date n days later, or earlier for a negative n.
func (d Date) AddDays(n int) Date { return DateOf(d.time().AddDate(0, 0, n)) }

// DaysSince is the number of days from e to d; negative where d is earlier.
func (d Date) DaysSince(e Date) int { return int(d.time().Sub(e.time()) / (24 * time.Hour)) }

func (d Date) time() time.Time { return time.Date(d.Year, d.Month, d.Day, 0, 0, 0, 0, time.UTC) }
