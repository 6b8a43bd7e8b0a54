package symbol

import (
	"bytes"
	"errors"
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"rsc.io/qr/coding"
)

var update = flag.Bool("update", false, "write the goldens anew")

// The worked example of ISO/IEC 18004: 01234567 in version 1-M. It is in
// numeric mode, which no payload of ours needs, so it goes around Encode.
func TestQRWorkedExample(t *testing.T) {
	m, err := masksFor(1, strings.IndexByte(levels, 'M'))
	if err != nil {
		t.Fatal(err)
	}
	code, err := m.plan.Encode(coding.Num("01234567"))
	if err != nil {
		t.Fatal(err)
	}
	s := &Symbol{Choice: Choice{Kind: QR, Level: 'M', Size: code.Size}, modules: m.best(rowsOf(code))}
	got, level := qrCodewords(t, s)
	want := []byte{
		0x10, 0x20, 0x0C, 0x56, 0x61, 0x80, 0xEC, 0x11, 0xEC, 0x11, 0xEC, 0x11, 0xEC, 0x11, 0xEC, 0x11,
		0xA5, 0x24, 0xD4, 0xC1, 0xED, 0x36, 0xC7, 0x87, 0x2C, 0x55,
	}
	if !bytes.Equal(got, want) || level != 'M' {
		t.Errorf("level %c, codewords\n% X, want level M,\n% X", level, got, want)
	}
}

// The worked example of ISO/IEC 16022, annex O: 123456 in 10×10 modules.
func TestDataMatrixWorkedExample(t *testing.T) {
	s, err := Encode(DataMatrix, 0, "123456", 4, 203)
	if err != nil {
		t.Fatal(err)
	}
	if s.Size != 10 {
		t.Fatalf("size %d, want 10", s.Size)
	}
	want := []byte{142, 164, 186, 114, 25, 5, 88, 102}
	if got := dmCodewords10(s); !bytes.Equal(got, want) {
		t.Errorf("codewords %v, want %v", got, want)
	}
}

// ISO/IEC 18004, table 7: the alphanumeric capacity of versions 1 to 6. One
// character more makes the next version.
func TestQRCapacity(t *testing.T) {
	for l, capacities := range [4][]int{
		{25, 47, 77, 114, 154, 195}, // L
		{20, 38, 61, 90, 122, 154},  // M
		{16, 29, 47, 67, 87, 108},   // Q
		{10, 20, 35, 50, 64, 84},    // H
	} {
		level := "LMQH"[l]
		least := 1
		for i, capacity := range capacities {
			for _, n := range []int{least, capacity} {
				s, err := Encode(QR, level, payloadOf(n), 4, 300)
				if err != nil {
					t.Fatal(err)
				}
				if want := 21 + 4*i; s.Size != want {
					t.Errorf("%d characters at level %c: %d modules, want %d", n, level, s.Size, want)
				}
			}
			least = capacity + 1
		}
		_, err := Encode(QR, level, payloadOf(least), 4, 300)
		if e := (*PayloadError)(nil); !errors.As(err, &e) {
			t.Errorf("%d characters at level %c: error %v, want a *PayloadError", least, level, err)
		}
	}
}

// ISO/IEC 16022, table 7: data codewords by size; those of 32×32 and 36×36
// are from memory. A letter takes one codeword in ASCII encodation, and so
// does a pair of digits.
func TestDataMatrixCapacity(t *testing.T) {
	least := 1
	for _, c := range [][2]int{{10, 3}, {12, 5}, {14, 8}, {16, 12}, {18, 18}, {20, 22}, {22, 30}, {24, 36}, {26, 44},
		{32, 62}, {36, 86}} {
		for _, payload := range []string{
			strings.Repeat("A", least), strings.Repeat("A", c[1]),
			strings.Repeat("7", 2*least-1), strings.Repeat("7", 2*c[1]),
		} {
			s, err := Encode(DataMatrix, 0, payload, 4, 300)
			if err != nil {
				t.Fatal(err)
			}
			if s.Size != c[0] {
				t.Errorf("%q: %d modules, want %d", payload, s.Size, c[0])
			}
		}
		least = c[1] + 1
	}
	_, err := Encode(DataMatrix, 0, strings.Repeat("A", least), 4, 300)
	if e := (*PayloadError)(nil); !errors.As(err, &e) {
		t.Errorf("%d letters: error %v, want a *PayloadError", least, err)
	}
}

func TestEncodeRefuses(t *testing.T) {
	for _, c := range []struct {
		name    string
		kind    Kind
		level   byte
		payload string
		dots    int
		dpi     int
		want    string
	}{
		{"lower case", QR, 'M', "2026X012-b2", 4, 300,
			`code text "2026X012-b2", character 10: 'b' is not a character of a label's code; keep to 0–9, A–Z, space and $%*+-./:`},
		{"accent", QR, 'M', "É", 4, 300,
			`code text "É", character 1: 'É' (U+00C9) is not a character of a label's code; keep to 0–9, A–Z, space and $%*+-./:`},
		{"nothing", QR, 'M', "", 4, 300, `code text "": there is nothing in it; give an identifier`},
		{"long", QR, 'H', strings.Repeat("A", 85), 4, 300,
			`code text "` + strings.Repeat("A", 60) + `"…: its 85 characters are too many, 84 is the most; leave out what the registry knows`},
		{"level", QR, 'X', "A", 4, 300, "a QR code has no error correction level 'X': it has L, M, Q and H"},
		{"no level", QR, 0, "A", 4, 300, `a QR code has no error correction level '\x00': it has L, M, Q and H`},
		{"Data Matrix level", DataMatrix, 'L', "A", 4, 300, "a Data Matrix has no error correction level 'L': its size sets it"},
		{"kind", 0, 'L', "A", 4, 300, "there is no kind of code with number 0"},
		{"dots", QR, 'L', "A", 0, 300, "a module of 0 dots at 300 dpi cannot be printed: both must be at least 1"},
		{"dpi", QR, 'L', "A", 4, -1, "a module of 4 dots at -1 dpi cannot be printed: both must be at least 1"},
	} {
		_, err := Encode(c.kind, c.level, c.payload, c.dots, c.dpi)
		if err == nil || err.Error() != c.want {
			t.Errorf("%s:\n got %v\nwant %s", c.name, err, c.want)
		}
	}
}

// The symbols that most labels carry, to look at. That they can be read is
// shown by TestChosenCodesDecode.
func TestGoldens(t *testing.T) {
	const compact, full = "2026X012-B2.3/1", "2026X012-B2.3/1 7 SOWN 2027-01-14 LARKFIELD TESSEL X TARN AMBER"
	for _, c := range []struct {
		file    string
		kind    Kind
		level   byte
		payload string
	}{
		{"qr-compact.txt", QR, 'Q', compact},
		{"qr-full.txt", QR, 'L', full},
		{"datamatrix-compact.txt", DataMatrix, 0, compact},
		{"datamatrix-full.txt", DataMatrix, 0, full},
	} {
		s, err := Encode(c.kind, c.level, c.payload, 12, 600)
		if err != nil {
			t.Fatal(err)
		}
		got := s.String() + "\n" + s.Payload + "\n" + picture(s)
		file := filepath.Join("testdata", c.file)
		if *update {
			if err := os.WriteFile(file, []byte(got), 0o644); err != nil {
				t.Fatal(err)
			}
		}
		want, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		if got != string(want) {
			t.Errorf("%s: got\n%s\nwant\n%s", c.file, got, want)
		}
	}
}

// picture draws a symbol with # for dark and . for light.
func picture(s *Symbol) string {
	var b strings.Builder
	for y := range s.Size {
		for x := range s.Size {
			b.WriteByte(".#"[bit(s.Dark(x, y))])
		}
		b.WriteByte('\n')
	}
	return b.String()
}

// payloadOf is the first n characters of a long payload.
func payloadOf(n int) string {
	const long = "2026X012-B2.3/1 7 SOWN 2027-01-14 LARKFIELD TESSEL X TARN AMBER "
	return strings.Repeat(long, n/len(long)+1)[:n]
}
