package ids_test

import (
	"errors"
	"strings"
	"testing"

	"pipstake/ids"
)

// What people type, what scanners send, and what comes out of documents.
func TestParseReads(t *testing.T) {
	for _, c := range []struct {
		text, want string
		checked    bool
		notices    string
	}{
		{"2026X012", "2026X012", false, ""},
		{"2026X012-B2-C", "2026X012-B2-C", false, ""},
		{"2026x012b2c", "2026X012-B2-C", false, ""},
		{"2026X012-B2C", "2026X012-B2-C", false, ""},
		{"2026x012aa10zz", "2026X012-AA10-ZZ", false, ""},
		{"2026X12345-X2", "2026X12345-X2", false, ""},
		{"2026X012-B2.3", "2026X012-B2", true, ""},
		{"2026x012b2.3", "2026X012-B2", true, ""},
		{"  2026X012-B2\r\n", "2026X012-B2", false, ""},
		{"\ufeff2026X012-B2", "2026X012-B2", false, ""},
		{"2026X012 B2", "2026X012-B2", false, "left out a space"},
		{"2026X012 - B2", "2026X012-B2", false, "left out a space"},
		{"2026X012\u00a0B2 .3", "2026X012-B2", true, "left out a space"},
		{"2026X012–B2", "2026X012-B2", false, "read '–' (U+2013) as -"},
		{"2026X012‑B2−C", "2026X012-B2-C", false, "read '‑' (U+2011) as -; read '−' (U+2212) as -"},
		{"2026X012\u00adB", "2026X012-B", false, `read '\u00ad' (U+00AD) as -`},
		{"2026X012﹣B", "2026X012-B", false, "read '﹣' (U+FE63) as -"},
		{"2026×012-B2", "2026X012-B2", false, "read '×' (U+00D7) as X"},
		{"２０２６X012", "2026X012", false, "read '２' (U+FF12) as 2; read '０' (U+FF10) as 0; read '６' (U+FF16) as 6"},
		{"2O26X0I5", "2026X015", false, "read 'O' as the digit 0; read 'I' as the digit 1"},
		{"2026XOO5-B", "2026X005-B", false, "read 'O' as the digit 0"},
		{"2026xl35-b", "2026X135-B", false, "read 'l' as the digit 1"},
		{"2026x012l", "2026X012-L", false, ""},    // a letter can stand here
		{"2026x012-bl", "2026X012-BL", false, ""}, // and here
		{"2026X012-BI", "2026X012-B1", false, "read 'I' as the digit 1"},
		{"2026X012-B1O", "2026X012-B10", false, "read 'O' as the digit 0"},
		{"2026X029-B2.1", "2026X029-B2", true, ""},
		{"2026X029-B2.I", "2026X029-B2", true, "read the check character 'I' as 1"},
		{"2026x029-b2.l", "2026X029-B2", true, "read the check character 'l' as 1"},
		{"2026X006-B2.0", "2026X006-B2", true, "read the check character '0' as O"},
		{"2026X039-B2.1", "2026X039-B2", true, "read the check character '1' as I"},
	} {
		r, err := ids.Parse(c.text)
		if err != nil || r.ID.String() != c.want || r.Checked != c.checked || strings.Join(r.Notices, "; ") != c.notices {
			t.Errorf("Parse(%q) = %s, %v, %q, %v\nwant %s, %v, %q", c.text, r.ID, r.Checked, r.Notices, err, c.want, c.checked, c.notices)
		}
	}
}

func TestParseRefuses(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{"", `identifier "", character 1: nothing is there; write it like "2026X012-B2"`},
		{" \t", "identifier \" \\t\", character 1: nothing is there; write it like \"2026X012-B2\""},
		{"2", `identifier "2", character 2: a year of four digits comes first; write it like "2026X012-B2"`},
		{"2026X12", `identifier "2026X12", character 8: the number of a cross has at least 3 digits; write "2026X012"`},
		{"2026X12-B", `identifier "2026X12-B", character 8: the number of a cross has at least 3 digits; write "2026X012"`},
		{"2026X0012", `identifier "2026X0012", character 6: a leading zero too many; write "2026X012"`},
		{"2026X012-B02", `identifier "2026X012-B02", character 11: a leading zero too many; write "2026X012-B2"`},
		{"2026X000", `identifier "2026X000", character 6: crosses are numbered from 1; write the cross's own number`},
		{"2026X012-B0", `identifier "2026X012-B0", character 11: pots are numbered from 1; write "2026X012-B1" for the first`},
		{"2026X123456", `identifier "2026X123456", character 11: the number of a cross has at most 5 digits; write it like "2026X012-B2"`},
		{"2026X012-B12345", `identifier "2026X012-B12345", character 11: pots are numbered up to 9999; write it like "2026X012-B2"`},
		{"2026X012-ABC", `identifier "2026X012-ABC", character 10: a seed lot has at most 2 letters; write it like "2026X012-B2"`},
		{"2026X012-B2-ABC", `identifier "2026X012-B2-ABC", character 13: a seedling has at most 2 letters; write it like "2026X012-B2"`},
		{"0926X012", `identifier "0926X012", character 1: no year starts with 0; write it like "2026X012-B2"`},
		{"26X012", `identifier "26X012", character 3: a year of four digits comes first; write it like "2026X012-B2"`},
		{"2026-X012", `identifier "2026-X012", character 5: the letter X comes after the year; write it like "2026X012-B2"`},
		{"2026Y012", `identifier "2026Y012", character 5: the letter X comes after the year; write it like "2026X012-B2"`},
		{"2026X", `identifier "2026X", character 6: the number of the cross comes after X; write it like "2026X012-B2"`},
		{"2026X012-", `identifier "2026X012-", character 9: nothing follows the hyphen; add the letter of the seed lot, or leave the hyphen out`},
		{"2026X012-B2-", `identifier "2026X012-B2-", character 12: nothing follows the hyphen; add the letter of the seedling, or leave the hyphen out`},
		{"2026X012--B", `identifier "2026X012--B", character 10: the letter of a seed lot comes here; write it like "2026X012-B2"`},
		{"2026X012-B-2", `identifier "2026X012-B-2", character 11: a pot's number follows its seed lot directly; write it like "2026X012-B2"`},
		{"2026X012-B 2", `identifier "2026X012-B 2", character 11: a pot's number follows its seed lot directly; write it like "2026X012-B2"`},
		{"2026X012-1", `identifier "2026X012-1", character 10: the letter of a seed lot comes here; write it like "2026X012-B2"`},
		{"2026X012-I", `identifier "2026X012-I", character 10: the letter of a seed lot comes here; look again: I and O are left out`},
		{"2026X012-B2-O", `identifier "2026X012-B2-O", character 13: the letter of a seedling comes here; look again: I and O are left out`},
		{"2026X012-B2-C4", `identifier "2026X012-B2-C4", character 14: the identifier ends before this; write "2026X012-B2-C"`},
		{"2026X012-B2.", `identifier "2026X012-B2.", character 13: the check character is missing after the full stop; write "2026X012-B2"`},
		{"2026X012-B2.HH", `identifier "2026X012-B2.HH", character 14: nothing comes after the check character; write "2026X012-B2"`},
		{"2026X012-B2.3/1", `identifier "2026X012-B2.3/1", character 14: '/' stands in no identifier; use only letters A to Z, digits and hyphens`},
		{"2026X012-В2", `identifier "2026X012-В2", character 10: the letter 'В' (U+0412) is Cyrillic, not Latin; type it again with a Latin keyboard`},
		{"2026Χ012", `identifier "2026Χ012", character 5: the letter 'Χ' (U+03A7) is Greek, not Latin; type it again with a Latin keyboard`},
		{"٢026X012", `identifier "٢026X012", character 1: the number sign '٢' (U+0662) is Arabic, not Latin; type it again with a Latin keyboard`},
		{"2026X012ßB2", `identifier "2026X012ßB2", character 9: 'ß' (U+00DF) stands in no identifier; use only letters A to Z, digits and hyphens`},
		{"2026X012\x1b[31m", `identifier "2026X012\x1b[31m", character 9: '\x1b' (U+001B) stands in no identifier; use only letters A to Z, digits and hyphens`},
		{"2026X012\xff", `identifier "2026X012\xff", character 9: a byte that is no UTF-8 text; type the identifier again`},
		{"12-Mar", `identifier "12-Mar", character 3: a year of four digits comes first; write it like "2026X012-B2"`},
		{"2.026E+38", `identifier "2.026E+38", character 7: '+' stands in no identifier; use only letters A to Z, digits and hyphens`},
		{strings.Repeat("2", 201), `identifier "` + strings.Repeat("2", 60) + `…": 201 bytes are too long for an identifier; write it like "2026X012-B2"`},
	} {
		r, err := ids.Parse(c.text)
		var wrong *ids.ParseError
		if !errors.As(err, &wrong) || err.Error() != c.want || r.ID != (ids.ID{}) {
			t.Errorf("Parse(%q): %v\nwant %s", c.text, err, c.want)
		}
	}
}

func TestParseComparesTheCheck(t *testing.T) {
	_, err := ids.Parse(" 2026x012-b2.k")
	var wrong *ids.CheckError
	want := `identifier "2026x012-b2.k": the check character is K, but that of 2026X012-B2 is 3; compare each character with the label`
	if !errors.As(err, &wrong) || err.Error() != want {
		t.Fatalf("%v\nwant %s", err, want)
	}
	if wrong.Got != 'K' || wrong.Want != '3' || wrong.ID.String() != "2026X012-B2" {
		t.Errorf("%+v", wrong)
	}
	for _, id := range samples() {
		right := 0
		for _, c := range checkAlphabet {
			if r, err := ids.Parse(id.String() + "." + string(c)); err == nil && r.Checked && len(r.Notices) == 0 {
				right++
			}
		}
		if right != 1 {
			t.Errorf("%s is right with %d check characters", id, right)
		}
	}
}

// What Parse reads, String writes; and that is read again as the same.
func FuzzParse(f *testing.F) {
	for _, id := range samples() {
		f.Add(id.WithCheck())
	}
	for _, s := range []string{"2026X012 - B2", "２０２６×O12–b2l", "2026x012-bl.0", "2.026E+38", "\ufeff2026X012\u00ad", "2026X012-В2", "\xff\xfe2"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		r, err := ids.Parse(text)
		if err != nil {
			if r.ID != (ids.ID{}) || err.Error() == "" {
				t.Fatalf("Parse(%q) = %v with %v", text, r, err)
			}
			return
		}
		for _, again := range []string{r.ID.String(), r.ID.WithCheck(), strings.ToLower(strings.ReplaceAll(r.ID.String(), "-", ""))} {
			got, err := ids.Parse(again)
			if got.Exact != (again == r.ID.String()) || r.Exact != (text == r.ID.String()) {
				t.Fatalf("%q exact: %v; %q exact: %v", again, got.Exact, text, r.Exact)
			}
			if err != nil || got.ID != r.ID || len(got.Notices) > 0 {
				t.Fatalf("%q was read as %s, but %q as %s, %q, %v", text, r.ID, again, got.ID, got.Notices, err)
			}
		}
		if l := r.ID.Level(); l == ids.NoLevel || r.ID.Ordinal() < 1 || r.ID.Ordinal() > l.Most() {
			t.Fatalf("%q was read as %+v", text, r.ID)
		}
	})
}
