package label

import (
	"strings"
	"unicode"

	"golang.org/x/text/unicode/bidi"
	"golang.org/x/text/unicode/norm"
)

const ellipsis = "…"

// compose joins combining marks to their letters where Unicode has the letter
// ready made (normalization form C), since fonts draw those best.
func compose(name string) string { return norm.NFC.String(name) }

// Printable reports why the faces cannot draw text, by a *GlyphError or a
// *ScriptError; nil where they can. Names is the font of a Room.
func Printable(text string, names *Typeface) error {
	text = compose(text)
	for _, r := range text {
		p, _ := bidi.LookupRune(r)
		switch class := p.Class(); {
		case class == bidi.R || class == bidi.AL:
			return &ScriptError{text, r, "is written from right to left, which is not set properly here"}
		case unicode.Is(unicode.M, r):
			return &ScriptError{text, r, "joins the letter before it, for which there is no letter ready made"}
		}
	}
	_, err := faceFor(text, names)
	return err
}

// faceFor is the face that draws all of text: the Go font, else names.
func faceFor(text string, names *Typeface) (*Typeface, error) {
	lacks := func(t *Typeface) (rune, bool) {
		for _, r := range text {
			if !t.Has(r) {
				return r, true
			}
		}
		return 0, false
	}
	r, lacking := lacks(Regular)
	if !lacking {
		return Regular, nil
	}
	if names == nil {
		return nil, &GlyphError{Text: text, Rune: r, Font: Regular.Called()}
	}
	if r, lacking = lacks(names); lacking {
		return nil, &GlyphError{Text: text, Rune: r, Font: names.Called()}
	}
	return names, nil
}

// printable reports the first of texts that room r cannot show.
func printable(r Room, texts ...string) error {
	for _, t := range texts {
		if err := Printable(t, r.Names); err != nil {
			return err
		}
	}
	return nil
}

// parent is one of the two names of a cross, with what stands before and
// behind it.
type parent struct {
	sign string // "♀ " or "♂ "
	name string
	face *Typeface // of the name
	tail string    // " ×" behind the seed parent
}

func newParent(sign, name, tail string, names *Typeface) parent {
	p := parent{sign: sign, name: compose(name), tail: tail}
	p.face, _ = faceFor(p.name, names) // printable has been asked
	return p
}

// runs are the parent with another name, such as a shorter one.
func (p parent) runs(name string) []run {
	runs := []run{{Regular, p.sign, 1, false}, {p.face, name, 1, false}}
	if p.tail != "" {
		runs = append(runs, run{Regular, p.tail, 1, false})
	}
	return runs
}

// wrap breaks the name at spaces into lines of at most ems.
func (p parent) wrap(ems float64) ([]line, bool) {
	words := strings.Fields(p.name)
	var lines []line
	rest := p
	for len(words) > 0 {
		n := len(words)
		var l line
		for ; n > 0; n-- {
			part := rest
			if n < len(words) {
				part.tail = ""
			}
			if l = newLine(part.runs(strings.Join(words[:n], " "))...); l.width <= ems {
				break
			}
		}
		if n == 0 {
			return nil, false
		}
		lines, words, rest.sign = append(lines, l), words[n:], ""
	}
	return lines, true
}

// shorten sets the parent on one line of at most ems, taking letters off the
// end of the name and showing that with an ellipsis.
func (p parent) shorten(ems float64) (line, bool) {
	letters := []rune(p.name)
	l := newLine(p.runs(p.name)...)
	for n := len(letters) - 1; l.width > ems; n-- {
		if n < 3 {
			return line{}, false
		}
		l = newLine(p.runs(strings.TrimRight(string(letters[:n]), " -") + ellipsis)...)
	}
	return l, true
}

// parents is the row "♀ seed parent × ♂ pollen parent" in room r. It stays on
// one line where that is wide enough, else the pollen parent starts a line of
// its own; names wrap at spaces; at the last they end in an ellipsis.
func parents(r Room, want float64, seed, pollen string) row {
	mother, father := newParent("♀ ", seed, " ×", r.Names), newParent("♂ ", pollen, "", r.Names)
	between := run{Regular, " ", 1, false}
	one := newLine(append(append(mother.runs(mother.name), between), father.runs(father.name)...)...)
	return row{want: max(want, leastText), least: leastText, yields: true, lines: func(ems float64, s squeeze) ([]line, bool) {
		switch {
		case one.width <= ems:
			return []line{one}, true
		case s < wrapped:
			lines := []line{newLine(mother.runs(mother.name)...), newLine(father.runs(father.name)...)}
			return lines, max(lines[0].width, lines[1].width) <= ems
		case s == wrapped:
			first, ok1 := mother.wrap(ems)
			second, ok2 := father.wrap(ems)
			return append(first, second...), ok1 && ok2
		case s == shortened:
			first, ok1 := mother.shorten(ems)
			second, ok2 := father.shorten(ems)
			return []line{first, second}, ok1 && ok2
		}
		return shareLine(mother, father, between, ems)
	}}
}

// shareLine sets both parents on one line of at most ems. The one that needs
// less than half leaves the rest to the other.
func shareLine(mother, father parent, between run, ems float64) ([]line, bool) {
	room := ems - between.face.Width(between.text)
	w1, w2 := newLine(mother.runs(mother.name)...).width, newLine(father.runs(father.name)...).width
	share := max(min(w1, room/2), room-w2)
	first, ok1 := mother.shorten(share)
	second, ok2 := father.shorten(room - first.width)
	if !ok1 || !ok2 {
		return nil, false
	}
	return []line{newLine(append(append(first.runs, between), second.runs...)...)}, true
}
