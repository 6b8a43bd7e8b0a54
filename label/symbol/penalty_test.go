package symbol

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/boombuler/barcode/datamatrix"
)

// The penalty of random symbols is what ISO/IEC 18004 says of masking results,
// counted module by module: 3 and one more for each beyond five of one colour
// in a line, 3 for each block of two by two, 40 for each 1:1:3:1:1 beside four
// light modules, and 10 for each twentieth that dark is off half.
func TestPenaltyIsTheStandards(t *testing.T) {
	random := rand.New(rand.NewPCG(18004, 1))
	for _, size := range []int{21, 25, 33, 41} {
		for _, share := range []float64{0.1, 0.35, 0.5, 0.52, 0.7, 0.95} {
			for range 20 {
				byRow := rowsFrom(size, func(int, int) bool { return random.Float64() < share })
				// Long runs and finder patterns are rare by chance.
				for _, line := range []string{"1011101", "00001011101", "10111010000", "111111111", "0000000"} {
					x, y := random.IntN(size-len(line)+1), random.IntN(size)
					for i, c := range line {
						bit := uint64(1) << (63 - x - i)
						byRow[y] &^= bit
						if c == '1' {
							byRow[y] |= bit
						}
					}
				}
				if got, want := penalty(byRow, byRow.transposed()), countedPenalty(byRow); got != want {
					t.Fatalf("size %d: %d, want %d", size, got, want)
				}
			}
		}
	}
}

func countedPenalty(r rows) int {
	size := len(r)
	dark := func(x, y int) bool { return r[y]>>(63-x)&1 == 1 }
	sum, all := 0, 0
	for y := range size {
		var row, column strings.Builder
		for x := range size {
			for _, line := range []struct {
				text *strings.Builder
				dark bool
			}{{&row, dark(x, y)}, {&column, dark(y, x)}} {
				if line.dark {
					line.text.WriteByte('1')
				} else {
					line.text.WriteByte('0')
				}
			}
			if dark(x, y) {
				all++
			}
			if x > 0 && y > 0 && dark(x, y) == dark(x-1, y) && dark(x, y) == dark(x, y-1) && dark(x, y) == dark(x-1, y-1) {
				sum += 3
			}
		}
		for _, line := range []string{row.String(), column.String()} {
			for run, i := 1, 1; i <= size; i++ {
				if i < size && line[i] == line[i-1] {
					run++
					continue
				}
				if run >= 5 {
					sum += 3 + run - 5
				}
				run = 1
			}
			for i := range line {
				if strings.HasPrefix(line[i:], "10111010000") || strings.HasPrefix(line[i:], "00001011101") {
					sum += 40
				}
			}
		}
	}
	percent := 100 * float64(all) / float64(size*size)
	return sum + 10*int(math.Abs(percent-50)/5)
}

// Another encoder takes the next size of a Data Matrix where the table says
// that the one before is full: a letter takes a codeword.
func TestDataMatrixSizes(t *testing.T) {
	at := 0
	for n := 1; n <= dmCapacity[len(dmCapacity)-1].codewords; n++ {
		if n > dmCapacity[at].codewords {
			at++
		}
		code, err := datamatrix.Encode(strings.Repeat("A", n))
		if err != nil {
			t.Fatal(err)
		}
		if got := code.Bounds().Dx(); got != dmCapacity[at].size {
			t.Errorf("%d codewords: the other encoder makes %d modules, the table says %d", n, got, dmCapacity[at].size)
		}
	}
}

// A character of a higher code point is none of the alphabet, though its last
// byte may be.
func TestAlphabetIsNotBytes(t *testing.T) {
	for _, c := range []struct {
		payload, want string
	}{
		{"2026X012\u0141", "Ł"}, {"2026X012a", "a"}, {"2026X012[", "["},
	} {
		err := checkAlphabet(c.payload)
		wrong, ok := err.(*PayloadError)
		if !ok || wrong.Pos != 9 || !strings.Contains(wrong.Reason, c.want) {
			t.Errorf("%q: %v", c.payload, err)
		}
	}
}

// Modules of no dots, and printers without dots, are refused.
func TestNothingToPrintWith(t *testing.T) {
	for _, c := range []struct{ dots, dpi int }{{0, 300}, {-1, 300}, {4, 0}, {4, -1}} {
		if s, err := Encode(QR, 'M', "2026X012.M", c.dots, c.dpi); err == nil {
			t.Errorf("%d dots at %d dpi: %v", c.dots, c.dpi, s)
		}
	}
	if _, err := Encode(QR, 'M', "2026X012.M", 1, 1); err != nil {
		t.Error(err)
	}
}
