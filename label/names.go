package label

import (
	"strings"

	"golang.org/x/text/unicode/norm"
)

const ellipsis = "…"

// compose joins combining marks to their letters where Unicode has the letter
// ready made (normalization form C), since fonts draw those best.
func compose(name string) string { return norm.NFC.String(name) }

// Printable reports, as a *GlyphError, the first character of text that the
// faces cannot draw.
func Printable(text string) error {
	for _, r := range compose(text) {
		for _, face := range []*Typeface{Regular, Bold} {
			if !face.Has(r) {
				return &GlyphError{Text: text, Rune: r, Font: face.Name}
			}
		}
	}
	return nil
}

// parents is the row "♀ seed parent × ♂ pollen parent". It stays on one line
// where that is wide enough, else the pollen parent starts a line of its own;
// names wrap at spaces; at the last they end in an ellipsis.
func parents(want float64, seed, pollen string) row {
	mother, father := "♀ "+compose(seed)+" ×", "♂ "+compose(pollen)
	one := newLine(run{Regular, mother + " " + father, 1, false})
	return row{want: want, least: leastText, lines: func(ems float64, s squeeze) ([]line, bool) {
		switch {
		case one.width <= ems:
			return []line{one}, true
		case s == whole:
			first, ok1 := wrap(mother, ems)
			second, ok2 := wrap(father, ems)
			return append(first, second...), ok1 && ok2
		case s == shortened:
			first, ok1 := shorten("♀ ", compose(seed), " ×", ems)
			second, ok2 := shorten("♂ ", compose(pollen), "", ems)
			return []line{first, second}, ok1 && ok2
		}
		return shareLine(compose(seed), compose(pollen), ems)
	}}
}

// wrap breaks text at spaces into lines of at most ems. The symbol in front and
// the × behind stay with their neighbours.
func wrap(text string, ems float64) ([]line, bool) {
	var lines []line
	rest := strings.Fields(text)
	for len(rest) > 0 {
		n := len(rest)
		for n > 0 && Regular.Width(strings.Join(rest[:n], " ")) > ems {
			n--
		}
		if n == 0 || n == 1 && len([]rune(rest[0])) == 1 && len(rest) > 1 {
			return nil, false // a word too long, or ♀ or ♂ left alone
		}
		if n == len(rest)-1 && rest[n] == "×" {
			n-- // never × alone on a line
		}
		if n == 0 {
			return nil, false
		}
		lines = append(lines, newLine(run{Regular, strings.Join(rest[:n], " "), 1, false}))
		rest = rest[n:]
	}
	return lines, true
}

// shorten sets before, name and after on one line of at most ems, taking
// letters off the end of the name and showing that with an ellipsis.
func shorten(before, name, after string, ems float64) (line, bool) {
	letters := []rune(name)
	text := before + name + after
	for n := len(letters); Regular.Width(text) > ems; n-- {
		if n <= 3 {
			return line{}, false
		}
		text = before + strings.TrimRight(string(letters[:n-1]), " -") + ellipsis + after
	}
	return newLine(run{Regular, text, 1, false}), true
}

// shareLine sets both parents on one line of at most ems. A name that needs
// less than half leaves the rest to the other.
func shareLine(seed, pollen string, ems float64) ([]line, bool) {
	fixed := Regular.Width("♀  × ♂ ")
	room := ems - fixed
	w1, w2 := Regular.Width(seed), Regular.Width(pollen)
	share := room / 2
	if w1 < share {
		share = w1
	} else if w2 < room/2 {
		share = room - w2
	}
	first, ok1 := shorten("♀ ", seed, " × ", share+Regular.Width("♀  × "))
	if !ok1 {
		return nil, false
	}
	second, ok2 := shorten("♂ ", pollen, "", ems-first.width)
	if !ok2 {
		return nil, false
	}
	return []line{newLine(append(first.runs, second.runs...)...)}, true
}
