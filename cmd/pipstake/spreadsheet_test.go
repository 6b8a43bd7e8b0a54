package main

import (
	"bytes"
	"encoding/csv"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"pipstake/layout/proof/outside"
)

// trip is a way through a spreadsheet program and back.
type trip struct {
	name    string
	read    string // how the CSV file is read; see LibreOffice's help, "Filter Options for CSV"
	via     string
	write   string
	between string // the delimiter that comes back
}

// The demo's registry, with texts that a spreadsheet would run as formulas, goes
// through LibreOffice and back: read as a double click reads it, and with the
// program told to look for dates and numbers in German and in American English.
// Every cell comes back, and check finds what it found before.
func TestRoundTripThroughLibreOffice(t *testing.T) {
	t.Parallel()
	if testing.Short() {
		t.Skip("takes long")
	}
	soffice := program(t, "soffice")
	home := demoWithFormulas(t)
	before, findings := cellsOf(t, home), checked(t, home)
	const text = "csv:Text - txt - csv (StarCalc)"
	for _, trip := range []trip{
		{name: "a double click, ods", via: "ods", write: "csv", between: ","},
		{name: "a double click, xlsx", via: "xlsx", write: "csv", between: ","},
		{"German, looking for dates", "CSV:44,34,76,1,,1031,false,true", "xlsx", text + ":59,34,76,1,,1031,false,true", ";"},
		{"American, looking for dates", "CSV:44,34,76,1,,1033,false,true", "ods", text + ":44,34,76,1,,1033,false,true", ","},
	} {
		t.Run(trip.name, func(t *testing.T) {
			t.Parallel()
			work := t.TempDir()
			profile := "-env:UserInstallation=file://" + filepath.ToSlash(filepath.Join(work, "profile"))
			convert := func(from, pattern, to, dir string, extra ...string) {
				files, err := filepath.Glob(filepath.Join(from, pattern))
				if err != nil || len(files) < 6 {
					t.Fatalf("%d files in %s, %v", len(files), from, err)
				}
				args := append([]string{profile, "--headless"}, extra...)
				args = append(append(args, "--convert-to", to, "--outdir", dir), files...)
				if out, err := outside.Command(soffice, args...).CombinedOutput(); err != nil {
					t.Fatalf("%v\n%s", err, out)
				}
			}
			var reading []string
			if trip.read != "" {
				reading = append(reading, "--infilter="+trip.read)
			}
			sheets, back := filepath.Join(work, "sheets"), filepath.Join(work, "back")
			convert(home, "*.csv", trip.via, sheets, reading...)
			convert(sheets, "*."+trip.via, trip.write, back)
			after := cellsOf(t, back)
			for name, rows := range before {
				if !strings.Contains(readText(t, filepath.Join(back, name)), trip.between) {
					t.Errorf("%s did not come back with %q between its cells", name, trip.between)
				}
				for i, row := range rows {
					if i >= len(after[name]) || strings.Join(after[name][i], "|") != strings.Join(row, "|") {
						t.Fatalf("%s row %d came back otherwise than as %q: %q", name, i+1, row, after[name][min(i, len(after[name])-1)])
					}
				}
			}
			if got := checked(t, back); got != findings {
				t.Errorf("check finds\n%s\nand found\n%s", got, findings)
			}
			if _, err := os.Stat(filepath.Join(back, "history.csv")); err != nil {
				t.Error(err)
			}
		})
	}
}

// demoWithFormulas makes the demo's registry with a cross whose texts begin as
// formulas do.
func demoWithFormulas(t *testing.T) string {
	t.Helper()
	e, _, stderr := testEnv(t, "demo", "--out", "orchard")
	if got := execute(e); got != fine {
		t.Fatalf("status %d, %s", got, stderr)
	}
	dir := filepath.Join(e.cwd, "orchard")
	e, _, stderr = testEnv(t, "cross", "--registry", dir, "--note", "@home, \"north\"", "--", "-2 °C frost", "=1+1")
	if got := execute(e); got != fine {
		t.Fatalf("status %d, %s", got, stderr)
	}
	return dir
}

// checked is what check says of a registry.
func checked(t *testing.T, dir string) string {
	t.Helper()
	e, stdout, stderr := testEnv(t, "check")
	e.cwd = dir
	if got := execute(e); got != problemsSeen {
		t.Fatalf("status %d, %s", got, stderr)
	}
	return stdout.String()
}

func readText(t *testing.T, path string) string {
	t.Helper()
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return string(data)
}

// cellsOf reads the CSV files of a folder by encoding/csv.
func cellsOf(t *testing.T, dir string) map[string][][]string {
	t.Helper()
	files, err := filepath.Glob(filepath.Join(dir, "*.csv"))
	if err != nil {
		t.Fatal(err)
	}
	cells := map[string][][]string{}
	for _, path := range files {
		text := strings.TrimPrefix(readText(t, path), "\ufeff")
		r := csv.NewReader(bytes.NewReader([]byte(text)))
		if header, _, _ := strings.Cut(text, "\n"); strings.Contains(header, ";") {
			r.Comma = ';'
		}
		r.FieldsPerRecord = -1 // rows from before a column was needed are shorter
		rows, err := r.ReadAll()
		if err != nil {
			t.Fatalf("%s: %v", path, err)
		}
		for i := range rows {
			rows[i] = append(rows[i], make([]string, max(0, len(rows[0])-len(rows[i])))...)
		}
		cells[filepath.Base(path)] = rows
	}
	return cells
}
