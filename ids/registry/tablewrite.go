package registry

import (
	"maps"
	"slices"
	"strings"
)

// set changes a cell; rows are counted over those read and those added.
func (f *csvFile) set(row, position int, value string) {
	f.need(position)
	if i := row - len(f.rows); i >= 0 {
		f.added[i][position] = value
		return
	}
	if f.edits == nil {
		f.edits = map[int]map[int]string{}
	}
	if f.edits[row] == nil {
		f.edits[row] = map[int]string{}
	}
	f.edits[row][position] = value
}

// add writes a new row at the end; cells holds a text for every column.
func (f *csvFile) add(cells []string) {
	for i, s := range cells[f.width:] {
		if s != "" {
			f.need(f.width + i)
		}
	}
	f.added = append(f.added, cells)
}

// need adds a late column to the file, unless it is there.
func (f *csvFile) need(position int) {
	if position < f.width {
		return
	}
	if f.needed == nil {
		f.needed = map[int]bool{}
	}
	f.needed[position] = true
}

// written returns the positions of the columns that the file has once it is
// saved, in their order.
func (f *csvFile) written() []int {
	all := make([]int, f.width, len(f.names))
	for i := range all {
		all[i] = i
	}
	return append(all, slices.Sorted(maps.Keys(f.needed))...)
}

// drop leaves a row out that was read.
func (f *csvFile) drop(row int) {
	if f.dropped == nil {
		f.dropped = map[int]bool{}
	}
	f.dropped[row] = true
	delete(f.edits, row)
}

// changed reports whether anything is to be saved.
func (f *csvFile) changed() bool { return len(f.edits)+len(f.added)+len(f.dropped) > 0 }

// touched lists the rows that were read and are edited or dropped, in order.
func (f *csvFile) touched() []int {
	rows := slices.Collect(maps.Keys(f.edits))
	return slices.Sorted(slices.Values(slices.AppendSeq(rows, maps.Keys(f.dropped))))
}

// render is the file with its changes.
func (f *csvFile) render() string {
	var b strings.Builder
	b.Grow(len(f.text) + 128*(len(f.edits)+len(f.added)))
	at, columns := f.header.end, f.written()
	b.WriteString(f.text[:at])
	for _, position := range columns[f.width:] {
		b.WriteByte(f.delimiter)
		f.renderCell(&b, f.names[position], f.quoteAll)
	}
	for _, row := range f.touched() {
		b.WriteString(f.text[at:f.rows[row].start])
		at = f.rows[row].end
		if f.dropped[row] {
			at += uint32(f.lineEndAt(at))
		} else {
			f.renderRow(&b, f.rows[row], f.edits[row], columns)
		}
	}
	b.WriteString(f.text[at:])
	return f.renderAdded(&b, columns)
}

// lineEndAt is the length of the line end at a place in the file.
func (f *csvFile) lineEndAt(at uint32) int {
	rest := f.text[at:]
	if i := strings.IndexByte(rest, f.lineBreak); i >= 0 {
		return i + 1
	}
	return len(rest)
}

// renderAdded writes the rows added behind the others, each with the cells of
// some columns, and returns the file.
func (f *csvFile) renderAdded(b *strings.Builder, columns []int) string {
	ended := strings.HasSuffix(f.text, string(f.lineBreak))
	if text := b.String(); !ended && strings.HasSuffix(text, f.lineEnd) { // the last row was dropped
		ended = len(f.added) > 0
		if !ended {
			return strings.TrimSuffix(text, f.lineEnd)
		}
	}
	for _, cells := range f.added {
		if !ended {
			b.WriteString(f.lineEnd)
		}
		for i, position := range columns {
			if i > 0 {
				b.WriteByte(f.delimiter)
			}
			f.renderCell(b, cells[position], f.quoteAll)
		}
		if ended {
			b.WriteString(f.lineEnd)
		}
	}
	return b.String()
}

// renderRow writes a row with some of its cells changed, and no other byte. A
// row cut short is filled up to the last of them.
func (f *csvFile) renderRow(b *strings.Builder, s span, edits map[int]string, columns []int) {
	cells, _, _, _ := f.scan(f.delimiter, int(s.start), nil)
	last := slices.Index(columns, slices.Max(slices.Collect(maps.Keys(edits))))
	for i := range max(len(cells), last+1) {
		if i > 0 {
			b.WriteByte(f.delimiter)
		}
		value, isEdited := "", false
		if i < len(columns) {
			value, isEdited = edits[columns[i]]
		}
		switch {
		case isEdited:
			f.renderCell(b, value, f.quoteAll || i < len(cells) && cells[i].quoted)
		case i < len(cells):
			b.WriteString(f.text[cells[i].start:cells[i].end])
		}
	}
}

// renderCell writes a cell, in quotes where it must be or always.
func (f *csvFile) renderCell(b *strings.Builder, s string, always bool) {
	if !always && strings.IndexByte(s, f.delimiter) < 0 && !strings.ContainsAny(s, "\"\r\n") && strings.TrimSpace(s) == s {
		b.WriteString(s)
		return
	}
	b.WriteByte('"')
	b.WriteString(strings.ReplaceAll(s, `"`, `""`))
	b.WriteByte('"')
}
