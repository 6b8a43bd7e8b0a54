package layout

import (
	"encoding/xml"
	"os"
	"strings"
	"testing"
	"time"

	"codeberg.org/go-fonts/liberation/liberationsansregular"
	"golang.org/x/text/unicode/norm"

	"pipstake/ids"
	"pipstake/label"
)

// bboxPages is what poppler's pdftotext -bbox writes: words with the box of
// each, in points from the upper left corner of the page.
type bboxPages struct {
	Pages []struct {
		Words []struct {
			XMin float64 `xml:"xMin,attr"`
			YMin float64 `xml:"yMin,attr"`
			XMax float64 `xml:"xMax,attr"`
			YMax float64 `xml:"yMax,attr"`
			Text string  `xml:",chardata"`
		} `xml:"word"`
	} `xml:"body>doc>page"`
}

// descending are letters that reach below the line. Poppler's boxes reach from the
// ascent of a font to its descent, so where a word has none of them more than a
// tenth of its box is empty at either end.
const descending = "gjpqyQJ,;()[]{}|_şţçęąģķļņŗщцдф"

// Poppler finds all words of labels with 500 awkward names inside their own
// label, and every name whole that the label did not say it shortened.
func TestPopplerFindsNamesInsideTheirLabels(t *testing.T) {
	if testing.Short() {
		t.Skip("takes long")
	}
	list, err := os.ReadFile("../testdata/awkward-names.txt")
	if err != nil {
		t.Fatal(err)
	}
	names := strings.Split(strings.TrimSuffix(string(list), "\n"), "\n")
	if len(names) < 500 {
		t.Fatalf("only %d names", len(names))
	}
	for _, stock := range []string{"a4-cut-148x20", "a4-3x8-70x37"} {
		s := find(t, stock)
		job := Job{Stock: s, Title: "names", Created: time.Unix(0, 0)}
		for i, name := range names {
			id := ids.ID{Year: 2026, Cross: i + 1, Lot: 1}
			d, err := label.Bag{ID: id, SeedParent: name, PollenParent: "Tarn Amber"}.Fit(s.Room(600))
			if s.Kind == CutSheet {
				d, err = label.Stake{ID: id.Child(1), Copy: 1, Seeds: 7, Sown: "2027-01-14", SeedParent: name, PollenParent: "Tarn Amber"}.Fit(s.Room(600))
			}
			if err != nil {
				t.Fatalf("%q: %v", name, err)
			}
			job.Places = append(job.Places, Place{Page: i/s.PerSheet() + 1, Cell: i%s.PerSheet() + 1, Drawing: d})
		}
		var found bboxPages
		if err := xml.Unmarshal(program(t, write(t, job), "pdftotext", "-bbox", "@", "-"), &found); err != nil {
			t.Fatal(err)
		}
		words := make([][]string, len(names))
		for page, p := range found.Pages {
			for _, w := range p.Words {
				const mm = 25.4 / 72
				box := label.Rect{X: w.XMin * mm, Y: w.YMin * mm, W: (w.XMax - w.XMin) * mm, H: (w.YMax - w.YMin) * mm}
				if !strings.ContainsAny(w.Text, descending) {
					empty := 0.1 * min(box.W, box.H)
					box = box.Inset(empty, empty, empty, empty)
				}
				cell := holder(s, box)
				if cell == 0 {
					t.Errorf("%s, page %d: %q lies in no label: %+v", stock, page+1, w.Text, box)
					continue
				}
				i := page*s.PerSheet() + cell - 1
				words[i] = append(words[i], w.Text)
			}
		}
		for i, name := range names {
			text := norm.NFC.String(strings.Join(words[i], " "))
			for _, word := range strings.Fields(norm.NFC.String(name)) {
				if !strings.Contains(text, word) && len(job.Places[i].Drawing.Notices) == 0 {
					t.Errorf("%s: the label of %q says %q", stock, name, text)
				}
			}
		}
	}
}

// holder is the cell of s that holds the whole box, or 0.
func holder(s Stock, box label.Rect) int {
	for n := 1; n <= s.PerSheet(); n++ {
		if s.Cell(n).Contains(box) {
			return n
		}
	}
	return 0
}

// A name in a font of the grower's own comes out of the PDF letter by letter.
func TestNamesInAnotherFont(t *testing.T) {
	names, err := label.NewTypeface("Names", "", liberationsansregular.TTF)
	if err != nil {
		t.Fatal(err)
	}
	s := find(t, "a4-cut-148x20")
	room := s.Room(600)
	room.Names = names
	d, err := label.Stake{ID: ids.ID{Year: 2026, Cross: 1, Lot: 1, Pot: 1}, Copy: 1, Seeds: 7, Sown: "2027-01-14",
		SeedParent: "Đệ Nhất", PollenParent: "Tarn Amber"}.Fit(room)
	if err != nil {
		t.Fatal(err)
	}
	doc := open(t, write(t, Job{Stock: s, Places: []Place{{Page: 1, Cell: 1, Drawing: d}}, Title: "names", Created: time.Unix(0, 0)}))
	texts, err := doc.Texts(1)
	if err != nil {
		t.Fatal(err)
	}
	var all strings.Builder
	for _, x := range texts {
		all.WriteString(x.String)
	}
	if got := norm.NFC.String(all.String()); !strings.Contains(strings.ReplaceAll(got, " ", ""), "ĐệNhất") {
		t.Errorf("the page says %q", got)
	}
}
