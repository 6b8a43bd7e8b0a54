package proof

import (
	"cmp"
	"image"
	"image/draw"
	"slices"

	"github.com/makiuchi-d/gozxing"
	"github.com/makiuchi-d/gozxing/datamatrix"
	"github.com/makiuchi-d/gozxing/qrcode"
)

// Decode reads all QR codes and Data Matrix codes in a region of an image and
// returns their texts in order, top to bottom and then left to right.
//
// It first looks for what could be a code: dark parts that, once gaps are
// closed, form a square. Each is then read by itself.
func Decode(img image.Image, region image.Rectangle) []string {
	gray := onWhite(img, region, 0)
	type code struct {
		at   image.Rectangle
		text string
	}
	var codes []code
	tried := map[image.Rectangle]bool{}
	for _, gap := range gaps {
		for _, square := range squares(gray, gap) {
			if tried[square] || slices.ContainsFunc(codes, func(c code) bool { return c.at.Overlaps(square) }) {
				continue
			}
			tried[square] = true
			if text, ok := read(gray, square); ok {
				codes = append(codes, code{square, text})
			}
		}
	}
	slices.SortFunc(codes, func(a, b code) int {
		return cmp.Or(cmp.Compare(a.at.Min.Y, b.at.Min.Y), cmp.Compare(a.at.Min.X, b.at.Min.X))
	})
	var texts []string
	for _, c := range codes {
		texts = append(texts, c.text)
	}
	return texts
}

// read tries both kinds of code on a square, with white around it.
func read(gray *image.Gray, square image.Rectangle) (string, bool) {
	border := square.Dx() / 5 // a quiet zone of at least 4 modules
	source := gozxing.NewLuminanceSourceFromImage(onWhite(gray, square, border))
	hints := map[gozxing.DecodeHintType]any{gozxing.DecodeHintType_TRY_HARDER: true}
	for _, reader := range []gozxing.Reader{qrcode.NewQRCodeReader(), datamatrix.NewDataMatrixReader()} {
		for _, binarizer := range []gozxing.Binarizer{gozxing.NewHybridBinarizer(source), gozxing.NewGlobalHistgramBinarizer(source)} {
			bitmap, err := gozxing.NewBinaryBitmap(binarizer)
			if err != nil {
				continue
			}
			if result, err := reader.Decode(bitmap, hints); err == nil {
				return result.GetText(), true
			}
		}
	}
	return "", false
}

// onWhite is a region of an image, white where the image does not reach, in a border
// of white so many pixels wide.
func onWhite(img image.Image, region image.Rectangle, border int) *image.Gray {
	out := image.NewGray(region.Inset(-border))
	for i := range out.Pix {
		out.Pix[i] = 255
	}
	inner := region.Intersect(img.Bounds())
	if gray, ok := img.(*image.Gray); ok { // as most are; package draw goes pixel by pixel
		for y := inner.Min.Y; y < inner.Max.Y; y++ {
			copy(out.Pix[out.PixOffset(inner.Min.X, y):][:inner.Dx()], gray.Pix[gray.PixOffset(inner.Min.X, y):])
		}
	} else {
		draw.Draw(out, inner, img, inner.Min, draw.Src)
	}
	out.Rect = out.Rect.Sub(out.Rect.Min)
	return out
}
