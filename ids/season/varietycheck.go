package season

import (
	"errors"
	"fmt"

	"pipstake/ids"
	"pipstake/ids/registry"
)

// CheckVariety refuses varieties of which one would be its own ancestor. The
// error is a *registry.Refusal.
func CheckVariety(r *registry.Registry, names ...string) error {
	p := NewPedigree(r)
	for _, name := range names {
		_, err := p.Named(name)
		var cycle *CycleError
		if errors.As(err, &cycle) {
			return &registry.Refusal{What: cycle.Error(), Remedy: "compare the parents, and what it is a sport of, with where you have them from"}
		}
		if err != nil {
			return err
		}
	}
	return nil
}

// checkVarieties returns what is wrong with the rows of varieties.csv beside
// lines that lead back to their start: parents that are no plant on record or
// younger than their offspring, sports with parents of their own, selections
// whose row has other parents than their cross.
func checkVarieties(r *registry.Registry, names *registry.Names) []registry.Finding {
	var found []registry.Finding
	for i, v := range r.Varieties() {
		add := func(column, what, remedy string) {
			found = append(found, r.VarietyFinding(i, column, what, remedy))
		}
		if v.SportOf != "" && v.SeedParent+v.PollenParent != "" {
			add("sport_of", "a sport has the parents of what it is a sport of, and this row has its own", "take one of the two out")
		}
		if known, _ := names.Known(v.Name); known.Selection != (ids.ID{}) && v.SeedParent+v.PollenParent+v.SportOf != "" {
			add("name", fmt.Sprintf("is the name of the selection %s, whose parents are those of its cross", known.Selection), "take the parents out of this row")
		}
		for _, p := range []parentCell{{"seed_parent", "seed parent", v.SeedParent}, {"pollen_parent", "pollen parent", v.PollenParent}, {"sport_of", "sport of", v.SportOf}} {
			if what, remedy := p.varietyFault(r, names, v); what != "" {
				add(p.column, what, remedy)
			}
		}
	}
	return found
}

// varietyFault says what is wrong with a parent of a variety; "" for nothing.
func (p parentCell) varietyFault(r *registry.Registry, names *registry.Names, v registry.Variety) (what, remedy string) {
	if id, own := ownPlant(names, p.name); own {
		switch {
		case id.Level() != ids.SeedlingLevel:
			return fmt.Sprintf("is a %s, not a plant", id.Level()), "write the identifier of the seedling that it was, or a name"
		case r.Status(id) == registry.Unknown:
			return "has no row in seedlings.csv", "put that row back, or correct the identifier"
		case v.Year != 0 && v.Year <= id.Year:
			return fmt.Sprintf("came of a cross of %d, and %s is of %d", id.Year, v.Name, v.Year), "correct the parent or the year"
		}
		return "", ""
	}
	known, _ := names.Known(p.name)
	if v.Year == 0 || p.name == "" || known.Name == "" || known.Row < 0 {
		return "", ""
	}
	if of := r.Varieties()[known.Row]; of.Year > v.Year {
		return fmt.Sprintf("is of %d, and %s of %d", of.Year, v.Name, v.Year), "correct the parent, or one of the years"
	}
	return "", ""
}
