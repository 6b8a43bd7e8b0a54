package main

import (
	"bytes"
	"encoding/csv"
	"fmt"
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

// semicolons is how a German spreadsheet writes CSV, but in UTF-8.
const semicolons = "csv:Text - txt - csv (StarCalc):59,34,76,1,,1031,false,true"

var trips = []trip{
	{"a double click, ods", "", "ods", "csv", ","},
	{"a double click, xlsx", "", "xlsx", "csv", ","},
	{"German, looking for dates", "CSV:44,34,76,1,,1031,false,true", "xlsx", semicolons, ";"},
	{"American, looking for dates", "CSV:44,34,76,1,,1033,false,true", "ods", semicolons, ";"},
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
	office := program(t, "soffice")
	home := demoWithFormulas(t)
	before, findings := cellsOf(t, home), checked(t, home)
	all := t.TempDir() // each trip's files bear its number, since what is written alike comes back at one start
	t.Run("out", func(t *testing.T) {
		for i, trip := range trips {
			t.Run(trip.name, func(t *testing.T) {
				t.Parallel()
				sheets := t.TempDir()
				var reading []string
				if trip.read != "" {
					reading = []string{"--infilter=" + trip.read}
				}
				convert(t, office, filesOf(t, home, "*.csv"), trip.via, sheets, reading...)
				for _, file := range filesOf(t, sheets, "*."+trip.via) {
					if err := os.Rename(file, filepath.Join(all, fmt.Sprintf("%d-%s", i, filepath.Base(file)))); err != nil {
						t.Fatal(err)
					}
				}
			})
		}
	})
	back := t.TempDir()
	t.Run("back", func(t *testing.T) {
		together := map[string][]string{}
		for i, trip := range trips {
			together[trip.write] = append(together[trip.write], filesOf(t, all, fmt.Sprintf("%d-*", i))...)
		}
		for write, files := range together {
			t.Run(write, func(t *testing.T) {
				t.Parallel()
				convert(t, office, files, write, back)
			})
		}
	})
	for i, trip := range trips {
		t.Run(trip.name, func(t *testing.T) {
			dir := t.TempDir()
			for _, file := range filesOf(t, back, fmt.Sprintf("%d-*.csv", i)) {
				if err := os.Rename(file, filepath.Join(dir, strings.TrimPrefix(filepath.Base(file), fmt.Sprintf("%d-", i)))); err != nil {
					t.Fatal(err)
				}
			}
			after := cellsOf(t, dir)
			for name, rows := range before {
				if !strings.Contains(readText(t, filepath.Join(dir, name)), trip.between) {
					t.Errorf("%s did not come back with %q between its cells", name, trip.between)
				}
				for i, row := range rows {
					if i >= len(after[name]) || strings.Join(after[name][i], "|") != strings.Join(row, "|") {
						t.Fatalf("%s row %d came back otherwise than as %q: %q", name, i+1, row, after[name][min(i, len(after[name])-1)])
					}
				}
			}
			if got := checked(t, dir); got != findings {
				t.Errorf("check finds\n%s\nand found\n%s", got, findings)
			}
			if _, err := os.Stat(filepath.Join(dir, "history.csv")); err != nil {
				t.Error(err)
			}
		})
	}
}

// filesOf are the files of a folder that match a pattern, at least six of a
// registry.
func filesOf(t *testing.T, dir, pattern string) []string {
	t.Helper()
	files, err := filepath.Glob(filepath.Join(dir, pattern))
	if err != nil || len(files) < 6 {
		t.Fatalf("%d files %s in %s, %v", len(files), pattern, dir, err)
	}
	return files
}

// convert has files written by LibreOffice as others, by one start of it.
func convert(t *testing.T, office string, files []string, to, dir string, extra ...string) {
	t.Helper()
	profile := "-env:UserInstallation=file://" + filepath.ToSlash(t.TempDir())
	args := append(append([]string{profile, "--headless"}, extra...), "--convert-to", to, "--outdir", dir)
	if out, err := outside.Command(office, append(args, files...)...).CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, out)
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
