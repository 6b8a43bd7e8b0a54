package main

import (
	"image"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"pipstake/ids"
	"pipstake/ids/registry"
	"pipstake/label/symbol"
	"pipstake/layout"
	"pipstake/layout/proof"
)

// Every code of the card reads, rasterised by PDFium and decoded by gozxing, says
// what the session understands, and is never taken for an identifier.
func TestActionCard(t *testing.T) {
	t.Parallel()
	if testing.Short() {
		t.Skip("takes long")
	}
	dir := t.TempDir()
	demoIn(t, dir)
	orchard := filepath.Join(dir, "orchard")
	runs(t, orchard, "scan", "--card", "card.pdf")
	r, err := registry.Open(orchard)
	if err != nil {
		t.Fatal(err)
	}
	pdf, err := os.ReadFile(filepath.Join(orchard, "card.pdf"))
	if err != nil {
		t.Fatal(err)
	}
	doc, err := proof.Open(pdf)
	if err != nil {
		t.Fatal(err)
	}
	defer doc.Close()
	const dpi = 200
	page, err := doc.Render(1, dpi)
	if err != nil {
		t.Fatal(err)
	}
	dots := func(mm float64) int { return int(math.Round(mm * dpi / 25.4)) }
	stock := layout.CardStock()
	all := cardCodes(r, stock.PerSheet())
	if len(all) < 21 {
		t.Fatalf("the card has %d codes", len(all))
	}
	for i, code := range all {
		x, y := stock.Left+float64(i%stock.Columns)*stock.PitchX, stock.Top+float64(i/stock.Columns)*stock.PitchY
		cell := image.Rect(dots(x), dots(y), dots(x+stock.LabelH), dots(y+stock.LabelH))
		if got := proof.Decode(page, cell); len(got) != 1 || got[0] != code.code {
			t.Errorf("cell %d reads %q, want %q", i+1, got, code.code)
		}
		for _, layout := range []string{code.code, strings.ToLower(code.code)} {
			if _, ok := readAction(layout); !ok {
				t.Errorf("the session does not understand %q", layout)
			}
			_, _, err := symbol.ParseScan(layout)
			if _, short := ids.ParseShort(layout); err == nil || short {
				t.Errorf("%q is taken for an identifier", layout)
			}
		}
	}
}
