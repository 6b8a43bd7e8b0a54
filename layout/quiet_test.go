package layout

import (
	"image"
	"testing"

	"pipstake/ids"
	"pipstake/label"
	"pipstake/label/symbol"
	"pipstake/layout/proof"
)

// faces are labels of every kind for a room, with short and long names.
func faces(t *testing.T, s Stock, dpi int) []*label.Drawing {
	t.Helper()
	id := ids.ID{Year: 2026, Cross: 12, Lot: 2}
	var all []*label.Drawing
	for _, names := range [][2]string{{"Tarn Amber", "Gwennol Goch"}, {"Larkfield Tessel of the Upper Orchard", "Tarn Amber from behind the Mill"}} {
		for _, batch := range [][]label.Face{
			{label.Bag{ID: id, SeedParent: names[0], PollenParent: names[1]}},
			{label.Seedling{ID: id.Child(2).Child(3), SeedParent: names[0], PollenParent: names[1], Pricked: "2027-03-02"}},
			{label.BranchTag{ID: id.At(ids.CrossLevel), SeedParent: names[0], PollenParent: names[1], Pollinated: "2026-05-04"}},
			{label.Stake{ID: id.Child(2), Copy: 1, Seeds: 7, Sown: "2027-01-14", SeedParent: names[0], PollenParent: names[1]}},
		} {
			drawn, err := label.Fit(batch, s.Room(dpi))
			if err != nil {
				continue // too small for this kind; the test counts the codes
			}
			all = append(all, drawn...)
		}
	}
	return all
}

// On paper there is nothing for 4 modules around a QR code (ISO/IEC 18004, the
// quiet zone) and for 1 around a Data Matrix (ISO/IEC 16022), and that white is
// on the label itself, since what lies beside the cut is not known.
func TestQuietZonesAreWhiteOnPaper(t *testing.T) {
	const dpi = 300
	seen := map[symbol.Kind]int{}
	for _, name := range []string{"a4-cut-148x20", "a4-cut-102x13", "a4-3x7-63.5x38.1", "letter-4x20-44.5x12.7", "roll-62x29"} {
		s := find(t, name)
		job := Job{Stock: s, Title: "T", Created: created}
		for i, d := range faces(t, s, dpi) {
			job.Places = append(job.Places, Place{Page: 1 + i/s.PerSheet(), Cell: 1 + i%s.PerSheet(), Drawing: d})
		}
		doc := open(t, write(t, job))
		pages := map[int]*image.Gray{}
		for _, p := range job.Places {
			if pages[p.Page] == nil {
				img, err := doc.Render(p.Page, dpi)
				if err != nil {
					t.Fatal(err)
				}
				pages[p.Page] = img
			}
			lies := s.front(p.Cell)
			for _, c := range p.Drawing.Codes {
				seen[c.Symbol.Kind]++
				quiet := 4
				if c.Symbol.Kind == symbol.DataMatrix {
					quiet = 1
				}
				x, y := lies.codeDots(c)
				side := c.Symbol.Size * c.Symbol.Dots
				ink := image.Rect(x, y, x+side, y+side)
				zone := ink.Inset(-quiet * c.Symbol.Dots)
				if cell := proof.Region(lies.at, dpi); !zone.In(cell) {
					t.Errorf("%s, cell %d: the quiet zone %v of the code reaches beyond the label %v", name, p.Cell, zone, cell)
				}
				if dark := darkest(pages[p.Page], zone, ink); dark < 250 {
					t.Errorf("%s, cell %d: level %d within %d modules of the %s", name, p.Cell, dark, quiet, c.Symbol)
				}
				if darkest(pages[p.Page], ink, image.Rectangle{}) > 20 {
					t.Errorf("%s, cell %d: no code where it should be", name, p.Cell)
				}
			}
		}
	}
	if seen[symbol.QR] < 10 || seen[symbol.DataMatrix] < 2 {
		t.Errorf("looked at too few codes: %v", seen)
	}
}

// darkest is the least level of the pixels in one rectangle and not in another.
func darkest(img *image.Gray, in, but image.Rectangle) byte {
	least := byte(255)
	in = in.Intersect(img.Rect)
	for y := in.Min.Y; y < in.Max.Y; y++ {
		for x := in.Min.X; x < in.Max.X; x++ {
			if !(image.Point{X: x, Y: y}).In(but) {
				least = min(least, img.GrayAt(x, y).Y)
			}
		}
	}
	return least
}
