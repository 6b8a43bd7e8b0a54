package label

import "pipstake/ids"

// identifier is the row that names a thing, with its check character in a
// lighter face behind. Where it does not fit on one line at the least size it
// takes two, broken behind the cross.
func identifier(id ids.ID, want float64) row {
	check := run{Regular, "." + string(rune(id.Check())), 1, false}
	text := id.String()
	one := newLine(run{Bold, text, 1, false}, check)
	cross := id.At(ids.CrossLevel).String()
	return row{want: max(want, leastIdentifier), least: leastIdentifier, lines: func(ems float64, s squeeze) ([]line, bool) {
		if one.width <= ems || s == whole || cross == text {
			return []line{one}, one.width <= ems
		}
		two := []line{newLine(run{Bold, cross, 1, false}), newLine(run{Bold, text[len(cross):], 1, false}, check)}
		return two, max(two[0].width, two[1].width) <= ems
	}}
}
