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
	bottom  float64 // the lowest ink, in millimetres
}

// setColumn sets rows below one another in box at the largest sizes that fit,
// each row no larger than the one before it, and spreads them over the height
// of the box. It gives nil where even the least sizes do not fit.
func setColumn(box Rect, rows []row) *column {
	for s := whole; s < squeezes; s++ {
		smallest := trySize(box, rows, 0, s)
		if smallest == nil {
			continue
		}
		for scale := 1.0; scale > 0.05; scale *= 0.96 {
			if c := trySize(box, rows, scale, s); c != nil {
				return c
			}
		}
		return smallest
	}
	return nil
}

// trySize sets rows at scale times the sizes that they want, but never below
// their least. It gives nil where they do not fit.
func trySize(box Rect, rows []row, scale float64, s squeeze) *column {
	var lines []line
	var ems []float64 // the em of each line
	sizes := make([]float64, len(rows))
	for i, r := range rows {
		size := max(r.least, r.want*scale)
		if r.yields && s >= shortened {
			size = r.least
		}
		if i > 0 {
			size = min(size, sizes[i-1])
		}
		if size < r.least-1e-9 {
			return nil
		}
		set, ok := r.lines(box.W/size, s)
		for !ok && size > r.least {
			size = max(r.least, size*0.97)
			set, ok = r.lines(box.W/size, s)
		}
		if !ok {
			return nil
		}
		sizes[i] = size
		for _, l := range set {
			lines, ems = append(lines, l), append(ems, size)
		}
	}
	pitches, height := stack(lines, ems)
	if low := lines[0].ascent()*ems[0] - box.Y; low > pitches[0] {
		height += low - pitches[0]
		pitches[0] = low // readers of the PDF take a line to be as high as its font
	}
	if height > box.H+1e-6 {
		return nil
	}
	c := &column{sizes: sizes, squeeze: s}
	c.place(box, lines, ems, pitches, box.H-height)
	return c
}

// stack gives the distance of each baseline from the one before it (from the
// top for the first) and the height of all the ink, in millimetres.
func stack(lines []line, ems []float64) (pitches []float64, height float64) {
	for i, l := range lines {
		pitch := l.above * ems[i]
		if i > 0 {
			clear := lines[i-1].below*ems[i-1] + l.above*ems[i] + 0.18*ems[i]
			pitch = max(1.16*ems[i], clear)
		}
		pitches = append(pitches, pitch)
		height += pitch
	}
	last := len(lines) - 1
	return pitches, height + lines[last].below*ems[last]
}

// place puts lines into box, with the spare height shared out between them.
func (c *column) place(box Rect, lines []line, ems, pitches []float64, spare float64) {
	gap := 0.0
	if len(lines) > 1 {
		gap = min(spare/float64(len(lines)-1), 0.75*ems[0])
	}
	y := box.Y
	for i, l := range lines {
		y += pitches[i]
		if i > 0 {
			y += gap
		}
		x := box.X
		for _, r := range l.runs {
			size := ems[i] * r.scale
			w := r.face.Width(r.text) * size
			if r.right {
				x = box.Right() - w
			}
			c.texts = append(c.texts, newText(x, y, size, r.face, r.text))
			x += w
		}
		c.bottom = y + l.below*ems[i]
	}
}

// newText is the line s with its first letter's origin at x and y.
func newText(x, y, size float64, face *Typeface, s string) Text {
	above, below := face.Extent(s)
	return Text{X: x, Baseline: y, Size: size, Face: face, String: s,
		Box: Rect{x, y - above*size, face.Width(s) * size, (above + below) * size}}
}
