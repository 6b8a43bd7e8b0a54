package reading_test

import (
	"fmt"

	"pipstake/label/reading"
	"pipstake/label/symbol"
)

// What labels tell of a registry that is lost.
func Example() {
	stake, _, err := symbol.ParsePayload("2026X012-B2.3/1 7 SOWN 2027-01-14 LARKFIELD TESSEL X TARN AMBER")
	if err != nil {
		fmt.Println(err)
		return
	}
	rows := reading.Recover([]symbol.Payload{stake}).Rows
	fmt.Println(rows.Crosses[0].ID, rows.Crosses[0].SeedParent, "×", rows.Crosses[0].PollenParent)
	fmt.Println(rows.Pots[0].ID, rows.Pots[0].Seeds, "seeds, sown", rows.Pots[0].Sown)
	// Output:
	// 2026X012 LARKFIELD TESSEL × TARN AMBER
	// 2026X012-B2 7 seeds, sown 2027-01-14
}
