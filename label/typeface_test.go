package label

import (
	"errors"
	"math"
	"strings"
	"testing"

	"codeberg.org/go-fonts/liberation/liberationsansregular"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/opentype"
	"golang.org/x/image/math/fixed"

	"pipstake/ids"
)

// liberation is a font that holds letters which the Go fonts lack.
func liberation(t *testing.T) *Typeface {
	t.Helper()
	names, err := NewTypeface("Names", "", liberationsansregular.TTF)
	if err != nil {
		t.Fatal(err)
	}
	return names
}

// Widths agree with those that golang.org/x/image/font/opentype measures.
func TestWidthAgreesWithOpentype(t *testing.T) {
	f, err := opentype.Parse(goregular.TTF)
	if err != nil {
		t.Fatal(err)
	}
	const size = 1000
	face, err := opentype.NewFace(f, &opentype.FaceOptions{Size: size, DPI: 72})
	if err != nil {
		t.Fatal(err)
	}
	for _, text := range []string{"2026X012-B2.3", "♀ × ♂", "Błota Struga", ""} {
		var sum fixed.Int26_6
		for _, r := range text {
			a, _ := face.GlyphAdvance(r)
			sum += a
		}
		want := float64(sum) / 64 / size
		if got := Regular.Width(text); math.Abs(got-want) > 1e-3*float64(1+len(text)) {
			t.Errorf("%q is %.4f em wide, opentype says %.4f", text, got, want)
		}
	}
}

// The Go fonts hold what every face needs, the slashed zero apart, which only
// the eye can tell.
func TestGoFontsHoldTheSigns(t *testing.T) {
	for _, face := range []*Typeface{Regular, Bold} {
		for _, r := range "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ-./♀×♂…" {
			if !face.Has(r) {
				t.Errorf("%s lacks %q", face.Name, r)
			}
		}
	}
}

func TestFontForNames(t *testing.T) {
	names := liberation(t)
	for _, c := range []struct {
		name  string
		names *Typeface
		face  *Typeface // nil where it cannot be set
	}{
		{"Larkfield Tessel", names, Regular},
		{"Đệ Nhất", nil, nil},
		{"Đệ Nhất", names, names},
		{"Яблоко", names, Regular},
		{"梨", names, nil},
	} {
		face, err := faceFor(compose(c.name), c.names)
		if face != c.face || (err == nil) != (c.face != nil) {
			t.Errorf("%q: face %v, error %v", c.name, face, err)
		}
	}
	var script *ScriptError
	if err := Printable("תפוח", names); !names.Has('ת') || !errors.As(err, &script) {
		t.Errorf("a name from right to left is not refused though the font has its letters: %v", err)
	}
	r := rooms[0]
	r.DPI, r.Names = 600, names
	d, err := Stake{ID: longest.At(ids.PotLevel), Copy: 1, Seeds: 7, Sown: "2027-01-14", SeedParent: "Đệ Nhất", PollenParent: "Tarn Amber"}.Fit(r)
	if err != nil {
		t.Fatal(err)
	}
	var set []string
	for _, x := range d.Texts {
		if x.Face == names {
			set = append(set, x.String)
		}
	}
	if strings.Join(set, " ") != "Đệ Nhất" {
		t.Errorf("set in the font for names: %q", set)
	}
	if fault := faultOf(d); fault != "" {
		t.Error(fault)
	}
}
