package label

// form is the part of a bag label that is written in by hand: captions, each
// with a line to write on.
type form struct {
	box     Rect
	rows    [][]blank
	height  float64 // of a line to write on, in millimetres
	pitch   float64 // between lines, which is more where there is room
	words   float64 // the em of the captions
	value   float64 // the em of what is filled in
	caution bool
	under   float64 // from the last line to the caution
	worth   float64 // beside other forms
}

// blank is one thing to fill in.
type blank struct {
	name  string
	value func(Bag) string
	room  float64 // for handwriting, in millimetres
}

const caution = "Treated seed: not for eating."

// Measures of a form, in millimetres.
const (
	bestLine    = 8.0  // the height of a line to write on
	mostLine    = 10.0 // from one line to the next
	underLine   = 0.3  // from a line to the foot, and from a word to its line
	betweenKept = 2.5  // between a blank and the next word
)

// blanks are those of a bag label, counts and dates so wide.
func blanks(count, date float64, opened bool) []blank {
	all := []blank{
		{"fruit", func(b Bag) string { return b.Fruit }, count},
		{"seeds", func(b Bag) string { return b.Seeds }, count},
		{"empty", func(b Bag) string { return b.Undeveloped }, count},
		{"opened", func(b Bag) string { return b.Opened }, date},
		{"cold", func(b Bag) string { return b.Chilled }, date},
		{"ready", func(b Bag) string { return b.Ready }, date},
	}
	if !opened {
		all = append(all[:3], all[4:]...)
	}
	return all
}

// forms are the ones to try, the best first: for a felt pen, with the day of
// opening where there is room, then for a pencil.
var forms = []struct {
	blanks []blank
	line   float64 // the least height of a line, in millimetres
	under  float64 // from the last line to the caution, in millimetres
	worth  float64
}{
	{blanks(10, 22, true), 6.5, 2.4, 1.2},
	{blanks(10, 22, false), 6.5, 2.4, 1},
	{blanks(9, 20, false), 5.8, 2, 0.5},
	{blanks(8, 17, false), 5, 1.6, 0},
}

// newForm sets blanks in box, what is filled in no larger than most, with the
// caution at the foot where that is wanted. It returns nil where they do not fit.
func newForm(box Rect, most float64, treated bool) *form {
	f := &form{box: box, caution: treated}
	f.words = min(max(Points(7.5), min(Points(11), box.W*0.025, box.H*0.15)), max(leastText, box.W*0.045))
	spare := box.H
	if treated {
		if f.words = min(f.words, box.W/Regular.Width(caution)); f.words < leastText {
			return nil
		}
		above, below := Regular.Extent(caution)
		spare -= (above + below) * f.words
	} else {
		spare -= underLine
	}
	for _, try := range forms {
		rows := share(try.blanks, box.W, f.words)
		if rows == nil {
			continue
		}
		f.under = 0
		if treated {
			f.under = try.under
		}
		f.pitch = min((spare-f.under)/float64(len(rows)), mostLine)
		f.height = min(f.pitch, bestLine)
		if f.height < try.line {
			continue
		}
		f.rows, f.worth = rows, try.worth
		f.value = max(f.words, min(most, (17-1)/Bold.Width("2026-11-20"))) // the narrowest blank holds a date
		return f
	}
	return nil
}

// share puts blanks into rows no wider than width, in order, in as few rows as
// will do. It returns nil where one alone is too wide.
func share(blanks []blank, width, words float64) [][]blank {
	var rows [][]blank
	var left float64 // of the last row, and between two blanks; nothing of none
	for _, b := range blanks {
		need := b.width(words)
		if need > width {
			return nil
		}
		if betweenKept+need > left {
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

// draw sets the form of a label.
func (f *form) draw(bag Bag, d *Drawing) {
	y := f.box.Bottom() - underLine
	if f.caution {
		above, below := Regular.Extent(caution)
		y = f.box.Bottom() - below*f.words
		if bag.Treated {
			d.Texts = append(d.Texts, newText(f.box.X, y, f.words, Regular, caution))
		}
		y -= above*f.words + f.under
	}
	y -= f.pitch * float64(len(f.rows)-1)
	for _, row := range f.rows {
		f.write(row, bag, y, d)
		y += f.pitch
	}
}

// write draws one row of blanks with their line at y; the spare width goes to
// the blanks.
func (f *form) write(row []blank, bag Bag, y float64, d *Drawing) {
	spare := f.box.W - betweenKept*float64(len(row)-1)
	for _, b := range row {
		spare -= b.width(f.words)
	}
	x := f.box.X
	_, below := Regular.Extent("empty")
	caption := y - max(underLine, below*f.words-underLine)
	for _, b := range row {
		d.Texts = append(d.Texts, newText(x, caption, f.words, Regular, b.name))
		x += Regular.Width(b.name+" ") * f.words
		w := b.room + spare/float64(len(row))
		d.Rules = append(d.Rules, Rule{X1: x, Y1: y, X2: x + w, Y2: y, Width: 0.15})
		if value := b.value(bag); value != "" {
			size := min(f.value, (w-1)/Bold.Width(value))
			d.Texts = append(d.Texts, newText(x+0.5, y-0.7, size, Bold, value))
		}
		x += w + betweenKept
	}
}
