package main

import (
	"bytes"
	"image"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"pipstake/ids/registry"
	"pipstake/label/reading"
	"pipstake/label/symbol"
	"pipstake/layout/proof"
)

// demoIn makes the made-up season and returns its registry.
func demoIn(t *testing.T, dir string) *registry.Registry {
	t.Helper()
	runs(t, dir, "demo", "--out", "orchard")
	r, err := registry.Open(filepath.Join(dir, "orchard"))
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// runs runs a command in dir, which must succeed.
func runs(t *testing.T, dir string, args ...string) {
	t.Helper()
	var said bytes.Buffer
	e := &env{args: args, stdin: strings.NewReader(""), stdout: io.Discard, stderr: &said, getenv: func(string) string { return "" },
		cwd: dir, now: func() time.Time { return time.Date(2026, 3, 14, 12, 0, 0, 0, time.UTC) }}
	if got := execute(e); got != fine {
		t.Fatalf("pipstake %s: status %d\n%s", strings.Join(args, " "), got, said.Bytes())
	}
}

// demoSheets are the sheets of the demo, one batch each, by number.
var demoSheets = []string{demoBags, demoStakes, demoAgain, demoPlants}

// Every code on every page of the demo reads at 300 dpi, rasterised by PDFium
// and decoded by gozxing, neither of which shares code with what drew them.
func TestDemoSheetsRead(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	r := demoIn(t, dir)
	const dpi = 300
	expected, read, want := 0, 0, 40+2*121+6
	for i, sheet := range demoSheets {
		if i > 0 && testing.Short() {
			want = 40
			break
		}
		pdf, err := os.ReadFile(filepath.Join(dir, "orchard", sheet))
		if err != nil {
			t.Fatal(err)
		}
		doc, err := proof.Open(pdf)
		if err != nil {
			t.Fatal(err)
		}
		defer doc.Close()
		for _, c := range printedCodes(t, r, i+1, defaultDPI, dpi, func(n int) *image.Gray {
			img, err := doc.Render(n, dpi)
			if err != nil {
				t.Fatal(err)
			}
			return img
		}) {
			got := proof.Decode(c.picture, c.picture.Bounds())
			expected++
			if len(got) == 1 && got[0] == c.choice.Payload {
				read++
			} else {
				t.Errorf("%s, %s: read %q, want %q", sheet, reading.KeyOf(c.label), got, c.choice.Payload)
			}
		}
	}
	if expected != want || read != expected {
		t.Errorf("%d codes expected, %d read; the season has 40 bags, 121 stakes and 6 labels of seedlings", expected, read)
	}
}

// Every code of every demo page, and of bag labels so small that they carry a
// Data Matrix, reads at 300 dpi with each program that knows the code, from
// poppler's raster of the page.
func TestDemoSheetsReadElsewhere(t *testing.T) {
	t.Parallel()
	if testing.Short() {
		t.Skip("takes long")
	}
	needPrograms(t, readerPrograms...)
	dir := t.TempDir()
	r := demoIn(t, dir)
	orchard := filepath.Join(dir, "orchard")
	for i, sheet := range demoSheets {
		readElsewhere(t, r, i+1, defaultDPI, 300, filepath.Join(orchard, sheet))
	}
	runs(t, orchard, "labels", "2025X001-A", "2025X003-B", "2025X005-C", "--replace", "--stock", "letter-3x10-66.7x25.4", "--out", "sheets/small.pdf")
	r, err := registry.Open(orchard)
	if err != nil {
		t.Fatal(err)
	}
	kinds := readElsewhere(t, r, 5, defaultDPI, 300, filepath.Join(orchard, "sheets/small.pdf"))
	if kinds[symbol.DataMatrix] != 3 {
		t.Errorf("the small labels carry %v, not three Data Matrix codes", kinds)
	}
}

// Each face on the stock it is printed on by default reads at the resolution of
// each kind of printer, with all programs.
func TestDefaultsReadAtEveryResolution(t *testing.T) {
	t.Parallel()
	if testing.Short() {
		t.Skip("takes long")
	}
	needPrograms(t, readerPrograms...)
	dir := t.TempDir()
	demoIn(t, dir)
	orchard := filepath.Join(dir, "orchard")
	runs(t, orchard, "tags", "2025X001", "2025X003")
	runs(t, orchard, "prick", "2025X001-A1", "2025X005-B1", "--on", "2026-03-12")
	for _, dpi := range []string{"203", "300", "600"} {
		for _, face := range []struct {
			name string
			ids  []string
		}{
			{"bag", []string{"2025X001-A", "2025X003-B"}}, {"stake", []string{"2025X001-A1", "2025X003-B2"}},
			{"seedling", []string{"2025X001-A1-A", "2025X005-B1-A"}}, {"branch", []string{"2025X001", "2025X003"}},
		} {
			out := face.name + dpi + ".pdf"
			runs(t, orchard, append([]string{"labels", "--face", face.name, "--replace", "--dpi", dpi, "--fresh", "--out", out}, face.ids...)...)
			r, err := registry.Open(orchard)
			if err != nil {
				t.Fatal(err)
			}
			labels := r.Labels()
			n, err := strconv.Atoi(dpi)
			if err != nil {
				t.Fatal(err)
			}
			readElsewhere(t, r, labels[len(labels)-1].Batch, n, n, filepath.Join(orchard, out))
		}
	}
}

// The same season gives the same bytes, and check finds the two slips and no
// more.
func TestDemoIsTheSameEachTime(t *testing.T) {
	t.Parallel()
	one, two := t.TempDir(), t.TempDir()
	r := demoIn(t, one)
	demoIn(t, two)
	names := append([]string{"crosses.csv", "lots.csv", "pots.csv", "seedlings.csv", "emergence.csv", "labels.csv", "varieties.csv", "diary.csv"}, demoSheets...)
	for _, name := range names {
		a, err := os.ReadFile(filepath.Join(one, "orchard", name))
		if err != nil {
			t.Fatal(err)
		}
		b, err := os.ReadFile(filepath.Join(two, "orchard", name))
		if err != nil {
			t.Fatal(err)
		}
		if !bytes.Equal(a, b) {
			t.Errorf("%s differs between two runs", name)
		}
	}
	var files []string
	for _, f := range append(r.Check(), staleLabels(r)...) {
		files = append(files, f.File)
	}
	slices.Sort(files)
	if !slices.Equal(files, []string{"labels.csv", "pots.csv"}) {
		t.Errorf("check finds %v, want a duplicate in labels.csv and a missing stake in pots.csv", files)
	}
}
