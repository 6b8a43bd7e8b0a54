package label

import "fmt"

// Room is the place that a face has to fit into.
type Room struct {
	W, H   float64 // the label as it is read, in millimetres
	Margin Margin  // where nothing may be printed, at least
	DPI    int     // printer dots in an inch
	Cut    bool    // cut out by the grower, who may clip a stake to a point

	Names *Typeface // draws the names that the Go fonts cannot; nil for none
}

// Margin is a width in millimetres for each side of a label, as it is read.
type Margin struct{ Left, Top, Right, Bottom float64 }

// Safe is the part of the room that ink may lie in.
func (r Room) Safe() Rect {
	return Rect{W: r.W, H: r.H}.Inset(r.Margin.Left, r.Margin.Top, r.Margin.Right, r.Margin.Bottom)
}

// RoomError says that a face does not fit, and what would do.
type RoomError struct {
	Face         string  // "bag label", "stake"
	W, H         float64 // the label at hand, in millimetres
	NeedW, NeedH float64 // the least label that would do, in millimetres
}

func (e *RoomError) Error() string {
	return fmt.Sprintf("a %s needs a label of at least %.0f×%.0f mm, this one has %.1f×%.1f mm",
		e.Face, e.NeedW, e.NeedH, e.W, e.H)
}

// GlyphError names a character that the font cannot draw.
type GlyphError struct {
	Text string // the text that holds it
	Rune rune
	Font string
}

func (e *GlyphError) Error() string {
	return fmt.Sprintf("%q holds the character %q (U+%04X), which the font %s cannot draw", e.Text, e.Rune, e.Rune, e.Font)
}

// ScriptError names a character of a script that the faces cannot set.
type ScriptError struct {
	Text   string // the text that holds it
	Rune   rune
	Reason string // what the character does that is not done here
}

func (e *ScriptError) Error() string {
	return fmt.Sprintf("%q holds the character %q (U+%04X), which %s", e.Text, e.Rune, e.Rune, e.Reason)
}
