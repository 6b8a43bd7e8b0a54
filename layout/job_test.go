package layout

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"strings"
	"testing"
	"time"

	"pipstake/ids"
	"pipstake/label"
	"pipstake/label/symbol"
	"pipstake/layout/proof"
	"pipstake/layout/proof/outside"
)

var created = time.Date(2027, 1, 14, 8, 30, 0, 0, time.UTC)

// find is the stock of that name.
func find(t testing.TB, name string) Stock {
	t.Helper()
	s, err := FindStock(name)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// filled fills pages of the stock, the last one with the given number of
// labels only: stakes where they are cut, bag labels else.
func filled(t testing.TB, s Stock, dpi, pages, onLast int) Job {
	t.Helper()
	job := Job{Stock: s, Title: "Labels of an invented orchard", Created: created}
	for page := 1; page <= pages; page++ {
		last := s.PerSheet()
		if page == pages {
			last = min(last, onLast)
		}
		for cell := 1; cell <= last; cell++ {
			id := ids.ID{Year: 2026, Cross: 34 + page, Lot: 1 + cell}
			var d *label.Drawing
			var err error
			if s.Kind == CutSheet {
				pot := (cell + 1) / 2
				id.Lot, id.Pot = 1+pot/5, 1+pot%5
				d, err = label.Stake{ID: id, Copy: 2 - cell%2, Seeds: 3 + pot%9, Sown: "2027-01-14",
					SeedParent: "Larkfield Tessel", PollenParent: "Tårn Amber"}.Fit(s.Room(dpi))
			} else {
				d, err = label.Bag{ID: id, SeedParent: "Larkfield Tessel", PollenParent: "Tårn Amber"}.Fit(s.Room(dpi))
			}
			if err != nil {
				t.Fatalf("%s: %v", s.Name, err)
			}
			job.Places = append(job.Places, Place{Page: page, Cell: cell, Drawing: d})
		}
	}
	return job
}

// cornered is a drawing for the stock with nothing but rules in the corners of
// what may be printed on.
func cornered(s Stock) *label.Drawing {
	room := s.Room(600)
	d := &label.Drawing{W: room.W, H: room.H, Safe: room.Safe()}
	const width, long = 0.2, 2.0
	r := d.Safe.Inset(width/2, width/2, width/2, width/2)
	for _, x := range []float64{r.X, r.Right()} {
		d.Rules = append(d.Rules,
			label.Rule{X1: x, Y1: d.Safe.Y, X2: x, Y2: d.Safe.Y + long, Width: width},
			label.Rule{X1: x, Y1: d.Safe.Bottom() - long, X2: x, Y2: d.Safe.Bottom(), Width: width})
	}
	for _, y := range []float64{r.Y, r.Bottom()} {
		d.Rules = append(d.Rules,
			label.Rule{X1: d.Safe.X, Y1: y, X2: d.Safe.X + long, Y2: y, Width: width},
			label.Rule{X1: d.Safe.Right() - long, Y1: y, X2: d.Safe.Right(), Y2: y, Width: width})
	}
	return d
}

// write is the PDF of a job.
func write(t testing.TB, job Job) []byte {
	t.Helper()
	var out bytes.Buffer
	if err := WritePDF(&out, job); err != nil {
		t.Fatalf("%s: %v", job.Stock.Name, err)
	}
	return out.Bytes()
}

// open is the PDF as PDFium sees it.
func open(t testing.TB, pdf []byte) *proof.Document {
	t.Helper()
	d, err := proof.Open(pdf)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		if err := d.Close(); err != nil {
			t.Error(err)
		}
	})
	return d
}

// program runs a program of the machine on a PDF; the file's name stands for
// "@" in the arguments. Where the program is missing the test is skipped, on
// the continuous integration it fails.
func program(t testing.TB, pdf []byte, name string, args ...string) []byte {
	t.Helper()
	if _, err := exec.LookPath(name); err != nil {
		if os.Getenv("CI") == "true" {
			t.Fatalf("%s is missing here", name)
		}
		t.Skipf("%s is not installed", name)
	}
	file := t.TempDir() + "/page.pdf"
	if err := os.WriteFile(file, pdf, 0o600); err != nil {
		t.Fatal(err)
	}
	for i := range args {
		args[i] = strings.ReplaceAll(args[i], "@", file)
	}
	out, err := outside.Command(name, args...).CombinedOutput()
	if err != nil {
		t.Fatalf("%s %q: %v\n%s", name, args, err, out)
	}
	return out
}

type failing struct{}

func (failing) Write([]byte) (int, error) { return 0, errors.New("the disk is full") }

func TestWritePDFRefusesBeforeTheFirstByte(t *testing.T) {
	s := find(t, "a4-3x8-70x37")
	blank := &label.Drawing{W: 70, H: 37}
	text := func(content string) *label.Drawing {
		return &label.Drawing{W: 70, H: 37, Texts: []label.Text{{X: 10, Baseline: 10, Size: 3, Face: label.Regular, String: content}}}
	}
	for want, places := range map[string][]Place{
		`the document "T" has no label`:                                              nil,
		`page 1, cell 25: stock "a4-3x8-70x37" has cells 1 to 24`:                    {{Page: 1, Cell: 25, Drawing: blank}},
		`page 1, cell 0: stock "a4-3x8-70x37" has cells 1 to 24`:                     {{Page: 1, Cell: 0, Drawing: blank}},
		`page 0, cell 1: pages count from 1`:                                         {{Page: 0, Cell: 1, Drawing: blank}},
		`page 1, cell 2: two labels in one cell`:                                     {{Page: 1, Cell: 2, Drawing: blank}, {Page: 1, Cell: 2, Drawing: blank}},
		`page 3, cell 1: page 2 has no label`:                                        {{Page: 3, Cell: 1, Drawing: blank}, {Page: 1, Cell: 1, Drawing: blank}},
		`page 1, cell 1: there is nothing to draw`:                                   {{Page: 1, Cell: 1, Drawing: nil}},
		`page 1, cell 1: a label of 70×36 mm was laid out for a cell of 70×37 mm`:    {{Page: 1, Cell: 1, Drawing: &label.Drawing{W: 70, H: 36}}},
		`page 1, cell 9: "seed 🍎" holds the character '🍎' (U+1F34E), which the font`: {{Page: 1, Cell: 9, Drawing: text("seed 🍎")}},
		"page 1, cell 9: \"\u13a0\" holds the character '\u13a0' (U+13A0)":           {{Page: 1, Cell: 9, Drawing: text("\u13a0")}}, // Cherokee
		`page 1, cell 3: "a\nb" holds the character '\n' (U+000A)`:                   {{Page: 1, Cell: 3, Drawing: text("a\nb")}},
	} {
		var out bytes.Buffer
		err := WritePDF(&out, Job{Stock: s, Places: places, Title: "T", Created: created})
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%v; want %q", err, want)
		}
		if out.Len() > 0 {
			t.Errorf("%d bytes were written before %v", out.Len(), err)
		}
		var glyph *label.GlyphError
		if strings.Contains(want, "U+") && !errors.As(err, &glyph) {
			t.Errorf("%T, want a *label.GlyphError", err)
		}
	}
}

func TestWritePDFRefusesAnUnfitDocument(t *testing.T) {
	s := find(t, "a4-3x8-70x37")
	good := Job{Stock: s, Places: []Place{{Page: 1, Cell: 1, Drawing: &label.Drawing{W: 70, H: 37}}}, Title: "T", Created: created}
	for want, spoil := range map[string]func(*Job){
		"has no date":                func(j *Job) { j.Created = time.Time{} },
		"overlap":                    func(j *Job) { j.Stock.PitchX = 10 },
		"the page is 215.9×279.4 mm": func(j *Job) { j.Stock.Paper = Letter },
		"'🍎' (U+1F34E)":              func(j *Job) { j.Title = "🍎" },
	} {
		job := good
		spoil(&job)
		var out bytes.Buffer
		if err := WritePDF(&out, job); err == nil || !strings.Contains(err.Error(), want) || out.Len() > 0 {
			t.Errorf("%v, %d bytes; want %q", err, out.Len(), want)
		}
	}
	if err := WritePDF(failing{}, good); err == nil || !strings.Contains(err.Error(), "the disk is full") {
		t.Errorf("%v; want the writer's own", err)
	}
}

// The order in which places are given does not matter.
func TestPagesSortPlaces(t *testing.T) {
	s := find(t, "a4-3x8-70x37")
	d := &label.Drawing{W: 70, H: 37}
	pages, err := Job{Stock: s, Places: []Place{{Page: 2, Cell: 4, Drawing: d}, {Page: 1, Cell: 3, Drawing: d}, {Page: 2, Cell: 1, Drawing: d}, {Page: 1, Cell: 20, Drawing: d}}, Title: "T", Created: created}.pages()
	if err != nil {
		t.Fatal(err)
	}
	got := ""
	for _, page := range pages {
		for _, p := range page {
			got += fmt.Sprintf(" %d/%d", p.Page, p.Cell)
		}
	}
	if want := " 1/3 1/20 2/1 2/4"; got != want {
		t.Errorf("got%s, want%s", got, want)
	}
}

// testCode is a code for drawings made by hand, four dots or 0.45 mm a module.
func testCode(t testing.TB, kind symbol.Kind, level byte, text string, dpi int) *symbol.Symbol {
	t.Helper()
	s, err := symbol.Encode(kind, level, text, max(4, (dpi*45+1270)/2540), dpi)
	if err != nil {
		t.Fatal(err)
	}
	return s
}
