package label_test

import (
	"fmt"

	"pipstake/ids"
	"pipstake/label"
)

// A face is fitted to a room: here a stake of 148×20 mm for a printer of 600 dots
// in an inch.
func ExampleStake_Fit() {
	stake := label.Stake{ID: ids.ID{Year: 2026, Cross: 12, Lot: 2, Pot: 2}, Copy: 1, Seeds: 7, Sown: "2027-01-14",
		SeedParent: "Larkfield Tessel", PollenParent: "Tarn Amber"}
	drawing, err := stake.Fit(label.Room{W: 148, H: 20, Margin: label.Margin{Left: 2, Top: 2, Right: 2, Bottom: 2}, DPI: 600})
	if err != nil {
		fmt.Println(err)
		return
	}
	largest := 0.0 // the em of the largest letters
	for _, text := range drawing.Texts {
		largest = max(largest, text.Size)
	}
	fmt.Println(largest > 5, drawing.Safe.W, drawing.Safe.H)
	for _, code := range drawing.Codes {
		fmt.Println(code.Symbol.Payload)
	}
	// Output:
	// true 144 16
	// 2026X012-B2.3/1 7 SOWN 2027-01-14 LARKFIELD TESSEL X TARN AMBER
	// 2026X012-B2.3/1
}
