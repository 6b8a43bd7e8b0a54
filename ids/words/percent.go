package words

import (
	"math"
	"strconv"
)

// Percent returns a share, from 0 to 1, in whole percent without the sign. Half a
// percent goes up, on the screen as on the field page: 5 of 8 are 63.
func Percent(share float64) string {
	const rounding = 1e-9 // of a percent: 23 of 40 are 57.5, and no less
	return strconv.Itoa(int(math.Floor(100*share + 0.5 + rounding)))
}

// PercentOf returns how many percent n of a number above 0 are; see Percent.
func PercentOf(n, of int) string { return Percent(float64(n) / float64(of)) }
