package label

// The least sizes that may be printed, as ems in millimetres. Anything smaller
// is wrapped or shortened instead.
var (
	leastIdentifier = Points(9)
	leastText       = Points(6)
)

// run is a stretch of text in one typeface. Its size is scale times that of
// the row that it stands in.
type run struct {
	face  *Typeface
	text  string
	scale float64
	right bool // set against the right edge of the column
}

// leastGap is the least distance of a run at the right edge from the one before
// it, in ems.
const leastGap = 0.6

// line is what stands on one baseline, with its measures for a size of 1.
type line struct {
	runs         []run
	width        float64
	above, below float64
}

func newLine(runs ...run) line {
	l := line{runs: runs}
	for _, r := range runs {
		l.width += r.scale * r.face.Width(r.text)
		if r.right {
			l.width += leastGap
		}
		above, below := r.face.Extent(r.text)
		l.above, l.below = max(l.above, r.scale*above), max(l.below, r.scale*below)
	}
	return l
}

// ascent is how high the fonts of the line reach, in ems of the line.
func (l line) ascent() float64 {
	var most float64
	for _, r := range l.runs {
		most = max(most, r.scale*r.face.ascent)
	}
	return most
}

// row is one thing that a column of text says. It may take several lines.
type row struct {
	want, least float64 // the em that looks best and the least allowed, in millimetres
	yields      bool    // may be shortened, and is set in its least size before it is

	// lines sets the row in a column that is so many ems wide; ok is false
	// where it does not go in. Each level of squeeze gives up something more.
	lines func(ems float64, s squeeze) (lines []line, ok bool)
}

// squeeze is what a row may give up so as to fit.
type squeeze int

const (
	whole     squeeze = iota // nothing
	broken                   // an identifier may take two lines
	wrapped                  // so may a name
	shortened                // names are set small, and end in an ellipsis
	oneLine                  // and both stay on one line
	squeezes  = iota
)

// plain is a row of one line that never gives up anything.
func plain(want, least float64, runs ...run) row {
	l := newLine(runs...)
	return row{want: want, least: least, lines: func(ems float64, _ squeeze) ([]line, bool) {
		return []line{l}, l.width <= ems
	}}
}

// column is rows of text set in a box.
type column struct {
	texts   []Text
	sizes   []float64 // the em of each row, in millimetres
	squeeze squeeze
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

// setColumn sets rows below one another in box at the largest sizes that fit,
// each row no larger than the one before it, and spreads them over the height
// of the box. It gives nil where even the least sizes do not fit.
func setColumn(box Rect, rows []row) *column {
	var best, next setting
	for s := whole; s < squeezes; s++ {
		fits := len(scales) - 1
		if !best.try(box, rows, scales[fits], s) {
			continue
		}
		for not := -1; fits-not > 1; { // what fits at one scale fits at all smaller ones
			middle := (fits + not) / 2
			if next.try(box, rows, scales[middle], s) {
				fits = middle
				best, next = next, best
			} else {
				not = middle
			}
		}
		c := &column{sizes: best.sizes, squeeze: s}
		c.place(box, best)
		return c
	}
	return nil
}

// setting is rows set at some sizes.
type setting struct {
	sizes   []float64 // the em of each row
	lines   []line
	ems     []float64 // the em of each line
	pitches []float64 // see stack
	height  float64   // of all the ink
}

// try sets rows at scale times the sizes that they want, but never below their
// least, and reports whether they fit in box.
func (g *setting) try(box Rect, rows []row, scale float64, s squeeze) bool {
	g.sizes, g.lines, g.ems = g.sizes[:0], g.lines[:0], g.ems[:0]
	for i, r := range rows {
		size := max(r.least, r.want*scale)
		if r.yields && s >= shortened {
			size = r.least
		}
		if i > 0 {
			size = min(size, g.sizes[i-1])
		}
		if size < r.least-1e-9 {
			return false
		}
		set, ok := r.lines(box.W/size, s)
		for !ok && size > r.least {
			size = max(r.least, size*0.97)
			set, ok = r.lines(box.W/size, s)
		}
		if !ok {
			return false
		}
		g.sizes = append(g.sizes, size)
		g.lines = append(g.lines, set...)
		for range set {
			g.ems = append(g.ems, size)
		}
	}
	g.stack()
	if low := g.lines[0].ascent()*g.ems[0] - box.Y; low > g.pitches[0] {
		g.height += low - g.pitches[0]
		g.pitches[0] = low // readers of the PDF take a line to be as high as its font
	}
	return g.height <= box.H+1e-6
}

// stack finds the distance of each baseline from the one before it (from the
// top for the first) and the height of all the ink, in millimetres.
func (g *setting) stack() {
	g.pitches, g.height = g.pitches[:0], 0
	for i, l := range g.lines {
		em := g.ems[i]
		pitch := l.above * em
		if i > 0 {
			clear := g.lines[i-1].below*g.ems[i-1] + l.above*em + 0.18*em
			pitch = max(1.16*em, clear)
		}
		g.pitches = append(g.pitches, pitch)
		g.height += pitch
	}
	last := len(g.lines) - 1
	g.height += g.lines[last].below * g.ems[last]
}

// place puts the lines of a setting into box, with the spare height shared out
// between them.
func (c *column) place(box Rect, g setting) {
	gap := 0.0
	if len(g.lines) > 1 {
		gap = min((box.H-g.height)/float64(len(g.lines)-1), 0.75*g.ems[0])
	}
	y := box.Y
	for i, l := range g.lines {
		y += g.pitches[i]
		if i > 0 {
			y += gap
		}
		x := box.X
		for _, r := range l.runs {
			size := g.ems[i] * r.scale
			w := r.face.Width(r.text) * size
			if r.right {
				x = box.Right() - w
			}
			c.texts = append(c.texts, newText(x, y, size, r.face, r.text))
			x += w
		}
	}
}

// newText is the line s with its first letter's origin at x and y.
func newText(x, y, size float64, face *Typeface, s string) Text {
	above, below := face.Extent(s)
	return Text{X: x, Baseline: y, Size: size, Face: face, String: s,
		Box: Rect{x, y - above*size, face.Width(s) * size, (above + below) * size}}
}
