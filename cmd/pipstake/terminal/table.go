package terminal

import (
	"strings"

	"pipstake/ids/words"
)

// Table aligns cells by the columns that they take on the screen. The zero
// value is empty.
type Table struct{ rows [][]string }

// Row adds a row. Rows may differ in length.
func (t *Table) Row(cells ...string) { t.rows = append(t.rows, cells) }

// Lines are the rows of the table, cells two columns apart, with indent in
// front.
func (t *Table) Lines(indent string) []string {
	var wide []int
	for _, row := range t.rows {
		for i, cell := range row {
			if i == len(wide) {
				wide = append(wide, 0)
			}
			wide[i] = max(wide[i], words.Columns(words.Clean(cell)))
		}
	}
	var lines []string
	for _, row := range t.rows {
		var b strings.Builder
		b.WriteString(indent)
		for i, cell := range row {
			cell = words.Clean(cell)
			b.WriteString(cell)
			if i < len(row)-1 {
				b.WriteString(strings.Repeat(" ", wide[i]-words.Columns(cell)+2))
			}
		}
		lines = append(lines, strings.TrimRight(b.String(), " "))
	}
	return lines
}

// DropEmpty leaves out the columns in which nothing stands.
func (t *Table) DropEmpty() {
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

// Len is the number of rows.
func (t *Table) Len() int { return len(t.rows) }
