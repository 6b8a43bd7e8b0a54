package decode

// field is a Galois field of 256 elements with the code that is built on it:
// the generator polynomial has the roots α^first, α^(first+1) and so on.
type field struct {
	exp   [512]byte // powers of α
	log   [256]byte
	first int
}

// The fields of QR codes (ISO/IEC 18004, annex A) and of Data Matrix codes
// (ISO/IEC 16022, annex E).
var (
	qrField = newField(0x11d, 0)
	dmField = newField(0x12d, 1)
)

func newField(polynomial, first int) *field {
	f := &field{first: first}
	v := 1
	for i := range 255 {
		f.exp[i], f.exp[i+255] = byte(v), byte(v)
		f.log[v] = byte(i)
		if v <<= 1; v > 255 {
			v ^= polynomial
		}
	}
	return f
}

func (f *field) mul(a, b byte) byte {
	if a == 0 || b == 0 {
		return 0
	}
	return f.exp[int(f.log[a])+int(f.log[b])]
}

func (f *field) div(a, b byte) byte {
	if a == 0 {
		return 0
	}
	return f.exp[int(f.log[a])+255-int(f.log[b])]
}

// power is α to the n, which may be negative.
func (f *field) power(n int) byte {
	if n %= 255; n < 0 {
		n += 255
	}
	return f.exp[n]
}

// at is the value of a polynomial, its lowest coefficient first.
func (f *field) at(p []byte, x byte) (v byte) {
	for i := len(p) - 1; i >= 0; i-- {
		v = f.mul(v, x) ^ p[i]
	}
	return v
}

// correct puts words right, of which the last check are for error correction,
// and reports whether it could. lost are the places of words that are known to
// be wrong, perhaps; spare is how much of the error correction must be left
// over. (Blahut, Theory and Practice of Error Control Codes, 1983, chapter 9.)
func (f *field) correct(words []byte, check int, lost []int, spare int) bool {
	n := len(words)
	if n > 255 || check > n {
		return false
	}
	syndromes := make([]byte, check)
	wrong := false
	for i := range syndromes {
		var v byte
		root := f.power(f.first + i)
		for _, w := range words {
			v = f.mul(v, root) ^ w
		}
		syndromes[i] = v
		wrong = wrong || v != 0
	}
	if !wrong {
		return true
	}
	locator, degree := f.locator(syndromes, lost, n)
	if errors := degree - len(lost); errors < 0 || 2*errors+len(lost) > check-spare {
		return false
	}
	return f.repair(words, syndromes, locator, degree)
}

// locator is the polynomial whose roots tell the places of the errors, those
// that are known among them, with its degree (Berlekamp and Massey).
func (f *field) locator(syndromes []byte, lost []int, n int) (locator []byte, degree int) {
	check := len(syndromes)
	locator, before := make([]byte, check+2), make([]byte, check+2)
	locator[0] = 1
	for i, place := range lost {
		x := f.power(n - 1 - place)
		for k := i + 1; k > 0; k-- {
			locator[k] ^= f.mul(locator[k-1], x)
		}
	}
	copy(before, locator)
	degree = len(lost)
	next := make([]byte, check+2)
	for r := len(lost); r < check; r++ {
		var off byte
		for k := 0; k <= degree && k <= r; k++ {
			off ^= f.mul(locator[k], syndromes[r-k])
		}
		copy(before[1:], before[:check+1])
		before[0] = 0
		if off == 0 {
			continue
		}
		for k := range next {
			next[k] = locator[k] ^ f.mul(off, before[k])
		}
		if 2*degree <= r+len(lost) {
			degree = r + 1 + len(lost) - degree
			for k := range before {
				before[k] = f.div(locator[k], off)
			}
		}
		copy(locator, next)
	}
	return locator, degree
}

// repair finds the places of the errors and their values (Chien, Forney), and
// reports whether the result is free of errors.
func (f *field) repair(words, syndromes, locator []byte, degree int) bool {
	n, check := len(words), len(syndromes)
	if degree > check {
		return false
	}
	locator = locator[:degree+1]
	evaluator := make([]byte, check)
	for i := range evaluator {
		for k := 0; k <= i && k <= degree; k++ {
			evaluator[i] ^= f.mul(locator[k], syndromes[i-k])
		}
	}
	derivative := make([]byte, degree)
	for k := 1; k <= degree; k += 2 {
		derivative[k-1] = locator[k]
	}
	found := 0
	for place := range n {
		inverse := f.power(-(n - 1 - place))
		if f.at(locator, inverse) != 0 {
			continue
		}
		found++
		slope := f.at(derivative, inverse)
		if slope == 0 {
			return false
		}
		value := f.div(f.at(evaluator, inverse), slope)
		words[place] ^= f.mul(value, f.power((n-1-place)*(1-f.first)))
	}
	return found == degree
}
