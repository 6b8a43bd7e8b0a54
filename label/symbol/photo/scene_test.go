package photo_test

import (
	"bytes"
	"image"
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"pipstake/ids"
	"pipstake/label"
	"pipstake/label/symbol/photo"
	"pipstake/layout"
	"pipstake/layout/proof"
)

// cut is a label cut out of a printed sheet, as grey levels, with the texts of
// its codes.
type cut struct {
	img    *image.Gray
	pitch  float64 // pixels on a millimetre
	label  label.Rect
	texts  []string
	places [][2]float64 // of the codes from the label's middle, in millimetres
}

// cutDPI is the resolution at which pages are rasterised.
const cutDPI = 400

var parents = []string{"Larkfield Tessel", "Tarn Amber", "Hollin Overmoor", "Écrin d'Ancelle", "Brackendale Swale", "Gwennol Goch"}

// The stocks that labels on pictures stand on: the third has room for Data
// Matrix codes only.
const (
	bags   = "a4-3x8-70x37"
	stakes = "a4-cut-148x20"
	narrow = "a4-cut-102x13"
)

// cuts prints n labels of a stock on a real sheet and cuts them out.
func cuts(tb testing.TB, rnd *rand.Rand, n int, name string) []cut {
	tb.Helper()
	stock, err := layout.FindStock(name)
	if err != nil {
		tb.Fatal(err)
	}
	job := layout.Job{Stock: stock, Title: "photographs", Created: time.Date(2027, 1, 14, 0, 0, 0, 0, time.UTC)}
	var labels []cut
	for i := range n {
		order := rnd.Perm(len(parents))
		a, b := parents[order[0]], parents[order[1]]
		id := ids.ID{Year: 2026, Cross: 1 + rnd.IntN(200), Lot: 1 + rnd.IntN(5)}
		var d *label.Drawing
		if name == bags {
			d, err = label.Bag{ID: id, SeedParent: a, PollenParent: b}.Fit(stock.Room(600))
		} else {
			id.Pot = 1 + rnd.IntN(30)
			d, err = label.Stake{ID: id, Copy: 1 + i%2, Seeds: 1 + rnd.IntN(14), Sown: "2027-01-14", SeedParent: a, PollenParent: b}.Fit(stock.Room(600))
		}
		if err != nil {
			tb.Fatal(err)
		}
		cell := i%stock.PerSheet() + 1
		job.Places = append(job.Places, layout.Place{Page: i/stock.PerSheet() + 1, Cell: cell, Drawing: d})
		c := cut{label: stock.Cell(cell), pitch: cutDPI / 25.4}
		for _, code := range d.Codes {
			c.texts = append(c.texts, code.Symbol.Payload)
			at, _ := stock.OnPage(cell, code.Outer())
			c.places = append(c.places, [2]float64{at.X + at.W/2 - c.label.X - c.label.W/2, at.Y + at.H/2 - c.label.Y - c.label.H/2})
		}
		labels = append(labels, c)
	}
	return cutOut(tb, job, labels)
}

// cutOut rasterises the pages of a job and gives each label its part.
func cutOut(tb testing.TB, job layout.Job, labels []cut) []cut {
	tb.Helper()
	var pdf bytes.Buffer
	if err := layout.WritePDF(&pdf, job); err != nil {
		tb.Fatal(err)
	}
	doc, err := proof.Open(pdf.Bytes())
	if err != nil {
		tb.Fatal(err)
	}
	defer doc.Close()
	pages := map[int]*image.Gray{}
	for i, place := range job.Places {
		if pages[place.Page] == nil {
			if pages[place.Page], err = doc.Render(place.Page, cutDPI); err != nil {
				tb.Fatal(err)
			}
		}
		labels[i].img = pages[place.Page].SubImage(proof.Region(labels[i].label, cutDPI)).(*image.Gray)
	}
	return labels
}

// ink is how much ink there is on a pixel of the picture that is so many of
// the raster's wide.
func (c *cut) ink(x, y, wide float64) float64 {
	sum, n := 0.0, 0.0
	for dy := -wide / 2; dy < wide/2; dy++ {
		for dx := -wide / 2; dx < wide/2; dx++ {
			p := image.Pt(c.img.Rect.Min.X+int(x+dx), c.img.Rect.Min.Y+int(y+dy))
			if p.In(c.img.Rect) {
				sum += 1 - float64(c.img.Pix[(p.Y-c.img.Rect.Min.Y)*c.img.Stride+p.X-c.img.Rect.Min.X])/255
			}
			n++
		}
	}
	return sum / max(n, 1)
}

// truth is a code that is on a picture.
type truth struct {
	text string
	at   photo.Point
}

// canvas is a picture in the making: how bright each pixel is, 1 for white.
type canvas struct {
	w, h   int
	levels []float32
}

// scene lays labels out in rows, each turned as it comes, on what lies under
// them, and photographs them.
func scene(labels []cut, l light, rnd *rand.Rand) (*image.Gray, []truth) {
	reach := 0.0 // of a label from its middle, in millimetres
	for _, c := range labels {
		reach = max(reach, math.Hypot(c.label.W, c.label.H)/2+4)
	}
	columns := int(math.Ceil(math.Sqrt(float64(len(labels)) * 4 / 3)))
	rows := (len(labels) + columns - 1) / columns
	wide, tall := float64(columns)*2*reach, float64(rows)*2*reach
	w, h := int(wide*l.pixels), int(tall*l.pixels)
	if grow := math.Sqrt(l.megapixel * 1e6 / float64(w*h)); grow > 1 {
		w, h = int(float64(w)*grow), int(float64(h)*grow)
	}
	pic := &canvas{w, h, make([]float32, w*h)}
	if l.screen {
		pic.window()
	} else {
		pic.ground(rnd)
	}
	var there []truth
	for i, c := range labels {
		at := [2]float64{(float64(i%columns)+0.5)*2*reach - wide/2, (float64(i/columns)+0.5)*2*reach - tall/2}
		middle := [2]float64{float64(w)/2 + at[0]*l.pixels, float64(h)/2 + at[1]*l.pixels}
		there = append(there, pic.lay(c, middle, l, rnd)...)
	}
	if l.leaves {
		pic.leaves(l.pixels, rnd)
	}
	if l.shadows {
		pic.shadow(rnd)
	}
	if l.flash {
		pic.flash(l.pixels, len(labels), rnd)
	}
	return pic.developed(l, rnd), there
}

// ground is soil and gravel.
func (pic *canvas) ground(rnd *rand.Rand) {
	for i := range pic.levels {
		pic.levels[i] = 0.3
	}
	for range pic.w * pic.h / 900 {
		x, y, r, v := rnd.IntN(pic.w), rnd.IntN(pic.h), 2+rnd.IntN(14), float32(0.15+0.4*rnd.Float64())
		for dy := -r; dy <= r; dy++ {
			for dx := -r; dx <= r; dx++ {
				if px, py := x+dx, y+dy; px >= 0 && py >= 0 && px < pic.w && py < pic.h && dx*dx+dy*dy <= r*r {
					pic.levels[py*pic.w+px] = v
				}
			}
		}
	}
}

// lay puts one label into the picture: turned by any angle, tilted, bent and
// under what lies on it.
func (pic *canvas) lay(c cut, middle [2]float64, l light, rnd *rand.Rand) []truth {
	turn := 2 * math.Pi * rnd.Float64()
	if l.screen {
		turn = 0
	}
	sr, cr := math.Sincos(turn)
	px := math.Tan(l.tilt*math.Pi/180) * (2*rnd.Float64() - 1) / 250 // perspective at 25 cm
	py := math.Tan(l.tilt*math.Pi/180) * (2*rnd.Float64() - 1) / 250
	squash := 1 - (1-math.Cos(l.tilt*math.Pi/180))*rnd.Float64()
	over := coversOf(c, l, rnd)
	there := make([]truth, len(c.texts))
	nearest := make([]float64, len(c.texts))
	for i, text := range c.texts {
		there[i].text, nearest[i] = text, math.Inf(1)
	}
	reach := int(math.Hypot(c.label.W, c.label.H) / 2 * l.pixels * 1.25)
	for y := max(int(middle[1])-reach, 0); y < min(int(middle[1])+reach, pic.h); y++ {
		for x := max(int(middle[0])-reach, 0); x < min(int(middle[0])+reach, pic.w); x++ {
			u, v := (float64(x)+0.5-middle[0])/l.pixels, (float64(y)+0.5-middle[1])/l.pixels/squash
			depth := 1 + px*u + py*v
			u, v = u*depth, v*depth
			mx, my, lit := over.at(u*cr+v*sr, -u*sr+v*cr)
			if math.Abs(mx) > c.label.W/2 || math.Abs(my) > c.label.H/2 {
				continue
			}
			ink := c.ink((mx+c.label.W/2)*c.pitch, (my+c.label.H/2)*c.pitch, c.pitch/l.pixels)
			pic.levels[y*pic.w+x] = float32(lit.of(0.9 - 0.84*(1-l.faded)*ink))
			for i, place := range c.places {
				if d := math.Hypot(mx-place[0], my-place[1]); d < nearest[i] {
					nearest[i], there[i].at = d, photo.Point{X: float64(x) + 0.5, Y: float64(y) + 0.5}
				}
			}
		}
	}
	return there
}
