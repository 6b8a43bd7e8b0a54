package label

import (
	"fmt"
	"hash/crc32"
	"math/rand/v2"
	"os"
	"strings"
	"testing"

	"pipstake/ids"
)

const manyLooksFile = "testdata/manylooks.txt"

// TestManyLooks records how batches look in rooms of any size, by a sum for each
// kind of label: a line that differs names the room to look at. It shows what a
// change of the rules does beyond the rooms of TestLooks, as that test does.
// UPDATE_LOOKS=1 records anew.
func TestManyLooks(t *testing.T) {
	var got strings.Builder
	rnd := rand.New(rand.NewPCG(1, 2))
	names := awkwardNames(t, 60)
	other := liberation(t)
	const most, few = 300, 100
	rooms := most
	if testing.Short() && os.Getenv("UPDATE_LOOKS") == "" {
		rooms = few
	}
	for n := range rooms {
		r := Room{W: float64(100+rnd.IntN(2000)) / 10, H: float64(80+rnd.IntN(600)) / 10, DPI: []int{203, 300, 600}[n%3], Cut: n%2 == 0}
		m := float64(rnd.IntN(50)) / 10
		r.Margin = Margin{m, 1.5, m, 1.5}
		if n%4 == 3 {
			r.Names = other
		}
		id := ids.ID{Year: 2026, Cross: 1 + rnd.IntN(1200), Lot: 1 + rnd.IntN(30), Pot: 1 + rnd.IntN(30)}
		seed, pollen := names[rnd.IntN(len(names))], names[rnd.IntN(len(names))]
		if n%2 == 0 { // names as most are
			seed, pollen = "Larkfield Tessel", "Otterhay Lade"
		}
		fmt.Fprintf(&got, "%g×%g, margin %g, %d dpi, %s:", r.W, r.H, m, r.DPI, id)
		for _, faces := range [][]Face{
			{Stake{ID: id, Copy: 1, Seeds: 7, Sown: "2027-01-14", SeedParent: seed, PollenParent: pollen}, Stake{ID: id, Copy: 2, Seeds: 7, Sown: "2027-01-14", SeedParent: seed, PollenParent: pollen},
				Stake{ID: longest, Copy: 2, Seeds: 1250, Sown: "2027-01-14", SeedParent: pollen, PollenParent: seed}},
			{StakeBack{Stake{ID: id, Copy: 2, SeedParent: seed, PollenParent: pollen}}},
			{Bag{ID: id.At(ids.LotLevel), SeedParent: seed, PollenParent: pollen, Treated: n%3 > 0},
				Bag{ID: id.At(ids.LotLevel), SeedParent: pollen, PollenParent: seed, Treated: n%3 > 0, Fruit: "12", Seeds: "118", Undeveloped: "11", Opened: "2026-11-14", Chilled: "2026-11-20", Ready: "2027-01-14"}},
			{Seedling{ID: id.Child(3), SeedParent: seed, PollenParent: pollen, Pricked: "2027-04-02"}, Seedling{ID: longest.Child(30), SeedParent: pollen, PollenParent: seed}},
			{Seedling{ID: id.Child(3), SeedParent: seed, PollenParent: pollen, Copy: 2}},
			{BranchTag{ID: id.At(ids.CrossLevel), SeedParent: seed, PollenParent: pollen, Pollinated: "2026-05-03", Note: "south side of the old tree"}, BranchTag{ID: id.At(ids.CrossLevel), SeedParent: pollen, PollenParent: seed}},
		} {
			var look strings.Builder
			drawn, err := Fit(faces, r)
			if err != nil {
				look.WriteString(err.Error())
			}
			for _, d := range drawn {
				writeWhole(&look, d)
			}
			fmt.Fprintf(&got, " %08x", crc32.ChecksumIEEE([]byte(look.String())))
		}
		got.WriteString("\n")
	}
	if os.Getenv("UPDATE_LOOKS") != "" {
		if err := os.WriteFile(manyLooksFile, []byte(got.String()), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	recorded, err := os.ReadFile(manyLooksFile)
	if err != nil {
		t.Fatal(err)
	}
	was, differ := strings.Split(string(recorded), "\n"), 0
	for i, line := range strings.Split(strings.TrimSuffix(got.String(), "\n"), "\n") {
		if line != was[min(i, len(was)-1)] {
			if differ++; differ <= 5 {
				t.Errorf("%s\nis recorded as\n%s", line, was[min(i, len(was)-1)])
			}
		}
	}
	if len(was) != most+1 {
		t.Errorf("%d rooms are recorded, not %d", len(was)-1, most)
	}
	if differ > 0 {
		t.Errorf("%d rooms differ; where the change is meant, look at some labels and run UPDATE_LOOKS=1 go test -run Looks ./label", differ)
	}
}

// writeWhole writes a drawing as writeLook does, and all else that it holds.
func writeWhole(w *strings.Builder, d *Drawing) {
	writeLook(w, d)
	rect := func(r Rect) {
		fmt.Fprintf(w, " %s,%s %s×%s", hundredths(r.X), hundredths(r.Y), hundredths(r.W), hundredths(r.H))
	}
	for _, x := range d.Texts {
		rect(x.Box)
		w.WriteString(x.Face.Name)
	}
	for _, r := range d.Rules {
		fmt.Fprintf(w, " %s/%s/%s", hundredths(r.Width), hundredths(r.Dash), hundredths(r.Gap))
	}
	rect(d.Safe)
	rect(d.Spare)
	rect(d.Strip)
	for _, c := range d.Codes {
		rect(c.Ink())
		rect(c.Outer())
	}
	fmt.Fprintf(w, " %q\n", d.Notices)
}
