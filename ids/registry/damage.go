package registry

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"time"
	"unicode"

	"pipstake/ids/words"
)

// What a spreadsheet or a person made of a cell, and what it was probably meant
// to be. It is only ever told: a cell is read as what it says, or not at all.

// ifRight is what to do with a probable meaning.
const ifRight = "write it so if that is right"

// dateRemedy returns what a text that is no date in full probably meant. Where
// day, month and year could be either, it says so.
func dateRemedy(s string) string {
	if d, ok := scanDate(plain(s)); ok && d.exists() {
		return "write " + d.String()
	}
	if spreadsheet := madeBySpreadsheet(s); spreadsheet == tooNarrow || spreadsheet == errorOfFormula {
		return fmt.Sprintf("%s; open the file in which it still stands, or take it from your notes", spreadsheet)
	}
	if n, err := strconv.ParseFloat(decimal(s), 64); err == nil {
		if d, ok := serialDay(n); ok {
			return fmt.Sprintf("probably %s, which spreadsheets keep as %d; %s", d, int(n), ifRight)
		}
	}
	switch found := probableDates(s); {
	case len(found) == 1:
		return fmt.Sprintf("probably %s; %s", found[0], ifRight)
	case len(found) > 1:
		words := make([]string, len(found))
		for i, d := range found {
			words[i] = d.String()
		}
		return fmt.Sprintf("probably %s; %s cannot be told apart, so write the one that is right", strings.Join(words, " or "), indistinct(found))
	case hasMonth(s):
		return "the day or the year is lost; " + isoRemedy
	}
	return isoRemedy
}

// indistinct names the parts that differ between dates.
func indistinct(dates []Date) string {
	for _, d := range dates {
		if d.Year != dates[0].Year {
			return "day, month and year"
		}
	}
	return "day and month"
}

// exists reports whether the calendar has the day.
func (d Date) exists() bool {
	return d.Year > 0 && d.Month >= 1 && d.Month <= 12 && d.Day >= 1 && d.Day <= daysIn(d.Year, d.Month)
}

// serialDay is the day that spreadsheets number n, counted from 30 December
// 1899. Only numbers of the years 1950 to 2099 are taken for days.
func serialDay(n float64) (Date, bool) {
	if n < 18264 || n > 73050 {
		return Date{}, false
	}
	return Date{1899, time.December, 30}.AddDays(int(n)), true
}

// probableDates returns the days that a text in a local form may mean.
func probableDates(s string) []Date {
	text := strings.TrimSpace(s)
	if i := strings.IndexFunc(text, func(r rune) bool { return r == 'T' || r == ':' }); i > 0 && strings.Contains(text, ":") {
		text, _, _ = strings.Cut(strings.Replace(text, "T", " ", 1), " ") // a time of day
	}
	if len(text) == len("20261114") && strings.Trim(text, "0123456789") == "" {
		text = text[:4] + "-" + text[4:6] + "-" + text[6:]
	}
	parts := strings.FieldsFunc(text, func(r rune) bool { return strings.ContainsRune("/.-, ", r) || words.IsDash(r) || unicode.IsSpace(r) })
	if len(parts) != 3 {
		return nil
	}
	var found []Date
	add := func(year, month, day string) {
		if d, ok := dateOfParts(year, month, day); ok && !slices.Contains(found, d) {
			found = append(found, d)
		}
	}
	add(parts[2], parts[1], parts[0])
	add(parts[2], parts[0], parts[1])
	add(parts[0], parts[1], parts[2])
	return found
}

// dateOfParts makes a day of its parts. A year has four digits, or two that
// count from 2000; a month may be a word.
func dateOfParts(year, month, day string) (Date, bool) {
	y, err := strconv.Atoi(year)
	switch {
	case err != nil || len(year) != 2 && len(year) != 4:
		return Date{}, false
	case len(year) == 2:
		y += 2000
	}
	m, err := strconv.Atoi(month)
	if err != nil {
		m = monthOf(month)
	}
	d, err := strconv.Atoi(day)
	if err != nil || len(day) > 2 || len(month) > 2 && monthOf(month) == 0 {
		return Date{}, false
	}
	date := Date{y, time.Month(m), d}
	return date, date.exists()
}

// months are the names of the months in English, German and French, by their
// beginnings in small letters.
var months = [...][]string{
	{"jan"}, {"feb", "fév", "fev"}, {"mar", "mär", "mrz"}, {"apr", "avr"}, {"may", "mai"}, {"jun", "juin"},
	{"jul", "juil"}, {"aug", "aoû", "aou"}, {"sep"}, {"oct", "okt"}, {"nov"}, {"dec", "dez", "déc"},
}

// monthOf is the number of a month that is written as a word, or 0.
func monthOf(word string) int {
	word = strings.ToLower(word)
	for i, names := range months {
		for _, name := range names {
			if strings.HasPrefix(word, name) {
				return i + 1
			}
		}
	}
	return 0
}

// hasMonth reports whether a text is what is left of a date with its month.
func hasMonth(s string) bool {
	parts := strings.FieldsFunc(s, func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) })
	if len(parts) != 2 {
		return false
	}
	_, first := strconv.Atoi(parts[0])
	_, second := strconv.Atoi(parts[1])
	return first == nil && monthOf(parts[1]) > 0 || second == nil && monthOf(parts[0]) > 0
}

// What spreadsheets put into a cell.
const (
	tooNarrow      = "a spreadsheet saved it while its column was too narrow"
	errorOfFormula = "a spreadsheet took it for a formula and saved the error"
	madeADate      = "a spreadsheet made a date of it"
	madeANumber    = "a spreadsheet made a number of it"
)

// madeBySpreadsheet returns what a spreadsheet probably did to an identifier, or
// "".
func madeBySpreadsheet(s string) string {
	s = strings.TrimSpace(s)
	switch {
	case s == "":
		return ""
	case strings.Trim(s, "#") == "":
		return tooNarrow
	case strings.HasPrefix(s, "#"), strings.HasPrefix(s, "Err:"):
		return errorOfFormula
	case len(probableDates(s)) > 0, hasMonth(s):
		return madeADate
	}
	if _, err := strconv.ParseFloat(decimal(s), 64); err == nil {
		return madeANumber
	}
	return ""
}

// decimal writes a decimal comma as a point.
func decimal(s string) string { return strings.Replace(strings.TrimSpace(s), ",", ".", 1) }

// countRemedy returns what a text that is no whole number probably meant.
func countRemedy(s string) string {
	digits := func(r rune) bool { return r < '0' || r > '9' }
	parts := strings.FieldsFunc(s, digits)
	if len(parts) == 2 && len(parts[1]) == 3 && len(parts[0])+4 == len(s) {
		return fmt.Sprintf("a decimal sign and one between thousands cannot be told apart; write %s%s if that is what was counted", parts[0], parts[1])
	}
	if n, err := strconv.ParseFloat(decimal(s), 64); err == nil && n == math.Trunc(n) && n >= 0 && n <= maxCount {
		return fmt.Sprintf("probably %d; %s", int(n), ifRight)
	}
	switch {
	case hasMonth(s), len(parts) == 3:
		return madeADate + "; write what was counted"
	case len(parts) == 1:
		return fmt.Sprintf("probably %s; write digits only, and the rest into the notes", parts[0])
	}
	return "write digits only, or leave the cell empty"
}

// plain writes what looks like digits, hyphens and spaces as such, and leaves
// spaces around a text out. It changes nothing that could mean something else.
func plain(s string) string {
	s = strings.Map(func(r rune) rune {
		switch {
		case '\uff01' <= r && r <= '\uff5e': // the full-width forms of ASCII
			r -= '\uff01' - '!'
		case unicode.IsSpace(r), r == '\u200b', r == '\u2060', r == '\ufeff':
			return ' '
		}
		if words.IsDash(r) {
			return '-'
		}
		return r
	}, s)
	return strings.TrimSpace(s)
}
