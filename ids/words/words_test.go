package words

import (
	"fmt"
	"strings"
	"testing"
	"unicode"
)

func Example() {
	pots := []string{"2026X012-A1", "2026X012-A2", "2026X012-B1", "2026X012-B2"}
	fmt.Println(Plural(len(pots), "pot", "pots")+":", List(Few(pots, 2)))
	fmt.Println(Number(12.50, 2), "mm,", Cut("Larkfield Tessel", 9))
	near, _ := Nearest("germinatoin", []string{"due", "germination", "plan"})
	fmt.Println(near)
	// Output:
	// 4 pots: 2026X012-A1, 2026X012-A2 and 2 more
	// 12.5 mm, Larkfield…
	// germination
}

func TestPluralAndList(t *testing.T) {
	for n, want := range map[int]string{0: "0 pots", 1: "1 pot", 2: "2 pots"} {
		if got := Plural(n, "pot", "pots"); got != want {
			t.Errorf("Plural(%d) = %q, want %q", n, got, want)
		}
	}
	for _, want := range []string{"", "a", "a and b", "a, b and c"} {
		words := strings.FieldsFunc(strings.ReplaceAll(want, " and ", ","), func(r rune) bool { return r == ',' || r == ' ' })
		if got := List(words); got != want {
			t.Errorf("List(%q) = %q, want %q", words, got, want)
		}
	}
}

// What is left out leaves the words of the caller as they were.
func TestFewKeepsTheCallersWords(t *testing.T) {
	all := []string{"a", "b", "c", "d"}
	if got := Few(all, 2); fmt.Sprint(got) != "[a b 2 more]" || all[2] != "c" {
		t.Errorf("Few = %q, and the words are %q", got, all)
	}
	if got := Few(all, 4); fmt.Sprint(got) != "[a b c d]" {
		t.Errorf("Few = %q", got)
	}
}

func TestCutCountsCharacters(t *testing.T) {
	const name = "Mørkeby" // seven characters, eight bytes
	if got := Cut(name, 7); got != name {
		t.Errorf("Cut = %q", got)
	}
	if got := Cut(name, 3); got != "Mør…" {
		t.Errorf("Cut = %q", got)
	}
	if got := Quote("a\x1b[2Jb", 2); got != `"a\x1b"…` {
		t.Errorf("Quote = %s", got)
	}
	if got := OneLine("up\r\ndown\n"); got != "up / down" {
		t.Errorf("OneLine = %q", got)
	}
}

func TestNumber(t *testing.T) {
	for _, c := range []struct {
		v        float64
		decimals int
		want     string
	}{{12.5, 2, "12.5"}, {12, 2, "12"}, {0.126, 2, "0.13"}, {-0.5, 1, "-0.5"}, {100, 0, "100"}, {1200, 1, "1200"}} {
		if got := Number(c.v, c.decimals); got != c.want {
			t.Errorf("Number(%v, %d) = %q, want %q", c.v, c.decimals, got, c.want)
		}
	}
}

// The characters that Unicode's data name hyphen, dash or minus, and some that
// look like one and are none (UnicodeData.txt 15, names from memory).
func TestIsDash(t *testing.T) {
	for _, r := range "\u00ad\u058a\u2010\u2011\u2012\u2013\u2014\u2015\u2043\u2212\u2796\ufe58\ufe63\uff0d" {
		if !IsDash(r) {
			t.Errorf("%U is no dash", r)
		}
	}
	for _, r := range "-_=~+·|\u00b7\u2022" {
		if IsDash(r) {
			t.Errorf("%U is a dash", r)
		}
	}
}

// Worked example in the literature on edit distance: kitten, sitting.
func TestDistance(t *testing.T) {
	for _, c := range []struct {
		a, b string
		want int
	}{{"kitten", "sitting", 3}, {"", "pot", 3}, {"pot", "pot", 0}, {"sow", "swo", 1}, {"bags", "bag", 1}, {"tags", "bags", 1}} {
		if got := Distance(c.a, c.b); got != c.want {
			t.Errorf("Distance(%q, %q) = %d, want %d", c.a, c.b, got, c.want)
		}
		if got := Distance(c.b, c.a); got != c.want {
			t.Errorf("Distance(%q, %q) = %d, want %d", c.b, c.a, got, c.want)
		}
	}
}

// Nothing that Clean lets through steers a terminal.
func FuzzClean(f *testing.F) {
	f.Add("plain")
	f.Add("a\x1b[31mred\x07\u202e\u2028\n")
	f.Fuzz(func(t *testing.T, s string) {
		for _, r := range Clean(s) {
			if r != '\n' && (unicode.IsControl(r) || r == '\u2028' || r == '\u2029' || unicode.Is(unicode.Bidi_Control, r)) {
				t.Errorf("Clean(%q) holds %U", s, r)
			}
		}
	})
}

func TestNearest(t *testing.T) {
	commands := []string{"sow", "scan", "spoil", "stock", "labels", "lots"}
	for _, c := range []struct{ typed, want string }{
		{"swo", "sow"},
		{"label", "labels"},
		{"stokc", "stock"},
		{"lot", "lots"},
		{"germination", ""},
		{"", ""},
	} {
		got, ok := Nearest(c.typed, commands)
		if got != c.want || ok != (c.want != "") {
			t.Errorf("nearest(%q) = %q, %v, want %q", c.typed, got, ok, c.want)
		}
	}
}

func TestCleanEscapesWhatSteersATerminal(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{"Härmä Punanen ♀ × 湖琥\n", "Härmä Punanen ♀ × 湖琥\n"},
		{"\x1b[2Jgone", `\u001b[2Jgone`},
		{"a\rb\tc\x7f", `a\u000db\u0009c\u007f`},
		{"\u009b31m", `\u009b31m`},
		{"abc\u202edef\u2066", `abc\u202edef\u2066`},
		{"line\u2028separator", `line\u2028separator`},
	} {
		if got := Clean(c.text); got != c.want {
			t.Errorf("clean(%q) = %q, want %q", c.text, got, c.want)
		}
	}
}
