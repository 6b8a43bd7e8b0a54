package symbol_test

import (
	"strings"
	"testing"

	"pipstake/label/symbol"
)

// What scanners are set to send around a code, and case that came out wrong:
// the check character proves the code, and what was left out is told.
func TestParseScanRecognises(t *testing.T) {
	const full = "2026X012-B2.3/1 7 SOWN 2027-01-14 LARKFIELD TESSEL X TARN AMBER"
	for _, c := range []struct{ text, want, notices string }{
		{"2026X012-B2.3/1", "2026X012-B2.3/1", ""},
		{full, full, ""},
		{strings.ToLower(full), full, ""}, // Caps Lock, or Shift lost
		{"2026x012-b2.3", "2026X012-B2.3", ""},
		// Symbology identifiers of ISO/IEC 15424: ]Q for QR, ]d for Data Matrix.
		{"]Q12026X012-B2.3/1", "2026X012-B2.3/1", `left out "]Q1" before it`},
		{"]d22026X012-B2.3/2", "2026X012-B2.3/2", `left out "]d2" before it`},
		{"]Q1" + full, full, `left out "]Q1" before it`},
		{"\x022026X012-B2.3/1\x03", "2026X012-B2.3/1", `left out "\x02" before it; left out "\x03" after it`},
		{"2026X012-B2.3/1\x1d", "2026X012-B2.3/1", `left out "\x1d" after it`},
		{"Q2026X012-B2.3", "2026X012-B2.3", `left out "Q" before it`},
		{"0042026X012-B2.3", "2026X012-B2.3", `left out "004" before it`},
		{"2026X012-B2.3/1\t2027-03-01\t10:15", "2026X012-B2.3/1", `left out "2027-03-01\t10:15" after it`},
		{"frame 3: 2026x012-b2.3", "2026X012-B2.3", `left out "frame 3:" before it`},
		{"\"2026X012-B2.3\",1", "2026X012-B2.3", `left out "\"" before it; left out "\",1" after it`},
		{full + " [EOT]", "2026X012-B2.3/1", `left out "7 SOWN 2027-01-14 LARKFIELD TESSEL X TARN AMBER [EOT]" after it`},
		{"2026X012-B2.32026X012-B2.3", "2026X012-B2.3", "the same code stood there more than once"},
	} {
		p, notices, err := symbol.ParseScan(c.text)
		if err != nil || p.String() != c.want || strings.Join(notices, "; ") != c.notices {
			t.Errorf("ParseScan(%q) = %q, %q, %v\nwant %q, %q", c.text, p, notices, err, c.want, c.notices)
		}
	}
}

// What the check character does not prove is refused.
func TestParseScanRefuses(t *testing.T) {
	for text, want := range map[string]string{
		"2026X012ßB2":                     `identifier "2026X012ßB2", character 9: 'ß' (U+00DF) stands in no identifier; use only letters A to Z, digits and hyphens`,
		"]Q12026X012-B2.K":                `identifier "]Q12026X012-B2.K", character 1: ']' stands in no identifier; use only letters A to Z, digits and hyphens`,
		"Q2026X012-B2":                    `identifier "Q2026X012-B2", character 1: a year of four digits comes first; write it like "2026X012-B2"`,
		"2026X012-B22.H":                  `identifier "2026X012-B22.H": the check character is H, but that of 2026X012-B22 is 2; compare each character with the label`,
		"2026X012-B2.3\t2026X012-B1.5":    `code text "2026X012-B2.3\t2026X012-B1.5": two codes ran together, 2026X012-B2.3 and 2026X012-B1.5; scan them one by one, and set the scanner to send Enter after each`,
		"2026X012-B2.3/12026X012-B2.3/1":  `code text "2026X012-B2.3/12026X012-B2.3/1": two codes ran together, 2026X012-B2.3 and 2026X012-B2.3/1; scan them one by one, and set the scanner to send Enter after each`, // copy 1 or copy 12
		"2026X012-B2.3/1;2026X012-B2.3/2": `code text "2026X012-B2.3/1;2026X012-B2.3/2": two codes ran together, 2026X012-B2.3/1 and 2026X012-B2.3/2; scan them one by one, and set the scanner to send Enter after each`,
	} {
		if p, _, err := symbol.ParseScan(text); err == nil || err.Error() != want {
			t.Errorf("ParseScan(%q) = %s, %v\nwant %s", text, p, err, want)
		}
	}
}

// Codes run together where a scanner sends nothing after each, whole, without
// their text or cut short. Every mixture of two or three is refused, or one of
// them is read as it is: never a code with a text that is not its own, which
// would look like a label that no longer agrees.
func TestCodesRunTogether(t *testing.T) {
	codes := []string{
		"2026X012-B2.3/1 7 SOWN 2027-01-14 LARKFIELD TESSEL X TARN AMBER",
		"2026X013-A.K LARKFIELD TESSEL X 2021X007-A3-B",
		"2026X001-A1.X/2 12 SOWN TARN AMBER X GWENNOL GOCH",
	}
	own := map[string]string{} // the text of each
	parts := make([][]string, len(codes))
	for i, code := range codes {
		p, _, err := symbol.ParsePayload(code)
		if err != nil {
			t.Fatal(err)
		}
		own[p.ID.String()] = p.Text
		const least = len("2026X012")
		for n := least; n <= len(code); n++ {
			if code[n-1] != ' ' { // as a word of its own, what follows may be a name
				parts[i] = append(parts[i], code[:n])
			}
		}
	}
	tried, read := 0, 0
	try := func(s string) {
		tried++
		p, _, err := symbol.ParseScan(s)
		if err != nil {
			return
		}
		read++
		if text, ok := own[p.ID.String()]; !ok || p.Text != "" && p.Text != text {
			t.Errorf("ParseScan(%q) = %q", s, p)
		}
	}
	for i := range codes {
		for j := range codes {
			for a, first := range parts[i] {
				for b, second := range parts[j] {
					for _, between := range []string{"", " ", "\t", "]Q1"} {
						if i == j && (a != b || a < len(parts[i])-1) {
							continue // a code and a part of itself
						}
						if between == " " && (a < len(parts[i])-1 || !strings.ContainsAny(second, "./")) {
							continue // it may be one of several parents in a mixture
						}
						try(first + between + second)
					}
					if a%7 == 0 && b%7 == 0 {
						for _, third := range codes {
							try(first + second + third)
						}
					}
				}
			}
		}
	}
	if tried < 10_000 || read == 0 || read == tried {
		t.Errorf("%d mixtures, %d read", tried, read)
	}
	for text, want := range map[string]string{
		codes[0] + codes[1]:                        "two codes ran together, 2026X012-B2.3/1 and 2026X013-A.K",
		codes[0] + "2026X013-A.K":                  "two codes ran together, 2026X012-B2.3/1 and 2026X013-A.K",
		"2026X012-B2" + codes[1]:                   `2026X013-A.K and a part of another code ran together, "2026X012-B2"`,
		codes[0] + "2026X013-A":                    `2026X012-B2.3/1 and a part of another code ran together, "2026X013-A"`,
		codes[1] + codes[0] + codes[2]:             "3 codes ran together, 2026X013-A.K, 2026X012-B2.3/1 and 2026X001-A1.X/2",
		codes[2] + codes[2] + codes[2] + "2026X01": "2026X001-A1.X/2 and a part of another code ran together, \"2026X01\"",
	} {
		if _, _, err := symbol.ParseScan(text); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("ParseScan(%q): %v\nwant %s", text, err, want)
		}
	}
	if p, notices, err := symbol.ParseScan(codes[0] + codes[0]); err != nil || p.String() != codes[0] || len(notices) != 1 {
		t.Errorf("twice the same: %q, %q, %v", p, notices, err)
	}
}

// Layouts mixed up. The first two texts were reported by users
// (barcode-to-pc-server#166), with a check character added; the others follow
// from Debian's xkb-data 2.35.1, each typed by hand on that layout.
func TestOffersNameTheLayout(t *testing.T) {
	for _, c := range []struct{ text, want, why string }{
		{"2026X012ßB2.3", "2026X012-B2.3", "the computer's keyboard layout is German (QWERTZ) and the scanner's is American"},
		{"2026X012ßB2.3-1", "2026X012-B2.3/1", "the computer's keyboard layout is German (QWERTZ) and the scanner's is American"},
		{`éàé-Xà&é)Bé:"`, "2026X012-B2.3", "the computer's keyboard layout is French (AZERTY) and the scanner's is American"},
		{`éàé-Xà&é)Bé:"!&`, "2026X012-B2.3/1", "the computer's keyboard layout is French (AZERTY) and the scanner's is American"},
		{`éàé§Xà&é)Bé:"=&`, "2026X012-B2.3/1", "the computer's keyboard layout is Belgian (AZERTY) and the scanner's is American"},
		{"2026X012'B2.3-1", "2026X012-B2.3/1", "the computer's keyboard layout is Swiss (QWERTZ) and the scanner's is American"},
		{"2026X012+B2.3-1", "2026X012-B2.3/1", "the computer's keyboard layout is Swedish or Finnish (QWERTY) and the scanner's is American"},
		{"2026X012*B2ç3.1", "2026X012-B2.3/1", "the computer's keyboard layout is Turkish (QWERTY) and the scanner's is American"},
		{"ěéěžXé+ě=Bě.š-+", "2026X012-B2.3/1", "the computer's keyboard layout is Czech (QWERTZ) and the scanner's is American"},
		{"2026X012/B2.3&1", "2026X012-B2.3/1", "the scanner's keyboard layout is German (QWERTZ) and the computer's is American"},
	} {
		offers := symbol.Offers(c.text)
		if len(offers) == 0 || offers[0].Payload.String() != c.want || offers[0].Why != c.why || !offers[0].Likely {
			t.Errorf("Offers(%q) = %+v\nwant %s, %s", c.text, offers, c.want, c.why)
		}
		if p, _, err := symbol.ParseScan(c.text); err == nil {
			t.Errorf("ParseScan(%q) = %s; it must only be offered", c.text, p)
		}
	}
}

// A text without a check character proves nothing; its layout is still named.
func TestLayoutHint(t *testing.T) {
	for text, want := range map[string]string{
		"2026X012ßB2":     "the computer's keyboard layout is German (QWERTZ) and the scanner's is American: 2026X012-B2",
		`éàé-Xà&é)Bé`:     "the computer's keyboard layout is French (AZERTY) and the scanner's is American: 2026X012-B2",
		"2026X012ßB2.K":   "the computer's keyboard layout is German (QWERTZ) and the scanner's is American: 2026X012-B2",
		"hello":           ": ",
		"2026Y012":        ": ", // no mix-up makes X of it and leaves the rest
		"":                ": ",
		"2026X012-B2.3/1": ": ",
	} {
		if why, id := symbol.LayoutHint(text); why+": "+id.String() != want {
			t.Errorf("LayoutHint(%q) = %s: %s\nwant %s", text, why, id, want)
		}
	}
}

// Characters typed twice or lost.
func TestOffersForBounceAndLoss(t *testing.T) {
	for _, c := range []struct {
		text, want string
		likely     bool
	}{
		{"22002266XX001122--BB22..33//11", "2026X012-B2.3/1", true},
		{"2026X012-B2..3/1", "2026X012-B2.3/1", false},
		{"20266X012-B2.3/1", "2026X012-B2.3/1", false},
		{"22026X012-B2.3/1", "2026X012-B2.3/1", false},
		{" 20266X012-B2.3/1\n", "2026X012-B2.3/1", false},
		{"2026X0112-B2.3/1", "2026X012-B2.3/1", false},
		{"026X012-B2.3/1", "2026X012-B2.3/1", false},
		{"2026X12-B2.3/1", "2026X012-B2.3/1", false},
		{"2026X012-2.3/1", "2026X012-B2.3/1", false},
		{"2026X012-B23/1", "2026X012-B2.3/1", false},
	} {
		found := false
		for _, o := range symbol.Offers(c.text) {
			if found = o.Payload.String() == c.want; found {
				if o.Likely != c.likely {
					t.Errorf("Offers(%q): %+v", c.text, o)
				}
				break
			}
		}
		if !found {
			t.Errorf("Offers(%q) = %+v lack %s", c.text, symbol.Offers(c.text), c.want)
		}
	}
}

// Characters taken for others that look alike, at the keyboard.
func TestOffersForLookAlikes(t *testing.T) {
	for text, why := range map[string]string{
		"2026X0l2-B2.3":   `"1" was taken for "l"`,
		"2O26X012-B2.3":   `"0" was taken for "O"`,
		"Z026X012-B2.3":   `"2" was taken for "Z"`,
		"2026X01Z-B2.3":   `"2" was taken for "Z"`,
		"2026X012-82.3":   `"B" was taken for "8"`,
		"2026X012-BZ.3":   `"2" was taken for "Z"`,
		"2026X0l2-BZ.3":   `"1" was taken for "l" and "2" was taken for "Z"`,
		"2026XO12-82.3":   `"0" was taken for "O" and "B" was taken for "8"`,
		"Z026X01Z-B2.3/1": `"2" was taken for "Z" and "2" was taken for "Z"`,
	} {
		found := false
		for _, o := range symbol.Offers(text) {
			if o.Payload.ID.String() == "2026X012-B2" {
				found = true
				if o.Why != why || o.Likely {
					t.Errorf("Offers(%q): %+v, want %s", text, o, why)
				}
			}
		}
		if p, _, err := symbol.ParseScan(text); err == nil && p.ID.String() == "2026X012-B2" {
			found = true // the grammar leaves no other reading
		}
		if !found {
			t.Errorf("Offers(%q) lack 2026X012-B2", text)
		}
	}
}

// What is offered is never less than proven, and nothing makes the readers
// fall over.
func FuzzScan(f *testing.F) {
	for _, s := range []string{"2026X012ßB2.3-1", `éàé-Xà&é)Bé:"!&`, "]Q12026X012-B2.3/1", "22002266XX001122--BB22..33", "\xff2026X012.M", ""} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		if p, _, err := symbol.ParseScan(s); err == nil {
			if again, _, err := symbol.ParseScan(p.String()); err != nil || again != p {
				t.Fatalf("%q was read as %q, and that as %q, %v", s, p, again, err)
			}
		}
		for _, o := range symbol.Offers(s) {
			if p, notices, err := symbol.ParseScan(o.Payload.String()); err != nil || p != o.Payload || len(notices) > 0 {
				t.Fatalf("%q: offered %q, which is read as %q, %q, %v", s, o.Payload, p, notices, err)
			}
		}
	})
}
