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
	lowest := s.Top + float64(s.Rows-1)*s.PitchY + s.LabelH
	bottom := s.Paper.H - s.Edge()
	if s.Kind == CutSheet {
		lowest += marginGap + marginLength
	}
	if s.Kind == Roll || bottom-lowest < footHeight {
		return nil, nil
	}
	left := max(s.Left, s.Edge()) + safety
	right := s.Paper.W - left
	baseline := (max(lowest, bottom-2*footHeight)+bottom)/2 + 0.35*footSize

	start := right - checkRule
	middle := baseline - 0.35*footSize
	words := fmt.Sprintf("%.0f mm at actual size", checkRule)
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

func footText(x, baseline float64, words string) label.Text {
	return label.Text{X: x, Baseline: baseline, Size: footSize, Face: label.Regular, String: words}
}
