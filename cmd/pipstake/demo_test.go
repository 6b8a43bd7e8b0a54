package main

import (
	"bytes"
	"image"
	"image/png"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"pipstake/ids/registry"
	"pipstake/label"
	"pipstake/label/symbol"
	"pipstake/layout"
	"pipstake/layout/proof"
)

// demoIn makes the made-up season and gives its registry.
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

// cell is one printed label, the texts of its codes and its picture.
type cell struct {
	label   registry.Label
	texts   []string // sorted
	picture image.Image
}

// cellsOf cuts the pages of a batch into its labels, of a bag label the code
// with its quiet zone; page gives the picture of
// a page, from 1, at dpi.
func cellsOf(t *testing.T, r *registry.Registry, batch, dpi int, page func(n int) image.Image) []cell {
	t.Helper()
	var cells []cell
	pages := map[int]image.Image{}
	first := 0
	for _, l := range r.Labels() {
		if l.Batch != batch {
			continue
		}
		if first == 0 {
			first = l.Sheet
		}
		n := l.Sheet - first + 1
		if pages[n] == nil {
			pages[n] = page(n)
		}
		stock, err := layout.FindStock(l.Stock)
		if err != nil {
			t.Fatal(err)
		}
		d, err := drawing(r, tagFor(l), stock.Room(defaultDPI))
		if err != nil {
			t.Fatal(err)
		}
		var texts []string
		for _, c := range d.Codes {
			texts = append(texts, c.Symbol.Payload)
		}
		slices.Sort(texts)
		at := stock.Cell(l.Cell)
		if l.Face == registry.BagFace { // dmtxread and ZXingReader look for a Data Matrix near the middle
			code := d.Codes[0].Outer()
			at = label.Rect{X: at.X + code.X, Y: at.Y + code.Y, W: code.W, H: code.H}
		}
		part := pages[n].(interface {
			SubImage(image.Rectangle) image.Image
		}).SubImage(proof.Region(at, dpi))
		cells = append(cells, cell{l, texts, part})
	}
	if len(cells) == 0 {
		t.Fatalf("batch %d has no labels", batch)
	}
	return cells
}

// demoSheets are the sheets of the demo, one batch each, by number.
var demoSheets = []string{demoBags, demoStakes, demoAgain}

// Every code on every page of the demo reads at 300 dpi, rasterised by PDFium
// and decoded by gozxing, neither of which shares code with what drew them.
func TestDemoSheetsRead(t *testing.T) {
	dir := t.TempDir()
	r := demoIn(t, dir)
	const dpi = 300
	expected, read := 0, 0
	for i, sheet := range demoSheets {
		pdf, err := os.ReadFile(filepath.Join(dir, "orchard", sheet))
		if err != nil {
			t.Fatal(err)
		}
		doc, err := proof.Open(pdf)
		if err != nil {
			t.Fatal(err)
		}
		defer doc.Close()
		for _, c := range cellsOf(t, r, i+1, dpi, func(n int) image.Image {
			img, err := doc.Render(n, dpi)
			if err != nil {
				t.Fatal(err)
			}
			return img
		}) {
			want, got := c.texts, proof.Decode(c.picture, c.picture.Bounds())
			slices.Sort(got)
			expected, read = expected+len(want), read+len(got)
			if !slices.Equal(got, want) {
				t.Errorf("%s, sheet %d, cell %d: read %q, want %q", sheet, c.label.Sheet, c.label.Cell, got, want)
			}
		}
	}
	if expected != 40+2*121 || read != expected {
		t.Errorf("%d codes expected, %d read; the season has 40 bags and 121 stakes", expected, read)
	}
}

// reader is a program that decodes pictures, and how it is asked.
type reader struct {
	program string
	kind    symbol.Kind
	args    []string
	several bool // takes several pictures at once, of which it tells one line a code
}

// Every code of every demo page, and bag labels so small that they carry a Data
// Matrix, read at 300 dpi with each program that knows the code, from poppler's
// raster of the page.
func TestDemoSheetsReadElsewhere(t *testing.T) {
	needPrograms(t, "pdftoppm", "zbarimg", "ZXingReader", "dmtxread")
	dir := t.TempDir()
	r := demoIn(t, dir)
	orchard := filepath.Join(dir, "orchard")
	runs(t, orchard, "labels", "2025X001-A", "2025X003-B", "2025X005-C", "--replace", "--stock", "letter-3x10-66.7x25.4", "--out", "sheets/small.pdf")
	small, err := registry.Open(orchard)
	if err != nil {
		t.Fatal(err)
	}
	sheets := []struct {
		file  string
		batch int
		r     *registry.Registry
		kind  symbol.Kind
	}{{demoBags, 1, r, symbol.QR}, {demoStakes, 2, r, symbol.QR}, {demoAgain, 3, r, symbol.QR}, {"sheets/small.pdf", 4, small, symbol.DataMatrix}}
	for _, s := range sheets {
		pictures, want := popplerCells(t, s.r, s.batch, filepath.Join(orchard, s.file))
		for _, by := range []reader{
			{"zbarimg", symbol.QR, []string{"-q", "--raw", "-Sdisable", "-Sqrcode.enable"}, true},
			{"ZXingReader", symbol.QR, []string{"-1", "-format", "QRCode"}, true},
			{"ZXingReader", symbol.DataMatrix, []string{"-1", "-format", "DataMatrix"}, true},
			{"dmtxread", symbol.DataMatrix, []string{"-n", "-N1", "-m5000"}, false},
		} {
			if by.kind != s.kind {
				continue
			}
			got := by.read(t, pictures)
			slices.Sort(got)
			if !slices.Equal(got, want) {
				t.Errorf("%s of %s: %d codes read, %d expected; missing %q", by.program, s.file, len(got), len(want), without(want, got))
			}
		}
	}
}

// popplerCells writes a picture of each label of a batch and gives the texts of
// all codes, sorted.
func popplerCells(t *testing.T, r *registry.Registry, batch int, pdf string) (pictures, want []string) {
	t.Helper()
	const dpi = 300
	dir := t.TempDir()
	if out, err := exec.Command("pdftoppm", "-r", "300", "-gray", "-png", pdf, filepath.Join(dir, "page")).CombinedOutput(); err != nil {
		t.Fatalf("pdftoppm: %v\n%s", err, out)
	}
	files, err := filepath.Glob(filepath.Join(dir, "page-*.png"))
	if err != nil || len(files) == 0 {
		t.Fatalf("pdftoppm made no page: %v", err)
	}
	slices.Sort(files)
	for i, c := range cellsOf(t, r, batch, dpi, func(n int) image.Image { return readPNG(t, files[n-1]) }) {
		want = append(want, c.texts...)
		name := filepath.Join(dir, strings.Repeat("c", 1+i/100)+string(rune('0'+i/10%10))+string(rune('0'+i%10))+".png")
		var b bytes.Buffer
		if err := png.Encode(&b, c.picture); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(name, b.Bytes(), 0o644); err != nil {
			t.Fatal(err)
		}
		pictures = append(pictures, name)
	}
	slices.Sort(want)
	return pictures, want
}

func readPNG(t *testing.T, file string) image.Image {
	t.Helper()
	f, err := os.Open(file)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	img, err := png.Decode(f)
	if err != nil {
		t.Fatal(err)
	}
	return img
}

// read gives the texts of all codes in pictures.
func (by reader) read(t *testing.T, pictures []string) []string {
	t.Helper()
	groups := [][]string{pictures}
	if !by.several {
		groups = nil
		for _, p := range pictures {
			groups = append(groups, []string{p})
		}
	}
	var texts []string
	for _, g := range groups {
		out, err := exec.Command(by.program, append(slices.Clone(by.args), g...)...).Output()
		if err != nil && len(out) == 0 {
			t.Errorf("%s: %v", by.program, err)
		}
		for line := range strings.Lines(string(out)) {
			line = strings.TrimSpace(line)
			if _, quoted, ok := strings.Cut(line, ` "`); ok { // ZXingReader: file, kind and "text"
				line = strings.TrimSuffix(quoted, `"`)
			}
			if line != "" {
				texts = append(texts, line)
			}
		}
	}
	return texts
}

// without gives the texts of all that are not in some.
func without(all, some []string) []string {
	var rest []string
	for _, s := range all {
		if !slices.Contains(some, s) {
			rest = append(rest, s)
		}
	}
	return rest
}

// needPrograms skips a test where a program is absent; with CI=true it must be
// there.
func needPrograms(t *testing.T, names ...string) {
	t.Helper()
	for _, name := range names {
		if _, err := exec.LookPath(name); err != nil {
			if os.Getenv("CI") == "true" {
				t.Fatalf("%s is not installed", name)
			}
			t.Skipf("%s is not installed", name)
		}
	}
}

// The same season gives the same bytes, and check finds the two slips and no
// more.
func TestDemoIsTheSameEachTime(t *testing.T) {
	one, two := t.TempDir(), t.TempDir()
	r := demoIn(t, one)
	demoIn(t, two)
	names := append([]string{"crosses.csv", "lots.csv", "pots.csv", "emergence.csv", "labels.csv"}, demoSheets...)
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
