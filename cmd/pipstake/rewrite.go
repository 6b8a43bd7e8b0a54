package main

import (
	"fmt"
	"slices"

	"pipstake/ids/problem"
	"pipstake/ids/registry"
	"pipstake/ids/words"
	"pipstake/label/reading"
)

// rewrite writes the PDF of a batch again, each label in the cell that it had,
// and records nothing.
func (e *env) rewrite(dir string, p *printRun, named batchName) error {
	r, err := e.open(dir)
	if err != nil {
		return err
	}
	number := named.number
	if err := named.check(r); err != nil {
		return err
	}
	rows, retired, err := batchRows(r, number)
	if err != nil {
		return err
	}
	tags, where, err := sameCells(r, rows, number)
	if err != nil {
		return err
	}
	p.stock = rows[0].Stock
	drawn, err := p.fit(r, tags)
	if err != nil {
		return err
	}
	b := &batch{fitted: drawn, cells: where, number: number, printed: rows[0].Printed}
	if err := b.checkSpots(); err != nil {
		return err
	}
	if retired > 0 {
		e.Notice("%s of batch %d left out: spoilt, replaced or void", words.Plural(retired, "label", "labels"), number)
	}
	if p.preview != "" {
		return p.showBatches([]*batch{b})
	}
	f, err := p.write(b)
	if err != nil {
		return err
	}
	return p.finish([]sheetFile{f}, func(_ []sheetFile, err error) error {
		return problem.Failure(fmt.Sprintf("cannot write %s: %s", f.target.shown, problem.Reason(err)), "nothing was recorded; choose another place with --out FILE")
	})
}

// sameCells are the labels that the rows of a batch record, in the cells that
// they had. A label that would say otherwise now is refused.
func sameCells(r *registry.Registry, rows []registry.Label, number int) ([]reading.Key, cells, error) {
	c := cells{sheet: rows[0].Sheet}
	for _, l := range rows {
		c.sheet = min(c.sheet, l.Sheet)
	}
	var tags []reading.Key
	for _, l := range rows {
		if l.Face != rows[0].Face || l.Stock != rows[0].Stock {
			return nil, c, problem.Data(fmt.Sprintf("labels.csv: batch %d has rows of different faces or stocks", number), "look at its rows; a batch is one face on one stock")
		}
		if what := disagreementWords(reading.Compare(r, l)); what != "" {
			return nil, c, problem.Use(fmt.Sprintf("%s would not be printed as it was: %s", reading.KeyOf(l), what), "print it anew: "+replaceCommand(l))
		}
		tags = append(tags, reading.KeyOf(l))
		c.spots = append(c.spots, spot{l.Sheet - c.sheet + 1, l.Cell})
	}
	for _, l := range r.Labels() {
		if l.Stock == rows[0].Stock && l.Sheet == c.sheet && l.Batch < number {
			c.before.Used = append(c.before.Used, l.Cell)
		}
	}
	slices.Sort(c.before.Used)
	return tags, c, nil
}

// batchRows are the live rows of a batch, in the order of their cells, and how
// many are retired.
func batchRows(r *registry.Registry, number int) (rows []registry.Label, retired int, err error) {
	last := 0
	for _, l := range r.Labels() {
		last = max(last, l.Batch)
		switch {
		case l.Batch != number:
		case l.State != registry.LabelLive || r.Status(l.ID) != registry.Issued:
			retired++
		default:
			rows = append(rows, l)
		}
	}
	switch {
	case len(rows) == 0 && retired == 0:
		return nil, 0, problem.Use(fmt.Sprintf("there is no batch %d", number), fmt.Sprintf("the last batch printed is %d", last))
	case len(rows) == 0:
		return nil, 0, problem.Use(fmt.Sprintf("no label of batch %d is live", number), "print what lacks a label with pipstake labels --missing")
	}
	slices.SortStableFunc(rows, func(a, b registry.Label) int {
		if a.Sheet != b.Sheet {
			return a.Sheet - b.Sheet
		}
		return a.Cell - b.Cell
	})
	return rows, retired, nil
}

// mostSheets is more than one batch ever takes.
const mostSheets = 10_000

// checkSpots compares the cells that labels.csv names with the stock.
func (b *batch) checkSpots() error {
	taken := map[spot]bool{}
	for i, s := range b.spots {
		where := fmt.Sprintf("labels.csv: %s of batch %d, sheet %d, cell %d", b.tags[i], b.number, b.sheet+s.sheet-1, s.cell)
		switch {
		case s.cell < 1 || s.cell > b.stock.PerSheet() || s.sheet > mostSheets:
			return problem.Data(where+": there is no such cell on "+b.stock.Name, "correct sheet and cell in its row")
		case taken[s]:
			return problem.Data(where+": another label of the batch is there", "correct sheet and cell in its row")
		}
		taken[s] = true
	}
	return nil
}
