package decode

import "strings"

// The sets of C40 and Text (ISO/IEC 16022, 5.2.5 and annex C): the basic one,
// of which the first three entries shift, and the second and third shifted.
const (
	c40Basic  = "\x00\x00\x00 0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ"
	textBasic = "\x00\x00\x00 0123456789abcdefghijklmnopqrstuvwxyz"
	c40Second = "!\"#$%&'()*+,-./:;<=>?@[\\]^_"
	c40Third  = "`abcdefghijklmnopqrstuvwxyz{|}~\x7f"
	textThird = "`ABCDEFGHIJKLMNOPQRSTUVWXYZ{|}~\x7f"
	x12Set    = "\r*> 0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ"
)

// Codewords of the ASCII set that are no characters.
const (
	dmPad        = 129
	dmC40        = 230
	dmBytes      = 231
	dmFNC1       = 232
	dmUpperShift = 235
	dmMacro05    = 236
	dmMacro06    = 237
	dmX12        = 238
	dmText40     = 239
	dmEdifact    = 240
	dmECI        = 241
	dmUnlatch    = 254 // in C40, Text and X12
)

// dmReader reads the codewords of a Data Matrix.
type dmReader struct {
	data []byte
	at   int
	out  []byte // Latin-1 or UTF-8
}

// dmText reads the text of the data of a Data Matrix. With strict, what fills
// the code up must be what the standard says.
func dmText(data []byte, strict bool) (string, bool) {
	r := &dmReader{data: data}
	trailer, ok := r.ascii(strict)
	if !ok {
		return "", false
	}
	var text strings.Builder
	writeBytes(&text, append(r.out, trailer...))
	return text.String(), true
}

// ascii reads codewords of the ASCII set to the end, and what others lead to.
func (r *dmReader) ascii(strict bool) (trailer string, ok bool) {
	upper := byte(0)
	for r.at < len(r.data) {
		c := r.data[r.at]
		r.at++
		ok := true
		switch {
		case c == 0:
			return "", false
		case c <= 128:
			r.out = append(r.out, c-1+upper)
			upper = 0
			continue
		case c == dmPad:
			return trailer, !strict || r.padded()
		case c < dmC40:
			r.out = append(r.out, '0'+(c-130)/10, '0'+(c-130)%10)
		case c == dmC40:
			ok = r.triples(c40Basic, c40Third)
		case c == dmText40:
			ok = r.triples(textBasic, textThird)
		case c == dmBytes:
			ok = r.bytes()
		case c == dmX12:
			ok = r.x12()
		case c == dmEdifact:
			r.edifact()
		case c == dmUpperShift:
			upper = 128
			continue
		case c == dmMacro05 || c == dmMacro06:
			r.out = append(r.out, "[)>\x1e05\x1d"...)
			r.out[len(r.out)-2] += c - dmMacro05
			trailer = "\x1e\x04"
		case c == dmECI:
			ok = r.interpretation()
		case c == dmFNC1:
			r.out = append(r.out, '\x1d')
		default: // structured append, and the programming of readers
			return "", false
		}
		if !ok || upper != 0 {
			return "", false
		}
	}
	return trailer, upper == 0
}

// padded reports whether the pad that was read is followed by others, each
// scrambled by its place.
func (r *dmReader) padded() bool {
	for ; r.at < len(r.data); r.at++ {
		want := dmPad + (149*(r.at+1))%253 + 1
		if want > 254 {
			want -= 254
		}
		if int(r.data[r.at]) != want {
			return false
		}
	}
	return true
}

// three takes three values of 40 out of the next two codewords; ended says that
// the set ends here instead.
func (r *dmReader) three() (v [3]int, ended, ok bool) {
	if r.at >= len(r.data) {
		return v, true, true
	}
	if r.data[r.at] == dmUnlatch {
		r.at++
		return v, true, true
	}
	if r.at+1 >= len(r.data) {
		return v, true, true // the last codeword is of the ASCII set
	}
	n := int(r.data[r.at])<<8 | int(r.data[r.at+1])
	if n == 0 || n > 64000 {
		return v, false, false
	}
	r.at += 2
	n--
	return [3]int{n / 1600, n / 40 % 40, n % 40}, false, true
}

func (r *dmReader) triples(basic, third string) bool {
	shift, upper := 0, byte(0)
	for {
		values, ended, ok := r.three()
		if !ok || ended {
			return ok
		}
		for _, v := range values {
			set := [4]string{basic, "", c40Second, third}[shift]
			switch {
			case shift == 0 && v < 3:
				shift = v + 1
				continue
			case shift == 1:
				if v > 31 {
					return false
				}
				r.out = append(r.out, byte(v)+upper)
			case shift == 2 && v == 30:
				upper, shift = 128, 0
				continue
			case shift == 2 && v == 27:
				r.out = append(r.out, '\x1d')
			case v >= len(set):
				return false
			default:
				r.out = append(r.out, set[v]+upper)
			}
			shift, upper = 0, 0
		}
	}
}

func (r *dmReader) x12() bool {
	for {
		values, ended, ok := r.three()
		if !ok || ended {
			return ok
		}
		for _, v := range values {
			r.out = append(r.out, x12Set[v])
		}
	}
}

// edifact reads four characters out of three codewords each, until it is said
// to end or fewer than three are left.
func (r *dmReader) edifact() {
	for len(r.data)-r.at > 2 {
		bits := &bitReader{data: r.data[r.at : r.at+3]}
		for range 4 {
			v := bits.take(6)
			if v == 31 {
				r.at += (bits.at + 7) / 8
				return
			}
			r.out = append(r.out, byte(v^0x20)+0x20)
		}
		r.at += 3
	}
}

// bytes reads a length and so many bytes, each scrambled by its place.
func (r *dmReader) bytes() bool {
	next := func() (int, bool) {
		if r.at >= len(r.data) {
			return 0, false
		}
		v := int(r.data[r.at]) - (149*(r.at+1)%255 + 1)
		r.at++
		if v < 0 {
			v += 256
		}
		return v, true
	}
	n, ok := next()
	switch {
	case !ok:
		return false
	case n == 0:
		n = len(r.data) - r.at
	case n >= 250:
		more, ok := next()
		if !ok {
			return false
		}
		n = (n-249)*250 + more
	}
	for range n {
		v, ok := next()
		if !ok {
			return false
		}
		r.out = append(r.out, byte(v))
	}
	return true
}

// interpretation passes over the number of a character set.
func (r *dmReader) interpretation() bool {
	if r.at >= len(r.data) {
		return false
	}
	switch c := r.data[r.at]; {
	case c == 0 || c > 207:
		return false
	case c <= 127:
		r.at++
	case c <= 191:
		r.at += 2
	default:
		r.at += 3
	}
	return r.at <= len(r.data)
}
