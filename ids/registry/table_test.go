package registry

import (
	"encoding/csv"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"pipstake/ids"
)

// style is a way to write a CSV file.
type style struct {
	delimiter string
	bom       string
	sep       string // a first line
	lineEnd   string
	quoted    bool // every cell
	unended   bool // the last row has no line end
}

// write writes rows in the style, by a writer of the test's own.
func (s style) write(rows [][]string) string {
	var b strings.Builder
	b.WriteString(s.bom)
	if s.sep != "" {
		b.WriteString(s.sep + s.lineEnd)
	}
	for i, row := range rows {
		for j, cell := range row {
			if j > 0 {
				b.WriteString(s.delimiter)
			}
			if s.quoted || strings.ContainsAny(cell, s.delimiter+"\"\r\n") {
				cell = `"` + strings.ReplaceAll(cell, `"`, `""`) + `"`
			}
			b.WriteString(cell)
		}
		if i < len(rows)-1 || !s.unended {
			b.WriteString(s.lineEnd)
		}
	}
	return b.String()
}

// styles is every mixture of how spreadsheets and people write CSV.
func styles() []style {
	var all []style
	for _, delimiter := range []string{",", ";", "\t"} {
		for _, mark := range []string{"", bom} {
			for _, lineEnd := range []string{"\r\n", "\n", "\r"} {
				for _, quoted := range []bool{false, true} {
					for _, unended := range []bool{false, true} {
						for _, sep := range []string{"", "sep=" + delimiter} {
							all = append(all, style{delimiter, mark, sep, lineEnd, quoted, unended})
						}
					}
				}
			}
		}
	}
	return append(all, style{delimiter: "|", sep: "sep=|", lineEnd: "\n"})
}

// newRegistry makes an empty registry with some other files in it, as Init does,
// but that it waits for no disk.
func newRegistry(t *testing.T, files map[string]string) string {
	t.Helper()
	dir := filepath.Join(t.TempDir(), "registry")
	if err := (store{disk: quickDisk{}, dir: dir, names: fileNames()}).init(newTables()); err != nil {
		t.Fatal(err)
	}
	for name, text := range files {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	return dir
}

func readFile(t *testing.T, dir, name string) string {
	t.Helper()
	data, err := os.ReadFile(filepath.Join(dir, name))
	if err != nil {
		t.Fatal(err)
	}
	return string(data)
}

// In every style, with columns moved and added, cells that a save does not
// change stay byte for byte as they were.
func TestSaveKeepsEveryOtherByte(t *testing.T) {
	rows := [][]string{
		{"Row", "notes", "pollen_parent", "ID", "seed_parent", "state", "pollinated", "flowers", "weather, wind"},
		{"a", " 5\" pot; \"north\" bed,\tdry ", "Tarn Amber", "2026X001", "Larkfield Tessel", "", "2026-05-04", "012", "-2 °C"},
		{"b", "", "Härmä Punanen", "2026x002", "Orlie d'Ancelle", "", "2026-05-05", " 7 ", "=1+1"},
		{"", "", "", "", "", "", "", "", ""},
		{"c", "two\nlines", "Błota Struga", "2026X003", "Gwennol Goch", "", "", "", ""},
	}
	for _, s := range styles() {
		if s.lineEnd == "\r" {
			rows[4][1] = "one line" // such a file has no LF at all
		} else {
			rows[4][1] = "two" + s.lineEnd + "lines"
		}
		files := emptyFiles()
		files["r/crosses.csv"] = s.write(rows)
		d := newTestDisk(files)
		err := testStore(d).change(func(r *Registry) error {
			if err := r.Void(ids.ID{Year: 2026, Cross: 2}, "hail"); err != nil {
				return err
			}
			_, err := r.AddCross(NewCross{SeedParent: `Mørkeby "Vindal"`, PollenParent: "Otterhay, Lade", Year: 2026, Flowers: Known(3)})
			return err
		})
		if err != nil {
			t.Fatalf("%+v: %v", s, err)
		}
		want := slices.Clone(rows)
		want[2] = slices.Clone(rows[2])
		want[2][1], want[2][5] = "hail", "void"
		want = append(want, []string{"", "", "Otterhay, Lade", "2026X004", `Mørkeby "Vindal"`, "", "", "3", ""})
		if got, want := d.now["r/crosses.csv"].data, s.write(want); got != want {
			t.Errorf("%+v:\n%q\nwant\n%q", s, got, want)
		}
		if got := d.now["r/lots.csv"].data; got != "\ufeffid,issued,extracted,fruit,seeds,undeveloped,chilled,state,notes\r\n" {
			t.Errorf("%+v: lots.csv is %q", s, got)
		}
	}
}

// Hand-edited files: quotes only where somebody put them, rows cut short, blank
// rows, spaces. The bytes around a changed cell stay.
func TestSaveKeepsHandEditedRows(t *testing.T) {
	before := "id;seed_parent;\"pollen_parent\";pollinated;flowers;state;notes\n" +
		"2026X001;Larkfield Tessel;Tarn Amber\n" + // cut short
		"\n;;;;;;\n  \n" + // blank
		"2026X002 ;\"Larkfield Tessel\";5\" pot;2026-05-04;;;\"old\"\n" +
		"2026X003;A;B;;;;;;\n"
	after := "id;seed_parent;\"pollen_parent\";pollinated;flowers;state;notes\n" +
		"2026X001;Larkfield Tessel;Tarn Amber;;;void;frost\n" +
		"\n;;;;;;\n  \n" +
		"2026X002 ;\"Larkfield Tessel\";5\" pot;2026-05-04;;void;\"old; frost\"\n" +
		"2026X003;A;B;;;void;frost;;\n"
	dir := newRegistry(t, map[string]string{"crosses.csv": before})
	err := Change(dir, Options{}, func(r *Registry) error {
		for n := 1; n <= 3; n++ {
			if err := r.Void(ids.ID{Year: 2026, Cross: n}, "frost"); err != nil {
				return err
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	if got := readFile(t, dir, "crosses.csv"); got != after {
		t.Errorf("%q\nwant\n%q", got, after)
	}
}

func TestRowsAreNumberedAsSpreadsheetsDo(t *testing.T) {
	dir := newRegistry(t, map[string]string{"crosses.csv": "sep=;\nid;seed_parent;pollen_parent;pollinated;flowers;state;notes\n\n" +
		"2026X001;A;\"B\n\nC\";;;;\n;;;;;;\n2026X002;A;B;;many;;\n"})
	r, err := Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	want := `crosses.csv row 5, column flowers: "many" is not a whole number; write digits only, or leave the cell empty`
	if got := r.Damage(); len(got) != 1 || got[0].String() != want {
		t.Errorf("%v\nwant %s", got, want)
	}
}

func TestFilesThatCannotBeRead(t *testing.T) {
	const header = "id,seed_parent,pollen_parent,pollinated,flowers,state,notes\n"
	for _, c := range []struct{ text, want string }{
		{"", `it is empty; put it back from a copy, or write the header id,seed_parent,pollen_parent,pollinated,flowers,state,notes`},
		{"\ufeff\r\n", `it is empty; put it back from a copy, or write the header id,seed_parent,pollen_parent,pollinated,flowers,state,notes`},
		{"\xff\xfei\x00d\x00", `it is written as UTF-16; save it again as "CSV UTF-8"`},
		{"i\x00d\x00,\x00", `it holds zero bytes, so it is not plain text; save it again as "CSV UTF-8"`},
		{"PK\x03\x04rest", `it is a spreadsheet program's own file, not CSV; save it again as "CSV UTF-8"`},
		{header + "2026X001,H\xe4rm\xe4,B,,,,\n", `line 2 is not UTF-8 text, at "2026X001,H\xe4"; save it again as "CSV UTF-8"`},
		{"sep=\n" + header, `row 1 is not its header; write the header id,seed_parent,pollen_parent,pollinated,flowers,state,notes into row 1`},
		{"sep=\"\n" + header, `row 1 is not its header; write the header id,seed_parent,pollen_parent,pollinated,flowers,state,notes into row 1`},
		{"sep=;\n" + header, `row 1 is not its header; write the header id,seed_parent,pollen_parent,pollinated,flowers,state,notes into row 1`},
		{"2026X001,A,B,,,,\n", `row 1 is not its header; write the header id,seed_parent,pollen_parent,pollinated,flowers,state,notes into row 1`},
		{"id;seed_parent,pollen_parent;pollinated,flowers\n", `row 1 is not its header; write the header id,seed_parent,pollen_parent,pollinated,flowers,state,notes into row 1`},
		{"id,seed_parent,pollen_parent,pollinated,flowers,notes\n", `the column "state" is missing; add "state" to row 1`},
		{strings.Replace(header, "notes", "notes,ID", 1), `the column "id" is there twice; give one of the two another name in row 1`},
		{header + "2026X001,A,\"B,,,,\n2026X002,A,B,,,,\n", `row 2, column pollen_parent: "\"B,,,,\n2026X002,A,B,,,,\n" has no closing quote; close the quote, or take it away`},
		{header + "2026X001,A,\"B\"\"", `row 2, column pollen_parent: "\"B\"\"" has no closing quote; close the quote, or take it away`},
		{header + "2026X001,A,B,,,,\n2026X002,\"A\" x,B,,,,\n", `row 3, column seed_parent: "\"A\" x" goes on after its closing quote; write quotes inside the cell twice, as in "5"" pot"`},
		{header + "2026X001,A,B,,,,,,\"z\n", `row 2, cell 9: "\"z\n" has no closing quote; close the quote, or take it away`},
	} {
		dir := newRegistry(t, map[string]string{"crosses.csv": c.text})
		_, err := Open(dir)
		want := filepath.Join(dir, "crosses.csv") + ": " + c.want
		if _, ok := err.(*AccessError); !ok || err.Error() != want {
			t.Errorf("%q:\n%v\nwant\n%s", c.text, err, want)
		}
	}
}

// scanAll reads a table's cells without its header.
func scanAll(text string, delimiter byte) ([][]string, error) {
	f := &csvFile{text: text, lineBreak: '\n', delimiter: delimiter}
	var rows [][]string
	for pos := 0; pos < len(text); {
		cells, _, next, bad := f.scan(delimiter, pos, nil)
		if bad != nil {
			return nil, fmt.Errorf("%s", bad.what)
		}
		var row []string
		for _, c := range cells {
			row = append(row, strings.ReplaceAll(f.value(c), "\r\n", "\n")) // as encoding/csv reads it
		}
		if len(row) > 1 || row[0] != "" || cells[0].quoted {
			rows = append(rows, row)
		}
		pos = next
	}
	return rows, nil
}

// Random tables as encoding/csv writes them are read as encoding/csv reads
// them (RFC 4180).
func TestScanAgreesWithEncodingCSV(t *testing.T) {
	random := rand.New(rand.NewPCG(4, 180))
	pieces := []string{"a", "Härmä", "2026X001", " ", "\"", "\"\"", ",", ";", "\t", "\n", "\r\n", "=", "", "", "-2 °C"}
	for range 3000 {
		var b strings.Builder
		w := csv.NewWriter(&b)
		w.UseCRLF = random.IntN(2) == 0
		w.Comma = []rune{',', ';', '\t'}[random.IntN(3)]
		columns := 1 + random.IntN(5)
		for range random.IntN(6) {
			row := make([]string, columns)
			for i := range row {
				for range random.IntN(4) {
					row[i] += pieces[random.IntN(len(pieces))]
				}
			}
			if err := w.Write(row); err != nil {
				t.Fatal(err)
			}
		}
		w.Flush()
		compareWithLibrary(t, strings.TrimSuffix(b.String(), strings.Repeat("\n", random.IntN(2))), byte(w.Comma))
	}
}

// Quotes inside unquoted cells are text, as encoding/csv reads them with
// LazyQuotes.
func TestScanAgreesOnBareQuotes(t *testing.T) {
	for _, text := range []string{"5\" pot,b\n", "a,5\" pot\r\n", "a b\"c\"d\"\n", "x\"\n\"y\"\"z\",\"\"\n", " \"a\",b", "a,\"b\"\r", "\"\"\n", "a\r,b\n", "a\rb,c\r\r\n"} {
		compareWithLibrary(t, text, ',')
	}
}

func compareWithLibrary(t *testing.T, text string, delimiter byte) {
	t.Helper()
	lib := csv.NewReader(strings.NewReader(text))
	lib.Comma, lib.LazyQuotes, lib.FieldsPerRecord = rune(delimiter), true, -1
	want, err := lib.ReadAll()
	if err != nil {
		t.Fatalf("%q: %v", text, err)
	}
	got, err := scanAll(text, delimiter)
	if err != nil || !slices.EqualFunc(got, want, slices.Equal) {
		t.Errorf("%q is read as\n%q, %v\nwant\n%q", text, got, err, want)
	}
}

// Whatever the file, reading it does not panic, saving it unchanged changes
// nothing, and a changed cell reads back with all others as they were.
func FuzzTable(f *testing.F) {
	const header = "id,seed_parent,pollen_parent,pollinated,flowers,state,notes"
	for _, s := range []string{"\n2026X001,A,B,2026-05-04,3,,x\n", "\r\n\r\n2026x1,\"A \"\"B\"\"\n\",5\" pot", ",extra\n,,,,,,,,,\n1,2", "\r2026X001,A,B\r"} {
		f.Add(header+s, "notes")
		f.Add("sep=;\n"+strings.ReplaceAll(header+s, ",", ";"), "a;b\"c\n ")
		f.Add(bom+strings.ReplaceAll(header+s, ",", "\t"), "")
	}
	f.Fuzz(func(t *testing.T, text, value string) {
		table := newTables().crosses
		if err := table.load("crosses.csv", text); err != nil {
			return
		}
		if table.render() != text {
			t.Fatal("saving changes what was not changed")
		}
		before := cellsOf(table.csvFile)
		if len(before) == 0 || !validText(value) {
			return
		}
		row, position := len(before)/2, table.position[len(value)%len(table.position)]
		if position >= table.width && len(before[row]) > table.width {
			return // a save is refused: the cell would seem to belong to the new column
		}
		table.set(row, position, value)
		position = slices.Index(table.written(), position) // of late columns, only those in use are added
		saved := table.render()
		again := newTables().crosses
		if err := again.load("crosses.csv", saved); err != nil {
			t.Fatalf("%q was saved as %q: %v", text, saved, err)
		}
		for len(before[row]) <= position {
			before[row] = append(before[row], "")
		}
		before[row][position] = value
		after := cellsOf(again.csvFile)
		if strings.TrimSpace(strings.Join(before[row], "")) == "" {
			return // now a blank row, which is none
		}
		if !slices.EqualFunc(before, after, slices.Equal) {
			t.Fatalf("%q was saved as %q:\n%q\nwant\n%q", text, saved, after, before)
		}
	})
}

// validText reports whether a text may be written to a cell: a file that has no
// LF keeps none.
func validText(s string) bool {
	return strings.ToValidUTF8(s, "") == s && !strings.ContainsAny(s, "\x00\n\r")
}

func cellsOf(f *csvFile) [][]string {
	var rows [][]string
	for _, s := range f.rows {
		cells, _, _, _ := f.scan(f.delimiter, int(s.start), nil)
		var row []string
		for _, c := range cells {
			row = append(row, f.value(c))
		}
		rows = append(rows, row)
	}
	return rows
}
