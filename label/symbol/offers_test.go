package symbol_test

import (
	"strings"
	"testing"

	"pipstake/ids"
	"pipstake/label/symbol"
)

// offered are the offers of a code for a text, by why.
func offered(t *testing.T, text, want string) []string {
	t.Helper()
	var whys []string
	for _, o := range symbol.Offers(text) {
		if o.Payload.String() == want {
			whys = append(whys, o.Why)
		}
	}
	return whys
}

// Each offer says what then went wrong, at the first character, in the middle
// and at the last one.
func TestOffersSayWhy(t *testing.T) {
	for _, c := range []struct{ text, want, why string }{
		{"22026X012-B2.3/1", "2026X012-B2.3/1", `"2" was typed twice`},
		{"2026X012-B2..3/1", "2026X012-B2.3/1", `"." was typed twice`},
		{"2026X012-B2.33", "2026X012-B2.3", `"3" was typed twice`},
		{"026X012-B2.3/1", "2026X012-B2.3/1", `"2" was lost`},
		{"2026X012-2.3/1", "2026X012-B2.3/1", `"B" was lost`},
		{"2026X012-B2.", "2026X012-B2.3", `"3" was lost`},
		{"2026X012-B2.3/", "2026X012-B2.3/1", `"1" was lost`},
		{"Z026X012-B2.3", "2026X012-B2.3", `"2" was taken for "Z"`},
		{"2026X0lZ-B2.3", "2026X012-B2.3", `"1" was taken for "l" and "2" was taken for "Z"`},
		{"2026X012-B2..3/1 7 SOWN TARN X LARKFIELD", "2026X012-B2.3/1 7 SOWN TARN X LARKFIELD", `"." was typed twice`},
		{"2026X012-2.3 7 SOWN TARN X LARKFIELD", "2026X012-B2.3 7 SOWN TARN X LARKFIELD", `"B" was lost`},
		{"2026X012-BZ.3 7 SOWN TARN X LARKFIELD", "2026X012-B2.3 7 SOWN TARN X LARKFIELD", `"2" was taken for "Z"`},
	} {
		if got := offered(t, c.text, c.want); len(got) != 1 || got[0] != c.why {
			t.Errorf("Offers(%q) give %s: %q, want %s", c.text, c.want, got, c.why)
		}
	}
}

// A text as long as the longest code is looked at, and none that is longer.
func TestOffersForLongTexts(t *testing.T) {
	const head = "2026X012-B2..3/1 "
	longest := head + strings.Repeat("A", 195-len(head)) // the most of version 6-L, ISO/IEC 18004
	if len(symbol.Offers(longest)) != 1 || len(symbol.Offers(longest+"A")) != 0 {
		t.Errorf("%d offers for 195 characters, %d for one more", len(symbol.Offers(longest)), len(symbol.Offers(longest+"A")))
	}
}

// No offer supposes what was not so: that each character was typed twice where
// the two differ, or that one character was taken for another that was taken
// for a third.
func TestOffersSupposeLittle(t *testing.T) {
	between := ""
	for _, c := range "2026X012-B2.3" {
		between += string(c) + "7"
	}
	for _, o := range symbol.Offers(between) {
		t.Errorf("Offers(%q): %+v", between, o)
	}
	for _, text := range []string{"22002266XX001122--BB22..3", "22002266XX001122--BB22..334"} {
		for _, o := range symbol.Offers(text) {
			t.Errorf("Offers(%q): %+v", text, o)
		}
	}
	g := ids.ID{Year: 2026, Cross: 12, Lot: 7, Pot: 3} // lot G
	text := strings.Replace(g.WithCheck(), "-G", "-b", 1)
	for _, o := range symbol.Offers(text) { // b for 6, and that for G
		if o.Payload.ID == g {
			t.Errorf("Offers(%q): %+v", text, o)
		}
	}
}

// A message counts all codes that ran together, and names no more than four.
func TestManyCodesRunTogether(t *testing.T) {
	var codes []string
	for pot := 1; pot <= 6; pot++ {
		codes = append(codes, ids.ID{Year: 2026, Cross: 12, Lot: 2, Pot: pot}.WithCheck())
	}
	for n, want := range map[int]string{
		2: "two codes ran together, " + codes[0] + " and " + codes[1] + ";",
		3: "3 codes ran together, " + codes[0] + ", " + codes[1] + " and " + codes[2] + ";",
		4: "4 codes ran together, " + codes[0] + ", " + codes[1] + ", " + codes[2] + " and " + codes[3] + ";",
		6: "6 codes ran together, " + codes[0] + ", " + codes[1] + ", " + codes[2] + ", " + codes[3] + " and 2 more;",
	} {
		if _, _, err := symbol.ParseScan(strings.Join(codes[:n], "\t")); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%d codes: %v\nwant %s", n, err, want)
		}
	}
}

// A tab ends a code: what stands behind it came from somewhere else, even where
// it looks like the text of a label.
func TestTabEndsACode(t *testing.T) {
	for text, want := range map[string]string{
		"2026X012-B2.3\tLARKFIELD X TARN":                  "2026X012-B2.3",
		"2026X012-B2.3 TARN X LARKFIELD\tLARKFIELD X TARN": "2026X012-B2.3 TARN X LARKFIELD",
	} {
		p, notices, err := symbol.ParseScan(text)
		if err != nil || p.String() != want || len(notices) != 1 || notices[0] != `left out "LARKFIELD X TARN" after it` {
			t.Errorf("ParseScan(%q) = %q, %q, %v", text, p, notices, err)
		}
	}
}

// A letter or digit right behind a copy's number may be what the number ran into,
// so that the copy is not known; another sign is not.
func TestCopyRunIntoWhatFollows(t *testing.T) {
	for _, c := range "09AZaz" {
		text := "2026X012-B2.3/12" + string(c)
		p, notices, err := symbol.ParseScan(text)
		if want := `left out "/12` + string(c) + `" after it`; err != nil || p.String() != "2026X012-B2.3" || len(notices) != 1 || notices[0] != want {
			t.Errorf("ParseScan(%q) = %q, %q, %v, want %s", text, p, notices, err, want)
		}
	}
	for _, c := range "/:@[`{" {
		text := "2026X012-B2.3/12" + string(c)
		if p, _, err := symbol.ParseScan(text); err != nil || p.String() != "2026X012-B2.3/12" {
			t.Errorf("ParseScan(%q) = %q, %v", text, p, err)
		}
	}
}

// Where the number of a copy was lost, each of the nine that have one digit may
// have been meant.
func TestEveryCopyIsOffered(t *testing.T) {
	copies := map[int]bool{}
	for _, o := range symbol.Offers("2026X012-B2.3/") {
		copies[o.Payload.Copy] = true
	}
	for n := 1; n <= 9; n++ {
		if !copies[n] {
			t.Errorf("copy %d is not offered: %v", n, copies)
		}
	}
}

// A notice on how an identifier was read is kept, with and without the text of a
// label: here the check character 0, typed as the letter O.
func TestNoticesOfTheIdentifierAreKept(t *testing.T) {
	id := ids.ID{Year: 2026, Cross: 1}
	for !strings.HasSuffix(id.WithCheck(), ".0") {
		id.Cross++
	}
	code := strings.TrimSuffix(id.WithCheck(), "0") + "O"
	_, want, err := symbol.ParsePayload(code)
	if err != nil || len(want) != 1 {
		t.Fatalf("%s: %q, %v", code, want, err)
	}
	for _, text := range []string{code, code + " TARN AMBER X LARKFIELD"} {
		p, notices, err := symbol.ParseScan(text)
		if err != nil || p.ID != id || len(notices) != 1 || notices[0] != want[0] {
			t.Errorf("ParseScan(%q) = %s, %q, %v, want %q", text, p, notices, err, want)
		}
	}
}
