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

// changed tells whether anything is to be saved.
func (f *csvFile) changed() bool { return len(f.edits)+len(f.added) > 0 }

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
	for _, row := range slices.Sorted(maps.Keys(f.edits)) {
		b.WriteString(f.text[at:f.rows[row].start])
		f.renderRow(&b, f.rows[row], f.edits[row])
		at = f.rows[row].end
	}
	b.WriteString(f.text[at:])
	ended := strings.HasSuffix(f.text, string(f.lineBreak))
	for _, cells := range f.added {
		if !ended {
			b.WriteString(f.lineEnd)
		}
		for i, s := range cells[:width] {
			if i > 0 {
				b.WriteByte(f.delimiter)
			}
			f.renderCell(&b, s, f.quoteAll)
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
