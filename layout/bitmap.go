package layout

import (
	"bytes"
	"encoding/binary"
	"hash/crc32"
	"image"
	"image/color"
	"image/png"
	"math"
)

// Bitmaps draws the job's pages dot by dot for a printer of dpi dots in an inch,
// and calls page with each as a PNG of one bit a dot, its number from 1 and the
// number of all. Errors are those of WritePDF, and from page.
func Bitmaps(job Job, dpi int, page func(n, of int, png []byte) error) error {
	return Preview(job, dpi, func(n, of int, img *image.Gray) error {
		data, err := oneBit(img, dpi)
		if err != nil {
			return err
		}
		return page(n, of, data)
	})
}

// oneBit packs what is at least half black as black. The PNG tells how many dots
// go on a metre, so that programs print it at its size.
func oneBit(img *image.Gray, dpi int) ([]byte, error) {
	bits := image.NewPaletted(img.Rect, color.Palette{color.Gray{Y: 0}, color.Gray{Y: 255}})
	for i, v := range img.Pix {
		bits.Pix[i] = v >> 7
	}
	var out bytes.Buffer
	if err := png.Encode(&out, bits); err != nil {
		return nil, err
	}
	const header = 8 + 25 // the signature and the first chunk (PNG, second edition, 5.2 and 11.2.2)
	data := out.Bytes()
	whole := append(bytes.Clone(data[:header]), physical(dpi)...)
	return append(whole, data[header:]...), nil
}

// physical is the chunk pHYs, which tells the size of a dot (PNG, second edition,
// 11.3.5.3).
func physical(dpi int) []byte {
	perMetre := uint32(math.Round(float64(dpi) / 0.0254))
	body := []byte("pHYs")
	body = binary.BigEndian.AppendUint32(body, perMetre)
	body = binary.BigEndian.AppendUint32(body, perMetre)
	body = append(body, 1) // metres
	chunk := binary.BigEndian.AppendUint32(nil, uint32(len(body)-4))
	return binary.BigEndian.AppendUint32(append(chunk, body...), crc32.ChecksumIEEE(body))
}
