// Package label holds the faces: what each kind of label says and where on the
// label each part of it lies, in millimetres. A face is fitted to the room that
// it is given and knows nothing of pages, printers' margins or PDF.
//
// # Decisions
//
//   - A batch is fitted as a whole (label/batch.go): one arrangement, one size
//     of type for each row, one place and module for the codes. Text shrinks to
//     9 pt (identifier) and 6 pt (the rest), names break at a space, and at the
//     last end in an ellipsis, reported. Of all ways to break the rows that is
//     kept which reads best (setting.score): the identifier counts most, and what
//     is larger than readable gains little. A code's module counts against it, more
//     so below 0.5 mm (codeScore): ink that runs closes small ones first.
//   - The two lines of an identifier stand nearer one another than what is below them,
//     wherever groups stand apart at all (setting.stack).
//   - Ink stays 2 mm from a cut where that costs no more than 1 to 2 % of the sizes, as
//     on branch tags and most larger labels (batch.layOut), and never nearer than
//     its Room says, 1.5 mm by layout's: 2 mm would take 6 % off the tile of a stake
//     20 mm wide, and 8 % off the identifier of a seedling label, which is then read
//     a third less often from 2 m.
//   - The tile of a stake stands upright in the pot. The zero of an identifier
//     has no slash, since from afar a slashed one is taken for 6 or 8; its
//     letters leave out O. That of its check character, which may be O, has one.
//   - A grower's font is never handed to the library that embeds fonts: label
//     checks it and writes a new one of simple glyphs (fontfile.go,
//     fontwrite.go).
package label

import "pipstake/label/symbol"

// Rect is a rectangle in millimetres. The origin is the upper left corner of
// the label as it is read, x to the right and y downward.
type Rect struct{ X, Y, W, H float64 }

// Right is the x of the right edge, in millimetres.
func (r Rect) Right() float64 { return r.X + r.W }

// Bottom is the y of the lower edge, in millimetres.
func (r Rect) Bottom() float64 { return r.Y + r.H }

// Inset is r with the given widths, in millimetres, taken off its sides.
func (r Rect) Inset(left, top, right, bottom float64) Rect {
	return Rect{r.X + left, r.Y + top, r.W - left - right, r.H - top - bottom}
}

// Contains reports whether s lies inside r, give or take a thousandth of a
// millimetre.
func (r Rect) Contains(s Rect) bool {
	const e = 1e-3
	return s.X >= r.X-e && s.Y >= r.Y-e && s.Right() <= r.Right()+e && s.Bottom() <= r.Bottom()+e
}

// Overlaps reports whether r and s share more than a line, give or take a
// thousandth of a millimetre.
func (r Rect) Overlaps(s Rect) bool {
	const e = 1e-3
	return r.X < s.Right()-e && s.X < r.Right()-e && r.Y < s.Bottom()-e && s.Y < r.Bottom()-e
}

// Turn is which way something lies, in quarter turns against the clock.
type Turn int

// The turns.
const (
	Upright  Turn = iota
	Upward        // read from the foot upward
	Over          // upside down
	Downward      // read from the head downward
)

// Text is one line of text.
type Text struct {
	X, Baseline float64 // where the first letter starts, in millimetres
	Size        float64 // the em in millimetres; see Points
	Face        *Typeface
	String      string
	Turn        Turn // Upright or Upward
	Box         Rect // what the line takes up, ascent to descent, in millimetres
}

// Code is a 2D code in its place.
type Code struct {
	X, Y   float64 // upper left corner of the first module, quiet zone outside it, in millimetres
	Symbol *symbol.Symbol
}

// Ink is the square that the modules cover, without the quiet zone.
func (c Code) Ink() Rect { w := c.Symbol.Width(); return Rect{c.X, c.Y, w, w} }

// Outer is the square of the code with its quiet zone.
func (c Code) Outer() Rect {
	q, w := c.Symbol.Quiet(), c.Symbol.Outer()
	return Rect{c.X - q, c.Y - q, w, w}
}

// Rule is a straight line of the given width, in millimetres. Dash and Gap are
// zero for a solid line.
type Rule struct {
	X1, Y1, X2, Y2 float64
	Width          float64
	Dash, Gap      float64
}

// Circle is a round line around a point, R its radius and Width that of the
// line, in millimetres.
type Circle struct{ X, Y, R, Width float64 }

// Drawing is a finished face: black marks on a label of W by H millimetres.
type Drawing struct {
	W, H    float64
	Safe    Rect // where all ink lies
	Texts   []Text
	Codes   []Code
	Rules   []Rule
	Circles []Circle
	Notices []string // what a reader of the label should know: shortened text, smaller type

	// Spare is a place without use, such as a corner that is clipped off, where a
	// sheet may print the number of the cell. It is empty where there is none.
	Spare Rect

	// Strip is a place across the end that is cut to a point, where a sheet may say
	// what it is. It is empty where there is none.
	Strip Rect

	says string // see Payload
}

// Payload is all that the label says in the form of a code's text, whether or
// not one of its codes had room for it.
func (d *Drawing) Payload() string { return d.says }

func (d *Drawing) notice(text string) {
	if text != "" {
		d.Notices = append(d.Notices, text)
	}
}
