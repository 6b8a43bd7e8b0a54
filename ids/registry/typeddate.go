package registry

import (
	"errors"
	"fmt"
	"strconv"
	"strings"
	"time"
	"unicode"
)

// ReadDate reads a day as people type it: 2026-11-14, 14.11.2026, 14/11/2026,
// 14 Nov 2026, Nov 14, today, yesterday, -3d or "3 days ago". Without a year it
// is the last such day up to two months from now, since what is recorded has
// mostly been; a year of two digits is one of this century. With full stops the
// day comes first, as everywhere where they are used; with slashes day and month
// are told apart only where one of them is above 12 or both are the same. The
// error is a *Refusal that names what a text may have meant.
func ReadDate(s string, today Date) (Date, error) {
	text := strings.ToLower(strings.TrimSpace(s))
	if d, ok := daysAgo(text, today); ok {
		return d, nil
	}
	if _, iso := scanDate(text); iso {
		return ParseDate(text)
	}
	parts, marks := dateParts(text)
	if len(parts) < 2 || len(parts) > 3 {
		return ParseDate(s)
	}
	year, day, month, err := sortParts(parts, marks)
	switch {
	case err == errNoDate:
		return ParseDate(s)
	case err != nil:
		return Date{}, err
	case year < 0:
		return latestYear(s, day, month, today)
	}
	return ParseDate(Date{year, time.Month(month), day}.String())
}

// daysAgo reads a day that is told from today.
func daysAgo(text string, today Date) (Date, bool) {
	switch text {
	case "today":
		return today, true
	case "yesterday":
		return today.AddDays(-1), true
	}
	number, isBack := strings.CutPrefix(text, "-")
	number, ok := strings.CutSuffix(number, "d")
	if !isBack || !ok {
		number, ok = strings.CutSuffix(strings.ReplaceAll(text, "days", "day"), " day ago")
	}
	const most = 4000 // days, about eleven years
	n, err := strconv.Atoi(number)
	if !ok || err != nil || n < 0 || n > most {
		return Date{}, false
	}
	return today.AddDays(-n), true
}

// dateParts splits a text into its numbers and words, and returns the marks
// between them.
func dateParts(text string) (parts []string, marks string) {
	between := func(r rune) bool { return unicode.IsSpace(r) || strings.ContainsRune("./,", r) }
	for _, r := range text {
		if between(r) {
			marks += string(r)
		}
	}
	return strings.FieldsFunc(text, between), marks
}

// errNoDate says that parts are not those of a date.
var errNoDate = errors.New("no date")

// sortParts tells day, month and year apart, of which there are two or all. The
// year is -1 where there is none.
func sortParts(parts []string, marks string) (year, day, month int, err error) {
	year = -1
	var numbers []int
	for _, part := range parts {
		if m := monthNamed(part); m != 0 && month == 0 {
			month = m
			continue
		}
		n, wrong := strconv.Atoi(part)
		if wrong != nil || n < 0 || len(part) == 3 || len(part) > 4 {
			return 0, 0, 0, errNoDate
		}
		numbers = append(numbers, n)
	}
	if month == 0 { // all are numbers
		if len(parts[0]) == 4 { // 2026/11/14
			return 0, 0, 0, errNoDate
		}
		first, second := numbers[0], numbers[1]
		numbers = numbers[1:]
		switch slash := strings.Contains(marks, "/"); {
		case !slash && !strings.Contains(marks, "."):
			return 0, 0, 0, errNoDate
		case slash && first <= 12 && second <= 12 && first != second:
			return 0, 0, 0, twoDays(strings.Join(parts, "/"), first, second, numbers[1:])
		case slash && second > 12:
			first, second = second, first
		}
		numbers[0], month = first, second
	}
	if day = numbers[0]; len(numbers) > 1 {
		if year = numbers[1]; year < 100 {
			year += 2000
		}
	}
	return year, day, month, nil
}

// twoDays refuses a text whose numbers are a day and a month either way round.
func twoDays(text string, a, b int, year []int) error {
	remedy := "write the month as a word"
	if len(year) > 0 && year[0] > 999 {
		remedy = fmt.Sprintf("write %04d-%02d-%02d or %04d-%02d-%02d", year[0], b, a, year[0], a, b)
	}
	return &Refusal{fmt.Sprintf("%q may be %d %s or %d %s", text, a, time.Month(b), b, time.Month(a)), remedy}
}

// monthNamed is the month that an English name or its first three or more
// letters mean; 0 for none.
func monthNamed(word string) int {
	word = strings.TrimSuffix(word, ".")
	for m := time.January; m <= time.December; m++ {
		if len(word) >= 3 && strings.HasPrefix(strings.ToLower(m.String()), word) {
			return int(m)
		}
	}
	return 0
}

// latestYear is the day in the latest year that brings it no more than two
// months beyond today.
func latestYear(text string, day, month int, today Date) (Date, error) {
	const ahead = 60                                           // days
	for year := today.Year + 1; year >= today.Year-7; year-- { // 29 February may be eight years ago, in a year seven before
		if d, err := ParseDate(Date{year, time.Month(month), day}.String()); err == nil && !today.AddDays(ahead).Before(d) {
			return d, nil
		}
	}
	return Date{}, &Refusal{fmt.Sprintf("%q is not a date", shorten(text)), isoRemedy}
}
