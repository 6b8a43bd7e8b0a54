package layout

import (
	"fmt"
	"strings"

	"pipstake/label"
)

// benchPage is a page of a bench sheet that fills from the top.
type benchPage struct {
	paper Paper
	names *label.Typeface
	y     float64 // how far it is filled, in millimetres
	texts []label.Text
	rules []label.Rule
	err   error // the first character that cannot be drawn
}

func (p *benchPage) left() float64  { return benchMargin }
func (p *benchPage) right() float64 { return p.paper.W - benchMargin }
func (p *benchPage) wide() float64  { return p.right() - p.left() }

// run is a stretch of text in one typeface.
type run struct {
	face *label.Typeface
	text string
}

// runs splits a text by the typefaces that draw it.
func (p *benchPage) runs(face *label.Typeface, text string) []run {
	var runs []run
	for _, r := range text {
		use := face
		if drawable(face, string(r)) != nil && p.names != nil {
			use = p.names
		}
		if err := drawable(use, string(r)); err != nil && p.err == nil {
			p.err = &label.GlyphError{Text: text, Rune: r, Font: face.Called()}
		}
		if n := len(runs); n > 0 && runs[n-1].face == use {
			runs[n-1].text += string(r)
		} else {
			runs = append(runs, run{use, string(r)})
		}
	}
	return runs
}

// width is how far a text runs, in millimetres.
func (p *benchPage) width(face *label.Typeface, size float64, text string) float64 {
	wide := 0.0
	for _, r := range p.runs(face, text) {
		wide += r.face.Width(r.text) * size
	}
	return wide
}

// set writes a text from x on and returns where it ends.
func (p *benchPage) set(face *label.Typeface, size, x, baseline float64, text string) float64 {
	for _, r := range p.runs(face, text) {
		p.texts = append(p.texts, label.Text{X: x, Baseline: baseline, Size: size, Face: r.face, String: r.text})
		x += r.face.Width(r.text) * size
	}
	return x
}

// wrap breaks a text into lines no wider than so many millimetres. A word that
// is wider alone is cut short.
func (p *benchPage) wrap(face *label.Typeface, size, wide float64, text string) []string {
	var lines []string
	line := ""
	for word := range strings.SplitSeq(text, " ") { // a no-break space holds on
		word = p.cut(face, size, wide, word)
		if line != "" && p.width(face, size, line+" "+word) > wide {
			lines, line = append(lines, line), ""
		}
		if line != "" {
			line += " "
		}
		line += word
	}
	return append(lines, line)
}

// cut ends a text that is too wide in an ellipsis.
func (p *benchPage) cut(face *label.Typeface, size, wide float64, text string) string {
	if p.width(face, size, text) <= wide {
		return text
	}
	letters := []rune(text)
	for len(letters) > 0 && p.width(face, size, string(letters)+"…") > wide {
		letters = letters[:len(letters)-1]
	}
	return string(letters) + "…"
}

// rule draws a line.
func (p *benchPage) rule(x1, y1, x2, y2, width float64) {
	p.rules = append(p.rules, label.Rule{X1: x1, Y1: y1, X2: x2, Y2: y2, Width: width})
}

// frame draws a rectangle.
func (p *benchPage) frame(r label.Rect, width float64) {
	p.rule(r.X-width/2, r.Y, r.Right()+width/2, r.Y, width)
	p.rule(r.X-width/2, r.Bottom(), r.Right()+width/2, r.Bottom(), width)
	p.rule(r.X, r.Y, r.X, r.Bottom(), width)
	p.rule(r.Right(), r.Y, r.Right(), r.Bottom(), width)
}

// head is the title with a heavy line below it.
func (p *benchPage) head(title, under string) {
	p.set(label.Bold, benchTitle, p.left(), p.y+0.75*benchTitle, p.cut(label.Bold, benchTitle, p.wide(), title))
	p.y += 0.75*benchTitle + benchLine + 0.5
	p.set(label.Regular, benchText, p.left(), p.y, p.cut(label.Regular, benchText, p.wide(), under))
	p.y += 2.5
	p.rule(p.left(), p.y, p.right(), p.y, benchThick)
	p.y += 4
}

// mixHigh is what a bath takes of the page.
func (p *benchPage) mixHigh(m BenchMix) float64 {
	return float64(len(p.mixFor(m)))*benchLine + 1 + benchMixHigh + 4
}

func (p *benchPage) mixFor(m BenchMix) []string {
	if m.For == "" {
		return nil
	}
	return p.wrap(label.Bold, benchText, p.wide(), m.For)
}

// mix is a frame with three large figures side by side.
func (p *benchPage) mix(m BenchMix) {
	for _, line := range p.mixFor(m) {
		p.set(label.Bold, benchText, p.left(), p.y+benchText, line)
		p.y += benchLine
	}
	p.y += 1
	third := p.wide() / float64(len(m.Figures))
	for i, f := range m.Figures {
		x := p.left() + float64(i)*third
		if i > 0 {
			p.rule(x, p.y, x, p.y+benchMixHigh, benchThin)
		}
		p.set(label.Bold, benchFigure, x+3, p.y+9.5, p.cut(label.Bold, benchFigure, third-4, f.Value))
		p.set(label.Regular, benchText, x+3, p.y+benchMixHigh-2.5, p.cut(label.Regular, benchText, third-4, f.Of))
	}
	p.frame(label.Rect{X: p.left(), Y: p.y, W: p.wide(), H: benchMixHigh}, benchThick)
	p.y += benchMixHigh + 4
}

// stepLines are the words of a step beside its boxes.
func (p *benchPage) stepLines(s BenchStep) []string {
	boxes := float64(len(s.Blanks)) * (benchBlank + 3)
	return p.wrap(label.Regular, benchText, p.wide()-stepIndent-boxes, s.Text)
}

// stepHigh is what a step takes of the page.
func (p *benchPage) stepHigh(s BenchStep) float64 {
	high := float64(len(p.stepLines(s))) * benchLine
	if s.Blanks != nil {
		high = max(high, blankHigh+0.5)
	}
	return high + 1.3
}

// step is a numbered step with boxes at its right.
func (p *benchPage) step(n int, s BenchStep) {
	high := p.stepHigh(s)
	p.set(label.Bold, benchText, p.left(), p.y+benchText, fmt.Sprint(n))
	for i, line := range p.stepLines(s) {
		p.set(label.Regular, benchText, p.left()+stepIndent, p.y+benchText+float64(i)*benchLine, line)
	}
	for i, caption := range s.Blanks {
		box := label.Rect{X: p.right() - float64(len(s.Blanks)-i)*(benchBlank+3) + 3, Y: p.y, W: benchBlank, H: blankHigh}
		p.frame(box, benchThin)
		p.set(label.Regular, 2.3, box.X+0.8, box.Y+2.6, caption)
	}
	p.y += high
}

// cautionLines are the words of a caution in its frame.
func (p *benchPage) cautionLines(face *label.Typeface, text string) []string {
	return p.wrap(face, benchText, p.wide()-2*cautionPad-bulletWide, text)
}

// cautionFace sets the first caution in bold.
func cautionFace(i int) *label.Typeface {
	if i == 0 {
		return label.Bold
	}
	return label.Regular
}

// cautionsHigh is what the frame of cautions takes of the page.
func (p *benchPage) cautionsHigh(cautions []string) float64 {
	lines := 0
	for i, c := range cautions {
		lines += len(p.cautionLines(cautionFace(i), c))
	}
	return 1.5 + 2*cautionPad - 1 + float64(lines)*benchLine + 6
}

// cautions stand in a heavy frame.
func (p *benchPage) cautions(cautions []string) {
	bottom := p.y + p.cautionsHigh(cautions)
	top := p.y + 1.5
	baseline := top + cautionPad + benchText
	for i, c := range cautions {
		x := p.left() + cautionPad
		if i > 0 {
			p.set(label.Bold, benchText, x, baseline, "•")
			x += bulletWide
		}
		for _, line := range p.cautionLines(cautionFace(i), c) {
			p.set(cautionFace(i), benchText, x, baseline, line)
			baseline += benchLine
		}
	}
	p.frame(label.Rect{X: p.left(), Y: top, W: p.wide(), H: bottom - 6 - top}, benchThick)
	p.y = bottom
}

// cellX is the left edge of a box in the table.
func (p *benchPage) cellX(i int) float64 {
	x := p.right()
	for _, c := range benchColumns[i:] {
		x -= c.wide
	}
	return x
}

func (p *benchPage) tableHead() {
	p.set(label.Bold, benchSmall, p.left(), p.y, "seed lot")
	p.set(label.Bold, benchSmall, p.left()+benchIDWide, p.y, "parents")
	for i, c := range benchColumns {
		p.set(label.Bold, benchSmall, p.cellX(i)+1, p.y, c.name)
	}
	p.y += 1.5
	p.rule(p.left(), p.y, p.right(), p.y, benchThick)
}

// lot is a row of the table.
func (p *benchPage) lot(l BenchLot) {
	middle := p.y + benchRow/2
	p.set(label.Bold, 5, p.left(), middle+1.8, p.cut(label.Bold, 5, benchIDWide-1, l.ID))
	room := p.cellX(0) - p.left() - benchIDWide - 2
	lines := p.wrap(label.Regular, benchSmall, room, l.Parents)
	if len(lines) > 2 {
		lines = []string{lines[0], p.cut(label.Regular, benchSmall, room, lines[1]+" "+lines[2])}
	}
	baseline := middle + 1.1 - float64(len(lines)-1)*1.8
	for i, line := range lines {
		p.set(label.Regular, benchSmall, p.left()+benchIDWide, baseline+float64(i)*3.6, line)
	}
	for i := range benchColumns {
		p.rule(p.cellX(i), p.y, p.cellX(i), p.y+benchRow, benchThin)
	}
	p.rule(p.right(), p.y, p.right(), p.y+benchRow, benchThin)
	p.y += benchRow
	p.rule(p.left(), p.y, p.right(), p.y, benchThin)
}

// foot is the line at the bottom.
func (p *benchPage) foot(text string) {
	wide := p.width(label.Regular, footSize, text)
	p.set(label.Regular, footSize, p.right()-wide, p.paper.H-benchMargin, text)
}
