package layout

import (
	"fmt"
	"io"
	"runtime"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/boombuler/barcode/datamatrix"
	"github.com/jung-kurt/gofpdf"
	"rsc.io/qr/coding"

	"pipstake/ids"
	"pipstake/label"
	"pipstake/label/symbol"
)

// BenchmarkStakes makes sheets of stakes, from facts to the bytes of a PDF, and
// tells how that compares with the least that it could take: the library
// drawing the same texts, lines and blocks with nothing fitted or snapped, and
// the fastest encoders at hand for their codes. The two take turns, each with
// what the other left collected first.
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
				var ours, least time.Duration
				var bytes counter
				for b.Loop() {
					var places []Place
					ours += taken(func() {
						places = stakes(b, s, c.dpi, n)
						bytes = 0
						if err := WritePDF(&bytes, Job{Stock: s, Places: places, Title: "speed", Created: time.Unix(0, 0)}); err != nil {
							b.Fatal(err)
						}
					})
					b.StopTimer()
					least += taken(func() { bare(b, s, places) })
					b.StartTimer()
				}
				b.ReportMetric(float64(ours.Nanoseconds())/float64(b.N)/float64(n)/1e3, "µs/label")
				b.ReportMetric(float64(bytes)/float64(n), "bytes/label")
				b.ReportMetric(float64(ours)/float64(least), "×least")
			})
		}
	}
}

// taken is how long do takes where no garbage has gathered before.
func taken(do func()) time.Duration {
	runtime.GC()
	start := time.Now()
	do()
	return time.Since(start)
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

// bare encodes the codes of places and has the library draw what is on them. A
// code that stands on a label twice is made once.
func bare(b *testing.B, s Stock, places []Place) {
	b.Helper()
	pdf := gofpdf.NewCustom(&gofpdf.InitType{UnitStr: "mm", Size: gofpdf.SizeType{Wd: s.Paper.W, Ht: s.Paper.H}})
	pdf.SetAutoPageBreak(false, 0)
	for _, t := range []*label.Typeface{label.Regular, label.Bold, label.Signs} {
		pdf.AddUTF8FontFromBytes(t.Name, "", append([]byte(nil), t.TTF...))
	}
	plans := map[[2]int]*coding.Plan{}
	page := 0
	var drawn *symbol.Symbol
	var path []byte
	var tiling tiling
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
			if c.Symbol != drawn {
				drawn, path = c.Symbol, path[:0]
				encodeBare(b, plans, c.Symbol.Choice)
				for _, r := range tiling.cover(c.Symbol, 0) {
					for _, v := range []int{r.x, r.y, r.w, r.h} {
						path = append(strconv.AppendInt(path, int64(v), 10), ' ')
					}
					path = append(path, "re\n"...)
				}
				path = append(path, 'f')
			}
			pdf.RawWriteStr(string(path))
		}
	}
	if err := pdf.Output(io.Discard); err != nil {
		b.Fatal(err)
	}
}

// encodeBare makes a QR code by a plan for each version and level that is made
// once, with one mask for all, and a Data Matrix by the encoder that there is.
func encodeBare(b *testing.B, plans map[[2]int]*coding.Plan, c symbol.Choice) {
	b.Helper()
	if c.Kind == symbol.DataMatrix {
		if _, err := datamatrix.Encode(c.Payload); err != nil {
			b.Fatal(err)
		}
		return
	}
	version, level := (c.Size-17)/4, strings.IndexByte("LMQH", c.Level)
	plan := plans[[2]int{version, level}]
	if plan == nil {
		var err error
		if plan, err = coding.NewPlan(coding.Version(version), coding.Level(level), 0); err != nil {
			b.Fatal(err)
		}
		plans[[2]int{version, level}] = plan
	}
	if _, err := plan.Encode(coding.Alpha(c.Payload)); err != nil {
		b.Fatal(err)
	}
}
