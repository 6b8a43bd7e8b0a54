package registry

import (
	"slices"
	"strings"
	"testing"
)

// readAs reads one cell of a table and returns its finding, or what was read.
func readAs(t *testing.T, file, header, column, text string) (got, mend string) {
	t.Helper()
	files := emptyFiles()
	cells := slices.Repeat([]string{""}, strings.Count(header, ",")+1)
	names := strings.Split(header, ",")
	cells[0] = "2026X001-A"
	cells[slices.Index(names, column)] = text
	files["r/"+file] = style{delimiter: ",", lineEnd: "\n"}.write([][]string{names, cells})
	r := open(t, newTestDisk(files))
	for _, f := range append(r.Damage(), r.lots.oddities()...) {
		if f.Column == column {
			got = f.What + "; " + f.Remedy
		}
	}
	for _, f := range append(slices.Clone(r.lots.damage), r.lots.odd...) {
		if f.finding.Column == column {
			mend = f.mend
		}
	}
	return got, mend
}

// What spreadsheets make of cells is told with what it was probably meant to
// be, and only what is certain is offered to be mended. Spreadsheets count days
// from 1899-12-30: the default null date of OpenDocument 1.2 part 1, 19.621,
// and of ECMA-376 part 1, 18.17.4.1, from March 1900 on.
func TestDamagedCells(t *testing.T) {
	const lots = "id,issued,extracted,fruit,seeds,undeveloped,chilled,state,notes"
	const right = "; write it so if that is right"
	for _, c := range []struct{ column, text, want, mend string }{
		{"issued", "2026-11-14", "", ""},
		{"issued", "14/11/2026", "is not a date; probably 2026-11-14" + right, ""},
		{"issued", "11/14/26", "is not a date; probably 2026-11-14" + right, ""},
		{"issued", "14.11.2026", "is not a date; probably 2026-11-14" + right, ""},
		{"issued", "14. Nov. 2026", "is not a date; probably 2026-11-14" + right, ""},
		{"issued", "14 novembre 2026", "is not a date; probably 2026-11-14" + right, ""},
		{"issued", "Nov 14, 2026", "is not a date; probably 2026-11-14" + right, ""},
		{"issued", "14-Okt-26", "is not a date; probably 2026-10-14 or 2014-10-26; day, month and year cannot be told apart, so write the one that is right", ""},
		{"issued", "14/11/2026 00:00", "is not a date; probably 2026-11-14" + right, ""},
		{"issued", "2026-11-14T00:00:00", "is not a date; probably 2026-11-14" + right, ""},
		{"issued", "2026/11/14", "is not a date; probably 2026-11-14" + right, ""},
		{"issued", "20261114", "is not a date; probably 2026-11-14" + right, ""},
		{"issued", "04/05/2026", "is not a date; probably 2026-05-04 or 2026-04-05; day and month cannot be told apart, so write the one that is right", ""},
		{"issued", "04.05.06", "is not a date; probably 2006-05-04 or 2006-04-05 or 2004-05-06; day, month and year cannot be told apart, so write the one that is right", ""},
		{"issued", "14-Nov", "is not a date; the day or the year is lost; write year-month-day, like 2026-11-14", ""},
		{"issued", "Nov-26", "is not a date; the day or the year is lost; write year-month-day, like 2026-11-14", ""},
		{"issued", "46340", "is not a date; probably 2026-11-14, which spreadsheets keep as 46340" + right, ""},
		{"issued", "46340,25", "is not a date; probably 2026-11-14, which spreadsheets keep as 46340" + right, ""},
		{"issued", "########", "is not a date; a spreadsheet saved it while its column was too narrow; open the file in which it still stands, or take it from your notes", ""},
		{"issued", "#VALUE!", "is not a date; a spreadsheet took it for a formula and saved the error; open the file in which it still stands, or take it from your notes", ""},
		{"issued", "spring", "is not a date; write year-month-day, like 2026-11-14", ""},
		{"issued", " 2026-11-14\u00a0", "is read as 2026-11-14, but not written so; write 2026-11-14", "2026-11-14"},
		{"issued", "2026–11–14", "is read as 2026-11-14, but not written so; write 2026-11-14", "2026-11-14"},
		{"issued", "２０２６-11-14", "is read as 2026-11-14, but not written so; write 2026-11-14", "2026-11-14"},
		{"seeds", "14", "", ""},
		{"seeds", "014", "", ""},
		{"seeds", "14,0", "is not a whole number; probably 14" + right, ""},
		{"seeds", "14.00", "is not a whole number; probably 14" + right, ""},
		{"seeds", "1,4E+01", "is not a whole number; probably 14" + right, ""},
		{"seeds", "0,0", "is not a whole number; probably 0" + right, ""},
		{"seeds", "-1,0", "is not a whole number; write digits only, or leave the cell empty", ""},
		{"seeds", "14,5", "is not a whole number; write digits only, or leave the cell empty", ""},
		{"seeds", "1,400", "is not a whole number; a decimal sign and one between thousands cannot be told apart; write 1400 if that is what was counted", ""},
		{"seeds", "14 seeds", "is not a whole number; probably 14; write digits only, and the rest into the notes", ""},
		{"seeds", "9 or 0", "is not a whole number; write digits only, or leave the cell empty", ""},
		{"seeds", "ca. 90", "is not a whole number; probably 90; write digits only, and the rest into the notes", ""},
		{"seeds", "ca. 14", "is not a whole number; probably 14; write digits only, and the rest into the notes", ""},
		{"seeds", "5-6", "is not a whole number; write digits only, or leave the cell empty", ""},
		{"seeds", "05-Jun", "is not a whole number; a spreadsheet made a date of it; write what was counted", ""},
		{"seeds", "2026-06-05", "is not a whole number; a spreadsheet made a date of it; write what was counted", ""},
		{"seeds", "a few", "is not a whole number; write digits only, or leave the cell empty", ""},
		{"seeds", " 14 ", "is read as 14, but not written so; write 14", "14"},
		{"seeds", "１４", "is read as 14, but not written so; write 14", "14"},
		{"seeds", "−3", "is less than none; write what was counted", ""},
		{"state", " VOID", "is read as void, but not written so; write void", "void"},
		{"id", "2026x001–a ", "is read as 2026X001-A, but not written so; write 2026X001-A", "2026X001-A"},
		{"id", "２０２６X001-A", "is read as 2026X001-A, but not written so; write 2026X001-A", "2026X001-A"},
		{"id", "2O26X001-A", "is read as 2026X001-A, but not written so; write 2026X001-A", ""}, // the letter O
		{"id", "2O26X001-A.0", "is read as 2026X001-A, but not written so; write 2026X001-A", "2026X001-A"},
		{"id", "12-Mar", "is not an identifier: a spreadsheet made a date of it; take the identifier from the label, and format the column as text", ""},
		{"id", "2.026E+38", "is not an identifier: a spreadsheet made a number of it; take the identifier from the label, and format the column as text", ""},
		{"id", "35", "is not an identifier: a spreadsheet made a number of it; take the identifier from the label, and format the column as text", ""},
		{"id", "#NAME?", "is not an identifier: a spreadsheet took it for a formula and saved the error; take the identifier from the label, and format the column as text", ""},
		{"id", "2026X01-A", `is not an identifier: the number of a cross has at least 3 digits; if that is what is meant, write "2026X001"`, ""},
	} {
		got, mend := readAs(t, "lots.csv", lots, c.column, c.text)
		if got != c.want || mend != c.mend {
			t.Errorf("%s %q: %s, mend %q\nwant %s, mend %q", c.column, c.text, got, mend, c.want, c.mend)
		}
	}
}

// Spreadsheets number the days from 30 December 1899 on (ECMA-376 part 1, 18.17.4.1,
// the 1900 date base); the numbers were reckoned by Python's datetime.
func TestNumbersThatMayBeDays(t *testing.T) {
	for n, want := range map[float64]string{18263: "", 18264: "1950-01-01", 46340: "2026-11-14", 46340.9: "2026-11-14", 73050: "2099-12-31", 73051: ""} {
		if got, ok := serialDay(n); ok != (want != "") || got.String() != want {
			t.Errorf("%v: %s, %v; want %q", n, got, ok, want)
		}
	}
}
