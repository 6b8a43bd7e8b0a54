package registry

import (
	"strings"
	"unicode/utf8"
)

// A spreadsheet runs a cell that begins with one of these signs as a formula,
// in the forms of East Asian text as well.
const formulaSigns = "=+-@\t\r\n＝＋－＠"

// Guard makes a text fit for a cell of a CSV file: one that a spreadsheet would
// run as a formula gets an apostrophe before it, and so does one that begins
// with apostrophes and such a sign, so that Unguard gives every text back.
func Guard(text string) string {
	if text == "" || !isFormula(strings.TrimLeft(text, "'")) {
		return text
	}
	return "'" + text
}

// Unguard returns the text of a cell that Guard has written. A formula that
// stands in a cell without an apostrophe is its own text.
func Unguard(cell string) string {
	if cell == "" || cell[0] != '\'' || !isFormula(strings.TrimLeft(cell, "'")) {
		return cell
	}
	return cell[1:]
}

// isFormula reports whether a spreadsheet would run a cell.
func isFormula(cell string) bool {
	if cell == "" || 'A' <= cell[0] && cell[0] <= 'z' {
		return false
	}
	sign, _ := utf8.DecodeRuneInString(cell)
	return strings.ContainsRune(formulaSigns, sign)
}

// formulaIssue is what there is to say of a cell as it stands in a file.
func formulaIssue(cell string) *cellIssue {
	if !isFormula(cell) {
		return nil
	}
	return &cellIssue{what: "would be run as a formula by a spreadsheet", remedy: "put an apostrophe before it", mend: Guard(cell)}
}
