package layout_test

import (
	"bytes"
	"fmt"
	"time"

	"pipstake/ids"
	"pipstake/label"
	"pipstake/layout"
)

// A pair of stakes on a sheet that the grower cuts.
func ExampleWritePDF() {
	stock, err := layout.FindStock("a4-cut-148x20")
	if err != nil {
		fmt.Println(err)
		return
	}
	job := layout.Job{Stock: stock, Title: "batch 7", Created: time.Date(2027, 1, 14, 9, 30, 0, 0, time.UTC)}
	for n := range 2 {
		stake := label.Stake{ID: ids.ID{Year: 2026, Cross: 12, Lot: 2, Pot: 2}, Copy: n + 1, Seeds: 7, Sown: "2027-01-14",
			SeedParent: "Larkfield Tessel", PollenParent: "Tarn Amber"}
		drawing, err := stake.Fit(stock.Room(600))
		if err != nil {
			fmt.Println(err)
			return
		}
		job.Places = append(job.Places, layout.Place{Page: 1, Cell: n + 1, Drawing: drawing})
	}
	var pdf bytes.Buffer
	if err := layout.WritePDF(&pdf, job); err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.8s\n", pdf.Bytes())
	// Output:
	// %PDF-1.7
}
