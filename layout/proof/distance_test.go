package proof_test

import (
	"fmt"
	"image"
	"image/draw"
	"math/rand/v2"
	"os/exec"
	"strings"
	"testing"
	"time"

	"pipstake/ids"
	"pipstake/label"
	"pipstake/layout"
	"pipstake/layout/proof"
)

// viewDPI is the resolution of the prints that eyes look at.
const viewDPI = 300

// reader is a face as a person reads it: its identifier and its names.
type readFace struct {
	name, stock string
	draw        func(*rand.Rand, label.Room) (*label.Drawing, ids.ID, []string, error)
}

// crossOf is an identifier and two names that chance gives.
func crossOf(rnd *rand.Rand) (id ids.ID, names []string) {
	p := rnd.Perm(len(parents))
	id = ids.ID{Year: 2024 + rnd.IntN(6), Cross: 1 + rnd.IntN(120), Lot: 1 + rnd.IntN(24), Pot: 1 + rnd.IntN(30), Seedling: 1 + rnd.IntN(24)}
	return id, []string{parents[p[0]], parents[p[1]]}
}

var readFaces = []readFace{
	{"stake", "a4-cut-148x20", func(rnd *rand.Rand, room label.Room) (*label.Drawing, ids.ID, []string, error) {
		id, names := crossOf(rnd)
		id = id.At(ids.PotLevel)
		d, err := label.Stake{ID: id, Copy: 1, Seeds: 1 + rnd.IntN(12), Sown: "2027-01-14", SeedParent: names[0], PollenParent: names[1]}.Fit(room)
		return d, id, names, err
	}},
	{"bag", "a4-3x8-70x37", func(rnd *rand.Rand, room label.Room) (*label.Drawing, ids.ID, []string, error) {
		id, names := crossOf(rnd)
		id = id.At(ids.LotLevel)
		d, err := label.Bag{ID: id, SeedParent: names[0], PollenParent: names[1]}.Fit(room)
		return d, id, names, err
	}},
	{"seedling", "a4-5x13-38.1x21.2", func(rnd *rand.Rand, room label.Room) (*label.Drawing, ids.ID, []string, error) {
		id, names := crossOf(rnd)
		d, err := label.Seedling{ID: id, SeedParent: names[0], PollenParent: names[1], Pricked: "2027-04-02"}.Fit(room)
		return d, id, names, err
	}},
	{"tag", "a4-cut-100x25", func(rnd *rand.Rand, room label.Room) (*label.Drawing, ids.ID, []string, error) {
		id, names := crossOf(rnd)
		id = id.At(ids.CrossLevel)
		d, err := label.BranchTag{ID: id, SeedParent: names[0], PollenParent: names[1], Pollinated: "2026-05-03"}.Fit(room)
		return d, id, names, err
	}},
}

// view is a printed label that is looked at.
type view struct {
	img        *image.Gray // as it is read
	identifier image.Rectangle
	names      image.Rectangle
	tile       image.Rectangle // of a stake; empty otherwise
	id         ids.ID
	parents    []string
}

// viewOf prints a label of the face by itself.
func viewOf(tb testing.TB, f readFace, n int) view {
	tb.Helper()
	rnd := rand.New(rand.NewPCG(uint64(n), 5))
	stock, err := layout.FindStock(f.stock)
	if err != nil {
		tb.Fatal(err)
	}
	d, id, names, err := f.draw(rnd, stock.Room(600))
	if err != nil {
		tb.Fatal(err)
	}
	v := view{id: id, parents: names}
	alone, err := layout.RollStock(d.W, d.H)
	if err != nil {
		tb.Fatal(err)
	}
	err = layout.Preview(layout.Job{Stock: alone, Title: "T", Created: time.Date(2027, 1, 14, 0, 0, 0, 0, time.UTC),
		Places: []layout.Place{{Page: 1, Cell: 1, Drawing: d}}}, viewDPI, func(_, _ int, img *image.Gray) error {
		v.img = img
		return nil
	})
	if err != nil {
		tb.Fatal(err)
	}
	v.identifier, v.names = textsOf(d, id, names)
	for _, t := range d.Texts {
		if t.Turn == label.Upward {
			v.tile = v.tile.Union(proof.Region(t.Box.Inset(-1, -0.8, -1, -0.8), viewDPI))
		}
	}
	return v
}

// textsOf are where a drawing says the identifier, the first time along its
// length, and where it says the names.
func textsOf(d *label.Drawing, id ids.ID, names []string) (identifier, parents image.Rectangle) {
	rest := id.String()
	for _, t := range d.Texts {
		if t.Turn != label.Upright {
			continue
		}
		at := proof.Region(t.Box.Inset(-1, -0.8, -1, -0.8), viewDPI)
		if rest != "" && strings.HasPrefix(rest, t.String) {
			rest = strings.TrimPrefix(strings.TrimPrefix(rest, t.String), "-")
			identifier = identifier.Union(at)
			continue
		}
		for _, word := range strings.Fields(strings.Join(names, " ")) {
			if strings.Contains(t.String, word) {
				parents = parents.Union(at)
			}
		}
	}
	return identifier, parents
}

// whiteAround is what tesseract likes to see around text, in pixels.
const whiteAround = 40

// part cuts a region out of a picture, with white around it: at least whiteAround
// and by chance, which fate stands for, up to a pixel of the eye from metres more at
// the left and above, since an eye's pixels lie anywhere on a label.
func part(img *image.Gray, at image.Rectangle, metres float64, fate int) *image.Gray {
	rnd := rand.New(rand.NewPCG(uint64(fate), 11))
	pixel := 1 + int(proof.EyePixel(metres)*viewDPI/25.4)
	at = at.Inset(-whiteAround)
	aside := image.Pt(rnd.IntN(pixel), rnd.IntN(pixel))
	out := image.NewGray(image.Rectangle{Max: at.Size().Add(aside)})
	draw.Draw(out, out.Rect, image.White, image.Point{}, draw.Src)
	in := at.Inset(whiteAround).Intersect(img.Rect)
	draw.Draw(out, in.Sub(at.Min).Add(aside), img, in.Min, draw.Src)
	return out
}

// letters are the letters and digits of a text.
func letters(s string) string {
	return strings.Map(func(r rune) rune {
		if r == '.' || r == '-' || r == ' ' {
			return -1
		}
		return r
	}, s)
}

// The share of identifiers that tesseract reads without a fault, the check
// character apart, at one pixel an arc minute, from 2, 3 and 4 metres and in a
// wet print from 2; and the share of the letters of the names from one metre.
// One iteration is one label: -benchtime 24x.
func BenchmarkDistance(b *testing.B) {
	if _, err := exec.LookPath("tesseract"); err != nil {
		b.Skip(err)
	}
	for _, f := range readFaces {
		b.Run(f.name, func(b *testing.B) {
			var views []view
			for n := range b.N {
				views = append(views, viewOf(b, f, n))
			}
			b.ResetTimer()
			for _, far := range []float64{2, 3, 4} {
				b.ReportMetric(100*identifiersRead(b, views, far, false), fmt.Sprintf("%%at%.0fm", far))
			}
			b.ReportMetric(100*identifiersRead(b, views, 2, true), "%wet2m")
			if f.name == "stake" {
				b.ReportMetric(100*tilesRead(b, views, 4, false), "%tile4m")
				b.ReportMetric(100*tilesRead(b, views, 3, true), "%tilewet3m")
			}
			b.ReportMetric(100*namesRead(b, views, 1), "%names1m")
		})
	}
}

// The share of labels on which tesseract reads the identifier from one metre, and
// gozxing a code, once the ink has run: what the one loses first the other may still
// tell. One iteration is one label: -benchtime 24x.
func BenchmarkBleed(b *testing.B) {
	if _, err := exec.LookPath("tesseract"); err != nil {
		b.Skip(err)
	}
	for _, f := range readFaces {
		b.Run(f.name, func(b *testing.B) {
			var views []view
			for n := range b.N {
				views = append(views, viewOf(b, f, n))
			}
			b.ResetTimer()
			for _, by := range []float64{0.1, 0.15, 0.2, 0.3} {
				text, code, either := bledRead(b, views, by)
				b.ReportMetric(100*text, fmt.Sprintf("%%text%.2f", by))
				b.ReportMetric(100*code, fmt.Sprintf("%%code%.2f", by))
				b.ReportMetric(100*either, fmt.Sprintf("%%either%.2f", by))
			}
		})
	}
}

// bledRead are the shares of labels whose identifier, one of whose codes, and either
// of which is read once the ink has run by so many millimetres.
func bledRead(tb testing.TB, views []view, by float64) (text, code, either float64) {
	tb.Helper()
	var imgs []*image.Gray
	coded := make([]bool, len(views))
	for n, v := range views {
		bled := proof.Bled(v.img, viewDPI, by, uint64(n))
		for _, read := range proof.Decode(bled, bled.Rect) {
			coded[n] = coded[n] || strings.HasPrefix(read, v.id.String()+".")
		}
		imgs = append(imgs, proof.Seen(part(bled, v.identifier, 1, n), viewDPI, 1))
	}
	texts, err := proof.ReadLetters(tb.TempDir(), proof.Alphabet, imgs)
	if err != nil {
		tb.Fatal(err)
	}
	each := 1 / float64(len(views))
	for i, v := range views {
		read := strings.HasPrefix(letters(texts[i]), letters(v.id.String()))
		if read {
			text += each
		}
		if coded[i] {
			code += each
		}
		if read || coded[i] {
			either += each
		}
	}
	return text, code, either
}

// identifiersRead is the share of identifiers read from so many metres.
func identifiersRead(tb testing.TB, views []view, metres float64, wet bool) float64 {
	tb.Helper()
	var imgs []*image.Gray
	for n, v := range views {
		img := part(v.img, v.identifier, metres, n)
		if wet {
			img = proof.Wet(img, viewDPI, uint64(n))
		}
		imgs = append(imgs, proof.Seen(img, viewDPI, metres))
	}
	texts, err := proof.ReadLetters(tb.TempDir(), proof.Alphabet, imgs)
	if err != nil {
		tb.Fatal(err)
	}
	read := 0
	for i, v := range views {
		if strings.HasPrefix(letters(texts[i]), letters(v.id.String())) {
			read++
		} else if testing.Verbose() {
			tb.Logf("%.0f m: %s read %q", metres, v.id, texts[i])
		}
	}
	return float64(read) / float64(len(views))
}

// tilesRead is the share of tiles read from so many metres, as a stake stands in
// its pot.
func tilesRead(tb testing.TB, views []view, metres float64, wet bool) float64 {
	tb.Helper()
	var imgs []*image.Gray
	for n, v := range views {
		img := standing(part(v.img, v.tile, metres, n))
		if wet {
			img = proof.Wet(img, viewDPI, uint64(n))
		}
		imgs = append(imgs, proof.Seen(img, viewDPI, metres))
	}
	texts, err := proof.ReadLetters(tb.TempDir(), proof.Alphabet, imgs)
	if err != nil {
		tb.Fatal(err)
	}
	read := 0
	for i, v := range views {
		id := v.id.String()
		if testing.Verbose() {
			tb.Logf("%.0f m: %s read %q", metres, id, texts[i])
		}
		if letters(texts[i]) == letters(id[len("2026X"):]) {
			read++
		}
	}
	return float64(read) / float64(len(views))
}

// standing turns a picture so that its left side is at the top.
func standing(img *image.Gray) *image.Gray {
	w, h := img.Rect.Dx(), img.Rect.Dy()
	out := image.NewGray(image.Rect(0, 0, h, w))
	for y := range h {
		for x := range w {
			out.Pix[x*out.Stride+h-1-y] = img.Pix[y*img.Stride+x]
		}
	}
	return out
}

// namesRead is the share of the names' words read from so many metres.
func namesRead(tb testing.TB, views []view, metres float64) float64 {
	tb.Helper()
	var imgs []*image.Gray
	for n, v := range views {
		imgs = append(imgs, proof.Seen(part(v.img, v.names, metres, n), viewDPI, metres))
	}
	texts, err := proof.ReadLetters(tb.TempDir(), "", imgs)
	if err != nil {
		tb.Fatal(err)
	}
	read, words := 0, 0
	for i, v := range views {
		for _, word := range strings.Fields(strings.Join(v.parents, " ")) {
			words++
			if strings.Contains(texts[i], word) {
				read++
			}
		}
	}
	return float64(read) / float64(words)
}
