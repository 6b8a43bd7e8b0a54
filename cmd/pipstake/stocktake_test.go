package main

import (
	"bytes"
	"encoding/json"
	"image"
	"image/png"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"pipstake/ids/registry"
	"pipstake/label/reading"
	"pipstake/label/symbol"
	"pipstake/label/symbol/photo"
)

// blotted is a picture on which codes that match are destroyed but for their
// corner patterns.
func blotted(t *testing.T, img *image.Gray, match func(symbol.Payload) bool) (spoilt *image.Gray, n int) {
	t.Helper()
	rnd := rand.New(rand.NewPCG(7, 7))
	spoilt = &image.Gray{Pix: bytes.Clone(img.Pix), Stride: img.Stride, Rect: img.Rect}
	read, _ := photo.Read(img)
	for _, c := range read {
		p, _, err := symbol.ParseScan(c.Text)
		if err != nil {
			t.Fatal(err)
		}
		if !match(p) {
			continue
		}
		n++
		at := func(u, v float64) (x, y int) { // places along the code's sides, from 0 to 1
			o, right, down := c.Corners[0], c.Corners[1], c.Corners[3]
			return int(o.X + u*(right.X-o.X) + v*(down.X-o.X)), int(o.Y + u*(right.Y-o.Y) + v*(down.Y-o.Y))
		}
		for range 400 {
			u, v := 0.36+0.62*rnd.Float64(), 0.36+0.62*rnd.Float64()
			level := byte(255 * rnd.IntN(2))
			x0, y0 := at(u, v)
			for dy := range 5 {
				for dx := range 5 {
					spoilt.Pix[(y0+dy-2)*spoilt.Stride+x0+dx-2] = level
				}
			}
		}
	}
	return spoilt, n
}

// A code that was seen and could not be read is no lost stake and no missing
// pot, and nothing is printed for it.
func TestStocktakeCountsNoUnreadCodeAsLost(t *testing.T) {
	t.Parallel()
	if testing.Short() {
		t.Skip("takes long")
	}
	dir := t.TempDir()
	if err := registry.Init(dir); err != nil {
		t.Fatal(err)
	}
	_, pots := stocked(t, dir)
	for _, args := range [][]string{
		{"labels", "--missing", "--face", "stake", "--out", "stakes.pdf"},
		{"labels", "--batch", "1", "--preview", "sheet.png"},
	} {
		if status, out := inFolder(t, dir, args...); status != fine {
			t.Fatal(out)
		}
	}
	data, err := os.ReadFile(filepath.Join(dir, "sheet.png"))
	if err != nil {
		t.Fatal(err)
	}
	sheet, err := photo.Open(data)
	if err != nil {
		t.Fatal(err)
	}
	// On the sheet, pot 2 has lost its second stake for the reader, pot 3 both.
	spoilt, n := blotted(t, sheet, func(p symbol.Payload) bool {
		return p.ID == pots[1] && p.Copy == 2 || p.ID == pots[2]
	})
	if n != 6 {
		t.Fatalf("%d codes blotted, want two for each of three stakes", n)
	}
	var picture bytes.Buffer
	if err := png.Encode(&picture, spoilt); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(dir, "walk.png"), picture.Bytes(), 0o600); err != nil {
		t.Fatal(err)
	}

	status, out := inFolder(t, dir, "stocktake", "walk.png", "--json")
	var facts struct {
		Summary  tallyFacts
		Sources  stocktakeSources
		Findings []seenProblem
		Replace  []stakeFacts
	}
	if err := json.Unmarshal([]byte(out), &facts); err != nil || status != problemsSeen {
		t.Fatal(status, err, out)
	}
	if facts.Sources.NotRead != n || facts.Summary.Lost != 0 || facts.Summary.NotSeen != 0 || facts.Summary.NotRead != 1 || len(facts.Replace) != 0 {
		t.Errorf("summary %+v, %d codes not read, replace %v", facts.Summary, facts.Sources.NotRead, facts.Replace)
	}
	kinds := map[string]reading.FindingKind{}
	for _, f := range facts.Findings {
		kinds[f.ID] = f.Kind
	}
	if len(kinds) != 2 || kinds[pots[1].String()] != reading.StakeUnread || kinds[pots[2].String()] != reading.PotUnclear {
		t.Errorf("findings %+v", facts.Findings)
	}

	// A second picture that shows those settles it.
	if status, out := inFolder(t, dir, "stocktake", "walk.png", "sheet.png"); status != problemsSeen || !strings.HasPrefix(out, "10 of 10 pots seen; ") {
		t.Errorf("status %d: %s", status, out)
	}
	status, out = inFolder(t, dir, "stocktake", "walk.png", "--print", "none.pdf")
	if status != problemsSeen || !strings.Contains(out, "no stake has to be replaced") {
		t.Errorf("status %d: %s", status, out)
	}
}
