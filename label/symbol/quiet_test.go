package symbol

import (
	"math"
	"testing"
)

// The white around a code is 4 modules wide for QR (ISO/IEC 18004) and 1 for
// Data Matrix (ISO/IEC 16022); a module of 7 dots at 300 dpi is 0.5927 mm,
// recomputed.
func TestQuietZone(t *testing.T) {
	const module = 7 * 25.4 / 300
	for _, c := range []struct {
		kind         Kind
		size         int
		quiet, outer float64 // modules
	}{{QR, 21, 4, 29}, {DataMatrix, 18, 1, 20}} {
		got := Choice{Kind: c.kind, Size: c.size, Dots: 7, DPI: 300}
		if math.Abs(got.Quiet()-c.quiet*module) > 1e-9 || math.Abs(got.Outer()-c.outer*module) > 1e-9 {
			t.Errorf("%s: quiet zone %.3f mm and %.3f mm in all, want %.3f and %.3f", got, got.Quiet(), got.Outer(), c.quiet*module, c.outer*module)
		}
	}
}
