package photo_test

import (
	"bytes"
	"encoding/binary"
	"errors"
	"image"
	"image/draw"
	"image/jpeg"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"pipstake/label/symbol/photo"
)

// asJPEG is a picture as the encoder of Go writes it.
func asJPEG(tb testing.TB, img image.Image) []byte {
	tb.Helper()
	var out bytes.Buffer
	if err := jpeg.Encode(&out, img, &jpeg.Options{Quality: 90}); err != nil {
		tb.Fatal(err)
	}
	return out.Bytes()
}

// segmentsOf cuts a JPEG into its segments and what follows the head of the first
// scan (ITU-T T.81, B.1.1).
func segmentsOf(file []byte) (segments [][]byte, scan []byte) {
	for at := 2; ; {
		end := at + 2 + int(binary.BigEndian.Uint16(file[at+2:]))
		segments = append(segments, file[at:end])
		if file[at+1] == 0xda {
			return segments, file[end:]
		}
		at = end
	}
}

// joined puts a JPEG together.
func joined(segments [][]byte, scan []byte) []byte {
	return append(append([]byte("\xff\xd8"), bytes.Join(segments, nil)...), scan...)
}

// above is a picture with a code in its upper part, and below it what is long to
// encode.
func above(t *testing.T) *image.Gray {
	t.Helper()
	code := drawn(t, 1, 'H', compact, 4, 0)
	side := code.Rect.Dx()
	img := image.NewGray(image.Rect(0, 0, side, 2*side))
	draw.Draw(img, code.Rect, code, image.Point{}, draw.Src)
	for i := side * side; i < len(img.Pix); i++ {
		img.Pix[i] = byte(128 + i*i%61)
	}
	return img
}

// A JPEG that lacks its end is looked at as far as it goes (golang/go#10447), and
// it is said that it lacks it.
func TestOpenReadsWhatIsThere(t *testing.T) {
	img := above(t)
	coloured := image.NewRGBA(img.Rect)
	draw.Draw(coloured, img.Rect, img, image.Point{}, draw.Src)
	for name, file := range map[string][]byte{"grey": asJPEG(t, img), "coloured": asJPEG(t, coloured)} {
		for _, lacking := range []int{1, 2, 3, 40, len(file) / 5, len(file) / 3} {
			got, err := photo.Open(file[:len(file)-lacking])
			if _, isPart := err.(*photo.PartError); !isPart && lacking > 2 {
				t.Errorf("%s without its last %d bytes: %v", name, lacking, err)
			}
			if got == nil || got.Rect.Size() != img.Rect.Size() {
				t.Errorf("%s without its last %d bytes is no picture of %v", name, lacking, img.Rect.Size())
				continue
			}
			if read, _ := photo.Read(got); len(read) != 1 || read[0].Text != compact {
				t.Errorf("%s without its last %d bytes: %v", name, lacking, read)
			}
		}
		segments, _ := segmentsOf(file)
		head := len(joined(segments, nil))
		for _, n := range []int{3, 20, head / 2, head - 1} {
			if _, err := photo.Open(file[:n]); !errors.As(err, new(*photo.FileError)) {
				t.Errorf("the first %d bytes of %s: %v", n, name, err)
			}
		}
	}
}

// One with restart markers (T.81, B.2.4.4, E.1.4) that lacks its end is looked at
// as well. It is made of a picture in which every unit is alike.
func TestOpenReadsWhatIsThereBetweenRestarts(t *testing.T) {
	const side = 320 // 40×40 blocks
	for _, interval := range []int{1, 7, 40} {
		file := restarting(t, side, interval)
		whole, err := photo.Open(file)
		if err != nil {
			t.Fatalf("an interval of %d: %v", interval, err)
		}
		for _, lacking := range []int{3, len(file) / 4, len(file) / 2} {
			got, err := photo.Open(file[:len(file)-lacking])
			if _, isPart := err.(*photo.PartError); !isPart {
				t.Errorf("an interval of %d without the last %d bytes: %v", interval, lacking, err)
				continue
			}
			if top := side * 40; !bytes.Equal(got.Pix[:top], whole.Pix[:top]) {
				t.Errorf("an interval of %d without the last %d bytes: the upper rows differ", interval, lacking)
			}
		}
	}
}

// restarting is a grey JPEG of one level with a restart marker after so many
// blocks. The first block of an interval says the level anew, and the others that
// nothing changes, so each kind of block is taken from what the encoder writes.
func restarting(t *testing.T, side, interval int) []byte {
	t.Helper()
	flat := image.NewGray(image.Rect(0, 0, side, side))
	for i := range flat.Pix {
		flat.Pix[i] = 90
	}
	segments, _ := segmentsOf(asJPEG(t, flat))
	small := image.NewGray(image.Rect(0, 0, 8*interval, 8)) // a row of one interval
	for i := range small.Pix {
		small.Pix[i] = 90
	}
	_, scan := segmentsOf(asJPEG(t, small))
	one := scan[:len(scan)-2] // padded to whole bytes, as before a marker
	var all []byte
	blocks := side / 8 * (side / 8)
	for done, n := 0, 0; done < blocks; n++ {
		all = append(all, one...)
		if done += interval; done < blocks {
			all = append(all, 0xff, byte(0xd0+n%8))
		}
	}
	segments = slices.Insert(segments, len(segments)-1, []byte{0xff, 0xdd, 0, 4, byte(interval >> 8), byte(interval)})
	return joined(segments, append(all, 0xff, 0xd9))
}

// Four colours, as programs for print make them: with and without the segment
// that says how they are meant. The file is one of Ghostscript's device jpegcmyk.
func TestOpenReadsFourColours(t *testing.T) {
	file, err := os.ReadFile(filepath.Join("testdata", "cmyk.jpg"))
	if err != nil {
		t.Fatal(err)
	}
	segments, scan := segmentsOf(file)
	bare := slices.DeleteFunc(slices.Clone(segments), func(s []byte) bool { return s[1] == 0xee })
	if len(bare) == len(segments) {
		t.Fatal("there is no segment of Adobe's")
	}
	for name, file := range map[string][]byte{"with it": file, "without it": joined(bare, scan)} {
		img, err := photo.Open(file)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		if read, _ := photo.Read(img); len(read) != 1 || read[0].Text != compact {
			t.Errorf("%s: %v", name, read)
		}
	}
}

// A JPEG whose colours are sampled as the decoder does not know is named as what
// it is, not as damaged (golang/go#54997).
func TestOpenNamesWhatItCannotDecode(t *testing.T) {
	coloured := image.NewRGBA(image.Rect(0, 0, 64, 64))
	segments, scan := segmentsOf(asJPEG(t, coloured))
	for i, s := range segments {
		if s[1] == 0xc0 {
			segments[i] = bytes.Clone(s)
			segments[i][11] = 0x31 // three across
		}
	}
	_, err := photo.Open(joined(segments, scan))
	var wrong *photo.FileError
	if !errors.As(err, &wrong) || !strings.HasPrefix(err.Error(), "it is a JPEG of a kind that pipstake cannot decode: luma/chroma subsampling ratio; ") {
		t.Errorf("%v", err)
	}
}

// The memory that is set aside is more than what decoding takes; a progressive
// JPEG keeps four bytes for each sample until its end.
func TestCost(t *testing.T) {
	const pixels = 4000 * 3000
	coloured := image.NewRGBA(image.Rect(0, 0, 64, 64))
	segments, scan := segmentsOf(asJPEG(t, coloured))
	sized := func(marker, sampling byte) []byte {
		all := slices.Clone(segments)
		for i, s := range all {
			if s[1] == 0xc0 {
				s = bytes.Clone(s)
				s[1], s[11] = marker, sampling
				binary.BigEndian.PutUint16(s[5:], 3000)
				binary.BigEndian.PutUint16(s[7:], 4000)
				all[i] = s
			}
		}
		return joined(all, scan)
	}
	for name, c := range map[string]struct {
		file []byte
		want int64
	}{
		"plain, 4:2:0":       {sized(0xc0, 0x22), pixels * 3 / 2},
		"plain, 4:4:4":       {sized(0xc0, 0x11), pixels * 3},
		"progressive, 4:2:0": {sized(0xc2, 0x22), pixels * 3 / 2 * 5},
		"progressive, 4:4:4": {sized(0xc2, 0x11), pixels * 3 * 5},
		"PNG":                {pngHeader(4000, 3000, 8, 6), pixels * 4},
		"text":               {[]byte("2026X012"), -6 * pixels},
	} {
		if got := photo.Cost(c.file) - 6*pixels; got != c.want {
			t.Errorf("%s: %d bytes beside those for looking, want %d", name, got, c.want)
		}
	}
}
