// Package decode reads the text of the modules of a QR code or a Data Matrix:
// which modules carry which codeword, the error correction and the writing of
// the text. It knows nothing of pictures, and never panics on what it is given.
package decode

import (
	"cmp"
	"math"
	"slices"
)

// Modules are the modules of a square code, row by row. Each is negative where
// it is dark and positive where it is light, and the farther from 0 the surer.
type Modules struct {
	Size  int // modules along a side
	Light []float32
}

func (m Modules) dark(x, y int) bool { return m.Light[y*m.Size+x] < 0 }

// flipped exchanges rows and columns, as a mirror does with a QR code that
// stands upright; anti does so along the other diagonal.
func (m Modules) flipped(anti bool) Modules {
	out := Modules{m.Size, make([]float32, len(m.Light))}
	for y := range m.Size {
		for x := range m.Size {
			fx, fy := y, x
			if anti {
				fx, fy = m.Size-1-y, m.Size-1-x
			}
			out.Light[fy*m.Size+fx] = m.Light[y*m.Size+x]
		}
	}
	return out
}

// codewords reads the codewords that lie on modules, eight indexes for each,
// the highest bit first; and how sure the least sure of its bits is.
func (m Modules) codewords(places [][8]int) (words []byte, sure []float32) {
	words, sure = make([]byte, len(places)), make([]float32, len(places))
	for i, place := range places {
		least := float32(math.Inf(1))
		for _, at := range place {
			l := m.Light[at]
			words[i] <<= 1
			if l < 0 {
				words[i] |= 1
				l = -l
			}
			least = min(least, l)
		}
		sure[i] = least
	}
	return words, sure
}

// block is the part of a code that is corrected by itself.
type block struct {
	words []byte
	sure  []float32
	check int // codewords of error correction, at the end of words
}

// spareAfterErasures is how many codewords of error correction must be left to
// prove the result where some were taken for lost: each lets one in 256 wrong
// results pass.
const spareAfterErasures = 4

// erasures is how many numbers of lost codewords are tried.
const erasures = 5

// corrected gives the data of the block, erased codewords among them put right.
// Where there are more errors than half of the error correction, the least sure
// codewords are taken for lost, which costs half as much for each; sure says
// that none had to be.
func (b block) corrected(f *field) (data []byte, sure, ok bool) {
	n := len(b.words) - b.check
	words := slices.Clone(b.words)
	if f.correct(words, b.check, nil, 0) {
		return words[:n], true, true
	}
	order := make([]int, len(words))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(i, j int) int { return cmp.Compare(b.sure[i], b.sure[j]) })
	most := b.check - spareAfterErasures
	for i := range erasures {
		lost := most * (i + 1) / erasures
		if lost < 2 {
			continue
		}
		copy(words, b.words)
		if f.correct(words, b.check, order[:lost], spareAfterErasures) {
			return words[:n], false, true
		}
	}
	return nil, false, false
}
