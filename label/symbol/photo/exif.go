//go:build !wasip1

package photo

import (
	"bytes"
	"encoding/binary"
)

// jpegExif is the EXIF block of a JPEG, nil where it has none: that of the
// first APP1 segment that holds one (CIPA DC-008, 4.5).
func jpegExif(data []byte) []byte {
	for marker, segment := range jpegSegments(data) {
		if block, ok := bytes.CutPrefix(segment, []byte("Exif\x00\x00")); ok && marker == app1 {
			return block
		}
	}
	return nil
}

// pngExif is the EXIF block of a PNG, nil where it has none.
func pngExif(data []byte) []byte {
	for at := 8; at+12 <= len(data); {
		size := int64(binary.BigEndian.Uint32(data[at:]))
		end := int64(at) + 12 + size
		if end > int64(len(data)) {
			return nil
		}
		if string(data[at+4:at+8]) == "eXIf" {
			return data[at+8 : at+8+int(size)]
		}
		at = int(end)
	}
	return nil
}

// orientation is the tag of that name in an EXIF block (CIPA DC-008, 4.6.4), 1
// for upright, also where there is none.
func orientation(exif []byte) int {
	const tag, typeShort, entrySize = 0x0112, 3, 12
	if len(exif) < 8 {
		return 1
	}
	var order binary.ByteOrder = binary.LittleEndian
	switch string(exif[:4]) {
	case "II*\x00":
	case "MM\x00*":
		order = binary.BigEndian
	default:
		return 1
	}
	at := int64(order.Uint32(exif[4:]))
	if at+2 > int64(len(exif)) {
		return 1
	}
	entries := int64(order.Uint16(exif[at:]))
	for i := range entries {
		from := at + 2 + i*entrySize
		if from+entrySize > int64(len(exif)) {
			return 1
		}
		entry := exif[from : from+entrySize]
		if order.Uint16(entry) == tag && order.Uint16(entry[2:]) == typeShort {
			if v := int(order.Uint16(entry[8:])); v >= 1 && v <= 8 {
				return v
			}
			return 1
		}
	}
	return 1
}
