package label

import (
	"fmt"
	"runtime"
	"slices"
	"sync"
	"sync/atomic"

	"pipstake/ids"
	"pipstake/label/symbol"
)

// Face is what one label says: a Stake, a StakeBack, a Bag, a Seedling or a
// BranchTag.
type Face interface {
	about() about
	// rows is what the label says in a part of it that is h millimetres high, with
	// names in font where the Go font lacks a letter. Labels of a kind have the same
	// rows, of which some may be empty.
	rows(p part, font *Typeface, h float64) []row
	// plan lays out a batch of which the face is the first; nil where the room
	// does not do.
	plan(b *batch) *plan
}

// part is a place of text on a label.
type part int

const (
	headPart   part = iota // beside or below the code
	barePart               // the same with the identifier alone
	footPart               // below both, over the full width
	wholePart              // both in one column
	buriedPart             // of a stake, in the soil
)

// about is what a face tells of a label besides its rows.
type about struct {
	kind    string // "stake", for messages
	id      ids.ID
	names   []string
	payload symbol.Payload
	facts   symbol.Facts
}

// Fit sets the labels of a batch, which are of one kind, in rooms like r. They
// are laid out alike: with the same arrangement, the same places and sizes of
// type, and codes of one size and module, which are those that the widest label
// needs. A name that is far wider than the others does not make all of them
// small: it is set smaller by itself, and a notice says so.
//
// The error is a *RoomError, or a *LabelError around a *GlyphError or a
// *ScriptError.
func Fit(faces []Face, r Room) ([]*Drawing, error) {
	if len(faces) == 0 {
		return nil, nil
	}
	b, err := newBatch(faces, r)
	if err != nil {
		return nil, err
	}
	b, p := b.layOut()
	if p == nil {
		return nil, b.ask()
	}
	drawings := make([]*Drawing, len(faces))
	err = b.each(func(i int) (err error) {
		drawings[i], err = p.draw(b, i)
		return err
	})
	if err != nil {
		return nil, err
	}
	return drawings, nil
}

// How far ink stays from a cut: where there is room for it, further than a Room asks
// for, so that a crooked cut takes nothing.
const (
	apart      = 2.0  // millimetres
	roomy      = 24.0 // the least height of a label for that: on a lower one its letters would lose 5 %
	hardlyLess = 0.13 // what it may cost of the score: 1 to 2 % of the sizes
)

// layOut plans the batch, with ink apart from the cut where that costs next to
// nothing. It returns the batch in the room that it is planned for.
func (b *batch) layOut() (*batch, *plan) {
	p := b.faces[0].plan(b)
	m := b.room.Margin
	further := Margin{max(m.Left, apart), max(m.Top, apart), max(m.Right, apart), max(m.Bottom, apart)}
	if p == nil || b.room.H < roomy || further == m {
		return b, p
	}
	r := b.room
	r.Margin = further
	inner := b.in(r)
	if q := inner.faces[0].plan(inner); q != nil && q.score >= p.score-hardlyLess {
		return inner, q
	}
	return b, p
}

// fitOne sets a label by itself.
func fitOne(f Face, r Room) (*Drawing, error) {
	drawings, err := Fit([]Face{f}, r)
	if err != nil {
		if one, ok := err.(*LabelError); ok {
			err = one.Err
		}
		return nil, err
	}
	return drawings[0], nil
}

// LabelError says which label of a batch cannot be drawn, and why.
type LabelError struct {
	Index int // from 0
	Err   error
}

func (e *LabelError) Error() string { return fmt.Sprintf("label %d: %v", e.Index+1, e.Err) }

// Unwrap returns what is wrong with the label.
func (e *LabelError) Unwrap() error { return e.Err }

// batch is labels of one kind that are laid out alike, and what decides how.
type batch struct {
	faces   []Face
	room    Room
	says    []saying
	longest string           // the compact text that needs most of a code
	full    []string         // all full texts, the shortest first
	rows    map[part][][]row // of each label
	parts   map[part][]*measuredRow
	wanted  map[partHeight][]row
	trials  *[2]setting // of the column that is being set: their memory is used again
}

func newBatch(faces []Face, r Room) (*batch, error) {
	b := &batch{faces: faces, room: r, says: make([]saying, len(faces)), rows: map[part][][]row{}, parts: map[part][]*measuredRow{}, wanted: map[partHeight][]row{}, trials: new([2]setting)}
	var before about // most labels tell the same of their parents as the one before
	var text string
	var unfolded error
	for i, f := range faces {
		a := f.about()
		if i == 0 || !slices.Equal(a.names, before.names) {
			if err := printable(r, a.names...); err != nil {
				return nil, &LabelError{i, err}
			}
		}
		if i == 0 || a.facts != before.facts {
			text, unfolded = a.facts.Text()
		}
		before = a
		s := newSaying(a.payload, text, unfolded)
		b.says[i] = s
		if symbol.Outgrows(s.compact, b.longest) {
			b.longest = s.compact
		}
		if s.full != "" {
			b.full = append(b.full, s.full)
		}
	}
	slices.SortFunc(b.full, func(a, b string) int { return len(a) - len(b) })
	return b, nil
}

// each does something for every label, on all processors. The error is a
// *LabelError for the first label that has one.
func (b *batch) each(do func(i int) error) error {
	const chunk = 64
	errs := make([]error, len(b.faces))
	var done atomic.Int64
	work := func() {
		for {
			end := int(done.Add(chunk))
			if end-chunk >= len(errs) {
				return
			}
			for i := end - chunk; i < min(end, len(errs)); i++ {
				errs[i] = do(i)
			}
		}
	}
	var others sync.WaitGroup
	for range min(runtime.GOMAXPROCS(0), 1+len(errs)/chunk) - 1 {
		others.Go(work)
	}
	work()
	others.Wait()
	for i, err := range errs {
		if err != nil {
			return &LabelError{i, err}
		}
	}
	return nil
}

// in is the same batch in another room.
func (b *batch) in(r Room) *batch {
	other := *b
	other.room = r
	return &other
}

// plan is a layout for all labels of a batch.
type plan struct {
	codes   []Code // as the label with the longest text has them
	parts   []column
	rules   []Rule
	circles []Circle
	form    *form
	spare   Rect
	strip   Rect
	extra   func(b *batch, i int, d *Drawing) // what the face adds by itself
	score   float64
}

// draw sets the i-th label of the batch by the plan.
func (p *plan) draw(b *batch, i int) (*Drawing, error) {
	d := &Drawing{W: b.room.W, H: b.room.H, Safe: b.room.Safe(), Rules: slices.Clip(p.rules), Circles: p.circles, Spare: p.spare, Strip: p.strip, says: b.says[i].all()}
	d.notice(b.says[i].notice)
	for n, c := range p.codes {
		if err := d.encode(b, i, n, c); err != nil {
			return nil, err
		}
	}
	for _, c := range p.parts {
		c.draw(b, i, d)
	}
	if p.form != nil {
		p.form.draw(b.faces[i].(Bag), d)
	}
	if p.extra != nil {
		p.extra(b, i, d)
	}
	return d, nil
}

// best keeps the plan that reads best.
type best struct{ plan *plan }

func (b *best) offer(p *plan) {
	if p != nil && (b.plan == nil || p.score > b.plan.score) {
		b.plan = p
	}
}
