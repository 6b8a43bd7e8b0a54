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
)

// provenPattern is an identifier with a check character, and a copy: what
// proves itself wherever it stands.
var provenPattern = regexp.MustCompile(
	`(?i)[1-9][0-9]{3}X[0-9]{3,5}(?:-?[A-Z]{1,2}(?:[0-9]{1,4}(?:-?[A-Z]{1,2})?)?)?\.[0-9A-Z](?:/[1-9][0-9]?)?`)

// ParseScan reads what a hand scanner typed. It reads all that ParsePayload
// does, and a code with something before and after it, such as the marks that
// scanners are set to send: its check character proves it, and a notice says
// what was left out. The errors are those of ParsePayload, and a *PayloadError
// for two codes in one line.
func ParseScan(s string) (Payload, []string, error) {
	p, notices, err := ParsePayload(s)
	if _, ok := ParseFacts(p.Text); err == nil && (ok || p.Text == "") {
		return p, notices, nil
	}
	found := proven(s)
	if len(found) == 0 {
		return p, notices, err
	}
	for _, f := range found[1:] {
		if f.payload.ID != found[0].payload.ID || f.payload.Copy != found[0].payload.Copy {
			return Payload{}, nil, &PayloadError{Text: s, Reason: fmt.Sprintf("two codes ran together, %s and %s", found[0].payload.Compact(), f.payload.Compact()),
				Remedy: "scan them one by one, and set the scanner to send Enter after each"}
		}
	}
	first, last := found[0], found[len(found)-1]
	notices = nil
	if first.end != last.end {
		notices = append(notices, "the same code stood there more than once")
	}
	if before := strings.TrimSpace(s[:first.start]); before != "" {
		notices = append(notices, "left out "+quote(before)+" before it")
	}
	if after := strings.TrimSpace(s[last.end:]); after != "" {
		notices = append(notices, "left out "+quote(after)+" after it")
	}
	return first.payload, notices, nil
}

// embedded is a code inside a text.
type embedded struct {
	payload    Payload
	start, end int // bytes
}

// proven are the codes in a text whose check character is right.
func proven(s string) []embedded {
	var found []embedded
	for start := 0; ; {
		at := provenPattern.FindStringIndex(s[start:])
		if at == nil {
			return found
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
		if whole, _, err := ParsePayload(s[from:]); err == nil {
			if _, ok := ParseFacts(whole.Text); ok {
				p, to = whole, len(s)
			}
		}
		found = append(found, embedded{p, from, to})
		start = max(start, to)
	}
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
	for i := 1; i < len(head); i++ {
		if head[i] == head[i-1] {
			add(s[:i]+s[i+1:], fmt.Sprintf("%q was typed twice", head[i:i+1]), false)
		}
	}
	for _, m := range misread(head) {
		add(m.text+s[len(head):], m.why, false)
	}
	for _, c := range strings.ReplaceAll(alphabet, " ", "") {
		for i := 0; i <= len(head) && len(head) < longestCompact; i++ {
			add(s[:i]+string(c)+s[i:], fmt.Sprintf("%q was lost", string(c)), false)
		}
	}
	return offers
}

// longestCompact is more than any identifier takes with check and copy.
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
