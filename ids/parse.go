package ids

import (
	"fmt"
	"strings"
)

// maxLength is more than any identifier takes with hyphens and check character.
const maxLength = 32

// Reading is what was read from a text.
type Reading struct {
	ID      ID
	Exact   bool     // whether it stood there just as String writes it
	Checked bool     // whether a check character stood there and was right
	Guessed bool     // whether a letter was read as a digit and no check character confirms it
	Notices []string // what was folded: look-alike dashes, O for 0, and the like
}

// Parse reads an identifier, with or without its check character. It forgives
// case, missing hyphens and spaces around them, and folds look-alike dashes, ×
// for X, full-width characters, and O and I where a digit must stand; each of
// these with a notice. The error is a *ParseError for a text that is no
// identifier, and a *CheckError for one whose check character is wrong.
func Parse(text string) (Reading, error) {
	if id, ok := parseWritten(text); ok {
		return Reading{ID: id, Exact: true}, nil
	}
	glyphs, notices, err := fold(text)
	if err != nil {
		return Reading{}, err
	}
	p := parser{text: text, glyphs: glyphs, notices: notices}
	id, err := p.identifier()
	if err != nil {
		return Reading{}, err
	}
	checked, err := p.check(id)
	if err != nil {
		return Reading{}, err
	}
	return Reading{ID: id, Checked: checked, Guessed: p.guessed && !checked, Notices: p.notices}, nil
}

// parseWritten reads an identifier that stands exactly as String writes it.
func parseWritten(s string) (ID, bool) {
	var id ID
	ok := len(s) >= len("2026X012") && len(s) < maxLength && s[4] == 'X' && s[0] != '0'
	if !ok {
		return ID{}, false
	}
	year, rest := leadingNumber(s[:4])
	id.Year = year
	ok = rest == ""
	cross := s[5:]
	id.Cross, s = leadingNumber(cross)
	digits := len(cross) - len(s)
	if !ok || digits < 3 || digits > 3 && cross[0] == '0' || id.Cross < 1 || id.Cross > MaxCross {
		return ID{}, false
	}
	if s == "" {
		return id, true
	}
	if s[0] != '-' {
		return ID{}, false
	}
	id.Lot, s = leadingLetters(s[1:])
	if id.Lot < 1 || id.Lot > MaxLot {
		return ID{}, false
	}
	if s == "" {
		return id, true
	}
	first := s[0]
	id.Pot, s = leadingNumber(s)
	if first == '0' || id.Pot < 1 || id.Pot > MaxPot {
		return ID{}, false
	}
	if s == "" {
		return id, true
	}
	if s[0] != '-' {
		return ID{}, false
	}
	id.Seedling, s = leadingLetters(s[1:])
	return id, s == "" && id.Seedling >= 1 && id.Seedling <= MaxSeedling
}

// leadingNumber reads the digits at the start of s.
func leadingNumber(s string) (n int, rest string) {
	for s != "" && '0' <= s[0] && s[0] <= '9' {
		n, s = n*10+int(s[0]-'0'), s[1:]
	}
	return n, s
}

// leadingLetters reads the number written in letters at the start of s.
func leadingLetters(s string) (n int, rest string) {
	for s != "" && letterValue(s[0]) > 0 {
		n, s = n*len(alphabet)+letterValue(s[0]), s[1:]
	}
	return n, s
}

// parser walks over the folded characters of a text.
type parser struct {
	text    string
	glyphs  []glyph
	at      int
	guessed bool // a letter was read as a digit
	notices []string
}

// peek is the next character, or 0 at the end.
func (p *parser) peek() byte {
	if p.at == len(p.glyphs) {
		return 0
	}
	return p.glyphs[p.at].char
}

// fail makes an error at the next character.
func (p *parser) fail(reason, remedy string) error { return p.failAt(p.at, reason, remedy) }

func (p *parser) failAt(i int, reason, remedy string) error {
	pos := 1
	if i < len(p.glyphs) {
		pos = p.glyphs[i].pos
	} else if i > 0 {
		pos = p.glyphs[i-1].pos + 1
	}
	return &ParseError{Text: p.text, Pos: pos, Reason: reason, Remedy: remedy}
}

const likeThis = `write it like "2026X012-B2"`

// identifier reads everything up to the check character.
func (p *parser) identifier() (ID, error) {
	var id ID
	var err error
	if len(p.glyphs) == 0 {
		return ID{}, p.fail("nothing is there", likeThis)
	}
	if id.Year, err = p.year(); err != nil {
		return ID{}, err
	}
	if id.Cross, err = p.cross(id.Year); err != nil {
		return ID{}, err
	}
	if more, err := p.separator(LotLevel); err != nil || !more {
		return id, err
	}
	if id.Lot, err = p.letters(LotLevel); err != nil {
		return ID{}, err
	}
	if more, err := p.potFollows(id); err != nil || !more {
		return id, err
	}
	if id.Pot, err = p.pot(id); err != nil {
		return ID{}, err
	}
	if more, err := p.separator(SeedlingLevel); err != nil || !more {
		return id, err
	}
	id.Seedling, err = p.letters(SeedlingLevel)
	return id, err
}

// year reads four digits and the X.
func (p *parser) year() (int, error) {
	year := 0
	for range 4 {
		d, ok := p.digit(true)
		if !ok {
			return 0, p.fail("a year of four digits comes first", likeThis)
		}
		year = year*10 + d
	}
	if year < minYear {
		return 0, p.failAt(0, "no year starts with 0", likeThis)
	}
	if p.peek() != 'X' {
		return 0, p.fail("the letter X comes after the year", likeThis)
	}
	p.at++
	return year, nil
}

// cross reads the number of the cross, at least three digits.
func (p *parser) cross(year int) (int, error) {
	const least, most = 3, 5
	start, n, count := p.at, 0, 0
	for ; count <= most; count++ {
		d, ok := p.digit(count < least)
		if !ok {
			break
		}
		n = n*10 + d
	}
	written := fmt.Sprintf("write %q", ID{Year: year, Cross: max(n, 1)}.String())
	switch {
	case count > most:
		return 0, p.failAt(start+most, fmt.Sprintf("the number of a cross has at most %d digits", most), likeThis)
	case count == 0:
		return 0, p.fail("the number of the cross comes after X", likeThis)
	case count < least:
		return 0, p.fail(fmt.Sprintf("the number of a cross has at least %d digits", least), written)
	case n == 0:
		return 0, p.failAt(start, "crosses are numbered from 1", "write the cross's own number")
	case count > least && p.glyphs[start].isZero():
		return 0, p.failAt(start, "a leading zero too many", written)
	}
	return n, nil
}

// pot reads the number of the pot.
func (p *parser) pot(lot ID) (int, error) {
	start, n := p.at, 0
	for {
		d, ok := p.digit(false)
		if !ok {
			break
		}
		if n = n*10 + d; n > MaxPot {
			return 0, p.failAt(start, fmt.Sprintf("pots are numbered up to %d", MaxPot), likeThis)
		}
	}
	if n == 0 {
		return 0, p.failAt(start, "pots are numbered from 1", fmt.Sprintf("write %q for the first", lot.Child(1).String()))
	}
	if p.glyphs[start].isZero() {
		return 0, p.failAt(start, "a leading zero too many", fmt.Sprintf("write %q", lot.Child(n).String()))
	}
	return n, nil
}

// digit reads a digit, or an O or I in the place of one. Where a digit must
// stand, a small l is one too; elsewhere it may be the letter.
func (p *parser) digit(must bool) (int, bool) {
	c := p.peek()
	var twin byte
	switch {
	case '0' <= c && c <= '9':
		p.at++
		return int(c - '0'), true
	case c == 'O':
		twin = '0'
	case c == 'I', c == 'L' && must && p.glyphs[p.at].orig == 'l':
		twin = '1'
	}
	if twin == 0 {
		return 0, false
	}
	p.guessed = true
	p.notice("read %q as the digit %c", p.glyphs[p.at].orig, twin)
	p.at++
	return int(twin - '0'), true
}

// letters reads the number of a seed lot or seedling.
func (p *parser) letters(level Level) (int, error) {
	const most = 2
	start, n := p.at, 0
	for letterValue(p.peek()) > 0 {
		n = n*len(alphabet) + letterValue(p.peek())
		p.at++
		if p.at-start > most {
			return 0, p.failAt(start, fmt.Sprintf("a %s has at most %d letters", level, most), likeThis)
		}
	}
	if n == 0 {
		remedy := likeThis
		if c := p.peek(); c == 'I' || c == 'O' {
			remedy = "look again: I and O are left out"
		}
		return 0, p.fail(fmt.Sprintf("the letter of a %s comes here", level), remedy)
	}
	return n, nil
}

// separator reads a hyphen, or spaces, or nothing at all before the letters of
// level. It reports whether more of the identifier follows.
func (p *parser) separator(level Level) (bool, error) {
	start := p.at
	p.spaces()
	hyphen := p.peek() == '-'
	if hyphen {
		p.at++
		p.spaces()
	}
	if c := p.peek(); c != 0 && c != '.' {
		return true, nil
	}
	if hyphen {
		return false, p.failAt(start, "nothing follows the hyphen", fmt.Sprintf("add the letter of the %s, or leave the hyphen out", level))
	}
	return false, nil
}

// potFollows reports whether a pot's number comes after the letters of a seed
// lot, and refuses everything else that is not the end.
func (p *parser) potFollows(lot ID) (bool, error) {
	start := p.at
	p.spaces()
	switch c := p.peek(); {
	case c == 0 || c == '.':
		return false, nil
	case p.at == start && (c >= '0' && c <= '9' || c == 'I' || c == 'O'):
		return true, nil
	}
	return false, p.failAt(start, "a pot's number follows its seed lot directly", fmt.Sprintf("write it like %q", lot.Child(2).String()))
}

func (p *parser) spaces() {
	for p.peek() == ' ' {
		p.at++
	}
}

// check reads the check character after its full stop, and the end.
func (p *parser) check(id ID) (bool, error) {
	p.spaces()
	if p.peek() == 0 {
		return false, nil
	}
	if p.peek() != '.' {
		return false, p.fail("the identifier ends before this", fmt.Sprintf("write %q", id.String()))
	}
	p.at++
	got := p.peek()
	if checkValue(got) < 0 {
		return false, p.fail("the check character is missing after the full stop", fmt.Sprintf("write %q", id.String()))
	}
	orig := p.glyphs[p.at].orig
	p.at++
	if c := p.peek(); c != 0 {
		return false, p.fail("nothing comes after the check character", fmt.Sprintf("write %q", id.String()))
	}
	want := id.Check()
	if got == want {
		return true, nil
	}
	if isTwin(got, want) || orig == 'l' && want == '1' {
		p.notice("read the check character %q as %c", orig, want)
		return true, nil
	}
	return false, &CheckError{Text: strings.TrimSpace(p.text), ID: id, Got: got, Want: want}
}

// isTwin reports whether two characters are easily taken for each other.
func isTwin(a, b byte) bool {
	switch string([]byte{min(a, b), max(a, b)}) {
	case "0O", "1I":
		return true
	}
	return false
}

func (p *parser) notice(format string, args ...any) {
	p.notices = addNotice(p.notices, fmt.Sprintf(format, args...))
}
