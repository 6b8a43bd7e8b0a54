package registry

import (
	"errors"
	"path/filepath"
	"strings"
)

// Imported is what became of a list of varieties.
type Imported struct {
	Varieties    []string // the names, as the registry has them
	New, Changed int      // rows
}

// ImportVarieties records the varieties of a CSV file with the columns of
// varieties.csv, of which only the name must be there; see SetVariety. Path is
// what messages call the file. The error is an *AccessError where the file
// cannot be read as a table, and a *DamageError that names every row and cell at
// fault; the registry is then of no more use.
func (r *Registry) ImportVarieties(path, text string, correct bool) (Imported, error) {
	list := newListing(filepath.Base(path), varietyColumns)
	if err := list.load(path, text); err != nil {
		return Imported{}, err
	}
	wrong, names := list.damage, r.Names()
	var done Imported
	for i, v := range list.entries {
		if v.Name == "" {
			wrong = append(wrong, Finding{File: list.name, Row: list.number(i), Column: "name", What: "the name is missing", Remedy: "write it in, or delete the row"})
			continue
		}
		change, err := r.setVariety(names, v, correct)
		var refusal *Refusal
		switch {
		case errors.As(err, &refusal):
			wrong = append(wrong, Finding{File: list.name, Row: list.number(i), What: refusal.What, Remedy: refusal.Remedy})
		case err != nil:
			return Imported{}, err
		case change.Before.Name == "":
			done.New++
		case change.Before != change.Now:
			done.Changed++
		}
		done.Varieties = append(done.Varieties, change.Now.Name)
	}
	if len(wrong) > 0 {
		return Imported{}, &DamageError{wrong}
	}
	if len(done.Varieties) == 0 {
		return Imported{}, &Refusal{strings.TrimSpace(path) + " holds no varieties", "write a row for each, with its name"}
	}
	return done, nil
}
