package main

import "testing"

// F is shown with as many decimals as it has, and never rounded to none or all.
func TestCoefficient(t *testing.T) {
	for f, want := range map[float64]string{0: "0", 0.5: "0.5", 0.15625: "0.15625", 1. / 3: "0.33333", 1: "1",
		1 - 1./(1<<40): "above 0.99999", 1. / (1 << 40): "below 0.00001"} {
		if got := coefficient(f); got != want {
			t.Errorf("%v is shown as %q, want %q", f, got, want)
		}
	}
}
