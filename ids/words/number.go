package words

import (
	"strconv"
	"strings"
)

// Number returns a number with no more decimals than it needs, and at most so
// many: Number(12.50, 2) is "12.5".
func Number(v float64, decimals int) string {
	s := strconv.FormatFloat(v, 'f', decimals, 64)
	if decimals > 0 {
		s = strings.TrimSuffix(strings.TrimRight(s, "0"), ".")
	}
	return s
}

// Plain returns a number with all the decimals that it needs.
func Plain(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }
