package layout

import (
	"bytes"
	"compress/zlib"
	"fmt"
	"hash/crc32"
	"io"
	"os"
	"strings"
	"testing"

	"pipstake/ids"
	"pipstake/label"
)

const pagesFile = "testdata/pages.txt"

// TestPagesAsRecorded records what pages of every kind hold, by a sum for each:
// sheets of labels on all stocks, with backs, shifts, a part used before; test
// sheets with their ladders; bench sheets. What is recorded proves nothing by
// itself; pages were looked at, and a line that differs names the page to look
// at again. UPDATE_PAGES=1 records anew.
func TestPagesAsRecorded(t *testing.T) {
	var got strings.Builder
	record := func(name string, pdf []byte) {
		fmt.Fprintf(&got, "%s: %08x\n", name, crc32.ChecksumIEEE(unpacked(t, pdf)))
	}
	id := ids.ID{Year: 2026, Cross: 12, Lot: 2, Pot: 2}
	for i, s := range manyStocks(t) {
		job := Job{Stock: s, Title: "pipstake batch 7, 2027-01-14: labels", Created: created, Begun: i%3 == 1, Gain: i % 2}
		room := s.Room([]int{203, 300, 600}[i%3])
		for n := range min(3, s.Columns*s.Rows) {
			d, err := label.Bag{ID: id.At(ids.LotLevel), SeedParent: "Larkfield Tessel", PollenParent: "Tarn Amber"}.Fit(room)
			if room.W > 2.5*room.H {
				d, err = label.Stake{ID: id, Copy: 1 + n%2, Seeds: 7, Sown: "2027-01-14", SeedParent: "Larkfield Tessel", PollenParent: "Tarn Amber"}.Fit(room)
			}
			if n == 2 {
				d, err = label.BranchTag{ID: id.At(ids.CrossLevel), SeedParent: "Larkfield Tessel", PollenParent: "Tarn Amber", Pollinated: "2026-05-03"}.Fit(room)
			}
			if err != nil {
				d = cornered(s)
			}
			job.Places = append(job.Places, Place{Page: 1 + n/2, Cell: 1 + (n*5+i)%(s.Columns*s.Rows), Drawing: d})
		}
		record("labels on "+s.Name, write(t, job))
		if s.Kind != Roll {
			back := job
			back.Begun, back.Flip, back.Shift, back.BackShift = false, Flip(1+i%2), Shift{0.4, -0.3}, Shift{-0.2, 0.6}
			back.Places = nil
			for _, p := range job.Places {
				p.Back = cornered(s)
				back.Places = append(back.Places, p)
			}
			record("backs on "+s.Name, write(t, back))
		}
		for _, sheet := range []TestSheet{testSheet(t, s, Shift{}), testSheet(t, s, Shift{0.8, -0.4})} {
			if sheet.Kept != (Shift{}) && s.Kind != Roll {
				sheet.Flip, sheet.KeptBack = LongEdge, Shift{0.1, 0.2}
			}
			var out bytes.Buffer
			if err := WriteTestSheet(&out, sheet); err != nil {
				t.Fatal(err)
			}
			record(fmt.Sprintf("test sheet of %s, shifted %v", s.Name, sheet.Kept), out.Bytes())
		}
	}
	for _, paper := range []Paper{A4, Letter} {
		for _, lots := range []int{1, 12, 60} {
			sheet := benchOf(paper, lots)
			if lots > 1 {
				sheet.Mixes = append(sheet.Mixes, BenchMix{For: "2026X003-A and 2026X007-A", Figures: [3]BenchFigure{{"55 ml", "water"}, {"17.5 ml", "bleach (3.5 teaspoons)"}, {"1.2 %", "available chlorine"}}})
			}
			record(fmt.Sprintf("bench sheet for %d on %s", lots, paper.Name), writtenBench(t, sheet))
		}
	}
	if os.Getenv("UPDATE_PAGES") != "" {
		if err := os.WriteFile(pagesFile, []byte(got.String()), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	recorded, err := os.ReadFile(pagesFile)
	if err != nil {
		t.Fatal(err)
	}
	was, differ := strings.Split(string(recorded), "\n"), 0
	for i, line := range strings.Split(got.String(), "\n") {
		if i >= len(was) || line != was[i] {
			if differ++; differ <= 5 {
				t.Errorf("%s; recorded is %s", line, was[min(i, len(was)-1)])
			}
		}
	}
	if differ > 0 {
		t.Errorf("%d pages differ; where the change is meant, look at some and run UPDATE_PAGES=1 go test -run Recorded ./layout", differ)
	}
}

// manyStocks are the built-in stocks, and others of shapes that have ways of
// their own.
func manyStocks(t *testing.T) []Stock {
	t.Helper()
	all := Stocks()
	for _, name := range []string{"roll-62x40", "roll-25x150", "roll-102x152", "roll-89x28", "a4-cut-100x25", "letter-cut-100x50", "a4-cut-60x25"} {
		all = append(all, find(t, name))
	}
	return all
}

// unpacked is a PDF with all of its streams inflated, so that it does not depend
// on how they were packed.
func unpacked(t *testing.T, pdf []byte) []byte {
	t.Helper()
	var all bytes.Buffer
	for {
		at := bytes.Index(pdf, []byte("stream\n"))
		if at < 0 {
			return append(all.Bytes(), bytes.Split(pdf, []byte("xref"))[0]...)
		}
		head := pdf[:at]
		pdf = pdf[at+len("stream\n"):]
		end := bytes.Index(pdf, []byte("endstream"))
		if end < 0 {
			t.Fatal("a stream does not end")
		}
		all.Write(bytes.Split(head, []byte("/Length"))[0])
		if z, err := zlib.NewReader(bytes.NewReader(pdf[:end])); err == nil {
			if _, err := io.Copy(&all, z); err != nil {
				t.Fatal(err)
			}
		} else {
			all.Write(pdf[:end])
		}
		pdf = pdf[end+len("endstream"):]
	}
}
