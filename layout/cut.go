package layout

import "fmt"

// CutStock is a sheet of stakes, length by width millimetres, to be cut from
// plain paper. The stakes lie close together in pairs, side by side along their
// long edges: cells 2k−1 and 2k are a pair that is cut out in one and then
// apart. Of upright and lying stakes it takes what gives more pairs, upright
// where equal. The long edges stay within what a printer can reach; the ends
// may run to the edge of the page.
//
// The error tells what is wrong with the size, or that no pair fits.
func CutStock(p Paper, length, width float64) (Stock, error) {
	if !(width >= leastLabel && length >= width && length <= mostLabel) {
		if length < width && width <= mostLabel {
			return Stock{}, fmt.Errorf("a stake of %s mm is wider than long: give the length first", size(length, width))
		}
		return Stock{}, sizeError("a stake", length, width)
	}
	// Numbers of stakes end to end and side by side on the upright page.
	end, side := whole(p.H/length), even((p.W-2*unprintable)/width)
	upright := Stock{Columns: side, Rows: end, LabelW: width, LabelH: length, Turned: true}
	end, side = whole(p.W/length), even((p.H-2*unprintable)/width)
	lying := Stock{Columns: end, Rows: side, LabelW: length, LabelH: width}

	s := upright
	if lying.PerSheet() > upright.PerSheet() {
		s = lying
	}
	if s.PerSheet() == 0 {
		return Stock{}, fmt.Errorf("not one pair of stakes of %s mm goes on %v: give a smaller size or a larger paper", size(length, width), p)
	}
	s.Name = fmt.Sprintf("%s-cut-%sx%s", p.Name, millimetres(length), millimetres(width))
	s.Kind, s.Paper = CutSheet, p
	s.PitchX, s.PitchY = s.LabelW, s.LabelH
	s.Left = (p.W - float64(s.Columns)*s.LabelW) / 2
	s.Top = (p.H - float64(s.Rows)*s.LabelH) / 2
	return s, nil
}

// whole is the number of whole labels in a ratio of lengths.
func whole(ratio float64) int { return max(0, int(ratio+1e-9)) }

// even is the largest even number of labels in a ratio of lengths.
func even(ratio float64) int { return whole(ratio) / 2 * 2 }
