package registry

import (
	"strings"
	"unicode"
	"unicode/utf8"

	"golang.org/x/text/unicode/norm"

	"pipstake/ids/words"
)

// Names of varieties, as people write them: what is one name for certain, and
// what may be one name with a slip in it.

// NameKey returns what is the same for two spellings of a name: it leaves case,
// the spaces between words and the encoding of accents aside.
func NameKey(name string) string {
	return strings.ToLower(strings.Join(strings.Fields(norm.NFC.String(name)), " "))
}

// plainLetters are letters that no decomposition takes apart, as they are
// commonly written without a key for them.
var plainLetters = map[rune]string{
	'ß': "ss", 'æ': "ae", 'œ': "oe", 'ø': "o", 'ł': "l", 'þ': "th", 'ð': "d", 'đ': "d",
	'ħ': "h", 'ı': "i", 'ŋ': "ng", 'ŧ': "t", 'ə': "e",
}

// bareName returns the letters and digits of a name, in small letters without
// accents: all that is left of it on a keyboard in a hurry.
func bareName(name string) string {
	var b strings.Builder
	if isASCII(name) {
		for i := range len(name) {
			switch c := name[i]; {
			case 'a' <= c && c <= 'z' || '0' <= c && c <= '9':
				b.WriteByte(c)
			case 'A' <= c && c <= 'Z':
				b.WriteByte(c - 'A' + 'a')
			}
		}
		return b.String()
	}
	for _, r := range norm.NFKD.String(strings.ToLower(name)) {
		switch s, ok := plainLetters[r]; {
		case ok:
			b.WriteString(s)
		case unicode.IsLetter(r) || unicode.IsDigit(r):
			b.WriteRune(r)
		}
	}
	return b.String()
}

func isASCII(s string) bool {
	for i := range len(s) {
		if s[i] >= utf8.RuneSelf {
			return false
		}
	}
	return true
}

// vowelPairs are how accented vowels are written where a keyboard lacks them.
var vowelPairs = strings.NewReplacer("ae", "a", "oe", "o", "ue", "u", "aa", "a")

// NearlyAlike reports whether two names are different texts that probably mean
// one variety: they differ in case, accents, apostrophes, hyphens and spaces
// alone, or by one slip of the hand in a name of five letters or more. A slip
// is a letter too many, too few, or wrong, or two that changed places. Digits
// and a last word of one letter or of Roman numerals are told apart: Tarn 12 is
// not Tarn 13, and Tarn I is not Tarn II.
func NearlyAlike(a, b string) bool {
	if a == b {
		return false
	}
	if numbersOf(a) != numbersOf(b) {
		return false
	}
	x, y := bareName(a), bareName(b)
	if x == y && x != "" {
		return true
	}
	if lastMark(a) != lastMark(b) {
		return false
	}
	if p, q := vowelPairs.Replace(x), vowelPairs.Replace(y); p == q && p != "" {
		return true
	}
	const least = 5
	m, n := len([]rune(x)), len([]rune(y))
	return min(m, n) >= least && words.Distance(x, y) == 1
}

// numbersOf returns the numbers in a name, with spaces between them.
func numbersOf(s string) string {
	return strings.Join(strings.FieldsFunc(s, func(r rune) bool { return !unicode.IsDigit(r) }), " ")
}

// lastMark returns the last of several words of a name where it is one letter
// or a Roman numeral, which tells sister plants apart; else "".
func lastMark(name string) string {
	words := strings.FieldsFunc(strings.ToLower(name), func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) })
	if len(words) < 2 {
		return ""
	}
	last := words[len(words)-1]
	if len([]rune(last)) == 1 || strings.Trim(last, "ivx") == "" {
		return last
	}
	return ""
}
