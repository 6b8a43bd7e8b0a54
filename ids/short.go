package ids

import (
	"fmt"
	"strings"
)

// Short is an identifier as it is said across a bench: without its year, such as
// 12-B2, x12b2 or 012-B2.
type Short struct {
	Cross int
	below string // what is typed behind the number of the cross, "" for the cross itself
}

// ParseShort reads an identifier that lacks its year: at most three digits, or
// up to five behind an X, and behind them the letters of a lot. A number alone
// is none, unless it stands behind an X.
func ParseShort(text string) (Short, bool) {
	const most = 3 // digits; four are a year
	text = strings.ToUpper(strings.TrimSpace(text))
	rest, marked := text, false
	for _, x := range []string{"X", "×"} {
		if cut, ok := strings.CutPrefix(text, x); ok {
			rest, marked = strings.TrimSpace(cut), true
			break
		}
	}
	cross, below := leadingNumber(rest)
	digits := len(rest) - len(below)
	below = strings.TrimLeft(below, "- ")
	lettered := below != "" && letterValue(below[0]) > 0
	yearX := len(below) > 1 && below[0] == 'X' && strings.ContainsRune("0123456789", rune(below[1])) // 26X012: a year cut short
	switch {
	case digits > most+2 || digits > most && !marked || cross < 1 || cross > MaxCross || yearX:
		return Short{}, false
	case !lettered && !(marked && below == ""):
		return Short{}, false
	}
	return Short{cross, below}, true
}

// In writes the identifier with a year, as Parse reads it.
func (s Short) In(year int) string {
	full := fmt.Sprintf("%04dX%03d", year, s.Cross)
	if s.below != "" {
		full += "-" + s.below
	}
	return full
}
