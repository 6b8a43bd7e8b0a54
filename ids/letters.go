package ids

// alphabet holds the letters that number seed lots and seedlings. I and O are
// left out, since they are read as 1 and 0.
const alphabet = "ABCDEFGHJKLMNPQRSTUVWXYZ"

// Letters writes a number from 1 in letters: A to Z without I and O, then AA,
// AB and so on. Numbers below 1 give "".
func Letters(n int) string { return string(appendLetters(nil, n)) }

func appendLetters(b []byte, n int) []byte {
	var last [16]byte
	i := len(last)
	for ; n > 0; n = (n - 1) / len(alphabet) {
		i--
		last[i] = alphabet[(n-1)%len(alphabet)]
	}
	return append(b, last[i:]...)
}

// letterValue is the place of a letter in the alphabet, from 1; 0 for a
// character that is none of its letters.
func letterValue(c byte) int {
	switch {
	case 'A' <= c && c < 'I':
		return int(c-'A') + 1
	case 'I' < c && c < 'O':
		return int(c - 'A')
	case 'O' < c && c <= 'Z':
		return int(c-'A') - 1
	}
	return 0
}
