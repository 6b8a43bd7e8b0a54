package label

import "strings"

// note is what a branch tag says beside its cross: a day, and which tree or branch.
type note struct {
	day, text string // of which one may be empty
	face      *Typeface
}

// flat is the day and a text on one line.
func (n note) flat(text string) line {
	day := n.day
	if day != "" && text != "" {
		day += "   "
	}
	return line{{Regular, day, 1, flowing}, {n.face, text, 1, flowing}}
}

// below is the day, where there is one, with lines of text below it.
func (n note) below(text ...string) shape {
	var f shape
	if n.day != "" {
		f = shape{{{Regular, n.day, 1, flowing}}}
	}
	for _, t := range text {
		f = append(f, line{{n.face, t, 1, flowing}})
	}
	return f
}

// shapes are the ways to break a note, the best first: not at all, behind the day,
// and at a space too.
func (n note) shapes() []shape {
	all := []shape{{n.flat(n.text)}}
	if n.text == "" {
		return all
	}
	if n.day != "" {
		all = append(all, n.below(n.text))
	}
	if at := middle(n.text, n.face); at > 0 {
		all = append(all, n.below(n.text[:at], strings.TrimLeft(n.text[at:], " ")))
	}
	return all
}

// squeeze sets the note on at most so many lines of at most ems, and reports whether
// it is whole.
func (n note) squeeze(ems float64, lines int) (shape, bool) {
	for _, f := range n.shapes() {
		if len(f) <= lines && f.fits(ems) {
			return f, true
		}
	}
	if n.text == "" {
		return n.below(), true
	}
	if n.day != "" {
		lines--
	}
	if lines < 1 {
		text, whole := n.cut(n.text, ems-n.flat(" ")[0].width())
		return shape{n.flat(text)}, whole
	}
	var all []string
	words, whole := strings.Split(n.text, " "), true
	for len(words) > 0 && len(all) < lines {
		take := 1
		for take < len(words) && n.face.Width(strings.Join(words[:take+1], " ")) <= ems {
			take++
		}
		if len(all) == lines-1 {
			take = len(words)
		}
		text, uncut := n.cut(strings.Join(words[:take], " "), ems)
		all, words, whole = append(all, text), words[take:], whole && uncut
	}
	return n.below(all...), whole
}

// cut takes letters off the end of a text that is wider than ems, with an ellipsis
// for them, and reports whether it is whole.
func (n note) cut(text string, ems float64) (string, bool) {
	if n.face.Width(text) <= ems {
		return text, true
	}
	letters := []rune(text)
	short := text
	for i := len(letters) - 1; i > 0; i-- {
		if short = strings.TrimRight(string(letters[:i]), " -") + ellipsis; n.face.Width(short) <= ems {
			break
		}
	}
	return short, false
}
