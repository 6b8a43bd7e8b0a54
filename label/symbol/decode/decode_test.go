package decode_test

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/makiuchi-d/gozxing"
	"github.com/makiuchi-d/gozxing/datamatrix"
	dmdecoder "github.com/makiuchi-d/gozxing/datamatrix/decoder"
	"github.com/makiuchi-d/gozxing/datamatrix/encoder"
	"github.com/makiuchi-d/gozxing/qrcode"
	qrdecoder "github.com/makiuchi-d/gozxing/qrcode/decoder"

	"pipstake/label/symbol"
	"pipstake/label/symbol/decode"
)

// written is a code as gozxing writes it, an independent encoder; it has no
// quiet zone.
func written(tb testing.TB, kind symbol.Kind, level, text string) decode.Modules {
	tb.Helper()
	var bits *gozxing.BitMatrix
	var err error
	if kind == symbol.QR {
		bits, err = qrcode.NewQRCodeWriter().Encode(text, gozxing.BarcodeFormat_QR_CODE, 0, 0, map[gozxing.EncodeHintType]any{
			gozxing.EncodeHintType_ERROR_CORRECTION: level, gozxing.EncodeHintType_MARGIN: 0, gozxing.EncodeHintType_CHARACTER_SET: "UTF-8"})
	} else {
		bits, err = datamatrix.NewDataMatrixWriter().Encode(text, gozxing.BarcodeFormat_DATA_MATRIX, 0, 0, map[gozxing.EncodeHintType]any{
			gozxing.EncodeHintType_DATA_MATRIX_SHAPE: encoder.SymbolShapeHint_FORCE_SQUARE})
	}
	if err != nil {
		tb.Fatal(err)
	}
	m := decode.Modules{Size: bits.GetWidth(), Light: make([]float32, bits.GetWidth()*bits.GetHeight())}
	for i := range m.Light {
		m.Light[i] = 1
		if bits.Get(i%m.Size, i/m.Size) {
			m.Light[i] = -1
		}
	}
	return m
}

func read(kind symbol.Kind, m decode.Modules) (string, bool, bool) {
	if kind == symbol.QR {
		return decode.QR(m)
	}
	return decode.DataMatrix(m)
}

// mirrored is a code as a mirror shows it.
func mirrored(m decode.Modules) decode.Modules {
	out := decode.Modules{Size: m.Size, Light: make([]float32, len(m.Light))}
	for i, l := range m.Light {
		x, y := i%m.Size, i/m.Size
		out.Light[x*m.Size+y] = l
	}
	return out
}

// turned is a code turned by a half.
func turned(m decode.Modules) decode.Modules {
	out := decode.Modules{Size: m.Size, Light: make([]float32, len(m.Light))}
	for i, l := range m.Light {
		out.Light[len(m.Light)-1-i] = l
	}
	return out
}

var levels = []string{"L", "M", "Q", "H"}

// Codes of every version, level and way of writing texts are read as they were
// written by another program, mirrored ones too.
func TestReadsWhatOthersWrite(t *testing.T) {
	letters := []string{"0123456789", "2026X012-B2.3/1 ", "2026X012, Łódź ♀ ", "pips & stakes; "}
	versions := map[int]bool{}
	for _, level := range levels {
		for _, some := range letters {
			for n := 1; n < 420; n = n*5/4 + 1 {
				text := string([]rune(strings.Repeat(some, n))[:n])
				m := written(t, symbol.QR, level, text)
				if m.Size > 17+4*decode.MostVersion {
					break
				}
				versions[m.Size] = true
				for name, m := range map[string]decode.Modules{"upright": m, "mirrored": mirrored(m)} {
					if got, sure, ok := decode.QR(m); got != text || !sure || !ok {
						t.Fatalf("QR %s, %d modules, %s: %q, %v, %v; want %q", level, m.Size, name, got, sure, ok, text)
					}
				}
			}
		}
	}
	if len(versions) != decode.MostVersion {
		t.Errorf("only the sizes %v were tried", versions)
	}
}

// Data Matrix codes in ASCII, C40, Text, X12, EDIFACT and Base 256, which
// gozxing's encoder changes between by itself, as its decoder reads them.
func TestReadsDataMatrixOfOthers(t *testing.T) {
	sizes := map[int]bool{}
	for _, some := range []string{"0123456789", "2026X012-B2.3/1 ", "LARKFIELD TESSEL ", "larkfield tessel ", "AB*>\r12", "éÿß", "A.!(B)?", "aB3$"} {
		for n := 8; n < 100; n += 3 {
			text := string([]rune(strings.Repeat(some, n))[:n])
			m := written(t, symbol.DataMatrix, "", text)
			if m.Size < 14 || m.Size > 36 || m.Size > 26 && m.Size < 32 {
				continue
			}
			sizes[m.Size] = true
			want := byGozxing(t, m)
			for name, m := range map[string]decode.Modules{"upright": m, "mirrored": turned(mirrored(m))} {
				if got, sure, ok := decode.DataMatrix(m); got != want || !sure || !ok {
					t.Fatalf("Data Matrix of %d modules, %s: %q, %v, %v; want %q", m.Size, name, got, sure, ok, want)
				}
			}
		}
	}
	if len(sizes) != len(decode.Shapes()) {
		t.Errorf("only the sizes %v were tried, of %v", sizes, decode.Shapes())
	}
}

func byGozxing(t *testing.T, m decode.Modules) string {
	t.Helper()
	bits, err := gozxing.NewSquareBitMatrix(m.Size)
	if err != nil {
		t.Fatal(err)
	}
	for i, l := range m.Light {
		if l < 0 {
			bits.Set(i%m.Size, i/m.Size)
		}
	}
	result, err := dmdecoder.NewDecoder().Decode(bits)
	if err != nil {
		t.Fatal(err)
	}
	return result.GetText()
}

// The numbers of the standards: gozxing has them in a table of its own.
func TestKnowsAlignmentPatterns(t *testing.T) {
	for version := 1; version <= decode.MostVersion; version++ {
		v, err := qrdecoder.Version_GetVersionForNumber(version)
		if err != nil {
			t.Fatal(err)
		}
		if got, want := fmt.Sprint(decode.Centres(version)), fmt.Sprint(v.GetAlignmentPatternCenters()); got != want {
			t.Errorf("version %d: centres %v, want %v", version, got, want)
		}
	}
}

// damaged turns modules round and says of each how sure it is: a share of those
// turned round are known to be unsure.
func damaged(m decode.Modules, rnd *rand.Rand, turned int, known float64) decode.Modules {
	out := decode.Modules{Size: m.Size, Light: append([]float32(nil), m.Light...)}
	for range turned {
		i := rnd.IntN(len(out.Light))
		out.Light[i] = -m.Light[i]
		if rnd.Float64() < known {
			out.Light[i] *= 0.1
		}
	}
	return out
}

// Error correction puts right what the standard says, more where it is known
// what is unsure, and never makes up a text: of 12,000 codes with more damage
// than that, none is read as another.
func TestNeverMisreads(t *testing.T) {
	const text = "2026X012-B2.3/1"
	rnd := rand.New(rand.NewPCG(1, 2))
	for _, kind := range []symbol.Kind{symbol.QR, symbol.DataMatrix} {
		helped := 0
		for _, level := range levels {
			m := written(t, kind, level, text)
			right, wrong := 0, 0
			for trial := range 1500 {
				d := damaged(m, rnd, 1+trial/40, 0.8)
				got, sure, ok := read(kind, d)
				switch {
				case !ok:
				case got != text:
					wrong++
				default:
					right++
					if !sure {
						helped++
					}
				}
			}
			if wrong > 0 || right < 100 {
				t.Errorf("%v %s: of 1500, %d read and %d misread", kind, level, right, wrong)
			}
		}
		if helped < 100 {
			t.Errorf("%v: only %d codes were read because it was known what is unsure", kind, helped)
		}
	}
}

// Noise is no code.
func TestReadsNoNoise(t *testing.T) {
	rnd := rand.New(rand.NewPCG(3, 4))
	for _, size := range []int{14, 16, 20, 26, 36, 21, 25, 29, 57} {
		read := 0
		for range 300 {
			m := decode.Modules{Size: size, Light: make([]float32, size*size)}
			for i := range m.Light {
				m.Light[i] = float32(2*rnd.Float64() - 1)
			}
			if _, _, ok := decode.QR(m); ok {
				read++
			}
			if _, _, ok := decode.DataMatrix(m); ok {
				read++
			}
		}
		if read > 0 {
			t.Errorf("%d of 300 squares of noise with %d modules were read", read, size)
		}
	}
}

func FuzzDecode(f *testing.F) {
	for _, kind := range []symbol.Kind{symbol.QR, symbol.DataMatrix} {
		m := written(f, kind, "M", "2026X012-B2.3/1 7 SOWN 2027-01-14")
		bits := make([]byte, len(m.Light))
		for i, l := range m.Light {
			bits[i] = byte(int8(100 * l))
		}
		f.Add(m.Size, bits)
	}
	f.Add(22, []byte{})
	f.Fuzz(func(t *testing.T, size int, bits []byte) {
		if size < 0 || size > 60 {
			return
		}
		m := decode.Modules{Size: size, Light: make([]float32, size*size)}
		for i := range min(len(bits), len(m.Light)) {
			m.Light[i] = float32(int8(bits[i])) / 100
		}
		decode.QR(m)
		decode.DataMatrix(m)
	})
}

func BenchmarkDecode(b *testing.B) {
	for _, kind := range []symbol.Kind{symbol.QR, symbol.DataMatrix} {
		m := written(b, kind, "H", "2026X012-B2.3/1")
		b.Run(fmt.Sprint(kind), func(b *testing.B) {
			for range b.N {
				if _, _, ok := read(kind, m); !ok {
					b.Fatal("not read")
				}
			}
		})
	}
}
