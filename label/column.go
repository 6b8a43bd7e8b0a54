package label

import (
	"math"
	"slices"
	"sort"
)

// column is a part of the labels set in a box, alike on all of them.
type column struct {
	part  part
	box   Rect
	slots []slot
	foot  float64 // how far down the ink reaches, in millimetres
	score float64
}

// slot is where a row stands on all labels.
type slot struct {
	row       int // of the part
	shape     int
	size      float64 // the em, in millimetres
	baselines []float64
	tabs      [][]float64
}

// scales are what the sizes that rows want are tried at, each 4 % below the one
// before; the last one leaves every row its least size.
var scales = func() (all [80]float64) {
	scale := 1.0
	for i := range all[:len(all)-1] {
		all[i] = scale
		scale *= 0.96
	}
	return all
}()

// squeeze is how the rows of a column are broken into lines, and what they give
// up so as to fit.
type squeeze struct {
	identifier, names, note int  // their shapes
	near                    bool // groups stand no further apart than lines
	small                   bool // names may be smaller than is plain on all labels
	cut                     bool // and end in an ellipsis
}

// squeezes are those to try.
var squeezes = func() (all []squeeze) {
	for _, s := range []squeeze{{}, {near: true}, {near: true, small: true}, {near: true, small: true, cut: true}} {
		for s.identifier = range 2 {
			for s.names = range 3 {
				for s.note = range 3 {
					all = append(all, s)
				}
			}
		}
	}
	return all
}()

// column sets the rows of a part below one another in box at the largest sizes
// that fit, each row no larger than the one before it, and spreads them over
// the height of the box. It returns nil where even the least sizes do not fit.
// Wants are the sizes that the first rows want, where not their own.
func (b *batch) column(p part, box Rect, wants ...float64) *column {
	if box.W <= 0 || box.H <= 0 {
		return nil
	}
	measured := b.measured(p)
	rows := b.rowsIn(p, box.H)
	if len(wants) > 0 {
		rows = slices.Clone(rows)
	}
	for k, want := range wants {
		rows[k].want = want
	}
	var best *column
	var whole bool // best has whole names
	found, next := &b.trials[0], &b.trials[1]
	for _, s := range squeezes {
		if s.cut && whole {
			break
		}
		if !s.differs(rows, measured) {
			continue
		}
		fits := len(scales) - 1
		if !found.try(box, rows, measured, scales[fits], s) {
			continue
		}
		for not := -1; fits-not > 1; { // what fits at one scale fits at all smaller ones
			middle := (fits + not) / 2
			if next.try(box, rows, measured, scales[middle], s) {
				fits = middle
				found, next = next, found
			} else {
				not = middle
			}
		}
		if score := found.score(box.W, rows, measured, s); best == nil || score > best.score {
			best = &column{part: p, box: box, score: score}
			best.place(found, measured)
			whole = !s.cut
		}
	}
	return best
}

// differs reports whether the rows have the shapes that the squeeze names; if not,
// it is the same as another.
func (s squeeze) differs(rows []row, measured []*measuredRow) bool {
	identifier, names, note := s.identifier, s.names, s.note
	for k, m := range measured {
		switch {
		case m == nil:
		case rows[k].note:
			note = max(0, note-len(m.shapes)+1)
		case rows[k].shorten != nil:
			names = max(0, names-len(m.shapes)+1)
		case k == 0:
			identifier = max(0, identifier-len(m.shapes)+1)
		}
	}
	return identifier == 0 && names == 0 && note == 0
}

// setting is rows set at some sizes.
type setting struct {
	slots  []slot
	lines  []setLine
	height float64 // of all the ink
}

// setLine is a line of a setting.
type setLine struct {
	em, above, below float64 // in millimetres
	pitch            float64 // from the baseline before it; from the top for the first
	first, group     bool    // the first of its row; of a group of rows
	tight            bool    // nothing hangs below it or stands high, as in identifiers
	apart            bool    // keeps a gap above
}

// clearlySmaller is how large what stands below the identifier may be, in parts of
// its em, which makes 0.74 of the height of its letters, so that the identifier is
// what the eye finds first. What is as small as it may be without need is never made
// smaller for that.
var clearlySmaller = 0.74 * asHigh

// try sets rows at scale times the sizes that they want, but never below their
// least, and reports whether they fit in box.
func (g *setting) try(box Rect, rows []row, measured []*measuredRow, scale float64, s squeeze) bool {
	g.slots, g.lines = g.slots[:0], g.lines[:0]
	most := math.Inf(1)
	for k, m := range measured {
		if m == nil {
			continue
		}
		r := rows[k]
		least := r.plain
		if s.small || r.shorten == nil {
			least = r.least
		}
		shapes := s.of(k, r, m)
		size, shape, ok := m.fit(shapes, box.W, max(least, r.want*scale), least)
		if most < r.least {
			most = r.least // smaller than what stands below it, but never larger than the identifier
			if rows[0].shapes[0][0].tight() {
				most = min(most, g.slots[0].size)
			}
		}
		if r.free {
			most = size
		}
		size = min(size, most)
		if !ok && s.cut && r.shorten != nil {
			size, shape, ok = min(r.least, most), shapes[0], true
		}
		if !ok {
			return false
		}
		if most = size; len(g.slots) == 0 {
			most = clearlySmaller * size
		}
		f := m.shapes[shape]
		g.slots = append(g.slots, slot{row: k, shape: shape, size: size, tabs: f.tabs})
		for j := range f.above {
			g.lines = append(g.lines, setLine{em: size, above: f.above[j] * size, below: f.below[j] * size, first: j == 0, tight: j > 0 && r.shapes[0][0].tight(), group: r.group && j == 0, apart: r.group && j == 0 && !s.near && k > 0})
		}
	}
	g.stack()
	// Readers of the PDF take a line to be as high as its font.
	if low := Bold.ascent*g.lines[0].em - box.Y - g.lines[0].pitch; low > 0 {
		g.lines[0].pitch += low
		g.height += low
	}
	return g.height <= box.H+1e-6
}

// of is which shapes the k-th row of a part may take.
func (s squeeze) of(k int, r row, m *measuredRow) []int {
	all := [...]int{0, 1, 2}
	switch n := len(m.shapes); {
	case r.note:
		return all[min(s.note, n-1):][:1]
	case r.shorten != nil:
		return all[min(s.names, n-1):][:1]
	case k == 0:
		return all[min(s.identifier, n-1):][:1]
	default:
		return all[:n]
	}
}

// fit is the size, at most want, and the shape of a row in a column w wide: the
// first of shapes, or another in which it is larger.
func (m *measuredRow) fit(shapes []int, w, want, least float64) (size float64, shape int, ok bool) {
	for _, n := range shapes {
		widest, fits := m.shapes[n].widest(w / least)
		if !fits {
			continue
		}
		if own := min(want, w/widest); own > size*1.02 {
			size, shape, ok = own, n, true
		}
	}
	return size, shape, ok
}

// Gaps between lines, in ems.
const (
	groupGap  = 0.3  // how much further groups stand apart than lines, at the least
	tightGap  = 0.27 // between the two lines of an identifier
	largerGap = 0.07 // below larger letters, of theirs
)

// stack finds the pitch of each line and the height of all the ink.
func (g *setting) stack() {
	g.height = 0
	between := 0.0 // the last two lines of one row
	for i := range g.lines {
		l := &g.lines[i]
		l.pitch = l.above
		if i > 0 {
			before := g.lines[i-1]
			ink := before.below + l.above
			l.pitch = max(1.16*l.em, ink+0.18*l.em, ink+largerGap*before.em)
			if l.tight {
				l.pitch = ink + tightGap*l.em
			}
			if l.apart {
				l.pitch = max(l.pitch+groupGap*l.em, ink+1.1*between)
			}
			if between = l.pitch - ink; l.first {
				between = 0
			}
		}
		g.height += l.pitch
	}
	g.height += g.lines[len(g.lines)-1].below
}

// nearAt is the em of an identifier below which groups may stand as near as lines: the
// larger the letters, the less is won by crowding what stands below them. In millimetres.
const nearAt = 9.5

// brokenNames is what it costs to break names.
const brokenNames = 1.2

const (
	readableFar    = 8.4 // a height of its letters that is readable enough from metres, in millimetres
	moreThanEnough = 0.8 // how much less a larger size gains than up to there
)

// score returns how well the rows read, each against its least size: the
// identifier counts most. Names that stray cost as much as they are of all. W
// is the width of the column, in millimetres.
func (g *setting) score(w float64, rows []row, measured []*measuredRow, s squeeze) float64 {
	sum := 0.0
	for _, l := range g.slots {
		enough := Regular.em(readable)
		if rows[l.row].worth > 1 {
			enough = Signs.em(readableFar)
		}
		worth := math.Log(l.size / rows[l.row].least)
		if l.size > enough {
			worth -= moreThanEnough * math.Log(l.size/enough)
		}
		if rows[l.row].shorten != nil {
			widths := measured[l.row].shapes[l.shape].widths
			least := w / rows[l.row].least
			worth -= 2*beyond(widths, w/l.size) + 4*beyond(widths, least) + 3*lost(widths, least) + rows[l.row].other*float64(l.shape)
			if len(measured[l.row].shapes[l.shape].above) > 2 && !rows[l.row].note {
				worth -= brokenNames
			}
		}
		if w := rows[l.row].worth; w > 0 {
			worth *= w
		}
		sum += worth
	}
	if s.near {
		crowded := max(1, g.slots[0].size/nearAt)
		sum -= 0.3 * crowded * crowded
	}
	if s.small {
		sum--
	}
	if s.cut {
		sum -= 5
	}
	return sum
}

// beyond is the share of widths, ascending, that are more than w.
func beyond(widths []float64, w float64) float64 {
	return 1 - float64(sort.SearchFloat64s(widths, w+1e-9))/float64(len(widths))
}

// lost is how much of widths, ascending, is beyond w, as a share of each.
func lost(widths []float64, w float64) float64 {
	sum := 0.0
	for i := len(widths) - 1; i >= 0 && widths[i] > w+1e-9; i-- {
		sum += 1 - w/widths[i]
	}
	return sum / float64(len(widths))
}

// place puts the lines of a setting into the box, with the spare height shared
// out between them: groups stand further apart than rows, rows than the lines
// of one.
func (c *column) place(g *setting, measured []*measuredRow) {
	weight := func(l setLine) float64 {
		switch {
		case l.group:
			return 3
		case l.first:
			return 1
		}
		return 0.6
	}
	var sum float64
	for _, l := range g.lines[min(1, len(g.lines)):] {
		sum += weight(l)
	}
	spare := 0.0
	if sum > 0 {
		spare = min((c.box.H-g.height)/sum, 0.3*g.lines[len(g.lines)-1].em)
	}
	y, n := c.box.Y, 0
	for _, s := range g.slots {
		for range measured[s.row].shapes[s.shape].above {
			y += g.lines[n].pitch
			if n > 0 {
				y += spare * weight(g.lines[n])
			}
			s.baselines = append(s.baselines, y)
			n++
		}
		c.slots = append(c.slots, s)
	}
	c.foot = y + g.lines[n-1].below
}

// lower moves the rows down by what is free below them, at most by half an em, away
// from what stands above.
func (c *column) lower() {
	last := c.slots[len(c.slots)-1]
	by := min(c.box.Bottom()-c.foot, 0.5*last.size)
	c.foot += by
	for _, s := range c.slots {
		for j := range s.baselines {
			s.baselines[j] += by
		}
	}
}

// draw sets the i-th label's rows in the column.
func (c *column) draw(b *batch, i int, d *Drawing) {
	rows := b.rows[c.part][i] // measured before; only the sizes that rows want hang on the box
	for _, s := range c.slots {
		r := rows[s.row]
		if len(r.shapes) == 0 {
			continue
		}
		size, lines, baselines := s.size, r.as(s.shape), s.baselines
		if r.shorten != nil && !lines.fits(c.box.W/size) {
			size, lines, baselines = c.stray(r, s, d, len(b.faces) > 1)
		}
		for j, l := range lines {
			var tabs []float64
			if j < len(s.tabs) {
				tabs = s.tabs[j]
			}
			d.setLine(l, c.box, baselines[j], size, tabs)
		}
	}
}

func (f shape) fits(ems float64) bool {
	for _, l := range f {
		if l.width(nil) > ems+1e-9 {
			return false
		}
	}
	return true
}

const smaller = " set smaller than on the other labels"

// stray sets a row of names that is too wide for its slot: smaller, then
// broken into more lines as far as the slot is high, then shortened.
func (c *column) stray(r row, s slot, d *Drawing, among bool) (size float64, lines shape, baselines []float64) {
	first, last := s.baselines[0], s.baselines[len(s.baselines)-1]
	even := func(n int, em float64) []float64 {
		var all []float64
		for j := range n {
			all = append(all, last-float64(n-1-j)*1.16*em)
		}
		return all
	}
	head := first - s.size*Regular.caps // the top of the slot
	for _, f := range r.shapes {
		own := math.Inf(1)
		for _, l := range f {
			own = min(own, c.box.W/l.width(nil))
		}
		own = min(own, s.size)
		if n := float64(len(f) - 1); n > 0 {
			own = min(own, (last-head)/(n*1.16+Regular.caps))
		}
		if own > size {
			size, lines = own, f
		}
	}
	if size >= r.least {
		if among && size < 0.999*s.size {
			d.notice(r.called + smaller)
		}
		if len(lines) == len(s.baselines) {
			return size, lines, s.baselines
		}
		return size, lines, even(len(lines), size)
	}
	size = r.least
	room := 1 + int((last-head-size*Regular.caps)/(1.16*size)+1e-9) // lines
	lines, whole := r.shorten(c.box.W/size, max(room, 1))
	if !whole {
		d.notice(r.called + " shortened on the label")
	} else if among {
		d.notice(r.called + smaller)
	}
	return size, lines, even(len(lines), size)
}

// setLine sets a line in a column.
func (d *Drawing) setLine(l line, box Rect, y, size float64, tabs []float64) {
	x := box.X
	for k, r := range l {
		em := size * r.scale
		w := r.face.Width(r.text) * em
		switch {
		case r.at == tabbed && k < len(tabs):
			x = box.X + max(tabs[k]*size, x-box.X)
		case r.at == atRight:
			x = box.Right() - w
		}
		if r.text != "" {
			d.Texts = append(d.Texts, newText(x, y, em, r.face, r.text))
		}
		x += w
	}
}

// newText is the line s with its first letter's origin at x and y.
func newText(x, y, size float64, face *Typeface, s string) Text {
	above, below := face.Extent(s)
	return Text{X: x, Baseline: y, Size: size, Face: face, String: s,
		Box: Rect{x, y - above*size, face.Width(s) * size, (above + below) * size}}
}

// newUpward is the line s read from the foot of the label upward, its baseline
// at x and its first letter's origin at y.
func newUpward(x, y, size float64, face *Typeface, s string) Text {
	above, below := face.Extent(s)
	w := face.Width(s) * size
	return Text{X: x, Baseline: y, Size: size, Face: face, String: s, Turn: Upward,
		Box: Rect{x - above*size, y - w, (above + below) * size, w}}
}
