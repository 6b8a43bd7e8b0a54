package ids

// checkAlphabet holds the characters of ISO/IEC 7064 MOD 37,36 by their values.
const checkAlphabet = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ"

// checkCharacter computes the check character of a text of digits and
// upper-case letters by ISO/IEC 7064:2003, the hybrid system MOD 37,36.
func checkCharacter(s []byte) byte {
	const m = len(checkAlphabet)
	p := m
	for _, c := range s {
		p += checkValue(c)
		if p > m {
			p -= m
		}
		p = p * 2 % (m + 1)
	}
	return checkAlphabet[(m+1-p)%m]
}

// checkValue is the value of a character in the check, or -1.
func checkValue(c byte) int {
	switch {
	case '0' <= c && c <= '9':
		return int(c - '0')
	case 'A' <= c && c <= 'Z':
		return int(c-'A') + 10
	}
	return -1
}

// Check is the identifier's check character, by ISO/IEC 7064 MOD 37,36 over
// its letters and digits without the hyphens: '3' for 2026X012-B2.
func (id ID) Check() byte {
	var text [maxLength]byte
	return checkCharacter(id.append(text[:0], false))
}

// WithCheck writes the identifier as labels carry it: "2026X012-B2.3".
func (id ID) WithCheck() string {
	return string(id.AppendWithCheck(make([]byte, 0, maxLength)))
}

// AppendWithCheck writes what WithCheck does to the end of b.
func (id ID) AppendWithCheck(b []byte) []byte {
	return append(id.append(b, true), '.', id.Check())
}
