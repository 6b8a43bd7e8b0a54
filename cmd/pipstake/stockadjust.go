package main

import (
	"bytes"
	"fmt"
	"math"
	"os"
	"strings"

	"pipstake/ids/problem"
	"pipstake/ids/registry"
	"pipstake/layout"
)

// stockSheet prints a test sheet. A registry is not needed, but where there is
// one the shift is shown that it keeps.
func (e *env) stockSheet(dir, name, printer, out string, flip layout.Flip, force bool) error {
	r, err := e.registryIfAny(dir)
	if err != nil {
		return err
	}
	s, err := findStock(r, name)
	if err != nil {
		return err
	}
	p := printRun{env: e, out: out, printer: printer}
	t := layout.TestSheet{Stock: s, Flip: flip, Printer: p.printerName(), Adjust: "pipstake stock adjust " + s.Name}
	if printer != "" {
		t.Adjust += forPrinter(printer)
	}
	if r != nil {
		if t.Kept, t.KeptBack, err = keptShifts(r, p.printerName(), s); err != nil {
			return err
		}
		t.Stock.White = whiteEdge(r, p.printerName())
	}
	if t.Created, err = e.creation(); err != nil {
		return err
	}
	var pdf bytes.Buffer
	if err := layout.WriteTestSheet(&pdf, t); err != nil {
		return err
	}
	if out == "" {
		out = testSheetFile(s.Name)
	}
	target, err := e.target(out, force)
	if err != nil {
		return err
	}
	if err := e.deliver(target, pdf.Bytes()); err != nil {
		return err
	}
	p.tellSheet(t, target)
	return nil
}

// tellSheet says what to do with a test sheet.
func (p *printRun) tellSheet(t layout.TestSheet, at target) {
	p.say("test sheet for %s, %s", t.Stock.Name, at.shown)
	if t.Stock.Kind == layout.Roll {
		p.say("  print it on a label of the roll, at actual size (100 %%), never fitted to the page")
	} else {
		p.say("  print it on plain paper at actual size (100 %%), never fitted to the page")
		p.say("  both rules must be 100 mm: if not, the page was scaled, and no shift mends that")
	}
	if t.HasSteps() {
		p.say("  hold it and a sheet of the labels against the light, edge on edge")
		p.say("  at dx and dy, read the number of the step that the cut named there runs along")
	} else {
		p.say("  measure from the left and the upper edge to the corner mark at the upper left")
		p.say("  dx is %s less the first, dy is %s less the second", mm(t.Inset()), mm(t.Inset()))
	}
	if t.HasLadder() {
		p.say("  at each edge, read the first line that is printed whole: the largest of the four is the margin")
		p.env.Next("%s --dx N --dy N --margin N", t.Adjust)
	} else {
		p.env.Next("%s --dx N --dy N", t.Adjust)
	}
	if t.Flip != layout.NoFlip {
		p.env.Next("for the back, what its own page says: %s --back --dx N --dy N", t.Adjust)
	}
}

// adjusting are the flags that tell a shift, or what a printer leaves white.
type adjusting struct {
	dx, dy, measured, margin *lengthFlag
	back                     *bool
}

// given reports whether any of the flags is.
func (a *adjusting) given() bool {
	return a.dx.given || a.dy.given || a.measured.given || a.margin.given || *a.back
}

func (f *flags) adjusting() *adjusting {
	return &adjusting{
		dx:       f.length("dx", "adjust: move everything rightward by so many `MM`, below zero leftward"),
		dy:       f.length("dy", "adjust: move everything downward by so many `MM`, below zero upward"),
		margin:   f.length("margin", "adjust: the edge of sheets that the printer leaves white, in `MM`; it holds for all sheets, and 0 is as before: 4.2"),
		back:     f.onOff("back", "adjust: the shift is that of backs, as their own test page tells it"),
		measured: f.length("measured", "adjust: how long a rule of 100 mm came out, in `MM`"),
	}
}

// Measures of scaling, in millimetres.
const (
	ruleLength = 100.0
	ruleError  = 0.3 // what a ruler in a hand may be off
)

// check refuses a shift that would hide scaling, or that no printer needs.
func (a *adjusting) check(name string) error {
	if a.measured.given && math.Abs(a.measured.mm-ruleLength) > ruleError {
		return problem.Use(fmt.Sprintf("a rule of 100 mm that measures %s mm is scaling, by %.1f %%: no shift mends that", mm(a.measured.mm), a.measured.mm-ruleLength),
			"in the print dialog choose actual size (100 %), switch off \"fit to page\" and \"shrink\", check the paper size, and print the test sheet again")
	}
	if !a.dx.given && !a.dy.given && (*a.back || !a.margin.given) {
		return problem.Use("stock adjust: --dx or --dy is missing", fmt.Sprintf("read them off a test sheet: pipstake stock sheet %s", name))
	}
	if a.margin.given && (a.margin.mm < 0 || a.margin.mm > mostWhite) {
		return problem.Use(fmt.Sprintf("--margin %s: no printer leaves so much white", mm(a.margin.mm)), fmt.Sprintf("give millimetres from 0 to %s, as the test sheet tells them", mm(mostWhite)))
	}
	for _, axis := range []struct {
		flag  string
		shift *lengthFlag
	}{{"--dx", a.dx}, {"--dy", a.dy}} {
		if math.Abs(axis.shift.mm) > mostShift {
			return problem.Use(fmt.Sprintf("%s %s: no printer is off by more than %s mm", axis.flag, mm(axis.shift.mm), mm(mostShift)),
				"check the paper size in the print dialog, and measure again; millimetres, not tenths")
		}
	}
	return nil
}

// stockAdjust keeps the shift of a printer on a stock, and its margin on all. What
// is not given stays as it was.
func (e *env) stockAdjust(dir, name, printer string, a *adjusting) error {
	if err := a.check(name); err != nil {
		return err
	}
	p := printRun{env: e, printer: strings.TrimSpace(printer)}
	var s layout.Stock
	var before, now layout.Shift
	err := e.change(dir, func(r *registry.Registry) (err error) {
		if s, err = findStock(r, name); err != nil {
			return err
		}
		if err := a.keepMargin(r, p.printerName()); err != nil {
			return err
		}
		s.White = whiteEdge(r, p.printerName())
		before, now, err = a.keepShift(r, p.printerName(), s)
		return err
	})
	if err != nil {
		return err
	}
	if a.margin.given {
		e.Say("printer %s: ink stays %s mm inside the edge of every sheet", p.printerName(), mm(s.Edge()))
	}
	if a.dx.given || a.dy.given {
		e.tellShift(s, p.printerName(), *a.back, before, now)
	}
	again := ""
	if _, err := os.Stat(e.abs(testSheetFile(s.Name))); err == nil {
		again = " --force"
	}
	e.Next("see whether it is right now: pipstake stock sheet %s%s%s", s.Name, forPrinter(p.printerName()), again)
	return nil
}

// testSheetFile is the file of a test sheet where none is named.
func testSheetFile(stock string) string { return "test-" + stock + ".pdf" }

// forPrinter names a printer on a command line; "" for the one that is meant
// where none is named.
func forPrinter(printer string) string {
	if printer == defaultPrinter {
		return ""
	}
	return " --printer " + shellWords(printer)
}

// tellShift says by how much pages are moved from now on.
func (e *env) tellShift(s layout.Stock, printer string, back bool, before, now layout.Shift) {
	pages := "pages"
	if back {
		pages = "backs"
	}
	said := "not moved"
	if now != (layout.Shift{}) {
		said = "moved " + moved(now)
	}
	e.Say("%s, printer %s: %s are %s", s.Name, printer, pages, said)
	if before != (layout.Shift{}) && before != now {
		e.Say("  before  %s", moved(before))
	}
	if strays := s.Strays(now); strays != "" {
		e.Notice("%s", strays)
	}
}

// keepMargin records what a printer leaves white.
func (a *adjusting) keepMargin(r *registry.Registry, printer string) error {
	if !a.margin.given {
		return nil
	}
	kept, err := r.Adjustment(printer, registry.AnyStock)
	if err != nil || kept.Margin == a.margin.mm {
		return err
	}
	kept.Margin = a.margin.mm
	return r.Adjust(kept)
}

// keepShift records a shift, and returns the ones before and after.
func (a *adjusting) keepShift(r *registry.Registry, printer string, s layout.Stock) (before, now layout.Shift, err error) {
	kept, err := r.Adjustment(printer, s.Name)
	if err != nil {
		return before, now, err
	}
	x, y, fromX, fromY := &kept.DX, &kept.DY, 0.0, 0.0
	if *a.back { // it is kept beside that of the front
		x, y, fromX, fromY = &kept.BackDX, &kept.BackDY, kept.DX, kept.DY
	}
	before = layout.Shift{X: fromX + *x, Y: fromY + *y}
	now = before
	if a.dx.given {
		now.X, *x = a.dx.mm, a.dx.mm-fromX
	}
	if a.dy.given {
		now.Y, *y = a.dy.mm, a.dy.mm-fromY
	}
	if now == before {
		return before, now, nil
	}
	return before, now, r.Adjust(kept)
}
