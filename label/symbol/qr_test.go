package symbol

import (
	"testing"

	"github.com/boombuler/barcode/qr"
)

// Module for module, mask included, the code is the one that another encoder
// with the standard's masking rule makes.
func TestQRIsThatOfAnotherEncoder(t *testing.T) {
	for n := 1; n <= maxPayload; n++ {
		for l := range levels {
			if n > qrCapacity[len(qrCapacity)-1][l] {
				continue
			}
			payload := payloadOf(n)
			ours, err := Encode(QR, levels[l], payload, 4, 300)
			if err != nil {
				t.Fatal(err)
			}
			code, err := qr.Encode(payload, qr.ErrorCorrectionLevel(l), qr.AlphaNumeric)
			if err != nil {
				t.Fatal(err)
			}
			theirs := &Symbol{Choice: ours.Choice, modules: rowsOfBarcode(code)}
			if picture(ours) != picture(theirs) {
				t.Errorf("%d characters, level %c: got\n%s\nthe other encoder has\n%s", n, levels[l], picture(ours), picture(theirs))
			}
		}
	}
}
