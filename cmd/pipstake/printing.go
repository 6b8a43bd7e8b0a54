package main

import (
	"bytes"
	"fmt"
	"strconv"
	"strings"
	"time"

	"pipstake/ids/registry"
	"pipstake/label"
	"pipstake/layout"
)

// All labels reach paper through this file, in this order: faces are fitted,
// take their places, and are written to a temporary file beside its target,
// all while the registry is locked; the registry is saved; the file moves to
// its target. A failure before saving spends no number and leaves no file.

// printFlags are the flags of a command that prints.
type printFlags struct {
	out   *string
	force *bool
	stock *string
	dpi   *wordFlag
	font  *string
}

const defaultDPI = 600

func (f *flags) printing() *printFlags {
	return &printFlags{
		out:   f.text("out", "the PDF's `FILE`, - for standard output; where left out,\nface and batch such as bags-0007.pdf, in this folder"),
		force: f.onOff("force", "replace a PDF that exists"),
		stock: f.text("stock", "the `NAME` of the sheets to print on, see pipstake stock list;\nwhere left out, a4-3x8-70x37 for bags, a4-cut-148x20 for stakes,\na4-5x13-38.1x21.2 for seedlings and a4-cut-100x25 for branch tags"),
		dpi: f.word("dpi", "the printer's `DOTS` in an inch: 203, 300, 600 or 1200;\n600 where left out",
			"203", "300", "600", "1200"),
		font: f.font(),
	}
}

// press prints the labels of one command.
type press struct {
	env     *env
	out     string // as given; "" for the default name
	force   bool
	stock   *layout.Stock // nil for each face's default
	dpi     int
	names   *label.Typeface // nil for the font of the program
	created time.Time
	made    []*batch
}

// press checks all that can be checked of the printing flags before the
// registry is opened.
func (e *env) press(f *printFlags) (*press, error) {
	p := &press{env: e, out: *f.out, force: *f.force, dpi: defaultDPI}
	var err error
	if f.dpi.word != "" {
		p.dpi, _ = strconv.Atoi(f.dpi.word) // one of four words
	}
	if *f.stock != "" {
		if err := p.on(*f.stock); err != nil {
			return nil, err
		}
	}
	if p.out != "" {
		if _, err := e.target(p.out, p.force); err != nil {
			return nil, err
		}
	}
	if p.created, err = e.creation(); err != nil {
		return nil, err
	}
	p.names, err = e.typeface(*f.font)
	return p, err
}

// on chooses the stock.
func (p *press) on(name string) error {
	s, err := findStock(name)
	p.stock = &s
	return err
}

// creation is the time that a PDF says it was made: SOURCE_DATE_EPOCH where
// that is set, else now.
func (e *env) creation() (time.Time, error) {
	const variable = "SOURCE_DATE_EPOCH"
	text := e.getenv(variable)
	if text == "" {
		return e.now(), nil
	}
	seconds, err := strconv.ParseInt(text, 10, 64)
	if err != nil || seconds < 0 || seconds > 253402300799 { // the end of the year 9999
		return time.Time{}, &usageError{fmt.Sprintf("%s=%q is no count of seconds since 1970", variable, text), "set it to a whole number, or unset it"}
	}
	return time.Unix(seconds, 0).UTC(), nil
}

// batch is the labels of one face that are printed together.
type batch struct {
	number  int
	printed registry.Date // first, where it is written again
	face    registry.Face
	stock   layout.Stock
	tags    []tag
	spots   []spot
	sheet   int // the first one
	drawn   []*label.Drawing
	pdf     []byte
	target  target
	waiting temporary // not for standard output
}

// order is what a command wants printed.
type order struct {
	on    registry.Date // the day of printing
	tags  []tag
	lines []string // what was issued, told before what was printed
}

// print runs work, which says what to print, on the registry, and prints it.
func (p *press) print(dir string, work func(*registry.Registry) (order, error)) error {
	var o order
	err := p.env.change(dir, func(r *registry.Registry) (err error) {
		p.abandon()
		if o, err = work(r); err != nil {
			return err
		}
		return p.record(r, o)
	})
	if err != nil {
		p.abandon()
		return err
	}
	for _, line := range o.lines {
		p.say("%s", line)
	}
	return p.finish(p.unplaced)
}

// say prints a line of results: on standard error where the PDF takes up
// standard output.
func (p *press) say(format string, args ...any) {
	if p.out == "-" {
		p.env.tell(format, args...)
		return
	}
	p.env.say(format, args...)
}

// record lays out what was ordered, writes it beside its target, and records
// it as printed: as many batches as there are faces.
func (p *press) record(r *registry.Registry, o order) error {
	batches := byFace(o.tags)
	if len(batches) > 1 && (p.out != "" || p.stock != nil) {
		return differentSheets(batches)
	}
	for _, b := range batches {
		b.printed = o.on
		if err := p.draw(r, b); err != nil {
			return err
		}
		b.spots = spots(b.tags, b.stock.PerSheet())
		b.sheet = r.LastSheet(b.stock.Name) + 1
		var err error
		if b.number, err = r.AddLabels(o.on, b.prints()); err != nil {
			return err
		}
		if err := p.write(b); err != nil {
			return err
		}
	}
	return nil
}

// differentSheets says that one file and one stock do not do for several faces.
func differentSheets(batches []*batch) error {
	var nouns, flags []string
	for _, b := range batches {
		nouns = append(nouns, strings.TrimPrefix(faceNoun(b.face, 2), "2 "))
		flags = append(flags, "--face "+string(b.face))
	}
	return &usageError{list(nouns) + " go on different sheets", "name the file and the stock for one at a time: " + strings.Join(flags, ", then ")}
}

// byFace sorts tags into one batch for each face.
func byFace(tags []tag) []*batch {
	var batches []*batch
	for _, face := range []registry.Face{registry.BagFace, registry.StakeFace, registry.SeedlingFace, registry.BranchFace} {
		b := &batch{face: face}
		for _, t := range tags {
			if t.face == face {
				b.tags = append(b.tags, t)
			}
		}
		if len(b.tags) > 0 {
			batches = append(batches, b)
		}
	}
	return batches
}

// draw fits the faces into the cells of the stock.
func (p *press) draw(r *registry.Registry, b *batch) error {
	if p.stock != nil {
		b.stock = *p.stock
	} else {
		var err error
		if b.stock, err = findStock(defaultStock(b.face)); err != nil {
			return err
		}
	}
	room := b.stock.Room(p.dpi)
	room.Names = p.names
	for _, t := range b.tags {
		d, err := drawing(r, t, room)
		if err != nil {
			return fmt.Errorf("label of %s on %s: %w", t, b.stock.Name, err)
		}
		b.drawn = append(b.drawn, d)
	}
	return nil
}

// prints are the rows that record the batch.
func (b *batch) prints() []registry.Print {
	var rows []registry.Print
	for i, t := range b.tags {
		rows = append(rows, registry.Print{Face: t.face, ID: t.id, Copy: t.copy, Stock: b.stock.Name,
			Sheet: b.sheet + b.spots[i].sheet - 1, Cell: b.spots[i].cell, Payload: b.drawn[i].Payload()})
	}
	return rows
}

// fileName is what the batch's PDF is called where nothing else is said.
func (b *batch) fileName() string { return fmt.Sprintf("%s-%04d.pdf", filePrefix(b.face), b.number) }

// write makes the batch's PDF and puts it beside its target.
func (p *press) write(b *batch) error {
	title := fmt.Sprintf("pipstake batch %d, %s: %s", b.number, b.printed, faceNoun(b.face, len(b.tags)))
	job := layout.Job{Stock: b.stock, Title: title, Created: p.created}
	for i, d := range b.drawn {
		job.Places = append(job.Places, layout.Place{Page: b.spots[i].sheet, Cell: b.spots[i].cell, Drawing: d})
	}
	var pdf bytes.Buffer
	if err := layout.WritePDF(&pdf, job); err != nil {
		return err
	}
	b.pdf = pdf.Bytes()
	out := p.out
	if out == "" {
		out = b.fileName()
	}
	var err error
	if b.target, err = p.env.target(out, p.force); err != nil {
		return err
	}
	if !b.target.stdout() {
		if b.waiting, err = b.target.store(b.pdf); err != nil {
			return err
		}
	}
	p.made = append(p.made, b)
	return nil
}

// abandon removes what was written for labels that are not to be.
func (p *press) abandon() {
	for _, b := range p.made {
		if !b.target.stdout() {
			b.waiting.discard()
		}
	}
	p.made = nil
}

// finish moves the files to their targets. It comes after the registry is
// saved, so worded has to tell how to get the sheets after a failure.
func (p *press) finish(worded func(error) error) error {
	for len(p.made) > 0 {
		b := p.made[0]
		var err error
		if b.target.stdout() {
			_, err = p.env.stdout.Write(b.pdf)
		} else {
			err = b.waiting.place()
		}
		if err != nil {
			defer p.abandon()
			return worded(err)
		}
		p.report(b)
		p.made = p.made[1:]
	}
	return nil
}

// unplaced says that batches are recorded, but their sheets are not where they
// should be.
func (p *press) unplaced(err error) error {
	var numbers, again []string
	for _, b := range p.made {
		numbers = append(numbers, strconv.Itoa(b.number))
		again = append(again, fmt.Sprintf("pipstake labels --batch %d --out FILE", b.number))
	}
	return &failure{fmt.Sprintf("cannot write %s: %s; the labels are recorded, batch %s", p.made[0].target.shown, reason(err), list(numbers)),
		"write the sheet with " + list(again)}
}
