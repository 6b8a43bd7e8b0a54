package symbol

import (
	"errors"
	"fmt"
	"regexp"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"pipstake/ids"
	"pipstake/ids/words"
)

// provenPattern is an identifier with a check character, and a copy: what
// proves itself wherever it stands.
var provenPattern = regexp.MustCompile(
	`(?i)[1-9][0-9]{3}X[0-9]{3,5}(?:-?[A-Z]{1,2}(?:[0-9]{1,4}(?:-?[A-Z]{1,2})?)?)?\.[0-9A-Z](?:/[1-9][0-9]?)?`)

// partPattern is what is left at least of an identifier that was cut short, so
// that another code stood there.
var partPattern = regexp.MustCompile(`(?i)[0-9]{3,4}X[0-9]{2}[0-9A-Z.-]*`)

// gluedPattern is an identifier that follows a name without a space, or that has a
// full stop behind it, as none in the text of a label does.
var gluedPattern = regexp.MustCompile(`(?i)(?:[0-9A-Z]|[0-9]-)[1-9][0-9]{3}X[0-9]{2}|[1-9][0-9]{3}X[0-9]{3}[0-9A-Z-]*\.`)

// ParseScan reads what a hand scanner typed. It reads all that ParsePayload
// does, and a code with something before and after it, such as the marks that
// scanners are set to send: its check character proves it, and a notice says
// what was left out. The errors are those of ParsePayload, and a *PayloadError
// for several codes in one line, whole or in part.
func ParseScan(s string) (Payload, []string, error) {
	p, notices, err := ParsePayload(s)
	if err == nil && (p.Text == "" || isText(p.Text) && strings.IndexFunc(strings.TrimSpace(s), unicode.IsControl) < 0) {
		return p, notices, nil
	}
	found := proven(s)
	if len(found) == 0 {
		return p, notices, err
	}
	if err := ranTogether(s, found); err != nil {
		return Payload{}, nil, err
	}
	first, last := found[0], found[len(found)-1]
	notices = nil
	if first.end != last.end {
		notices = append(notices, "the same code stood there more than once")
		for _, f := range found {
			if f.payload.Text != first.payload.Text { // one of them was cut short
				first.payload.Text = ""
			}
		}
	}
	if before := strings.TrimSpace(s[:first.start]); before != "" {
		notices = append(notices, "left out "+quote(before)+" before it")
	}
	if after := strings.TrimSpace(s[last.end:]); after != "" {
		notices = append(notices, "left out "+quote(after)+" after it")
	}
	return first.payload, notices, nil
}

// isText reports whether a payload's text is that of one label, and not of one
// that another ran into.
func isText(text string) bool {
	_, ok := ParseFacts(text)
	return ok && len(proven(text)) == 0 && !gluedPattern.MatchString(text)
}

// ranTogether refuses codes in one line that are not one and the same, and one
// beside which there is a part of another. Found are those that prove themselves.
func ranTogether(s string, found []embedded) error {
	var different []string
	for _, f := range found {
		if compact := f.payload.Compact(); !slices.Contains(different, compact) {
			different = append(different, compact)
		}
	}
	said := ""
	switch n := len(different); {
	case n > 2:
		said = fmt.Sprintf("%d codes ran together, %s", n, words.List(words.Few(different, 4)))
	case n == 2:
		said = "two codes ran together, " + words.List(different)
	default:
		end := 0
		for _, f := range append(slices.Clone(found), embedded{start: len(s), end: len(s)}) {
			if part := partPattern.FindString(s[end:f.start]); part != "" {
				said = fmt.Sprintf("%s and a part of another code ran together, %s", different[0], quote(part))
			}
			end = f.end
		}
	}
	if said == "" {
		return nil
	}
	return &PayloadError{Text: s, Reason: said, Remedy: "scan them one by one, and set the scanner to send Enter after each"}
}

// embedded is a code inside a text.
type embedded struct {
	payload    Payload
	start, end int // bytes
}

// proven are the codes in a text whose check character is right, each with the
// text of its label where that follows whole.
func proven(s string) []embedded {
	var found []embedded
	for start := 0; ; {
		at := provenPattern.FindStringIndex(s[start:])
		if at == nil {
			break
		}
		from, to := start+at[0], start+at[1]
		start = from + 1
		compact, _, _ := strings.Cut(s[from:to], "/")
		if to < len(s) && isAlphanumeric(s[to]) {
			to = from + len(compact) // the copy may have run into what follows
		}
		p, _, err := ParsePayload(s[from:to])
		if err != nil {
			continue
		}
		start = from + len(compact)
		found = append(found, embedded{p, from, to})
	}
	for i := range found {
		f, next := &found[i], len(s)
		if i+1 < len(found) {
			next = found[i+1].start
		}
		if end := strings.IndexFunc(s[f.end:next], unicode.IsControl); end >= 0 { // a tab, say
			next = f.end + end
		}
		whole, _, err := ParsePayload(s[f.start:next])
		if _, ok := ParseFacts(whole.Text); err == nil && ok && !gluedPattern.MatchString(whole.Text) {
			f.payload, f.end = whole, next
		}
	}
	return found
}

func isAlphanumeric(c byte) bool {
	return isDigit(c) || 'A' <= c && c <= 'Z' || 'a' <= c && c <= 'z'
}

// Offer is what a text that cannot be read may have been. Its check character
// is right; whether to believe it is for the reader to say.
type Offer struct {
	Payload Payload
	Why     string // what then went wrong: "the scanner's keyboard layout is …"
	Likely  bool   // few things would turn out right by chance; without it, one in 36 does
}

// Offers are the codes that a text which ParseScan refuses may have been: with
// the keyboard layouts of scanner and computer mixed up, with characters typed
// twice, or with one lost. Each stands there once, the likeliest first.
func Offers(s string) []Offer {
	s = strings.TrimFunc(s, unicode.IsSpace)
	if utf8.RuneCountInString(s) > maxPayload {
		return nil
	}
	var offers []Offer
	add := func(text, why string, likely bool) {
		p, ok := provenWhole(text)
		same := func(o Offer) bool { return o.Payload.ID == p.ID && o.Payload.Copy == p.Copy }
		if ok && !slices.ContainsFunc(offers, same) {
			offers = append(offers, Offer{p, why, likely})
		}
	}
	for _, m := range mixUps() {
		if back := m.undo(s); back != s {
			add(back, m.why, true)
		}
	}
	if single, ok := halvedText(s); ok {
		add(single, "the scanner typed every character twice", true)
	}
	head, _, _ := strings.Cut(s, " ")
	if len(head) > longestCompact {
		return offers
	}
	for i := 1; i < len(head); i++ {
		if head[i] == head[i-1] {
			add(s[:i]+s[i+1:], fmt.Sprintf("%q was typed twice", head[i:i+1]), false)
		}
	}
	for _, m := range misread(head) {
		add(m.text+s[len(head):], m.why, false)
	}
	for _, c := range strings.ReplaceAll(alphabet, " ", "") {
		for i := 0; i <= len(head); i++ {
			add(s[:i]+string(c)+s[i:], fmt.Sprintf("%q was lost", string(c)), false)
		}
	}
	return offers
}

// longestCompact is more than any identifier takes with check and copy, and a
// character typed twice.
const longestCompact = 40

// provenWhole reads a text that is a code from end to end, with its check
// character.
func provenWhole(s string) (Payload, bool) {
	at := provenPattern.FindStringIndex(s)
	if at == nil || at[0] != 0 {
		return Payload{}, false
	}
	p, _, err := ParsePayload(s)
	return p, err == nil
}

// halvedText takes one of each two like characters.
func halvedText(s string) (string, bool) {
	runes := []rune(s)
	if len(runes)%2 != 0 {
		return "", false
	}
	var out []rune
	for i := 0; i < len(runes); i += 2 {
		if unicode.ToUpper(runes[i]) != unicode.ToUpper(runes[i+1]) {
			return "", false
		}
		out = append(out, runes[i])
	}
	return string(out), true
}

// LayoutHint names the mix-up of keyboard layouts that would make a text an
// identifier, and says which; the check character may be missing or wrong, so
// that it proves nothing. It returns "" where no mix-up does.
func LayoutHint(s string) (why string, meant ids.ID) {
	s = strings.TrimFunc(s, unicode.IsSpace)
	for _, m := range mixUps() {
		back := m.undo(s)
		if back == s {
			continue
		}
		p, _, err := ParsePayload(back)
		var wrong *ids.CheckError
		if errors.As(err, &wrong) {
			return m.why, wrong.ID
		}
		if err == nil {
			return m.why, p.ID
		}
	}
	return "", ids.ID{}
}
