package photo

import (
	"encoding/binary"
	"image"
	"slices"
)

// scale is a picture at one of its sizes, with what is light and dark around
// each block of it.
type scale struct {
	w, h   int
	stride int     // bytes of a row, a multiple of a block's side
	factor float64 // pixels of the picture in one of this scale
	grey   []byte
	across int    // blocks in a row
	mean   []byte // of the surroundings, for each block
	dark   bitmap // pixels below their surroundings
	kept   bitmap // the blocks outside which nothing is called dark, if there are such
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
	w, h := img.Rect.Dx(), img.Rect.Dy()
	if min(w, h) == 0 {
		return nil
	}
	s := blank(w, h, 1)
	for y := range h {
		copy(s.grey[y*s.stride:], img.Pix[y*img.Stride:][:w])
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
func (s *scale) onPicture(p Point) Point { return p.times(s.factor) }

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
// taken off again, about, where blocks are kept.
func (s *scale) sharpened() *scale {
	const near = 2 // pixels on each side
	out := *s
	out.grey = make([]byte, len(s.grey))
	// The sums of so many rows around, of the even bytes of each word and of the others.
	even, odd := make([]uint64, s.across), make([]uint64, s.across)
	row := func(y int) []byte { return s.grey[min(max(y, 0), s.h-1)*s.stride:][:s.stride] }
	add := func(y int) {
		for i, in := 0, row(y); i < len(even); i++ {
			v := binary.LittleEndian.Uint64(in[i*8:])
			even[i], odd[i] = even[i]+v&evenBytes, odd[i]+v>>8&evenBytes
		}
	}
	remove := func(y int) {
		for i, in := 0, row(y); i < len(even); i++ {
			v := binary.LittleEndian.Uint64(in[i*8:])
			even[i], odd[i] = even[i]-v&evenBytes, odd[i]-v>>8&evenBytes
		}
	}
	for y := -near; y < near; y++ {
		add(y)
	}
	for y := range s.h {
		add(y + near)
		in, to := row(y), out.grey[y*s.stride:][:s.stride]
		for i, e := range even {
			if !s.keeps(i, y/blockSide) {
				continue
			}
			o := odd[i]
			beforeEven, beforeOdd, afterEven, afterOdd := e<<48, e<<48, o>>48, o>>48
			if i > 0 {
				beforeEven, beforeOdd = even[i-1], odd[i-1]
			}
			if i+1 < len(even) {
				afterEven, afterOdd = even[i+1], odd[i+1]
			}
			both := e + o + (o<<16 | beforeOdd>>48) + (e>>16 | afterEven<<48)
			sharpen(to[i*8:], in[i*8:], both+(e<<16|beforeEven>>48), both+(o>>16|afterOdd<<48))
		}
		remove(y - near)
	}
	out.dark = out.darker()
	return &out
}

// sharpen takes off eight bytes the means around them, of which the sums of the
// even bytes and of the others are known.
func sharpen(to, in []byte, even, odd uint64) {
	const share = (2<<16 + 24) / 25 // twice the mean of 25, of 65536
	to, in = to[:8], in[:8]
	for i := 0; i < 8; i += 2 {
		to[i] = byte(min(max(3*int32(in[i])-int32(even&0xffff*share>>16), 0), 255))
		to[i+1] = byte(min(max(3*int32(in[i+1])-int32(odd&0xffff*share>>16), 0), 255))
		even, odd = even>>16, odd>>16
	}
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
	if s.kept.words != nil {
		b.within(s.kept)
	}
	return b
}

// quiet makes light what is dark by noise alone: the blocks that have, with
// those around them, nothing strongly dark.
func (s *scale) quiet() {
	strong := s.noBlocks()
	for y := range s.h {
		row, marks := s.grey[y*s.stride:][:s.stride], strong.row(y/blockSide)
		for bx, mean := range s.mean[y/blockSide*s.across:][:s.across] {
			if below(binary.LittleEndian.Uint64(row[bx*blockSide:]), uint64(strongly(mean))*lowBits) != 0 {
				marks[bx/64] |= 1 << (bx % 64)
			}
		}
	}
	s.dark.within(strong.spread(1))
}

// noBlocks is a set of blocks of the scale, a bit for each, and none in it.
func (s *scale) noBlocks() bitmap { return newBitmap(s.across, len(s.mean)/s.across) }

// mark adds the blocks around a place of the picture to a set.
func (s *scale) mark(blocks bitmap, at Point, reach float64) {
	block := s.factor * blockSide
	x0, x1 := max(int((at.X-reach)/block), 0), min(int((at.X+reach)/block)+1, blocks.w)
	for y := max(int((at.Y-reach)/block), 0); y < min(int((at.Y+reach)/block)+1, blocks.h); y++ {
		row := blocks.row(y)
		for x := x0; x < x1; x++ {
			row[x/64] |= 1 << (x % 64)
		}
	}
}

// keeps reports whether something may be called dark in a block.
func (s *scale) keeps(x, y int) bool {
	return s.kept.words == nil || s.kept.words[y*s.kept.stride+x/64]>>(x%64)&1 == 1
}

// keep calls nothing dark but what is in some of the blocks.
func (s *scale) keep(blocks bitmap) {
	s.kept = blocks
	s.dark = s.darker()
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

// part is what levels are counted in where they are compared, so many to one,
// and pixels where they lie between others.
const part = 256

// relative is how much lighter the scale is than the mean of the surroundings,
// in parts of a level, at each of some modules of a code of n×n in a view.
func (s *scale) relative(to []int32, v view, n int, modules []module) []int32 {
	to = slices.Grow(to[:0], len(modules))[:len(modules)]
	if !s.holds(v, n) {
		for i, m := range modules {
			p := v.of(m.x, m.y)
			to[i] = int32(part * (s.at(p) - s.around(p)))
		}
		return to
	}
	a, b, c, d, e, f, g, h := v.a*part, v.b*part, v.c*part, v.d*part, v.e*part, v.f*part, v.g, v.h
	grey, mean, stride, across := s.grey, s.mean, uint(s.stride), uint(s.across)
	for i := range to {
		m := &modules[i]
		w := 1 / (g*m.x + h*m.y + 1)
		x, y := uint(int((a*m.x+b*m.y+c)*w)), uint(int((d*m.x+e*m.y+f)*w))
		around := int32(mean[y/(part*blockSide)*across+x/(part*blockSide)])
		x, y = x-part/2, y-part/2
		at := y/part*stride + x/part
		x, y = x%part, y%part
		upper := uint(grey[at])*(part-x) + uint(grey[at+1])*x
		lower := uint(grey[at+stride])*(part-x) + uint(grey[at+stride+1])*x
		to[i] = int32((upper*(part-y)+lower*y)/part) - around*part
	}
	return to
}

// holds reports whether a code of n×n modules in a view, and one module around
// it, lie on the scale.
func (s *scale) holds(v view, n int) bool {
	const edge = 1
	last := float64(n) + edge
	for _, at := range [4]Point{{-edge, -edge}, {last, -edge}, {last, last}, {-edge, last}} {
		p := v.of(at.X, at.Y)
		if v.g*at.X+v.h*at.Y+1 <= 0 || !(p.X >= edge && p.Y >= edge && p.X <= float64(s.w-1-edge) && p.Y <= float64(s.h-1-edge)) {
			return false
		}
	}
	return true
}

// nearest is the pixel of the scale that is nearest to a point.
func (s *scale) nearest(p Point) (x, y int) {
	return int(min(max(p.X, 0), float64(s.w-1))), int(min(max(p.Y, 0), float64(s.h-1)))
}
