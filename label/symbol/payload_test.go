package symbol

import (
	"errors"
	"strings"
	"testing"
	"unicode/utf8"

	"pipstake/ids"
)

var (
	pot   = ids.ID{Year: 2026, Cross: 12, Lot: 2, Pot: 2}
	cross = ids.ID{Year: 2026, Cross: 12}
)

const facts = "7 SOWN 2027-01-14 LARKFIELD TESSEL X TARN AMBER"

func TestPayloadString(t *testing.T) {
	for _, c := range []struct {
		payload       Payload
		compact, full string
	}{
		{Payload{ID: pot}, "2026X012-B2.3", "2026X012-B2.3"},
		{Payload{ID: pot, Copy: 1}, "2026X012-B2.3/1", "2026X012-B2.3/1"},
		{Payload{ID: pot, Copy: 2, Text: facts}, "2026X012-B2.3/2", "2026X012-B2.3/2 " + facts},
		{Payload{ID: pot, Text: facts}, "2026X012-B2.3", "2026X012-B2.3 " + facts},
	} {
		if got := c.payload.Compact(); got != c.compact {
			t.Errorf("compact: got %q, want %q", got, c.compact)
		}
		if got := c.payload.String(); got != c.full {
			t.Errorf("full: got %q, want %q", got, c.full)
		}
		if err := checkAlphabet(c.full); err != nil {
			t.Error(err)
		}
		got, notices, err := ParsePayload(c.full)
		if err != nil || got != c.payload || len(notices) > 0 {
			t.Errorf("ParsePayload(%q) = %+v, %q, %v, want %+v", c.full, got, notices, err, c.payload)
		}
	}
}

func TestParsePayload(t *testing.T) {
	for _, c := range []struct {
		text    string
		want    Payload
		notices int
	}{
		{"2026X012", Payload{ID: cross}, 0},
		{"2026x012b2", Payload{ID: pot}, 0},
		{" 2026X012-B2.3/1\r\n", Payload{ID: pot, Copy: 1}, 0},
		{"2026x012b2.3/12", Payload{ID: pot, Copy: 12}, 0},
		{"2026X012-B2.3\t" + strings.ToLower(facts), Payload{ID: pot, Text: facts}, 0}, // Caps Lock
		{"2026X012-B2.3/1   ABC  D", Payload{ID: pot, Copy: 1, Text: "ABC  D"}, 0},
		{"2026X012 - B2", Payload{ID: pot}, 1},
		{"2026X012–B2.3/1", Payload{ID: pot, Copy: 1}, 1},                       // en dash
		{"2O26XOI2-B2.3/1 " + facts, Payload{ID: pot, Copy: 1, Text: facts}, 2}, // letters O and I
	} {
		got, notices, err := ParsePayload(c.text)
		if err != nil || got != c.want || (len(notices) > 0) != (c.notices > 0) {
			t.Errorf("ParsePayload(%q) = %+v, %q, %v, want %+v with notices: %v", c.text, got, notices, err, c.want, c.notices > 0)
		}
	}
}

func TestParsePayloadRefuses(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{"2026X012-B2/1", `code text "2026X012-B2/1", character 12: the check character is missing before the rest; scan the code, or give "2026X012-B2" alone`},
		{"2026X012-B2 " + facts, `code text "2026X012-B2 7 SOWN 2027-01-14 LARKFIELD TESSEL X TARN AMBER", character 12: the check character is missing before the rest; scan the code, or give "2026X012-B2" alone`},
		{"2026X012-B2.3/", `code text "2026X012-B2.3/", character 15: "" is not the number of a copy; write /1 or /2, or leave it out`},
		{"2026X012-B2.3/0", `code text "2026X012-B2.3/0", character 15: "0" is not the number of a copy; write /1 or /2, or leave it out`},
		{"2026X012-B2.3/01", `code text "2026X012-B2.3/01", character 15: "01" is not the number of a copy; write /1 or /2, or leave it out`},
		{"2026X012-B2.3/+1 A", `code text "2026X012-B2.3/+1 A", character 15: "+1" is not the number of a copy; write /1 or /2, or leave it out`},
		{"2026X012-B2.3/100", `code text "2026X012-B2.3/100", character 15: "100" is not the number of a copy; write /1 or /2, or leave it out`},
		{"2026X012-B2.3/1/2", `code text "2026X012-B2.3/1/2", character 15: "1/2" is not the number of a copy; write /1 or /2, or leave it out`},
		{"2026X012-B2.3 7 SOWN 2027ß01", `code text "2026X012-B2.3 7 SOWN 2027ß01", character 26: 'ß' (U+00DF) is in no label's code; give the identifier alone, and look at the scanner's keyboard layout`},
		{"2026X012-B2.3 A\x1b[2J", `code text "2026X012-B2.3 A\x1b[2J", character 16: '\x1b' (U+001B) is in no label's code; give the identifier alone, and look at the scanner's keyboard layout`},
		{"2026X012-B2.3 A\xff", `code text "2026X012-B2.3 A\xff", character 16: '�' (U+FFFD) is in no label's code; give the identifier alone, and look at the scanner's keyboard layout`},
		{"2026X012-B2.3 " + strings.Repeat("A", 182), `code text "2026X012-B2.3 ` + strings.Repeat("A", 46) + `"…: it is longer than any label's code; scan one code at a time`},
	} {
		_, _, err := ParsePayload(c.text)
		if !errors.As(err, new(*PayloadError)) || err.Error() != c.want {
			t.Errorf("ParsePayload(%q):\n got %v\nwant %s", c.text, err, c.want)
		}
	}
}

// What the identifier itself gets wrong is said as ids says it.
func TestParsePayloadIdentifierErrors(t *testing.T) {
	for _, text := range []string{"", "HTTPS://WWW.LARKFIELD.EXAMPLE/1", "2026X12", "2026X012-B2.", "2026X012-В2.3/1"} {
		_, _, err := ParsePayload(text)
		if !errors.As(err, new(*ids.ParseError)) {
			t.Errorf("ParsePayload(%q): error %v, want an *ids.ParseError", text, err)
		}
	}
	for _, text := range []string{"2026X012-B2.K", "2026X012-B2.K/1", "2026X012-B3.H/1 " + facts} {
		_, _, err := ParsePayload(text)
		if !errors.As(err, new(*ids.CheckError)) {
			t.Errorf("ParsePayload(%q): error %v, want an *ids.CheckError", text, err)
		}
	}
}

// Any single letter or digit of an identifier misread is found out (ISO/IEC
// 7064: MOD 37,36 detects all substitutions), whatever follows. A hyphen misread
// is one character more for the check, which may match one of the 36.
func TestMisreadCodesAreRefused(t *testing.T) {
	full := Payload{ID: pot, Copy: 1, Text: facts}.String()
	for i := range len("2026X012-B2.3") {
		var taken []string
		for _, r := range []byte(alphabet) {
			text := []byte(full)
			if text[i] == r {
				continue
			}
			text[i] = r
			if got, _, err := ParsePayload(string(text)); err == nil && got.ID != pot {
				taken = append(taken, string(text))
			}
		}
		most := 0
		if full[i] == '-' {
			most = 1
		}
		if len(taken) > most {
			t.Errorf("character %d misread: %q are taken for codes", i+1, taken)
		}
	}
}

// What is read, written and read again stays the same, and nothing panics.
func FuzzParsePayload(f *testing.F) {
	f.Add("2026X012-B2.3/1 " + facts)
	f.Fuzz(func(t *testing.T, text string) {
		p, _, err := ParsePayload(text)
		if err != nil {
			if err.Error() == "" || strings.ContainsFunc(err.Error(), func(r rune) bool { return r < ' ' || r == 0x7f }) {
				t.Errorf("ParsePayload(%q): error %q", text, err)
			}
			return
		}
		again, notices, err := ParsePayload(p.String())
		if err != nil || again != p || len(notices) > 0 {
			t.Errorf("%q is read as %+v, written as %q and read as %+v, %q, %v", text, p, p.String(), again, notices, err)
		}
		if utf8.RuneCountInString(text) < maxPayload-10 { // room for the hyphens that are written
			if _, err := chosen(Room{W: 40, H: 40, DPI: 600}, p.String()); err != nil {
				t.Errorf("%q makes no code: %v", p.String(), err)
			}
		}
	})
}
