package main

import (
	"fmt"
	"regexp"
	"strings"
	"testing"

	"pipstake/ids"
	"pipstake/ids/problem"
	"pipstake/label"
	"pipstake/layout"
)

// manyStocks are forty-one stocks of many shapes: the built-in ones, stakes to cut, and
// rolls from too small for anything to large.
var manyStocks = []string{
	"a4-3x7-63.5x38.1", "a4-3x8-63.5x33.9", "a4-3x8-70x37", "a4-2x7-99.1x38.1", "a4-5x13-38.1x21.2",
	"letter-3x10-66.7x25.4", "letter-4x20-44.5x12.7", "letter-2x5-101.6x50.8", "a4-cut-148x20", "letter-cut-139x20",
	"letter-cut-148x20", "a4-cut-100x25", "a4-cut-100x16", "a4-cut-102x13", "a4-cut-127x16", "a4-cut-150x20", "a4-cut-178x16", "a4-cut-200x12",
	"a4-cut-60x10", "letter-cut-100x16", "roll-10x10", "roll-12x40", "roll-15x100", "roll-19x60", "roll-20x20", "roll-25x15",
	"roll-25x54", "roll-25x150", "roll-29x90", "roll-32x57", "roll-38x25", "roll-50x25", "roll-51x19", "roll-57x32",
	"roll-62x12", "roll-62x29", "roll-70x20", "roll-89x36", "roll-100x10", "roll-102x152", "roll-14x14",
}

// named finds the stocks that a hint names.
var named = regexp.MustCompile(`\b(?:a4|letter|roll)-[0-9x.a-z-]*[0-9]`)

// Where a label does not go on a stock, the refusal names others, and on each of
// them it does, also by the size alone.
func TestRefusalsNameWhatWorks(t *testing.T) {
	t.Parallel()
	refused := 0
	for i, name := range manyStocks {
		if testing.Short() && i%13 != 6 {
			continue
		}
		s, err := layout.FindStock(name)
		if err != nil {
			t.Fatal(err)
		}
		for kind, f := range refusable() {
			for _, dpi := range []int{203, 300, 600} {
				p := &printRun{dpi: dpi}
				b := fitted{stock: s}
				faces := []label.Face{f}
				_, err := b.fitFaces(p, faces)
				if err == nil {
					continue
				}
				refused++
				if fault := followed(p, faces, b.tooSmall(p, faces, err)); fault != "" {
					t.Errorf("%s on %s at %d dpi: %s", kind, name, dpi, fault)
				}
			}
		}
	}
	if least := 200; refused < least && !testing.Short() || refused == 0 {
		t.Errorf("only %d of the labels were refused, which proves little", refused)
	}
	t.Logf("%d refusals followed", refused)
}

// followed prints on all that a refusal names; "" where each of them does.
func followed(p *printRun, faces []label.Face, err error) string {
	stocks := named.FindAllString(problem.First(err).Remedy, -1)
	if len(stocks) == 0 {
		return fmt.Sprintf("no stock is named: %v", err)
	}
	size := regexp.MustCompile(`at least (\d+)×(\d+) mm`).FindStringSubmatch(err.Error())
	if size == nil {
		return fmt.Sprintf("no size is named: %v", err)
	}
	for _, name := range append(stocks, "roll-"+size[1]+"x"+size[2]) {
		s, err := layout.FindStock(name)
		if err != nil || !fits(p, s, faces) {
			return fmt.Sprintf("it names %s, where it does not fit either", name)
		}
	}
	return ""
}

// refusable are labels of each face, of which one name has sixty letters.
func refusable() map[string]label.Face {
	long := strings.Repeat("Overmoor Vindal", 4)
	faces := map[string]label.Face{}
	for _, s := range sampleFaces() {
		faces[s.name] = s.face
	}
	pot := ids.ID{Year: 2026, Cross: 12345, Lot: 25, Pot: 128}
	faces["long stake"] = label.Stake{ID: pot, Copy: 2, Seeds: 1250, Sown: "2027-01-14", SeedParent: long, PollenParent: long}
	faces["long bag"] = label.Bag{ID: pot.At(ids.LotLevel), SeedParent: long, PollenParent: long, Treated: true}
	return faces
}
