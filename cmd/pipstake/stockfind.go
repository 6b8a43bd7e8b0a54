package main

import (
	"errors"
	"fmt"
	"math"
	"strings"

	"pipstake/ids/problem"
	"pipstake/ids/registry"
	"pipstake/ids/words"
	"pipstake/layout"
)

// stockFor is the stock that a face is printed on.
func (p *printRun) stockFor(r *registry.Registry, face registry.Face) (layout.Stock, error) {
	name := p.stock
	if name == "" {
		name = defaultStock(face)
	}
	s, err := findStock(r, name)
	s.White = whiteEdge(r, p.printerName())
	return s, err
}

// findStock finds a stock by its name: one of the grower's own, a built-in one,
// or one that is worked out from its name. Without a registry r is nil.
func findStock(r *registry.Registry, name string) (layout.Stock, error) {
	if r != nil {
		row, ok, err := r.Stock(strings.TrimSpace(name))
		if err != nil {
			return layout.Stock{}, err
		}
		if ok {
			return ownStock(row)
		}
	}
	s, err := layout.FindStock(name)
	var unknown *layout.UnknownStockError
	if !errors.As(err, &unknown) {
		return s, stockError(name, err)
	}
	near := unknown.Near
	if r != nil {
		var names []string
		for _, own := range r.Stocks() {
			names = append(names, own.Name)
		}
		if own, ok := words.Nearest(name, names); ok {
			near = []string{own}
		}
	}
	hint := "pipstake stock list tells the names"
	if len(near) > 0 {
		hint = "did you mean " + near[0] + "? " + hint
	}
	return s, problem.Use(fmt.Sprintf("there is no stock %q", name), hint)
}

// stockError words what is wrong with the measures in a name.
func stockError(name string, err error) error {
	if err == nil {
		return nil
	}
	return problem.Use(fmt.Sprintf("stock %q: %v", name, err), "pipstake stock list tells the names")
}

// ownStock is a row of stocks.csv as a stock.
func ownStock(row registry.Stock) (layout.Stock, error) {
	paper, err := layout.FindPaper(row.Paper)
	if row.Kind == registry.RollKind {
		paper, err = layout.Paper{}, nil
	}
	s := layout.Stock{Name: strings.ToLower(row.Name), Kind: layout.DieCut, Paper: paper, Columns: row.Columns, Rows: row.Rows,
		LabelW: row.LabelWidth, LabelH: row.LabelHeight, Left: row.Left, Top: row.Top, PitchX: row.PitchX, PitchY: row.PitchY,
		Turned: row.Turned == registry.Turned}
	if err == nil {
		s.Clear, err = readClear(row.Clear)
	}
	if row.Kind == registry.RollKind {
		s.Kind = layout.Roll
	}
	if err == nil {
		s, err = layout.OwnStock(s)
	}
	if err != nil {
		return s, problem.Data(fmt.Sprintf("stock %s: %v", row.Name, err), "correct its row in stocks.csv; pipstake stock add makes one that agrees with itself")
	}
	return s, nil
}

// printerName is the printer that the labels go to.
func (p *printRun) printerName() string {
	if p.printer == "" {
		return defaultPrinter
	}
	return p.printer
}

// mostShift is more than any printer draws beside where it should, in
// millimetres.
const mostShift = 10.0

// shifts are how far fronts and backs are moved for the printer on a stock.
func (p *printRun) shifts(r *registry.Registry, s layout.Stock) (front, back layout.Shift, err error) {
	if front, back, err = keptShifts(r, p.printerName(), s); err != nil {
		return front, back, err
	}
	if p.printer != "" && !knowsPrinter(r, p.printer) {
		p.env.Notice("nothing is kept for the printer %q%s", p.printer, otherPrinters(r, p.printer))
	}
	return front, back, nil
}

// keptShifts are the shifts of a printer on a stock, as adjustments.csv has them:
// a back is moved as the front is, and by its own shift besides.
func keptShifts(r *registry.Registry, printer string, s layout.Stock) (front, back layout.Shift, err error) {
	a, err := r.Adjustment(printer, s.Name)
	if err != nil {
		return front, back, err
	}
	front = layout.Shift{X: a.DX, Y: a.DY}
	back = layout.Shift{X: a.DX + a.BackDX, Y: a.DY + a.BackDY}
	for i, shift := range []layout.Shift{front, back} {
		if math.Abs(shift.X) > mostShift || math.Abs(shift.Y) > mostShift {
			return front, back, problem.Data(fmt.Sprintf("adjustments.csv moves %s on %s by dx %s, dy %s mm", s.Name, printer, mm(shift.X), mm(shift.Y)),
				fmt.Sprintf("a printer is not off by more than %s mm: measure again, or go without a shift: pipstake stock adjust %s --dx 0 --dy 0%s%s", mm(mostShift), s.Name, []string{"", " --back"}[i], forPrinter(printer)))
		}
	}
	return front, back, nil
}

// whiteEdge is the edge of sheets that a printer leaves white, in millimetres; 0
// where nobody measured it.
func whiteEdge(r *registry.Registry, printer string) float64 {
	a, err := r.Adjustment(printer, registry.AnyStock)
	if err != nil || a.Margin < 0 || a.Margin > mostWhite {
		return 0 // check tells of it
	}
	return a.Margin
}

// mostWhite is more than any printer leaves white, in millimetres.
const mostWhite = 20.0

func knowsPrinter(r *registry.Registry, name string) bool {
	for _, a := range r.Adjustments() {
		if strings.EqualFold(a.Printer, name) {
			return true
		}
	}
	return false
}

// otherPrinters offers the printer that was probably meant.
func otherPrinters(r *registry.Registry, name string) string {
	var names []string
	for _, a := range r.Adjustments() {
		names = append(names, a.Printer)
	}
	if near, ok := words.Nearest(name, names); ok {
		return fmt.Sprintf("; did you mean %q?", near)
	}
	return ""
}

// stockFindings are the grower's own stocks that contradict themselves, and the
// shifts that no printer needs.
func stockFindings(r *registry.Registry) []registry.Finding {
	var found []registry.Finding
	for _, row := range r.Stocks() {
		if _, err := ownStock(row); err != nil {
			said := firstProblem(err)
			found = append(found, registry.Finding{File: "stocks.csv", Column: "name", Value: row.Name, What: said.What, Remedy: said.Remedy})
		}
	}
	for _, a := range r.Adjustments() {
		if _, _, err := keptShifts(r, a.Printer, layout.Stock{Name: a.Stock}); err != nil {
			said := firstProblem(err)
			found = append(found, registry.Finding{File: "adjustments.csv", Column: "printer", Value: a.Printer, What: said.What, Remedy: said.Remedy})
		}
		if a.Margin < 0 || a.Margin > mostWhite {
			found = append(found, registry.Finding{File: "adjustments.csv", Column: "margin", Value: mm(a.Margin), What: "no printer leaves so much white: it is left out of account",
				Remedy: "measure it on a test sheet: pipstake stock sheet STOCK"})
		}
	}
	return found
}

// moved tells a shift in words: "0.5 mm right, 0.3 mm up".
func moved(s layout.Shift) string {
	var parts []string
	for _, axis := range []struct {
		v              float64
		plus, backward string
	}{{s.X, "right", "left"}, {s.Y, "down", "up"}} {
		switch {
		case axis.v > 0:
			parts = append(parts, mm(axis.v)+" mm "+axis.plus)
		case axis.v < 0:
			parts = append(parts, mm(-axis.v)+" mm "+axis.backward)
		}
	}
	return strings.Join(parts, ", ")
}
