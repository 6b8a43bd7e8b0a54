package registry

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"unicode"

	"pipstake/ids/words"
)

// Which characters cannot be seen, by the code charts of Unicode (from memory): the
// soft hyphen, the zero-width characters and marks of direction U+200B to U+200F, the
// word joiner and invisible operators U+2060 to U+2064, the Mongolian vowel separator,
// the byte order mark. Their neighbours can be, or are spaces.
func TestCharactersThatCannotBeSeen(t *testing.T) {
	stretches := [][2]rune{{0xad, 0xad}, {0x200b, 0x200f}, {0x180e, 0x180e}, {0x2060, 0x2064}, {0xfeff, 0xfeff}}
	for _, s := range stretches {
		for r := s[0] - 1; r <= s[1]+1; r++ {
			want := s[0] <= r && r <= s[1]
			if got := withoutUnseen("a"+string(r)+"b") == "ab"; got != want {
				t.Errorf("U+%04X is left out: %v", r, got)
			}
			what, _ := nameFault("a" + string(r) + "b")
			if strings.Contains(what, fmt.Sprintf("cannot be seen (U+%04X)", r)) != want {
				t.Errorf("U+%04X in a name: %q", r, what)
			}
		}
	}
}

// Which characters break a line, control a terminal or turn the text around, by
// the code charts of Unicode: C0, DEL and C1, the line and paragraph separators,
// embeddings and overrides U+202A to U+202E, isolates U+2066 to U+2069.
func TestCharactersThatControl(t *testing.T) {
	for r := rune(1); r < 0x2100; r++ {
		want := r < 0x20 || 0x7f <= r && r < 0xa0 || 0x2028 <= r && r <= 0x202e || 0x2066 <= r && r <= 0x2069
		if unicode.IsSpace(r) && r < 0x20 {
			continue // at the end it is left out as any space is; in the middle it is looked at below
		}
		if got := hasControl("ab" + string(r)); got != want {
			t.Errorf("U+%04X controls: %v", r, got)
		}
		if _, err := oneLine("note", "a"+string(r)+"b"); refused(err) != want {
			t.Errorf("U+%04X in a note: %v", r, err)
		}
	}
	for _, text := range []string{"", "plain", "Härmä", "tail~"} {
		if hasControl(text) {
			t.Errorf("%q controls", text)
		}
	}
}

// A text of 500 characters is taken, whatever their bytes; one more is not.
func TestLongestText(t *testing.T) {
	for _, letter := range []string{"a", "é", "蘋"} {
		fits := strings.Repeat(letter, 500)
		for text, want := range map[string]bool{fits: true, fits + letter: false} {
			got, err := oneLine("note", " "+text+" ")
			if (err == nil) != want || want && got != text {
				t.Errorf("%d × %s: %v", len([]rune(text)), letter, err)
			}
			if what, _ := nameFault(text); (what == "") != want {
				t.Errorf("a name of %d × %s: %q", len([]rune(text)), letter, what)
			}
			crosses := withCrosses(t, "2026X001,"+text+",Bob,,,,")
			if long := strings.Contains(findingsText(crosses.Check()), "is longer than 500 characters"); long == want {
				t.Errorf("%d × %s in a cell: too long %v", len([]rune(text)), letter, long)
			}
			if got := len([]rune(crosses.Crosses()[0].SeedParent)); got > 501 || want && got != 500 {
				t.Errorf("%d × %s in a cell is read as %d characters", len([]rune(text)), letter, got)
			}
		}
	}
}

// Signs of one script among letters of another, in the same word alone; digits and
// signs are of none.
func TestLettersOfAnotherScript(t *testing.T) {
	for name, letter := range map[string]rune{
		"Tаrn": 'а', "аTarn": 'а', "Яблоко": 0, "Tarn2": 0, "2а": 0, "β2": 0, "Tβrn": 'β', "T\u0375rn": 0, "Ta\u0301rn": 0, "": 0,
	} {
		if got, _ := foreignLetter(name); letter != 0 && got != letter || letter == 0 && got != 0 {
			t.Errorf("%q: %q", name, got)
		}
	}
}

// Two names one slip of the hand apart may be meant to be one, from five letters
// on; counted by hand. Numbers and marks of sister plants keep names apart.
func TestOneSlipApart(t *testing.T) {
	for _, c := range []struct {
		a, b string
		want bool
	}{
		{"Tarn", "Tern", false}, {"Tarna", "Terna", true}, {"Tarna", "Tarn", false}, {"Tarnab", "Tarna", true}, {"Tarnab", "Tarnabcd", false},
		{"Tarna", "Tarna", false}, {"Tarna", "TARNA", true}, {"T-a", "ta", true}, {"", "-", false}, {"-", "'", false},
		{"Tarn 12", "Tarn 13", false}, {"Tarn 12", "tarn 12", true}, {"Tarna 12", "Terna 12", true},
		{"Larkfield I", "Larkfield II", false}, {"Larkfield A", "Larkfield B", false}, {"Larkfield i", "Larkfield I", true}, {"Larkfield iv", "Larkfeld iv", true},
		{"Härmä", "Haerma", true}, {"Mühle", "Muehle", true}, {"Ström", "Strom", true}, {"Straße", "Strasse", true}, {"Ångel", "Aangel", true},
		{"Oe", "O", true}, {"Larkfield", "Larkfiedl", true}, {"Larkfield", "Larkfeidl", false},
	} {
		if NearlyAlike(c.a, c.b) != c.want || NearlyAlike(c.b, c.a) != c.want {
			t.Errorf("%q and %q: %v", c.a, c.b, NearlyAlike(c.a, c.b))
		}
		if d := words.Distance(bareName(c.a), bareName(c.b)); c.want && d > 1 && !strings.ContainsAny(c.a, "äüöåÅ") {
			t.Errorf("%q and %q are %d slips apart", c.a, c.b, d)
		}
	}
}

// What local dates probably meant, where the numbers leave it open and where they do
// not; years of two digits are of this century.
func TestWhatADateProbablyMeant(t *testing.T) {
	for text, want := range map[string]string{
		"31.12.2026": "2026-12-31", "12.31.2026": "2026-12-31", "32.12.2026": "", "12.12.2026": "2026-12-12", "13.12.2026": "2026-12-13", "12.13.2026": "2026-12-13",
		"1.2.2026": "2026-02-01 2026-01-02", "1/2/26": "2026-02-01 2026-01-02", "01/2/26": "2026-02-01 2026-01-02 2001-02-26", "30/2/26": "2030-02-26", "29.2.2028": "2028-02-29", "29.2.2027": "",
		"1.2.202": "", "1.1.2026": "2026-01-01", "1.2.0001": "0001-02-01 0001-01-02", "1.2.20266": "", "001.2.2026": "", "1.002.2026": "", "0.2.2026": "", "1.0.2026": "", "1.2.0000": "",
		"20261301": "", "20261231": "2026-12-31", "2026123": "", "2026-12-31 08:30": "2026-12-31", "2026-12-31T08": "", "8:30": "",
		"1 May 2026": "2026-05-01", "May 1, 2026": "2026-05-01", "1. Mai 2026": "2026-05-01", "1 août 2026": "2026-08-01", "3 Dez 2026": "2026-12-03", "1 Foo 2026": "", "May May 2026": "", "1 2 3 4": "", "1 2": "",
	} {
		var got []string
		for _, d := range probableDates(text) {
			got = append(got, d.String())
		}
		if s := strings.Join(got, " "); s != want {
			t.Errorf("%q: %q, want %q", text, s, want)
		}
	}
	for word, want := range map[string]int{"jan": 1, "Fév": 2, "mrz": 3, "avril": 4, "mai": 5, "juin": 6, "juil": 7, "août": 8, "September": 9, "okt": 10, "nov": 11, "DEZ": 12, "x": 0, "": 0, "ja": 0} {
		if got := monthOf(word); got != want {
			t.Errorf("%q is month %d, want %d", word, got, want)
		}
	}
	for text, want := range map[string]bool{"14-Nov": true, "Nov-26": true, "Nov Nov": false, "1-2": false, "Nov": false, "1 Nov 2": false, "1 x": false, "x 1": false} {
		if hasMonth(text) != want {
			t.Errorf("%q is left of a date: %v", text, !want)
		}
	}
}

// Counts of a cell: 1,000,000 is the most, and what may be one is told.
func TestCountsInCells(t *testing.T) {
	for text, want := range map[string]string{
		"0": "0", "1000000": "1000000", "1000001": "is more than 1000000", "-1": "is less than none", "": "",
		"1e6": "probably 1000000", "1000001.0": "write digits only, or leave", "0.0": "probably 0", "12.5": "write digits only, or leave",
		"1.000": "write 1000 if that is what was counted", "1.00": "probably 1;", "1.0000": "probably 1;", "12,500": "write 12500 if", "1 000": "write 1000 if", "1,000 ": "write 1000 if", "1,000x": "is not a whole number",
	} {
		got, _ := readAs(t, "lots.csv", "id,issued,extracted,fruit,seeds,undeveloped,chilled,state,notes", "seeds", text)
		if _, isNumber := map[string]bool{"0": true, "1000000": true, "": true}[text]; isNumber != (got == "") || !isNumber && !strings.Contains(got, want) {
			t.Errorf("%q: %q, want %q", text, got, want)
		}
	}
}

// Day and month with a slash between them, where one of the two can only be a day.
func TestSlashesBetweenDayAndMonth(t *testing.T) {
	today := Date{2026, 11, 27}
	for text, want := range map[string]string{
		"13/5/2026": "2026-05-13", "5/13/2026": "2026-05-13", "12/12/2026": "2026-12-12", "13/12/2026": "2026-12-13", "12/13/2026": "2026-12-13", "13/13/2026": "",
		"12/11/2026": "write 2026-11-12 or 2026-12-11", "1/12/999": "", "1/12/0999": "write the month as a word", "1/12/1000": "write 1000-12-01 or 1000-01-12", "1/12": "write the month as a word",
		"14.11.00": "2000-11-14", "14.11.99": "2099-11-14", "14.11.100": "", "014.11.2026": "", "14.011.2026": "", "2026/11/14": "probably 2026-11-14", "2026.11.14": "",
		"14 no 2026": "", "14 nov": "2026-11-14", "may 5": "2026-05-05", "1 ma 2026": "", "1 jun": "2026-06-01", "1 june": "2026-06-01", "1 juni": "",
		"27.1.": "2026-01-27", "26.1.": "2027-01-26", // 60 days ahead
	} {
		d, err := ReadDate(text, today)
		got := d.String()
		if err != nil {
			got = err.Error()
		}
		if want == "" && err == nil || !strings.Contains(got, want) {
			t.Errorf("%q: %s, want %q", text, got, want)
		}
	}
}

// A place is corrected, or refused, for what stands somewhere.
func TestPlacesAreCorrected(t *testing.T) {
	for _, id := range []string{"2025X007-A2", "2025X007-A2-A"} {
		for place, want := range map[string]string{" bench 4 ": "bench 4", "": "", "a\nb": "refused", "蘋果": "蘋果"} {
			d := season(lived())
			err := testStore(d).change(func(r *Registry) error {
				_, err := r.Correct(mustID(t, id), Correction{Place: &place})
				return err
			})
			if want == "refused" {
				if !refused(err) {
					t.Errorf("%s at %q: %v", id, place, err)
				}
			} else if got := open(t, d).PlaceOf(mustID(t, id)); err != nil || got != want {
				t.Errorf("%s at %q: %q (%v)", id, place, got, err)
			}
		}
	}
}

// What cannot be taken back into use stays void, also for the command that tried.
func TestWhatIsNotLiftedStaysVoid(t *testing.T) {
	files := lived()
	files["pots.csv"] += "\n2025X007-A3,3,2026-01-14,,void,,,\n2025X007-A4,2,2026-01-14,,void,,,"
	r := open(t, season(files))
	for id, lifts := range map[string]bool{"2025X007-A3": false, "2025X007-A4": true} { // 2 seeds are left
		err := r.Lift(mustID(t, id))
		want := Voided
		if lifts {
			want = Issued
		}
		if (err == nil) != lifts || r.Status(mustID(t, id)) != want {
			t.Errorf("%s: %v, and is %s", id, err, r.Status(mustID(t, id)))
		}
	}
	if got := r.PotsOf(mustID(t, "2025X007-A")); !slices.ContainsFunc(got, func(p Pot) bool { return p.State == Void && p.Notes == "" }) {
		t.Errorf("%+v", got)
	}
}
