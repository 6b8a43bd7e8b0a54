package main

import (
	"encoding/json"
	"image"
	"image/png"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"pipstake/label/symbol"
	"pipstake/layout/proof"
)

// pageOf rasterises a page of a PDF file.
func pageOf(t *testing.T, name string, page, dpi int) *image.Gray {
	t.Helper()
	pdf, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	doc, err := proof.Open(pdf)
	if err != nil {
		t.Fatal(err)
	}
	defer doc.Close()
	img, err := doc.Render(page, dpi)
	if err != nil {
		t.Fatal(err)
	}
	return img
}

func writePNG(t *testing.T, name string, img image.Image) {
	t.Helper()
	f, err := os.Create(name)
	if err != nil {
		t.Fatal(err)
	}
	if err := png.Encode(f, img); err != nil {
		t.Fatal(err)
	}
	if err := f.Close(); err != nil {
		t.Fatal(err)
	}
}

// Every code on a picture of printed stakes is told in JSON with its text and its
// corners: both codes of both copies of each pot.
// The corners lie where the page has ink and another decoder, given that part of
// the picture alone, reads the same text.
func TestPhotographTellsEveryCode(t *testing.T) {
	if testing.Short() {
		t.Skip("takes long")
	}
	dir := t.TempDir()
	runs(t, dir, "init")
	runs(t, dir, "cross", "Larkfield Tessel", "Tarn Amber", "--on", "2025-05-02")
	runs(t, dir, "bags", "2025X001", "--lots", "1", "--on", "2025-06-20", "--out", "bags.pdf")
	runs(t, dir, "extract", "2025X001-A", "--seeds", "14", "--on", "2025-11-14")
	runs(t, dir, "sow", "2025X001-A", "--pots", "2", "--on", "2026-01-14", "--out", "stakes.pdf")
	img := pageOf(t, filepath.Join(dir, "stakes.pdf"), 1, 200)
	writePNG(t, filepath.Join(dir, "stakes.png"), img)

	var got photographFacts
	if err := json.Unmarshal([]byte(says(t, dir, "scan", "--photo", "stakes.png", "--json")), &got); err != nil {
		t.Fatal(err)
	}
	want := map[string]int{}
	for _, l := range opened(t, dir).Labels() {
		if l.Face == "stake" {
			want[l.Payload]++
			compact, _, _ := strings.Cut(l.Payload, " ")
			want[compact]++
		}
	}
	if got.Photo != "stakes.png" || len(got.Codes) != 8 || len(got.Answers) != 2 || got.Read != 8 {
		t.Errorf("%d codes of %q, %d read, %d answers", len(got.Codes), got.Photo, got.Read, len(got.Answers))
	}
	for _, c := range got.Codes {
		want[c.Text]--
		if payload, _, err := symbol.ParsePayload(c.Text); err != nil || payload.ID.String() != c.ID || c.Code != "QR" || len(c.Corners) != 4 {
			t.Fatalf("%+v", c)
		}
		at := c.Corners
		side := math.Hypot(at[1].X-at[0].X, at[1].Y-at[0].Y)
		module := side / 25                      // of the smaller of the two codes
		for i, next := range []int{1, 2, 3, 0} { // a square to a module, clockwise
			dx, dy := at[next].X-at[i].X, at[next].Y-at[i].Y
			after := at[(next+1)%4]
			if math.Abs(math.Hypot(dx, dy)-side) > module || dx*(after.Y-at[next].Y)-dy*(after.X-at[next].X) < 0.9*side*side {
				t.Errorf("%q has the corners %v", c.Text, at)
			}
		}
		margin := side / 8
		part := image.Rectangle{Max: image.Pt(1, 1)}.Add(image.Pt(int(at[0].X), int(at[0].Y)))
		for _, p := range at {
			part = part.Union(image.Rect(int(p.X-margin), int(p.Y-margin), int(p.X+margin), int(p.Y+margin)))
		}
		if read := proof.Decode(img, part); len(read) != 1 || read[0] != c.Text {
			t.Errorf("where %q is said to be, another decoder reads %q", c.Text, read)
		}
	}
	for text, n := range want {
		if n != 0 {
			t.Errorf("%q stands on the sheet %d times more often than told", text, n)
		}
	}
}
