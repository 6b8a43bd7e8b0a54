package proof

import (
	"bytes"
	"fmt"
	"image"
	"os/exec"
	"path/filepath"
	"strings"

	"github.com/makiuchi-d/gozxing"
	"github.com/makiuchi-d/gozxing/datamatrix"
	"github.com/makiuchi-d/gozxing/qrcode"

	"pipstake/layout/proof/outside"
)

// ReadPhotograph tries to read the one code on a photograph with gozxing: as
// it is, smoothed, and at half its size, with both ways of telling dark from
// light. It returns "" where none succeeds.
func ReadPhotograph(img *image.Gray) string {
	for _, seen := range []*image.Gray{img, smoothed(img), halved(img)} {
		source := gozxing.NewLuminanceSourceFromImage(seen)
		hints := map[gozxing.DecodeHintType]any{gozxing.DecodeHintType_TRY_HARDER: true}
		for _, binarizer := range []gozxing.Binarizer{gozxing.NewHybridBinarizer(source), gozxing.NewGlobalHistgramBinarizer(source)} {
			bitmap, err := gozxing.NewBinaryBitmap(binarizer)
			if err != nil {
				continue
			}
			for _, reader := range []gozxing.Reader{qrcode.NewQRCodeReader(), datamatrix.NewDataMatrixReader()} {
				if result, err := reader.Decode(bitmap, hints); err == nil {
					return result.GetText()
				}
			}
		}
	}
	return ""
}

// smoothed is the mean of each pixel and the eight around it.
func smoothed(img *image.Gray) *image.Gray {
	out := image.NewGray(img.Rect)
	copy(out.Pix, img.Pix)
	w := img.Rect.Dx()
	for y := 1; y < img.Rect.Dy()-1; y++ {
		for x := 1; x < w-1; x++ {
			sum := 0
			for _, row := range []int{y - 1, y, y + 1} {
				at := row*w + x
				sum += int(img.Pix[at-1]) + int(img.Pix[at]) + int(img.Pix[at+1])
			}
			out.Pix[y*w+x] = byte(sum / 9)
		}
	}
	return out
}

// halved is the mean of each four pixels.
func halved(img *image.Gray) *image.Gray {
	w := img.Rect.Dx()
	out := image.NewGray(image.Rect(0, 0, w/2, img.Rect.Dy()/2))
	for y := range out.Rect.Dy() {
		for x := range w / 2 {
			at := 2*y*w + 2*x
			sum := int(img.Pix[at]) + int(img.Pix[at+1]) + int(img.Pix[at+w]) + int(img.Pix[at+w+1])
			out.Pix[y*out.Stride+x] = byte(sum / 4)
		}
	}
	return out
}

// Programs reads photographs with zxing-cpp and zbar where they are installed.
// It returns all texts that were read of each picture. The pictures are written
// to dir.
func Programs(dir string, imgs []*image.Gray) (texts [][]string, err error) {
	files := make([]string, len(imgs))
	index := map[string]int{}
	for i, img := range imgs {
		files[i] = filepath.Join(dir, fmt.Sprintf("%04d.pgm", i))
		index[files[i]] = i
		if err := outside.WriteGray(files[i], img); err != nil {
			return nil, err
		}
	}
	texts = make([][]string, len(imgs))
	for _, p := range []struct {
		name string
		args []string
		read func(out []byte, found func(file, text string))
	}{
		{"ZXingReader", []string{"-1", "-format", "QRCode,DataMatrix"}, zxingLines},
		{"zbarimg", []string{"-q", "--xml", "-Sdisable", "-Sqrcode.enable"}, zbarLines},
	} {
		if _, err := exec.LookPath(p.name); err != nil {
			continue
		}
		// Both leave with an error where one picture has no code.
		out, err := outside.Command(p.name, append(p.args, files...)...).Output()
		if _, ran := err.(*exec.ExitError); err != nil && !ran {
			return nil, err
		}
		p.read(out, func(file, text string) {
			if i, ok := index[file]; ok {
				texts[i] = append(texts[i], text)
			}
		})
	}
	return texts, nil
}

// zxingLines reads lines of the form `FILE FORMAT "TEXT" …`.
func zxingLines(out []byte, found func(file, text string)) {
	for line := range bytes.Lines(out) {
		file, rest, _ := strings.Cut(string(line), " ")
		_, rest, _ = strings.Cut(rest, `"`)
		if end := strings.LastIndexByte(rest, '"'); end > 0 {
			found(file, rest[:end])
		}
	}
}

// zbarLines reads the XML that names each file before the data found in it.
func zbarLines(out []byte, found func(file, text string)) {
	file := ""
	for line := range bytes.Lines(out) {
		if _, rest, ok := strings.Cut(string(line), "source href='"); ok {
			file, _, _ = strings.Cut(rest, "'")
		}
		if _, rest, ok := strings.Cut(string(line), "<![CDATA["); ok {
			text, _, _ := strings.Cut(rest, "]]>")
			found(file, text)
		}
	}
}
