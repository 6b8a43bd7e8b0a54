package label

import "testing"

func BenchmarkStake(b *testing.B) {
	r := Room{W: 148, H: 20, Margin: Margin{4.2, 1.5, 4.2, 1.5}, DPI: 600}
	for b.Loop() {
		if _, err := (Stake{ID: longest, Copy: 1, Seeds: 7, Sown: "2027-01-14", SeedParent: "Larkfield Tessel", PollenParent: "Tarn Amber"}).Fit(r); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkBag(b *testing.B) {
	r := Room{W: 70, H: 37, Margin: Margin{4.2, 3.7, 4.2, 3.7}, DPI: 600}
	for b.Loop() {
		if _, err := (Bag{ID: longest, SeedParent: "Larkfield Tessel", PollenParent: "Tarn Amber"}).Fit(r); err != nil {
			b.Fatal(err)
		}
	}
}
