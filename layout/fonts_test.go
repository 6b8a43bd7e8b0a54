package layout

import (
	"bytes"
	"encoding/binary"
	"io"
	"math/rand/v2"
	"os"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"codeberg.org/go-fonts/liberation/liberationsansregular"

	"pipstake/label"
)

// printed stands for standard output: one file for all fonts, since making one for
// each takes many times longer than setting a font.
var printed = sync.OnceValues(func() (*os.File, error) {
	f, err := os.CreateTemp("", "")
	if err == nil {
		os.Remove(f.Name()) // where it is open, it may have a name no more, or keeps it
	}
	return f, err
})

// setIn writes a page that says text in the font, if the font has its letters,
// and reports whether it did. Whatever the font is, nothing panics, and nothing
// that a library prints gets to standard output.
func setIn(t testing.TB, font []byte, text string) (page []byte) {
	t.Helper()
	stdout, err := printed()
	if err != nil {
		t.Fatal(err)
	}
	defer func(was *os.File) { os.Stdout = was }(os.Stdout)
	os.Stdout = stdout

	face, err := label.NewTypeface("Names", "", font)
	if err == nil && !strings.ContainsFunc(text, func(r rune) bool { return !face.Has(r) }) {
		var pdf bytes.Buffer
		d := document{paper: Paper{W: 210, H: 297}, title: "font", created: time.Unix(0, 0)}
		if err := d.write(&pdf, []side{{texts: []label.Text{{String: text, Face: face, Size: 10, X: 20, Baseline: 40}}}}); err != nil {
			t.Errorf("a font was taken that cannot be set: %v", err)
		}
		page = pdf.Bytes()
	}
	if said, err := stdout.Seek(0, io.SeekEnd); err != nil || said > 0 {
		t.Errorf("%d bytes were printed to standard output (%v)", said, err)
	}
	return page
}

// What others reported of fonts in the library that embeds them (gofpdf#250 and
// #251: no name table, damaged places of outlines, maps of format 12) and a few
// hundred more, damaged at random, are set as they should be or refused. The
// same seed always gives the same damage.
func TestDamagedFonts(t *testing.T) {
	if testing.Short() {
		t.Skip("takes long")
	}
	const text = "Błota"
	sound := open(t, setIn(t, liberationsansregular.TTF, text)).Render
	want, err := sound(1, 100)
	if err != nil {
		t.Fatal(err)
	}
	rng := rand.New(rand.NewPCG(16, 2))
	count := 240
	if testing.Short() {
		count = 60
	}
	drawn := 0
	for n := range count {
		font := damaged(slices.Clone(liberationsansregular.TTF), n, rng)
		page := setIn(t, font, text)
		if page == nil {
			continue
		}
		drawn++
		img, err := open(t, page).Render(1, 100)
		if err != nil {
			t.Fatalf("font %d: %v", n, err)
		}
		if ink(img.Pix) == 0 || n%4 == 0 && ink(img.Pix) != ink(want.Pix) {
			t.Errorf("font %d, its outlines unharmed, is drawn otherwise", n)
		}
	}
	if drawn < count/4 || drawn == count {
		t.Errorf("%d of %d fonts were set", drawn, count)
	}
}

// ink counts dark pixels.
func ink(pix []byte) (n int) {
	for _, p := range pix {
		if p < 128 {
			n++
		}
	}
	return n
}

// damaged spoils a font in one of four ways: tables of which drawing needs none
// lose some bytes, the list of tables does, any table does, or the file is cut
// off.
func damaged(font []byte, n int, rng *rand.Rand) []byte {
	tables := int(binary.BigEndian.Uint16(font[4:]))
	table := func(i int) (tag string, data []byte) {
		r := font[12+16*i:]
		at, size := binary.BigEndian.Uint32(r[8:]), binary.BigEndian.Uint32(r[12:])
		return string(r[:4]), font[at : at+size]
	}
	spoil := func(data []byte, count int) {
		for range count {
			data[rng.IntN(len(data))] = byte(rng.Uint32())
		}
	}
	switch n % 4 {
	case 0:
		for i := range tables {
			if tag, data := table(i); slices.Contains([]string{"name", "post", "kern", "GPOS", "GSUB", "GDEF"}, tag) {
				spoil(data[:min(64, len(data))], 8)
			}
		}
	case 1:
		spoil(font[4:12+16*tables], 1+rng.IntN(3))
	case 2:
		_, data := table(rng.IntN(tables))
		spoil(data[:min(1<<rng.IntN(12), len(data))], 1+rng.IntN(20))
	case 3:
		font = font[:rng.IntN(len(font))]
	}
	return font
}

// FuzzFont does the same with whatever comes. The corpus holds small fonts of
// two letters, one of them with a part of the other.
func FuzzFont(f *testing.F) {
	f.Fuzz(func(t *testing.T, font []byte) {
		if len(font) > 1<<16 {
			t.Skip()
		}
		if setIn(t, font, "AB") == nil {
			setIn(t, font, "A")
		}
	})
}
