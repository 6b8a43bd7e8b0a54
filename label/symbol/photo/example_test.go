package photo_test

import (
	"fmt"
	"image"
	"image/color"

	"pipstake/label/symbol"
	"pipstake/label/symbol/photo"
)

// A code is found wherever it stands on the picture.
func ExampleRead() {
	code, err := symbol.Encode(symbol.QR, 'M', "2026X012-B2.3/1", 4, 600)
	if err != nil {
		fmt.Println(err)
		return
	}
	img := image.NewGray(image.Rect(0, 0, 300, 200))
	for i := range img.Pix {
		img.Pix[i] = 230
	}
	for y := range code.Size * code.Dots {
		for x := range code.Size * code.Dots {
			if code.Dark(x/code.Dots, y/code.Dots) {
				img.SetGray(130+x, 40+y, color.Gray{Y: 30})
			}
		}
	}
	read, _ := photo.Read(img)
	for _, c := range read {
		fmt.Printf("%s at %.0f, %.0f\n", c.Text, c.Centre().X, c.Centre().Y)
	}
	// Output:
	// 2026X012-B2.3/1 at 172, 82
}
