package registry

import (
	"fmt"
	"slices"
)

// Sheet is what is known of a sheet that labels were printed on.
type Sheet struct {
	Number int
	Used   []int // the cells printed, in rising order, whatever became of their labels
	Last   int   // the last batch on it

	// Spoilt says that the last batch on the sheet was ruined whole, and so the
	// sheet with it.
	Spoilt bool
	// Doubtful says that a row cannot be read that may tell of more cells.
	Doubtful bool
}

// SheetOf returns a sheet of a stock by its number. Without a row it has no cells
// used.
func (r *Registry) SheetOf(stock string, number int) Sheet {
	s := Sheet{Number: number}
	ruined := map[int]bool{} // by batch: all of its labels on the sheet so far
	for _, rows := range [][]Label{r.labels.entries, r.labels.strays} {
		for _, l := range rows {
			if l.Stock != stock || l.Sheet != number && l.Sheet != 0 {
				continue
			}
			if l.Sheet == 0 || l.Cell == 0 {
				s.Doubtful = true
				continue
			}
			before, seen := ruined[l.Batch]
			ruined[l.Batch] = l.State == Spoilt && (before || !seen)
			s.Used = append(s.Used, l.Cell)
			s.Last = max(s.Last, l.Batch)
		}
	}
	s.Spoilt = ruined[s.Last]
	slices.Sort(s.Used)
	s.Used = slices.Compact(s.Used)
	return s
}

// cellsTwice reports labels that were printed over one another.
func (c *checker) cellsTwice() {
	type spot struct{ sheet, cell int }
	type used struct { // of one stock
		last  spot // the furthest
		rows  []int32
		first map[spot]int32 // made once a label lies before the furthest
	}
	stocks := map[string]*used{}
	var u *used
	name := ""
	for i := range c.r.labels.entries {
		l := &c.r.labels.entries[i]
		if l.Stock == "" || l.Sheet == 0 || l.Cell == 0 {
			continue
		}
		if l.Stock != name {
			name = l.Stock
			if u = stocks[name]; u == nil {
				u = &used{}
				stocks[name] = u
			}
		}
		p := spot{l.Sheet, l.Cell}
		if p.sheet > u.last.sheet || p.sheet == u.last.sheet && p.cell > u.last.cell {
			u.last = p // so none before it lies there
			if u.first != nil {
				u.first[p] = int32(i)
			} else {
				u.rows = append(u.rows, int32(i))
			}
			continue
		}
		if u.first == nil {
			u.first = make(map[spot]int32, len(u.rows))
			for _, row := range u.rows {
				before := &c.r.labels.entries[row]
				u.first[spot{before.Sheet, before.Cell}] = row
			}
		}
		other, taken := u.first[p]
		if !taken {
			u.first[p] = int32(i)
			continue
		}
		c.add(c.r.labels.finding(int32(i), "cell", fmt.Sprintf("of sheet %d of %s is taken by batch %d in row %d", l.Sheet, l.Stock,
			c.r.labels.entries[other].Batch, c.r.labels.number(int(c.r.labels.at[other]))), "correct sheet and cell; where one was printed over the other, print both anew"))
	}
}
