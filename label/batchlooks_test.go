package label

import (
	"errors"
	"fmt"
	"hash/crc32"
	"math/rand/v2"
	"os"
	"strings"
	"testing"

	"pipstake/ids"
)

const batchLooksFile = "testdata/batchlooks.txt"

// TestBatchLooks records how batches of a dozen labels look, with names from one
// letter to sixty, and with rows that some of the labels lack: a line for each
// room, a sum for each kind of label and how many of them tell something. It shows
// what a change of the rules does to batches, as TestLooks does to single labels.
// UPDATE_LOOKS=1 records anew.
func TestBatchLooks(t *testing.T) {
	var got strings.Builder
	random := rand.New(rand.NewPCG(7, 8))
	awkward := awkwardNames(t, 200)
	for n, r := range rooms {
		r.DPI, r.Cut = []int{300, 203, 600}[n%3], n%2 == 0
		fmt.Fprintf(&got, "%g×%g at %d dpi:", r.W, r.H, r.DPI)
		var batches [4][]Face
		few := n % 4 // of awkward names, in four
		for i := range 12 {
			seed, pollen := "Larkfield Tessel", []string{"Tarn Amber", "Otterhay Lade", "Gwennol Goch"}[i%3]
			if random.IntN(4) < few {
				seed = awkward[random.IntN(len(awkward))]
			}
			if random.IntN(4) < few {
				pollen = awkward[random.IntN(len(awkward))]
			}
			id := ids.ID{Year: 2026, Cross: 1 + random.IntN(400), Lot: 1 + random.IntN(27), Pot: 1 + random.IntN(12)}
			dated := func(day string) string { return []string{"", day}[random.IntN(2)] }
			batches[0] = append(batches[0], Stake{ID: id, Copy: 1 + i%2, Seeds: 1 + random.IntN(120), Sown: "2027-01-14", SeedParent: seed, PollenParent: pollen})
			batches[1] = append(batches[1], Bag{ID: id.At(ids.LotLevel), SeedParent: seed, PollenParent: pollen, Treated: i%5 == few, Fruit: dated("12"), Chilled: dated("2026-11-20")})
			batches[2] = append(batches[2], Seedling{ID: id.Child(1 + random.IntN(30)), SeedParent: seed, PollenParent: pollen, Pricked: dated("2027-04-02"), Copy: max(0, i-9)})
			batches[3] = append(batches[3], BranchTag{ID: id.At(ids.CrossLevel), SeedParent: seed, PollenParent: pollen, Pollinated: dated("2026-05-03"), Note: dated("third limb of the old tree")})
		}
		for _, faces := range batches {
			var look strings.Builder
			told := 0
			drawn, err := Fit(faces, r)
			if small := (*RoomError)(nil); errors.As(err, &small) {
				fmt.Fprintf(&got, " wants %.0f×%.0f", small.NeedW, small.NeedH)
				continue
			} else if err != nil {
				t.Fatal(err)
			}
			for i, d := range drawn {
				if fault := faultOf(d); fault != "" {
					t.Errorf("%g×%g mm, label %d of %T: %s", r.W, r.H, i, faces[0], fault)
				}
				if len(d.Notices) > 0 {
					told++
				}
				writeWhole(&look, d)
			}
			fmt.Fprintf(&got, " %08x/%d", crc32.ChecksumIEEE([]byte(look.String())), told)
		}
		got.WriteString("\n")
	}
	if os.Getenv("UPDATE_LOOKS") != "" {
		if err := os.WriteFile(batchLooksFile, []byte(got.String()), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	recorded, err := os.ReadFile(batchLooksFile)
	if err != nil {
		t.Fatal(err)
	}
	is, was := strings.Split(got.String(), "\n"), strings.Split(string(recorded), "\n")
	for i, line := range is {
		if line != was[min(i, len(was)-1)] {
			t.Errorf("%s\nis recorded as\n%s\nwhere the change is meant, look at some labels and run UPDATE_LOOKS=1 go test -run Looks ./label", line, was[min(i, len(was)-1)])
		}
	}
	if len(is) != len(was) {
		t.Errorf("%d rooms, %d are recorded", len(is)-1, len(was)-1)
	}
}
