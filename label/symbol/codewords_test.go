package symbol

import "testing"

// qrCodewords reads the codewords back out of a QR code of version 1 to 6, in
// the order in which they stand in the symbol, and the level that its format
// information gives. It follows the description in ISO/IEC 18004: format
// information beside the upper left finder, data masks, and columns of two
// modules walked from the lower right corner, up and down in turn.
func qrCodewords(t *testing.T, s *Symbol) (words []byte, level byte) {
	t.Helper()
	format := 0
	for x := range 6 {
		format = format<<1 | bit(s.Dark(x, 8))
	}
	format = (format<<2|bit(s.Dark(7, 8))<<1|bit(s.Dark(8, 8)))<<1 | bit(s.Dark(8, 7))
	for y := 5; y >= 0; y-- {
		format = format<<1 | bit(s.Dark(8, y))
	}
	format ^= 0b101010000010010
	level = "MLHQ"[format>>13]
	mask := format >> 10 & 7

	n, bits, value := s.Size, 0, 0
	for right := n - 1; right > 0; right -= 2 {
		if right == 6 { // the column of the timing pattern
			right--
		}
		upward := (n-1-right)/2%2 == 0
		if right < 6 {
			upward = (n-2-right)/2%2 == 0
		}
		for i := range n {
			y := i
			if upward {
				y = n - 1 - i
			}
			for x := right; x > right-2; x-- {
				if qrFunction(n, x, y) {
					continue
				}
				value = value<<1 | bit(s.Dark(x, y) != qrMask(mask, x, y))
				if bits++; bits%8 == 0 {
					words = append(words, byte(value))
					value = 0
				}
			}
		}
	}
	if value != 0 {
		t.Errorf("%v: the remainder bits are not 0", s)
	}
	return words, level
}

// qrFunction reports whether a module belongs to no codeword.
func qrFunction(n, x, y int) bool {
	finder := x < 9 && y < 9 || x >= n-8 && y < 9 || x < 9 && y >= n-8
	timing := x == 6 || y == 6
	c := n - 7 // centre of the one alignment pattern from version 2 to 6
	alignment := n > 21 && x >= c-2 && x <= c+2 && y >= c-2 && y <= c+2
	return finder || timing || alignment
}

// qrMask is the data mask patterns of ISO/IEC 18004, with i = y and j = x.
func qrMask(mask, x, y int) bool {
	switch mask {
	case 0:
		return (y+x)%2 == 0
	case 1:
		return y%2 == 0
	case 2:
		return x%3 == 0
	case 3:
		return (y+x)%3 == 0
	case 4:
		return (y/2+x/3)%2 == 0
	case 5:
		return y*x%2+y*x%3 == 0
	case 6:
		return (y*x%2+y*x%3)%2 == 0
	}
	return ((y+x)%2+y*x%3)%2 == 0
}

// dmCodewords10 reads the eight codewords back out of a Data Matrix of 10×10
// modules. The places of their bits in its 8×8 mapping matrix, codeword and
// bit from 1, the highest first, are figure F.3 of ISO/IEC 16022 (from memory).
func dmCodewords10(s *Symbol) []byte {
	places := [8][8][2]int{
		{{2, 1}, {2, 2}, {3, 6}, {3, 7}, {3, 8}, {4, 3}, {4, 4}, {4, 5}},
		{{2, 3}, {2, 4}, {2, 5}, {5, 1}, {5, 2}, {4, 6}, {4, 7}, {4, 8}},
		{{2, 6}, {2, 7}, {2, 8}, {5, 3}, {5, 4}, {5, 5}, {1, 1}, {1, 2}},
		{{1, 5}, {6, 1}, {6, 2}, {5, 6}, {5, 7}, {5, 8}, {1, 3}, {1, 4}},
		{{1, 8}, {6, 3}, {6, 4}, {6, 5}, {8, 1}, {8, 2}, {1, 6}, {1, 7}},
		{{7, 2}, {6, 6}, {6, 7}, {6, 8}, {8, 3}, {8, 4}, {8, 5}, {7, 1}},
		{{7, 4}, {7, 5}, {3, 1}, {3, 2}, {8, 6}, {8, 7}, {8, 8}, {7, 3}},
		{{7, 7}, {7, 8}, {3, 3}, {3, 4}, {3, 5}, {4, 1}, {4, 2}, {7, 6}},
	}
	words := make([]byte, 8)
	for y := range places {
		for x, p := range places[y] {
			words[p[0]-1] |= byte(bit(s.Dark(x+1, y+1)) << (8 - p[1]))
		}
	}
	return words
}

func bit(dark bool) int {
	if dark {
		return 1
	}
	return 0
}
