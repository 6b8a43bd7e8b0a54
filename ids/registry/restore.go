package registry

import (
	"fmt"
	"slices"

	"pipstake/ids"
)

// Recovered is what labels tell of a registry that was lost.
type Recovered struct {
	Crosses   []Cross
	Lots      []Lot
	Pots      []Pot
	Seedlings []Seedling
	Labels    []Label
}

// Restore puts rows with the identifiers that they had into a registry that
// holds none. The error is a *Refusal where it holds rows, where an identifier
// has two rows or no row above it, or a text is not fit for a cell.
func (r *Registry) Restore(rows Recovered) error {
	if n := len(r.crosses.entries) + len(r.crosses.strays); n > 0 {
		return &Refusal{fmt.Sprintf("the registry in %s holds %s already", r.dir, several(n, "row of crosses")), "name a new folder"}
	}
	if err := rows.fit(); err != nil {
		return err
	}
	for _, c := range rows.Crosses {
		r.crosses.append(c)
	}
	for _, l := range rows.Lots {
		r.lots.append(l)
	}
	for _, p := range rows.Pots {
		r.pots.append(p)
	}
	for _, s := range rows.Seedlings {
		r.seedlings.append(s)
	}
	for _, l := range rows.Labels {
		r.labels.append(l)
	}
	return nil
}

// fit looks whether the rows make up a registry.
func (rows Recovered) fit() error {
	known := map[ids.ID]bool{}
	for _, row := range rows.topDown() {
		switch above, below := row.id.Parent(); {
		case row.id == (ids.ID{}):
			return &Refusal{fmt.Sprintf("a %s has no identifier", row.level), "look at the label"}
		case row.id.Level() != row.level:
			return &Refusal{fmt.Sprintf("%s is a %s, not a %s", row.id, row.id.Level(), row.level), "look at the label"}
		case known[row.id]:
			return &Refusal{fmt.Sprintf("%s stands there twice", row.id), "give each identifier one row"}
		case below && !known[above]:
			return &Refusal{fmt.Sprintf("%s has no row for its %s %s", row.id, above.Level(), above), "give that row as well"}
		}
		known[row.id] = true
		for _, text := range row.texts {
			if _, err := oneLine("text", text); err != nil {
				return err
			}
		}
	}
	for _, l := range rows.Labels {
		if !known[l.ID] {
			return &Refusal{fmt.Sprintf("a label of %s has no row for it", l.ID), "give that row as well"}
		}
		if l.Batch < 1 || l.Sheet < 1 || l.Cell < 1 || l.Copy < 0 {
			return &Refusal{fmt.Sprintf("the label of %s has no place on a sheet", l.ID), "count batches, sheets and cells from 1"}
		}
	}
	return nil
}

// recoveredRow is what is looked at in a row of any table.
type recoveredRow struct {
	id    ids.ID
	level ids.Level // of the table
	texts []string
}

// topDown returns the rows of all tables, those above before those below.
func (rows Recovered) topDown() []recoveredRow {
	var all []recoveredRow
	for _, c := range rows.Crosses {
		all = append(all, recoveredRow{c.ID, ids.CrossLevel, []string{c.SeedParent, c.PollenParent, c.Notes}})
	}
	for _, l := range rows.Lots {
		all = append(all, recoveredRow{l.ID, ids.LotLevel, []string{l.Notes}})
	}
	for _, p := range rows.Pots {
		all = append(all, recoveredRow{p.ID, ids.PotLevel, []string{p.Place, p.Notes}})
	}
	for _, s := range rows.Seedlings {
		all = append(all, recoveredRow{s.ID, ids.SeedlingLevel, []string{s.Notes}})
	}
	return slices.Clip(all)
}
