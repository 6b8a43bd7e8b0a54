package symbol

import (
	"bytes"
	"encoding/hex"
	"fmt"
	"image/color"
	"image/png"
	"os"
	"os/exec"
	"strings"
	"testing"

	"github.com/makiuchi-d/gozxing"
	"github.com/makiuchi-d/gozxing/qrcode/decoder"
	"github.com/makiuchi-d/gozxing/qrcode/encoder"

	"pipstake/layout/proof/outside"
)

// Lengths of payload in use: a compact one to one with two long names.
const shortest, longest = 15, 90

// Readers do not look at padding, so only another encoder shows that it is
// right: every length in use at every level, against three of them. They may
// choose another mask, so the codewords are compared.
func TestQRCodewordsAgainstOtherEncoders(t *testing.T) {
	if testing.Short() {
		t.Skip("takes long")
	}
	for _, other := range []struct {
		name   string
		needs  string // a program, or nothing
		encode func(payload string, level byte) (*Symbol, error)
	}{
		{"gozxing", "", gozxingQR},
		{"qrencode", "qrencode", qrencodeQR},
		{"zint", "zint", zintQR},
	} {
		t.Run(other.name, func(t *testing.T) {
			t.Parallel()
			need(t, other.needs)
			for n := shortest; n <= longest; n++ {
				for _, level := range []byte("LMQH") {
					ours, err := Encode(QR, level, payloadOf(n), 4, 300)
					if err == nil && n > 84 && level == 'H' {
						t.Fatalf("%d characters fit at level H", n)
					} else if n > 84 && level == 'H' {
						continue // beyond version 6
					} else if err != nil {
						t.Fatal(err)
					}
					theirs, err := other.encode(payloadOf(n), level)
					if err != nil {
						t.Fatal(err)
					}
					compareCodewords(t, ours, theirs)
				}
			}
		})
	}
}

func compareCodewords(t *testing.T, ours, theirs *Symbol) {
	t.Helper()
	if ours.Size != theirs.Size {
		t.Errorf("%q at %c: %d modules, the other encoder has %d", ours.Payload, ours.Level, ours.Size, theirs.Size)
		return
	}
	got, gotLevel := qrCodewords(t, ours)
	want, wantLevel := qrCodewords(t, theirs)
	if gotLevel != ours.Level || wantLevel != ours.Level {
		t.Errorf("%q at %c: format information says %c, the other encoder's %c", ours.Payload, ours.Level, gotLevel, wantLevel)
	}
	if !bytes.Equal(got, want) {
		t.Errorf("%q at %c: codewords\n% X\nthe other encoder has\n% X", ours.Payload, ours.Level, got, want)
	}
}

func gozxingQR(payload string, level byte) (*Symbol, error) {
	ecl, err := decoder.ErrorCorrectionLevel_ValueOf(string(level))
	if err != nil {
		return nil, err
	}
	code, err := encoder.Encoder_encode(payload, ecl, map[gozxing.EncodeHintType]any{})
	if err != nil {
		return nil, err
	}
	m := code.GetMatrix()
	s := &Symbol{Choice: Choice{Kind: QR, Size: m.GetWidth()}}
	s.modules = rowsFrom(s.Size, func(x, y int) bool { return m.Get(x, y) == 1 })
	return s, nil
}

func qrencodeQR(payload string, level byte) (*Symbol, error) {
	out, err := outside.Command("qrencode", "-l", string(level), "-t", "ASCII", "-m", "0", "-o", "-", payload).Output()
	if err != nil {
		return nil, fmt.Errorf("qrencode: %w", err)
	}
	s := &Symbol{Choice: Choice{Kind: QR}}
	for line := range strings.Lines(string(out)) {
		line = strings.TrimSuffix(line, "\n")
		s.Size = len(line) / 2 // two characters a module
		s.modules = append(s.modules, rowsFrom(s.Size, func(x, _ int) bool { return line[2*x] == '#' })[0])
	}
	return s, nil
}

func zintQR(payload string, level byte) (*Symbol, error) {
	// the version is given, since zint otherwise raises the level where it can
	version := 1
	for len(payload) > qrCapacity[version-1][strings.IndexByte(levels, level)] {
		version++
	}
	out, err := outside.Command("zint", "-b", "QRCODE", fmt.Sprintf("--vers=%d", version),
		fmt.Sprintf("--secure=%d", 1+strings.IndexByte("LMQH", level)), "--dump", "-d", payload).Output()
	if err != nil {
		return nil, fmt.Errorf("zint: %w", err)
	}
	s := &Symbol{Choice: Choice{Kind: QR, Size: 17 + 4*version}}
	for line := range strings.Lines(string(out)) { // eight modules a byte, the first highest
		digits := strings.Join(strings.Fields(line), "")
		row, err := hex.DecodeString(digits + strings.Repeat("0", len(digits)%2))
		if err != nil || len(row)*8 < s.Size {
			return nil, fmt.Errorf("zint wrote the row %q", line)
		}
		s.modules = append(s.modules, rowsFrom(s.Size, func(x, _ int) bool { return row[x/8]>>(7-x%8)&1 == 1 })[0])
	}
	if len(s.modules) != s.Size {
		return nil, fmt.Errorf("zint wrote %d rows, not %d", len(s.modules), s.Size)
	}
	return s, nil
}

// A Data Matrix has no mask: another encoder kept to ASCII encodation makes
// the same modules, padding and error correction included.
func TestDataMatrixAgainstOtherEncoder(t *testing.T) {
	if testing.Short() {
		t.Skip("takes long")
	}
	need(t, "dmtxwrite")
	for n := shortest; n <= longest; n++ {
		payload := payloadOf(n)
		ours, err := Encode(DataMatrix, 0, payload, 4, 300)
		if err != nil {
			t.Fatal(err)
		}
		cmd := outside.Command("dmtxwrite", "-e", "a", "-d", "1", "-m", "1", "-s", "s")
		cmd.Stdin = strings.NewReader(payload)
		out, err := cmd.Output()
		if err != nil {
			t.Fatalf("dmtxwrite: %v", err)
		}
		img, err := png.Decode(bytes.NewReader(out))
		if err != nil {
			t.Fatalf("dmtxwrite: %v", err)
		}
		theirs := &Symbol{Choice: Choice{Size: img.Bounds().Dx() - 2}} // a margin of a module
		theirs.modules = rowsFrom(theirs.Size, func(x, y int) bool {
			return color.GrayModel.Convert(img.At(x+1, y+1)).(color.Gray).Y < 128
		})
		if picture(ours) != picture(theirs) {
			t.Errorf("%q: got\n%s\nthe other encoder has\n%s", payload, picture(ours), picture(theirs))
		}
	}
}

// need skips a test by the name of a program that is absent; in CI all are
// there.
func need(t *testing.T, program string) {
	t.Helper()
	if program == "" {
		return
	}
	if _, err := exec.LookPath(program); err != nil {
		if os.Getenv("CI") == "true" {
			t.Fatalf("%s is not installed", program)
		}
		t.Skipf("%s is not installed", program)
	}
}

// rowsFrom collects the modules that another encoder made.
func rowsFrom(size int, dark func(x, y int) bool) rows {
	r := make(rows, size)
	for y := range r {
		for x := range r {
			if dark(x, y) {
				r[y] |= 1 << (63 - x)
			}
		}
	}
	return r
}
