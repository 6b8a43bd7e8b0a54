package outside

import (
	"bytes"
	"fmt"
	"image"
	"os"
)

// WriteGray writes a picture as a portable graymap (netpbm's "P5"), which other
// programs read and write without packing.
func WriteGray(file string, img *image.Gray) error {
	var b bytes.Buffer
	w := img.Rect.Dx()
	fmt.Fprintf(&b, "P5\n%d %d\n255\n", w, img.Rect.Dy())
	for y := range img.Rect.Dy() {
		b.Write(img.Pix[y*img.Stride:][:w])
	}
	return os.WriteFile(file, b.Bytes(), 0o600)
}

// ReadGray returns the picture in a portable graymap of at most 255 levels
// without comments, as poppler writes it.
func ReadGray(data []byte) (*image.Gray, error) {
	var w, h int
	head, _, _ := bytes.Cut(data, []byte("\n255\n"))
	if _, err := fmt.Sscanf(string(head), "P5\n%d %d", &w, &h); err != nil || w < 0 || h < 0 {
		return nil, fmt.Errorf("not a portable graymap of 255 levels: %.20q", data)
	}
	pix := data[min(len(head)+len("\n255\n"), len(data)):]
	if len(pix) != w*h {
		return nil, fmt.Errorf("a graymap of %d×%d pixels has %d bytes", w, h, len(pix))
	}
	return &image.Gray{Pix: pix, Stride: w, Rect: image.Rect(0, 0, w, h)}, nil
}
