package photo_test

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"strings"
	"testing"

	"pipstake/label/symbol/photo"
	"pipstake/layout/proof/outside"
)

// sampledJPEG is the code in colours as Ghostscript's encoder samples them, with so
// many samples across and down of each. The tables of an encoder and the way in
// which it lays samples are in ITU-T T.81, A.1.1 and A.2.3.
func sampledJPEG(t *testing.T, across, down []int) []byte {
	t.Helper()
	const gs = "gs"
	if _, err := exec.LookPath(gs); err != nil {
		if os.Getenv("CI") == "true" {
			t.Fatal(err)
		}
		t.Skip(err)
	}
	img := drawn(t, 1, 'H', compact, 4, 10)
	var program strings.Builder
	fmt.Fprintf(&program, "%%!\n/d (%%stdout) (w) file << /Columns %d /Rows %d /Colors %d /HSamples %d /VSamples %d /QFactor 0.3 >> /DCTEncode filter def\n",
		img.Rect.Dx(), img.Rect.Dy(), len(across), across, down)
	for y := range img.Rect.Dy() {
		row := make([]byte, 0, len(across)*img.Rect.Dx())
		for x := range img.Rect.Dx() {
			row = append(row, bytes.Repeat([]byte{img.GrayAt(x, y).Y}, len(across))...)
		}
		fmt.Fprintf(&program, "d <%x> writestring\n", row)
	}
	program.WriteString("d closefile\n")
	command := outside.Command(gs, "-q", "-dNODISPLAY", "-dBATCH", "-dNOPAUSE", "-")
	command.Stdin = strings.NewReader(program.String())
	file, err := command.Output()
	if err != nil {
		t.Fatal(err)
	}
	return file
}

// However a camera samples colours, the code is read, or it is said what to do
// (golang/go#54997). Those with three samples across or down, with more of a colour
// than of the light, or with colours sampled in two ways are what the decoder
// refuses; none of them is known of a camera.
func TestSamplingsAreReadOrNamed(t *testing.T) {
	if testing.Short() {
		t.Skip("takes long")
	}
	for _, c := range []struct {
		name         string
		across, down []int
		read         bool
	}{
		{"4:4:4", []int{1, 1, 1}, []int{1, 1, 1}, true},
		{"4:2:2", []int{2, 1, 1}, []int{1, 1, 1}, true},
		{"4:4:0", []int{1, 1, 1}, []int{2, 1, 1}, true},
		{"4:2:0", []int{2, 1, 1}, []int{2, 1, 1}, true},
		{"4:1:1", []int{4, 1, 1}, []int{1, 1, 1}, true},
		{"4:1:0", []int{4, 1, 1}, []int{2, 1, 1}, true},
		{"4:4:4 in twos", []int{2, 2, 2}, []int{1, 1, 1}, true},
		{"4:2:2 in twos", []int{2, 1, 1}, []int{2, 2, 2}, true},
		{"light alone, in twos", []int{2}, []int{2}, true},
		{"four colours", []int{1, 1, 1, 1}, []int{1, 1, 1, 1}, true},
		{"four colours, 4:2:0", []int{2, 1, 1, 2}, []int{2, 1, 1, 2}, true},
		{"three across", []int{3, 1, 1}, []int{1, 1, 1}, false},
		{"three down", []int{1, 1, 1}, []int{3, 1, 1}, false},
		{"four down", []int{1, 1, 1}, []int{4, 1, 1}, false},
		{"more of colours", []int{1, 2, 2}, []int{1, 1, 1}, false},
		{"colours in two ways", []int{2, 1, 2}, []int{2, 2, 1}, false},
		{"four colours, 4:2:2", []int{2, 1, 1, 2}, []int{1, 1, 1, 1}, false},
	} {
		t.Run(c.name, func(t *testing.T) {
			img, err := photo.Open(sampledJPEG(t, c.across, c.down))
			if !c.read {
				var wrong *photo.FileError
				if !errors.As(err, &wrong) || !strings.HasPrefix(wrong.Error(), "it is a JPEG of a kind that pipstake cannot decode: ") || !strings.Contains(wrong.Remedy, "save it as JPEG anew") {
					t.Errorf("%v", err)
				}
				return
			}
			if err != nil {
				t.Fatal(err)
			}
			if read, _ := photo.Read(img); len(read) != 1 || read[0].Text != compact {
				t.Errorf("read %v", read)
			}
		})
	}
}
