package symbol

import (
	"fmt"
	"image/color"

	"github.com/boombuler/barcode"
	"github.com/boombuler/barcode/datamatrix"
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
	return encode(Choice{Kind: kind, Level: level, Payload: payload, Dots: dots, DPI: dpi})
}

// encode makes the symbol of a choice, the smallest one where its size is 0.
func encode(c Choice) (*Symbol, error) {
	kind, level, payload, dots, dpi := c.Kind, c.Level, c.Payload, c.Dots, c.DPI
	if err := checkAlphabet(payload); err != nil {
		return nil, err
	}
	if dots < 1 || dpi < 1 {
		return nil, fmt.Errorf("a module of %d dots at %d dpi cannot be printed: both must be at least 1", dots, dpi)
	}
	var modules rows
	var err error
	switch kind {
	case QR:
		modules, err = encodeQR(level, payload, max(0, (c.Size-qrSize(0))/4))
	case DataMatrix:
		modules, err = encodeDataMatrix(level, payload)
	default:
		err = fmt.Errorf("there is no kind of code with number %d", int(kind))
	}
	if err != nil {
		return nil, err
	}
	return &Symbol{Choice: Choice{kind, level, len(modules), payload, dots, dpi}, modules: modules}, nil
}

func encodeDataMatrix(level byte, payload string) (rows, error) {
	if level != 0 {
		return nil, fmt.Errorf("a Data Matrix has no error correction level %q: its size sets it", level)
	}
	if n, most := dmCodewords(payload), dmCapacity[len(dmCapacity)-1].codewords; n > most {
		return nil, tooLong(payload, n, "codewords", most)
	}
	code, err := datamatrix.Encode(payload)
	if err != nil {
		return nil, err
	}
	return rowsOfBarcode(code), nil
}

// rowsOfBarcode copies the modules of a code that barcode made.
func rowsOfBarcode(code barcode.Barcode) rows {
	r := make(rows, code.Bounds().Dy())
	for y := range r {
		for x := range r {
			if code.At(x, y) == color.Black {
				r[y] |= 1 << (63 - x)
			}
		}
	}
	return r
}
