package symbol

import (
	"errors"
	"strings"
	"testing"

	"github.com/boombuler/barcode/datamatrix"

	"pipstake/ids/problem"
)

// A room may be as large as the largest, and no larger.
func TestRoomsAtTheBounds(t *testing.T) {
	const compact = "2026X012-B2.3/1"
	for _, c := range []struct {
		room Room
		ok   bool
	}{
		{Room{10_000, 20, 300}, true}, {Room{20, 10_000, 300}, true}, {Room{10_001, 20, 300}, false}, {Room{20, 10_001, 300}, false},
		{Room{20, 0, 300}, false}, {Room{-20, 20, 300}, false}, {Room{20, -20, 300}, false},
		{Room{200, 200, 10_000}, true}, {Room{200, 200, 10_001}, false}, {Room{200, 200, 0}, false}, {Room{200, 200, -1}, false}, {Room{5000, 5000, 1}, true},
	} {
		if _, err := Choose(c.room, compact); (err == nil) != c.ok {
			t.Errorf("%+v: %v", c.room, err)
		}
	}
	for _, small := range []Room{{0.5, 20, 300}, {20, 0.5, 300}} { // a room, though a small one
		if _, err := Choose(small, compact); !errors.As(err, new(*TooSmallError)) {
			t.Errorf("%+v: %v", small, err)
		}
	}
}

// Dots of a tenth of a millimetre make measures that come out even: a module of
// four dots is 0.40 mm and no less, and one of five has the 0.50 mm from which on
// level H is worth more than Q. A Data Matrix of 10×10 modules needs 12×12.
func TestEvenMeasures(t *testing.T) {
	const tenth = 254 // dots in an inch
	for _, c := range []struct {
		side    float64
		payload string
		want    string
	}{
		{4.8, "123456", "Data Matrix 10×10, module 0.40 mm"},
		{11.6, "2026X012.M", "QR 21×21, level H, module 0.40 mm"},
		{16.5, "2026X012-B2.3/1", "QR 25×25, level H, module 0.50 mm"},
		{17.4, "2026X012-B2.3/1", "QR 25×25, level H, module 0.50 mm"}, // level Q would have 0.60 mm
		{16.4, "2026X012-B2.3/1", "QR 21×21, level Q, module 0.50 mm"}, // level H would have 0.40 mm
	} {
		got, err := chosen(Room{c.side, c.side, tenth}, c.payload)
		if err != nil || got.String() != c.want {
			t.Errorf("%s in %.1f mm: %v, %v, want %s", c.payload, c.side, got, err, c.want)
		}
	}
	// At 720 dpi eleven dots are 0.388 mm, so that twelve are the least, 0.423 mm.
	if got, err := chosen(Room{5.1, 5.1, 720}, "123456"); err != nil || got.Dots != 12 {
		t.Errorf("at 720 dpi: %v, %v", got, err)
	}
	_, err := Choose(Room{5, 5, 720}, "123456")
	if err == nil || !strings.HasSuffix(err.Error(), "it needs a square of at least 5.1 mm") {
		t.Error(err)
	}
	_, err = Choose(Room{4.7, 4.7, tenth}, "123456")
	if err == nil || !strings.HasSuffix(err.Error(), "it needs a square of at least 4.8 mm") {
		t.Error(err)
	}
}

// Where two payloads need as little room, the one that stands first is named.
func TestTooSmallNamesThePreferred(t *testing.T) {
	_, err := Choose(Room{3, 3, 300}, "2026X012-B2.3/1", "2026X012-B2.3/2")
	var small *TooSmallError
	if !errors.As(err, &small) || small.Payload != "2026X012-B2.3/1" {
		t.Error(err)
	}
}

// What is wrong with a code text and with a room is told with what would do.
func TestProblemsOfCodes(t *testing.T) {
	_, small := Choose(Room{7, 20, 300}, "2026X012-B2.3/1")
	_, lower := Encode(QR, 'M', "2026X012-b2", 4, 300)
	_, empty := Encode(QR, 'M', "", 4, 300)
	for _, c := range []struct {
		err          error
		what, remedy string
	}{
		{small, small.Error(), "choose a larger stock: {stocks}"},
		{lower, "\"2026X012-b2\", character 10: 'b' is not a character of a label's code", "keep to 0–9, A–Z, space and $%*+-./:"},
		{empty, ": there is nothing in it", "give an identifier"},
	} {
		got := problem.First(c.err)
		if got.Kind != problem.OfUse || got.Remedy != c.remedy || !strings.HasSuffix(got.What, c.what) {
			t.Errorf("%+v\nwant %s; %s", got, c.what, c.remedy)
		}
		if strings.Contains(got.What, "character 0") {
			t.Errorf("the whole text is at fault: %s", got.What)
		}
	}
}

// The digits are 0 to 9: the encoder sets each pair of them into one codeword,
// and the characters beside them in ASCII, / and :, into one each.
func TestPairsOfDigits(t *testing.T) {
	for _, pair := range []string{"00", "99", "09", "90", "//", "::", "/0", "9:"} {
		payload := strings.Repeat(pair, 5)
		code, err := datamatrix.Encode(payload)
		if err != nil {
			t.Fatal(err)
		}
		s, err := chosen(Room{8.5, 8.5, 600}, payload)
		if err != nil || s.Kind != DataMatrix || s.Size != code.Bounds().Dx() {
			t.Errorf("%s: %v, %v, want %d modules", payload, s, err, code.Bounds().Dx())
		}
	}
	if err := checkAlphabet(alphabet); err != nil {
		t.Error(err)
	}
}

// A code of a batch has room for another payload where that needs as much, of
// characters or of a Data Matrix's codewords, and not where it needs more.
func TestOutgrows(t *testing.T) {
	for _, c := range []struct {
		a, b string
		want bool
	}{
		{"2026X012-B2.3", "2026X012-B2.3", false},
		{"2026X012-B2.3/1", "2026X012-B2.3", true},
		{"2026X012-B2.3", "2026X012-B2.3/1", false},
		{"AAAA", "1111", true},     // as long, but of four codewords and not two
		{"1111", "AAAA", false},    // the other way round
		{"111111", "AAAA", true},   // longer, of three codewords
		{"AAA", "111111", false},   // shorter, of as many
		{"AAAA", "111111", true},   // shorter, of one codeword more
		{"11111111", "AAAA", true}, // longer, of as many
	} {
		if got := Outgrows(c.a, c.b); got != c.want {
			t.Errorf("Outgrows(%q, %q) = %v", c.a, c.b, got)
		}
	}
}

// A Data Matrix of 16×16 modules carries up to 12 codewords, and none that are in
// no Data Matrix in use.
func TestCarryingFillsADataMatrix(t *testing.T) {
	matrix := Choice{Kind: DataMatrix, Size: 16, Payload: "2026X012-B2.3/1", Dots: 10, DPI: 600}
	c, ok := matrix.Carrying("ABCDEFGHIJKL")
	if s, err := c.Encode(); !ok || err != nil || c.Size != 16 || s.Choice != c {
		t.Errorf("12 codewords: %v, %v, %v", c, ok, err)
	}
	if c, ok := matrix.Carrying(strings.Repeat("A", 100)); ok {
		t.Errorf("100 codewords: %v", c)
	}
}

// The longest text that is a code, and copies up to the last.
func TestLongestPayload(t *testing.T) {
	const head = "2026X012-B2.3/99 "
	longest := head + strings.Repeat("A", maxPayload-len(head))
	for _, text := range []string{longest, "2026X012-B2.3/99", "2026X012-B2.3/1"} {
		if p, _, err := ParsePayload(text); err != nil || p.String() != text {
			t.Errorf("%q: %q, %v", text, p, err)
		}
	}
	if p, _, err := ParsePayload(longest + "A"); err == nil {
		t.Errorf("a character too many: %q", p)
	}
	if _, err := chosen(Room{60, 60, 600}, longest); err != nil {
		t.Error(err)
	}
}

// Every letter is folded, and signs between words part them.
func TestFoldLettersAndSigns(t *testing.T) {
	for name, want := range map[string]string{
		"abcdefghijklmnopqrstuvwxyz": "ABCDEFGHIJKLMNOPQRSTUVWXYZ",
		"Tarn&Amber":                 "TARN AMBER",
		"Tarn(Amber)":                "TARN AMBER",
		"Tarn\ufffdAmber":            "TARN AMBER", // a sign that stands there, unlike text that is broken
		"Tarn\u0085Amber":            "TARN AMBER", // next line
	} {
		if got, err := Fold(name); err != nil || got != want {
			t.Errorf("Fold(%q) = %q, %v, want %q", name, got, err, want)
		}
	}
	lower := "2026x012-b2.3 " + strings.ToLower("ABCDEFGHIJKLMNOPQRSTUVWXYZ")
	if p, _, err := ParsePayload(lower); err != nil || p.Text != "ABCDEFGHIJKLMNOPQRSTUVWXYZ" {
		t.Errorf("%q: %q, %v", lower, p, err)
	}
}

// A code of a size that was chosen for less is refused, with what it holds
// (ISO/IEC 18004, table 7: version 1-M, 20 characters).
func TestNoRoomForALongerPayload(t *testing.T) {
	c := Choice{Kind: QR, Level: 'M', Size: 21, Payload: payloadOf(20), Dots: 4, DPI: 300}
	if s, err := c.Encode(); err != nil || s.Size != 21 {
		t.Errorf("%v, %v", s, err)
	}
	c.Payload = payloadOf(21)
	if s, err := c.Encode(); err == nil || !strings.Contains(err.Error(), "its 21 characters are too many, 20 is the most") {
		t.Errorf("%v, %v", s, err)
	}
}
