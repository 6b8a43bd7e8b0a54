package symbol

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"

	"golang.org/x/text/unicode/norm"

	"pipstake/ids/words"
)

// FoldError says that a name, or what a label says of its parents, cannot be
// written in the letters of a code.
type FoldError struct {
	Name   string
	Rune   rune // the character without a place in A–Z; 0 when the whole name is at fault
	Reason string
}

func (e *FoldError) Error() string {
	return fmt.Sprintf("%s cannot stand in a code: %s", quote(e.Name), e.Reason)
}

// folded are letters that no decomposition takes apart, as they are commonly
// written without them; and signs that are more than a space.
var folded = map[rune]string{
	'ß': "SS", 'ẞ': "SS", 'Æ': "AE", 'æ': "AE", 'Œ': "OE", 'œ': "OE", 'Ø': "O", 'ø': "O",
	'Ł': "L", 'ł': "L", 'Þ': "TH", 'þ': "TH", 'Ð': "D", 'ð': "D", 'Đ': "D", 'đ': "D",
	'Ħ': "H", 'ħ': "H", 'ı': "I", 'Ŋ': "NG", 'ŋ': "NG", 'Ŧ': "T", 'ŧ': "T", 'Ə': "E", 'ə': "E",
	'×': "X", '_': "-", '−': "-", '⁄': "/",
	// apostrophes, and signs typed for them
	'\'': "", '’': "", '‘': "", '‛': "", 'ʼ': "", 'ʻ': "", 'ʹ': "", '′': "", '`': "", '´': "",
}

// Fold writes a name in the alphabet of a code, upper-case ASCII, for readers
// that have nothing but the code. Accents and apostrophes go, letters such as
// ß and æ become two, dashes become hyphens and other signs spaces. Of spaces
// in a row one stays. A word X inside a name would read as the sign between
// seed parent and pollen parent, so it is tied to its neighbours: "Malus ×
// domestica" becomes "MALUS-X-DOMESTICA". What is folded folds to itself.
//
// The error is a *FoldError: a letter or digit outside the Latin script, a
// control character, or nothing left to write.
func Fold(name string) (string, error) {
	var b strings.Builder
	for i, r := range name {
		if r == utf8.RuneError && !strings.HasPrefix(name[i:], string(utf8.RuneError)) {
			return "", &FoldError{Name: name, Rune: r, Reason: "it is not UTF-8 text"}
		}
		if err := foldRune(&b, name, r); err != nil {
			return "", err
		}
	}
	words := strings.Fields(b.String())
	if len(words) == 0 {
		return "", &FoldError{Name: name, Reason: "nothing of it is left in the letters A–Z"}
	}
	return joinWords(words), nil
}

// foldRune writes what one character of a name becomes.
func foldRune(b *strings.Builder, name string, r rune) error {
	if s, ok := folded[r]; ok {
		b.WriteString(s)
		return nil
	}
	for _, r := range norm.NFKD.String(string(r)) {
		s, ok := folded[r]
		switch {
		case ok:
			b.WriteString(s)
		case 'a' <= r && r <= 'z':
			b.WriteRune(r - 'a' + 'A')
		case r < utf8.RuneSelf && strings.ContainsRune(alphabet, r):
			b.WriteRune(r)
		case unicode.IsMark(r), unicode.Is(unicode.Cf, r): // accents; joiners and soft hyphens
		case unicode.IsLetter(r) || unicode.IsNumber(r):
			return &FoldError{Name: name, Rune: r, Reason: words.Rune(r) + " has no counterpart in A–Z and 0–9"}
		case unicode.Is(unicode.Pd, r): // not words.IsDash: labels that stand outdoors keep their text
			b.WriteByte('-')
		case unicode.IsControl(r) && !unicode.IsSpace(r):
			return &FoldError{Name: name, Rune: r, Reason: words.Rune(r) + " is a control character"}
		default:
			b.WriteByte(' ')
		}
	}
	return nil
}

// joinWords joins the words of a name with spaces, and a word X to both of its
// neighbours with hyphens.
func joinWords(words []string) string {
	var b strings.Builder
	for i, w := range words {
		if i > 0 {
			if w == "X" || words[i-1] == "X" {
				b.WriteByte('-')
			} else {
				b.WriteByte(' ')
			}
		}
		b.WriteString(w)
	}
	return b.String()
}
