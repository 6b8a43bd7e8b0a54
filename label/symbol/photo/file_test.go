package photo_test

import (
	"bytes"
	"encoding/binary"
	"errors"
	"hash/crc32"
	"image"
	"image/color"
	"image/gif"
	"image/jpeg"
	"image/png"
	"strings"
	"testing"

	"pipstake/label/symbol/photo"
)

func pngOf(tb testing.TB, img image.Image) []byte {
	tb.Helper()
	var out bytes.Buffer
	if err := png.Encode(&out, img); err != nil {
		tb.Fatal(err)
	}
	return out.Bytes()
}

// chunk is a PNG chunk.
func chunk(name string, data []byte) []byte {
	out := binary.BigEndian.AppendUint32(nil, uint32(len(data)))
	out = append(append(out, name...), data...)
	return binary.BigEndian.AppendUint32(out, crc32.ChecksumIEEE(out[4:]))
}

// exif is an EXIF block with an orientation, behind another tag.
func exif(order binary.AppendByteOrder, head string, orientation uint16) []byte {
	b := order.AppendUint32([]byte(head), 8)
	b = order.AppendUint16(b, 2)
	for _, tag := range [][2]uint16{{0x0100, 9}, {0x0112, orientation}} {
		b = order.AppendUint16(order.AppendUint16(b, tag[0]), 3)
		b = order.AppendUint16(order.AppendUint16(order.AppendUint32(b, 1), tag[1]), 0)
	}
	return order.AppendUint32(b, 0)
}

// withExif puts an EXIF block into a JPEG or PNG.
func withExif(file, block []byte) []byte {
	if file[0] == 0xff {
		segment := append([]byte("Exif\x00\x00"), block...)
		head := binary.BigEndian.AppendUint16([]byte{0xff, 0xe1}, uint16(len(segment)+2))
		return bytes.Join([][]byte{file[:2], head, segment, file[2:]}, nil)
	}
	const afterHeader = 8 + 25
	return bytes.Join([][]byte{file[:afterHeader], chunk("eXIf", block), file[afterHeader:]}, nil)
}

// Where the 0th row and the 0th column lie as one sees the picture, for each
// orientation: CIPA DC-008 (Exif 2.3), 4.6.4.
var orientations = []struct{ row, column string }{
	{"top", "left"}, {"top", "right"}, {"bottom", "right"}, {"bottom", "left"},
	{"left", "top"}, {"right", "top"}, {"right", "bottom"}, {"left", "bottom"},
}

func TestHonoursOrientation(t *testing.T) {
	const w, h, block = 64, 48, 16
	stored := image.NewGray(image.Rect(0, 0, w, h))
	for i := range stored.Pix {
		stored.Pix[i] = 255
	}
	for y := range block {
		for x := range block {
			stored.SetGray(x, y, color.Gray{Y: 0})       // the 0th row and column
			stored.SetGray(w-1-x, y, color.Gray{Y: 120}) // the end of the 0th row
		}
	}
	var asJPEG bytes.Buffer
	if err := jpeg.Encode(&asJPEG, stored, &jpeg.Options{Quality: 95}); err != nil {
		t.Fatal(err)
	}
	opposite := map[string]string{"top": "bottom", "bottom": "top", "left": "right", "right": "left"}
	for i, o := range orientations {
		for name, data := range map[string][]byte{
			"PNG":               withExif(pngOf(t, stored), exif(binary.LittleEndian, "II*\x00", uint16(i+1))),
			"JPEG":              withExif(asJPEG.Bytes(), exif(binary.BigEndian, "MM\x00*", uint16(i+1))),
			"JPEG, Intel order": withExif(asJPEG.Bytes(), exif(binary.LittleEndian, "II*\x00", uint16(i+1))),
		} {
			img, err := photo.Open(data)
			if err != nil {
				t.Fatal(err)
			}
			want := image.Pt(w, h)
			if o.row == "left" || o.row == "right" {
				want = image.Pt(h, w)
			}
			if img.Rect.Size() != want {
				t.Errorf("%s, orientation %d: %v, want %v", name, i+1, img.Rect.Size(), want)
				continue
			}
			at := func(sides ...string) int { // the level in the corner of two sides
				x, y := block/2, block/2
				for _, s := range sides {
					switch s {
					case "right":
						x = want.X - block/2
					case "bottom":
						y = want.Y - block/2
					}
				}
				return int(img.GrayAt(x, y).Y)
			}
			black, grey := at(o.row, o.column), at(o.row, opposite[o.column])
			if black > 20 || grey < 100 || grey > 140 {
				t.Errorf("%s, orientation %d: 0th row and column have level %d, the end of the 0th row %d", name, i+1, black, grey)
			}
		}
	}
}

func TestOpenRefuses(t *testing.T) {
	good := pngOf(t, image.NewGray(image.Rect(0, 0, 100, 100)))
	var asJPEG, asGIF bytes.Buffer
	if err := jpeg.Encode(&asJPEG, image.NewGray(image.Rect(0, 0, 300, 300)), nil); err != nil {
		t.Fatal(err)
	}
	if err := gif.Encode(&asGIF, image.NewGray(image.Rect(0, 0, 30, 30)), nil); err != nil {
		t.Fatal(err)
	}
	// A few bytes that claim 50,000×50,000 pixels (go#12512).
	huge := pngHeader(50_000, 50_000, 8, 6)
	for name, c := range map[string]struct {
		data []byte
		want string
	}{
		"empty":         {nil, "it is empty; "},
		"blanks":        {[]byte(" \n"), "it is empty; "},
		"text":          {[]byte("2026X012-B2.3/1\n"), "it is not a picture; give photographs in JPEG or PNG"},
		"HEIC":          {[]byte("\x00\x00\x00\x18ftypheic\x00\x00\x00\x00mif1heic"), `it is in the format HEIC, which pipstake cannot decode; set the telephone's camera to JPEG (often called "most compatible")`},
		"HEIF":          {[]byte("\x00\x00\x00\x18ftypmif1\x00\x00\x00\x00mif1heic"), "it is in the format HEIC"},
		"AVIF":          {[]byte("\x00\x00\x00\x18ftypavif\x00\x00\x00\x00mif1"), "it is in the format AVIF"},
		"film":          {[]byte("\x00\x00\x00\x18ftypisom\x00\x00\x00\x00mp42"), "it is in the format of a film"},
		"WebP":          {[]byte("RIFF\x00\x00\x00\x00WEBPVP8 "), "it is in the format WebP"},
		"PDF":           {[]byte("%PDF-1.7\n"), "it is in the format PDF"},
		"GIF":           {asGIF.Bytes(), "it is in the format GIF"},
		"raw":           {[]byte("II*\x00\x08\x00\x00\x00"), "it is in the format TIFF"},
		"cut PNG":       {good[:len(good)-20], "it is cut short or damaged: "},
		"cut header":    {good[:20], "it is cut short or damaged: "},
		"two bytes":     {[]byte{0xff, 0xd8, 0xff}, "it is cut short or damaged: "},
		"huge":          {huge, "its 50000×50000 pixels are too many; set the camera to 12 megapixels"},
		"tiny":          {pngOf(t, image.NewGray(image.Rect(0, 0, 5, 5))), "its 5×5 pixels are too few for a code; "},
		"deep and wide": {pngHeader(8000, 5000, 16, 6), "its 8000×5000 pixels are too many; "},
		// 64 million pixels, or 256 MiB of them, are looked at; one more row or column is not.
		"largest":       {pngHeader(8000, 8000, 8, 0), "it is cut short or damaged: "},
		"too large":     {pngHeader(8000, 8001, 8, 0), "its 8000×8001 pixels are too many; "},
		"deepest":       {pngHeader(8192, 4096, 16, 6), "it is cut short or damaged: "},
		"too deep":      {pngHeader(8192, 4097, 16, 6), "its 8192×4097 pixels are too many; "},
		"large, 16 bit": {pngHeader(8000, 8000, 16, 0), "it is cut short or damaged: "},
	} {
		_, err := photo.Open(c.data)
		var wrong *photo.FileError
		if !errors.As(err, &wrong) || !strings.HasPrefix(err.Error(), c.want) || wrong.Remedy == "" {
			t.Errorf("%s: %v\nwant %s", name, err, c.want)
		}
	}
}

// pngHeader is the beginning of a PNG of a size, depth in bits and colour type.
func pngHeader(w, h uint32, depth, colours byte) []byte {
	header := binary.BigEndian.AppendUint32(binary.BigEndian.AppendUint32(nil, w), h)
	return append([]byte("\x89PNG\r\n\x1a\n"), chunk("IHDR", append(header, depth, colours, 0, 0, 0))...)
}

// Colours, transparency and a picture that is part of another make no
// difference.
func TestOpenReadsColour(t *testing.T) {
	grey := drawn(t, 1, 'H', compact, 4, 10)
	clear := image.NewNRGBA(grey.Rect) // black modules on nothing
	for i, v := range grey.Pix {
		clear.Pix[4*i+3] = 255 - v
	}
	tinted := image.NewRGBA(grey.Rect)
	for i, v := range grey.Pix {
		tinted.Pix[4*i], tinted.Pix[4*i+1], tinted.Pix[4*i+2], tinted.Pix[4*i+3] = v, v/2, v/3, 255
	}
	var coloured bytes.Buffer
	if err := jpeg.Encode(&coloured, tinted, nil); err != nil {
		t.Fatal(err)
	}
	for name, data := range map[string][]byte{"transparent PNG": pngOf(t, clear), "coloured PNG": pngOf(t, tinted), "coloured JPEG": coloured.Bytes()} {
		read, _ := photo.Read(opened(t, data))
		if len(read) != 1 || read[0].Text != compact {
			t.Errorf("%s: %v", name, read)
		}
	}
}

func FuzzOpen(f *testing.F) {
	img := image.NewGray(image.Rect(0, 0, 40, 40))
	var asJPEG bytes.Buffer
	if err := jpeg.Encode(&asJPEG, img, nil); err != nil {
		f.Fatal(err)
	}
	f.Add(asJPEG.Bytes())
	f.Add(withExif(asJPEG.Bytes(), exif(binary.LittleEndian, "II*\x00", 6)))
	f.Add(withExif(pngOf(f, img), exif(binary.BigEndian, "MM\x00*", 8)))
	f.Add(pngHeader(50_000, 50_000, 8, 6))
	f.Fuzz(func(t *testing.T, data []byte) {
		img, err := photo.Open(data)
		if err != nil || img.Rect.Dx()*img.Rect.Dy() > 100_000 {
			return
		}
		photo.Read(img)
	})
}
