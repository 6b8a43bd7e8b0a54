package main

import (
	"fmt"
	"slices"
	"strconv"

	"pipstake/cmd/pipstake/terminal"
	"pipstake/ids/problem"
	"pipstake/ids/registry"
	"pipstake/ids/words"
	"pipstake/layout"
)

var stockCommand = command{
	name:      "stock",
	records:   true,
	summary:   "the sheets and rolls that labels are printed on: list, add, adjust",
	arguments: "[list|show|add|sheet|adjust] [STOCK]",
	help: `Stocks are named by their dimensions in millimetres: a4-3x8-70x37 is an A4 sheet
with 3 columns and 8 rows of labels 70 mm wide and 37 mm high. A sheet of stakes
to cut can have any size: a4-cut-127x16 holds stakes 127 mm long and 16 mm wide;
so can a roll, one label a page: roll-62x29.

  pipstake stock list
  pipstake stock show a4-cut-148x20          measures, and what fits on it
  pipstake stock show a4-3x8-70x37 --dpi 300

A sheet of your own is added by its measures and kept in the registry. Columns,
rows, pitch and margins must close on the page.

  pipstake stock add --paper a4 --columns 4 --rows 12 --label 45.7x21.2 \
    --pitch 48.2x21.2 --left 9.85 --top 21.25
  pipstake stock add --roll 89x36
  pipstake stock add --roll 38x25 --columns 2 --gap 3   two labels side by side
  pipstake stock add loops --roll 25x200 --clear top:20  20 mm stay white

Labels of a roll that are narrow and long are read along it; --turned says so of
others. Your own stock comes before a built-in one of its name.

Printers draw a little beside where they should. The test sheet tells by how
much: print it on plain paper at actual size, and measure its rules first. A
rule that is not 100 mm long means that the page was scaled; switch off "fit to
page", since no shift mends that. Then lay it and a sheet of the labels edge on
edge, hold both against the light, read dx and dy off the steps, and keep them.
From then on every page for that printer and stock is moved. The ladders at the
edges tell how much your printer leaves white there; --margin keeps it for all
sheets.

  pipstake stock sheet a4-3x8-70x37 --printer office
  pipstake stock adjust a4-3x8-70x37 --printer office --dx 0.5 --dy -1.25
  pipstake stock adjust a4-3x8-70x37 --printer office --margin 5
  pipstake bags 2026X012 --printer office`,
	define: func(f *flags) action {
		asJSON := f.json()
		dpi := f.resolution("show: ")
		m := f.measured()
		a := f.adjusting()
		printer := f.text("printer", "sheet, adjust: the `PRINTER`; printer where left out")
		out := f.text("out", "sheet: the PDF's `FILE`, - for standard output; test-STOCK.pdf where left out")
		edge := f.word("two-sided", "sheet: a page for backs too, for sheets that are turned over their `long|short` edge", "long", "short")
		force := f.onOff("force", "sheet: replace a PDF that exists")
		dir := f.registry()
		return func(e *env, args []string) error {
			word, name := "list", ""
			if len(args) > 0 {
				word = args[0]
			}
			if len(args) > 1 {
				name = args[1]
			}
			if err := stockArguments(word, name, m, a); err != nil {
				return err
			}
			switch word {
			case "show":
				resolution := defaultDPI
				if dpi.word != "" {
					resolution, _ = strconv.Atoi(dpi.word) // one of four words
				}
				return e.stockShow(*dir, name, resolution, *asJSON)
			case "add":
				return e.stockAdd(*dir, name, m)
			case "sheet":
				return e.stockSheet(*dir, name, *printer, *out, flipOver(edge), *force)
			case "adjust":
				return e.stockAdjust(*dir, name, *printer, a)
			}
			return e.stockList(*dir, *asJSON)
		}
	},
}

// stockArguments compares what is said of a stock with what is to be done.
func stockArguments(word, name string, m *measured, a *adjusting) error {
	switch word {
	case "list":
		if name != "" {
			return problem.Use(fmt.Sprintf("stock list: unexpected argument %q", name), "pipstake stock show STOCK tells about one")
		}
	case "show", "sheet", "adjust":
		if name == "" {
			return problem.Use(fmt.Sprintf("stock %s: STOCK is missing", word), "pipstake stock list tells the names")
		}
	case "add":
	default:
		return problem.Use(fmt.Sprintf("stock does not know %q", word), "there are pipstake stock list, show, add, sheet and adjust")
	}
	if word != "add" && m.given() {
		return problem.Use(fmt.Sprintf("stock %s takes no measures of a stock", word), "they go with pipstake stock add")
	}
	if word != "adjust" && a.given() {
		return problem.Use(fmt.Sprintf("stock %s takes no shift", word), "it goes with pipstake stock adjust STOCK")
	}
	return nil
}

// stockFacts is a stock in JSON. Measures are in millimetres, of labels as they
// lie on the page.
type stockFacts struct {
	Name        string      `json:"name"`
	Kind        string      `json:"kind"`
	Paper       string      `json:"paper"`
	PaperWidth  float64     `json:"paper_width"`
	PaperHeight float64     `json:"paper_height"`
	Columns     int         `json:"columns"`
	Rows        int         `json:"rows"`
	LabelWidth  float64     `json:"label_width"`
	LabelHeight float64     `json:"label_height"`
	Left        float64     `json:"left"`
	Top         float64     `json:"top"`
	PitchX      float64     `json:"pitch_x"`
	PitchY      float64     `json:"pitch_y"`
	Turned      bool        `json:"turned"`
	Own         bool        `json:"own"` // in stocks.csv
	Notices     []string    `json:"notices,omitempty"`
	Shifts      []shiftFact `json:"shifts,omitempty"`
	Faces       []faceFacts `json:"faces,omitempty"`
}

// shiftFact is how far a printer's pages are moved, in millimetres, rightward
// and downward, fronts and backs.
type shiftFact struct {
	Printer string  `json:"printer"`
	DX      float64 `json:"dx"`
	DY      float64 `json:"dy"`
	BackDX  float64 `json:"back_dx"`
	BackDY  float64 `json:"back_dy"`
}

// faceFacts tells how a face fits on a stock.
type faceFacts struct {
	Face    string       `json:"face"`
	Fits    bool         `json:"fits"`
	Codes   []string     `json:"codes,omitempty"`
	Why     string       `json:"why,omitempty"`     // it does not fit
	Modules []moduleFact `json:"modules,omitempty"` // where it fits
}

// moduleFact tells how large the modules of the first code are, in millimetres, for
// a printer of so many dots in an inch.
type moduleFact struct {
	DPI    int     `json:"dpi"`
	Module float64 `json:"module"`
}

func factsOf(s layout.Stock) stockFacts {
	return stockFacts{Name: s.Name, Kind: s.Kind.String(), Paper: s.Paper.Name, PaperWidth: s.Paper.W, PaperHeight: s.Paper.H,
		Columns: s.Columns, Rows: s.Rows, LabelWidth: s.LabelW, LabelHeight: s.LabelH,
		Left: s.Left, Top: s.Top, PitchX: s.PitchX, PitchY: s.PitchY, Turned: s.Turned}
}

// isOwn reports whether a stock is one of the grower's own.
func isOwn(r *registry.Registry, name string) bool {
	if r == nil {
		return false
	}
	_, ok, _ := r.Stock(name)
	return ok
}

// ownStocks are the grower's own stocks. Rows that do not make one are noticed.
func (e *env) ownStocks(r *registry.Registry) []layout.Stock {
	if r == nil {
		return nil
	}
	var own []layout.Stock
	for _, row := range r.Stocks() {
		s, err := ownStock(row)
		if err != nil {
			e.Notice("%s", err)
			continue
		}
		own = append(own, s)
	}
	return own
}

func (e *env) stockList(dir string, asJSON bool) error {
	r, err := e.registryIfAny(dir)
	if err != nil {
		return err
	}
	own := e.ownStocks(r)
	stocks := slices.DeleteFunc(layout.Stocks(), func(s layout.Stock) bool {
		return slices.ContainsFunc(own, func(o layout.Stock) bool { return o.Name == s.Name })
	})
	stocks = append(stocks, own...)
	if asJSON {
		all := []stockFacts{}
		for _, s := range stocks {
			facts := factsOf(s)
			facts.Own = isOwn(r, s.Name)
			all = append(all, facts)
		}
		return e.SayJSON(all)
	}
	var t terminal.Table
	for _, s := range stocks {
		room := s.Room(defaultDPI)
		whose := ""
		if isOwn(r, s.Name) {
			whose = "your own"
		}
		t.Row(s.Name, s.Kind.String(), words.Plural(s.PerSheet(), "label", "labels"), fmt.Sprintf("%s×%s mm", mm(room.W), mm(room.H)), whose)
	}
	e.SayTable(&t, "")
	e.Next("what fits on one: pipstake stock show STOCK; of any size: a4-cut-LENGTHxWIDTH, letter-cut-LENGTHxWIDTH, roll-WIDTHxHEIGHT; your own: pipstake stock add")
	return nil
}
