package symbol_test

import (
	"fmt"

	"pipstake/ids"
	"pipstake/label/symbol"
)

// The code for a place of 18×18 mm: the full text where it can be read, else the
// identifier alone.
func Example() {
	text, err := symbol.Facts{Seeds: 7, Sown: "2027-01-14", SeedParent: "Larkfield Tessel", PollenParent: "Tarn Amber"}.Text()
	if err != nil {
		fmt.Println(err)
		return
	}
	p := symbol.Payload{ID: ids.ID{Year: 2026, Cross: 12, Lot: 2, Pot: 2}, Copy: 1, Text: text}
	choice, err := symbol.Choose(symbol.Room{W: 18, H: 18, DPI: 600}, p.String(), p.Compact())
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(choice)
	fmt.Println(choice.Payload)
	// Output:
	// QR 33×33, level Q, module 0.42 mm
	// 2026X012-B2.3/1 7 SOWN 2027-01-14 LARKFIELD TESSEL X TARN AMBER
}
