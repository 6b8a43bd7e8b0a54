package label

import (
	"strings"

	"pipstake/ids"
)

// identifier is the row that names a thing, with its check character in a
// lighter face behind: on one line, or on two of which the second is what
// stands behind the cross. Want is the height of capital letters, in millimetres.
func identifier(id ids.ID, want float64) row {
	r := row{want: max(Signs.em(want), leastIdentifier), plain: leastIdentifier, least: leastIdentifier, worth: 3.5, shapes: []shape{{named(id.String(), id)}}}
	if _, below := halves(id); below != "" {
		r.shapes = append(r.shapes, onTwoLines(id))
	}
	return r
}

// twoLinesFirst is the row of an identifier that is set on two lines where
// they fit.
func (r row) twoLinesFirst() row {
	if len(r.shapes) == 2 {
		r.shapes = []shape{r.shapes[1], r.shapes[0]}
	}
	return r
}

// asHigh makes letters of Regular as high as those of Signs.
var asHigh = Signs.caps / Regular.caps

// named is a text in the face of identifiers with the check character of id behind.
func named(text string, id ids.ID) line {
	return line{{Signs, text, 1, flowing}, {Regular, "." + string(rune(id.Check())), asHigh, flowing}}
}

// halves are the cross of an identifier, and what stands behind it, without the
// hyphen between them: "2026X012" and "B2-C".
func halves(id ids.ID) (cross, below string) {
	cross = id.At(ids.CrossLevel).String()
	return cross, strings.TrimPrefix(id.String()[len(cross):], "-")
}

// onTwoLines is an identifier broken behind its cross.
func onTwoLines(id ids.ID) shape {
	cross, below := halves(id)
	return shape{{{Signs, cross, 1, flowing}}, named(below, id)}
}
