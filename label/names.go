package label

import (
	"strings"
	"unicode"

	"golang.org/x/text/unicode/bidi"
	"golang.org/x/text/unicode/norm"
)

const ellipsis = "…"

// compose joins combining marks to their letters where Unicode has the letter
// ready made (normalization shape C), since fonts draw those best.
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

// names are the two parents of a cross, as a label sets them.
type names struct{ seed, pollen parent }

// parent is one of them.
type parent struct {
	sign string // "♀ " or "♂ "
	name string
	face *Typeface // of the name
}

func newParent(sign, name string, font *Typeface) parent {
	p := parent{sign: sign, name: compose(name)}
	p.face, _ = faceFor(p.name, font) // printable has been asked
	return p
}

// line is the parent with another name, such as a shorter one.
func (p parent) line(name string) line {
	return line{{Regular, p.sign, 1, flowing}, {p.face, name, 1, flowing}}
}

// between stands between the parents on one line: on lines of their own ♀ and ♂
// tell what × would.
var between = run{Regular, " × ", 1, flowing}

// readable is a height of letters, in millimetres, that is readable enough at arm's
// length: no name has to break for more.
const readable = 2.2

// parents is the row "♀ seed parent × ♂ pollen parent": on one line, on a line
// each, or each broken at the space nearest its middle. Want and plain are cap
// heights, in millimetres; plain counts up to readable.
func parents(font *Typeface, want, plain float64, seed, pollen string) row {
	n := names{newParent("♀ ", seed, font), newParent("♂ ", pollen, font)}
	seedParent, pollenParent := n.seed.line(n.seed.name), n.pollen.line(n.pollen.name)
	one := append(append(append(line{}, seedParent...), between), pollenParent...)
	shapes := []shape{{one}, {seedParent, pollenParent}, append(n.seed.halves(), n.pollen.halves()...)}
	return row{want: max(Regular.em(want), leastText), plain: max(Regular.em(min(plain, readable)), leastText), least: leastText, shapes: shapes, other: 0.1, called: "the parents' names are",
		shorten: func(ems float64, lines int) (shape, bool) { return n.squeeze(ems, lines, shapes) }}
}

// onOwnLines is the row with each parent on a line of its own where there is
// room, whatever the width.
func (r row) onOwnLines() row {
	r.shapes, r.other = []shape{r.shapes[1], r.shapes[0], r.shapes[2]}, 0.5
	return r
}

// halves are the parent on two lines, broken at the space nearest the middle;
// on one where there is no space.
func (p parent) halves() shape {
	at := middle(p.name, p.face)
	if at <= 0 {
		return shape{p.line(p.name)}
	}
	return shape{p.line(p.name[:at]), {{p.face, strings.TrimLeft(p.name[at:], " "), 1, flowing}}}
}

// middle is where in a text the space nearest its middle stands; -1 where it has none.
func middle(text string, face *Typeface) int {
	best, width := -1, face.Width(text)
	off := width
	for i, r := range text {
		if r != ' ' {
			continue
		}
		if far := face.Width(text[:i]) - width/2; max(far, -far) < off {
			best, off = i, max(far, -far)
		}
	}
	return best
}

// squeeze sets the parents on at most so many lines of at most ems: the first
// of shapes that fits, else shortened, with an ellipsis. It reports whether the
// names are whole.
func (n names) squeeze(ems float64, lines int, shapes []shape) (shape, bool) {
	for _, f := range shapes {
		if len(f) <= lines && f.fits(ems) {
			return f, true
		}
	}
	if lines >= 2 {
		return shape{n.seed.shorten(ems), n.pollen.shorten(ems)}, false
	}
	return shape{n.shareLine(ems)}, false
}

// shorten sets the parent on one line of at most ems, taking letters off the
// end of the name and showing that with an ellipsis.
func (p parent) shorten(ems float64) line {
	letters := []rune(p.name)
	l := p.line(p.name)
	for n := len(letters) - 1; n > 0 && l.width(nil) > ems; n-- {
		l = p.line(strings.TrimRight(string(letters[:n]), " -") + ellipsis)
	}
	return l
}

// shareLine sets both parents on one line of at most ems. The one that needs
// less than half leaves the rest to the other.
func (n names) shareLine(ems float64) line {
	room := ems - between.width()
	w1, w2 := n.seed.line(n.seed.name).width(nil), n.pollen.line(n.pollen.name).width(nil)
	first := n.seed.shorten(max(min(w1, room/2), room-w2))
	second := n.pollen.shorten(room - first.width(nil))
	return append(append(first, between), second...)
}
