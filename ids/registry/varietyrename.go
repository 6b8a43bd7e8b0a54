package registry

import (
	"fmt"

	"pipstake/ids"
)

// renamed returns the cell of a parent with a name in place of another one,
// which is given by its key.
func renamed(cell, key, name string) string {
	if key == "" || cell == "" {
		return cell
	}
	p := ReadParent(cell)
	changed := false
	names := make([]string, len(p.Names))
	for i, n := range p.Names {
		names[i] = n
		if NameKey(n) == key {
			names[i], changed = name, true
		}
	}
	if !changed {
		return cell
	}
	p.Names = names
	return p.String()
}

// renameInVarieties writes a name anew in the rows of varieties.csv and reports
// whether any had it. The error is a *Refusal where another row has the new name
// already, or where a row cannot bear it, and a *DamageError where a cell of a row
// at stake cannot be read.
func (r *Registry) renameInVarieties(old, name string) (bool, error) {
	key, found := NameKey(old), false
	for i, was := range r.varieties.entries {
		now := was
		if NameKey(was.Name) == key {
			if _, err := ids.Parse(name); err == nil {
				return false, &Refusal{fmt.Sprintf("%s has a row in %s, which cannot be about %s", was.Name, varietiesFile, name), "take the row out first"}
			}
			now.Name = name
			if other := r.varietyAt(name); other >= 0 && other != i {
				return false, &Refusal{fmt.Sprintf("%s and %s both have a row in %s", was.Name, name, varietiesFile),
					fmt.Sprintf("put what is known into row %d, and take row %d out", r.varieties.number(other), r.varieties.number(i))}
			}
		}
		for _, cell := range []*string{&now.SeedParent, &now.PollenParent, &now.SportOf} {
			*cell = renamed(*cell, key, name)
		}
		if now == was {
			continue
		}
		if found := r.varieties.unreadable(i); found != nil {
			return false, &DamageError{found}
		}
		r.varieties.replace(i, now)
		found = true
	}
	return found, nil
}
