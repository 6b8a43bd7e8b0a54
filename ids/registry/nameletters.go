package registry

import (
	"fmt"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"golang.org/x/text/unicode/norm"

	"pipstake/ids"
	"pipstake/ids/words"
)

// What is in a name and cannot be seen, or is not what it seems.

// nameFault says what is wrong with the characters of a name, and what to do;
// "" where nothing is. The work on a long one is bounded.
func nameFault(s string) (what, remedy string) {
	if len(s) > longest && utf8.RuneCountInString(s) > longest {
		return fmt.Sprintf("is longer than %d characters", longest), "write a shorter name, and the rest into the notes"
	}
	plain := true
	for i := range len(s) {
		plain = plain && s[i] < utf8.RuneSelf
	}
	if plain {
		return "", ""
	}
	for _, r := range s {
		switch {
		case r == utf8.RuneError:
			return "holds a character that was lost (U+FFFD)", "write the name again"
		case unseen(r):
			return fmt.Sprintf("holds a character that cannot be seen (U+%04X)", r), "write the name without it"
		}
	}
	for word := range strings.FieldsSeq(s) {
		if r, script := foreignLetter(word); r != 0 {
			return fmt.Sprintf("holds the letter %q (U+%04X), which is %s, among Latin letters", r, r, script), "type the name again with a Latin keyboard"
		}
	}
	return "", ""
}

// unseen reports whether a character takes no room: soft hyphens, zero-width
// spaces and joiners, and marks of a file's start.
func unseen(r rune) bool {
	return r == '\u00ad' || '\u200b' <= r && r <= '\u200f' || r == '\u180e' || '\u2060' <= r && r <= '\u2064' || r == '\ufeff'
}

// withoutUnseen leaves such characters out.
func withoutUnseen(s string) string {
	return strings.Map(func(r rune) rune {
		if unseen(r) {
			return -1
		}
		return r
	}, s)
}

// foreignLetter is a Greek or Cyrillic letter in a word that has Latin letters as
// well, and its script; 0 where there is none.
func foreignLetter(word string) (rune, string) {
	latin, foreign, script := false, rune(0), ""
	for _, r := range word {
		switch {
		case unicode.Is(unicode.Latin, r):
			latin = true
		case unicode.Is(unicode.Cyrillic, r):
			foreign, script = r, "Cyrillic"
		case unicode.Is(unicode.Greek, r) && unicode.IsLetter(r):
			foreign, script = r, "Greek"
		}
	}
	if !latin {
		return 0, ""
	}
	return foreign, script
}

// Letters of other scripts and the Latin ones that they look like, capitals
// first: the plainest of Unicode's list of confusable characters (UTS #39).
const (
	lookAlikes = "АВЕКМНОРСТХІЈЅҮ" + "аеорсухіјѕ" + "ΑΒΕΖΗΙΚΜΝΟΡΤΥΧ" + "ον"
	lookLike   = "ABEKMHOPCTXIJSY" + "aeopcyxijs" + "ABEZHIKMNOPTYX" + "ov"
)

var latinFor = func() map[rune]rune {
	m := map[rune]rune{}
	latin := []rune(lookLike)
	for i, r := range []rune(lookAlikes) {
		m[r] = latin[i]
	}
	return m
}()

// looks is what a name looks like: two names that look the same have the same.
func looks(name string) string {
	name = norm.NFC.String(words.Cut(name, longest))
	return strings.Join(strings.FieldsFunc(strings.Map(func(r rune) rune {
		switch {
		case unseen(r):
			return -1
		case unicode.IsSpace(r):
			return ' '
		case words.IsDash(r):
			return '-'
		case r == '’' || r == 'ʼ' || r == '´':
			return '\''
		}
		if latin, ok := latinFor[r]; ok {
			return latin
		}
		return r
	}, name), func(r rune) bool { return r == ' ' }), " ")
}

// namesAlike looks for names of parents that look the same and are not: each
// such pair is one finding, where the second of the two first stands.
func (c *checker) namesAlike() {
	type place struct {
		name string
		row  int
	}
	first := map[string][]place{}
	look := func(row int, column, name string) {
		if name == "" {
			return
		}
		key := looks(name)
		known := first[key]
		if slices.ContainsFunc(known, func(p place) bool { return p.name == name }) {
			return
		}
		if len(known) > 0 {
			c.add(Finding{File: crossesFile, Row: row, Column: column, Value: name,
				What:   fmt.Sprintf("looks like the name in row %d, and is written with other characters", known[0].row),
				Remedy: "write the name alike in all rows"})
		}
		first[key] = append(known, place{name, row})
	}
	for i, e := range c.r.crosses.entries {
		row := c.r.crosses.number(int(c.r.crosses.at[i]))
		look(row, "seed_parent", e.SeedParent)
		look(row, "pollen_parent", e.PollenParent)
	}
}

// ParentsReadable reports by a *DamageError that the names of a cross's parents
// cannot be read as they stand, so that no label can say them.
func (r *Registry) ParentsReadable(cross ids.ID) error {
	for _, place := range r.crosses.exactly(cross) {
		if found := r.crosses.unreadable(place, "seed_parent", "pollen_parent"); found != nil {
			return &DamageError{found}
		}
	}
	return nil
}
