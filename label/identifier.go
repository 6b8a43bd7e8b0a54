package label

import "pipstake/ids"

// identifier is the row that names a thing, with its check character in a
// lighter face behind. Where it does not fit on one line at the least size it
// takes two, broken behind the cross.
func identifier(id ids.ID, want float64) row {
	one, two := identifierLines(id)
	parts := id.Level() > ids.CrossLevel
	return row{want: max(want, leastIdentifier), least: leastIdentifier, lines: func(ems float64, s squeeze) ([]line, bool) {
		if one.width <= ems || s == whole || !parts {
			return []line{one}, one.width <= ems
		}
		return two[:], max(two[0].width, two[1].width) <= ems
	}}
}

// identifierLines are an identifier on one line and on two; a cross has nothing
// on the second.
func identifierLines(id ids.ID) (one line, two [2]line) {
	check := run{Regular, "." + string(rune(id.Check())), 1, false}
	text, cross := id.String(), id.At(ids.CrossLevel).String()
	one = newLine(run{Bold, text, 1, false}, check)
	two[0] = newLine(run{Bold, cross, 1, false})
	two[1] = newLine(run{Bold, text[len(cross):], 1, false}, check)
	return one, two
}
