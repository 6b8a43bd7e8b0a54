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
// take their cells, and are written to a temporary file beside its target,
// all while the registry is locked; the registry is saved; the file moves to
// its target. A failure before saving spends no number and leaves no file.

// order is what a command wants printed.
type order struct {
	on      registry.Date // the day of printing
	tags    []reading.Key
	lines   []string // what was issued, told before what was printed
	notices []string // told behind what was printed
}

// fitted is labels of one face that are drawn for the cells of a stock.
type fitted struct {
	face  registry.Face
	tags  []reading.Key
	stock layout.Stock
	shift layout.Shift
	back  layout.Shift // of backs
	drawn []*label.Drawing
	backs []*label.Drawing // none where only fronts are printed
}

// cells are where the labels of a batch lie.
type cells struct {
	spots  []spot         // one for each label, the first sheet being 1
	sheet  int            // the number of the first sheet
	before registry.Sheet // that one as it was; none used where it is fresh
	kept   string         // what is left of the last one, for another time; "" for nothing
}

// batch is labels that are printed together, each in its cell.
type batch struct {
	fitted
	cells
	number  int
	printed registry.Date // first, where it is written again
}

// sheetFile is the PDF of a batch on its way to its target, or its pictures.
type sheetFile struct {
	*batch
	files  []picture // one, but for pictures of several pages
	target target    // of the first
}

// print runs work, which says what to print, on the registry, and prints it. It
// returns what work said last.
func (p *printRun) print(dir string, work func(*registry.Registry) (order, error)) (order, error) {
	switch {
	case p.preview != "":
		return p.show(dir, work)
	case p.later:
		return p.issue(dir, work)
	}
	var o order
	var files []sheetFile
	err := p.env.change(dir, func(r *registry.Registry) (err error) {
		abandon(files)
		files = nil
		if o, err = work(r); err != nil {
			return err
		}
		files, err = p.record(r, o)
		return err
	})
	if err != nil {
		abandon(files)
		return o, err
	}
	for _, line := range o.lines {
		p.say("%s", line)
	}
	if err := p.finish(files, unplaced); err != nil {
		return o, err
	}
	p.tell(o.notices)
	return o, nil
}

// issue runs work on the registry, and leaves the labels for another time.
func (p *printRun) issue(dir string, work func(*registry.Registry) (order, error)) (order, error) {
	var o order
	err := p.env.change(dir, func(r *registry.Registry) (err error) {
		o, err = work(r)
		return err
	})
	if err != nil {
		return o, err
	}
	for _, line := range o.lines {
		p.say("%s", line)
	}
	p.say("%s not printed yet", words.Plural(len(o.tags), "label is", "labels are"))
	p.tell(o.notices)
	p.env.Next("print all that waits: pipstake labels --missing")
	return o, nil
}

// tell writes notices.
func (p *printRun) tell(notices []string) {
	for _, n := range notices {
		p.env.Notice("%s", n)
	}
}

// next says what comes next in the season, unless nothing was issued.
func (p *printRun) next(format string, args ...any) {
	if p.preview == "" {
		p.env.Next(format, args...)
	}
}

// say prints a line of results: as a remark where the file takes up standard
// output.
func (p *printRun) say(format string, args ...any) {
	if p.out == "-" || p.preview == "-" {
		p.env.Remark(format, args...)
		return
	}
	p.env.Say(format, args...)
}

// record lays out what was ordered, records it as printed, and writes it beside
// its target: as many files as there are faces, and those written so far where
// there is an error.
func (p *printRun) record(r *registry.Registry, o order) ([]sheetFile, error) {
	batches, err := p.layOut(r, o)
	if err != nil {
		return nil, err
	}
	var files []sheetFile
	for _, b := range batches {
		f, err := p.write(b)
		if err != nil {
			return files, err
		}
		files = append(files, f)
	}
	return files, nil
}

// layOut puts what was ordered into its cells and records it in r.
func (p *printRun) layOut(r *registry.Registry, o order) ([]*batch, error) {
	faces := byFace(o.tags)
	if len(faces) > 1 && (p.out != "" || p.stock != "" || p.first > 0) {
		return nil, differentSheets(faces)
	}
	var batches []*batch
	for _, tags := range faces {
		f, err := p.fit(r, tags)
		if err != nil {
			return nil, err
		}
		c, err := p.assignCells(r, f, o.on)
		if err != nil {
			return nil, err
		}
		b := &batch{fitted: f, cells: c, printed: o.on}
		if b.number, err = r.AddLabels(o.on, b.prints()); err != nil {
			return nil, err
		}
		batches = append(batches, b)
	}
	return batches, nil
}

// differentSheets says that one file and one stock do not do for several faces.
func differentSheets(faces [][]reading.Key) error {
	var nouns, flags []string
	for _, tags := range faces {
		nouns = append(nouns, facesNoun(tags[0].Face))
		flags = append(flags, "--face "+string(tags[0].Face))
	}
	return problem.Use(words.List(nouns)+" go on different sheets", "name the file and the stock for one at a time: "+strings.Join(flags, ", then "))
}

// byFace parts tags by their faces.
func byFace(tags []reading.Key) [][]reading.Key {
	var faces [][]reading.Key
	for _, face := range []registry.Face{registry.BagFace, registry.StakeFace, registry.SeedlingFace, registry.BranchFace} {
		of := slices.DeleteFunc(slices.Clone(tags), func(t reading.Key) bool { return t.Face != face })
		if len(of) > 0 {
			faces = append(faces, of)
		}
	}
	return faces
}

// fit draws labels of one face for the cells of their stock.
func (p *printRun) fit(r *registry.Registry, tags []reading.Key) (fitted, error) {
	b := fitted{face: tags[0].Face, tags: tags}
	var err error
	if b.stock, err = p.stockFor(r, b.face); err != nil {
		return b, err
	}
	if b.shift, b.back, err = p.shifts(r, b.stock); err != nil {
		return b, err
	}
	if err := p.checkFlip(b); err != nil {
		return b, err
	}
	var faces, backs []label.Face
	for _, t := range b.tags {
		f, err := p.faceOf(r, t)
		if err != nil {
			return b, unfit(fmt.Sprintf("label of %s on %s", t, b.stock.Name), err)
		}
		faces = append(faces, f)
		if stake, ok := f.(label.Stake); ok && p.flip != layout.NoFlip {
			backs = append(backs, label.StakeBack{Stake: stake})
		}
	}
	fitting := p.env.Working("drawing "+facesNoun(b.face), 0)
	defer fitting.End()
	if b.drawn, err = b.fitFaces(p, faces); err != nil {
		return b, b.unfit("label", b.tooSmall(p, faces, err))
	}
	behind := b.stock.BackRoom(p.dpi)
	behind.Names = p.names
	if b.backs, err = label.Fit(backs, behind); err != nil {
		return b, b.unfit("back", err)
	}
	return b, nil
}

// fitFaces sets the labels for the way of reading the stock that suits them best.
func (b *fitted) fitFaces(p *printRun, faces []label.Face) ([]*label.Drawing, error) {
	var first error
	for _, way := range b.stock.Ways() {
		room := way.Room(p.dpi)
		room.Names = p.names
		drawn, err := label.Fit(faces, room)
		if err == nil || !is[*label.RoomError](err) {
			b.stock = way
			return drawn, err
		}
		if first == nil {
			first = err
		}
	}
	return nil, first
}

// unfit says which of the labels cannot be drawn.
func (b fitted) unfit(side string, err error) error {
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
func (p *printRun) job(b *batch) layout.Job {
	title := fmt.Sprintf("pipstake batch %d, %s: %s", b.number, b.printed, faceNoun(b.face, len(b.tags)))
	job := layout.Job{Stock: b.stock, Title: title, Created: p.created, Shift: b.shift, BackShift: b.back, Flip: p.flip, Begun: len(b.before.Used) > 0, Gain: p.gain}
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

// write makes the batch's PDF, or its pictures, and puts it beside its target.
func (p *printRun) write(b *batch) (sheetFile, error) {
	f := sheetFile{batch: b}
	if isPNG(p.out) {
		return p.writePictures(f)
	}
	writing := p.env.Working("writing the PDF", 0)
	defer writing.End()
	var pdf bytes.Buffer
	if err := layout.WritePDF(&pdf, p.job(b)); err != nil {
		return f, err
	}
	out := p.out
	if out == "" {
		out = b.fileName()
	}
	var err error
	if f.target, err = p.env.target(out, p.force); err != nil {
		return f, err
	}
	file, err := picture{target: f.target}.store(pdf.Bytes())
	f.files = []picture{file}
	return f, err
}

// writePictures makes a picture of each label of a roll, dot by dot.
func (p *printRun) writePictures(f sheetFile) (sheetFile, error) {
	if f.stock.Kind != layout.Roll {
		return f, problem.Use(fmt.Sprintf("--out %s: a sheet such as %s is printed from a PDF", quotedPath(p.out), f.stock.Name),
			"give a name that ends in .pdf; pictures are for rolls, and --preview shows a sheet")
	}
	drawing := p.env.Working("drawing pictures", 0)
	defer drawing.End()
	err := layout.Bitmaps(p.job(f.batch), p.dpi, func(n, _ int, png []byte) error {
		at, err := p.env.targetOf(pngFile, "--out", numbered(p.out, n), p.force)
		if err != nil {
			return err
		}
		file, err := picture{target: at}.store(png)
		if err == nil {
			f.files = append(f.files, file)
		}
		return err
	})
	if err != nil {
		discard(f.files)
		return f, err
	}
	f.target = f.files[0].target
	return f, nil
}

// abandon removes what was written for labels that are not to be.
func abandon(files []sheetFile) {
	for _, f := range files {
		discard(f.files)
	}
}

// finish moves the files to their targets. It comes after the registry is
// saved, so worded has to tell how to get the sheets after a failure; it gets
// those that did not reach their targets.
func (p *printRun) finish(files []sheetFile, worded func([]sheetFile, error) error) error {
	for i, f := range files {
		for n, file := range f.files {
			if err := file.moveIntoPlace(p.env); err != nil {
				discard(f.files[n:])
				abandon(files[i+1:])
				return worded(files[i:], err)
			}
		}
		p.report(f)
	}
	return nil
}

// unplaced says that batches are recorded, but their sheets are not where they
// should be.
func unplaced(files []sheetFile, err error) error {
	var numbers, again []string
	for _, f := range files {
		numbers = append(numbers, strconv.Itoa(f.number))
		again = append(again, fmt.Sprintf("pipstake labels --batch %d --out FILE", f.number))
	}
	return problem.Failure(fmt.Sprintf("cannot write %s: %s; the labels are recorded, batch %s", files[0].target.shown, problem.Reason(err), words.List(numbers)),
		"write the sheet with "+words.List(again))
}
