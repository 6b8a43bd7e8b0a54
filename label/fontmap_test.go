package label

import (
	"encoding/binary"
	"errors"
	"math"
	"slices"
	"strings"
	"testing"
)

func words16(values ...int) []byte {
	var b []byte
	for _, v := range values {
		b = binary.BigEndian.AppendUint16(b, uint16(v))
	}
	return b
}

func words32(values ...uint32) []byte {
	var b []byte
	for _, v := range values {
		b = binary.BigEndian.AppendUint32(b, v)
	}
	return b
}

// The numbers for binary searches are those of the OpenType specification:
// searchRange is 2 × 2^floor(log2 n), entrySelector its exponent and rangeShift
// 2n less searchRange, of n segments (cmap, format 4); 16 stands for 2 in the
// list of tables.
func TestSearchNumbers(t *testing.T) {
	check := func(what string, got []byte, n int, each float64) {
		t.Helper()
		exponent := math.Floor(math.Log2(float64(n)))
		most := each * math.Pow(2, exponent)
		if want := words16(int(most), int(exponent), int(each*float64(n)-most)); !slices.Equal(got, want) {
			t.Errorf("%s of %d: % x, want % x", what, n, got, want)
		}
	}
	for segments := 1; segments <= 9; segments++ {
		var chars []rune
		for i := range segments - 1 { // each a segment of its own, and one for the end
			chars = append(chars, rune('A'+2*i))
		}
		cmap := cmapTable(chars)
		table := cmap[12:]
		if format, length, double := binary.BigEndian.Uint16(table), binary.BigEndian.Uint16(table[2:]), binary.BigEndian.Uint16(table[6:]); format != 4 || int(length) != len(table) || int(double) != 2*segments {
			t.Errorf("%d segments: format %d, length %d of %d, twice the segments %d", segments, format, length, len(table), double)
		}
		check("segments", table[8:14], segments, 2)
		tables := fontTables{}
		for i := range segments {
			tables["tab"+string(rune('0'+i))] = []byte{1, 2, 3}
		}
		check("tables", tables.file()[6:12], segments, 16)
	}
}

// Maps that contradict themselves are refused, and none is read beyond its end.
func TestDamagedMaps(t *testing.T) {
	whole := words16(4, 24, 0, 2, 0, 0, 0, 0xffff, 0, 0xffff, 1, 0) // a segment for the end alone
	if chars, err := readFormat4(whole, 9); err != nil || len(chars) > 0 {
		t.Errorf("the least map: %v, %v", chars, err)
	}
	for name, table := range map[string][]byte{
		"cut short":        whole[:len(whole)-1],
		"its beginning":    whole[:6],
		"no segments":      words16(4, 24, 0, 0, 0, 0, 0, 0xffff, 0, 0xffff, 1, 0),
		"half a segment":   words16(4, 24, 0, 1, 0, 0, 0, 0xffff, 0, 0xffff, 1, 0, 0, 0, 0),
		"an odd count":     words16(4, 24, 0, 3, 0, 0, 0, 0xffff, 0, 0xffff, 1, 0, 0, 0, 0, 0, 0, 0),
		"half of one":      append(words16(4, 24, 0, 1, 0, 0, 0, 'A'), 0, 0, 'A', 0, 0, 0, 0, 0),
		"backward":         words16(4, 24, 0, 2, 0, 0, 0, 'A', 0, 'B', 1, 0),
		"segments overlap": words16(4, 32, 0, 4, 0, 0, 0, 'B', 'D', 0, 'A', 'B', 1, 1, 0, 0),
		"list astray":      words16(4, 24, 0, 2, 0, 0, 0, 'B', 0, 'A', 1, 2),
	} {
		if chars, err := readFormat4(table, 9); !errors.Is(err, errCharacterMap) {
			t.Errorf("%s: %v, %v", name, chars, err)
		}
	}
	group := words32('A', 'C', 5)
	for count, fits := range map[uint32]bool{0: true, 1: true, 2: false, 0x15555556: false, 0xffffffff: false} {
		_, err := readFormat12(append(words32(12<<16, 28, 0, count), group...), 9)
		if fits != (err == nil) {
			t.Errorf("one group, said to be %d: %v", count, err)
		}
	}
}

// A map whose format is at its very end is looked at; half a format is not.
func TestMapAtTheEnd(t *testing.T) {
	record := append(words16(0, 1, 3, 1), words32(12)...)
	for says, rest := range map[string][]byte{
		"no map from Unicode's characters": {0, 6}, // a format that is not read
		`"cmap" points beyond its end`:     {0},
	} {
		tables := taken(t)
		tables["cmap"] = slices.Concat(record, rest)
		if _, err := NewTypeface("Names", "", tables.file()); err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("%v, want %q", err, says)
		}
	}
}

// Glyphs made of others are listed whatever stands between them (OpenType,
// glyf, composite glyph flags): offsets in bytes or words, a scale, two, or four.
func TestPartsOfAGlyph(t *testing.T) {
	const words, scale, more, twoScales, matrix = 0x0001, 0x0008, 0x0020, 0x0040, 0x0080
	for flags, between := range map[int]int{more: 1, more | words: 2, more | scale: 2, more | words | scale: 3, more | twoScales: 3, more | matrix: 5, more | words | matrix: 6} {
		data := slices.Concat(words16(flags, 7), make([]byte, 2*between), words16(0, 9, 0))
		if parts, ok := partsOf(data); !ok || !slices.Equal(parts, []int{7, 9}) {
			t.Errorf("flags %#x: %v, %v", flags, parts, ok)
		}
		if parts, ok := partsOf(data[:len(data)-1]); ok {
			t.Errorf("flags %#x, cut short: %v", flags, parts)
		}
	}
}
