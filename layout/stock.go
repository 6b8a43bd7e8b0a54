package layout

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"pipstake/label"
)

// StockKind is how the labels of a stock come apart.
type StockKind int

// The kinds of stock.
const (
	DieCut   StockKind = iota + 1 // a sheet of labels that peel off
	CutSheet                      // a plain sheet that the grower cuts, pairs first
	Roll                          // one label a page, or several side by side
)

func (k StockKind) String() string {
	switch k {
	case DieCut:
		return "die-cut sheet"
	case CutSheet:
		return "sheet to cut"
	case Roll:
		return "roll"
	}
	return "stock of no known kind"
}

// Stock is what labels are printed on. All measures are in millimetres and of
// the labels as they lie on the page.
type Stock struct {
	Name           string // from the dimensions: "a4-3x8-70x37"
	Kind           StockKind
	Paper          Paper
	Columns, Rows  int
	LabelW, LabelH float64
	Left, Top      float64 // of the first label
	PitchX, PitchY float64 // from one label to the next
	Turned         bool    // labels read from the foot of the page upward

	Clear label.Margin // kept white on each label, for a hole, a notch, a loop or a black mark
	White float64      // the edge of a sheet that the printer leaves white; 0 for what most leave
}

// dieCut is a sheet of columns by rows labels of w by h millimetres.
func dieCut(p Paper, columns, rows int, w, h, left, top, pitchX, pitchY float64) Stock {
	return Stock{
		Name: fmt.Sprintf("%s-%dx%d-%sx%s", p.Name, columns, rows, tenths(w), tenths(h)),
		Kind: DieCut, Paper: p, Columns: columns, Rows: rows, LabelW: w, LabelH: h,
		Left: left, Top: top, PitchX: pitchX, PitchY: pitchY,
	}
}

// builtIn are sheets in common use, by their dimensions, then the sheets of
// stakes that are cut from plain paper.
var builtIn = append([]Stock{
	dieCut(A4, 3, 7, 63.5, 38.1, 7.2, 15.15, 66, 38.1),
	dieCut(A4, 3, 8, 63.5, 33.9, 7.2, 12.9, 66, 33.9),
	dieCut(A4, 3, 8, 70, 37, 0, 0.5, 70, 37),
	dieCut(A4, 2, 7, 99.1, 38.1, 4.65, 15.15, 101.6, 38.1),
	dieCut(A4, 5, 13, 38.1, 21.2, 4.75, 10.7, 40.6, 21.2),
	dieCut(Letter, 3, 10, 66.675, 25.4, 4.7625, 12.7, 69.85, 25.4),
	dieCut(Letter, 4, 20, 44.45, 12.7, 7.62, 12.7, 52.07, 12.7),
	dieCut(Letter, 2, 5, 101.6, 50.8, 3.969, 12.7, 106.3625, 50.8),
}, mustCut(A4, 148, 20), mustCut(Letter, 139, 20))

func mustCut(p Paper, length, width float64) Stock {
	s, err := CutStock(p, length, width)
	if err != nil {
		panic(err) // the sizes are part of the program
	}
	return s
}

// Stocks are the built-in stocks.
func Stocks() []Stock { return append([]Stock(nil), builtIn...) }

// FindStock is the stock of that name: a built-in one; "a4-cut-LENGTHxWIDTH"
// and "letter-cut-LENGTHxWIDTH" for stakes of any size cut from a sheet; or
// "roll-WIDTHxHEIGHT" for a roll, all in millimetres. Case, spaces around the
// name and × for x are forgiven.
//
// The error is an *UnknownStockError for a name that is none of these, and
// tells what is wrong with the size otherwise.
func FindStock(name string) (Stock, error) {
	key := strings.ToLower(strings.ReplaceAll(strings.TrimSpace(name), "×", "x"))
	for _, s := range builtIn {
		if s.Name == key {
			return s, nil
		}
	}
	for _, p := range papers {
		if dimensions, ok := strings.CutPrefix(key, p.Name+"-cut-"); ok {
			if length, width, ok := parseSize(dimensions); ok {
				return CutStock(p, length, width)
			}
		}
	}
	if dimensions, ok := strings.CutPrefix(key, "roll-"); ok {
		if w, h, ok := parseSize(dimensions); ok {
			return RollStock(w, h)
		}
	}
	return Stock{}, &UnknownStockError{Name: name, Near: near(key)}
}

// RollStock is a roll of labels w by h millimetres as they leave the printer,
// one label a page. The error tells what is wrong with the size.
func RollStock(w, h float64) (Stock, error) {
	if !(w >= leastLabel && w <= mostLabel && h >= leastLabel && h <= mostLabel) {
		return Stock{}, sizeError("a label", w, h)
	}
	return rollStock(w, h), nil
}

func rollStock(w, h float64) Stock {
	name := fmt.Sprintf("roll-%sx%s", millimetres(w), millimetres(h))
	return Stock{Name: name, Kind: Roll, Paper: Paper{Name: name, W: w, H: h}, Columns: 1, Rows: 1,
		LabelW: w, LabelH: h, PitchX: w, PitchY: h}
}

// Ways are how labels of the stock may be read, the best first: those of a roll
// that are higher than wide also from the foot upward, first where they are much
// higher.
func (s Stock) Ways() []Stock {
	const slender = 1.5
	if s.Kind != Roll || s.Turned || s.LabelH <= s.LabelW {
		return []Stock{s}
	}
	turned := s
	turned.Turned = true
	if s.LabelH >= slender*s.LabelW {
		return []Stock{turned, s}
	}
	return []Stock{s, turned}
}

// Sizes of a label that make sense at all, in millimetres.
const (
	leastLabel = 5
	mostLabel  = 1000
)

func sizeError(what string, w, h float64) error {
	return fmt.Errorf("%s of %s mm cannot be printed: give sides from %d to %d mm", what, size(w, h), leastLabel, mostLabel)
}

// parseSize reads "148x20" or "66.7x25.4", in millimetres.
func parseSize(s string) (first, second float64, ok bool) {
	a, b, ok := strings.Cut(s, "x")
	first, ok1 := parseMillimetres(a)
	second, ok2 := parseMillimetres(b)
	return first, second, ok && ok1 && ok2
}

// parseMillimetres reads digits with or without a decimal point.
func parseMillimetres(s string) (float64, bool) {
	if s == "" || len(s) > 8 || strings.Trim(s, "0123456789.") != "" {
		return 0, false
	}
	v, err := strconv.ParseFloat(s, 64)
	return v, err == nil
}

// millimetres writes v with no more decimals than it needs, three at most.
func millimetres(v float64) string {
	return strconv.FormatFloat(math.Round(v*1000)/1000, 'f', -1, 64)
}

// tenths writes v rounded to a tenth, half up, without a needless decimal.
func tenths(v float64) string {
	return strconv.FormatFloat(math.Floor(v*10+0.5+1e-9)/10, 'f', -1, 64)
}
