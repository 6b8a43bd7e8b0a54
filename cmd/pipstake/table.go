package main

import (
	"strings"

	"github.com/mattn/go-runewidth"
)

// widths measures text in terminal columns. Signs such as ♀ and × count one,
// whatever the locale.
var widths = &runewidth.Condition{StrictEmojiNeutral: true}

// table aligns cells by what they take up on the screen.
type table struct{ rows [][]string }

func (t *table) row(cells ...string) { t.rows = append(t.rows, cells) }

// lines are the rows of the table, cells two columns apart, with indent in
// front.
func (t *table) lines(indent string) []string {
	var wide []int
	for _, row := range t.rows {
		for i, cell := range row {
			if i == len(wide) {
				wide = append(wide, 0)
			}
			wide[i] = max(wide[i], widths.StringWidth(clean(cell)))
		}
	}
	var lines []string
	for _, row := range t.rows {
		var b strings.Builder
		b.WriteString(indent)
		for i, cell := range row {
			cell = clean(cell)
			b.WriteString(cell)
			if i < len(row)-1 {
				b.WriteString(strings.Repeat(" ", wide[i]-widths.StringWidth(cell)+2))
			}
		}
		lines = append(lines, strings.TrimRight(b.String(), " "))
	}
	return lines
}

// dropEmpty leaves out the columns in which nothing stands.
func (t *table) dropEmpty() {
	used := map[int]bool{}
	for _, row := range t.rows {
		for i, cell := range row {
			used[i] = used[i] || cell != ""
		}
	}
	for i, row := range t.rows {
		var kept []string
		for j, cell := range row {
			if used[j] {
				kept = append(kept, cell)
			}
		}
		t.rows[i] = kept
	}
}
