package season

import (
	"errors"
	"fmt"
	"regexp"
	"slices"

	"pipstake/ids"
	"pipstake/ids/registry"
)

// CheckParents refuses a cross whose parent is a seedling younger than the
// cross itself, its own offspring among them. The error is a
// *registry.Refusal.
func CheckParents(r *registry.Registry, c registry.Cross) error {
	names := r.Names()
	for _, p := range parentsOf(c) {
		id, own := ownPlant(names, p.name)
		if !own {
			continue // a founder
		}
		if what := tooYoung(r, id, c); what != "" {
			return &registry.Refusal{What: fmt.Sprintf("%s %s %s", p.role, p.name, what),
				Remedy: "compare the parent with its label, or correct the day of pollination"}
		}
	}
	return nil
}

// ownPlant is the own seedling that a parent's cell names, by its identifier or
// as a selection; false for any other parent.
func ownPlant(names *registry.Names, cell string) (ids.ID, bool) {
	if read, err := ids.Parse(cell); err == nil {
		return read.ID, true
	}
	known, ok := names.Known(cell)
	return known.Selection, ok && known.Selection != (ids.ID{})
}

// parentCell is one of a cross's two parents as its row has it.
type parentCell struct{ column, role, name string }

func parentsOf(c registry.Cross) []parentCell {
	return []parentCell{{"seed_parent", "seed parent", c.SeedParent}, {"pollen_parent", "pollen parent", c.PollenParent}}
}

// tooYoung says why a plant cannot have been a parent of a cross: it did not
// exist yet, or came of a cross of the same year, whose fruit ripens after the
// blossom. It returns "" where it can.
func tooYoung(r *registry.Registry, plant ids.ID, c registry.Cross) string {
	switch {
	case plant.Year > c.ID.Year:
		return fmt.Sprintf("is younger than the cross: it came of a cross of %d", plant.Year)
	case plant.Year == c.ID.Year:
		return fmt.Sprintf("cannot have flowered in %d: it came of a cross of that year", plant.Year)
	}
	if event, on := latest(r, plant); c.Pollinated.Before(on) {
		return fmt.Sprintf("is younger than the cross: it was %s on %s, after the pollination on %s", event, on, c.Pollinated)
	}
	return ""
}

// latest is the last event in a plant's life before it could flower that has a
// date on record.
func latest(r *registry.Registry, plant ids.ID) (event string, on registry.Date) {
	seedling, _ := r.Seedling(plant)
	if !seedling.Pricked.IsZero() {
		return "pricked out", seedling.Pricked
	}
	pot, _ := r.Pot(plant.At(ids.PotLevel))
	if !pot.Sown.IsZero() {
		return "sown", pot.Sown
	}
	lot, _ := r.Lot(plant.At(ids.LotLevel))
	if !lot.Extracted.IsZero() {
		return "a seed taken from the fruit", lot.Extracted
	}
	return "", registry.Date{}
}

// CheckPedigree returns what is wrong with the parents of the crosses, as hand
// edits can leave it: identifiers that are none, that stand for no plant or for
// no plant on record, parents younger than their offspring, plants among their
// own ancestors; and what is wrong with the parents of varieties. Void crosses
// are left alone.
func CheckPedigree(r *registry.Registry) []registry.Finding {
	names := r.Names()
	found := checkVarieties(r, names)
	seen := map[ids.ID]bool{}
	for _, c := range r.Crosses() {
		if seen[c.ID] || r.Status(c.ID) == registry.Voided {
			continue // a second row is reported as such
		}
		seen[c.ID] = true
		for _, p := range parentsOf(c) {
			if what, remedy := p.fault(r, names, c); what != "" {
				found = append(found, r.FindingOn(c.ID, p.column, what, remedy))
			}
		}
	}
	return append(found, cycles(r)...)
}

// issuedShape is how identifiers begin.
var issuedShape = regexp.MustCompile(`^[0-9]{4}[Xx][0-9]`)

// fault says what is wrong with a parent; "" for nothing.
func (p parentCell) fault(r *registry.Registry, names *registry.Names, c registry.Cross) (what, remedy string) {
	read, err := ids.Parse(p.name)
	const young, byLabel = "correct the parent, or one of the dates", "compare it with the label of the plant, or write a name"
	if err != nil {
		var check *ids.CheckError
		var parse *ids.ParseError
		switch {
		case errors.As(err, &check):
			return fmt.Sprintf("has the check character %c, but that of %s is %c", check.Got, check.ID, check.Want), byLabel
		case errors.As(err, &parse) && issuedShape.MatchString(p.name):
			return "looks like an identifier and is none: " + parse.Reason, parse.Remedy
		}
		if id, own := ownPlant(names, p.name); own {
			return tooYoung(r, id, c), young
		}
		return "", ""
	}
	switch id := read.ID; {
	case id.Level() != ids.SeedlingLevel:
		return fmt.Sprintf("is a %s, not a plant", id.Level()), "write the identifier of the seedling that it was, or a name"
	case r.Status(id) == registry.Unknown:
		return "has no row in seedlings.csv", "put that row back, or correct the identifier"
	default:
		if what := tooYoung(r, id, c); what != "" {
			return what, young
		}
	}
	return "", ""
}

// cycles returns a finding for each line of crosses and varieties that leads back
// to its start.
func cycles(r *registry.Registry) []registry.Finding {
	var found []registry.Finding
	told := map[string]bool{} // what is in lines already reported
	p := NewPedigree(r)
	look := func(err error) {
		var cycle *CycleError
		if !errors.As(err, &cycle) || slices.ContainsFunc(cycle.Line, func(p *Plant) bool { return told[circleKey(p)] }) {
			return
		}
		for _, plant := range cycle.Line {
			told[circleKey(plant)] = true
		}
		found = append(found, cycleFinding(r, p, cycle))
	}
	for _, c := range r.Crosses() {
		_, err := p.Plant(c.ID)
		look(err)
	}
	for _, v := range r.Varieties() {
		_, err := p.Named(v.Name)
		look(err)
	}
	return found
}

// circleKey is the same for all plants of one row.
func circleKey(p *Plant) string {
	if p.ID == (ids.ID{}) {
		return nameKey(p.Name)
	}
	return p.ID.At(ids.CrossLevel).String()
}

// cycleFinding is on the first row of a line that has one.
func cycleFinding(r *registry.Registry, p *Pedigree, cycle *CycleError) registry.Finding {
	if id := cycle.Line[0].ID; id != (ids.ID{}) {
		return r.FindingOn(id.At(ids.CrossLevel), "id", cycle.Error(), "correct the parents of one of these crosses")
	}
	known, _ := p.names.Known(cycle.Line[0].Name)
	return r.VarietyFinding(known.Row, "name", cycle.Error(), "correct the parents of one of these varieties, or what it is a sport of")
}
