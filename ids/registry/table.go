package registry

import (
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"
)

// csvFile is one CSV file as its bytes. Rows are found by their offsets, and a
// save copies all bytes but those of the cells that were changed.
//
// Cells follow RFC 4180, read as spreadsheets and people write them: any of
// comma, semicolon and TAB between cells, a "sep=" line first, any line end, a
// quote inside an unquoted cell as plain text, rows cut short, blank rows.
type csvFile struct {
	name      string // "lots.csv"
	text      string // the whole file
	body      int    // where the header begins
	delimiter byte
	lineBreak byte   // ends a row: LF, or CR in a file that has no LF
	lineEnd   string // written after new rows
	quoteAll  bool   // new cells are quoted, as the header's are
	header    span
	names     []string
	width     int          // columns that the header names; late ones come after
	needed    map[int]bool // the late columns in use, which the header is to name
	rows      []span
	edits     map[int]map[int]string // by row and position of the cell
	added     [][]string             // rows to write at the end, by position
	dropped   map[int]bool           // rows to leave out
}

// maxFile is the largest file that is read, in bytes.
const maxFile = 1 << 30

// tooLarge reports whether a file of so many bytes is not read.
func tooLarge(size int64) bool { return size > maxFile }

// span is where a row lies in the file, without its line end, and which row it
// is in a spreadsheet.
type span struct{ start, end, row uint32 }

// cell is where a cell lies in the file, quotes included.
type cell struct {
	start, end int
	quoted     bool
	doubled    bool // holds a doubled quote
}

const bom = "\ufeff"

// readCSV finds out how a file is written and reads its header. Of the known
// columns all must be there but the late ones, which are added where they are
// missing once they are needed; the delimiter is the one that shows them. The
// error is an *AccessError.
func readCSV(path, name, text string, known []string, late ...string) (*csvFile, error) {
	f := &csvFile{name: name, text: text, lineBreak: '\n'}
	must := slices.DeleteFunc(slices.Clone(known), func(name string) bool { return slices.Contains(late, name) })
	unreadable := func(what, remedy string) error {
		return &AccessError{Path: path, What: what, Remedy: remedy}
	}
	if what := foreignEncoding(text); what != "" {
		return nil, unreadable(what, `save it again as "CSV UTF-8"`)
	}
	if strings.HasPrefix(text, bom) {
		f.body = len(bom)
	}
	if !strings.Contains(text, "\n") && strings.Contains(text, "\r") {
		f.lineBreak = '\r'
	}
	candidates := []byte{',', ';', '\t'}
	var separator byte
	if separator, f.body = f.separatorLine(); separator != 0 {
		candidates = []byte{separator}
	}
	if strings.TrimSpace(text[f.body:]) == "" {
		return nil, unreadable("it is empty", "put it back from a copy, or write the header "+strings.Join(must, ","))
	}
	var best, second, width int
	for _, d := range candidates {
		cells, _, _, err := f.scan(d, f.body, nil)
		if err != nil {
			continue
		}
		width = max(width, len(cells)) // of a single column, no delimiter can be told, nor matters
		found := 0
		for _, c := range cells {
			if slices.Contains(known, columnName(f.value(c))) {
				found++
			}
		}
		if found > best {
			best, second, f.delimiter = found, best, d
		} else {
			second = max(second, found)
		}
	}
	if best == 0 || best == second && width > 1 {
		return nil, unreadable("row 1 is not its header", "write the header "+strings.Join(must, ",")+" into row 1")
	}
	if missing, twice := f.readHeader(known, late); missing != "" {
		return nil, unreadable(fmt.Sprintf("the column %q is missing", missing), fmt.Sprintf("add %q to row 1", missing))
	} else if twice != "" {
		return nil, unreadable(fmt.Sprintf("the column %q is there twice", twice), "give one of the two another name in row 1")
	}
	return f, nil
}

// foreignEncoding says why a file's bytes are not UTF-8 text, or "".
func foreignEncoding(text string) string {
	switch {
	case tooLarge(int64(len(text))):
		return "it is larger than 1 GiB"
	case strings.HasPrefix(text, "\xff\xfe"), strings.HasPrefix(text, "\xfe\xff"):
		return "it is written as UTF-16"
	case strings.HasPrefix(text, "PK\x03\x04"):
		return "it is a spreadsheet program's own file, not CSV"
	case strings.IndexByte(text, 0) >= 0:
		return "it holds zero bytes, so it is not plain text"
	case utf8.ValidString(text):
		return ""
	}
	row, at := 1, 0
	for i, r := range text {
		if r == '\n' {
			row, at = row+1, i+1
		}
		if r == utf8.RuneError && !strings.HasPrefix(text[i:], "\ufffd") {
			end := i + 1
			return fmt.Sprintf("line %d is not UTF-8 text, at %q", row, text[max(at, i-20):end])
		}
	}
	return ""
}

// separatorLine reads a first line "sep=;", which spreadsheets write to name
// the delimiter, and where the header comes then. Where there is none, the
// delimiter is 0.
func (f *csvFile) separatorLine() (delimiter byte, next int) {
	rest := f.text[f.body:]
	if len(rest) < len("sep=;") || !strings.EqualFold(rest[:4], "sep=") || !strings.ContainsRune(",;\t|:", rune(rest[4])) {
		return 0, f.body
	}
	line, after, ends := strings.Cut(rest, string(f.lineBreak))
	if !ends || strings.TrimRight(line[len("sep=;"):], "\r") != "" {
		return 0, f.body
	}
	return rest[4], len(f.text) - len(after)
}

// readHeader takes in the names of the columns and the rows' style. It gives
// the first known column that is missing, and the first that is there twice.
func (f *csvFile) readHeader(known, late []string) (missing, twice string) {
	cells, end, next, _ := f.scan(f.delimiter, f.body, nil)
	f.header = span{uint32(f.body), uint32(end), 1}
	f.quoteAll = true
	for _, c := range cells {
		name := columnName(f.value(c))
		f.quoteAll = f.quoteAll && c.quoted
		if slices.Contains(f.names, name) && slices.Contains(known, name) {
			twice = name
		}
		f.names = append(f.names, name)
	}
	f.lineEnd = f.text[end:next]
	if f.lineEnd == "" {
		f.lineEnd = "\r\n"
	}
	f.width = len(f.names)
	for _, name := range known {
		switch {
		case slices.Contains(f.names, name):
		case slices.Contains(late, name):
			f.names = append(f.names, name)
		default:
			return name, twice
		}
	}
	return "", twice
}

// columnName is how a header cell is compared.
func columnName(s string) string { return strings.ToLower(strings.TrimSpace(s)) }

// eachRow hands over the rows after the header that are not blank, one after
// the other; cells is used again for the next. It returns the located error of
// a cell whose quotes do not close.
func (f *csvFile) eachRow(path string, use func(i int, cells []cell)) error {
	_, _, pos, _ := f.scan(f.delimiter, int(f.header.start), nil)
	f.rows = make([]span, 0, strings.Count(f.text[pos:], string(f.lineBreak))+1)
	var cells []cell
	for row := uint32(2); pos < len(f.text); row++ {
		var end, next int
		var bad *quoteError
		cells, end, next, bad = f.scan(f.delimiter, pos, cells[:0])
		if bad != nil {
			return &AccessError{Path: path, What: f.locate(row, bad), Remedy: bad.remedy}
		}
		if !f.blank(cells) {
			f.rows = append(f.rows, span{uint32(pos), uint32(end), row})
			use(len(f.rows)-1, cells)
		}
		pos = next
	}
	return nil
}

// quoteError is a cell whose quotes do not close.
type quoteError struct {
	cell   int // position in the row
	text   string
	what   string
	remedy string
}

func (f *csvFile) locate(row uint32, bad *quoteError) string {
	column := fmt.Sprintf("cell %d", bad.cell+1)
	if bad.cell < f.width {
		column = "column " + f.names[bad.cell]
	}
	return fmt.Sprintf("row %d, %s: %q %s", row, column, shorten(bad.text), bad.what)
}

// blank reports whether nothing stands in a row.
func (f *csvFile) blank(cells []cell) bool {
	for _, c := range cells {
		if c.start < c.end && strings.TrimSpace(f.value(c)) != "" {
			return false
		}
	}
	return true
}

// scan splits the row that starts at pos into cells. The row ends at end, the
// next one starts at next.
func (f *csvFile) scan(delimiter byte, pos int, cells []cell) (_ []cell, end, next int, bad *quoteError) {
	line := f.text[pos:]
	if i := strings.IndexByte(line, f.lineBreak); i >= 0 {
		line = line[:i]
		next = pos + i + 1
	} else {
		next = len(f.text)
	}
	if strings.IndexByte(line, '"') >= 0 {
		return f.scanQuoted(delimiter, pos, cells)
	}
	line = strings.TrimSuffix(line, "\r")
	end = pos + len(line)
	for {
		i := strings.IndexByte(line, delimiter)
		if i < 0 {
			return append(cells, cell{start: pos, end: end}), end, next, nil
		}
		cells = append(cells, cell{start: pos, end: pos + i})
		pos, line = pos+i+1, line[i+1:]
	}
}

// scanQuoted is scan for a row that holds quotes.
func (f *csvFile) scanQuoted(delimiter byte, pos int, cells []cell) (_ []cell, end, next int, bad *quoteError) {
	for {
		c := cell{start: pos, end: pos}
		if pos < len(f.text) && f.text[pos] == '"' {
			if c, bad = f.quotedCell(pos); bad != nil {
				bad.cell = len(cells)
				return cells, pos, pos, bad
			}
		}
		rest := f.text[c.end:]
		i := strings.IndexByte(rest, f.lineBreak)
		line, after := rest, len(f.text)
		if i >= 0 {
			line, after = rest[:i], c.end+i+1
		}
		d := strings.IndexByte(line, delimiter)
		if d >= 0 {
			line = line[:d]
		} else {
			line = strings.TrimSuffix(line, "\r")
		}
		if c.quoted && line != "" {
			return cells, pos, pos, &quoteError{len(cells), f.text[pos : c.end+len(line)], "goes on after its closing quote",
				`write quotes inside the cell twice, as in "5"" pot"`}
		}
		c.end += len(line)
		cells = append(cells, c)
		if d < 0 {
			return cells, c.end, after, nil
		}
		pos = c.end + 1
	}
}

// quotedCell reads the cell whose opening quote is at pos.
func (f *csvFile) quotedCell(pos int) (cell, *quoteError) {
	c := cell{start: pos, quoted: true}
	for at := pos + 1; ; at += 2 {
		i := strings.IndexByte(f.text[at:], '"')
		if i < 0 {
			return c, &quoteError{text: f.text[pos:min(len(f.text), pos+200)], what: "has no closing quote", remedy: "close the quote, or take it away"}
		}
		at += i
		if at+1 < len(f.text) && f.text[at+1] == '"' {
			c.doubled = true
			continue
		}
		c.end = at + 1
		return c, nil
	}
}

// value is the text of a cell, without its quotes.
func (f *csvFile) value(c cell) string {
	if !c.quoted {
		return f.text[c.start:c.end]
	}
	s := f.text[c.start+1 : c.end-1]
	if c.doubled {
		s = strings.ReplaceAll(s, `""`, `"`)
	}
	return s
}

// number is the row as a spreadsheet numbers it.
func (f *csvFile) number(row int) int {
	if row < len(f.rows) {
		return int(f.rows[row].row)
	}
	last := f.header.row
	if n := len(f.rows); n > 0 {
		last = f.rows[n-1].row
	}
	return int(last) + row - len(f.rows) + 1
}

// raw is the text of a cell as it stands in the file; "" where a row is short.
func (f *csvFile) raw(row, position int) string {
	if row >= len(f.rows) {
		return f.added[row-len(f.rows)][position]
	}
	cells, _, _, _ := f.scan(f.delimiter, int(f.rows[row].start), nil)
	if position >= min(f.width, len(cells)) {
		return ""
	}
	return f.value(cells[position])
}
