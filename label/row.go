package label

import "sort"

// The least sizes that may be printed, as ems in millimetres. Anything smaller
// is wrapped or shortened instead.
var (
	leastIdentifier = Points(9)
	leastText       = Points(6)
)

// setAt is where a run stands in its line.
type setAt int

const (
	flowing setAt = iota // behind the one before it
	tabbed               // behind the widest one before it in the batch
	atRight              // against the right edge of the column
)

// run is a stretch of text in one typeface. Its size is scale times that of
// the row that it stands in.
type run struct {
	face  *Typeface
	text  string
	scale float64
	at    setAt
}

func (r run) width() float64 { return r.scale * r.face.Width(r.text) }

// leastGap is the least distance of a run at the right edge from the one before
// it, in ems.
const leastGap = 0.6

// line is what stands on one baseline.
type line []run

// extent is how far the ink of a line reaches above and below its baseline, in
// ems of the line.
func (l line) extent() (above, below float64) {
	for _, r := range l {
		up, down := r.face.Extent(r.text)
		above, below = max(above, r.scale*up), max(below, r.scale*down)
	}
	return above, below
}

// tight reports whether the line is one of an identifier, whose letters neither hang
// below it nor bear marks.
func (l line) tight() bool { return l[0].face == Signs }

// width is that of the line where tabs are the offsets of its runs from the
// tabbed one on; nil where none is tabbed. In ems.
func (l line) width(tabs []float64) float64 {
	var w float64
	for i, r := range l {
		if r.at == tabbed && i < len(tabs) {
			w = max(w, tabs[i])
		}
		w += r.width()
		if r.at == atRight {
			w += leastGap
		}
	}
	return w
}

// shape is one way to break a row into lines.
type shape []line

// row is one thing that a part of a label says.
type row struct {
	want   float64 // the em that looks best, in millimetres
	plain  float64 // the least em for which all labels are set alike
	least  float64 // the least em allowed
	worth  float64 // of its size beside that of names; 0 for as much
	group  bool    // stands further from the row above it
	note   bool    // breaks by itself, not as the names do
	free   bool    // may be larger than the row above it
	shapes []shape // the best first; none for a row that is empty on this label
	other  float64 // what it costs a score to take the next one
	called string  // in a notice that it is shortened: "the note is"

	// shorten sets a row that is too wide on at most so many lines of at most ems,
	// and reports whether nothing is lost; nil for a row that always has to fit.
	shorten func(ems float64, lines int) (shape, bool)
}

// as is the n-th shape of a row, its last one where it has fewer than others.
func (r row) as(n int) shape { return r.shapes[min(n, len(r.shapes)-1)] }

// measuredRow is what a row of all labels of a batch takes up.
type measuredRow struct {
	label  int  // the first one on which the row is not empty
	differ bool // labels on which it is too wide may differ
	shapes []measuredShape
}

// measuredShape is the lines of a shape, as high and wide as on the labels that
// need most.
type measuredShape struct {
	widths       []float64 // of each label's widest line, in ems, ascending; the widest alone where none may differ
	above, below []float64 // of each line, in ems
	tabs         [][]float64
}

// measured is what the rows of a part take up over the whole batch; nil stands
// for a row that is empty on all labels.
func (b *batch) measured(p part) []*measuredRow {
	if m, ok := b.parts[p]; ok {
		return m
	}
	rows := make([][]row, len(b.faces))
	b.each(func(i int) error {
		rows[i] = b.faces[i].rows(p, b.room.Names, 1)
		return nil
	})
	b.rows[p] = rows
	var all []*measuredRow
	each := func(do func(label int, r row, m **measuredRow)) {
		for i, rows := range rows {
			for k, r := range rows {
				if k == len(all) {
					all = append(all, nil)
				}
				if len(r.shapes) > 0 {
					do(i, r, &all[k])
				}
			}
		}
	}
	each(func(label int, r row, m **measuredRow) {
		if *m == nil {
			*m = &measuredRow{label: label}
		}
		(*m).differ = (*m).differ || r.shorten != nil
		for len((*m).shapes) < len(r.shapes) {
			(*m).shapes = append((*m).shapes, measuredShape{})
		}
	})
	each(func(_ int, r row, m **measuredRow) { // tabs first, since widths hang on them
		for n := range (*m).shapes {
			(*m).shapes[n].open(r.as(n))
		}
	})
	each(func(_ int, r row, m **measuredRow) {
		for n := range (*m).shapes {
			(*m).shapes[n].add(r.as(n), (*m).differ)
		}
	})
	for _, m := range all {
		if m == nil {
			continue
		}
		if m.differ {
			m.level()
		}
		for _, shape := range m.shapes {
			sort.Float64s(shape.widths)
		}
	}
	b.parts[p] = all
	return all
}

// partHeight is a part of labels as high as it is set, in millimetres.
type partHeight struct {
	part part
	h    float64
}

// rowsIn are those of a part h millimetres high, each as on the first label that has
// it; the same ones each time.
func (b *batch) rowsIn(p part, h float64) []row {
	key := partHeight{p, h}
	if rows, ok := b.wanted[key]; ok {
		return rows
	}
	rows := b.faces[0].rows(p, b.room.Names, h)
	for k, m := range b.measured(p) {
		if m != nil && m.label > 0 {
			rows[k] = b.faces[m.label].rows(p, b.room.Names, h)[k]
		}
	}
	b.wanted[key] = rows
	return rows
}

// level makes the last lines of all shapes reach as far down as any line does,
// for labels that take another shape than the batch.
func (m *measuredRow) level() {
	var most float64
	for _, s := range m.shapes {
		for _, below := range s.below {
			most = max(most, below)
		}
	}
	for _, s := range m.shapes {
		s.below[len(s.below)-1] = most
	}
}

// open makes room for the lines of a shape and moves their tabs as far as this
// label needs.
func (m *measuredShape) open(f shape) {
	for j, l := range f {
		if j == len(m.above) {
			m.above, m.below, m.tabs = append(m.above, 0), append(m.below, 0), append(m.tabs, nil)
		}
		above, below := l.extent()
		m.above[j], m.below[j] = max(m.above[j], above), max(m.below[j], below)
		at := 0.0
		for k, r := range l {
			if r.at == tabbed {
				if m.tabs[j] == nil {
					m.tabs[j] = make([]float64, len(l))
				}
				m.tabs[j][k] = max(m.tabs[j][k], at)
				at = m.tabs[j][k]
			}
			at += r.width()
		}
	}
}

// add takes a label's shape into account. Where labels may differ all widths are
// kept, else the largest.
func (m *measuredShape) add(f shape, differ bool) {
	var w float64
	for j, l := range f {
		w = max(w, l.width(m.tabs[j]))
	}
	if differ || len(m.widths) == 0 {
		m.widths = append(m.widths, w)
	} else {
		m.widths[0] = max(m.widths[0], w)
	}
}

// widest is the width of the widest label that does not stray: that is no wider
// than ems. It reports false where more labels stray than not.
func (m *measuredShape) widest(ems float64) (float64, bool) {
	n := sort.SearchFloat64s(m.widths, ems+1e-9)
	if n == 0 || 2*n < len(m.widths) {
		return 0, false
	}
	return m.widths[n-1], true
}
