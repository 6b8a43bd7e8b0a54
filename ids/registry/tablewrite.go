package registry

import (
	"maps"
	"slices"
	"strings"
)

// set changes a cell; rows are counted over those read and those added.
func (f *csvFile) set(row, position int, value string) {
	f.widened = f.widened || position >= f.width
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
	f.widened = f.widened || slices.ContainsFunc(cells[f.width:], func(s string) bool { return s != "" })
	f.added = append(f.added, cells)
}

// drop leaves a row out that was read.
func (f *csvFile) drop(row int) {
	if f.dropped == nil {
		f.dropped = map[int]bool{}
	}
	f.dropped[row] = true
	delete(f.edits, row)
}

// changed tells whether anything is to be saved.
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
	at := uint32(0)
	width := f.width
	if f.widened {
		width = len(f.names)
		at = f.header.end
		b.WriteString(f.text[:at])
		for _, name := range f.names[f.width:] {
			b.WriteByte(f.delimiter)
			f.renderCell(&b, name, f.quoteAll)
		}
	}
	for _, row := range f.touched() {
		b.WriteString(f.text[at:f.rows[row].start])
		at = f.rows[row].end
		if f.dropped[row] {
			at += uint32(f.lineEndAt(at))
		} else {
			f.renderRow(&b, f.rows[row], f.edits[row])
		}
	}
	b.WriteString(f.text[at:])
	return f.renderAdded(&b, width)
}

// lineEndAt is the length of the line end at a place in the file.
func (f *csvFile) lineEndAt(at uint32) int {
	rest := f.text[at:]
	if i := strings.IndexByte(rest, f.lineBreak); i >= 0 {
		return i + 1
	}
	return len(rest)
}

// renderAdded writes the rows added behind the others, each with as many cells
// as width, and gives the file.
func (f *csvFile) renderAdded(b *strings.Builder, width int) string {
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
		for i, s := range cells[:width] {
			if i > 0 {
				b.WriteByte(f.delimiter)
			}
			f.renderCell(b, s, f.quoteAll)
		}
		if ended {
			b.WriteString(f.lineEnd)
		}
	}
	return b.String()
}

// renderRow writes a row with some of its cells changed, and no other byte. A
// row cut short is filled up to the last of them.
func (f *csvFile) renderRow(b *strings.Builder, s span, edits map[int]string) {
	cells, _, _, _ := f.scan(f.delimiter, int(s.start), nil)
	count := max(len(cells), slices.Max(slices.Collect(maps.Keys(edits)))+1)
	for i := range count {
		if i > 0 {
			b.WriteByte(f.delimiter)
		}
		value, isEdited := edits[i]
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
