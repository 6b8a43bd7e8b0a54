package symbol

import (
	"errors"
	"fmt"
	"image"
	"image/color"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"github.com/boombuler/barcode/datamatrix"
	"github.com/boombuler/barcode/qr"
	"github.com/makiuchi-d/gozxing"
	gozxingdm "github.com/makiuchi-d/gozxing/datamatrix"
	gozxingqr "github.com/makiuchi-d/gozxing/qrcode"
)

var resolutions = []int{203, 300, 600, 1200}

// sample are payloads from the shortest identifier with its check character to
// one that only the largest QR codes hold.
var sample = []string{
	"2026X012.M", "2026X012-B2.3/1", "2026X012-B2-C.H", "2026X12035-AB12-AC.K/2", payloadOf(47), payloadOf(64), payloadOf(90), payloadOf(maxPayload),
}

// Every code that comes out is as the rules want it, and an exhaustive search
// over the sizes that the encoders really make finds none better.
func TestChooseFindsTheBest(t *testing.T) {
	seed := rand.New(rand.NewPCG(1, 2))
	tried := map[Kind]int{}
	made := map[string][]found{}
	for _, payload := range sample {
		made[payload] = makeAll(t, payload)
	}
	for range 4000 {
		room := Room{W: 4 + 31*seed.Float64(), H: 4 + 31*seed.Float64(), DPI: resolutions[seed.IntN(len(resolutions))]}
		payload := sample[seed.IntN(len(sample))]
		s, err := chosen(room, payload)
		want := exhaustive(room, made[payload])
		if err != nil {
			var small *TooSmallError
			if !errors.As(err, &small) {
				t.Fatal(err)
			}
			if want.dots != 0 {
				t.Errorf("%+v %q: %v, though %+v fits", room, payload, err, want)
			}
			continue
		}
		tried[s.Kind]++
		if got := (found{s.Kind, s.Level, s.Size, s.Dots}); got != want {
			t.Errorf("%+v %q: chose %+v, want %+v", room, payload, got, want)
		}
		if s.Dots < 4 || s.Module() < 0.40 {
			t.Errorf("%+v %q: module of %d dots, %.3f mm", room, payload, s.Dots, s.Module())
		}
		if s.Outer() > min(room.W, room.H)+1e-6 {
			t.Errorf("%+v %q: %.3f mm wide with its quiet zone", room, payload, s.Outer())
		}
		if s.Payload != payload || s.DPI != room.DPI {
			t.Errorf("%+v %q: payload %q at %d dpi", room, payload, s.Payload, s.DPI)
		}
	}
	if tried[QR] < 100 || tried[DataMatrix] < 50 {
		t.Errorf("too few of a kind were tried: %v", tried)
	}
}

type found struct {
	kind  Kind
	level byte
	size  int
	dots  int
}

// makeAll makes the codes of a payload: the QR code of each level up to
// version 6, then the Data Matrix up to 36×36.
func makeAll(t *testing.T, payload string) []found {
	t.Helper()
	var made []found
	for i, level := range []byte("LMQH") {
		code, err := qr.Encode(payload, qr.ErrorCorrectionLevel(i), qr.AlphaNumeric)
		if err != nil {
			t.Fatal(err)
		}
		if size := code.Bounds().Dx(); size <= 41 {
			made = append(made, found{kind: QR, level: level, size: size})
		}
	}
	code, err := datamatrix.Encode(payload)
	if err != nil {
		t.Fatal(err)
	}
	if size := code.Bounds().Dx(); size <= 36 {
		made = append(made, found{kind: DataMatrix, size: size})
	}
	return made
}

// exhaustive finds the code to choose among those made by trying every module
// of every one: QR codes before the Data Matrix, then the order that the
// figures under "Weathering" in layout/proof/testdata/measured.md give.
func exhaustive(room Room, made []found) found {
	mm := func(f found) float64 { return float64(f.dots) * 25.4 / float64(room.DPI) }
	worth := func(f found) int { // of its error correction
		switch {
		case f.level == 'L':
			return 1
		case f.level == 'M':
			return 2
		case f.level == 'Q' || f.level == 'H' && mm(f) < 0.50:
			return 3
		}
		return 4
	}
	var best found
	for _, f := range made {
		quiet := 4
		if f.kind == DataMatrix {
			quiet = 1
			if best.dots > 0 {
				break // a QR code fits
			}
		}
		outer := float64(f.size + 2*quiet)
		for f.dots = 4; outer*mm(f) <= min(room.W, room.H)+1e-6; f.dots++ {
			if mm(f) < 0.40 {
				continue
			}
			better := best.dots == 0
			if !better {
				order := []int{worth(f) - worth(best), f.dots - best.dots, strings.IndexByte("LMQH", f.level) - strings.IndexByte("LMQH", best.level)}
				i := slices.IndexFunc(order, func(d int) bool { return d != 0 })
				better = i >= 0 && order[i] > 0
			}
			if better {
				best = f
			}
		}
	}
	return best
}

// The first payload that reaches level M wins, even where the next one would
// have a larger module; where none does the last one is taken.
func TestChooseOrder(t *testing.T) {
	compact, full := "2026X012-B2.3/1", payloadOf(64)
	for _, c := range []struct {
		side float64
		dpi  int
		want string
	}{
		{23, 600, "QR 37×37, level H, module 0.51 mm " + full},
		{20, 600, "QR 33×33, level Q, module 0.47 mm " + full},
		{19, 300, "QR 33×33, level Q, module 0.42 mm " + full},
		{19, 203, "QR 25×25, level H, module 0.50 mm " + compact}, // the full one only at level L
		{17, 600, "QR 25×25, level H, module 0.51 mm " + compact},
		{15, 600, "QR 21×21, level Q, module 0.51 mm " + compact},
		{13, 600, "QR 21×21, level Q, module 0.42 mm " + compact},
		{9, 600, "Data Matrix 16×16, module 0.47 mm " + compact},
	} {
		s, err := chosen(Room{c.side, c.side, c.dpi}, full, compact)
		if err != nil {
			t.Fatal(err)
		}
		if got := s.String() + " " + s.Payload; got != c.want {
			t.Errorf("%v mm at %d dpi: got %s, want %s", c.side, c.dpi, got, c.want)
		}
	}
}

// Level H is worth its smaller modules from 0.50 mm on and not below.
func TestLevelHNeedsALargerModule(t *testing.T) {
	for _, c := range []struct {
		side float64
		want string
	}{
		{33 * 0.508, "QR 25×25, level H, module 0.51 mm"},
		{33*0.508 - 0.1, "QR 21×21, level Q, module 0.55 mm"},
	} {
		s, err := chosen(Room{c.side, c.side, 600}, "2026X012-B2.3/1")
		if err != nil {
			t.Fatal(err)
		}
		if s.String() != c.want {
			t.Errorf("%.2f mm: got %s, want %s", c.side, s, c.want)
		}
	}
}

// A square of the size that the error names does, and a slightly smaller one
// does not.
func TestTooSmallSaysWhatWouldDo(t *testing.T) {
	for _, dpi := range resolutions {
		for _, payload := range sample {
			_, err := chosen(Room{3, 50, dpi}, payloadOf(90), payload)
			var small *TooSmallError
			if !errors.As(err, &small) {
				t.Fatalf("error %v, want a *TooSmallError", err)
			}
			need := small.Need
			if _, err := chosen(Room{need, need, dpi}, small.Payload); err != nil {
				t.Errorf("the room asked for: %v", err)
			}
			if _, err := chosen(Room{need - 0.01, need, dpi}, payloadOf(90), payload); err == nil {
				t.Errorf("%q at %d dpi: less than the %.2f mm asked for would do", payload, dpi, need)
			}
		}
	}
}

func TestChooseRefuses(t *testing.T) {
	const compact = "2026X012-B2.3/1"
	for _, c := range []struct {
		name     string
		room     Room
		payloads []string
		want     string
	}{
		{"small", Room{7, 20, 300}, []string{payloadOf(64), compact},
			`a room of 7.0×20.0 mm is too small for a readable code of "2026X012-B2.3/1" at 300 dpi: it needs a square of at least 7.7 mm`},
		{"no width", Room{0, 20, 300}, []string{compact}, "a room of 0×20 mm cannot hold a code: give sides between 0 and 10000 mm"},
		{"no number", Room{20, nan(), 300}, []string{compact}, "a room of 20×NaN mm cannot hold a code: give sides between 0 and 10000 mm"},
		{"resolution", Room{20, 20, 0}, []string{compact}, "0 dpi is not a printer's resolution: give such as 203, 300 or 600"},
		{"nothing", Room{20, 20, 300}, nil, "there is no payload to choose a code for"},
		{"second payload", Room{20, 20, 300}, []string{compact, "a"},
			`code text "a", character 1: 'a' is not a character of a label's code; keep to 0–9, A–Z, space and $%*+-./:`},
		{"too long", Room{200, 200, 300}, []string{payloadOf(196)},
			`code text "` + payloadOf(60) + `"…: its 196 characters are too many, 195 is the most; leave out what the registry knows`},
	} {
		_, err := chosen(c.room, c.payloads...)
		if err == nil || err.Error() != c.want {
			t.Errorf("%s:\n got %v\nwant %s", c.name, err, c.want)
		}
	}
}

func nan() float64 { var zero float64; return zero / zero }

// Every code chosen over a grid of rooms, resolutions and payloads is decoded,
// from a raster of whole dots with the quiet zone and nothing more, by a
// decoder that shares nothing with the encoder.
func TestChosenCodesDecode(t *testing.T) {
	kinds := map[Kind]int{}
	for _, dpi := range resolutions {
		for side := 6.0; side <= 30; side += 1.5 {
			if dpi != 300 && testing.Short() {
				break
			}
			if dpi == 1200 && side > 20 {
				continue // the same modules as at 600 dpi, but slow
			}
			for _, payload := range sample {
				s, err := chosen(Room{side, side, dpi}, payload)
				if errors.As(err, new(*TooSmallError)) {
					continue
				} else if err != nil {
					t.Fatal(err)
				}
				kinds[s.Kind]++
				text, err := decode(s)
				if err != nil || text != payload {
					t.Errorf("%.1f mm at %d dpi, %v: read %q, %v, want %q", side, dpi, s, text, err, payload)
				}
			}
		}
	}
	t.Logf("decoded %d QR codes, %d Data Matrix", kinds[QR], kinds[DataMatrix])
	leastQR, leastDM := 100, 50
	if testing.Short() {
		leastQR, leastDM = 20, 10
	}
	if kinds[QR] < leastQR || kinds[DataMatrix] < leastDM {
		t.Errorf("too few of a kind were tried: %v", kinds)
	}
}

// decode reads a symbol's raster.
func decode(s *Symbol) (string, error) {
	quiet := 4 // modules, ISO/IEC 18004
	if s.Kind == DataMatrix {
		quiet = 1 // ISO/IEC 16022
	}
	side := (s.Size + 2*quiet) * s.Dots
	img := image.NewGray(image.Rect(0, 0, side, side))
	for y := range side {
		for x := range side {
			mx, my := x/s.Dots-quiet, y/s.Dots-quiet
			light := mx < 0 || my < 0 || mx >= s.Size || my >= s.Size || !s.Dark(mx, my)
			if light {
				img.SetGray(x, y, color.Gray{Y: 255})
			}
		}
	}
	bmp, err := gozxing.NewBinaryBitmapFromImage(img)
	if err != nil {
		return "", err
	}
	var reader gozxing.Reader = gozxingqr.NewQRCodeReader()
	if s.Kind == DataMatrix {
		reader = gozxingdm.NewDataMatrixReader()
	}
	result, err := reader.Decode(bmp, nil)
	if err != nil {
		return "", err
	}
	return result.GetText(), nil
}

// chosen is the code for a room, encoded, and shows that the choice foresaw the
// size that the encoder came to.
func chosen(room Room, payloads ...string) (*Symbol, error) {
	c, err := Choose(room, payloads...)
	if err != nil {
		return nil, err
	}
	s, err := c.Encode()
	if err == nil && s.Choice != c {
		return nil, fmt.Errorf("chose %+v, encoded %+v", c, s.Choice)
	}
	return s, err
}
