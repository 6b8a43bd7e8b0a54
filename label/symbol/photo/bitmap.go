package photo

import (
	"cmp"
	"math/bits"
	"slices"
)

// bitmap is a picture of dark and light alone, 64 pixels in a word.
type bitmap struct {
	w, h   int
	stride int // words of a row
	words  []uint64
}

func newBitmap(w, h int) bitmap {
	stride := (w + 63) / 64
	return bitmap{w, h, stride, make([]uint64, stride*h)}
}

// row is the words of a row.
func (b bitmap) row(y int) []uint64 { return b.words[y*b.stride:][:b.stride] }

// trim clears what lies behind the end of a row.
func (b bitmap) trim(y int) {
	if rest := b.w % 64; rest != 0 {
		b.words[y*b.stride+b.stride-1] &= 1<<rest - 1
	}
}

// edges appends where a row turns dark and light again, by turns.
func (b bitmap) edges(edges []int32, y int) []int32 {
	var before uint64
	for i, word := range b.row(y) {
		turns := word ^ (word<<1 | before)
		before = word >> 63
		for ; turns != 0; turns &= turns - 1 {
			edges = append(edges, int32(i*64+bits.TrailingZeros64(turns)))
		}
	}
	if len(edges)%2 == 1 {
		edges = append(edges, int32(b.w))
	}
	return edges
}

// any reports whether a pixel is dark.
func (b bitmap) any() bool {
	return slices.ContainsFunc(b.words, func(word uint64) bool { return word != 0 })
}

// within makes light all but the blocks whose pixels in another bitmap are dark.
func (b bitmap) within(blocks bitmap) {
	for y := range b.h {
		words, marks := b.row(y), blocks.row(y/blockSide)
		for i := range words {
			words[i] &= eightfold[byte(marks[i/8]>>(i%8*8))]
		}
	}
}

// eightfold has each bit of a byte eight times.
var eightfold = func() (all [256]uint64) {
	for v := range all {
		for bit := range 8 {
			if v>>bit&1 == 1 {
				all[v] |= 0xff << (8 * bit)
			}
		}
	}
	return all
}()

// spread makes all pixels dark that have a dark one within reach across and
// down.
func (b bitmap) spread(reach int) bitmap {
	wide := newBitmap(b.w, b.h)
	for y := range b.h {
		in, out := b.row(y), wide.row(y)
		for i, word := range in {
			v := word
			var left, right uint64 // the neighbouring words
			if i > 0 {
				left = in[i-1]
			}
			if i+1 < len(in) {
				right = in[i+1]
			}
			for n := 1; n <= reach; n++ {
				v |= word<<n | left>>(64-n) | word>>n | right<<(64-n)
			}
			out[i] = v
		}
		wide.trim(y)
	}
	out := newBitmap(b.w, b.h)
	for y := range b.h {
		to := out.row(y)
		for from := max(y-reach, 0); from <= min(y+reach, b.h-1); from++ {
			for i, word := range wide.row(from) {
				to[i] |= word
			}
		}
	}
	return out
}

// turns is how often rows turn dark or light.
func (b bitmap) turns() (n int) {
	for y := range b.h {
		var before uint64
		for _, word := range b.row(y) {
			n += bits.OnesCount64(word ^ (word<<1 | before))
			before = word >> 63
		}
		n++
	}
	return n
}

// ink counts, between two columns of a row, the dark pixels and the changes
// from one pixel to the next, and finds the first and the last dark one; none
// are -1.
func (b bitmap) ink(y, x0, x1 int) (dark, turns, first, last int) {
	row := b.row(y)
	first, last = -1, -1
	for i := x0 / 64; i <= (x1-1)/64; i++ {
		mask := ^uint64(0)
		if i == x0/64 {
			mask <<= x0 % 64
		}
		if end := x1 - i*64; end < 64 {
			mask &= 1<<end - 1
		}
		word := row[i]
		var before uint64
		if i > 0 {
			before = row[i-1] >> 63
		}
		turns += bits.OnesCount64((word ^ (word<<1 | before)) & mask)
		if word &= mask; word != 0 {
			dark += bits.OnesCount64(word)
			if first < 0 {
				first = i*64 + bits.TrailingZeros64(word)
			}
			last = i*64 + 63 - bits.LeadingZeros64(word)
		}
	}
	return dark, turns, first, last
}

// turnsDown counts the changes from one pixel to the next below it, within
// columns and rows, from light at the top and to light at the bottom.
func (b bitmap) turnsDown(x0, x1, y0, y1 int) (n int) {
	for i := x0 / 64; i <= (x1-1)/64; i++ {
		mask := ^uint64(0)
		if i == x0/64 {
			mask <<= x0 % 64
		}
		if end := x1 - i*64; end < 64 {
			mask &= 1<<end - 1
		}
		var before uint64
		for y := y0; y < y1; y++ {
			word := b.words[y*b.stride+i] & mask
			n += bits.OnesCount64(word ^ before)
			before = word
		}
		n += bits.OnesCount64(before)
	}
	return n
}

// run is a row of dark pixels that belong together; x1 is behind the last.
type run struct{ y, x0, x1 int32 }

// parts are the connected dark parts of a bitmap, as runs from top to bottom.
// Those that are less than so many pixels wide and tall are left out, and of
// the others only the largest, so many at most.
func (b bitmap) parts(least, most int) [][]run {
	n := b.turns()/2 + 1
	runs, parent := make([]run, 0, n), make([]int32, 0, n)
	root := func(i int32) int32 {
		for parent[i] != i {
			parent[i] = parent[parent[i]]
			i = parent[i]
		}
		return i
	}
	var edges []int32
	above := 0 // the first run of the row above
	for y := range b.h {
		edges = b.edges(edges[:0], y)
		start := len(runs)
		at := above
		for i := 0; i < len(edges); i += 2 {
			n := int32(len(runs))
			runs, parent = append(runs, run{int32(y), edges[i], edges[i+1]}), append(parent, n)
			for at < start && runs[at].x1 <= edges[i] {
				at++
			}
			for k := at; k < start && runs[k].x0 < edges[i+1]; k++ {
				if a, c := root(int32(k)), root(n); a < c {
					parent[c] = a
				} else {
					parent[a] = c
				}
			}
		}
		above = start
	}
	return gathered(runs, parent, int32(least), most)
}

// gathered sorts runs by their roots. The parent of a run comes before it.
func gathered(runs []run, parent []int32, least int32, most int) [][]run {
	boxes := make([]box, 0, len(runs)/4)
	which := parent // the box of each run
	for i, r := range runs {
		if up := parent[i]; int(up) < i {
			which[i] = which[up]
			b := &boxes[which[i]]
			b.runs++
			b.x0, b.x1, b.y1 = min(b.x0, r.x0), max(b.x1, r.x1), r.y
			continue
		}
		which[i] = int32(len(boxes))
		boxes = append(boxes, box{r.x0, r.x1, r.y, r.y, 1})
	}
	var large []int32
	for i, b := range boxes {
		if b.x1-b.x0 >= least && b.y1-b.y0 >= least {
			large = append(large, int32(i))
		}
	}
	slices.SortStableFunc(large, func(a, b int32) int { return cmp.Compare(boxes[b].area(), boxes[a].area()) })
	large = large[:min(len(large), most)]
	slices.Sort(large)
	parts := make([][]run, len(large))
	for i, at := range large {
		parts[i] = make([]run, 0, boxes[at].runs)
		boxes[at].runs = -1 - i // which part it is
	}
	for i, r := range runs {
		if n := boxes[which[i]].runs; n < 0 {
			parts[-1-n] = append(parts[-1-n], r)
		}
	}
	return parts
}

// box is what a part takes up.
type box struct {
	x0, x1, y0, y1 int32
	runs           int // of the part
}

func (b box) area() int64 { return int64(b.x1-b.x0) * int64(b.y1-b.y0+1) }
