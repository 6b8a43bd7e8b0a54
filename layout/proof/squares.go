package proof

import (
	"bytes"
	"image"
	"iter"
)

// leastSide is the side of the smallest code looked for, in pixels.
const leastSide = 24

// gaps are the widths, in pixels, below which dark pixels are taken to belong
// to one code. The width of a code's modules is not known, so that several are
// tried.
var gaps = []int{24, 12, 6, 3}

// squares finds the parts of an image that could be a code when dark pixels
// nearer to each other than gap belong together.
func squares(gray *image.Gray, gap int) []image.Rectangle {
	dark := make([]byte, len(gray.Pix)) // 1 where it is
	for i, v := range gray.Pix {
		if isDark(v) {
			dark[i] = 1
		}
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

// runs are the stretches of marked pixels in a row, by where they begin and end.
func runs(row []byte) iter.Seq2[int, int] {
	return func(yield func(from, to int) bool) {
		for to := 0; ; {
			next := bytes.IndexByte(row[to:], 1)
			if next < 0 {
				return
			}
			from := to + next
			if next = bytes.IndexByte(row[from:], 0); next < 0 {
				next = len(row) - from
			}
			if to = from + next; !yield(from, to) {
				return
			}
		}
	}
}

// near marks every pixel within half a gap of a dark one, along each axis.
func near(dark []byte, w, h, gap int) []byte {
	reach := gap / 2
	rows, out := make([]byte, len(dark)), make([]byte, len(dark))
	for y := range h {
		row := rows[y*w:][:w]
		for from, to := range runs(dark[y*w:][:w]) {
			for x := max(from-reach, 0); x < min(to+reach, w); x++ {
				row[x] = 1
			}
		}
	}
	last := make([]int, w) // the last marked pixel seen in each column
	for x := range last {
		last[x] = -reach - 1
	}
	for y := range h + reach { // row by row, as the pixels lie in memory
		if y < h {
			for from, to := range runs(rows[y*w:][:w]) {
				for x := from; x < to; x++ {
					last[x] = y
				}
			}
		}
		if at := y - reach; at >= 0 {
			row := out[at*w:][:w]
			for x, last := range last {
				if last >= at-reach {
					row[x] = 1
				}
			}
		}
	}
	return out
}

// parts returns the bounds of the dark pixels in each connected part of an area.
func parts(area, dark []byte, w, h int) []image.Rectangle {
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
		for from, to := range runs(area[y*w:][:w]) {
			r := run{from, to, len(bounds)}
			var ink image.Rectangle
			pixels := dark[y*w:][from:to]
			if first := bytes.IndexByte(pixels, 1); first >= 0 {
				ink = image.Rect(from+first, y, from+bytes.LastIndexByte(pixels, 1)+1, y+1)
			}
			bounds, joined = append(bounds, ink), append(joined, r.part)
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
	var found []image.Rectangle
	for part := range joined {
		if first := whole(part); first != part {
			bounds[first] = bounds[first].Union(bounds[part])
		}
	}
	for part, r := range bounds {
		if joined[part] == part {
			found = append(found, r)
		}
	}
	return found
}
