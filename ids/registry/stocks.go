package registry

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
)

// Files that a registry need not have.
const (
	stocksFile      = "stocks.csv"
	adjustmentsFile = "adjustments.csv"
)

// StockKind is how the labels of a grower's own stock come.
type StockKind string

// The kinds of a grower's own stocks.
const (
	DieCutKind StockKind = "die-cut" // a sheet of labels that peel off
	RollKind   StockKind = "roll"    // one label after the other
)

// Turning tells which way labels are read on the page.
type Turning string

// The turnings.
const (
	NotTurned Turning = ""
	Turned    Turning = "turned" // read from the foot of the page upward
)

// Stock is a grower's own sheet of labels, or roll. All measures are in
// millimetres, of the labels as they lie on the page. Whether they agree with
// each other is not looked at here.
type Stock struct {
	Name                    string
	Kind                    StockKind
	Paper                   string // "a4", "letter", or its measures as in "120x200"
	Columns, Rows           int
	LabelWidth, LabelHeight float64
	Left, Top               float64 // of the first label
	PitchX, PitchY          float64 // from one label to the next
	Turned                  Turning
	Notes                   string
	Clear                   string // places to keep white, as in "left:12 top:3"; "" for none
}

// Adjustment is how far a printer's pages are moved on a stock, rightward and
// downward, in millimetres; backs, and what is printed behind them, by so much
// besides. The row of AnyStock has the edge of sheets that the printer leaves
// white, 0 where it is not known.
type Adjustment struct {
	Printer, Stock string
	DX, DY         float64
	BackDX, BackDY float64
	Margin         float64
}

// AnyStock stands for all stocks in the row with a printer's white edge.
const AnyStock = "any sheet"

var stockColumns = []column[Stock]{
	nameColumn("name", required, func(s *Stock) *string { return &s.Name }),
	wordColumn("kind", func(s *Stock) *StockKind { return &s.Kind }, DieCutKind, RollKind),
	nameColumn("paper", required, func(s *Stock) *string { return &s.Paper }),
	numberColumn("columns", required, func(s *Stock) *int { return &s.Columns }),
	numberColumn("rows", required, func(s *Stock) *int { return &s.Rows }),
	measureColumn("label_width", func(s *Stock) *float64 { return &s.LabelWidth }),
	measureColumn("label_height", func(s *Stock) *float64 { return &s.LabelHeight }),
	measureColumn("left", func(s *Stock) *float64 { return &s.Left }),
	measureColumn("top", func(s *Stock) *float64 { return &s.Top }),
	measureColumn("pitch_x", func(s *Stock) *float64 { return &s.PitchX }),
	measureColumn("pitch_y", func(s *Stock) *float64 { return &s.PitchY }),
	wordColumn("turned", func(s *Stock) *Turning { return &s.Turned }, NotTurned, Turned),
	textColumn("notes", func(s *Stock) *string { return &s.Notes }),
	late(nameColumn("clear", optional, func(s *Stock) *string { return &s.Clear })),
}

var adjustmentColumns = []column[Adjustment]{
	nameColumn("printer", required, func(a *Adjustment) *string { return &a.Printer }),
	nameColumn("stock", required, func(a *Adjustment) *string { return &a.Stock }),
	measureColumn("dx", func(a *Adjustment) *float64 { return &a.DX }),
	measureColumn("dy", func(a *Adjustment) *float64 { return &a.DY }),
	lateMeasure("back_dx", func(a *Adjustment) *float64 { return &a.BackDX }),
	lateMeasure("back_dy", func(a *Adjustment) *float64 { return &a.BackDY }),
	lateMeasure("margin", func(a *Adjustment) *float64 { return &a.Margin }),
}

// mostMillimetres is the largest measure in a cell.
const mostMillimetres = 10_000

// measureColumn holds millimetres, kept to a ten-thousandth, with a decimal
// point or a decimal comma.
func measureColumn[T any](name string, field func(*T) *float64) column[T] {
	read := func(text string, e *T) *cellIssue {
		text = strings.TrimSpace(text)
		v, err := strconv.ParseFloat(strings.Replace(text, ",", ".", 1), 64)
		switch {
		case text == "":
			return damaged("the measure is missing", "write it in, in millimetres")
		case err != nil || strings.Trim(text, "-0123456789.,") != "":
			return damaged("is not a measure in millimetres", "write digits, with a decimal point where needed")
		case math.Abs(v) > mostMillimetres:
			return damaged(fmt.Sprintf("is more than %d mm", mostMillimetres), "write it in millimetres")
		}
		*field(e) = v
		return nil
	}
	return column[T]{name: name, empty: required, read: read, write: func(e *T) string {
		return strconv.FormatFloat(math.Round(*field(e)*1e4)/1e4+0, 'f', -1, 64) // +0 makes 0 of -0
	}}
}

// lateMeasure is a measure that older files lack; an empty cell is 0.
func lateMeasure[T any](name string, field func(*T) *float64) column[T] {
	c := late(measureColumn(name, field))
	read, write := c.read, c.write
	c.read = func(text string, e *T) *cellIssue {
		if strings.TrimSpace(text) == "" {
			return nil
		}
		return read(text, e)
	}
	c.write = func(e *T) string {
		if *field(e) == 0 {
			return ""
		}
		return write(e)
	}
	return c
}

// Stocks are the grower's own, in the order of their file. Rows with a cell
// that cannot be read are left out.
func (r *Registry) Stocks() []Stock {
	var whole []Stock
	for i, s := range r.stocks.entries {
		if r.stocks.unreadable(i) == nil {
			whole = append(whole, s)
		}
	}
	return whole
}

// Stock finds a grower's own stock by its name; false where there is none. The
// error is a *DamageError where a cell of its row cannot be read.
func (r *Registry) Stock(name string) (Stock, bool, error) {
	i := slices.IndexFunc(r.stocks.entries, func(s Stock) bool { return strings.EqualFold(s.Name, name) })
	if i < 0 {
		return Stock{}, false, nil
	}
	if found := r.stocks.unreadable(i); found != nil {
		return Stock{}, false, &DamageError{found}
	}
	return r.stocks.entries[i], true, nil
}

// AddStock records a grower's own stock. The error is a *Refusal where there is
// one of its name.
func (r *Registry) AddStock(s Stock) error {
	if _, exists, err := r.Stock(s.Name); exists || err != nil {
		return &Refusal{fmt.Sprintf("there is a stock %s in %s already", s.Name, stocksFile),
			"give this one another name, or change the measures in the row of that one"}
	}
	r.stocks.append(s)
	return nil
}

// Adjustments are in the order of their file. Rows with a cell that cannot be
// read are left out.
func (r *Registry) Adjustments() []Adjustment {
	var whole []Adjustment
	for i, a := range r.adjustments.entries {
		if r.adjustments.unreadable(i) == nil {
			whole = append(whole, a)
		}
	}
	return whole
}

// Adjustment of a printer on a stock; none, with zero measures, where nothing
// is recorded. The error is a *DamageError where a cell of its row cannot be
// read.
func (r *Registry) Adjustment(printer, stock string) (Adjustment, error) {
	i := r.adjustment(printer, stock)
	if i < 0 {
		return Adjustment{Printer: printer, Stock: stock}, nil
	}
	if found := r.adjustments.unreadable(i); found != nil {
		return Adjustment{}, &DamageError{found}
	}
	return r.adjustments.entries[i], nil
}

// Adjust records an adjustment in place of the one that its printer and stock
// had. The error is a *DamageError where the row of that one cannot be read, or
// a *Refusal of the printer's name.
func (r *Registry) Adjust(a Adjustment) error {
	var err error
	if a.Printer, err = oneLine("printer", a.Printer); err != nil {
		return err
	}
	i := r.adjustment(a.Printer, a.Stock)
	if i < 0 {
		r.adjustments.append(a)
		return nil
	}
	if found := r.adjustments.unreadable(i); found != nil {
		return &DamageError{found}
	}
	r.adjustments.replace(i, a)
	return nil
}

// adjustment is the place of an adjustment in its file; -1 for none.
func (r *Registry) adjustment(printer, stock string) int {
	return slices.IndexFunc(r.adjustments.entries, func(a Adjustment) bool {
		return strings.EqualFold(a.Printer, printer) && strings.EqualFold(a.Stock, stock)
	})
}

// listings are the files that a registry need not have.
func (r *Registry) listings() []tableFile {
	return []tableFile{r.varieties, r.stocks, r.adjustments, r.calendar, r.marks, r.history}
}

// listedTwice reports stocks and adjustments that stand in two rows: only the
// first is used.
func (c *checker) listedTwice() {
	first := map[string]int{}
	for i, s := range c.r.stocks.entries {
		c.twice(first, c.r.stocks.csvFile, i, "name", s.Name, strings.ToLower(s.Name))
	}
	first = map[string]int{}
	for i, a := range c.r.adjustments.entries {
		c.twice(first, c.r.adjustments.csvFile, i, "stock", a.Stock, strings.ToLower(a.Printer+"\x00"+a.Stock))
	}
}

// twice reports a row whose key an earlier one has.
func (c *checker) twice(first map[string]int, f *csvFile, row int, column, value, key string) {
	if _, seen := first[key]; !seen {
		first[key] = f.number(row)
		return
	}
	c.add(Finding{f.name, f.number(row), column, value, fmt.Sprintf("stands in row %d already, which is the one used", first[key]), "delete one of the two rows"})
}
