package ids

import (
	"fmt"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"pipstake/ids/words"
)

// maxText is the longest text that is looked at, in bytes.
const maxText = 200

// ParseError says that a text is no identifier, where, and what would be.
type ParseError struct {
	Text   string
	Pos    int // the character at fault, from 1; 0 when it is the whole text
	Reason string
	Remedy string
}

func (e *ParseError) Error() string {
	at := ""
	if e.Pos > 0 {
		at = fmt.Sprintf(", character %d", e.Pos)
	}
	return fmt.Sprintf("identifier %q%s: %s; %s", e.Text, at, e.Reason, e.Remedy)
}

// CheckError says that an identifier's check character is wrong, so that some
// character of it was misread.
type CheckError struct {
	Text      string
	ID        ID // as read
	Got, Want byte
}

func (e *CheckError) Error() string {
	return fmt.Sprintf("identifier %q: the check character is %c, but that of %s is %c; compare each character with the label",
		e.Text, e.Got, e.ID, e.Want)
}

// glyph is one character of a text after folding.
type glyph struct {
	char byte // a digit, an upper-case letter, '-', '.' or ' '
	orig rune // as it stood
	pos  int  // its place in the text in characters, from 1
}

// isZero reports whether a digit's place holds 0, or O for it.
func (g glyph) isZero() bool { return g.char == '0' || g.char == 'O' }

// crosses are read as X.
const crosses = "×✕✖⨯"

// invisible characters are read as spaces.
const invisible = "\u180e\u200b\u200c\u200d\u2060\ufeff"

// fold reads a text as the characters that identifiers are made of, with
// spaces at the ends left out.
func fold(text string) ([]glyph, []string, error) {
	if len(text) > maxText {
		return nil, nil, &ParseError{Text: words.Cut(text, 60),
			Reason: fmt.Sprintf("%d bytes are too long for an identifier", len(text)), Remedy: likeThis}
	}
	glyphs := make([]glyph, 0, len(text))
	pos := 0
	for i, r := range text {
		pos++
		c, ok := foldRune(r)
		if r == utf8.RuneError && !strings.HasPrefix(text[i:], "\ufffd") {
			return nil, nil, &ParseError{Text: text, Pos: pos, Reason: "a byte that is no UTF-8 text", Remedy: "type the identifier again"}
		}
		if !ok {
			reason, remedy := foreign(r)
			return nil, nil, &ParseError{Text: text, Pos: pos, Reason: reason, Remedy: remedy}
		}
		glyphs = append(glyphs, glyph{c, r, pos})
	}
	isSpace := func(g glyph) bool { return g.char == ' ' }
	for len(glyphs) > 0 && isSpace(glyphs[0]) {
		glyphs = glyphs[1:]
	}
	for len(glyphs) > 0 && isSpace(glyphs[len(glyphs)-1]) {
		glyphs = glyphs[:len(glyphs)-1]
	}
	var notices []string
	for _, g := range glyphs {
		switch {
		case g.char == ' ':
			notices = addNotice(notices, "left out a space")
		case g.orig >= utf8.RuneSelf:
			notices = addNotice(notices, fmt.Sprintf("read %s as %c", words.Rune(g.orig), g.char))
		}
	}
	return glyphs, notices, nil
}

// foldRune returns the character that r is read as.
func foldRune(r rune) (byte, bool) {
	if 0xff01 <= r && r <= 0xff5e { // the full-width forms of ASCII
		r -= 0xff01 - '!'
	}
	switch {
	case 'a' <= r && r <= 'z':
		return byte(r - 'a' + 'A'), true
	case 'A' <= r && r <= 'Z', '0' <= r && r <= '9', r == '-', r == '.':
		return byte(r), true
	case unicode.IsSpace(r) || strings.ContainsRune(invisible, r):
		return ' ', true
	case words.IsDash(r):
		return '-', true
	case strings.ContainsRune(crosses, r):
		return 'X', true
	}
	return 0, false
}

// foreign says why a character cannot stand in an identifier. A letter of
// another script is named with its script, since it may look like a Latin one.
func foreign(r rune) (reason, remedy string) {
	if unicode.In(r, unicode.L, unicode.N) {
		kind := "letter"
		if unicode.Is(unicode.N, r) {
			kind = "number sign"
		}
		for name, script := range unicode.Scripts {
			if unicode.Is(script, r) && name != "Latin" && name != "Common" {
				return fmt.Sprintf("the %s %s is %s, not Latin", kind, words.Rune(r), strings.ReplaceAll(name, "_", " ")),
					"type it again with a Latin keyboard"
			}
		}
	}
	return words.Rune(r) + " stands in no identifier", "use only letters A to Z, digits and hyphens"
}

// addNotice adds a notice that is not yet there.
func addNotice(notices []string, s string) []string {
	if slices.Contains(notices, s) {
		return notices
	}
	return append(notices, s)
}
