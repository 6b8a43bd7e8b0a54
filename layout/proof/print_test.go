package proof_test

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"github.com/makiuchi-d/gozxing/qrcode/decoder"

	"pipstake/ids"
	"pipstake/label"
	"pipstake/label/symbol"
)

func seedlingOf(rnd *rand.Rand, room label.Room) (*label.Drawing, error) {
	return label.Seedling{ID: ids.ID{Year: 2026, Cross: 1 + rnd.IntN(120), Lot: 2, Pot: 1 + rnd.IntN(30), Seedling: 1 + rnd.IntN(9)},
		SeedParent: parents[0], PollenParent: parents[1], Pricked: "2027-04-02"}.Fit(room)
}

func branchTagOf(rnd *rand.Rand, room label.Room) (*label.Drawing, error) {
	return label.BranchTag{ID: ids.ID{Year: 2026, Cross: 1 + rnd.IntN(120)},
		SeedParent: parents[0], PollenParent: parents[1], Pollinated: "2026-05-02"}.Fit(room)
}

// Simulated print grade of every face on its default stock, on sheets at 300
// and 600 dpi and on rolls at 203 and 300.
func TestSimulatedPrintGrade(t *testing.T) {
	if testing.Short() {
		t.Skip("takes long")
	}
	seedlings := face{"seedling", "a4-5x13-38.1x21.2", seedlingOf}
	tags := face{"branch tag", "a4-cut-100x25", branchTagOf}
	onRoll := func(f face, stock string) face { return face{f.name, stock, f.draw} }
	for _, c := range []struct {
		face  face
		dpi   int
		least int
	}{
		{stakes, 300, 3}, {bags, 300, 3}, {seedlings, 300, 3}, {tags, 300, 3},
		{stakes, 600, 4}, {bags, 600, 4}, {seedlings, 600, 4}, {tags, 600, 4},
		{onRoll(stakes, "roll-148x20"), 203, 3}, {onRoll(bags, "roll-62x38"), 203, 3},
		{onRoll(seedlings, "roll-38x21"), 203, 3}, {onRoll(tags, "roll-100x25"), 203, 3},
		{onRoll(stakes, "roll-148x20"), 300, 3}, {onRoll(bags, "roll-62x38"), 300, 3},
	} {
		t.Run(fmt.Sprintf("%s/%s/%d", c.face.name, c.face.stock, c.dpi), func(t *testing.T) {
			for n := range 2 {
				p := printLabel(t, c.face, n, c.dpi)
				for _, code := range p.codes {
					d, reserved := correction(t, code.symbol)
					g := p.print.Grade(code.modules, d, reserved)
					t.Logf("%v: %+v", code.symbol, g)
					if g.Overall() < c.least {
						t.Errorf("%v: simulated grade %d, want %d: %+v", code.symbol, g.Overall(), c.least, g)
					}
				}
			}
		})
	}
}

// correction is how many codewords of a block correct errors, and how many of
// those only notice them (ISO/IEC 18004; the latter from memory).
func correction(t *testing.T, s *symbol.Symbol) (d, reserved int) {
	t.Helper()
	if s.Kind == symbol.DataMatrix {
		// ISO/IEC 16022, the sizes of one block; from memory
		d, ok := map[int]int{10: 5, 12: 7, 14: 10, 16: 12, 18: 14, 20: 18, 22: 20, 24: 24, 26: 28}[s.Size]
		if !ok {
			t.Fatalf("%v: more than one block", s)
		}
		return d, 0
	}
	number := (s.Size - 17) / 4
	version, err := decoder.Version_GetVersionForNumber(number)
	if err != nil {
		t.Fatal(err)
	}
	level, err := decoder.ErrorCorrectionLevel_ValueOf(string(s.Level))
	if err != nil {
		t.Fatal(err)
	}
	reserved = map[string]int{"1L": 3, "1M": 2, "1Q": 1, "1H": 1, "2L": 2, "3L": 1}[fmt.Sprintf("%d%c", number, s.Level)]
	return version.GetECBlocksForLevel(level).GetECCodewordsPerBlock(), reserved
}
