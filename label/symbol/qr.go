package symbol

import (
	"fmt"
	"math/bits"
	"slices"
	"sync"

	"rsc.io/qr/coding"
)

// rows are the modules of a symbol of at most 64 columns: a word a row from the
// top, the highest bit the leftmost module, set for dark.
type rows []uint64

// encodeQR makes the QR code of a version from 1 that holds a payload at a
// level, the smallest one for version 0, in alphanumeric mode and with the mask
// that ISO/IEC 18004 asks for, the one with the lowest penalty, unless data then
// imitate a finder pattern.
func encodeQR(level byte, payload string, of int) (rows, error) {
	l := levelOf(level)
	if l < 0 {
		return nil, fmt.Errorf("a QR code has no error correction level %q: it has L, M, Q and H", level)
	}
	least := version(len(payload), l)
	if least == 0 {
		return nil, tooLong(payload, len(payload), "characters", qrCapacity[len(qrCapacity)-1][l])
	}
	if of == 0 {
		of = least
	}
	if of < least {
		return nil, tooLong(payload, len(payload), "characters", qrCapacity[of-1][l])
	}
	masks, err := masksFor(of, l)
	if err != nil {
		return nil, err
	}
	code, err := masks.plan.Encode(coding.Alpha(payload))
	if err != nil {
		return nil, err
	}
	return masks.best(rowsOf(code)), nil
}

// masks turns a symbol with mask 0 into those with the other masks.
type masks struct {
	plan *coding.Plan // with mask 0
	// What differs from the symbol with mask 0, whatever the payload: the masks
	// of the data and the bits that name the mask. By rows and by columns.
	rows, columns [8]rows
}

// masksFor is the masks of a version, from 1, and a level, by its place among
// levels.
func masksFor(version, level int) (*masks, error) { return allMasks[version-1][level]() }

var allMasks = func() (all [len(qrCapacity)][len(levels)]func() (*masks, error)) {
	for v := range all {
		for l := range all[v] {
			all[v][l] = sync.OnceValues(func() (*masks, error) { return newMasks(v+1, l) })
		}
	}
	return all
}()

func newMasks(version, level int) (*masks, error) {
	m := &masks{}
	var first rows
	for mask := range m.rows {
		plan, err := coding.NewPlan(coding.Version(version), coding.Level(level), coding.Mask(mask))
		if err != nil {
			return nil, err
		}
		code, err := plan.Encode(coding.Alpha("0")) // any payload shows the same difference
		if err != nil {
			return nil, err
		}
		if mask == 0 {
			m.plan, first = plan, rowsOf(code)
		}
		m.rows[mask] = first.xor(rowsOf(code), make(rows, len(first)))
		m.columns[mask] = m.rows[mask].transposed()
	}
	return m, nil
}

// best returns the symbol with the mask of the lowest penalty, given the one
// with mask 0; of those where data imitate no finder pattern, if there are any,
// and else of those that do least.
func (m *masks) best(first rows) rows {
	columns := first.transposed()
	byRow, byColumn := slices.Clone(first), slices.Clone(columns)
	var penalties [len(m.rows)]int
	for mask := range m.rows {
		penalties[mask] = penalty(first.xor(m.rows[mask], byRow), columns.xor(m.columns[mask], byColumn))
	}
	var best rows
	least, tried := 0, 0
	for range m.rows { // from the lowest penalty on
		mask := -1
		for k, p := range penalties {
			if tried>>k&1 == 0 && (mask < 0 || p < penalties[mask]) {
				mask = k
			}
		}
		tried |= 1 << mask
		r := first.xor(m.rows[mask], byRow)
		likeness := finderLikeness(r, columns.xor(m.columns[mask], byColumn))
		if best == nil || likeness < least {
			best, least = slices.Clone(r), likeness
		}
		if likeness == trueFinders {
			break
		}
	}
	return best
}

// penalty is the penalty of a symbol by ISO/IEC 18004, evaluation of masking
// results, from its rows and its columns.
func penalty(byRow, byColumn rows) int {
	size := len(byRow)
	sum, dark := 0, 0
	for i := range byRow {
		sum += linePenalty(byRow[i], size) + linePenalty(byColumn[i], size)
		dark += bits.OnesCount64(byRow[i])
		if i > 0 { // 3 for each block of two by two modules of one colour
			same := ^(byRow[i] ^ byRow[i-1])
			level := ^(byRow[i] ^ byRow[i]<<1)
			sum += 3 * bits.OnesCount64(level&same&(same<<1)&span(size-1))
		}
	}
	odd := 2*dark - size*size // 10 for each twentieth that dark is off half
	return sum + 10*(max(odd, -odd)*10/(size*size))
}

// span is the mask of n bits from the left.
func span(n int) uint64 { return ^uint64(0) << (64 - n) }

// linePenalty is the penalty of a row or column of size modules: 3 for five
// modules of one colour and 1 for each more, 40 for what looks like a finder
// pattern beside four light modules.
func linePenalty(line uint64, size int) int {
	alike := ^(line ^ line<<1) & span(size-1) // a module and the next one
	five := alike & (alike << 1) & (alike << 2) & (alike << 3)
	sum := bits.OnesCount64(five) + 2*bits.OnesCount64(five&^(five>>1))
	// 1011101 0000 and 0000 1011101, at all places at once
	dark, light := line, ^line
	finder := dark & (light << 1) & (dark << 2) & (dark << 3) & (dark << 4) & (light << 5) & (dark << 6)
	four := light & (light << 1) & (light << 2) & (light << 3)
	places := span(size - 10)
	return sum + 40*(bits.OnesCount64(finder&(four<<7)&places)+bits.OnesCount64(four&(finder<<4)&places))
}

func rowsOf(code *coding.Code) rows {
	r := make(rows, code.Size)
	for y := range r {
		for x, b := range code.Bitmap[y*code.Stride : y*code.Stride+(code.Size+7)/8] {
			r[y] |= uint64(b) << (56 - 8*x)
		}
	}
	return r
}

// xor fills sum, which is as long as r, with what differs.
func (r rows) xor(with, sum rows) rows {
	for i := range r {
		sum[i] = r[i] ^ with[i]
	}
	return sum
}

// transposed is the columns of r, the first one on top.
func (r rows) transposed() rows {
	t := make(rows, len(r))
	for y, row := range r {
		for ; row != 0; row &= row - 1 {
			x := 63 - bits.TrailingZeros64(row)
			t[x] |= 1 << (63 - y)
		}
	}
	return t
}
