package layout

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"pipstake/label"
)

// marked is the drawing of a label with what the sheet says of itself on it: the
// number of its cell where the label has a corner to spare, so that a spoilt one
// can be named; and where the foot of the page has no room, batch and page and a
// measure to check: in the strips of the first two labels, where their points are,
// or in the band of the first.
func (j Job) marked(p Place, first, page, pages int) *label.Drawing {
	d := p.Drawing
	var texts []label.Text
	if d.Spare.W > 0 && j.Stock.PerSheet() > 1 {
		texts = append(texts, within(d.Spare, strconv.Itoa(p.Cell)))
	}
	var rules []label.Rule
	switch strips := j.Stock.inStrips(d); {
	case p.Cell == first:
		batch, _, _ := strings.Cut(j.Title, ",")
		batch = fmt.Sprintf("%s, %d/%d", strings.TrimPrefix(batch, "pipstake "), page, pages)
		if strips {
			if label.Regular.Width(batch)*leastNumber > d.Strip.H {
				batch, _, _ = strings.Cut(batch, ",")
			}
			texts = append(texts, across(d.Strip, batch))
		} else if band := j.Stock.band(p.Cell); band.W > 0 {
			words, lines := inBand(band, batch)
			texts, rules = append(texts, words...), lines
		}
	case strips && p.Cell == first+1:
		texts = append(texts, across(d.Strip, fmt.Sprintf("10 = %s mm", millimetres(10*d.H))))
	}
	if len(texts) == 0 {
		return d
	}
	marked := *d
	marked.Texts = slices.Concat(d.Texts, texts)
	if rules != nil {
		marked.Rules = slices.Concat(d.Rules, rules)
	}
	return &marked
}

// inStrips reports whether labels bear at their points what the sheet is.
func (s Stock) inStrips(d *label.Drawing) bool {
	return d.Strip.W > 0 && s.Kind == CutSheet && !s.hasFoot()
}

// SaysBatch reports whether a sheet whose first label is d, in cell n, says which
// batch and page it is; a roll needs not.
func (s Stock) SaysBatch(d *label.Drawing, n int) bool {
	return s.Kind == Roll || s.hasFoot() || s.inStrips(d) || s.band(n).W > 0
}

// leastNumber is the em of the smallest letters of a sheet, in millimetres: 4 pt.
const leastNumber = 1.41

// within sets words in the middle of a small place.
func within(box label.Rect, words string) label.Text {
	size := min(box.W/label.Regular.Width(words), box.H/0.75)
	return label.Text{X: box.X + (box.W-label.Regular.Width(words)*size)/2, Baseline: box.Y + (box.H+0.72*size)/2, Size: size,
		Face: label.Regular, String: words}
}

// across sets words across a label, in the middle of a strip.
func across(box label.Rect, words string) label.Text {
	size := max(leastNumber, min(box.W/0.95, box.H/label.Regular.Width(words)))
	return label.Text{X: box.X + (box.W+0.72*size)/2, Baseline: box.Y + (box.H+label.Regular.Width(words)*size)/2, Size: size,
		Face: label.Regular, String: words, Turn: label.Upward}
}
