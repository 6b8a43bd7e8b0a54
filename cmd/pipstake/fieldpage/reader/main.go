//go:build wasip1

// Reader is label/symbol/photo for a browser: a WebAssembly module that the
// field page carries. It is a reactor of WASI preview 1: after _initialize its
// host asks for room for a picture, writes the grey levels there, and has it
// read. It opens nothing and asks nothing of its host but memory.
//
// It is built and kept beside this file by
//
//	UPDATE_READER=1 go test ./cmd/pipstake/fieldpage -run Reader
package main

import (
	"encoding/binary"
	"image"
	"math"
	"unsafe"

	"pipstake/label/symbol/photo"
)

func main() {} // a reactor has none to run

var (
	picture image.Gray
	found   []byte
)

// room makes room for the grey levels of a picture, row by row from the top, a
// byte each in which white is 255, and returns where it is.
//
//go:wasmexport room
func room(width, height int32) *byte {
	n := int(width) * int(height)
	if cap(picture.Pix) < n {
		picture.Pix = make([]byte, n)
	}
	picture = image.Gray{Pix: picture.Pix[:n], Stride: int(width), Rect: image.Rect(0, 0, int(width), int(height))}
	return unsafe.SliceData(picture.Pix)
}

// read finds the codes on the picture, quickly or thoroughly, and returns how
// many bytes say what was found: those that were read, then those only seen.
// Of each there are its corners as eight 32-bit floating-point numbers, clockwise as the
// code stands upright, then the length of its text, 0 for one only seen, in 32
// bits, then its text in UTF-8. All numbers have their lowest byte first.
//
//go:wasmexport read
func read(thorough int32) int32 {
	look := photo.Glance
	if thorough != 0 {
		look = photo.Read
	}
	codes, unread := look(&picture)
	found = found[:0]
	for _, c := range append(codes, unread...) {
		for _, p := range c.Corners {
			found = binary.LittleEndian.AppendUint32(found, math.Float32bits(float32(p.X)))
			found = binary.LittleEndian.AppendUint32(found, math.Float32bits(float32(p.Y)))
		}
		found = binary.LittleEndian.AppendUint32(found, uint32(len(c.Text)))
		found = append(found, c.Text...)
	}
	return int32(len(found))
}

// answer returns where the bytes are.
//
//go:wasmexport answer
func answer() *byte { return unsafe.SliceData(found) }
