package registry

import (
	"slices"
	"strconv"
	"strings"
	"time"
)

// dateColumns are the columns that hold days.
var dateColumns = []string{"pollinated", "picked", "issued", "extracted", "chilled", "sown", "pricked", "ended", "on", "printed"}

// localDates returns what the local dates of a table mean, where a column settles
// by itself which of the two numbers is the day: a spreadsheet writes one column
// alike.
func (t *table[T]) localDates() []Fix {
	var all []Fix
	for _, column := range dateColumns {
		var cells []fault
		for _, f := range t.damage {
			if f.finding.Column == column && f.mend == "" {
				cells = append(cells, f)
			}
		}
		for i, d := range readTogether(values(cells)) {
			if !d.IsZero() {
				all = append(all, Fix{cells[i].finding, d.String(), cells[i].row})
			}
		}
	}
	slices.SortStableFunc(all, func(a, b Fix) int { return a.row - b.row })
	return all
}

// values are the texts of cells.
func values(cells []fault) []string {
	var texts []string
	for _, c := range cells {
		texts = append(texts, c.finding.Value)
	}
	return texts
}

// localDate is a date as a spreadsheet of some country writes it.
type localDate struct {
	first, second, year int
	ok                  bool
}

// readLocal reads two numbers and a year, with slashes or full stops. A year of two
// digits is none: it may as well stand first.
func readLocal(text string) localDate {
	text = strings.TrimSpace(text)
	parts := strings.FieldsFunc(text, func(r rune) bool { return r == '/' || r == '.' })
	if len(parts) != 3 || len(parts[2]) != 4 || len(parts[0]) > 2 || len(parts[1]) > 2 {
		return localDate{}
	}
	var n [3]int
	for i, part := range parts {
		var err error
		if n[i], err = strconv.Atoi(part); err != nil || n[i] < 1 {
			return localDate{}
		}
	}
	return localDate{n[0], n[1], n[2], n[0] <= 31 && n[1] <= 31}
}

// readTogether reads the dates of one column, where they settle together which
// number is the day: some of them must have a day above 12, and all of those in
// the same place. It returns a zero Date for each text that is no date, and for
// all where nothing is settled.
func readTogether(texts []string) []Date {
	dates := make([]Date, len(texts))
	dayFirst, monthFirst := false, false
	for _, text := range texts {
		d := readLocal(text)
		dayFirst = dayFirst || d.ok && d.first > 12
		monthFirst = monthFirst || d.ok && d.second > 12
	}
	if dayFirst == monthFirst {
		return dates
	}
	for i, text := range texts {
		d := readLocal(text)
		if monthFirst {
			d.first, d.second = d.second, d.first
		}
		if read, err := ParseDate(Date{d.year, time.Month(d.second), d.first}.String()); err == nil {
			dates[i] = read
		}
	}
	return dates
}
