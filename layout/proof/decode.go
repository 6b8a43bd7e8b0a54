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
	gray := image.NewGray(image.Rectangle{Max: region.Size()})
	draw.Draw(gray, gray.Rect, image.White, image.Point{}, draw.Src)
	draw.Draw(gray, gray.Rect, img, region.Min, draw.Src)
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
	framed := image.NewGray(image.Rect(0, 0, square.Dx()+2*border, square.Dy()+2*border))
	draw.Draw(framed, framed.Rect, image.White, image.Point{}, draw.Src)
	inner := image.Rectangle{Max: square.Size()}.Add(image.Pt(border, border))
	draw.Draw(framed, inner, gray, square.Min, draw.Src)

	source := gozxing.NewLuminanceSourceFromImage(framed)
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
