package main

import (
	"fmt"
	"slices"

	"pipstake/ids/problem"
	"pipstake/ids/registry"
	"pipstake/label/reading"
	"pipstake/layout"
)

var spoilCommand = command{
	name:      "spoil",
	records:   true,
	summary:   "say that printed labels were ruined",
	arguments: "BATCH",
	options:   "[--cells N,N] [--sheet N]",
	help: `For a sheet that jammed, smeared or was cut wrong. The labels of the batch, or
of some of its cells, no longer count as printed; pipstake labels --missing then
prints exactly those again. BATCH is the name of its PDF, or the number in it.
Cells are numbered along the rows, from 1. Without --cells the sheet counts as
ruined too; with --cells its free cells are used on.

  pipstake spoil bags-0007.pdf
  pipstake spoil 8 --cells 3,4
  pipstake spoil 9 --sheet 12 --cells 1,2      of a batch on several sheets`,
	define: func(f *flags) action {
		cells := f.counts("cells", "the `CELLS` that were ruined, such as 3,4; all where left out")
		sheet := f.count("sheet", "the `SHEET` they are on, as pipstake told at printing", 1, mostBatches)
		dir := f.registry()
		return func(e *env, args []string) error {
			batch, err := parseBatch(args[0])
			if err != nil {
				return err
			}
			return e.spoil(*dir, spoilage{batchName: batch, sheet: sheet.n, cells: cells.ns})
		}
	},
}

// spoilage is what was ruined of a batch.
type spoilage struct {
	batchName
	sheet int   // 0 for any
	cells []int // nil for all
}

func (e *env) spoil(dir string, ruined spoilage) error {
	var gone []string
	var left string
	err := e.change(dir, func(r *registry.Registry) error {
		gone = nil
		if err := ruined.fits(r); err != nil {
			return err
		}
		r.RetireLabels(func(l registry.Label) bool {
			if !ruined.hits(l) || l.State != registry.LabelLive {
				return false
			}
			gone = append(gone, reading.KeyOf(l).String())
			return true
		}, registry.Spoilt)
		left = ruined.sheetLeft(r)
		return nil
	})
	if err != nil {
		return err
	}
	if len(gone) == 0 {
		e.Notice("they were retired already; nothing changed")
		return nil
	}
	for _, g := range gone {
		e.Say("%s  spoilt", g)
	}
	if left != "" {
		e.Notice("%s", left)
	}
	e.Next("print them again: pipstake labels --missing")
	return nil
}

// sheetLeft returns what becomes of the last sheet of the batch's stock, where
// labels can go on it and the batch was the last to; else it is "".
func (u spoilage) sheetLeft(r *registry.Registry) string {
	for _, l := range r.Labels() {
		last := r.LastSheet(l.Stock)
		if l.Batch != u.number || l.Sheet != last {
			continue
		}
		sheet := r.SheetOf(l.Stock, last)
		s, err := findStock(r, l.Stock)
		if err != nil || s.Kind == layout.Roll || sheet.Last != u.number || len(sheet.Used) == 0 {
			return ""
		}
		next := sheet.Used[len(sheet.Used)-1] + 1
		switch {
		case next > s.PerSheet():
			return ""
		case sheet.Spoilt:
			return fmt.Sprintf("sheet %d of %s counts as ruined, and labels go on a fresh one; where it is still good, --first %d goes on with it", last, s.Name, next)
		}
		return fmt.Sprintf("sheet %d of %s stays in use, from cell %d on; where it is ruined, print with --fresh", last, s.Name, next)
	}
	return ""
}

// hits reports whether a label was ruined.
func (u spoilage) hits(l registry.Label) bool {
	return l.Batch == u.number && (u.sheet == 0 || l.Sheet == u.sheet) && (u.cells == nil || slices.Contains(u.cells, l.Cell))
}

// fits refuses what the batch does not hold.
func (u spoilage) fits(r *registry.Registry) error {
	if err := u.check(r); err != nil {
		return err
	}
	var sheets []int
	printed := map[int]bool{} // cells of the sheet
	last := 0
	for _, l := range r.Labels() {
		last = max(last, l.Batch)
		if l.Batch != u.number {
			continue
		}
		if !slices.Contains(sheets, l.Sheet) {
			sheets = append(sheets, l.Sheet)
		}
		if u.sheet == 0 || l.Sheet == u.sheet {
			printed[l.Cell] = true
		}
	}
	slices.Sort(sheets)
	switch {
	case sheets == nil:
		return problem.Use(fmt.Sprintf("there is no batch %d", u.number), fmt.Sprintf("the last batch printed is %d", last))
	case u.sheet > 0 && !slices.Contains(sheets, u.sheet):
		return problem.Use(fmt.Sprintf("batch %d has no sheet %d", u.number, u.sheet), "its sheets are "+ranges(sheets))
	case u.sheet == 0 && u.cells != nil && len(sheets) > 1:
		return problem.Use(fmt.Sprintf("batch %d has several sheets, each with such cells", u.number), "say which one with --sheet: "+ranges(sheets))
	}
	for _, c := range u.cells {
		if !printed[c] {
			return problem.Use(fmt.Sprintf("nothing was printed in cell %d", c), fmt.Sprintf("batch %d used %s", u.number, ranges(sorted(printed))))
		}
	}
	return nil
}

func sorted(set map[int]bool) []int {
	var ns []int
	for n := range set {
		ns = append(ns, n)
	}
	slices.Sort(ns)
	return ns
}
