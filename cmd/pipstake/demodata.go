package main

// The made-up season of the demo. Orchard, varieties and numbers are invented.

// demoOrchard is the name of the invented orchard.
const demoOrchard = "Sallowmere Orchard"

// demoCross is one cross of the made-up season with the seed lots taken from
// it.
type demoCross struct {
	seed, pollen string
	pollinated   string // ISO 8601
	flowers      int
	lots         []demoLot
}

// demoLot is what was found in the fruit of one bag, and the pots that it was
// sown into. Up holds the seedlings counted in each pot at each of the
// demoCounts.
type demoLot struct {
	fruit, seeds, undeveloped int
	pots                      []int // seeds in each pot
	up                        [][]int
}

// The days of the made-up season.
const (
	demoExtracted = "2025-11-15"
	demoChilled   = "2025-11-19"
	demoSown      = "2026-01-17"
	demoToday     = "2026-03-14"
)

// demoCounts are the days on which seedlings were counted.
var demoCounts = []string{"2026-02-21", "2026-03-01", "2026-03-10"}

var demoSeason = []demoCross{
	{"Larkfield Tessel", "Tarn Amber", "2025-05-02", 14, []demoLot{
		{4, 31, 3, []int{14, 14}, [][]int{{2, 9, 13}, {1, 8, 12}}},
		{3, 22, 1, []int{11, 10}, [][]int{{0, 7, 10}, {1, 6, 9}}},
		{2, 13, 2, []int{11}, [][]int{{0, 5, 9}}},
	}},
	{"Tarn Amber", "Larkfield Tessel", "2025-05-02", 10, []demoLot{
		{3, 21, 0, []int{11, 10}, [][]int{{1, 8, 11}, {0, 7, 9}}},
		{3, 19, 4, []int{8, 7}, [][]int{{0, 4, 7}, {0, 5, 6}}},
		{2, 15, 1, []int{14}, [][]int{{1, 9, 13}}},
	}},
	{"Orlie d'Ancelle", "Quillan Overmoor", "2025-05-04", 12, []demoLot{
		{4, 33, 5, []int{14, 14}, [][]int{{0, 3, 6}, {0, 2, 5}}},
		{3, 24, 6, []int{9, 9}, [][]int{{0, 2, 4}, {0, 1, 3}}},
		{3, 20, 3, []int{9, 8}, [][]int{{0, 2, 4}, {0, 2, 3}}},
	}},
	{"Mørkeby Vindal", "Tarn Amber", "2025-05-05", 9, []demoLot{
		{3, 25, 1, []int{12, 12}, [][]int{{2, 9, 11}, {3, 10, 12}}},
		{2, 16, 0, []int{8, 8}, [][]int{{1, 6, 8}, {2, 6, 7}}},
		{2, 14, 2, []int{12}, [][]int{{1, 8, 11}}},
	}},
	{"Błota Struga", "Mørkeby Vindal", "2025-05-06", 11, []demoLot{
		{4, 29, 2, []int{14, 13}, [][]int{{1, 9, 12}, {1, 8, 12}}},
		{3, 21, 3, []int{9, 9}, [][]int{{0, 6, 8}, {1, 5, 8}}},
		{3, 23, 1, []int{11, 11}, [][]int{{1, 7, 10}, {0, 8, 9}}},
	}},
	{"Otterhay Lade", "Orlie d'Ancelle", "2025-05-08", 8, []demoLot{
		{3, 18, 2, []int{8, 8}, [][]int{{0, 4, 6}, {0, 3, 6}}},
		{2, 12, 1, []int{11}, [][]int{{0, 5, 8}}},
		{2, 11, 0, []int{11}, [][]int{{0, 6, 9}}},
	}},
	{"Quillan Overmoor", "Härmä Punanen", "2025-05-09", 13, []demoLot{
		{5, 38, 4, []int{17, 17}, [][]int{{2, 12, 15}, {3, 11, 16}}},
		{3, 26, 2, []int{12, 12}, [][]int{{1, 8, 11}, {1, 9, 11}}},
		{3, 19, 1, []int{9, 9}, [][]int{{0, 6, 8}, {1, 7, 9}}},
	}},
	{"Härmä Punanen", "Otterhay Lade", "2025-05-09", 7, []demoLot{
		{2, 17, 3, []int{14}, [][]int{{1, 8, 12}}},
		{2, 15, 2, []int{13}, [][]int{{0, 7, 11}}},
		{1, 8, 0, []int{8}, [][]int{{1, 5, 7}}},
	}},
	{"Gwennol Goch", "Larkfield Tessel", "2025-05-11", 10, []demoLot{
		{3, 24, 2, []int{11, 11}, [][]int{{1, 8, 10}, {0, 7, 10}}},
		{3, 20, 1, []int{10, 9}, [][]int{{1, 7, 9}, {0, 6, 8}}},
		{2, 16, 3, []int{13}, [][]int{{0, 8, 11}}},
		{2, 14, 1, []int{13}, [][]int{{1, 9, 12}}},
	}},
	{"Tarn Amber", "Gwennol Goch", "2025-05-11", 12, []demoLot{
		{4, 30, 2, []int{14, 14}, [][]int{{2, 10, 13}, {1, 9, 12}}},
		{3, 23, 2, []int{11, 10}, [][]int{{1, 7, 10}, {1, 7, 9}}},
		{3, 21, 0, []int{11, 10}, [][]int{{0, 8, 10}, {1, 7, 10}}},
		{2, 12, 1, nil, nil},
	}},
	{"Fennimore Clasp", "Błota Struga", "2025-05-13", 14, []demoLot{
		{3, 22, 1, []int{11, 10}, [][]int{{1, 8, 10}, {0, 7, 9}}},
		{3, 24, 3, []int{11, 10}, [][]int{{0, 6, 9}, {1, 7, 9}}},
		{2, 15, 0, []int{8, 7}, [][]int{{1, 5, 7}, {0, 5, 6}}},
		{2, 13, 2, nil, nil},
	}},
	{"Orlie d'Ancelle", "Orlie d'Ancelle", "2025-05-14", 15, []demoLot{
		{3, 14, 6, []int{8}, [][]int{{0, 1, 2}}},
		{3, 12, 5, []int{7}, [][]int{{0, 0, 1}}},
		{2, 9, 4, nil, nil},
		{2, 10, 5, nil, nil},
	}},
}
