//go:build !wasip1

package photo

import (
	"bytes"
	"encoding/binary"
	"image"
	"image/jpeg"
	"io"
	"iter"
	"strings"
)

// What cameras, telephones and what sends their pictures on make of JPEG, beyond
// what the decoder takes: files cut short, and four colours of which nothing says
// how they are meant. ITU-T T.81 names the segments.

// PartError says that a photograph lacks its end, and that what is there was
// decoded; the rest is of any colour.
type PartError struct{}

func (e *PartError) Error() string {
	return "it is cut short, and only what is there was looked at; " + takeAnew
}

// Markers of segments (T.81, table B.1).
const (
	startOfImage    = 0xd8
	endOfImage      = 0xd9
	startOfScan     = 0xda
	restartInterval = 0xdd
	firstRestart    = 0xd0
	restarts        = 8
	app1            = 0xe1
	progressive     = 0xc2
	largestFrame    = 0xcf
)

// jpegSegments are the segments of a JPEG before its first scan, by their markers.
func jpegSegments(data []byte) iter.Seq2[byte, []byte] {
	return func(yield func(byte, []byte) bool) {
		for at := 2; at+4 <= len(data) && data[at] == 0xff; {
			marker := data[at+1]
			if marker == 0xff { // padding
				at++
				continue
			}
			end := at + 2 + int(binary.BigEndian.Uint16(data[at+2:]))
			if end > len(data) || end < at+4 || !yield(marker, data[at+4:end]) || marker == startOfScan {
				return
			}
			at = end
		}
	}
}

// frame is what the head of a JPEG says of the picture.
type frame struct {
	progressive bool
	samples     int64 // of all components
	interval    int64 // blocks of pixels between restart markers; 0 for none
	scanned     bool  // the head of a scan follows
}

// frameOf reads the frame's head and the restart interval (T.81, B.2.2, B.2.4.4).
func frameOf(data []byte) frame {
	var f frame
	for marker, segment := range jpegSegments(data) {
		switch {
		case marker == startOfScan:
			f.scanned = true
		case marker == restartInterval && len(segment) >= 2:
			f.interval = int64(binary.BigEndian.Uint16(segment))
		case marker >= 0xc0 && marker <= largestFrame && marker != 0xc4 && marker != 0xc8 && marker != 0xcc && len(segment) >= 6:
			f.progressive = marker == progressive
			height, width := int64(binary.BigEndian.Uint16(segment[1:])), int64(binary.BigEndian.Uint16(segment[3:]))
			var most, sum int64
			for i := 7; i < len(segment); i += 3 {
				area := int64(segment[i]>>4) * int64(segment[i]&15)
				most, sum = max(most, area), sum+area
			}
			if most > 0 {
				f.samples = width * height * sum / most
			}
		}
	}
	return f
}

// decodeJPEG decodes a JPEG. The error is a *PartError, beside the picture, where
// the file lacks its end.
func decodeJPEG(data []byte) (image.Image, error) {
	img, err := jpeg.Decode(bytes.NewReader(data))
	if err != nil && strings.Contains(err.Error(), "doesn't have Adobe APP14") {
		data = withAdobe(data)
		img, err = jpeg.Decode(bytes.NewReader(data))
	}
	if _, isKind := err.(jpeg.UnsupportedError); err == nil || isKind || !frameOf(data).scanned {
		return img, err
	}
	part, failed := jpeg.Decode(io.MultiReader(bytes.NewReader(data), restOf(data)))
	if failed != nil {
		return nil, err
	}
	return part, &PartError{}
}

// withAdobe adds the segment that says of four colours that they are what they
// are called, as it is mostly meant where there is none (Adobe technical note
// 5116). Light and dark may still be exchanged, which readers of codes allow for.
func withAdobe(data []byte) []byte {
	segment := "\xff\xee\x00\x0eAdobe\x00\x64\x00\x00\x00\x00\x00"
	return bytes.Join([][]byte{data[:2], []byte(segment), data[2:]}, nil)
}

// padding stands for the end of a JPEG that lacks it: zeros, which are the
// shortest code of any table, with the restart markers that are due among them,
// and then the end of the image, again and again.
type padding struct {
	zeros, restarts int64 // before a marker, and how many of these
	restart         byte
	left            int64
	ahead           []byte
}

// restOf is enough padding for all that a picture may lack.
func restOf(data []byte) *padding {
	const blockBytes = 128 // at most, of 64 coefficients that are zeros
	f := frameOf(data)
	blocks := f.samples/64 + 1<<10
	p := &padding{zeros: blocks * blockBytes}
	if f.interval > 0 {
		const mostBlocks = 10 // of one interval's unit
		p.zeros, p.restarts = f.interval*mostBlocks*blockBytes, blocks/f.interval+1
		p.restart = nextRestart(data)
	}
	p.left = p.zeros
	return p
}

// nextRestart is the number of the restart marker that comes next in a scan.
func nextRestart(data []byte) byte {
	for at := len(data) - 2; at >= 0; at-- {
		if data[at] != 0xff {
			continue
		}
		switch marker := data[at+1]; {
		case marker == startOfScan:
			return 0
		case firstRestart <= marker && marker < firstRestart+restarts:
			return (marker - firstRestart + 1) % restarts
		}
	}
	return 0
}

func (p *padding) Read(out []byte) (int, error) {
	for i := range out {
		if len(p.ahead) > 0 {
			out[i], p.ahead = p.ahead[0], p.ahead[1:]
			continue
		}
		if p.left > 0 {
			out[i] = 0
			p.left--
			continue
		}
		marker := byte(endOfImage)
		if p.restarts > 0 {
			marker = firstRestart + p.restart
			p.restart = (p.restart + 1) % restarts
			p.restarts--
			p.left = p.zeros
		}
		out[i], p.ahead = 0xff, []byte{marker}
	}
	return len(out), nil
}
