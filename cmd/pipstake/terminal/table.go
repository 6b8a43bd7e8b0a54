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
	wide := t.widths()
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

// widths are how many columns of the screen the table's columns take.
func (t *Table) widths() []int {
	var wide []int
	for _, row := range t.rows {
		for i, cell := range row {
			if i == len(wide) {
				wide = append(wide, 0)
			}
			wide[i] = max(wide[i], words.Columns(words.Clean(cell)))
		}
	}
	return wide
}

// LinesWithin are the lines of the table on a screen of so many columns. Where
// the last column holds text and has room for it, its cells go on below
// themselves; otherwise the table is cut into parts of columns, one below the other, each
// with the first column in front.
func (t *Table) LinesWithin(indent string, columns int) []string {
	wide := t.widths()
	whole := len(indent)
	for _, w := range wide {
		whole += w + 2
	}
	if last := len(wide) - 1; last < 0 || whole-2 <= columns {
		return t.Lines(indent)
	} else if wide[last] > leastText && whole-2-wide[last] <= columns-leastText {
		var lines []string
		for _, line := range t.Lines(indent) {
			lines = append(lines, fold(line, columns)...)
		}
		return lines
	}
	var lines []string
	for from := 1; from < len(wide); {
		to, used := from, len(indent)+wide[0]
		for to < len(wide) && (to == from || used+2+wide[to] <= columns) {
			used += 2 + wide[to]
			to++
		}
		if from > 1 {
			lines = append(lines, "")
		}
		lines = append(lines, t.part(from, to).Lines(indent)...)
		from = to
	}
	return lines
}

// part is the first column and those of from up to before to. The rows that have
// nothing there are left out of all parts but the first.
func (t *Table) part(from, to int) *Table {
	part := &Table{}
	for _, row := range t.rows {
		cells := row[:min(1, len(row))]
		if from < len(row) {
			cells = append(cells[:1:1], row[from:min(to, len(row))]...)
		}
		if from == 1 || strings.Join(cells[1:], "") != "" {
			part.Row(cells...)
		}
	}
	return part
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
