package words

import "testing"

// Worked out by hand; half goes up, as Math.round of ECMAScript has it.
func TestPercent(t *testing.T) {
	for _, c := range []struct {
		n, of int
		want  string
	}{{5, 8, "63"}, {1, 8, "13"}, {23, 40, "58"}, {0, 7, "0"}, {7, 7, "100"}, {1, 3, "33"}, {2, 3, "67"}, {1, 200, "1"}, {199, 200, "100"}, {29, 200, "15"}} {
		if got := PercentOf(c.n, c.of); got != c.want {
			t.Errorf("%d of %d: %s %%, want %s", c.n, c.of, got, c.want)
		}
	}
}
