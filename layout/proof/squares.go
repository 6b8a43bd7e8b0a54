package proof

import "image"

// leastSide is the side of the smallest code looked for, in pixels.
const leastSide = 24

// gaps are the widths, in pixels, below which dark pixels are taken to belong
// to one code. The width of a code's modules is not known, so that several are
// tried.
var gaps = []int{24, 12, 6, 3}

// squares finds the parts of an image that could be a code when dark pixels
// nearer to each other than gap belong together.
func squares(gray *image.Gray, gap int) []image.Rectangle {
	dark := make([]bool, len(gray.Pix))
	for i, v := range gray.Pix {
		dark[i] = isDark(v)
	}
	w, h := gray.Rect.Dx(), gray.Rect.Dy()
	var found []image.Rectangle
	for _, r := range parts(near(dark, w, h, gap), dark, w, h) {
		long, short := max(r.Dx(), r.Dy()), min(r.Dx(), r.Dy())
		if short >= leastSide && long*10 <= short*11 {
			found = append(found, r)
		}
	}
	return found
}

// near marks every pixel within half a gap of a dark one, along each axis.
func near(dark []bool, w, h, gap int) []bool {
	reach := gap / 2
	rows, out := make([]bool, len(dark)), make([]bool, len(dark))
	for y := range h {
		last := -reach - 1 // the last dark pixel seen
		from, to := dark[y*w:][:w], rows[y*w:][:w]
		for x := range w + reach {
			if x < w && from[x] {
				last = x
			}
			if at := x - reach; at >= 0 && last >= at-reach {
				to[at] = true
			}
		}
	}
	last := make([]int, w) // the same of each column
	for x := range last {
		last[x] = -reach - 1
	}
	for y := range h + reach { // row by row, as the pixels lie in memory
		if y < h {
			for x, marked := range rows[y*w:][:w] {
				if marked {
					last[x] = y
				}
			}
		}
		if at := y - reach; at >= 0 {
			to := out[at*w:][:w]
			for x := range to {
				to[x] = last[x] >= at-reach
			}
		}
	}
	return out
}

// parts returns the bounds of the dark pixels in each connected part of an area.
func parts(area, dark []bool, w, h int) []image.Rectangle {
	type run struct{ from, to, part int } // of pixels in a row
	var bounds []image.Rectangle
	var joined []int // to which part before it a part belongs; itself for none
	whole := func(part int) int {
		for joined[part] != part {
			part = joined[part]
		}
		return part
	}
	var above, row []run
	for y := range h {
		row = row[:0]
		area, dark := area[y*w:][:w], dark[y*w:][:w]
		for x := 0; x < w; x++ {
			if !area[x] {
				continue
			}
			r := run{from: x, part: len(bounds)}
			first, last := w, -1
			for ; x < w && area[x]; x++ {
				if dark[x] {
					first, last = min(first, x), x
				}
			}
			r.to = x
			bounds, joined = append(bounds, image.Rect(first, y, max(first, last+1), y+1)), append(joined, r.part)
			for _, a := range above {
				if a.from < r.to && r.from < a.to {
					one, other := whole(a.part), whole(r.part)
					joined[max(one, other)] = min(one, other)
				}
			}
			row = append(row, r)
		}
		above, row = row, above
	}
	for part := range joined {
		if first := whole(part); first != part {
			bounds[first] = bounds[first].Union(bounds[part])
		}
	}
	var found []image.Rectangle
	for part, r := range bounds {
		if joined[part] == part {
			found = append(found, r)
		}
	}
	return found
}
