package photo

import "image"

// scale is a picture at one of its sizes, with what is light and dark around
// each pixel.
type scale struct {
	w, h   int
	factor float64 // pixels of the picture in one of this scale
	grey   []byte
	mean   []byte // the mean of the surroundings
}

// reach is how far a pixel's surroundings extend on each side. Modules of one
// to seven pixels are looked for on a scale, so that it covers several.
const reach = 24

// leastScale is the least side of a picture that is still looked at, in pixels.
const leastScale = 40

// pyramid is the picture at its own size and at halves of it, the coarsest
// last.
func pyramid(img *image.Gray) []*scale {
	var scales []*scale
	w, h := img.Rect.Dx(), img.Rect.Dy()
	grey := make([]byte, w*h)
	for y := range h {
		copy(grey[y*w:][:w], img.Pix[y*img.Stride:][:w])
	}
	for factor := 1.0; min(w, h) >= leastScale || factor == 1 && min(w, h) > 0; factor *= 2 {
		scales = append(scales, &scale{w, h, factor, grey, surroundings(grey, w, h, reach)})
		grey, w, h = halved(grey, w, h)
	}
	return scales
}

// halved is the mean of each four pixels.
func halved(grey []byte, w, h int) ([]byte, int, int) {
	hw, hh := w/2, h/2
	out := make([]byte, hw*hh)
	for y := range hh {
		upper, lower := grey[2*y*w:][:w], grey[(2*y+1)*w:][:w]
		row := out[y*hw:][:hw]
		for x := range row {
			row[x] = byte((int(upper[2*x]) + int(upper[2*x+1]) + int(lower[2*x]) + int(lower[2*x+1]) + 2) / 4)
		}
	}
	return out, hw, hh
}

// sharpened is the scale with what blur has carried over from pixel to pixel
// taken off again, about.
func (s *scale) sharpened() *scale {
	near := surroundings(s.grey, s.w, s.h, 2)
	grey := make([]byte, len(s.grey))
	for i, v := range s.grey {
		grey[i] = byte(min(max(3*int(v)-2*int(near[i]), 0), 255))
	}
	return &scale{s.w, s.h, s.factor, grey, s.mean}
}

// surroundings is the mean of the square around each pixel that extends so far
// on each side.
func surroundings(grey []byte, w, h, reach int) []byte {
	out := make([]byte, len(grey))
	columns := make([]int32, w) // sums over the rows in reach
	add := func(y int, sign int32) {
		if y < 0 || y >= h {
			return
		}
		for x, v := range grey[y*w:][:w] {
			columns[x] += sign * int32(v)
		}
	}
	for y := range min(reach, h) {
		add(y, 1)
	}
	for y := range h {
		add(y+reach, 1)
		add(y-reach-1, -1)
		rows := int32(min(y+reach, h-1) - max(y-reach, 0) + 1)
		var sum int32
		for x := range min(reach, w) {
			sum += columns[x]
		}
		row := out[y*w:][:w]
		for x := range row {
			if x+reach < w {
				sum += columns[x+reach]
			}
			if x-reach-1 >= 0 {
				sum -= columns[x-reach-1]
			}
			across := int32(min(x+reach, w-1) - max(x-reach, 0) + 1)
			row[x] = byte(sum / (rows * across))
		}
	}
	return out
}

// above is how much lighter a pixel is than the level at which it would be
// called dark: a little below the mean of its surroundings, so that an even
// surface is light.
func (s *scale) above(i int) int32 {
	const share = 240 // of 256
	return int32(s.grey[i])*256 - int32(s.mean[i])*share
}

// at is the level at a point between the centres of the pixels around it.
func (s *scale) at(p Point) float64 {
	x, y := p.X-0.5, p.Y-0.5
	if x < 0 || y < 0 || x >= float64(s.w-1) || y >= float64(s.h-1) {
		ix, iy := min(max(int(p.X), 0), s.w-1), min(max(int(p.Y), 0), s.h-1)
		return float64(s.grey[iy*s.w+ix])
	}
	ix, iy := int(x), int(y)
	fx, fy := x-float64(ix), y-float64(iy)
	i := iy*s.w + ix
	upper, lower := s.grey[i:i+2], s.grey[i+s.w:i+s.w+2]
	return (float64(upper[0])*(1-fx)+float64(upper[1])*fx)*(1-fy) + (float64(lower[0])*(1-fx)+float64(lower[1])*fx)*fy
}

// around is the mean of the surroundings of a point.
func (s *scale) around(p Point) float64 {
	ix, iy := min(max(int(p.X), 0), s.w-1), min(max(int(p.Y), 0), s.h-1)
	return float64(s.mean[iy*s.w+ix])
}
