package main

import (
	"bytes"
	"fmt"
	"image/png"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"testing"
	"time"

	"pipstake/label/symbol"
	"pipstake/layout"
	"pipstake/layout/proof"
)

// Every face on every stock that it goes on, at each resolution on the built-in
// stocks and at one of them on others: all codes of the page are read by gozxing, and
// cut out of it by those programs that are installed.
func TestEveryFaceOnEveryStockIsRead(t *testing.T) {
	t.Parallel()
	if testing.Short() {
		t.Skip("takes long")
	}
	pictures, texts := map[symbol.Kind][]string{}, map[symbol.Kind][]string{}
	dir := t.TempDir()
	for i, name := range manyStocks {
		s, err := layout.FindStock(name)
		if err != nil {
			t.Fatal(err)
		}
		dpis := []int{203, 300, 600}
		if i >= len(layout.Stocks()) {
			dpis = dpis[i%3 : i%3+1]
		}
		for _, dpi := range dpis {
			job := sampleJob(t, s, dpi)
			for j, c := range codesOfJob(t, job, dpi) {
				if c.read != c.text {
					t.Errorf("%s at %d dpi, page %d, cell %d: read %q, want %q", name, dpi, c.page, c.cell, c.read, c.text)
				}
				file := filepath.Join(dir, fmt.Sprintf("%s-%d-%d.png", name, dpi, j))
				if err := os.WriteFile(file, c.picture, 0o644); err != nil {
					t.Fatal(err)
				}
				pictures[c.kind], texts[c.kind] = append(pictures[c.kind], file), append(texts[c.kind], c.text)
			}
		}
	}
	t.Logf("%d QR codes and %d Data Matrix codes", len(texts[symbol.QR]), len(texts[symbol.DataMatrix]))
	if len(texts[symbol.QR]) < 10 || len(texts[symbol.DataMatrix]) == 0 {
		t.Error("too few codes to prove anything")
	}
	for _, by := range readers {
		t.Run(by.program+strconv.Itoa(int(by.kind)), func(t *testing.T) {
			program(t, by.program)
			var got []string
			for some := range slices.Chunk(pictures[by.kind], by.most) {
				got = append(got, readWith(t, by.program, append(slices.Clone(by.args), some...))...)
			}
			want := slices.Sorted(slices.Values(texts[by.kind]))
			slices.Sort(got)
			if !slices.Equal(got, want) {
				t.Errorf("%d codes read, %d expected", len(got), len(want))
			}
		})
	}
}

// sampleJob is a document with all samples that go on a stock.
func sampleJob(t *testing.T, s layout.Stock, dpi int) layout.Job {
	t.Helper()
	shown := (&printRun{dpi: dpi}).samplesOn(s, "")
	job := layout.Job{Stock: shown.stock, Title: "T", Created: time.Date(2027, 1, 14, 12, 0, 0, 0, time.UTC)}
	for i, d := range shown.drawn {
		job.Places = append(job.Places, layout.Place{Page: i/s.PerSheet() + 1, Cell: i%s.PerSheet() + 1, Drawing: d})
	}
	return job
}

// seenCode is a code cut out of a page, with its quiet zone.
type seenCode struct {
	page, cell int
	kind       symbol.Kind
	text, read string // what it says, and what was read
	picture    []byte // PNG
}

// codesOfJob prints a job and cuts its codes out; none where it has no label.
func codesOfJob(t *testing.T, job layout.Job, dpi int) []seenCode {
	t.Helper()
	if len(job.Places) == 0 {
		return nil
	}
	var pdf bytes.Buffer
	if err := layout.WritePDF(&pdf, job); err != nil {
		t.Fatal(err)
	}
	doc, err := proof.Open(pdf.Bytes())
	if err != nil {
		t.Fatal(err)
	}
	defer doc.Close()
	var codes []seenCode
	for n := 1; n <= len(doc.Pages()); n++ {
		img, err := doc.Render(n, dpi)
		if err != nil {
			t.Fatal(err)
		}
		for _, p := range job.Places {
			if p.Page != n {
				continue
			}
			for _, c := range p.Drawing.Codes {
				at := proof.Region(onPage(job.Stock, p.Cell, c.Outer()), dpi)
				var b bytes.Buffer
				if err := png.Encode(&b, img.SubImage(at)); err != nil {
					t.Fatal(err)
				}
				seen := seenCode{page: n, cell: p.Cell, kind: c.Symbol.Kind, text: c.Symbol.Payload, picture: b.Bytes()}
				if read := proof.Decode(img, at); len(read) == 1 {
					seen.read = read[0]
				}
				codes = append(codes, seen)
			}
		}
	}
	return codes
}
