package photo_test

import (
	"math/rand/v2"
	"testing"

	"pipstake/label/symbol"
	"pipstake/label/symbol/photo"
)

// Small Data Matrix codes are read at every angle, as they are and mirrored, down
// to 2.2 pixels a module, with the noise of a camera.
func TestReadsSmallDataMatrix(t *testing.T) {
	step := 30
	if testing.Short() {
		step = 70
	}
	rnd := rand.New(rand.NewPCG(7, 22))
	for _, mirrored := range []bool{false, true} {
		for _, module := range []float64{2.2, 2.6, 3} {
			read, all := 0, 0
			for _, payload := range []string{"2026X012.M", compact, full} {
				for degrees := 0; degrees < 360; degrees += step {
					img := drawn(t, symbol.DataMatrix, 0, payload, module, float64(degrees)+0.7)
					if mirrored {
						img = flipped(img)
					}
					for i, v := range img.Pix {
						img.Pix[i] = byte(min(255, max(0, float64(v)+rnd.NormFloat64()*3)))
					}
					all++
					if found, _ := photo.Read(img); len(found) == 1 && found[0].Text == payload {
						read++
					} else {
						t.Errorf("mirrored %v, %v pixels a module, %d degrees: %q is read as %v", mirrored, module, degrees, payload, found)
					}
				}
			}
			t.Logf("mirrored %v, %v pixels a module: %d of %d", mirrored, module, read, all)
		}
	}
}
