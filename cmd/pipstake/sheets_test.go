package main

import (
	"fmt"
	"image"
	"math/rand/v2"
	"os"
	"path/filepath"
	"testing"

	"pipstake/ids"
	"pipstake/ids/registry"
	"pipstake/layout"
	"pipstake/layout/proof"
)

// stocked fills a registry with pots and seed lots enough to print labels of.
func stocked(t *testing.T, dir string) (lots, pots []ids.ID) {
	t.Helper()
	err := registry.Change(dir, registry.Options{}, func(r *registry.Registry) error {
		day := registry.Date{Year: 2026, Month: 5, Day: 2}
		c, err := r.AddCross(registry.NewCross{SeedParent: "Larkfield Tessel", PollenParent: "Tarn Amber", Pollinated: day})
		if err != nil {
			return err
		}
		added, err := r.AddLots(c.ID, 30, day.AddDays(50))
		if err != nil {
			return err
		}
		for _, l := range added {
			lots = append(lots, l.ID)
		}
		if _, err := r.Extract(lots[0], registry.Extraction{Seeds: registry.Known(90), On: day.AddDays(150)}); err != nil {
			return err
		}
		sown, err := r.Sow(lots[0], registry.Sowing{Seeds: []int{9, 9, 9, 9, 9, 9, 9, 9, 9, 9}, On: day.AddDays(200)})
		for _, p := range sown {
			pots = append(pots, p.ID)
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return lots, pots
}

// inFolder runs pipstake in dir and returns its exit status.
func inFolder(t *testing.T, dir string, args ...string) (status, string) {
	t.Helper()
	e, stdout, stderr := testEnv(t, args...)
	e.cwd = dir
	got := execute(e)
	return got, stdout.String() + stderr.String()
}

// However labels are printed, printed again, ruined and replaced, on whatever
// cells a user asks for: no two ever take one cell of a sheet, and a pair on
// one sheet lies side by side in cells 2k−1 and 2k.
func TestBatchesNeverCollide(t *testing.T) {
	t.Parallel()
	if testing.Short() {
		t.Skip("takes long")
	}
	rnd := rand.New(rand.NewPCG(20260502, 35))
	stocks := []string{"a4-3x7-63.5x38.1", "letter-2x5-101.6x50.8", "a4-cut-148x20", "roll-101x38"}
	for range 3 {
		dir := t.TempDir()
		if err := registry.Init(dir); err != nil {
			t.Fatal(err)
		}
		lots, pots := stocked(t, dir)
		batches := 0
		for range 14 {
			args := []string{"labels", "--replace", "--stock", stocks[rnd.IntN(len(stocks))], "--out", fmt.Sprintf("%d.pdf", rnd.Int64()), "--dpi", "300"}
			from := lots
			if rnd.IntN(2) == 0 {
				from = pots
			}
			for range 1 + rnd.IntN(9) {
				args = append(args, from[rnd.IntN(len(from))].String())
			}
			switch rnd.IntN(6) {
			case 0:
				args = append(args, "--fresh")
			case 1:
				args = append(args, "--first", fmt.Sprint(1+rnd.IntN(21)))
			case 2:
				args = append(args, "--fresh", "--first", fmt.Sprint(1+rnd.IntN(10)))
			}
			if got, said := inFolder(t, dir, args...); got == fine {
				batches++
			} else if got != wrongUsage {
				t.Fatalf("%q: status %d, %s", args, got, said)
			}
			if batches > 0 && rnd.IntN(3) == 0 {
				inFolder(t, dir, "spoil", fmt.Sprint(1+rnd.IntN(batches)))
			}
		}
		checkCells(t, dir, batches)
	}
}

// checkCells looks at the cells of all labels printed.
func checkCells(t *testing.T, dir string, batches int) {
	t.Helper()
	r, err := registry.Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	if batches < 5 || len(r.Labels()) < 10 {
		t.Fatalf("only %d batches and %d labels", batches, len(r.Labels()))
	}
	type place struct {
		stock       string
		sheet, cell int
	}
	taken := map[place]int{}
	rows := r.Labels()
	for i, l := range rows {
		p := place{l.Stock, l.Sheet, l.Cell}
		if other := taken[p]; other != 0 {
			t.Errorf("batch %d and batch %d both take %v", other, l.Batch, p)
		}
		taken[p] = l.Batch
		s, err := layout.FindStock(l.Stock)
		if err != nil {
			t.Fatal(err)
		}
		if l.Cell < 1 || l.Cell > s.PerSheet() {
			t.Errorf("%v is no cell", p)
		}
		if l.Copy == 1 && i+1 < len(rows) && rows[i+1].ID == l.ID && rows[i+1].Copy == 2 && rows[i+1].Batch == l.Batch && s.PerSheet() > 1 {
			if l.Cell%2 != 1 || rows[i+1].Cell != l.Cell+1 || rows[i+1].Sheet != l.Sheet {
				t.Errorf("the pair of %s lies at %v and in cell %d of sheet %d", l.ID, p, rows[i+1].Cell, rows[i+1].Sheet)
			}
		}
	}
}

// Two batches printed on the same sheet leave each other's ink alone, the foot
// of the page included.
func TestBatchesOnOneSheetShareNoInk(t *testing.T) {
	if testing.Short() {
		t.Skip("takes long")
	}
	const dpi = 150
	dir := t.TempDir()
	if err := registry.Init(dir); err != nil {
		t.Fatal(err)
	}
	lots, _ := stocked(t, dir)
	var pages []*image.Gray
	for i, args := range [][]string{{"labels", lots[1].String(), lots[2].String()}, {"labels", lots[3].String()}} {
		name := fmt.Sprintf("%d.pdf", i)
		if got, said := inFolder(t, dir, append(args, "--stock", "a4-3x7-63.5x38.1", "--out", name)...); got != fine {
			t.Fatal(said)
		}
		pdf, err := os.ReadFile(filepath.Join(dir, name))
		if err != nil {
			t.Fatal(err)
		}
		doc, err := proof.Open(pdf)
		if err != nil {
			t.Fatal(err)
		}
		page, err := doc.Render(1, dpi)
		if err != nil {
			t.Fatal(err)
		}
		pages = append(pages, page)
		if err := doc.Close(); err != nil {
			t.Error(err)
		}
	}
	ink := [2]int{}
	for i := range pages[0].Pix {
		first, second := pages[0].Pix[i] < 200, pages[1].Pix[i] < 200
		if first && second {
			t.Fatalf("both batches print at pixel %d, %d", i%pages[0].Stride, i/pages[0].Stride)
		}
		if first {
			ink[0]++
		}
		if second {
			ink[1]++
		}
	}
	if ink[0] == 0 || ink[1] == 0 {
		t.Errorf("ink %v", ink)
	}
}
