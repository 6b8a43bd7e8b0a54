package layout

import (
	"fmt"
	"io"
	"testing"
	"time"

	"github.com/jung-kurt/gofpdf"
	"rsc.io/qr/coding"

	"pipstake/ids"
	"pipstake/label"
	"pipstake/label/symbol"
)

// BenchmarkStakes makes sheets of stakes, from facts to the bytes of a PDF, and
// tells how that compares with the least that it could take: the library
// drawing the same texts, lines and blocks with nothing fitted or snapped, and
// the fastest encoder for their QR codes.
func BenchmarkStakes(b *testing.B) {
	for _, c := range []struct {
		codes, stock string
		dpi          int
	}{
		{"compact", "a4-cut-148x20", 203}, {"full", "a4-cut-148x20", 600}, {"DataMatrix", "a4-cut-102x13", 600},
	} {
		for _, n := range []int{240, 2400, 10_000} {
			b.Run(fmt.Sprintf("%s/%d", c.codes, n), func(b *testing.B) {
				s, err := FindStock(c.stock)
				if err != nil {
					b.Fatal(err)
				}
				var ours, bytes int64
				var places []Place
				for b.Loop() {
					start := time.Now()
					places = stakes(b, s, c.dpi, n)
					var size counter
					if err := WritePDF(&size, Job{Stock: s, Places: places, Title: "speed", Created: time.Unix(0, 0)}); err != nil {
						b.Fatal(err)
					}
					ours += time.Since(start).Nanoseconds()
					bytes = int64(size)
				}
				start := time.Now()
				bare(b, s, places)
				least := time.Since(start).Nanoseconds()
				b.ReportMetric(float64(ours)/float64(b.N)/float64(n)/1e3, "µs/label")
				b.ReportMetric(float64(bytes)/float64(n), "bytes/label")
				b.ReportMetric(float64(ours)/float64(b.N)/float64(least), "×least")
			})
		}
	}
}

// counter counts the bytes written to it.
type counter int64

func (c *counter) Write(p []byte) (int, error) { *c += counter(len(p)); return len(p), nil }

// stakes fits n stakes, two a pot, onto sheets.
func stakes(b *testing.B, s Stock, dpi, n int) []Place {
	b.Helper()
	faces := make([]label.Face, n)
	for i := range faces {
		faces[i] = label.Stake{ID: ids.ID{Year: 2026, Cross: 1 + i/20, Lot: 1 + i/10%2, Pot: 1 + i/2%5}, Copy: 1 + i%2, Seeds: 7,
			Sown: "2027-01-14", SeedParent: "Larkfield Tessel", PollenParent: "Tarn Amber"}
	}
	drawn, err := label.Fit(faces, s.Room(dpi))
	if err != nil {
		b.Fatal(err)
	}
	places := make([]Place, n)
	for i, d := range drawn {
		places[i] = Place{Page: 1 + i/s.PerSheet(), Cell: 1 + i%s.PerSheet(), Drawing: d}
	}
	return places
}

// bare encodes the codes of places with a plan for each size that is made
// once, and has the library draw what is on them.
func bare(b *testing.B, s Stock, places []Place) {
	b.Helper()
	pdf := gofpdf.NewCustom(&gofpdf.InitType{UnitStr: "mm", Size: gofpdf.SizeType{Wd: s.Paper.W, Ht: s.Paper.H}})
	pdf.SetAutoPageBreak(false, 0)
	for _, t := range []*label.Typeface{label.Regular, label.Bold, label.Signs} {
		pdf.AddUTF8FontFromBytes(t.Name, "", append([]byte(nil), t.TTF...))
	}
	plans := map[string]*coding.Plan{}
	page := 0
	for _, p := range places {
		if p.Page != page {
			pdf.AddPage()
			page = p.Page
		}
		at := s.Cell(p.Cell)
		for _, t := range p.Drawing.Texts {
			pdf.SetFont(t.Face.Name, "", t.Size*72/25.4)
			pdf.Text(at.X+t.X, at.Y+t.Baseline, t.String)
		}
		for _, r := range p.Drawing.Rules {
			pdf.Line(at.X+r.X1, at.Y+r.Y1, at.X+r.X2, at.Y+r.Y2)
		}
		for _, c := range p.Drawing.Codes {
			if c.Symbol.Kind == symbol.QR {
				encodeBare(b, plans, c.Symbol.Choice)
			}
			for _, r := range blocks(c.Symbol, 0) {
				pdf.RawWriteStr(fmt.Sprintf("%d %d %d %d re", r.x, r.y, r.w, r.h))
			}
			pdf.RawWriteStr("f")
		}
	}
	if err := pdf.Output(io.Discard); err != nil {
		b.Fatal(err)
	}
}

func encodeBare(b *testing.B, plans map[string]*coding.Plan, c symbol.Choice) {
	b.Helper()
	key := fmt.Sprint(c.Size, c.Level)
	if plans[key] == nil {
		level := map[byte]coding.Level{'L': coding.L, 'M': coding.M, 'Q': coding.Q, 'H': coding.H}[c.Level]
		plan, err := coding.NewPlan(coding.Version((c.Size-17)/4), level, 0)
		if err != nil {
			b.Fatal(err)
		}
		plans[key] = plan
	}
	if _, err := plans[key].Encode(coding.Alpha(c.Payload)); err != nil {
		b.Fatal(err)
	}
}
