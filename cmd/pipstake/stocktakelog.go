package main

import (
	"bytes"
	"encoding/csv"
	"errors"
	"io"
	"slices"
	"strings"

	"pipstake/label/symbol"
)

// textLines reads a log, with a code on each line, or a table with a column of
// codes. Blank ones are left out. An error is for a file that is no text.
func textLines(data []byte) ([]scanned, error) {
	text, err := plainText(bytes.NewReader(data))
	if err == nil {
		data, err = io.ReadAll(text)
	}
	switch {
	case errors.Is(err, errNoText):
		return nil, errors.New("it is neither a photograph nor text; give a scanner's log, a CSV file, or photographs in JPEG or PNG")
	case err != nil:
		return nil, err
	}
	var lines, tooLong []scanned
	whole := 0
	err = eachLine(bytes.NewReader(data), func(line textLine) {
		text := strings.TrimSpace(line.text)
		switch _, _, err := symbol.ParseScan(text); {
		case line.tooLong != nil:
			tooLong = append(tooLong, scanned{number: line.number, text: text, tooLong: line.tooLong})
		case text == "":
			return
		case err == nil:
			whole++
		}
		lines = append(lines, scanned{number: line.number, text: line.text, tooLong: line.tooLong})
	})
	if err != nil {
		return nil, err
	}
	best := tableColumn{}
	for _, delimiter := range "\t;,|" {
		if c := codeColumn(lines, delimiter); c.codes > best.codes {
			best = c
		}
	}
	if best.codes == 0 || best.codes < whole {
		return lines, nil
	}
	cells := append(best.cells, tooLong...)
	slices.SortStableFunc(cells, func(a, b scanned) int { return a.number - b.number })
	return cells, nil
}

// tableColumn is one of a table.
type tableColumn struct {
	cells []scanned
	codes int // cells that can be read
}

// codeColumn finds the column of a table in which most cells are codes; none
// where the lines are no table with the delimiter.
func codeColumn(lines []scanned, delimiter rune) tableColumn {
	var columns []tableColumn
	for len(lines) > 0 {
		n, cells := firstRow(lines, delimiter)
		for i, cell := range cells[:min(len(cells), mostColumns)] {
			if i == len(columns) {
				columns = append(columns, tableColumn{})
			}
			text := strings.TrimSpace(cell)
			if text == "" {
				continue
			}
			columns[i].cells = append(columns[i].cells, scanned{number: lines[0].number, text: text, ofTable: true})
			if _, _, err := symbol.ParseScan(text); err == nil {
				columns[i].codes++
			}
		}
		lines = lines[n:]
	}
	best := tableColumn{}
	for _, c := range columns {
		if len(columns) > 1 && c.codes > best.codes {
			best = c
		}
	}
	return best
}

// firstRow returns the cells of the first row of a table, and of how many lines
// it is: more than one where a cell in quotes runs on. A quote that is not closed
// soon, or not before the next code, is a character like any other, so that it
// costs its own line only.
func firstRow(lines []scanned, delimiter rune) (n int, cells []string) {
	const most = 10
	var text strings.Builder
	for i, line := range lines[:min(most, len(lines))] {
		if line.tooLong != nil {
			break
		}
		if _, _, err := symbol.ParseScan(line.text); i > 0 && err == nil {
			break
		}
		text.WriteString(line.text + "\n")
		if endsInQuotes(text.String(), delimiter) {
			continue
		}
		in := csv.NewReader(strings.NewReader(text.String()))
		in.Comma, in.LazyQuotes = delimiter, true
		cells, _ = in.Read() // a blank line has none
		return i + 1, cells
	}
	if lines[0].tooLong != nil {
		return 1, nil
	}
	return 1, strings.Split(lines[0].text, string(delimiter))
}

// endsInQuotes reports whether rows of a table end within a cell in quotes.
func endsInQuotes(rows string, delimiter rune) bool {
	quoted, starts := false, true
	for _, r := range rows {
		switch {
		case r == '"' && (quoted || starts):
			quoted = !quoted
			starts = !quoted // two in a row stand for one
		default:
			starts = !quoted && (r == delimiter || r == '\n')
		}
	}
	return quoted
}

// mostColumns is more than any program for scanning writes.
const mostColumns = 200
