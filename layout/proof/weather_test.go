package proof_test

import (
	"bytes"
	"fmt"
	"image"
	"image/color"
	"math"
	"math/rand/v2"
	"runtime"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/boombuler/barcode/qr"

	"pipstake/ids"
	"pipstake/label"
	"pipstake/label/symbol"
	"pipstake/label/symbol/photo"
	"pipstake/layout"
	"pipstake/layout/proof"
)

// parents of the made-up labels; names of all lengths that growers use.
var parents = []string{"Larkfield Tessel", "Tarn Amber", "Hollin Overmoor", "Écrin d'Ancelle", "Mere Longlade", "Brackendale Swale"}

// stakeOf and bagOf are labels with the values that chance gives.
func stakeOf(rnd *rand.Rand, room label.Room) (*label.Drawing, error) {
	p := rnd.Perm(len(parents))
	return label.Stake{
		ID:   ids.ID{Year: 2026, Cross: 1 + rnd.IntN(120), Lot: 1 + rnd.IntN(4), Pot: 1 + rnd.IntN(30)},
		Copy: 1 + rnd.IntN(2), Seeds: 1 + rnd.IntN(12), Sown: "2027-01-14",
		SeedParent: parents[p[0]], PollenParent: parents[p[1]],
	}.Fit(room)
}

func bagOf(rnd *rand.Rand, room label.Room) (*label.Drawing, error) {
	p := rnd.Perm(len(parents))
	return label.Bag{
		ID:         ids.ID{Year: 2026, Cross: 1 + rnd.IntN(120), Lot: 1 + rnd.IntN(4)},
		SeedParent: parents[p[0]], PollenParent: parents[p[1]],
	}.Fit(room)
}

// face is a kind of label on the stock that it is printed on by default.
type face struct {
	name, stock string
	draw        func(*rand.Rand, label.Room) (*label.Drawing, error)
}

var (
	stakes = face{"stake", "a4-cut-148x20", stakeOf}
	bags   = face{"bag", "a4-3x8-70x37", bagOf}
)

// printed is a label off a printed page, with its codes where they lie on it.
type printed struct {
	print *proof.Print
	codes []code
}

type code struct {
	symbol  *symbol.Symbol
	modules proof.Modules // on the label as it lies on the page
	buried  bool
}

// printLabel prints a label of the face somewhere on a page, with the page
// anywhere on the printer's grid of dots.
func printLabel(tb testing.TB, f face, n, dpi int) printed {
	tb.Helper()
	rnd := rand.New(rand.NewPCG(uint64(n), 1))
	stock, err := layout.FindStock(f.stock)
	if err != nil {
		tb.Fatal(err)
	}
	d, err := f.draw(rnd, stock.Room(dpi))
	if err != nil {
		tb.Fatal(err)
	}
	var pdf bytes.Buffer
	cell := 1 + rnd.IntN(stock.PerSheet())
	if err := layout.WritePDF(&pdf, layout.Job{Stock: stock, Title: "T", Created: time.Date(2027, 1, 14, 0, 0, 0, 0, time.UTC),
		Places: []layout.Place{{Page: 1, Cell: cell, Drawing: d}}}); err != nil {
		tb.Fatal(err)
	}
	doc, err := proof.Open(pdf.Bytes())
	if err != nil {
		tb.Fatal(err)
	}
	lies := stock.Cell(cell)
	print, err := doc.Print(1, lies, dpi, rnd.Float64(), rnd.Float64())
	if err != nil {
		tb.Fatal(err)
	}
	if err := doc.Close(); err != nil {
		tb.Fatal(err)
	}
	p := printed{print: print}
	for i, c := range d.Codes {
		s, outer := c.Symbol, c.Outer()
		m := proof.Modules{Outer: outer, Size: s.Size, Quiet: int(math.Round(s.Quiet() / s.Module())), Dark: s.Dark}
		at, turn := stock.OnPage(cell, outer)
		m.Outer.X, m.Outer.Y = at.X-lies.X, at.Y-lies.Y
		switch turn {
		case label.Upward:
			m.Dark = func(x, y int) bool { return s.Dark(s.Size-1-y, x) }
		case label.Downward:
			m.Dark = func(x, y int) bool { return s.Dark(y, s.Size-1-x) }
		}
		p.codes = append(p.codes, code{s, m, i > 0})
	}
	return p
}

// plain puts a plain symbol of the same text and width in the place of a
// label's first code, and leaves no other: in bytes, scaled to the width.
func plain(tb testing.TB, p printed, level qr.ErrorCorrectionLevel) printed {
	tb.Helper()
	c := p.codes[0]
	bytes, err := qr.Encode(c.symbol.Payload, level, qr.Unicode)
	if err != nil {
		tb.Fatal(err)
	}
	return printed{p.print.Replace(proof.Modules{Outer: c.modules.Outer, Size: bytes.Bounds().Dx(), Quiet: 4,
		Dark: func(x, y int) bool { return bytes.At(x, y) == color.Black }}), []code{c}}
}

const photographs = 3

// photographed is what was seen of one label: its photographs and the text
// that should be read in each.
type photographed struct {
	images []*image.Gray
	texts  []string
	read   []string // by gozxing, "" for nothing
}

// expose puts a label out into the weather and takes photographs of its codes.
func expose(p printed, w proof.Weather, fate int) photographed {
	const side = 24 // mm: a code and what lies around it
	var seen photographed
	for i, c := range p.codes {
		at := w
		if c.buried {
			at = w.Buried()
		}
		outer := c.modules.Outer
		middle := [2]float64{outer.X + outer.W/2, outer.Y + outer.H/2}
		worn := p.print.Wear(at, uint64(fate), uint64(i), middle, side)
		for n := range photographs {
			img := worn.Photograph(uint64(fate), uint64(i), n)
			seen.images = append(seen.images, img)
			seen.texts = append(seen.texts, c.symbol.Payload)
			seen.read = append(seen.read, proof.ReadPhotograph(img))
		}
	}
	return seen
}

// exposeAll exposes all labels to their fates, the first of which is numbered.
func exposeAll(labels []printed, w proof.Weather, first int) []photographed {
	out := make([]photographed, len(labels))
	onAllProcessors(len(labels), func(i int) { out[i] = expose(labels[i], w, first+i) })
	return out
}

// onAllProcessors calls do for 0 to n−1.
func onAllProcessors(n int, do func(i int)) {
	var wait sync.WaitGroup
	workers := runtime.GOMAXPROCS(0)
	for k := range workers {
		wait.Go(func() {
			for i := k; i < n; i += workers {
				do(i)
			}
		})
	}
	wait.Wait()
}

// tally counts labels of which a code was read in any photograph.
type tally struct {
	labels, byGozxing, byAny, byScan int
	misread                          []string // texts that are not the code's
}

// add counts labels, with what other programs read of their photographs.
func (t *tally) add(seen []photographed, others [][]string) {
	for _, p := range seen {
		byGozxing, byAny := false, false
		for i, want := range p.texts {
			texts := others[0]
			others = others[1:]
			if p.read[i] != "" {
				texts = append(texts, p.read[i])
			}
			byGozxing = byGozxing || p.read[i] == want
			byAny = byAny || slices.Contains(texts, want)
			for _, text := range texts {
				if text != want {
					t.misread = append(t.misread, fmt.Sprintf("%q for %q", text, want))
				}
			}
		}
		t.labels++
		if byGozxing {
			t.byGozxing++
		}
		if byAny {
			t.byAny++
		}
	}
}

// scan counts labels that our own reader of photographs reads. It is given one
// photograph after the other until it has.
func (t *tally) scan(seen []photographed) {
	type found struct {
		read    bool
		misread []string
	}
	results := make([]found, len(seen))
	onAllProcessors(len(seen), func(i int) {
		for n := 0; n < len(seen[i].images) && !results[i].read; n++ {
			codes, _ := photo.Read(seen[i].images[n])
			for _, c := range codes {
				if want := seen[i].texts[n]; c.Text == want {
					results[i].read = true
				} else {
					results[i].misread = append(results[i].misread, fmt.Sprintf("%q for %q", c.Text, want))
				}
			}
		}
	})
	for _, r := range results {
		if r.read {
			t.byScan++
		}
		t.misread = append(t.misread, r.misread...)
	}
}

// symbols are what stands on a label: the codes that we choose, or a plain
// symbol instead.
var symbols = []struct {
	name string
	of   func(testing.TB, printed) printed
}{
	{"chosen", func(_ testing.TB, p printed) printed { return p }},
	{"plain-L", func(tb testing.TB, p printed) printed { return plain(tb, p, qr.L) }},
	{"plain-M", func(tb testing.TB, p printed) printed { return plain(tb, p, qr.M) }},
}

// The share of labels that is read after the weather: by gozxing alone, by our
// own reader of photographs, and by gozxing or one of the programs installed,
// which stand for readers that know nothing of our labels. One iteration is one label, so give
// the number of labels: -benchtime 200x.
func BenchmarkWeather(b *testing.B) {
	for _, f := range []face{stakes, bags} {
		for _, dpi := range []int{300, 600} {
			var labels []printed
			for _, w := range proof.Severities() {
				for _, s := range symbols {
					b.Run(fmt.Sprintf("%s/%ddpi/%s/%s", f.name, dpi, w.Name, s.name), func(b *testing.B) {
						for len(labels) < b.N {
							labels = append(labels, printLabel(b, f, len(labels), dpi))
						}
						measure(b, labels, w, s.of)
					})
				}
			}
		}
	}
}

// The same of single codes in the place of a stake's first, in the 19 mm that
// a stake of 20 mm leaves for one: what a level of error correction and a
// longer text cost and gain there.
func BenchmarkLevels(b *testing.B) {
	const room, dpi = 19.0, 600
	var labels []printed
	for _, w := range proof.Severities() {
		for _, text := range []string{"full", "compact"} {
			for _, level := range []byte("LMQH") {
				b.Run(fmt.Sprintf("%s/%s/%c", w.Name, text, level), func(b *testing.B) {
					for len(labels) < b.N {
						labels = append(labels, printLabel(b, stakes, len(labels), dpi))
					}
					measure(b, labels, w, func(tb testing.TB, p printed) printed {
						c := p.codes[len(p.codes)-1]
						if text == "full" {
							c = p.codes[0]
						}
						s, err := symbol.Encode(symbol.QR, level, c.symbol.Payload, 1, dpi)
						if err != nil {
							tb.Fatal(err)
						}
						side := float64(s.Size+8) * math.Floor(room*dpi/25.4/float64(s.Size+8)) * 25.4 / dpi
						at := p.codes[0].modules.Outer
						m := proof.Modules{Size: s.Size, Quiet: 4, Dark: s.Dark,
							Outer: label.Rect{X: at.X + (at.W-side)/2, Y: at.Y + (at.H-side)/2, W: side, H: side}}
						return printed{p.print.Replace(m), []code{{symbol: s, modules: m}}}
					})
				})
			}
		}
	}
}

// measure exposes the first b.N labels, with what of puts on them, and reports
// how many are read.
func measure(b *testing.B, labels []printed, w proof.Weather, of func(testing.TB, printed) printed) {
	var t tally
	b.ResetTimer()
	for first := 0; first < b.N; first += 25 { // as many photographs as memory holds easily
		var some []printed
		for _, p := range labels[first:min(first+25, b.N)] {
			some = append(some, of(b, p))
		}
		seen := exposeAll(some, w, first)
		t.add(seen, programs(b, seen))
		t.scan(seen)
	}
	b.ReportMetric(100*float64(t.byGozxing)/float64(t.labels), "%gozxing")
	b.ReportMetric(100*float64(t.byScan)/float64(t.labels), "%scan")
	b.ReportMetric(100*float64(t.byAny)/float64(t.labels), "%read")
	b.ReportMetric(float64(len(t.misread)), "misread")
}

// programs reads all photographs of the labels with the programs installed.
func programs(tb testing.TB, seen []photographed) [][]string {
	tb.Helper()
	var images []*image.Gray
	for _, p := range seen {
		images = append(images, p.images...)
	}
	texts, err := proof.Programs(tb.TempDir(), images)
	if err != nil {
		tb.Fatal(err)
	}
	return texts
}

// Of stakes out in hard and in severe weather more are read than of those with
// a plain symbol of the same text and width, and no fewer than a floor well
// below what the benchmark finds. Only gozxing reads, so that the outcome is
// the same on every machine.
func TestStakesOutlastPlainSymbols(t *testing.T) {
	if testing.Short() {
		t.Skip("takes long")
	}
	const labels = 16
	var made []printed
	for n := range labels {
		made = append(made, printLabel(t, stakes, n, 300))
	}
	for _, w := range proof.Severities()[1:] {
		var read []int
		for _, s := range symbols {
			var standing []printed
			for _, p := range made {
				standing = append(standing, s.of(t, p))
			}
			var got tally
			got.add(exposeAll(standing, w, 0), make([][]string, labels*photographs*len(standing[0].codes)))
			if len(got.misread) > 0 {
				t.Errorf("%s, %s: misread %s", w.Name, s.name, strings.Join(got.misread, ", "))
			}
			read = append(read, got.byGozxing)
		}
		t.Logf("%s: %v of %d", w.Name, read, labels)
		floor := map[string]int{"hard": 14, "severe": 11}[w.Name]
		if read[0] < floor || read[0] <= read[1] || read[0] <= read[2] {
			t.Errorf("%s: of %d labels are read %v of %q; want at least %d of the first, and more than of the others",
				w.Name, labels, read, []string{symbols[0].name, symbols[1].name, symbols[2].name}, floor)
		}
	}
}
