package layout

import (
	"fmt"

	"pipstake/label"
)

// Measures of the line at the foot of a page, in millimetres.
const (
	footHeight = 4.0   // the least strip below the labels that holds it
	footSize   = 2.4   // the em
	checkRule  = 100.0 // printed to be measured
	footGap    = 4.0   // between the words and the rule
)

// foot is the line below the labels that names the page and shows a rule of
// 100 mm, since a viewer that scales a page does so silently. It is empty where
// the stock leaves no room.
func (s Stock) foot(title string, page, pages int) (texts []label.Text, rules []label.Rule) {
	if !s.hasFoot() {
		return nil, nil
	}
	lowest, bottom := s.footRoom()
	left := max(s.Left, s.Edge()) + safety
	right := s.Paper.W - left
	baseline := (max(lowest, bottom-2*footHeight)+bottom)/2 + 0.35*footSize

	start := right - checkRule
	words, rules := ruler(start, right, baseline, footSize, fmt.Sprintf("%.0f mm when printed at 100 %%", checkRule))
	texts = append(texts, words)

	count := fmt.Sprintf("page %d of %d", page, pages)
	for _, words := range []string{title + ", " + count, title, count} {
		if words != "" && left+label.Regular.Width(words)*footSize <= start-footGap {
			return append(texts, sayAt(left, baseline, footSize, words)), rules
		}
	}
	return texts, rules
}

// footRoom is where the strip for the line at the foot begins and ends, from the
// head of the page.
func (s Stock) footRoom() (lowest, bottom float64) {
	lowest = s.Top + float64(s.Rows-1)*s.PitchY + s.LabelH
	if s.Kind == CutSheet {
		lowest += overhang + 1
	}
	return lowest, s.Paper.H - s.Edge()
}

// hasFoot reports whether there is room for the line at the foot.
func (s Stock) hasFoot() bool {
	lowest, bottom := s.footRoom()
	return s.Kind != Roll && bottom-lowest >= footHeight
}

// ruler is a line to be measured from start to end, with what it should be in the
// middle of it.
func ruler(start, end, baseline, size float64, words string) (label.Text, []label.Rule) {
	middle := baseline - 0.35*size
	width := label.Regular.Width(words) * size
	at := (start + end - width) / 2
	var rules []label.Rule
	for _, r := range [][4]float64{
		{start, middle, at - 1, middle}, {at + width + 1, middle, end, middle},
		{start, middle - 1, start, middle + 1}, {end, middle - 1, end, middle + 1},
	} {
		rules = append(rules, label.Rule{X1: r[0], Y1: r[1], X2: r[2], Y2: r[3], Width: hairline})
	}
	return sayAt(at, baseline, size, words), rules
}

func sayAt(x, baseline, size float64, words string) label.Text {
	return label.Text{X: x, Baseline: baseline, Size: size, Face: label.Regular, String: words}
}

// Measures of what a label bears where the sheet has no foot, in millimetres.
const (
	bandSize  = 1.8  // the em
	bandLeast = 1.9  // the least height of the band
	bandGap   = 0.3  // from the face of the label
	bandRule  = 40.0 // printed to be measured
)

// band is a strip along the label in cell n, as it is read, that is white only
// because other labels of the sheet lie in the edge that printers leave white, and
// all are alike. It is empty where there is none, or where the page has a foot.
func (s Stock) band(n int) label.Rect {
	if s.Kind != DieCut || s.hasFoot() || s.Clear != (label.Margin{}) {
		return label.Rect{}
	}
	r, edge := s.Room(0), s.Edge()
	safe := r.Safe()
	printed := label.Rect{W: s.Paper.W, H: s.Paper.H}.Inset(edge, edge, edge, edge)
	for _, b := range []label.Rect{
		{X: safe.X, Y: safe.Bottom() + bandGap, W: safe.W, H: r.Margin.Bottom - safety - bandGap},
		{X: safe.X, Y: safety, W: safe.W, H: r.Margin.Top - safety - bandGap},
	} {
		if b.H >= bandLeast-1e-9 && printed.Contains(s.front(n).onPage(b)) {
			return b
		}
	}
	return label.Rect{}
}

// inBand is what a sheet without a foot says in the band of its first label: the
// batch and the page, and a rule to measure where it is long enough for one.
func inBand(b label.Rect, words string) (texts []label.Text, rules []label.Rule) {
	baseline := b.Bottom() - 0.22*bandSize // letters that reach below it stay inside
	width := label.Regular.Width(words) * bandSize
	if width > b.W {
		return nil, nil
	}
	texts = []label.Text{sayAt(b.X, baseline, bandSize, words)}
	if width+footGap+bandRule <= b.W {
		text, lines := ruler(b.Right()-bandRule, b.Right(), baseline, bandSize, fmt.Sprintf("%.0f mm when printed at 100 %%", bandRule))
		texts, rules = append(texts, text), lines
	}
	return texts, rules
}
