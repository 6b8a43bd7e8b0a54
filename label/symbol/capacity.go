package symbol

import (
	"strings"

	"pipstake/ids/words"
)

// alphabet is the set of characters that a QR code writes in its alphanumeric
// mode, 5½ bits each (ISO/IEC 18004). Payloads keep to it: text outside it
// would be written in bytes, whose meaning readers guess.
const alphabet = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ $%*+-./:"

// levels are the error correction levels of a QR code, the weakest first.
const levels = "LMQH"

// qrCapacity is the number of alphanumeric characters that versions 1 to 6 of
// a QR code hold at each of the levels (ISO/IEC 18004).
var qrCapacity = [...][len(levels)]int{
	{25, 20, 16, 10},
	{47, 38, 29, 20},
	{77, 61, 47, 35},
	{114, 90, 67, 50},
	{154, 122, 87, 64},
	{195, 154, 108, 84},
}

// dmCapacity is the number of data codewords that the square sizes of a Data
// Matrix hold (ISO/IEC 16022).
var dmCapacity = [...]struct{ size, codewords int }{
	{10, 3}, {12, 5}, {14, 8}, {16, 12}, {18, 18}, {20, 22}, {22, 30}, {24, 36}, {26, 44}, {32, 62}, {36, 86},
}

// maxPayload is the number of characters in the longest payload in use: what
// version 6 of a QR code holds at level L.
const maxPayload = 195

// Quiet zones on each side, in modules (ISO/IEC 18004 and 16022).
const (
	qrQuiet = 4
	dmQuiet = 1
)

// qrSize is the number of modules along a side of a version from 1.
func qrSize(version int) int { return 17 + 4*version }

// dmCodewords is the number of codewords that a Data Matrix needs for a
// payload in its ASCII encodation: one for each pair of digits, one for any
// other character.
func dmCodewords(payload string) int {
	n := 0
	for i := 0; i < len(payload); i++ {
		if isDigit(payload[i]) && i+1 < len(payload) && isDigit(payload[i+1]) {
			i++
		}
		n++
	}
	return n
}

func isDigit(c byte) bool { return '0' <= c && c <= '9' }

// checkAlphabet finds the first character of a payload that is not in the
// alphabet.
func checkAlphabet(payload string) error {
	if payload == "" {
		return &PayloadError{Reason: "there is nothing in it", Remedy: "give an identifier"}
	}
	pos := 0
	for _, r := range payload {
		pos++
		if r > 'Z' || strings.IndexByte(alphabet, byte(r)) < 0 {
			return &PayloadError{Text: payload, Pos: pos, Reason: words.Rune(r) + " is not a character of a label's code",
				Remedy: "keep to 0–9, A–Z, space and $%*+-./:"}
		}
	}
	return nil
}
