package photo

import (
	"image"
	"math"
	"math/rand/v2"
	"testing"
)

// noisy is a picture of noise, of an odd size.
func noisy() *image.Gray {
	rnd := rand.New(rand.NewPCG(5, 6))
	img := image.NewGray(image.Rect(0, 0, 213, 147))
	for i := range img.Pix {
		img.Pix[i] = byte(rnd.IntN(256))
	}
	return img
}

// What is reckoned in whole numbers is what is reckoned in fractions, on the edge
// of a picture and behind it as well.
func TestRelativeLevels(t *testing.T) {
	sc := pyramid(noisy())[0]
	m := qrModel(2)
	held := 0
	for _, at := range []Point{{70, 50}, {3.2, 4.1}, {-20, 30}, {150, 100}, {25, 2}, {250, 200}} {
		for _, lean := range []float64{0, 9, -7} {
			q := pose{at, at.plus(Point{60.3, 5 + lean}), at.plus(Point{55 + lean, 61}), at.plus(Point{-4, 57.7})}
			v := q.view(m.size)
			if sc.holds(v, m.size) {
				held++
			}
			for i, got := range sc.relative(nil, v, m.size, m.known) {
				p := v.of(m.known[i].x, m.known[i].y)
				if want := sc.at(p) - sc.around(p); math.Abs(float64(got)/part-want) > 3 {
					t.Fatalf("at %v: %v, not %v", p, float64(got)/part, want)
				}
			}
		}
	}
	if held == 0 || held == 18 {
		t.Errorf("%d of 18 poses are within the picture", held)
	}
}

// A sharpened pixel is three times as light as it was, less twice the mean of the
// 25 around it; those on the edge go on for ever.
func TestSharpened(t *testing.T) {
	sc := pyramid(noisy())[0]
	sharp := sc.sharpened()
	for y := range sc.h {
		for x := range sc.w {
			sum := 0
			for dy := -2; dy <= 2; dy++ {
				for dx := -2; dx <= 2; dx++ {
					sum += int(sc.grey[min(max(y+dy, 0), sc.h-1)*sc.stride+min(max(x+dx, 0), sc.stride-1)])
				}
			}
			want := byte(min(max(3*int(sc.grey[y*sc.stride+x])-2*sum/25, 0), 255))
			if got := sharp.grey[y*sc.stride+x]; got != want {
				t.Fatalf("(%d,%d) is %d, not %d", x, y, got, want)
			}
		}
	}
}

// Where blocks are kept, they are sharpened as the whole is.
func TestSharpenedWhereKept(t *testing.T) {
	sc := pyramid(noisy())[0]
	whole := sc.sharpened()
	blocks := sc.noBlocks()
	sc.mark(blocks, Point{100, 60}, 30)
	sc.keep(blocks)
	kept := sc.sharpened()
	for y := 24; y < 96; y++ {
		for x := 64; x < 136; x++ {
			if got, want := kept.grey[y*sc.stride+x], whole.grey[y*sc.stride+x]; got != want {
				t.Fatalf("(%d,%d) is %d, not %d", x, y, got, want)
			}
		}
	}
}

// Nothing is dark outside of the blocks that are kept, and all is as it was in them.
func TestKeep(t *testing.T) {
	sc := pyramid(noisy())[0]
	before := sc.dark
	blocks := sc.noBlocks()
	sc.mark(blocks, Point{100, 60}, 30)
	sc.keep(blocks)
	if sc.dark.w != before.w || !sc.dark.any() {
		t.Fatal("nothing is dark")
	}
	for y := range sc.h {
		for x := range sc.w {
			// The blocks are eight pixels wide: those that 70 to 130 and 30 to 90 touch.
			kept := x >= 64 && x < 136 && y >= 24 && y < 96
			at, bit := y*before.stride+x/64, uint64(1)<<(x%64)
			if got, want := sc.dark.words[at]&bit != 0, kept && before.words[at]&bit != 0; got != want {
				t.Fatalf("(%d,%d) is dark: %v, not %v", x, y, got, want)
			}
		}
	}
}
