package decode

import (
	"strings"
	"unicode/utf8"
)

const alphanumeric = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ $%*+-./:"

// bitReader reads numbers out of bytes, the highest bit first.
type bitReader struct {
	data []byte
	at   int // bits
}

func (r *bitReader) left() int { return 8*len(r.data) - r.at }

func (r *bitReader) take(n int) (v int) {
	for range n {
		v <<= 1
		if r.at < 8*len(r.data) && r.data[r.at/8]>>(7-r.at%8)&1 == 1 {
			v |= 1
		}
		r.at++
	}
	return v
}

// qrSegments reads the text of the data of a QR code. With strict, what fills
// the code up behind the text must be what the standard says, as a further
// proof.
func qrSegments(data []byte, version int, strict bool) (string, bool) {
	r := &bitReader{data: data}
	var text strings.Builder
	for r.left() >= 4 {
		ok := true
		switch mode := r.take(4); mode {
		case 0:
			return text.String(), !strict || filledUp(r)
		case 1:
			ok = r.digits(&text, countBits(version, 10, 12))
		case 2:
			ok = r.pairs(&text, countBits(version, 9, 11))
		case 3: // structured append: one of several codes, with a parity
			r.take(16)
		case 4:
			ok = r.bytes(&text, countBits(version, 8, 16))
		case 5: // FNC1 in the first position
		case 7:
			ok = r.interpretation()
		case 8:
			ok = r.kanji(&text, countBits(version, 8, 10))
		case 9: // FNC1 in the second position, with its application
			r.take(8)
		default:
			return "", false
		}
		if !ok || r.left() < 0 {
			return "", false
		}
	}
	return text.String(), r.take(r.left()) == 0
}

// countBits is how many bits a length takes: up to version 9, and above.
func countBits(version, small, large int) int {
	if version < 10 {
		return small
	}
	return large
}

// filledUp reports whether zero bits to the next byte and then EC 11 EC 11 …
// follow.
func filledUp(r *bitReader) bool {
	if r.at%8 != 0 && r.take(8-r.at%8) != 0 {
		return false
	}
	for i := 0; r.left() >= 8; i++ {
		if want := [2]int{0xec, 0x11}[i%2]; r.take(8) != want {
			return false
		}
	}
	return true
}

func (r *bitReader) digits(text *strings.Builder, count int) bool {
	for n := r.take(count); n > 0; n -= 3 {
		some := min(n, 3)
		v := r.take([4]int{0, 4, 7, 10}[some])
		limit := [4]int{1, 10, 100, 1000}[some]
		if v >= limit || r.left() < 0 {
			return false
		}
		for limit /= 10; limit > 0; limit /= 10 {
			text.WriteByte('0' + byte(v/limit%10))
		}
	}
	return true
}

func (r *bitReader) pairs(text *strings.Builder, count int) bool {
	for n := r.take(count); n > 0; n -= 2 {
		if n == 1 {
			v := r.take(6)
			if v >= 45 || r.left() < 0 {
				return false
			}
			text.WriteByte(alphanumeric[v])
			break
		}
		v := r.take(11)
		if v >= 45*45 || r.left() < 0 {
			return false
		}
		text.WriteByte(alphanumeric[v/45])
		text.WriteByte(alphanumeric[v%45])
	}
	return true
}

func (r *bitReader) bytes(text *strings.Builder, count int) bool {
	n := r.take(count)
	if 8*n > r.left() {
		return false
	}
	some := make([]byte, n)
	for i := range some {
		some[i] = byte(r.take(8))
	}
	writeBytes(text, some)
	return true
}

// writeBytes takes bytes for UTF-8 where they can be, else for Latin-1.
func writeBytes(text *strings.Builder, some []byte) {
	if utf8.Valid(some) {
		text.Write(some)
		return
	}
	for _, b := range some {
		text.WriteRune(rune(b))
	}
}

// interpretation passes over the number of a character set, which UTF-8 and
// Latin-1 are told apart without.
func (r *bitReader) interpretation() bool {
	first := r.take(8)
	switch {
	case first < 0x80:
	case first < 0xc0:
		r.take(8)
	case first < 0xe0:
		r.take(16)
	default:
		return false
	}
	return true
}

// kanji passes over Japanese characters, which no label carries: each becomes
// U+FFFD.
func (r *bitReader) kanji(text *strings.Builder, count int) bool {
	n := r.take(count)
	if 13*n > r.left() {
		return false
	}
	for range n {
		r.take(13)
		text.WriteRune(utf8.RuneError)
	}
	return true
}
