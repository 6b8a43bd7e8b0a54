package layout

import (
	"bytes"
	"errors"
	"fmt"
	"image"
	"strings"
	"testing"

	"pipstake/layout/proof"
)

// Where ink runs by as many dots as were taken off, what is on the paper is
// exactly what would have been drawn without: modules that are whole dots at
// their whole pitch, and the quiet zones.
func TestRunningInkGivesBackTheGain(t *testing.T) {
	for _, c := range []struct {
		stock     string
		dpi, gain int
	}{
		{"a4-cut-148x20", 600, 1}, {"a4-cut-148x20", 600, 2}, {"letter-cut-148x20", 600, 3}, {"letter-cut-148x20", 600, 5}, {"a4-cut-148x20", 1200, 3},
		{"roll-62x29", 300, 2},
	} {
		roll := strings.HasPrefix(c.stock, "roll")
		if testing.Short() && !roll {
			continue // takes long
		}
		job := coded(t, find(t, c.stock), c.dpi)
		job.Places = job.Places[:min(2, len(job.Places))]
		job.Gain = c.gain
		img, err := open(t, write(t, job)).Render(1, c.dpi)
		if err != nil {
			t.Fatal(err)
		}
		if !roll {
			pair := proof.Region(job.Stock.Cell(1), c.dpi).Union(proof.Region(job.Stock.Cell(2), c.dpi))
			img = img.SubImage(pair).(*image.Gray)
		}
		const tolerance = 255 / 20
		// The raster is compared with modules drawn in full.
		if wrong, looked := compareModules(t, img, job, tolerance); wrong == 0 || looked == 0 {
			t.Errorf("%+v: of %d dots none lack ink", c, looked)
		}
		if wrong, looked := compareModules(t, running(img, c.gain, job.Stock.Turned), job, tolerance); wrong > 0 || looked == 0 {
			t.Errorf("%+v: %d of %d dots are wrong once the ink has run", c, wrong, looked)
		}
	}
}

// running is a page whose ink has run: by half of gain to the left and upward,
// by the rest to the right and down, as a label is read. Turned labels read
// from the foot of the page upward.
func running(img *image.Gray, gain int, turned bool) *image.Gray {
	w, h := img.Rect.Dx(), img.Rect.Dy()
	less, more := gain/2, gain-gain/2
	up, below := less, more
	if turned {
		up, below = more, less
	}
	across := spread(img, 1, w, h, img.Stride, less, more)
	return spread(across, img.Stride, h, w, 1, up, below)
}

// spread darkens dots along lines of n dots, step apart; the lines are jump
// apart. Ink runs so many dots back and ahead.
func spread(img *image.Gray, step, n, lines, jump, back, ahead int) *image.Gray {
	out := &image.Gray{Pix: bytes.Clone(img.Pix), Stride: img.Stride, Rect: img.Rect}
	for line := range lines {
		for i := range n {
			from := img.Pix[line*jump+i*step]
			if from == 255 {
				continue
			}
			for to := max(0, i-back); to <= min(n-1, i+ahead); to++ {
				at := line*jump + to*step
				out.Pix[at] = min(out.Pix[at], from)
			}
		}
	}
	return out
}

// A gain may take half of the smallest module, and not be negative.
func TestGainIsRefusedOutOfBounds(t *testing.T) {
	job := coded(t, find(t, "a4-cut-148x20"), 300) // modules of 5 dots
	for _, gain := range []int{-1, 3} {
		job.Gain = gain
		var out bytes.Buffer
		err := WritePDF(&out, job)
		var refused *GainError
		if want := fmt.Sprintf("a print gain of %d dots cannot be taken off modules of 5 dots: give 0 to 2", gain); err == nil || err.Error() != want {
			t.Errorf("%v, want %s", err, want)
		}
		if !errors.As(err, &refused) || *refused != (GainError{Gain: gain, Dots: 5}) || out.Len() > 0 {
			t.Errorf("gain %d: %v after %d bytes", gain, err, out.Len())
		}
	}
	job.Gain = 0
	full := write(t, job)
	job.Gain = 2
	if bytes.Equal(write(t, job), full) {
		t.Error("gain 2: drawn in full")
	}
}
