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
	rows := spread(dark, w, h, 1, w, reach)
	return spread(rows, h, w, w, 1, reach)
}

// spread widens dark runs by reach along lines of n pixels, step apart; the
// lines are jump apart.
func spread(dark []bool, n, lines, step, jump, reach int) []bool {
	out := make([]bool, len(dark))
	for line := range lines {
		last := -reach - 1 // the last dark pixel seen
		for i := range n + reach {
			if i < n && dark[line*jump+i*step] {
				last = i
			}
			if at := i - reach; at >= 0 && last >= at-reach {
				out[line*jump+at*step] = true
			}
		}
	}
	return out
}

// parts returns the bounds of the dark pixels in each connected part of an area.
func parts(area, dark []bool, w, h int) []image.Rectangle {
	seen := make([]bool, len(area))
	var bounds []image.Rectangle
	var stack []int
	for start := range area {
		if !area[start] || seen[start] {
			continue
		}
		var r image.Rectangle
		seen[start] = true
		for stack = append(stack[:0], start); len(stack) > 0; {
			i := stack[len(stack)-1]
			stack = stack[:len(stack)-1]
			x, y := i%w, i/w
			if dark[i] {
				r = r.Union(image.Rect(x, y, x+1, y+1))
			}
			for _, d := range [4]image.Point{{X: 1}, {X: -1}, {Y: 1}, {Y: -1}} {
				nx, ny := x+d.X, y+d.Y
				if nx < 0 || ny < 0 || nx >= w || ny >= h || !area[ny*w+nx] || seen[ny*w+nx] {
					continue
				}
				seen[ny*w+nx] = true
				stack = append(stack, ny*w+nx)
			}
		}
		bounds = append(bounds, r)
	}
	return bounds
}
