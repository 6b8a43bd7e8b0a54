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
	type spot struct{ stock, sheet, cell int } // the stock by its number here: quicker than by its name
	stocks, name, stock := map[string]int{}, "", 0
	first := make(map[spot]int32, len(c.r.labels.entries))
	for i, l := range c.r.labels.entries {
		if l.Stock == "" || l.Sheet == 0 || l.Cell == 0 {
			continue
		}
		if l.Stock != name {
			if name = l.Stock; stocks[name] == 0 {
				stocks[name] = len(stocks) + 1
			}
			stock = stocks[name]
		}
		p := spot{stock, l.Sheet, l.Cell}
		other, taken := first[p]
		if !taken {
			first[p] = int32(i)
			continue
		}
		c.add(c.r.labels.finding(int32(i), "cell", fmt.Sprintf("of sheet %d of %s is taken by batch %d in row %d", l.Sheet, l.Stock,
			c.r.labels.entries[other].Batch, c.r.labels.number(int(c.r.labels.at[other]))), "correct sheet and cell; where one was printed over the other, print both anew"))
	}
}
