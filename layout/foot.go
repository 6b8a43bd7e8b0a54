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
	middle := baseline - 0.35*footSize
	words := fmt.Sprintf("%.0f mm when printed at 100 %%", checkRule)
	width := label.Regular.Width(words) * footSize
	at := start + (checkRule-width)/2
	texts = append(texts, footText(at, baseline, words))
	for _, r := range [][4]float64{
		{start, middle, at - 1, middle}, {at + width + 1, middle, right, middle},
		{start, middle - 1, start, middle + 1}, {right, middle - 1, right, middle + 1},
	} {
		rules = append(rules, label.Rule{X1: r[0], Y1: r[1], X2: r[2], Y2: r[3], Width: hairline})
	}

	count := fmt.Sprintf("page %d of %d", page, pages)
	for _, words := range []string{title + ", " + count, title, count} {
		if words != "" && left+label.Regular.Width(words)*footSize <= start-footGap {
			return append(texts, footText(left, baseline, words)), rules
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

func footText(x, baseline float64, words string) label.Text {
	return label.Text{X: x, Baseline: baseline, Size: footSize, Face: label.Regular, String: words}
}
