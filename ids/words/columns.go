package words

import "github.com/mattn/go-runewidth"

// widths takes signs such as ♀ and × for one column, whatever the locale.
var widths = &runewidth.Condition{StrictEmojiNeutral: true}

// Columns returns how many columns a text takes on a terminal: wide ideographs
// take two, combining marks none (Unicode Standard Annex #11).
func Columns(s string) int { return widths.StringWidth(s) }

// CutColumns returns as much of a text as goes into so many columns.
func CutColumns(s string, most int) string { return widths.Truncate(s, most, "") }
