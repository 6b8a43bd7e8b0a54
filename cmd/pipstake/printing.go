package main

import (
	"bytes"
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"pipstake/ids/problem"
	"pipstake/ids/registry"
	"pipstake/ids/words"
	"pipstake/label"
	"pipstake/label/reading"
	"pipstake/layout"
)

// All labels reach paper through this file, in this order: faces are fitted,
// take their places, and are written to a temporary file beside its target,
// all while the registry is locked; the registry is saved; the file moves to
// its target. A failure before saving spends no number and leaves no file.

// batch is the labels of one face that are printed together.
type batch struct {
	number  int
	printed registry.Date // first, where it is written again
	face    registry.Face
	stock   layout.Stock
	tags    []reading.Key
	spots   []spot
	sheet   int            // the first one
	before  registry.Sheet // that one as it was; none used where it is fresh
	kept    string         // what is left of the last one; "" for nothing
	drawn   []*label.Drawing
	backs   []*label.Drawing // none where only fronts are printed
	shift   layout.Shift
	pdf     []byte
	target  target
	waiting temporary // not for standard output
}

// order is what a command wants printed.
type order struct {
	on    registry.Date // the day of printing
	tags  []reading.Key
	lines []string // what was issued, told before what was printed
}

// print runs work, which says what to print, on the registry, and prints it.
func (p *press) print(dir string, work func(*registry.Registry) (order, error)) error {
	if p.preview != "" {
		return p.show(dir, work)
	}
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

// next tells what comes next in the season, unless nothing was issued.
func (p *press) next(format string, args ...any) {
	if p.preview == "" {
		p.env.Next(format, args...)
	}
}

// say prints a line of results: as a remark where the file takes up standard
// output.
func (p *press) say(format string, args ...any) {
	if p.out == "-" || p.preview == "-" {
		p.env.Remark(format, args...)
		return
	}
	p.env.Say(format, args...)
}

// record lays out what was ordered, records it as printed, and writes it beside
// its target: as many batches as there are faces.
func (p *press) record(r *registry.Registry, o order) error {
	batches, err := p.lay(r, o)
	if err != nil {
		return err
	}
	for _, b := range batches {
		if err := p.write(b); err != nil {
			return err
		}
	}
	return nil
}

// lay puts what was ordered into its cells and records it in r.
func (p *press) lay(r *registry.Registry, o order) ([]*batch, error) {
	batches := byFace(o.tags)
	if len(batches) > 1 && (p.out != "" || p.stock != nil || p.own != "" || p.first > 0) {
		return nil, differentSheets(batches)
	}
	for _, b := range batches {
		b.printed = o.on
		if err := p.draw(r, b); err != nil {
			return nil, err
		}
		if err := p.place(r, b); err != nil {
			return nil, err
		}
		var err error
		if b.number, err = r.AddLabels(o.on, b.prints()); err != nil {
			return nil, err
		}
	}
	return batches, nil
}

// differentSheets says that one file and one stock do not do for several faces.
func differentSheets(batches []*batch) error {
	var nouns, flags []string
	for _, b := range batches {
		nouns = append(nouns, facesNoun(b.face))
		flags = append(flags, "--face "+string(b.face))
	}
	return problem.Use(words.List(nouns)+" go on different sheets", "name the file and the stock for one at a time: "+strings.Join(flags, ", then "))
}

// byFace sorts tags into one batch for each face.
func byFace(tags []reading.Key) []*batch {
	var batches []*batch
	for _, face := range []registry.Face{registry.BagFace, registry.StakeFace, registry.SeedlingFace, registry.BranchFace} {
		b := &batch{face: face}
		for _, t := range tags {
			if t.Face == face {
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
	var err error
	if b.stock, err = p.stockFor(r, b.face); err != nil {
		return err
	}
	if b.shift, err = p.shift(r, b.stock); err != nil {
		return err
	}
	if err := p.checkFlip(b); err != nil {
		return err
	}
	room, behind := b.stock.Room(p.dpi), b.stock.BackRoom(p.dpi)
	room.Names, behind.Names = p.names, p.names
	var faces, backs []label.Face
	for _, t := range b.tags {
		f, err := p.faceOf(r, t)
		if err != nil {
			return unfit(fmt.Sprintf("label of %s on %s", t, b.stock.Name), err)
		}
		faces = append(faces, f)
		if stake, ok := f.(label.Stake); ok && p.flip != layout.NoFlip {
			backs = append(backs, label.StakeBack{Stake: stake})
		}
	}
	fitting := p.env.Working("drawing "+facesNoun(b.face), 0)
	defer fitting.End()
	if b.drawn, err = label.Fit(faces, room); err != nil {
		return b.unfit("label", err)
	}
	if b.backs, err = label.Fit(backs, behind); err != nil {
		return b.unfit("back", err)
	}
	return nil
}

// unfit says which label of the batch cannot be drawn.
func (b *batch) unfit(side string, err error) error {
	first := b.tags[0].String()
	var one *label.LabelError
	if errors.As(err, &one) {
		first, err = b.tags[one.Index].String(), one.Err
	}
	return unfit(fmt.Sprintf("%s of %s on %s", side, first, b.stock.Name), err)
}

// unfit says which label it is that does not fit or cannot be drawn. What the
// registry lacks says so itself.
func unfit(which string, err error) error {
	if is[*problem.Problem](err) {
		return err
	}
	return problem.In(which, err)
}

// prints are the rows that record the batch.
func (b *batch) prints() []registry.Print {
	var rows []registry.Print
	for i, t := range b.tags {
		rows = append(rows, registry.Print{Face: t.Face, ID: t.ID, Copy: t.Copy, Stock: b.stock.Name,
			Sheet: b.sheet + b.spots[i].sheet - 1, Cell: b.spots[i].cell, Payload: b.drawn[i].Payload()})
	}
	return rows
}

// fileName is what the batch's PDF is called where nothing else is said.
func (b *batch) fileName() string { return fmt.Sprintf("%s-%04d.pdf", filePrefix(b.face), b.number) }

// job is what the batch puts on paper. Sheets that have no label any more are
// left out.
func (p *press) job(b *batch) layout.Job {
	title := fmt.Sprintf("pipstake batch %d, %s: %s", b.number, b.printed, faceNoun(b.face, len(b.tags)))
	job := layout.Job{Stock: b.stock, Title: title, Created: p.created, Shift: b.shift, Flip: p.flip, Begun: len(b.before.Used) > 0, Gain: p.gain}
	sheets := b.used()
	for i, d := range b.drawn {
		page, _ := slices.BinarySearch(sheets, b.spots[i].sheet)
		place := layout.Place{Page: page + 1, Cell: b.spots[i].cell, Drawing: d}
		if b.backs != nil {
			place.Back = b.backs[i]
		}
		job.Places = append(job.Places, place)
	}
	return job
}

// write makes the batch's PDF and puts it beside its target.
func (p *press) write(b *batch) error {
	writing := p.env.Working("writing the PDF", 0)
	defer writing.End()
	var pdf bytes.Buffer
	if err := layout.WritePDF(&pdf, p.job(b)); err != nil {
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
	return problem.Failure(fmt.Sprintf("cannot write %s: %s; the labels are recorded, batch %s", p.made[0].target.shown, problem.Reason(err), words.List(numbers)),
		"write the sheet with "+words.List(again))
}
