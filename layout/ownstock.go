package layout

import (
	"fmt"
	"math"
	"regexp"
	"strings"

	"pipstake/label"
)

// FindPaper is the paper of that name, "a4" or "letter", or one of its measures
// in millimetres, "120x200", the short edge first as it lies in the tray.
func FindPaper(name string) (Paper, error) {
	key := strings.ToLower(strings.ReplaceAll(strings.TrimSpace(name), "×", "x"))
	for _, p := range papers {
		if p.Name == key {
			return p, nil
		}
	}
	w, h, ok := parseSize(key)
	switch {
	case !ok:
		return Paper{}, fmt.Errorf("%q is no paper: give a4, letter or its width and height in millimetres, such as 120x200", name)
	case !(w >= leastPaper && h >= leastPaper && w <= mostLabel && h <= mostLabel):
		return Paper{}, fmt.Errorf("no page of %s mm can be: give sides from %d to %d mm", size(w, h), leastPaper, mostLabel)
	}
	return Paper{Name: fmt.Sprintf("%sx%s", millimetres(w), millimetres(h)), W: w, H: h}, nil
}

// leastPaper is the smallest side of a sheet, in millimetres.
const leastPaper = 40

// namePattern is what the name of a grower's own stock may look like.
var namePattern = regexp.MustCompile(`^[a-z0-9][a-z0-9.-]{0,39}$`)

// OwnStock is a grower's own sheet of labels from its measures, or roll. Where
// it has no name it gets one from its dimensions, as the built-in ones have.
// The error tells what contradicts itself.
func OwnStock(s Stock) (Stock, error) {
	if !(s.LabelW >= leastLabel && s.LabelH >= leastLabel && s.LabelW <= mostLabel && s.LabelH <= mostLabel) {
		return Stock{}, sizeError("a label", s.LabelW, s.LabelH)
	}
	roll := s.Kind == Roll
	switch {
	case s.Name == "" && roll && s.Columns > 1:
		s.Name = fmt.Sprintf("roll-%dx1-%sx%s", s.Columns, tenths(s.LabelW), tenths(s.LabelH))
	case s.Name == "" && roll:
		s.Name = rollStock(s.LabelW, s.LabelH).Name
	case s.Name == "":
		s.Name = dieCut(s.Paper, s.Columns, s.Rows, s.LabelW, s.LabelH, 0, 0, 0, 0).Name
	}
	if !namePattern.MatchString(s.Name) {
		return Stock{}, fmt.Errorf("%q cannot be the name of a stock: give letters a to z, digits, hyphens and points, 40 at the most", s.Name)
	}
	if err := s.checkClear(); err != nil {
		return Stock{}, err
	}
	if roll {
		return s.ownRoll()
	}
	s.Kind = DieCut
	if s.Columns > mostColumns || s.Rows > mostColumns {
		return Stock{}, fmt.Errorf("%d columns and %d rows are more than a sheet has: give %d of either at the most", s.Columns, s.Rows, mostColumns)
	}
	for _, axis := range []struct {
		line, paper              string
		first, size, pitch, page float64
		n                        int
	}{
		{"column", "wide", s.Left, s.LabelW, s.PitchX, s.Paper.W, s.Columns},
		{"row", "high", s.Top, s.LabelH, s.PitchY, s.Paper.H, s.Rows},
	} {
		if end := axis.first + float64(axis.n-1)*axis.pitch + axis.size; end > axis.page+slack {
			return Stock{}, fmt.Errorf("%d %ss do not close on the page: %s + %d × %s + %s = %s mm, and the paper is %s mm %s", axis.n, axis.line,
				millimetres(axis.first), axis.n-1, millimetres(axis.pitch), millimetres(axis.size), millimetres(end), millimetres(axis.page), axis.paper)
		}
	}
	return s, s.Check()
}

// ownRoll completes a roll with a strip of Left at either side of its labels.
func (s Stock) ownRoll() (Stock, error) {
	named := rollStock(s.LabelW, s.LabelH)
	named.Name, named.Turned, named.Clear = s.Name, s.Turned, s.Clear
	named.Paper.Name = s.Name
	if s.Columns > mostColumns || s.Left < 0 {
		return Stock{}, fmt.Errorf("%d labels side by side with %s mm beside them cannot be", s.Columns, millimetres(s.Left))
	}
	if s.Columns > 1 || s.Left > 0 {
		named.Columns, named.Left, named.PitchX = max(1, s.Columns), s.Left, max(s.PitchX, s.LabelW)
		named.Paper.W = 2*s.Left + float64(named.Columns-1)*named.PitchX + s.LabelW
	}
	return named, named.Check()
}

// checkClear reports places to keep clear that leave nothing of a label.
func (s Stock) checkClear() error {
	c := s.Clear
	if least := min(c.Left, c.Top, c.Right, c.Bottom); least < 0 {
		return fmt.Errorf("%s mm to keep clear cannot be: give 0 or more", millimetres(least))
	}
	if c.Left+c.Right >= s.LabelW-2*safety || c.Top+c.Bottom >= s.LabelH-2*safety {
		return fmt.Errorf("nothing is left of a label of %s mm with %s and %s mm kept clear", size(s.LabelW, s.LabelH),
			millimetres(c.Left+c.Right), millimetres(c.Top+c.Bottom))
	}
	return nil
}

// mostColumns is more columns, or rows, than any sheet has.
const mostColumns = 100

// Notices returns what a grower should know of a stock: where its labels run into
// the edge that printers leave white, and margins so uneven that they may have
// been measured wrong.
func (s Stock) Notices() []string {
	if s.Kind == Roll {
		if s.Paper.W > widestHead {
			return []string{fmt.Sprintf("a roll %s mm wide is wider than most desktop printers of labels print, which is about 104 mm", millimetres(s.Paper.W))}
		}
		return nil
	}
	left, top := s.Left, s.Top
	right := s.Paper.W - s.Left - float64(s.Columns-1)*s.PitchX - s.LabelW
	foot := s.Paper.H - s.Top - float64(s.Rows-1)*s.PitchY - s.LabelH
	var notices []string
	if sides := under(s.Edge()-slack, []string{"left", "top", "right", "bottom"}, left, top, right, foot); sides != "" {
		notices = append(notices, fmt.Sprintf("labels run into the %s mm at the %s of the sheet that printers leave white; all labels keep their ink clear of it",
			millimetres(s.Edge()), sides))
	}
	for _, pair := range []struct {
		near, far string
		a, b      float64
	}{{"left", "right", left, right}, {"top", "bottom", top, foot}} {
		if math.Abs(pair.a-pair.b) > unevenMargins {
			notices = append(notices, fmt.Sprintf("the margin is %s mm at the %s and %s mm at the %s; sheets are mostly cut in the middle, so measure once more",
				millimetres(pair.a), pair.near, millimetres(pair.b), pair.far))
		}
	}
	return notices
}

// widestHead is the widest roll that a desktop printer of labels takes, in
// millimetres: its head is about 104 wide (common practice).
const widestHead = 108.0

// unevenMargins is a difference of opposite margins that is worth a second
// look, in millimetres.
const unevenMargins = 1.0

// Strays returns where a shift moves ink off the sheet, or into the edge that
// printers leave white; "" for nowhere.
func (s Stock) Strays(shift Shift) string {
	if shift == (Shift{}) {
		return ""
	}
	safe := s.front(1).onPage(s.Room(0).Safe())
	for n := 2; n <= s.PerSheet(); n++ {
		r := s.front(n).onPage(s.Room(0).Safe())
		x, y := min(safe.X, r.X), min(safe.Y, r.Y)
		safe = label.Rect{X: x, Y: y, W: max(safe.Right(), r.Right()) - x, H: max(safe.Bottom(), r.Bottom()) - y}
	}
	at := shift.move(safe)
	names := []string{"left", "top", "right", "bottom"}
	ends := []float64{at.X, at.Y, s.Paper.W - at.Right(), s.Paper.H - at.Bottom()}
	if sides := under(-slack, names, ends...); sides != "" {
		return fmt.Sprintf("the shift moves ink off the sheet at the %s", sides)
	}
	if s.Kind == Roll {
		return ""
	}
	if sides := under(s.Edge()-slack, names, ends...); sides != "" {
		return fmt.Sprintf("the shift moves ink into the %s mm at the %s of the sheet that printers leave white", millimetres(s.Edge()), sides)
	}
	return ""
}

// under names the sides whose measure is below least: "left and right".
func under(least float64, names []string, measures ...float64) string {
	var below []string
	for i, m := range measures {
		if m < least {
			below = append(below, names[i])
		}
	}
	if n := len(below); n > 1 {
		return strings.Join(below[:n-1], ", ") + " and " + below[n-1]
	}
	return strings.Join(below, "")
}
