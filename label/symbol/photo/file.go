// What opens files is left out of the reader in the field page, which gets its
// pictures from the browser.

//go:build !wasip1

package photo

import (
	"bytes"
	"fmt"
	"image"
	"image/color"
	"image/draw"
	"image/jpeg"
	"image/png"
	"strings"
)

// MostBytes is the size of the largest file that Open takes.
const MostBytes = 200 << 20

// The largest picture that is decoded: that of the finest telephones set to
// their full resolution, and what it takes up in memory.
const (
	mostPixels = 64_000_000
	mostMemory = 256 << 20
)

// FileError says that a file is no photograph that can be looked at.
type FileError struct{ Reason, Remedy string }

func (e *FileError) Error() string { return e.Reason + "; " + e.Remedy }

const (
	likeThis  = "give photographs in JPEG or PNG"
	takeAnew  = "copy it from the telephone again, or take another picture"
	setToJPEG = "set the telephone's camera to JPEG (often called \"most compatible\") instead of high efficiency, or send the picture as JPEG"
)

// Open decodes a photograph, JPEG or PNG by its content, and turns it upright
// as its EXIF orientation says. Its size is looked at before it is decoded. The
// error is a *FileError, or a *PartError beside the picture of a JPEG that lacks
// its end.
func Open(data []byte) (*image.Gray, error) {
	if len(data) > MostBytes {
		return nil, &FileError{fmt.Sprintf("its %d MB are too many", len(data)>>20), likeThis}
	}
	configOf, decode, exif := jpeg.DecodeConfig, decodeJPEG, jpegExif
	switch kind := sniff(data); kind {
	case "JPEG":
	case "PNG":
		configOf, decode, exif = png.DecodeConfig, decodePNG, pngExif
	case "HEIC", "AVIF":
		return nil, &FileError{"it is in the format " + kind + ", which pipstake cannot decode", setToJPEG}
	case "":
		return nil, &FileError{"it is not a picture", likeThis}
	case "nothing":
		return nil, &FileError{"it is empty", takeAnew}
	default:
		return nil, &FileError{"it is in the format " + kind + ", which no telephone's camera need use", likeThis}
	}
	config, err := configOf(bytes.NewReader(data))
	if err != nil {
		return nil, damaged(err)
	}
	if err := fits(config); err != nil {
		return nil, err
	}
	img, err := decode(data)
	part, isPart := err.(*PartError)
	if err != nil && !isPart {
		return nil, damaged(err)
	}
	grey := upright(greyOf(img), orientation(exif(data)))
	if isPart {
		return grey, part
	}
	return grey, nil
}

func decodePNG(data []byte) (image.Image, error) { return png.Decode(bytes.NewReader(data)) }

// Cost is about how many bytes of memory it takes to decode a photograph and to
// look at it. A progressive JPEG takes many times what a plain one does, since
// all of its coefficients are kept until the last scan.
func Cost(data []byte) int64 {
	const looking, coefficient = 6, 4 // bytes for a pixel, and for a sample
	switch sniff(data) {
	case "JPEG":
		config, err := jpeg.DecodeConfig(bytes.NewReader(data))
		if err != nil {
			return 0
		}
		f := frameOf(data)
		cost := f.samples + looking*int64(config.Width)*int64(config.Height)
		if f.progressive {
			cost += coefficient * f.samples
		}
		return cost
	case "PNG":
		config, err := png.DecodeConfig(bytes.NewReader(data))
		if err != nil {
			return 0
		}
		return (looking + bytesPerPixel(config)) * int64(config.Width) * int64(config.Height)
	}
	return 0
}

func damaged(err error) error {
	if _, isKind := err.(jpeg.UnsupportedError); isKind {
		return &FileError{"it is a JPEG of a kind that pipstake cannot decode: " + strings.TrimPrefix(err.Error(), "unsupported JPEG feature: "),
			"open it in a program for pictures and save it as JPEG anew, or take another picture"}
	}
	what := err.Error()
	for _, prefix := range []string{"invalid JPEG format: ", "png: invalid format: "} {
		what = strings.TrimPrefix(what, prefix)
	}
	return &FileError{"it is cut short or damaged: " + what, takeAnew}
}

// fits refuses a picture that is too large, or so small that no code is on it.
func fits(c image.Config) error {
	const least = 20
	pixels := int64(c.Width) * int64(c.Height)
	switch {
	case c.Width < least || c.Height < least:
		return &FileError{fmt.Sprintf("its %d×%d pixels are too few for a code", c.Width, c.Height), "take a larger picture"}
	case pixels > mostPixels || pixels*bytesPerPixel(c) > mostMemory:
		return &FileError{fmt.Sprintf("its %d×%d pixels are too many", c.Width, c.Height), "set the camera to 12 megapixels; codes need no more"}
	}
	return nil
}

// bytesPerPixel is what a decoded picture takes at most.
func bytesPerPixel(c image.Config) int64 {
	switch c.ColorModel {
	case color.GrayModel:
		return 1
	case color.Gray16Model:
		return 2
	case color.YCbCrModel:
		return 3
	case color.RGBA64Model, color.NRGBA64Model:
		return 8
	}
	return 4
}

// IsPicture reports whether a file is a picture by how it begins, also one
// that Open cannot decode.
func IsPicture(data []byte) bool {
	switch sniff(data) {
	case "", "nothing", "PDF":
		return false
	}
	return true
}

// sniff names the format of a file by how it begins; "" for none that is known.
func sniff(data []byte) string {
	if len(bytes.TrimSpace(data)) == 0 {
		return "nothing"
	}
	for _, f := range []struct{ begins, name string }{
		{"\xff\xd8\xff", "JPEG"}, {"\x89PNG\r\n\x1a\n", "PNG"}, {"GIF8", "GIF"}, {"%PDF-", "PDF"}, {"BM", "BMP"}, // no code text begins with these letters
		{"II*\x00", "TIFF"}, {"MM\x00*", "TIFF"},
	} {
		if strings.HasPrefix(string(data[:min(len(data), 8)]), f.begins) {
			return f.name
		}
	}
	if len(data) < 12 {
		return ""
	}
	switch brand := string(data[8:12]); {
	case string(data[:4]) == "RIFF" && brand == "WEBP":
		return "WebP"
	case string(data[4:8]) != "ftyp":
		return ""
	case brand == "avif" || brand == "avis":
		return "AVIF"
	case brand == "mif1" || brand == "msf1" || strings.HasPrefix(brand, "he"):
		return "HEIC"
	}
	return "of a film"
}

// greyOf returns the lightness of a picture.
func greyOf(img image.Image) *image.Gray {
	b := img.Bounds()
	switch img := img.(type) {
	case *image.Gray:
		return img
	case *image.YCbCr:
		return &image.Gray{Pix: img.Y, Stride: img.YStride, Rect: image.Rectangle{Max: b.Size()}}
	}
	grey := image.NewGray(image.Rectangle{Max: b.Size()})
	draw.Draw(grey, grey.Rect, image.White, image.Point{}, draw.Src)
	draw.Draw(grey, grey.Rect, img, b.Min, draw.Over)
	return grey
}

// upright undoes an EXIF orientation from 1 to 8.
func upright(img *image.Gray, orientation int) *image.Gray {
	if orientation < 2 || orientation > 8 {
		return img
	}
	w, h := img.Rect.Dx(), img.Rect.Dy()
	outW, outH := w, h
	if orientation >= 5 {
		outW, outH = h, w
	}
	out := image.NewGray(image.Rect(0, 0, outW, outH))
	for y := range outH {
		for x := range outW {
			sx, sy := x, y
			if orientation >= 5 { // the stored rows are the upright columns
				sx, sy = y, x
			}
			switch orientation {
			case 2, 7, 3, 8:
				sx = w - 1 - sx
			}
			switch orientation {
			case 3, 4, 6, 7:
				sy = h - 1 - sy
			}
			out.Pix[y*out.Stride+x] = img.Pix[sy*img.Stride+sx]
		}
	}
	return out
}
