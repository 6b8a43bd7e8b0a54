package decode

import (
	"math/bits"
	"slices"
	"sync"
)

// MostVersion is the largest QR code that is read, far beyond what labels
// carry: other people's codes are to be read, too, and not to be taken for
// labels that cannot be.
const MostVersion = 10

// The error correction of each version at the levels M, L, H and Q, in the
// order of the bits that name them (ISO/IEC 18004, table 9): codewords in each
// block, and blocks.
var (
	qrCheck = [4][MostVersion]int{
		{10, 16, 26, 18, 24, 16, 18, 22, 22, 26},
		{7, 10, 15, 20, 26, 18, 20, 24, 30, 18},
		{17, 28, 22, 16, 22, 28, 26, 26, 24, 28},
		{13, 22, 18, 26, 18, 24, 18, 22, 20, 24},
	}
	qrBlocks = [4][MostVersion]int{
		{1, 1, 1, 2, 2, 4, 4, 4, 5, 5},
		{1, 1, 1, 1, 1, 2, 2, 2, 2, 4},
		{1, 1, 2, 4, 4, 4, 5, 6, 8, 8},
		{1, 1, 2, 2, 4, 4, 6, 6, 8, 8},
	}
)

// Centres are the columns, and rows, in which the alignment patterns of a
// version have their middles (ISO/IEC 18004, annex E), up to MostVersion.
func Centres(version int) []int {
	last := 17 + 4*version - 7
	switch {
	case version < 2:
		return nil
	case version < 7:
		return []int{6, last}
	}
	return []int{6, (6 + last) / 2, last}
}

// qrLayout is where a QR code of a version keeps its codewords.
type qrLayout struct {
	places [][8]int // for each codeword, as the modules are read
}

var qrLayouts = func() (all [MostVersion]func() qrLayout) {
	for i := range all {
		all[i] = sync.OnceValue(func() qrLayout { return newQRLayout(i + 1) })
	}
	return all
}()

// newQRLayout goes up and down the columns of a code, two at a time from the
// right, past all that carries no data (ISO/IEC 18004, 7.7.3).
func newQRLayout(version int) qrLayout {
	size := 17 + 4*version
	taken := qrTaken(version)
	var all []int
	up := true
	for right := size - 1; right > 0; right -= 2 {
		if right == 6 {
			right-- // the timing pattern has a column of its own
		}
		for i := range size {
			y := i
			if up {
				y = size - 1 - i
			}
			for x := right; x > right-2; x-- {
				if !taken[y*size+x] {
					all = append(all, y*size+x)
				}
			}
		}
		up = !up
	}
	l := qrLayout{places: make([][8]int, len(all)/8)}
	for i := range l.places {
		copy(l.places[i][:], all[8*i:])
	}
	return l
}

// qrTaken tells the modules of a version that carry no data: patterns, format
// and version.
func qrTaken(version int) []bool {
	size := 17 + 4*version
	taken := make([]bool, size*size)
	fill := func(x0, y0, x1, y1 int) {
		for y := y0; y < y1; y++ {
			for x := x0; x < x1; x++ {
				taken[y*size+x] = true
			}
		}
	}
	fill(0, 0, 9, 9)
	fill(size-8, 0, size, 9)
	fill(0, size-8, 9, size)
	fill(6, 0, 7, size)
	fill(0, 6, size, 7)
	centres := Centres(version)
	for _, x := range centres {
		for _, y := range centres {
			if corner := x == 6 && (y == 6 || y == size-7) || x == size-7 && y == 6; !corner {
				fill(x-2, y-2, x+3, y+3)
			}
		}
	}
	if version >= 7 {
		fill(size-11, 0, size-8, 6)
		fill(0, size-11, 6, size-8)
	}
	return taken
}

// QR reads the text of a QR code, mirrored or not. sure says that no module had
// to be given up as lost.
func QR(m Modules) (text string, sure, ok bool) {
	version := (m.Size - 17) / 4
	if version < 1 || version > MostVersion || m.Size != 17+4*version || len(m.Light) != m.Size*m.Size {
		return "", false, false
	}
	for _, f := range formats(m) {
		upright := m
		if f.mirrored {
			upright = m.flipped(false)
		}
		if text, sure, ok := qrText(upright, version, f); ok {
			return text, sure, true
		}
	}
	return "", false, false
}

// format is what a code says about itself: its level, by its bits, and the
// mask laid over its data.
type format struct {
	level, mask int
	mirrored    bool
	off         int // bits that are other than they should be, of both copies
}

// formats are the likely formats of a code, the likeliest first: the one that
// is nearest to what is read, and others nearly as near.
func formats(m Modules) []format {
	const most, trials = 10, 3 // bits off of the 30; how many are tried
	var likely []format
	for _, mirrored := range []bool{false, true} {
		first, second := formatBits(m, mirrored)
		for v, word := range formatWords() {
			off := bits.OnesCount16(first^word) + bits.OnesCount16(second^word)
			if one := min(bits.OnesCount16(first^word), bits.OnesCount16(second^word)); off <= most || one <= 1 {
				likely = append(likely, format{v >> 3, v & 7, mirrored, off})
			}
		}
	}
	slices.SortStableFunc(likely, func(a, b format) int { return a.off - b.off })
	return likely[:min(len(likely), trials)]
}

// formatWords are the 32 words that tell a format: five bits, ten of a BCH
// code, and a mask (ISO/IEC 18004, annex C).
var formatWords = sync.OnceValue(func() [32]uint16 {
	var words [32]uint16
	for v := range words {
		rest := v << 10
		for bit := 14; bit >= 10; bit-- {
			if rest>>bit&1 == 1 {
				rest ^= 0x537 << (bit - 10)
			}
		}
		words[v] = uint16(v<<10|rest) ^ 0x5412
	}
	return words
})

// formatBits reads the two copies of the format, the highest bit first.
func formatBits(m Modules, mirrored bool) (first, second uint16) {
	bit := func(x, y int) uint16 {
		if mirrored {
			x, y = y, x
		}
		if m.dark(x, y) {
			return 1
		}
		return 0
	}
	for i := range 15 {
		x, y := i, 8 // along the row, past the timing pattern, then up the column
		switch {
		case i == 6:
			x = 7
		case i == 7:
			x = 8
		case i == 8:
			x, y = 8, 7
		case i > 8:
			x, y = 8, 14-i
		}
		first = first<<1 | bit(x, y)
		x, y = 8, m.Size-1-i
		if i > 6 {
			x, y = m.Size-15+i, 8
		}
		second = second<<1 | bit(x, y)
	}
	return first, second
}

// masked reports whether a mask turns a module round (ISO/IEC 18004, table 10).
func masked(mask, x, y int) bool {
	switch mask {
	case 0:
		return (x+y)%2 == 0
	case 1:
		return y%2 == 0
	case 2:
		return x%3 == 0
	case 3:
		return (x+y)%3 == 0
	case 4:
		return (y/2+x/3)%2 == 0
	case 5:
		return x*y%2+x*y%3 == 0
	case 6:
		return (x*y%2+x*y%3)%2 == 0
	}
	return ((x+y)%2+x*y%3)%2 == 0
}

// qrText reads an upright code of a format.
func qrText(m Modules, version int, f format) (text string, sure, ok bool) {
	plain := Modules{m.Size, slices.Clone(m.Light)}
	for i := range plain.Light {
		if masked(f.mask, i%m.Size, i/m.Size) {
			plain.Light[i] = -plain.Light[i]
		}
	}
	words, certain := plain.codewords(qrLayouts[version-1]().places)
	var data []byte
	sure = true
	for _, b := range qrParts(words, certain, version, f.level) {
		part, s, ok := b.corrected(qrField)
		if !ok {
			return "", false, false
		}
		data = append(data, part...)
		sure = sure && s
	}
	text, ok = qrSegments(data, version, !sure)
	return text, sure, ok
}

// qrParts takes the codewords of a code apart into its blocks: the longer ones
// come last, and their codewords stand by turns (ISO/IEC 18004, 7.6).
func qrParts(words []byte, sure []float32, version, level int) []block {
	n, check := qrBlocks[level][version-1], qrCheck[level][version-1]
	short := len(words)/n - check // data of a short block
	longer := len(words) % n      // blocks with one more
	parts := make([]block, n)
	at := 0
	take := func(i int) {
		parts[i].words, parts[i].sure = append(parts[i].words, words[at]), append(parts[i].sure, sure[at])
		at++
	}
	for k := range short + 1 {
		for i := range parts {
			if k < short || i >= n-longer {
				take(i)
			}
		}
	}
	for range check {
		for i := range parts {
			take(i)
		}
	}
	for i := range parts {
		parts[i].check = check
	}
	return parts
}
