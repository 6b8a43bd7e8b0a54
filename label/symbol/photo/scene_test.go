package photo_test

import (
	"bytes"
	"image"
	"image/jpeg"
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

// light is how a scene was photographed; a simulation with assumed amounts.
type light struct {
	name      string
	pixels    float64 // of the picture on a millimetre of the labels
	tilt      float64 // of the telephone, degrees at the most
	blur      float64 // sigma in pixels
	noise     float64 // sigma, of full white
	shade     float64 // share of the light lost from one side to the other
	faded     float64 // share of the ink's contrast that is lost
	dirt      int     // specks on each label
	quality   int     // of the JPEG
	shadows   bool    // a hard shadow across the picture
	megapixel float64 // at the least
}

var lights = []light{
	{"near", 10, 12, 0.8, 0.010, 0.3, 0.05, 1, 90, false, 2},
	{"over the bench", 6, 18, 0.8, 0.015, 0.4, 0.15, 3, 85, true, 6},
	{"far", 4.2, 22, 0.7, 0.015, 0.5, 0.15, 2, 85, false, 12},
	{"dusk", 6, 15, 1.0, 0.045, 0.6, 0.25, 3, 75, false, 6},
	{"muddy", 7, 20, 0.9, 0.015, 0.4, 0.35, 14, 85, true, 6},
	{"shaken", 7, 15, 1.9, 0.015, 0.3, 0.10, 2, 85, false, 4},
}

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

// cuts prints n labels on a real sheet and cuts them out: bag labels, or stakes.
func cuts(tb testing.TB, rnd *rand.Rand, n int, stakes bool) []cut {
	tb.Helper()
	name := "a4-3x8-70x37"
	if stakes {
		name = "a4-cut-148x20"
	}
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
		if stakes {
			id.Pot = 1 + rnd.IntN(30)
			d, err = label.Stake{ID: id, Copy: 1 + i%2, Seeds: 1 + rnd.IntN(14), Sown: "2027-01-14", SeedParent: a, PollenParent: b}.Fit(stock.Room(600))
		} else {
			d, err = label.Bag{ID: id, SeedParent: a, PollenParent: b}.Fit(stock.Room(600))
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
		part := pages[place.Page].SubImage(proof.Region(labels[i].label, cutDPI)).(*image.Gray)
		labels[i].img = part
	}
	return labels
}

// truth is a code that is on a picture.
type truth struct {
	text string
	at   photo.Point
}

// scene lays labels out in rows on dark ground, each turned as it comes, and
// photographs them.
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
	levels := make([]float32, w*h)
	ground(levels, w, h, rnd)
	var there []truth
	for i, c := range labels {
		at := [2]float64{(float64(i%columns)+0.5)*2*reach - wide/2, (float64(i/columns)+0.5)*2*reach - tall/2}
		middle := [2]float64{float64(w)/2 + at[0]*l.pixels, float64(h)/2 + at[1]*l.pixels}
		there = append(there, lay(levels, w, h, c, middle, l, rnd)...)
	}
	if l.shadows {
		shadow(levels, w, h, rnd)
	}
	return developed(levels, w, h, l, rnd), there
}

// ground is soil and gravel.
func ground(levels []float32, w, h int, rnd *rand.Rand) {
	for i := range levels {
		levels[i] = 0.3
	}
	for range w * h / 900 {
		x, y, r, v := rnd.IntN(w), rnd.IntN(h), 2+rnd.IntN(14), float32(0.15+0.4*rnd.Float64())
		for dy := -r; dy <= r; dy++ {
			for dx := -r; dx <= r; dx++ {
				if px, py := x+dx, y+dy; px >= 0 && py >= 0 && px < w && py < h && dx*dx+dy*dy <= r*r {
					levels[py*w+px] = v
				}
			}
		}
	}
}

// lay puts one label into the picture: turned by any angle, tilted.
func lay(levels []float32, w, h int, c cut, middle [2]float64, l light, rnd *rand.Rand) []truth {
	sr, cr := math.Sincos(2 * math.Pi * rnd.Float64())
	px := math.Tan(l.tilt*math.Pi/180) * (2*rnd.Float64() - 1) / 250 // perspective at 25 cm
	py := math.Tan(l.tilt*math.Pi/180) * (2*rnd.Float64() - 1) / 250
	squash := 1 - (1-math.Cos(l.tilt*math.Pi/180))*rnd.Float64()
	specks := make([][3]float64, l.dirt)
	for i := range specks {
		specks[i] = [3]float64{c.label.W * (rnd.Float64() - 0.5), c.label.H * (rnd.Float64() - 0.5), 0.2 + 0.9*math.Pow(rnd.Float64(), 3)}
	}
	reach := int(math.Hypot(c.label.W, c.label.H) / 2 * l.pixels * 1.25)
	for y := max(int(middle[1])-reach, 0); y < min(int(middle[1])+reach, h); y++ {
		for x := max(int(middle[0])-reach, 0); x < min(int(middle[0])+reach, w); x++ {
			u, v := (float64(x)+0.5-middle[0])/l.pixels, (float64(y)+0.5-middle[1])/l.pixels/squash
			depth := 1 + px*u + py*v
			u, v = u*depth, v*depth
			mx, my := u*cr+v*sr, -u*sr+v*cr
			if math.Abs(mx) > c.label.W/2 || math.Abs(my) > c.label.H/2 {
				continue
			}
			ink := c.ink((mx+c.label.W/2)*c.pitch, (my+c.label.H/2)*c.pitch, c.pitch/l.pixels)
			level := 0.9 - 0.84*(1-l.faded)*ink
			for _, s := range specks {
				if math.Hypot(mx-s[0], my-s[1]) < s[2] {
					level = 0.25
				}
			}
			levels[y*w+x] = float32(level)
		}
	}
	var there []truth
	for i, text := range c.texts {
		mx, my := c.places[i][0], c.places[i][1]
		u0, v0 := mx*cr-my*sr, mx*sr+my*cr
		u, v := u0, v0
		for range 20 { // until the perspective is undone
			depth := 1 + px*u + py*v
			u, v = u0/depth, v0/depth
		}
		there = append(there, truth{text, photo.Point{X: middle[0] + u*l.pixels, Y: middle[1] + v*squash*l.pixels}})
	}
	return there
}

// ink is how much ink there is on a pixel of the picture that is so many of
// the raster's wide.
func (c *cut) ink(x, y, wide float64) float64 {
	sum, n := 0.0, 0.0
	for dy := -wide / 2; dy < wide/2; dy++ {
		for dx := -wide / 2; dx < wide/2; dx++ {
			p := image.Pt(c.img.Rect.Min.X+int(x+dx), c.img.Rect.Min.Y+int(y+dy))
			if p.In(c.img.Rect) {
				sum += 1 - float64(c.img.GrayAt(p.X, p.Y).Y)/255
			}
			n++
		}
	}
	return sum / max(n, 1)
}

// shadow darkens one side of a line across the picture.
func shadow(levels []float32, w, h int, rnd *rand.Rand) {
	s, c := math.Sincos(2 * math.Pi * rnd.Float64())
	x0, y0 := float64(w)*(0.3+0.4*rnd.Float64()), float64(h)*(0.3+0.4*rnd.Float64())
	for i := range levels {
		if (float64(i%w)-x0)*c+(float64(i/w)-y0)*s > 0 {
			levels[i] *= 0.45
		}
	}
}

// developed blurs, shades and compresses the picture.
func developed(levels []float32, w, h int, l light, rnd *rand.Rand) *image.Gray {
	blur(levels, w, h, l.blur)
	s, c := math.Sincos(2 * math.Pi * rnd.Float64())
	img := image.NewGray(image.Rect(0, 0, w, h))
	for i, v := range levels {
		x, y := float64(i%w)/float64(w)-0.5, float64(i/w)/float64(h)-0.5
		level := float64(v)*(1-l.shade*(0.5+0.7*(x*c+y*s))) + l.noise*rnd.NormFloat64()
		img.Pix[i] = byte(255*math.Pow(min(max(level, 0), 1), 0.7) + 0.5) // roughly as cameras brighten
	}
	return img
}

// blur is a Gauss filter of sigma pixels.
func blur(levels []float32, w, h int, sigma float64) {
	reach := int(math.Ceil(2.5 * sigma))
	var weights []float32
	var sum float32
	for i := -reach; i <= reach; i++ {
		v := float32(math.Exp(-float64(i*i) / (2 * sigma * sigma)))
		weights, sum = append(weights, v), sum+v
	}
	line := make([]float32, max(w, h))
	pass := func(first, step, n int) {
		for i := range n {
			var v float32
			for k, weight := range weights {
				v += weight * levels[first+min(max(i+k-reach, 0), n-1)*step]
			}
			line[i] = v / sum
		}
		for i, v := range line[:n] {
			levels[first+i*step] = v
		}
	}
	for y := range h {
		pass(y*w, 1, w)
	}
	for x := range w {
		pass(x, w, h)
	}
}

// compressed is a picture as a JPEG file.
func compressed(tb testing.TB, img *image.Gray, quality int) []byte {
	tb.Helper()
	var out bytes.Buffer
	if err := jpeg.Encode(&out, img, &jpeg.Options{Quality: quality}); err != nil {
		tb.Fatal(err)
	}
	return out.Bytes()
}
