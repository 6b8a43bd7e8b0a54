package label

import (
	"errors"
	"fmt"
	"math"
	"os"
	"strings"
	"testing"

	"pipstake/ids"
)

const looksFile = "testdata/looks.txt"

// Every face in many rooms looks as it is recorded: which code lies where, which
// words in which size. What is recorded proves nothing by itself; it was looked
// at, and shows what a change of the rules does. UPDATE_LOOKS=1 records anew.
func TestLooks(t *testing.T) {
	var got strings.Builder
	id := ids.ID{Year: 2026, Cross: 12, Lot: 2, Pot: 2}
	for i, names := range [][2]string{{"Larkfield Tessel", "Tarn Amber"}, {"Gwennol Goch of the Upper Orchard", "Härmä Punanen from behind the Mill"}} {
		for n, r := range rooms {
			if n%3 > 0 && i > 0 {
				continue
			}
			r.DPI, r.Cut = []int{300, 600}[i], n%2 == 0
			for _, f := range []struct {
				kind  string
				faces []Face
			}{
				{"stakes", []Face{Stake{ID: id, Copy: 1, Seeds: 7, Sown: "2027-01-14", SeedParent: names[0], PollenParent: names[1]},
					Stake{ID: longest, Copy: 2, Seeds: 1250, Sown: "2027-01-14", SeedParent: "Otterhay Lade", PollenParent: names[1]}}},
				{"back", []Face{StakeBack{Stake{ID: id, Copy: 2, SeedParent: names[0], PollenParent: names[1]}}}},
				{"bag", []Face{Bag{ID: id.At(ids.LotLevel), SeedParent: names[0], PollenParent: names[1], Treated: true}}},
				{"filled bag", []Face{Bag{ID: longest.At(ids.LotLevel), SeedParent: names[0], PollenParent: names[1],
					Fruit: "12", Seeds: "118", Undeveloped: "11", Chilled: "2026-11-20", Ready: "2027-01-14"}}},
				{"seedling", []Face{Seedling{ID: id.Child(3), SeedParent: names[0], PollenParent: names[1], Pricked: "2027-04-02"}}},
				{"graft", []Face{Seedling{ID: id.Child(3), SeedParent: names[0], PollenParent: names[1], Copy: 2}}},
				{"branch tag", []Face{BranchTag{ID: id.At(ids.CrossLevel), SeedParent: names[0], PollenParent: names[1], Pollinated: "2026-05-03", Note: "south side of the old tree, third limb from below"}}},
			} {
				drawn, err := Fit(f.faces, r)
				fmt.Fprintf(&got, "%s %g×%g at %d dpi, names %d\n", f.kind, r.W, r.H, r.DPI, i+1)
				if small := (*RoomError)(nil); errors.As(err, &small) {
					fmt.Fprintf(&got, "  too small, wants %s×%s\n", hundredths(small.NeedW), hundredths(small.NeedH))
					continue
				} else if err != nil {
					t.Fatal(err)
				}
				for _, d := range drawn {
					writeLook(&got, d)
				}
			}
		}
	}
	if os.Getenv("UPDATE_LOOKS") != "" {
		if err := os.WriteFile(looksFile, []byte(got.String()), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	recorded, err := os.ReadFile(looksFile)
	if err != nil {
		t.Fatal(err)
	}
	is, was := strings.Split(got.String(), "\n"), strings.Split(string(recorded), "\n")
	label, shown := "", 0
	for i, line := range is {
		if !strings.HasPrefix(line, " ") {
			label = line
		}
		if i >= len(was) || line != was[i] {
			t.Errorf("%s:\n%s\nis recorded as\n%s", label, line, was[min(i, len(was)-1)])
			if shown++; shown == 5 {
				break
			}
		}
	}
	if len(is) != len(was) {
		t.Errorf("%d lines, %d are recorded; where the change is meant, look at the labels and run UPDATE_LOOKS=1 go test -run Looks ./label", len(is), len(was))
	}
}

// hundredths is a length in hundredths of a millimetre, rounded the same way on
// every machine.
func hundredths(mm float64) string { return fmt.Sprint(int(math.Round(100*mm + 1e-6))) }

// writeLook writes a drawing in hundredths of a millimetre: codes, texts, lines
// and circles where they begin, each with its size.
func writeLook(w *strings.Builder, d *Drawing) {
	for _, c := range d.Codes {
		fmt.Fprintf(w, "  %s at %s,%s", c.Symbol, hundredths(c.X), hundredths(c.Y))
	}
	w.WriteString("\n ")
	for _, x := range d.Texts {
		fmt.Fprintf(w, " %s,%s", hundredths(x.X), hundredths(x.Baseline))
		if x.Turn != Upright {
			fmt.Fprintf(w, " turned %d", x.Turn)
		}
		weight := ""
		if x.Face == Bold {
			weight = " bold"
		}
		fmt.Fprintf(w, " %s%s %q", hundredths(x.Size), weight, x.String)
	}
	w.WriteString("\n ")
	for _, r := range d.Rules {
		fmt.Fprintf(w, " %s,%s–%s,%s", hundredths(r.X1), hundredths(r.Y1), hundredths(r.X2), hundredths(r.Y2))
	}
	for _, c := range d.Circles {
		fmt.Fprintf(w, " (%s,%s %s)", hundredths(c.X), hundredths(c.Y), hundredths(c.R))
	}
	fmt.Fprintf(w, " spare %s,%s; %d notices\n", hundredths(d.Spare.X), hundredths(d.Spare.Y), len(d.Notices))
}
