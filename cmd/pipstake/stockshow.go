package main

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"pipstake/cmd/pipstake/terminal"
	"pipstake/ids/words"
	"pipstake/label"
	"pipstake/layout"
)

func (e *env) stockShow(dir, name string, dpi int, asJSON bool) error {
	r, err := e.registryIfAny(dir)
	if err != nil {
		return err
	}
	s, err := findStock(r, name)
	if err != nil {
		return err
	}
	facts := factsOf(s)
	facts.Own, facts.Notices = isOwn(r, s.Name), s.Notices()
	facts.Faces = facesOn(s, dpi)
	if r != nil {
		for _, a := range r.Adjustments() {
			if strings.EqualFold(a.Stock, s.Name) {
				facts.Shifts = append(facts.Shifts, shiftFact{a.Printer, a.DX, a.DY, a.DX + a.BackDX, a.DY + a.BackDY})
			}
		}
	}
	if asJSON {
		return e.SayJSON(facts)
	}
	t := stockTable(s, s.Room(dpi))
	for _, a := range facts.Shifts {
		front, back := layout.Shift{X: a.DX, Y: a.DY}, layout.Shift{X: a.BackDX, Y: a.BackDY}
		said := movedOrNot(front)
		if back != front {
			said += "; backs " + movedOrNot(back)
		}
		t.Row("moved", fmt.Sprintf("%s, for the printer %s", said, a.Printer))
	}
	for _, f := range facts.Faces {
		said := f.Why
		if f.Fits {
			said = fmt.Sprintf("%s, at %d dpi", strings.Join(f.Codes, "; "), dpi)
		}
		t.Row(f.Face, said)
	}
	e.Say("%s", s.Name)
	e.SayTable(t, "  ")
	if modules := modulesTable(facts.Faces); modules != nil {
		e.Say("  modules of codes in mm, by the printer's dots in an inch")
		e.SayTable(modules, "  ")
	}
	for _, n := range facts.Notices {
		e.Notice("%s", n)
	}
	for _, a := range facts.Shifts {
		if strays := s.Strays(layout.Shift{X: a.DX, Y: a.DY}); strays != "" {
			e.Notice("printer %s: %s", a.Printer, strays)
		}
	}
	return nil
}

// movedOrNot tells a shift in words: "not" for none.
func movedOrNot(s layout.Shift) string {
	if said := moved(s); said != "" {
		return said
	}
	return "not"
}

// stockTable returns the measures of a stock.
func stockTable(s layout.Stock, room label.Room) *terminal.Table {
	var t terminal.Table
	t.Row("kind", s.Kind.String())
	t.Row("paper", s.Paper.String())
	t.Row("labels", fmt.Sprintf("%d in %s and %s, each %s×%s mm as it is read", s.PerSheet(), words.Plural(s.Columns, "column", "columns"), words.Plural(s.Rows, "row", "rows"), mm(room.W), mm(room.H)))
	t.Row("first", fmt.Sprintf("%s mm from the left, %s mm from the top", mm(s.Left), mm(s.Top)))
	t.Row("pitch", fmt.Sprintf("%s mm across, %s mm down", mm(s.PitchX), mm(s.PitchY)))
	m := room.Margin
	t.Row("margin", fmt.Sprintf("left %s, top %s, right %s, bottom %s mm inside the cut stay white", mm(m.Left), mm(m.Top), mm(m.Right), mm(m.Bottom)))
	return &t
}

// resolutions are those of printers in common use, in dots an inch.
var resolutions = []string{"203", "300", "305", "360", "600", "720", "1200"}

// modulesTable tells how large the modules of each face's first code are at each
// resolution; nil where no face fits.
func modulesTable(faces []faceFacts) *terminal.Table {
	var t terminal.Table
	t.Row(append([]string{"dpi"}, resolutions...)...)
	fit := false
	for _, f := range faces {
		cells := []string{f.Face}
		for _, dpi := range resolutions {
			cell := "-"
			for _, m := range f.Modules {
				if strconv.Itoa(m.DPI) == dpi {
					cell, fit = fmt.Sprintf("%.2f", m.Module), true
				}
			}
			cells = append(cells, cell)
		}
		t.Row(cells...)
	}
	if !fit {
		return nil
	}
	return &t
}

// facesOn tries the faces on a stock, with parents' names of a usual length.
func facesOn(s layout.Stock, dpi int) []faceFacts {
	var faces []faceFacts
	for _, f := range sampleFaces() {
		facts := faceFacts{Face: f.name}
		d, err := fitSomeWay(s, dpi, f.face)
		if err != nil {
			facts.Why = err.Error()
		} else {
			facts.Fits = true
			for _, c := range d.Codes {
				facts.Codes = append(facts.Codes, c.Symbol.String())
			}
		}
		for _, word := range resolutions {
			at, _ := strconv.Atoi(word) // one of few words
			if d, err := fitSomeWay(s, at, f.face); err == nil && len(d.Codes) > 0 {
				facts.Modules = append(facts.Modules, moduleFact{at, math.Round(d.Codes[0].Symbol.Module()*1e4) / 1e4})
			}
		}
		faces = append(faces, facts)
	}
	return faces
}

// fitSomeWay sets a label in the way of reading the stock that suits it best.
func fitSomeWay(s layout.Stock, dpi int, f label.Face) (*label.Drawing, error) {
	b := fitted{stock: s}
	drawn, err := b.fitFaces(&printRun{dpi: dpi}, []label.Face{f})
	if err != nil {
		return nil, err
	}
	return drawn[0], nil
}
