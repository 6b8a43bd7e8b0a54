package main

import (
	"fmt"
	"image"
	"image/png"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"pipstake/ids/registry"
	"pipstake/label"
	"pipstake/label/reading"
	"pipstake/label/symbol"
	"pipstake/layout"
	"pipstake/layout/proof"
	"pipstake/layout/proof/outside"
)

// printedCode is one code on a printed label.
type printedCode struct {
	label   registry.Label
	choice  symbol.Choice
	picture *image.Gray // with its quiet zone
}

// printedCodes cuts the codes of a batch, laid out for a printer of printer dpi, out
// of its pages; page gives the picture of a page, from 1, at raster dpi.
func printedCodes(t *testing.T, r *registry.Registry, batch, printer, raster int, page func(n int) *image.Gray) []printedCode {
	t.Helper()
	var codes []printedCode
	pages := map[int]*image.Gray{}
	first := 0
	var all []registry.Label
	var faces []label.Face
	for _, l := range r.Labels() {
		if l.Batch != batch {
			continue
		}
		f, err := (&printRun{}).faceOf(r, reading.KeyOf(l))
		if err != nil {
			t.Fatal(err)
		}
		all, faces = append(all, l), append(faces, f)
	}
	var drawn []*label.Drawing // the labels of a batch are fitted together
	for i, l := range all {
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
		if drawn == nil {
			if drawn, err = label.Fit(faces, stock.Room(printer)); err != nil {
				t.Fatal(err)
			}
		}
		d := drawn[i]
		for _, c := range d.Codes {
			part := pages[n].SubImage(proof.Region(onPage(stock, l.Cell, c.Outer()), raster))
			codes = append(codes, printedCode{l, c.Symbol.Choice, part.(*image.Gray)})
		}
	}
	if len(codes) == 0 {
		t.Fatalf("batch %d has no codes", batch)
	}
	return codes
}

// onPage is a part of a label as it lies on the page.
func onPage(s layout.Stock, cell int, part label.Rect) label.Rect {
	at, _ := s.OnPage(cell, part)
	return at
}

// readers are the programs that decode pictures, and how they are asked. Each
// prints a line a code.
var readers = []struct {
	program string
	kind    symbol.Kind
	args    []string
	most    int // pictures at once
}{
	{"zbarimg", symbol.QR, []string{"-q", "--raw", "-Sdisable", "-Sqrcode.enable"}, 500},
	{"ZXingReader", symbol.QR, []string{"-1", "-format", "QRCode"}, 500},
	{"ZXingReader", symbol.DataMatrix, []string{"-1", "-format", "DataMatrix"}, 500},
	{"dmtxread", symbol.DataMatrix, []string{"-n", "-N1", "-m5000"}, 1},
}

var readerPrograms = []string{"pdftoppm", "zbarimg", "ZXingReader", "dmtxread"}

// readElsewhere rasterises the pages of a batch with poppler at raster dpi,
// asserts that each program reads every code of the kind that it knows, and
// counts the codes of each kind.
func readElsewhere(t *testing.T, r *registry.Registry, batch, printer, raster int, pdf string) map[symbol.Kind]int {
	t.Helper()
	dir := t.TempDir()
	if out, err := outside.Command("pdftoppm", "-r", fmt.Sprint(raster), "-gray", pdf, filepath.Join(dir, "page")).CombinedOutput(); err != nil {
		t.Fatalf("pdftoppm: %v\n%s", err, out)
	}
	pages, err := filepath.Glob(filepath.Join(dir, "page-*.pgm"))
	if err != nil || len(pages) == 0 {
		t.Fatalf("pdftoppm made no page: %v", err)
	}
	slices.Sort(pages)
	pictures, texts := map[symbol.Kind][]string{}, map[symbol.Kind][]string{}
	for i, c := range printedCodes(t, r, batch, printer, raster, func(n int) *image.Gray { return readGray(t, pages[n-1]) }) {
		name := filepath.Join(dir, fmt.Sprintf("code-%03d.pgm", i))
		if err := outside.WriteGray(name, c.picture); err != nil {
			t.Fatal(err)
		}
		kind := c.choice.Kind
		pictures[kind], texts[kind] = append(pictures[kind], name), append(texts[kind], c.choice.Payload)
	}
	counts := map[symbol.Kind]int{}
	for kind, want := range texts {
		counts[kind] = len(want)
		slices.Sort(want)
		for _, by := range readers {
			if by.kind != kind {
				continue
			}
			var got []string
			for some := range slices.Chunk(pictures[kind], by.most) {
				got = append(got, readWith(t, by.program, append(slices.Clone(by.args), some...))...)
			}
			slices.Sort(got)
			if !slices.Equal(got, want) {
				t.Errorf("%s of %s at %d dpi: %d codes read, %d expected; read %q, want %q", by.program, filepath.Base(pdf), raster, len(got), len(want), got, want)
			}
		}
	}
	return counts
}

// readWith returns the texts of all codes that a program finds.
func readWith(t *testing.T, program string, args []string) []string {
	t.Helper()
	out, err := outside.Command(program, args...).Output()
	if err != nil && len(out) == 0 {
		t.Errorf("%s: %v", program, err)
	}
	var texts []string
	for line := range strings.Lines(string(out)) {
		line = strings.TrimSpace(line)
		if _, quoted, ok := strings.Cut(line, ` "`); ok { // ZXingReader: file, kind and "text"
			line = strings.TrimSuffix(quoted, `"`)
		}
		if line != "" {
			texts = append(texts, line)
		}
	}
	return texts
}

func readGray(t *testing.T, file string) *image.Gray {
	t.Helper()
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	img, err := outside.ReadGray(data)
	if err != nil {
		t.Fatal(err)
	}
	return img
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

// needPrograms asks for several programs; see program.
func needPrograms(t *testing.T, names ...string) {
	t.Helper()
	for _, name := range names {
		program(t, name)
	}
}

// program returns the path of a program that a test compares with. Where it is
// not installed the test is skipped, but on the machine that checks all it has
// to be there.
func program(t *testing.T, name string) string {
	t.Helper()
	path, err := exec.LookPath(name)
	if err != nil {
		if os.Getenv("CI") == "true" {
			t.Fatalf("%s is not installed", name)
		}
		t.Skipf("%s is not installed", name)
	}
	return path
}
