package main

import (
	"fmt"

	"pipstake/ids/problem"
	"pipstake/ids/registry"
	"pipstake/ids/words"
	"pipstake/layout"
)

// assignCells gives labels their cells: on the last sheet of their stock where cells
// of it are free, behind those that are used. A sheet that is cut apart cannot go
// back into a printer, so it is used on only on the day it was begun; a roll has no
// sheets.
func (p *printRun) assignCells(r *registry.Registry, b fitted, on registry.Date) (cells, error) {
	if p.first > b.stock.PerSheet() {
		return cells{}, problem.Use(fmt.Sprintf("--first %d: %s has %s", p.first, b.stock.Name, words.Plural(b.stock.PerSheet(), "cell", "cells")),
			fmt.Sprintf("give a cell from 1 to %d", b.stock.PerSheet()))
	}
	last := r.SheetOf(b.stock.Name, r.LastSheet(b.stock.Name))
	first := 0
	if b.stock.Kind != layout.CutSheet || printedOn(r, b.stock.Name, last.Number) == on {
		var err error
		if first, err = p.firstCell(last, b.stock); err != nil {
			return cells{}, err
		}
	}
	var c cells
	if first > 0 {
		c = cells{spots: spots(b.tags, b.stock.PerSheet(), first), sheet: last.Number, before: last}
	}
	if first == 0 || c.spots[0].sheet > 1 { // a pair may need two cells where one is free
		c = cells{spots: spots(b.tags, b.stock.PerSheet(), max(1, p.first)), sheet: last.Number + 1}
	}
	if c.spots[0].sheet > 1 {
		return cells{}, problem.Use(fmt.Sprintf("--first %d: a pair of stakes does not go on a sheet of %s from there", p.first, b.stock.Name), "start at a lower cell")
	}
	c.kept = c.leftOn(b.stock)
	return c, nil
}

// firstCell is where to go on with the last sheet of a stock; 0 for not at all.
func (p *printRun) firstCell(last registry.Sheet, s layout.Stock) (int, error) {
	if p.fresh || s.Kind == layout.Roll || last.Number == 0 {
		return 0, nil
	}
	if last.Doubtful {
		p.env.Notice("labels.csv has rows for %s whose sheet or cell cannot be read, so printing starts on a fresh sheet; see pipstake check", s.Name)
		return 0, nil
	}
	next := 1
	if n := len(last.Used); n > 0 {
		next = last.Used[n-1] + 1
	}
	switch {
	case p.first >= next:
		return p.first, nil
	case p.first > 0:
		return 0, problem.Use(fmt.Sprintf("--first %d: sheet %d of %s is used up to cell %d", p.first, last.Number, s.Name, next-1), goOn(last, s, next, p.first))
	case last.Spoilt || next > s.PerSheet():
		return 0, nil
	}
	return next, nil
}

// printedOn is the last day on which a sheet was printed on; none where it was not.
func printedOn(r *registry.Registry, stock string, sheet int) registry.Date {
	var day registry.Date
	for _, l := range r.Labels() {
		if l.Stock == stock && l.Sheet == sheet && (day.IsZero() || day.Before(l.Printed)) {
			day = l.Printed
		}
	}
	return day
}

// goOn returns how to start at a cell that is used on the last sheet.
func goOn(last registry.Sheet, s layout.Stock, next, first int) string {
	hint := fmt.Sprintf("--fresh --first %d starts another sheet there", first)
	if next <= s.PerSheet() {
		hint = fmt.Sprintf("--first %d or more goes on with sheet %d; %s", next, last.Number, hint)
	}
	return hint
}

// putIn returns which sheet to put into the printer; "" where any fresh one does.
func (b *batch) putIn() string {
	start := b.spots[0].cell
	used := len(b.before.Used)
	switch {
	case used == 0 && start == 1:
		return ""
	case used == 0:
		return fmt.Sprintf("a sheet whose cells are free from cell %d on: it is sheet %d, and printing starts there", start, b.sheet)
	}
	said := fmt.Sprintf("its first %d cells are used", used)
	switch last := b.before.Used[used-1]; {
	case used == 1 && last == 1:
		said = "its first cell is used"
	case last != used:
		said = fmt.Sprintf("it is used up to cell %d", last)
	}
	if b.stock.Kind == layout.CutSheet {
		said += "; where it is cut already, print with --fresh"
	}
	put := fmt.Sprintf("sheet %d back in, %s: printing starts at cell %d", b.sheet, said, start)
	if more := b.spots[len(b.spots)-1].sheet - 1; more > 0 {
		put += fmt.Sprintf(", then goes on with %s", words.Plural(more, "fresh sheet", "fresh sheets"))
	}
	return put
}

// leftOn says what is left of the last sheet; "" for nothing that can be used.
func (c cells) leftOn(s layout.Stock) string {
	last := c.spots[len(c.spots)-1]
	left := s.PerSheet() - last.cell
	if s.Kind == layout.Roll || left == 0 {
		return ""
	}
	number := c.sheet + last.sheet - 1
	if s.Kind == layout.CutSheet {
		return fmt.Sprintf("sheet %d has room for %s more: what is printed today goes on it, so cut it at the end", number, words.Plural(left, "label", "labels"))
	}
	return fmt.Sprintf("sheet %d has %s left: write %d on its back", number, words.Plural(left, "label", "labels"), number)
}
