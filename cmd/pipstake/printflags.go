package main

import (
	"errors"
	"fmt"
	"strconv"
	"time"

	"pipstake/ids/problem"
	"pipstake/ids/season"
	"pipstake/label"
	"pipstake/layout"
)

// printFlags are the flags of a command that prints.
type printFlags struct {
	out     *string
	preview *string
	force   *bool
	stock   *string
	first   *countFlag
	fresh   *bool
	printer *string
	dpi     *wordFlag
	gain    *countFlag
	font    *string
	later   *bool // nil for a command that issues nothing
}

// What is taken where a flag says nothing else.
const (
	defaultDPI     = 600
	defaultPrinter = "printer"
)

// printing adds the flags that all commands which print share.
func (f *flags) printing() *printFlags {
	before := len(f.all())
	p := &printFlags{
		out:     f.text("out", "the PDF's `FILE`, - for standard output; where left out, face and batch such as bags-0007.pdf, in this folder. For a roll also FILE.png, a picture of exact dots for each label"),
		preview: f.text("preview", "draw the pages into `FILE.png` to look at; nothing is issued"),
		force:   f.onOff("force", "replace a PDF, or a preview, that exists"),
		stock:   f.text("stock", "the `STOCK`, the sheets to print on, see pipstake stock list; where left out, a4-3x8-70x37 for bags, a4-cut-148x20 for stakes, a4-5x13-38.1x21.2 for seedlings and a4-cut-100x25 for branch tags"),
		first:   f.count("first", "the `CELL` to start at, where it is not the next free one", 1, mostCells),
		fresh:   f.onOff("fresh", "start on a fresh sheet, not on the one that is used in part"),
		printer: f.text("printer", "the `PRINTER`, whose shift stock adjust has kept; printer where left out"),
		dpi:     f.resolution(""),
		gain:    f.count("gain", "draw dark modules of codes narrower by so many printer `DOTS`, for a printer whose ink runs", 0, 20),
		font:    f.font(),
	}
	f.shared = f.all()[before:]
	return p
}

// issuing adds the flags of a command that issues what it prints.
func (f *flags) issuing() *printFlags {
	p := f.printing()
	p.later = f.onOff("later", "issue now and print nothing: labels --missing prints all that waits at the end of the day, on as few sheets as it needs")
	return p
}

// resolution adds the flag for a printer's resolution, for a word of the command
// where one is given.
func (f *flags) resolution(of string) *wordFlag {
	return f.word("dpi", of+"the printer's `DOTS` in an inch: 203, 300, 305, 360, 600, 720 or 1200; 600 where left out", resolutions...)
}

// mostCells is more than any sheet has.
const mostCells = 10_000

// printRun prints the labels of one command.
type printRun struct {
	env      *env
	out      string // as given; "" for the default name
	preview  string // "" to print
	later    bool   // issue only
	force    bool
	stock    string // as given; "" for each face's default
	first    int    // the cell to start at; 0 for the next free one
	fresh    bool   // start on a fresh sheet
	printer  string // "" for the default one
	dpi      int
	gain     int              // printer dots
	flip     layout.Flip      // for stakes with backs
	names    *label.Typeface  // nil for the font of the program
	practice *season.Practice // nil until it is asked for
	created  time.Time
}

// newPrintRun checks all that can be checked of the printing flags before the
// registry is opened.
func (e *env) newPrintRun(f *printFlags) (*printRun, error) {
	p := &printRun{env: e, out: *f.out, preview: *f.preview, force: *f.force, first: f.first.n, fresh: *f.fresh,
		printer: *f.printer, dpi: defaultDPI, gain: f.gain.n}
	if p.later = f.later != nil && *f.later; p.later && (p.out != "" || p.preview != "") {
		return nil, problem.Use("--later prints nothing, so there is no file to name", "leave --out and --preview out; pipstake labels --missing --out FILE prints what waits")
	}
	var err error
	if f.dpi.word != "" {
		p.dpi, _ = strconv.Atoi(f.dpi.word) // one of few words
	}
	if *f.stock != "" {
		p.stock = *f.stock
		var unknown *layout.UnknownStockError
		if _, err := layout.FindStock(p.stock); !errors.As(err, &unknown) && err != nil {
			return nil, stockError(p.stock, err)
		}
	}
	if p.out != "" {
		kind := pdfFile
		if isPNG(p.out) {
			kind = pngFile
		}
		if _, err := e.targetOf(kind, "--out", p.out, p.force); err != nil {
			return nil, err
		}
	}
	if p.preview != "" {
		if _, err := e.previewTarget(p.preview, 1, p.force); err != nil {
			return nil, err
		}
	}
	if p.created, err = e.creation(); err != nil {
		return nil, err
	}
	p.names, err = e.typeface(*f.font)
	return p, err
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
		return time.Time{}, problem.Use(fmt.Sprintf("%s=%q is no count of seconds since 1970", variable, text), "set it to a whole number, or unset it")
	}
	return time.Unix(seconds, 0).UTC(), nil
}
