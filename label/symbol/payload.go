package symbol

import (
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"pipstake/ids"
	"pipstake/ids/words"
)

// maxCopy is the largest number that a copy of a label can have.
const maxCopy = 99

// Payload is what the code on a label carries: IDENTIFIER.CHECK[/COPY][ TEXT].
type Payload struct {
	ID   ids.ID
	Copy int    // which of the labels that say the same, from 1; 0 where there is but one
	Text string // for readers that have nothing but the code, see Facts; "" for none
}

// Compact is the payload without its text: "2026X012-B2.3/1".
func (p Payload) Compact() string {
	if p.Copy == 0 {
		return p.ID.WithCheck()
	}
	return p.ID.WithCheck() + "/" + strconv.Itoa(p.Copy)
}

// String is the whole payload:
// "2026X012-B2.3/1 7 SOWN 2027-01-14 LARKFIELD TESSEL X TARN AMBER".
func (p Payload) String() string {
	if p.Text == "" {
		return p.Compact()
	}
	return p.Compact() + " " + p.Text
}

// ParsePayload reads what a scanner sent or a person typed. The identifier is
// read as leniently as ids.Parse does, and the notices are its own. A bare
// identifier will do; before a copy or a text the check character must stand,
// for without it nothing tells a misread code from a right one.
//
// The error is a *ids.ParseError or *ids.CheckError for the identifier and a
// *PayloadError for the rest.
func ParsePayload(s string) (Payload, []string, error) {
	s = strings.TrimFunc(s, unicode.IsSpace)
	if utf8.RuneCountInString(s) > maxPayload {
		return Payload{}, nil, &PayloadError{Text: s, Reason: "it is longer than any label's code",
			Remedy: "scan one code at a time"}
	}
	head, rest := s, ""
	if i := strings.IndexFunc(s, func(r rune) bool { return r == '/' || unicode.IsSpace(r) }); i >= 0 {
		head, rest = s[:i], s[i:]
	}
	read, err := ids.Parse(head)
	if err != nil || rest != "" && !read.Checked {
		if whole, err := ids.Parse(s); err == nil { // "2026X012 - B2"
			return Payload{ID: whole.ID}, whole.Notices, nil
		}
		if err == nil {
			err = &PayloadError{Text: s, Pos: utf8.RuneCountInString(head) + 1,
				Reason: "the check character is missing before the rest",
				Remedy: "scan the code, or give " + strconv.Quote(read.ID.String()) + " alone"}
		}
		return Payload{}, nil, err
	}
	p := Payload{ID: read.ID}
	if p.Copy, rest, err = parseCopy(s, rest); err != nil {
		return Payload{}, nil, err
	}
	if p.Text, err = parseText(s, rest); err != nil {
		return Payload{}, nil, err
	}
	return p, read.Notices, nil
}

// parseCopy takes "/COPY" off the front of rest, the end of the payload s.
func parseCopy(s, rest string) (n int, after string, err error) {
	digits, ok := strings.CutPrefix(rest, "/")
	if !ok {
		return 0, rest, nil
	}
	if i := strings.IndexFunc(digits, unicode.IsSpace); i >= 0 {
		digits, after = digits[:i], digits[i:]
	}
	n, err = strconv.Atoi(digits)
	if err != nil || n < 1 || n > maxCopy || strconv.Itoa(n) != digits {
		return 0, "", &PayloadError{Text: s, Pos: position(s, rest) + 1,
			Reason: quote(digits) + " is not the number of a copy",
			Remedy: "write /1 or /2, or leave it out"}
	}
	return n, after, nil
}

// parseText reads the text after the identifier. Letters come back upper-case,
// since a hand scanner under Caps Lock swaps their case.
func parseText(s, rest string) (string, error) {
	text := strings.Map(func(r rune) rune {
		switch {
		case 'a' <= r && r <= 'z':
			return r - 'a' + 'A'
		case unicode.IsSpace(r):
			return ' '
		}
		return r
	}, rest)
	for i, r := range text {
		if r >= utf8.RuneSelf || strings.IndexByte(alphabet, byte(r)) < 0 {
			return "", &PayloadError{Text: s, Pos: position(s, rest) + utf8.RuneCountInString(text[:i]),
				Reason: words.Rune(r) + " is in no label's code",
				Remedy: "give the identifier alone, and look at the scanner's keyboard layout"}
		}
	}
	return strings.TrimLeft(text, " "), nil
}

// position is the place of the first character of rest, the end of s, from 1.
func position(s, rest string) int {
	return utf8.RuneCountInString(s[:len(s)-len(rest)]) + 1
}
