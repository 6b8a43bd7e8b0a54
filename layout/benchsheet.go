package layout

import (
	"bytes"
	"fmt"
	"io"
	"time"

	"pipstake/label"
)

// BenchSheet is what lies on the bench on a day of extraction: what to mix, the
// steps with their times, the cautions, and a row for each seed lot to write
// into. All texts are finished; the sheet only finds places for them.
type BenchSheet struct {
	Paper   Paper
	Created time.Time
	Title   string
	Under   string // the line below the title
	Mixes   []BenchMix
	Steps   []BenchStep
	// Cautions are set apart in a frame; the first of them is set in bold.
	Cautions []string
	Lots     []BenchLot
	Names    *label.Typeface // draws what the Go fonts cannot; nil for none
}

// BenchMix is one bath: its three figures, large, and what they are of.
type BenchMix struct {
	For     string // the seed lots, where there is more than one bath
	Figures [3]BenchFigure
}

// BenchFigure is a figure with what it is of: "60 ml" "water".
type BenchFigure struct{ Value, Of string }

// BenchStep is a numbered step. Blanks are captions of boxes to write into.
type BenchStep struct {
	Text   string
	Blanks []string
}

// BenchLot is the row of a seed lot.
type BenchLot struct{ ID, Parents string }

// WriteBench writes the sheet as a PDF of as many pages as its lots take.
// Nothing is written before all of it is known to be printable; the same sheet
// always gives the same bytes.
//
// Errors: a *label.GlyphError for a character that no font at hand draws;
// others for a sheet without lots or date, and from w.
func WriteBench(w io.Writer, sheet BenchSheet) error {
	if sheet.Created.IsZero() || len(sheet.Lots) == 0 {
		return fmt.Errorf("the sheet %q lacks its date or its seed lots", sheet.Title)
	}
	pages, err := sheet.pages()
	if err != nil {
		return err
	}
	sides := make([]side, len(pages))
	for i, p := range pages {
		sides[i] = side{texts: p.texts, rules: p.rules}
	}
	var out bytes.Buffer
	if err := (document{paper: sheet.Paper, title: sheet.Title, created: sheet.Created}).write(&out, sides); err != nil {
		return fmt.Errorf("laying out the sheet: %w", err)
	}
	_, err = w.Write(out.Bytes())
	return err
}

// Measures of the bench sheet, in millimetres. Sizes are those of the em.
const (
	benchMargin  = 14.0
	benchTitle   = 7.5
	benchText    = 3.6
	benchSmall   = 3.0
	benchFigure  = 8.5
	benchLine    = 5.0  // from baseline to baseline of text
	benchRow     = 9.5  // of a seed lot
	benchMixHigh = 17.0 // of a bath's frame
	benchBlank   = 26.0 // width of a box to write into
	benchIDWide  = 36.0
	benchFoot    = 5.0
	stepIndent   = 7.0
	blankHigh    = 7.5
	cautionPad   = 3.0
	bulletWide   = 4.0
	benchThick   = 0.5
	benchThin    = 0.18
)

// benchColumns are the boxes of the table with their widths, from the left.
var benchColumns = []struct {
	name string
	wide float64
}{{"fruit", 15}, {"seeds", 15}, {"undeveloped", 20}, {"remarks", 40}}

// pages lays the sheet out.
func (s BenchSheet) pages() ([]*benchPage, error) {
	var pages []*benchPage
	next := func() *benchPage {
		p := &benchPage{paper: s.Paper, names: s.Names, y: benchMargin}
		pages = append(pages, p)
		return p
	}
	p := next()
	p.head(s.Title, s.Under)
	// room goes on to the next page where so many millimetres are not left.
	room := func(high float64) (turned bool) {
		if p.y+high <= s.Paper.H-benchMargin-benchFoot {
			return false
		}
		p = next()
		p.head(s.Title, "continued")
		return true
	}
	for _, m := range s.Mixes {
		room(p.mixHigh(m))
		p.mix(m)
	}
	for i, step := range s.Steps {
		room(p.stepHigh(step))
		p.step(i+1, step)
	}
	room(p.cautionsHigh(s.Cautions) + benchLine + benchRow) // and a first row
	p.cautions(s.Cautions)
	p.tableHead()
	for _, lot := range s.Lots {
		if room(benchRow) {
			p.tableHead()
		}
		p.lot(lot)
	}
	for i, p := range pages {
		p.foot(fmt.Sprintf("page %d of %d", i+1, len(pages)))
		if p.err != nil {
			return nil, p.err
		}
	}
	return pages, nil
}
