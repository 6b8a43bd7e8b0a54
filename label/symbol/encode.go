package symbol

import (
	"fmt"
	"image/color"
	"strings"

	"github.com/boombuler/barcode"
	"github.com/boombuler/barcode/datamatrix"
	"github.com/boombuler/barcode/qr"
)

// Encode makes the smallest symbol of the kind that holds the payload. The
// level is one of 'L', 'M', 'Q' and 'H' for a QR code and 0 for a Data Matrix;
// dots is the side of a module in printer dots, dpi the printer's dots in an
// inch. A QR code is written in alphanumeric mode, a Data Matrix in ASCII.
//
// Errors: *PayloadError for a payload that is empty, too long for the level or
// outside the QR alphanumeric set; others for a kind, level or size that does
// not exist.
func Encode(kind Kind, level byte, payload string, dots, dpi int) (*Symbol, error) {
	if err := checkAlphabet(payload); err != nil {
		return nil, err
	}
	if dots < 1 || dpi < 1 {
		return nil, fmt.Errorf("a module of %d dots at %d dpi cannot be printed: both must be at least 1", dots, dpi)
	}
	var code barcode.Barcode
	var err error
	switch kind {
	case QR:
		code, err = encodeQR(level, payload)
	case DataMatrix:
		code, err = encodeDataMatrix(level, payload)
	default:
		err = fmt.Errorf("there is no kind of code with number %d", int(kind))
	}
	if err != nil {
		return nil, err
	}
	return &Symbol{Choice: Choice{kind, level, code.Bounds().Dx(), payload, dots, dpi}, dark: modules(code)}, nil
}

func encodeQR(level byte, payload string) (barcode.Barcode, error) {
	l := strings.IndexByte(levels, level)
	if l < 0 {
		return nil, fmt.Errorf("a QR code has no error correction level %q: it has L, M, Q and H", level)
	}
	if most := qrCapacity[len(qrCapacity)-1][l]; len(payload) > most {
		return nil, tooLong(payload, len(payload), "characters", most)
	}
	return qr.Encode(payload, qr.ErrorCorrectionLevel(l), qr.AlphaNumeric)
}

func encodeDataMatrix(level byte, payload string) (barcode.Barcode, error) {
	if level != 0 {
		return nil, fmt.Errorf("a Data Matrix has no error correction level %q: its size sets it", level)
	}
	if n, most := dmCodewords(payload), dmCapacity[len(dmCapacity)-1].codewords; n > most {
		return nil, tooLong(payload, n, "codewords", most)
	}
	return datamatrix.Encode(payload)
}

// modules copies a code's modules row by row from the top, true for dark.
func modules(code barcode.Barcode) []bool {
	size := code.Bounds().Dx()
	dark := make([]bool, size*size)
	for i := range dark {
		dark[i] = code.At(i%size, i/size) == color.Black
	}
	return dark
}
