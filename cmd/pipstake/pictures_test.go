package main

import (
	"bytes"
	"image"
	"image/png"
	"os"
	"path/filepath"
	"testing"

	"pipstake/label"
	"pipstake/layout"
	"pipstake/layout/proof"
)

// The pictures in the README are those of the sheets that the program prints
// now. UPDATE_PICTURES=1 draws them anew.
func TestReadmePicturesAreCurrent(t *testing.T) {
	t.Parallel()
	if testing.Short() {
		t.Skip("takes long")
	}
	dir := t.TempDir()
	demoIn(t, dir)
	for _, p := range []struct {
		file, sheet, stock string
		first, last, dpi   int // cells of the first page
	}{
		{"stakes.png", demoStakes, "a4-cut-148x20", 1, 4, 150},
		{"bags.png", demoBags, "a4-3x8-70x37", 1, 6, 120},
	} {
		pdf, err := os.ReadFile(filepath.Join(dir, "orchard", p.sheet))
		if err != nil {
			t.Fatal(err)
		}
		doc, err := proof.Open(pdf)
		if err != nil {
			t.Fatal(err)
		}
		page, err := doc.Render(1, p.dpi)
		if err != nil {
			t.Fatal(err)
		}
		doc.Close()
		stock, err := layout.FindStock(p.stock)
		if err != nil {
			t.Fatal(err)
		}
		from, to := stock.Cell(p.first), stock.Cell(p.last)
		part := page.SubImage(proof.Region(label.Rect{X: from.X, Y: from.Y, W: to.Right() - from.X, H: to.Bottom() - from.Y}, p.dpi)).(*image.Gray)
		if stock.Turned {
			part = upright(part)
		}
		checkPicture(t, p.file, part)
	}
	orchard := filepath.Join(dir, "orchard")
	runs(t, orchard, "germination", "--by", "seed-parent", "--plot", "germination.png")
	checkPicture(t, "germination.png", readPNG(t, filepath.Join(orchard, "germination.png")))
}

// checkPicture compares a picture with the one of that name below testdata.
func checkPicture(t *testing.T, name string, now image.Image) {
	t.Helper()
	file := filepath.Join("..", "..", "testdata", name)
	if os.Getenv("UPDATE_PICTURES") != "" {
		var drawn bytes.Buffer
		if err := png.Encode(&drawn, now); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(file, drawn.Bytes(), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	if !samePixels(now, readPNG(t, file)) {
		t.Errorf("testdata/%s is not what it shows now: draw it anew with UPDATE_PICTURES=1 go test -run Pictures ./cmd/pipstake", name)
	}
}

// upright turns a picture of labels that read upward a quarter to the right.
func upright(img *image.Gray) *image.Gray {
	b := img.Bounds()
	turned := image.NewGray(image.Rect(0, 0, b.Dy(), b.Dx()))
	for y := range b.Dy() {
		for x := range b.Dx() {
			turned.SetGray(b.Dy()-1-y, x, img.GrayAt(b.Min.X+x, b.Min.Y+y))
		}
	}
	return turned
}

func samePixels(a, b image.Image) bool {
	if a.Bounds().Size() != b.Bounds().Size() {
		return false
	}
	for y := range a.Bounds().Dy() {
		for x := range a.Bounds().Dx() {
			r1, g1, b1, _ := a.At(a.Bounds().Min.X+x, a.Bounds().Min.Y+y).RGBA()
			r2, g2, b2, _ := b.At(b.Bounds().Min.X+x, b.Bounds().Min.Y+y).RGBA()
			if r1 != r2 || g1 != g2 || b1 != b2 {
				return false
			}
		}
	}
	return true
}
