package main

import (
	"errors"
	"fmt"
	"strconv"

	"pipstake/ids"
	"pipstake/label"
	"pipstake/layout"
)

var stockCommand = command{
	name:      "stock",
	summary:   "list the sheets that labels can be printed on",
	arguments: "[list|show] [NAME]",
	help: `Stocks are named by their dimensions in millimetres: a4-3x8-70x37 is an A4 sheet
with 3 columns and 8 rows of labels 70 mm wide and 37 mm high. A sheet of stakes
to cut can have any size: a4-cut-127x16 holds stakes 127 mm long and 16 mm wide.

  pipstake stock list
  pipstake stock show a4-cut-148x20          measures, and what fits on it
  pipstake stock show a4-3x8-70x37 --dpi 300`,
	define: func(f *flags) action {
		asJSON := f.json()
		dpi := f.word("dpi", "the printer's `DOTS` in an inch: 203, 300, 600 or 1200;\n600 where left out",
			"203", "300", "600", "1200")
		return func(e *env, args []string) error {
			switch {
			case len(args) == 0 || args[0] == "list" && len(args) == 1:
				return e.stockList(*asJSON)
			case args[0] == "show" && len(args) == 2:
				resolution := defaultDPI
				if dpi.word != "" {
					resolution, _ = strconv.Atoi(dpi.word) // one of four words
				}
				return e.stockShow(args[1], resolution, *asJSON)
			case args[0] == "show":
				return &usageError{"stock show: NAME is missing", "pipstake stock list tells the names"}
			case args[0] == "list":
				return &usageError{fmt.Sprintf("stock list: unexpected argument %q", args[1]), "pipstake stock show NAME tells about one"}
			}
			return &usageError{fmt.Sprintf("stock does not know %q", args[0]), "there are pipstake stock list and pipstake stock show NAME"}
		}
	},
}

// findStock finds a stock by the name given on the command line.
func findStock(name string) (layout.Stock, error) {
	s, err := layout.FindStock(name)
	var unknown *layout.UnknownStockError
	switch {
	case errors.As(err, &unknown):
		hint := "pipstake stock list tells the names"
		if len(unknown.Near) > 0 {
			hint = "did you mean " + unknown.Near[0] + "? " + hint
		}
		return s, &usageError{fmt.Sprintf("there is no stock %q", name), hint}
	case err != nil:
		return s, &usageError{fmt.Sprintf("stock %q: %v", name, err), "pipstake stock list tells the names"}
	}
	return s, nil
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
	Faces       []faceFacts `json:"faces,omitempty"`
}

// faceFacts tells how a face fits on a stock.
type faceFacts struct {
	Face  string   `json:"face"`
	Fits  bool     `json:"fits"`
	Codes []string `json:"codes,omitempty"`
	Why   string   `json:"why,omitempty"` // it does not fit
}

func factsOf(s layout.Stock) stockFacts {
	return stockFacts{Name: s.Name, Kind: s.Kind.String(), Paper: s.Paper.Name, PaperWidth: s.Paper.W, PaperHeight: s.Paper.H,
		Columns: s.Columns, Rows: s.Rows, LabelWidth: s.LabelW, LabelHeight: s.LabelH,
		Left: s.Left, Top: s.Top, PitchX: s.PitchX, PitchY: s.PitchY, Turned: s.Turned}
}

func (e *env) stockList(asJSON bool) error {
	if asJSON {
		all := []stockFacts{}
		for _, s := range layout.Stocks() {
			all = append(all, factsOf(s))
		}
		return e.sayJSON(all)
	}
	var t table
	for _, s := range layout.Stocks() {
		room := s.Room(defaultDPI)
		t.row(s.Name, s.Kind.String(), fmt.Sprintf("%d labels", s.PerSheet()), fmt.Sprintf("%s×%s mm", mm(room.W), mm(room.H)))
	}
	for _, line := range t.lines("") {
		e.say("%s", line)
	}
	e.next("what fits on one: pipstake stock show NAME; stakes of any size: a4-cut-LENGTHxWIDTH, letter-cut-LENGTHxWIDTH")
	return nil
}

func (e *env) stockShow(name string, dpi int, asJSON bool) error {
	s, err := findStock(name)
	if err != nil {
		return err
	}
	facts := factsOf(s)
	facts.Faces = facesOn(s, dpi)
	if asJSON {
		return e.sayJSON(facts)
	}
	var t table
	room := s.Room(dpi)
	t.row("kind", s.Kind.String())
	t.row("paper", s.Paper.String())
	t.row("labels", fmt.Sprintf("%d in %d columns and %d rows, each %s×%s mm as it is read", s.PerSheet(), s.Columns, s.Rows, mm(room.W), mm(room.H)))
	t.row("first", fmt.Sprintf("%s mm from the left, %s mm from the top", mm(s.Left), mm(s.Top)))
	t.row("pitch", fmt.Sprintf("%s mm across, %s mm down", mm(s.PitchX), mm(s.PitchY)))
	m := room.Margin
	t.row("margin", fmt.Sprintf("left %s, top %s, right %s, bottom %s mm inside the cut stay white", mm(m.Left), mm(m.Top), mm(m.Right), mm(m.Bottom)))
	for _, f := range facts.Faces {
		if !f.Fits {
			t.row(f.Face, f.Why)
		}
		for i, code := range f.Codes {
			head := f.Face
			if i > 0 {
				head = ""
			}
			t.row(head, fmt.Sprintf("%s, at %d dpi", code, dpi))
		}
	}
	e.say("%s", s.Name)
	for _, line := range t.lines("  ") {
		e.say("%s", line)
	}
	return nil
}

// facesOn tries the faces on a stock, with parents' names of a usual length.
func facesOn(s layout.Stock, dpi int) []faceFacts {
	const seed, pollen = "Larkfield Russet", "Tarn Amber"
	lot := ids.ID{Year: 2026, Cross: 35, Lot: 2}
	room := s.Room(dpi)
	var faces []faceFacts
	for _, f := range []struct {
		name string
		fit  func(label.Room) (*label.Drawing, error)
	}{
		{"bag", label.Bag{ID: lot, SeedParent: seed, PollenParent: pollen}.Fit},
		{"stake", label.Stake{ID: lot.Child(2), Copy: 1, Seeds: 7, Sown: "2027-01-14", SeedParent: seed, PollenParent: pollen}.Fit},
	} {
		d, err := f.fit(room)
		if err != nil {
			faces = append(faces, faceFacts{Face: f.name, Why: err.Error()})
			continue
		}
		facts := faceFacts{Face: f.name, Fits: true}
		for _, c := range d.Codes {
			facts.Codes = append(facts.Codes, c.Symbol.String())
		}
		faces = append(faces, facts)
	}
	return faces
}

// mm writes millimetres with no more decimals than they need, two at most.
func mm(v float64) string {
	text := strconv.FormatFloat(v, 'f', 2, 64)
	for text[len(text)-1] == '0' {
		text = text[:len(text)-1]
	}
	if text[len(text)-1] == '.' {
		text = text[:len(text)-1]
	}
	return text
}
