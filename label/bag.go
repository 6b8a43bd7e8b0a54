package label

import (
	"math"
	"strings"

	"pipstake/ids"
	"pipstake/label/symbol"
)

// Bag is the label of a seed lot's bag. What is not yet known is empty and
// leaves a blank to write in.
type Bag struct {
	ID                        ids.ID // of the seed lot
	SeedParent, PollenParent  string
	Fruit, Seeds, Undeveloped string // counts
	Chilled, Ready            string // dates, ISO 8601
}

// Sizes of the part that is written in by hand, in millimetres.
const (
	leastBlank  = 5.0 // the height of a line to write on, at the least
	bestBlank   = 8.0
	countBlank  = 8.0 // the width of a blank for a count, at the least
	dateBlank   = 17.0
	betweenKept = 2.5 // between a blank and the next word
)

const caution = "Treated seed: not for eating."

// Fit sets the bag label in room r. The error is a *RoomError, a
// *GlyphError or a *ScriptError.
func (b Bag) Fit(r Room) (*Drawing, error) {
	if err := printable(r, b.SeedParent, b.PollenParent); err != nil {
		return nil, err
	}
	return fitOrAsk("bag label", r, b.fit)
}

// fit tries the form beside the code and below it, and keeps the drawing that
// reads best. It gives nil where none fits.
func (b Bag) fit(r Room) *Drawing {
	s := newSaying(symbol.Payload{ID: b.ID}, symbol.Facts{SeedParent: b.SeedParent, PollenParent: b.PollenParent})
	words := strings.Join([]string{b.SeedParent, b.PollenParent, b.Fruit, b.Seeds, b.Undeveloped, b.Chilled, b.Ready}, "\n")
	return bestOf(newShape("bag", r, s, b.ID, words),
		func(share float64, last *symbol.Choice) (*Drawing, float64) { return b.beside(r, s, share, last) },
		func(share float64, last *symbol.Choice) (*Drawing, float64) { return b.below(r, s, share, last) })
}

// below sets code and names in a band above, at most share of the height, and
// the form below over the full width.
func (b Bag) below(r Room, s saying, share float64, last *symbol.Choice) (*Drawing, float64) {
	d, code := s.start(r, Rect{0, 0, r.W, r.H * share}, last)
	if d == nil {
		return nil, 0
	}
	code.raise(r)
	d.Codes[0] = code
	x := code.Outer().Right() + textGap
	names := Rect{x, code.Y, d.Safe.Right() - x, code.Ink().H}
	top := code.Outer().Bottom()
	return b.finish(r, d, names, Rect{d.Safe.X, top, d.Safe.W, d.Safe.Bottom() - top})
}

// beside sets the code at the left, at most share of the height, and names and
// form at its right.
func (b Bag) beside(r Room, s saying, share float64, last *symbol.Choice) (*Drawing, float64) {
	d, code := s.start(r, Rect{0, (r.H - r.H*share) / 2, r.W * 0.5, r.H * share}, last)
	if d == nil {
		return nil, 0
	}
	x := code.Outer().Right() + textGap
	names := d.Safe.H * 0.42
	return b.finish(r, d, Rect{x, d.Safe.Y, d.Safe.Right() - x, names},
		Rect{x, d.Safe.Y + names + 0.5, d.Safe.Right() - x, d.Safe.H - names - 0.5})
}

// finish adds the names and the form, and scores how well the whole reads: the
// identifier first, then the code's module, then the room for handwriting.
func (b Bag) finish(r Room, d *Drawing, names, form Rect) (*Drawing, float64) {
	c := d.set(names, []row{identifier(b.ID, 0.5*names.H), parents(r, 0.28*names.H, b.SeedParent, b.PollenParent)})
	if c == nil {
		return nil, 0
	}
	height := d.form(form, b.blanks(), 0.9*c.sizes[0])
	if height == 0 {
		return nil, 0
	}
	return d, c.score() + codeScore(d.Codes[0]) + 2*math.Log(height)
}

// blank is one thing to fill in.
type blank struct {
	name, value string
	room        float64 // for handwriting, in millimetres
}

func (b Bag) blanks() []blank {
	return []blank{
		{"fruit", b.Fruit, countBlank}, {"seeds", b.Seeds, countBlank}, {"undeveloped", b.Undeveloped, countBlank},
		{"into the cold", b.Chilled, dateBlank}, {"ready", b.Ready, dateBlank},
	}
}

// form sets blanks with lines to write on, and the caution at the foot, in
// box; values are set no larger than most. It gives the height of a line, or 0
// where they do not fit.
func (d *Drawing) form(box Rect, blanks []blank, most float64) float64 {
	const under = 1.6 // from the last writing line to the caution, in millimetres
	words := min(Points(7.5), max(leastText, box.W*0.045))
	foot := newLine(run{Regular, caution, 1, false})
	footSize := min(words, box.W/foot.width)
	if footSize < leastText {
		return 0
	}
	rows := share(blanks, box.W, words)
	if rows == nil {
		return 0
	}
	spare := box.H - (foot.above+foot.below)*footSize - under
	height := min(spare/float64(len(rows)), bestBlank)
	if height < leastBlank {
		return 0
	}
	y := box.Bottom() - foot.below*footSize
	d.Texts = append(d.Texts, newText(box.X, y, footSize, Regular, caution))
	y -= foot.above*footSize + under + height*float64(len(rows)-1)
	for _, row := range rows {
		d.write(row, box, y, words, min(most, 0.7*height))
		y += height
	}
	return height
}

// share puts blanks into rows no wider than width, in order, in as few rows as
// will do. It gives nil where one alone is too wide.
func share(blanks []blank, width, words float64) [][]blank {
	var rows [][]blank
	left := 0.0
	for _, b := range blanks {
		need := b.width(words)
		if need > width {
			return nil
		}
		if len(rows) == 0 || betweenKept+need > left {
			rows, left = append(rows, nil), width+betweenKept
		}
		last := len(rows) - 1
		rows[last] = append(rows[last], b)
		left -= betweenKept + need
	}
	return rows
}

// width is the least that a blank and its word take, in millimetres.
func (b blank) width(words float64) float64 { return Regular.Width(b.name+" ")*words + b.room }

// write draws one row of blanks with their writing line at y, values at most
// most high; the spare width goes to the blanks.
func (d *Drawing) write(row []blank, box Rect, y, words, most float64) {
	spare := box.W - betweenKept*float64(len(row)-1)
	for _, b := range row {
		spare -= b.width(words)
	}
	x := box.X
	for _, b := range row {
		d.Texts = append(d.Texts, newText(x, y, words, Regular, b.name))
		x += Regular.Width(b.name+" ") * words
		w := b.room + spare/float64(len(row))
		d.Rules = append(d.Rules, Rule{X1: x, Y1: y + 0.3, X2: x + w, Y2: y + 0.3, Width: 0.15})
		if b.value != "" {
			size := min(Points(11), most, (w-1)/Bold.Width(b.value))
			d.Texts = append(d.Texts, newText(x+0.5, y-0.4, size, Bold, b.value))
		}
		x += w + betweenKept
	}
}
