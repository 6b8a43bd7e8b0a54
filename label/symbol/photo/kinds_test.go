package photo_test

import (
	"encoding/binary"
	"encoding/json"
	"flag"
	"image"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"pipstake/label/symbol/photo"
)

// light is how a scene was photographed; a simulation with assumed amounts.
type light struct {
	name      string
	stocks    []string // what the labels stand on, in turn
	pixels    float64  // of the picture on a millimetre of the labels
	megapixel float64  // at the least
	quality   int      // of the JPEG; 0 for a PNG
	tilt      float64  // of the telephone, degrees at the most
	blur      float64  // sigma in pixels
	defocus   float64  // radius in pixels
	motion    float64  // length in pixels
	noise     float64  // sigma, of full white
	halo      float64  // how much the camera sharpens
	shade     float64  // share of the light lost from one side to the other
	faded     float64  // share of the ink's contrast that is lost
	dirt      int      // specks on each label
	drops     int      // of water on each label
	curl      float64  // radius to which labels are bent, mm
	shadows   bool     // a hard shadow across the picture
	leaves    bool
	bag       bool // labels in plastic bags
	flash     bool // burnt spots
	screen    bool // a window on a screen, not a photograph
	mirrored  bool // as cameras for oneself store it
	turned    bool // stored on its side, with an EXIF orientation
}

var both = []string{bags, stakes}

// lights are the kinds of pictures: the clean ones first.
var lights = []light{
	{name: "near", stocks: both, pixels: 10, megapixel: 2, quality: 90, tilt: 12, blur: 0.8, noise: 0.010, shade: 0.3, faded: 0.05, dirt: 1},
	{name: "over the bench", stocks: both, pixels: 6, megapixel: 6, quality: 85, tilt: 18, blur: 0.8, noise: 0.015, shade: 0.4, faded: 0.15, dirt: 3, shadows: true},
	{name: "far", stocks: both, pixels: 4.2, megapixel: 12, quality: 85, tilt: 22, blur: 0.7, noise: 0.015, shade: 0.5, faded: 0.15, dirt: 2},
	{name: "screenshot", stocks: both, pixels: 5.2, quality: 0, screen: true},
	{name: "on its side", stocks: both, pixels: 8, megapixel: 3, quality: 85, tilt: 10, blur: 0.8, noise: 0.012, shade: 0.3, faded: 0.1, dirt: 1, turned: true},
	{name: "narrow stakes", stocks: []string{narrow}, pixels: 9, megapixel: 2, quality: 88, tilt: 12, blur: 0.8, noise: 0.012, shade: 0.3, faded: 0.1, dirt: 1},
	{name: "mirrored", stocks: []string{bags, narrow}, pixels: 9, megapixel: 2, quality: 88, tilt: 12, blur: 0.8, noise: 0.012, shade: 0.3, faded: 0.1, dirt: 1, mirrored: true},
	{name: "dusk", stocks: both, pixels: 6, megapixel: 6, quality: 75, tilt: 15, blur: 1.0, noise: 0.045, shade: 0.6, faded: 0.25, dirt: 3},
	{name: "muddy", stocks: both, pixels: 7, megapixel: 6, quality: 85, tilt: 20, blur: 0.9, noise: 0.015, shade: 0.4, faded: 0.35, dirt: 26, shadows: true},
	{name: "shaken", stocks: both, pixels: 7, megapixel: 4, quality: 85, tilt: 15, blur: 1.9, noise: 0.015, shade: 0.3, faded: 0.10, dirt: 2},
	{name: "motion", stocks: both, pixels: 8, megapixel: 3, quality: 85, tilt: 12, blur: 0.6, motion: 9, noise: 0.015, shade: 0.3, faded: 0.1, dirt: 1},
	{name: "out of focus", stocks: both, pixels: 8, megapixel: 3, quality: 85, tilt: 12, blur: 0.5, defocus: 3.8, noise: 0.012, shade: 0.3, faded: 0.1, dirt: 1},
	{name: "flash", stocks: both, pixels: 8, megapixel: 3, quality: 85, tilt: 12, blur: 0.8, noise: 0.012, shade: 0.3, faded: 0.1, dirt: 1, flash: true},
	{name: "droplets", stocks: both, pixels: 8, megapixel: 3, quality: 85, tilt: 12, blur: 0.8, noise: 0.012, shade: 0.3, faded: 0.1, drops: 60},
	{name: "curled", stocks: both, pixels: 8, megapixel: 3, quality: 85, tilt: 12, blur: 0.8, noise: 0.012, shade: 0.3, faded: 0.1, curl: 42},
	{name: "leaves", stocks: both, pixels: 8, megapixel: 3, quality: 85, tilt: 12, blur: 0.8, noise: 0.012, shade: 0.3, faded: 0.1, dirt: 1, leaves: true},
	{name: "zip bag", stocks: both, pixels: 8, megapixel: 3, quality: 85, tilt: 12, blur: 1.0, noise: 0.012, shade: 0.3, faded: 0.1, bag: true},
	{name: "webcam", stocks: both, pixels: 3.9, quality: 50, tilt: 10, blur: 0.9, noise: 0.02, halo: 1.2, shade: 0.3, faded: 0.15},
}

// picture is a scene as a file.
type picture struct {
	light light
	there []truth
	data  []byte
	file  string
}

// shoot photographs scenes under each light, with as many labels on them as
// counts say, into a folder.
func shoot(tb testing.TB, dir string, lights []light, counts []int) []picture {
	tb.Helper()
	var all []picture
	for _, l := range lights {
		for k, n := range counts {
			if *picturesOf != "" && !strings.Contains(l.name, *picturesOf) {
				continue
			}
			rnd := rand.New(rand.NewPCG(seedOf(l.name), uint64(k)))
			img, there := scene(cuts(tb, rnd, n, l.stocks[k%len(l.stocks)]), l, rnd)
			name := strings.ReplaceAll(l.name, " ", "-") + "-" + string(rune('a'+k)) + ".jpg"
			if l.quality == 0 {
				name = strings.TrimSuffix(name, ".jpg") + ".png"
			}
			p := picture{l, there, l.filed(tb, img, there, rnd), filepath.Join(dir, name)}
			if err := os.WriteFile(p.file, p.data, 0o600); err != nil {
				tb.Fatal(err)
			}
			all = append(all, p)
		}
	}
	return all
}

// seedOf is a number that a name stands for, so that a new kind of picture
// changes no other.
func seedOf(name string) (n uint64) {
	for _, c := range []byte(name) {
		n = n*131 + uint64(c)
	}
	return n
}

// filed is a picture as the camera stores it; what is there is moved along.
func (l light) filed(tb testing.TB, img *image.Gray, there []truth, rnd *rand.Rand) []byte {
	tb.Helper()
	w := img.Rect.Dx()
	if l.mirrored {
		img = flipped(img)
		for i := range there {
			there[i].at.X = float64(w) - there[i].at.X
		}
	}
	if l.quality == 0 {
		return pngOf(tb, img)
	}
	if l.turned { // orientation 6: the rows stored are the columns seen, from the right
		return withExif(compressed(tb, tinted(onItsSide(img), rnd), l.quality), exif(binary.LittleEndian, "II*\x00", 6))
	}
	return compressed(tb, tinted(img, rnd), l.quality)
}

func flipped(img *image.Gray) *image.Gray {
	out := image.NewGray(img.Rect)
	w := img.Rect.Dx()
	for i, v := range img.Pix {
		out.Pix[i/w*w+w-1-i%w] = v
	}
	return out
}

// onItsSide turns a picture by a quarter to the left.
func onItsSide(img *image.Gray) *image.Gray {
	w, h := img.Rect.Dx(), img.Rect.Dy()
	out := image.NewGray(image.Rect(0, 0, h, w))
	for y := range h {
		for x := range w {
			out.Pix[(w-1-x)*h+y] = img.Pix[y*w+x]
		}
	}
	return out
}

// tinted gives a picture the colours of a camera, which carry no code.
func tinted(img *image.Gray, rnd *rand.Rand) image.Image {
	out := image.NewYCbCr(img.Rect, image.YCbCrSubsampleRatio420)
	copy(out.Y, img.Pix)
	for i := range out.Cb {
		out.Cb[i], out.Cr[i] = byte(122+rnd.IntN(4)), byte(128+rnd.IntN(4))
	}
	return out
}

var picturesTo = flag.String("pictures", "", "a `folder` to leave generated pictures in, with what is on them, to be looked at")

var picturesOf = flag.String("kind", "", "the pictures that -pictures leaves are those whose `kind` contains this")

// TestLeavePictures writes the pictures of the benchmark where -pictures says.
func TestLeavePictures(t *testing.T) {
	if *picturesTo == "" {
		t.Skip("no folder is named by -pictures")
	}
	type code struct {
		Text string
		At   photo.Point
	}
	on := map[string][]code{}
	for _, p := range shoot(t, *picturesTo, lights, benchCounts) {
		for _, c := range p.there {
			on[filepath.Base(p.file)] = append(on[filepath.Base(p.file)], code{c.text, c.at})
		}
	}
	data, err := json.MarshalIndent(on, "", "\t")
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(*picturesTo, "truth.json"), data, 0o600); err != nil {
		t.Fatal(err)
	}
}
