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
func (e *env) stockSheet(dir, name, printer, out string, force bool) error {
	r, err := e.registryIfAny(dir)
	if err != nil {
		return err
	}
	s, err := findStock(r, name)
	if err != nil {
		return err
	}
	p := printRun{env: e, out: out, printer: printer}
	t := layout.TestSheet{Stock: s, Printer: p.printerName(), Adjust: "pipstake stock adjust " + s.Name}
	if printer != "" {
		t.Adjust += " --printer " + quoted(printer)
	}
	if r != nil {
		if t.Kept, err = keptShift(r, p.printerName(), s); err != nil {
			return err
		}
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
	p.env.Next("%s --dx N --dy N", t.Adjust)
}

// adjusting are the flags that tell a shift.
type adjusting struct {
	dx, dy, measured *lengthFlag
}

func (f *flags) adjusting() *adjusting {
	return &adjusting{
		dx:       f.length("dx", "adjust: move everything rightward by so many `MM`, below zero leftward"),
		dy:       f.length("dy", "adjust: move everything downward by so many `MM`, below zero upward"),
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
	if !a.dx.given && !a.dy.given {
		return problem.Use("stock adjust: --dx or --dy is missing", fmt.Sprintf("read them off a test sheet: pipstake stock sheet %s", name))
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

// stockAdjust keeps the shift of a printer on a stock. An axis that is not
// given stays as it was.
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
		kept, err := r.Adjustment(p.printerName(), s.Name)
		if err != nil {
			return err
		}
		before = layout.Shift{X: kept.DX, Y: kept.DY}
		if a.dx.given {
			kept.DX = a.dx.mm
		}
		if a.dy.given {
			kept.DY = a.dy.mm
		}
		now = layout.Shift{X: kept.DX, Y: kept.DY}
		if now == before {
			return nil
		}
		return r.Adjust(kept)
	})
	if err != nil {
		return err
	}
	said := "not moved"
	if now != (layout.Shift{}) {
		said = "moved " + moved(now)
	}
	e.Say("%s, printer %s: pages are %s", s.Name, p.printerName(), said)
	if before != (layout.Shift{}) && before != now {
		e.Say("  before  %s", moved(before))
	}
	if strays := s.Strays(now); strays != "" {
		e.Notice("%s", strays)
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
	return " --printer " + quoted(printer)
}

// quoted puts a word of several into quotes, for a command line.
func quoted(word string) string {
	if strings.ContainsAny(word, " \t") {
		return "\"" + word + "\""
	}
	return word
}
