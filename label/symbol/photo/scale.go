package photo

import (
	"encoding/binary"
	"image"
)

// scale is a picture at one of its sizes, with what is light and dark around
// each block of it.
type scale struct {
	w, h   int
	stride int     // bytes of a row, a multiple of a block's side
	factor float64 // pixels of the picture in one of this scale
	origin Point   // of the picture's part that it shows
	grey   []byte
	across int    // blocks in a row
	mean   []byte // of the surroundings, for each block
	dark   bitmap // pixels below their surroundings
}

// blockSide is the side of the blocks, in pixels: eight bytes are looked at
// together as one word.
const blockSide = 8

// reach is how many blocks the surroundings of one extend on each side. Modules
// of one to seven pixels are looked for on a scale, so that they cover several.
const reach = 3

// leastScale is the least side of a picture that is still looked at, in pixels.
const leastScale = 40

// pyramid is the picture at its own size and at halves of it, the coarsest
// last.
func pyramid(img *image.Gray) []*scale {
	return pyramidOf(img, image.Rectangle{Max: img.Rect.Size()})
}

// pyramidOf is the pyramid of a part of a picture.
func pyramidOf(img *image.Gray, part image.Rectangle) []*scale {
	w, h := part.Dx(), part.Dy()
	if min(w, h) == 0 {
		return nil
	}
	s := blank(w, h, 1)
	s.origin = Point{float64(part.Min.X), float64(part.Min.Y)}
	for y := range h {
		copy(s.grey[y*s.stride:], img.Pix[(part.Min.Y+y)*img.Stride+part.Min.X:][:w])
	}
	scales := []*scale{s}
	for min(s.w/2, s.h/2) >= leastScale {
		s = s.halved()
		scales = append(scales, s)
	}
	for _, s := range scales {
		s.mend()
		s.measure()
	}
	return scales
}

// onPicture is where a point of the scale lies on the picture.
func (s *scale) onPicture(p Point) Point { return p.times(s.factor).plus(s.origin) }

// blank is a scale without a picture.
func blank(w, h int, factor float64) *scale {
	across := (w + blockSide - 1) / blockSide
	s := &scale{w: w, h: h, stride: across * blockSide, factor: factor, across: across}
	s.grey = make([]byte, s.stride*h)
	return s
}

// mend repeats the last pixel of each row up to the end of the block.
func (s *scale) mend() {
	for y := range s.h {
		row := s.grey[y*s.stride:][:s.stride]
		for x := s.w; x < len(row); x++ {
			row[x] = row[s.w-1]
		}
	}
}

// Every second byte of a word, for sums without an overflow.
const evenBytes = 0x00ff00ff00ff00ff

// halved is the mean of each four pixels.
func (s *scale) halved() *scale {
	out := blank(s.w/2, s.h/2, s.factor*2)
	out.origin = s.origin
	for y := range out.h {
		upper, lower := s.grey[2*y*s.stride:][:s.stride], s.grey[(2*y+1)*s.stride:][:s.stride]
		row := out.grey[y*out.stride:][:out.stride]
		for x := 0; x+8 <= len(upper) && x/2+4 <= len(row); x += 8 {
			a, b := binary.LittleEndian.Uint64(upper[x:]), binary.LittleEndian.Uint64(lower[x:])
			v := a&evenBytes + a>>8&evenBytes + b&evenBytes + b>>8&evenBytes + 0x0002000200020002
			v = v >> 2 & evenBytes
			v = (v | v>>8) & 0x0000ffff0000ffff
			binary.LittleEndian.PutUint32(row[x/2:], uint32(v|v>>16))
		}
	}
	return out
}

// sharpened is the scale with what blur has carried over from pixel to pixel
// taken off again, about.
func (s *scale) sharpened() *scale {
	const near = 2 // pixels on each side
	out := *s
	out.grey = make([]byte, len(s.grey))
	columns := make([]int32, s.stride)
	add := func(y int, sign int32) {
		y = min(max(y, 0), s.h-1)
		for x, v := range s.grey[y*s.stride:][:s.stride] {
			columns[x] += sign * int32(v)
		}
	}
	for y := -near; y < near; y++ {
		add(y, 1)
	}
	for y := range s.h {
		add(y+near, 1)
		in, row := s.grey[y*s.stride:][:s.stride], out.grey[y*s.stride:][:s.stride]
		var sum int32
		for x := range s.stride + near {
			if x < s.stride {
				sum += columns[x]
			} else {
				sum += columns[s.stride-1]
			}
			if x < near {
				continue
			}
			if gone := x - 2*near - 1; gone >= 0 {
				sum -= columns[gone]
			}
			at := x - near
			wide := int32(min(at+near, s.stride-1+near) - max(at-near, 0) + 1)
			const tall = 2*near + 1
			row[at] = byte(min(max(3*int32(in[at])-2*sum/(wide*tall), 0), 255))
		}
		add(y-near, -1)
	}
	out.dark = out.darker()
	return &out
}

// measure finds the means of the surroundings and what is darker than they.
func (s *scale) measure() {
	down := (s.h + blockSide - 1) / blockSide
	sums, counts := make([]int32, s.across*down), make([]int32, down)
	for by := range down {
		rows := min(s.h-by*blockSide, blockSide)
		counts[by] = int32(rows * blockSide)
		for bx := range s.across {
			var lanes uint64
			for y := range rows {
				v := binary.LittleEndian.Uint64(s.grey[(by*blockSide+y)*s.stride+bx*blockSide:])
				lanes += v&evenBytes + v>>8&evenBytes
			}
			lanes = lanes&0x0000ffff0000ffff + lanes>>16&0x0000ffff0000ffff
			sums[by*s.across+bx] = int32(lanes) + int32(lanes>>32)
		}
	}
	s.mean = make([]byte, len(sums))
	columns := make([]int32, s.across) // sums of the rows of blocks in reach
	var tall int32
	row := func(y int, sign int32) {
		if y < 0 || y >= down {
			return
		}
		tall += sign * counts[y]
		for x, v := range sums[y*s.across:][:s.across] {
			columns[x] += sign * v
		}
	}
	for y := range reach {
		row(y, 1)
	}
	for by := range down {
		row(by+reach, 1)
		row(by-reach-1, -1)
		for bx := range s.across {
			first, last := max(bx-reach, 0), min(bx+reach, s.across-1)
			var sum int32
			for _, v := range columns[first : last+1] {
				sum += v
			}
			s.mean[by*s.across+bx] = byte(sum / (tall * int32(last-first+1)))
		}
	}
	s.dark = s.darker()
}

// threshold is the level below which the pixels of a block would be called
// dark: a little below the mean of its surroundings, so that an even surface is
// light.
func threshold(mean byte) int {
	const share = 240 // of 256
	return (int(mean)*share + 255) >> 8
}

// strongly is the level below which pixels are darker than noise makes them.
func strongly(mean byte) int {
	const share = 208 // of 256
	return (int(mean)*share + 255) >> 8
}

// Every byte of a word: its highest bit, its lowest.
const (
	highBits = 0x8080808080808080
	lowBits  = 0x0101010101010101
)

// below sets the highest bit of each byte of v that is less than that of t.
func below(v, t uint64) uint64 {
	return (^v&t | ^(v^t)&^((v|highBits)-t&^highBits)) & highBits
}

// darker tells the dark pixels, eight at a time.
func (s *scale) darker() bitmap {
	b := newBitmap(s.w, s.h)
	for y := range s.h {
		row := s.grey[y*s.stride:][:s.stride]
		words := b.row(y)
		for bx, mean := range s.mean[y/blockSide*s.across:][:s.across] {
			v := binary.LittleEndian.Uint64(row[bx*blockSide:])
			bits := (below(v, uint64(threshold(mean))*lowBits) >> 7) * 0x0102040810204080 >> 56
			words[bx/8] |= bits << (bx % 8 * 8)
		}
		b.trim(y)
	}
	return b
}

// quiet makes light what is dark by noise alone: the blocks that have, with
// those around them, nothing strongly dark.
func (s *scale) quiet() {
	down := len(s.mean) / s.across
	strong := newBitmap(s.across, down)
	for y := range s.h {
		row, marks := s.grey[y*s.stride:][:s.stride], strong.row(y/blockSide)
		for bx, mean := range s.mean[y/blockSide*s.across:][:s.across] {
			if below(binary.LittleEndian.Uint64(row[bx*blockSide:]), uint64(strongly(mean))*lowBits) != 0 {
				marks[bx/64] |= 1 << (bx % 64)
			}
		}
	}
	strong = strong.spread(1)
	for y := range s.h {
		words, marks := s.dark.row(y), strong.row(y/blockSide)
		for bx := range s.across {
			if marks[bx/64]>>(bx%64)&1 == 0 {
				words[bx/8] &^= 0xff << (bx % 8 * 8)
			}
		}
	}
}

// over is how much lighter a pixel is than its threshold, in half levels and
// never 0: below, it is dark.
func (s *scale) over(x, y int) int {
	return 2*(int(s.grey[y*s.stride+x])-threshold(s.mean[y/blockSide*s.across+x/blockSide])) + 1
}

// at is the level at a point between the centres of the pixels around it.
func (s *scale) at(p Point) float64 {
	x, y := p.X-0.5, p.Y-0.5
	if !(x >= 0 && y >= 0 && x < float64(s.w-1) && y < float64(s.h-1)) {
		ix, iy := s.nearest(p)
		return float64(s.grey[iy*s.stride+ix])
	}
	ix, iy := int(x), int(y)
	fx, fy := x-float64(ix), y-float64(iy)
	i := iy*s.stride + ix
	upper, lower := s.grey[i:i+2], s.grey[i+s.stride:i+s.stride+2]
	a, b := float64(upper[0]), float64(lower[0])
	a += (float64(upper[1]) - a) * fx
	b += (float64(lower[1]) - b) * fx
	return a + (b-a)*fy
}

// around is the mean of the surroundings of a point.
func (s *scale) around(p Point) float64 {
	ix, iy := s.nearest(p)
	return float64(s.mean[iy/blockSide*s.across+ix/blockSide])
}

// nearest is the pixel of the scale that is nearest to a point.
func (s *scale) nearest(p Point) (x, y int) {
	return int(min(max(p.X, 0), float64(s.w-1))), int(min(max(p.Y, 0), float64(s.h-1)))
}
