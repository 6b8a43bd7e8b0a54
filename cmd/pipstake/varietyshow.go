package main

import (
	"fmt"
	"slices"
	"strings"

	"pipstake/cmd/pipstake/terminal"
	"pipstake/ids"
	"pipstake/ids/problem"
	"pipstake/ids/registry"
	"pipstake/ids/season"
	"pipstake/ids/words"
)

// varietyRow is what is known of a name, from all tables.
type varietyRow struct {
	known   registry.KnownName
	variety registry.Variety // its row in varieties.csv, where it has one
}

func varietyRows(r *registry.Registry) []varietyRow {
	varieties := r.Varieties()
	var rows []varietyRow
	for _, known := range r.Names().All() {
		row := varietyRow{known: known, variety: registry.Variety{Name: known.Name}}
		if known.Row >= 0 {
			row.variety = varieties[known.Row]
		}
		rows = append(rows, row)
	}
	return rows
}

// origin is where the variety comes from, in few words; "" where not known.
func (v varietyRow) origin(r *registry.Registry) string {
	switch {
	case v.known.Selection != (ids.ID{}):
		cross, _ := r.Cross(v.known.Selection.At(ids.CrossLevel))
		return fmt.Sprintf("%s, %s", v.known.Selection, parents(cross))
	case v.variety.SportOf != "":
		return "sport of " + v.variety.SportOf
	}
	return varietyParents(v.variety)
}

// use is how often the variety was a parent, and in which years: "♀ 3  ♂ 1
// 2025–2027".
func (v varietyRow) use() string {
	all := slices.Concat(v.known.Seed, v.known.Pollen)
	if len(all) == 0 {
		return ""
	}
	slices.SortFunc(all, ids.Compare)
	var parts []string
	if n := len(v.known.Seed); n > 0 {
		parts = append(parts, fmt.Sprintf("♀ %d", n))
	}
	if n := len(v.known.Pollen); n > 0 {
		parts = append(parts, fmt.Sprintf("♂ %d", n))
	}
	years := fmt.Sprint(all[0].Year)
	if last := all[len(all)-1].Year; last != all[0].Year {
		years += fmt.Sprintf("–%d", last)
	}
	return strings.Join(append(parts, years), "  ")
}

// listVarieties lists all names.
func (e *env) listVarieties(r *registry.Registry, asJSON bool) error {
	rows := varietyRows(r)
	if asJSON {
		list := []varietyJSON{}
		for _, row := range rows {
			list = append(list, row.json(r))
		}
		return e.SayJSON(list)
	}
	if len(rows) == 0 {
		e.Say("no variety is known yet")
		e.Next(`register a cross, or record one: pipstake variety "Tarn Amber" --ploidy 3`)
		return nil
	}
	var t terminal.Table
	t.Row("variety", "from", "ploidy", "S-alleles", "parent in")
	for _, row := range rows {
		ploidy := ""
		if row.variety.Ploidy != 0 {
			ploidy = fmt.Sprint(row.variety.Ploidy)
		}
		t.Row(row.known.Name, row.origin(r), ploidy, row.variety.SAlleles, row.use())
	}
	e.SayTable(&t, "  ")
	for _, pair := range alikePairs(rows) {
		e.Notice("%s and %s are nearly alike: if they are one, %s", pair[0], pair[1], proposal("variety", pair[:1], "--also "+shellWords(pair[1])))
	}
	return nil
}

// alikePairs are the names that may mean one variety, the one with more crosses
// first.
func alikePairs(rows []varietyRow) [][2]string {
	used := func(v varietyRow) int { return len(v.known.Seed) + len(v.known.Pollen) }
	var pairs [][2]string
	for i, a := range rows {
		for _, b := range rows[i+1:] {
			if !registry.NearlyAlike(a.known.Name, b.known.Name) {
				continue
			}
			if used(b) > used(a) {
				a, b = b, a
			}
			pairs = append(pairs, [2]string{a.known.Name, b.known.Name})
		}
	}
	return pairs
}

// varietyJSON is a variety in JSON.
type varietyJSON struct {
	Name         string   `json:"name"`
	Also         []string `json:"also,omitempty"`
	SeedParent   string   `json:"seed_parent,omitempty"`
	PollenParent string   `json:"pollen_parent,omitempty"`
	SportOf      string   `json:"sport_of,omitempty"`
	Selection    string   `json:"selection,omitempty"`
	Ploidy       int      `json:"ploidy,omitempty"`
	Alleles      []string `json:"s_alleles,omitempty"`
	Year         int      `json:"year,omitempty"`
	Notes        string   `json:"notes,omitempty"`
	SeedIn       []string `json:"seed_parent_in"`
	PollenIn     []string `json:"pollen_parent_in"`
}

func (v varietyRow) json(r *registry.Registry) varietyJSON {
	f := varietyJSON{Name: v.known.Name, Also: v.variety.Spellings(), SeedParent: v.variety.SeedParent, PollenParent: v.variety.PollenParent,
		SportOf: v.variety.SportOf, Ploidy: v.variety.Ploidy, Alleles: v.variety.Alleles(), Year: v.variety.Year, Notes: v.variety.Notes,
		SeedIn: []string{}, PollenIn: []string{}}
	if id := v.known.Selection; id != (ids.ID{}) {
		cross, _ := r.Cross(id.At(ids.CrossLevel))
		f.Selection, f.SeedParent, f.PollenParent = id.String(), cross.SeedParent, cross.PollenParent
	}
	for _, id := range v.known.Seed {
		f.SeedIn = append(f.SeedIn, id.String())
	}
	for _, id := range v.known.Pollen {
		f.PollenIn = append(f.PollenIn, id.String())
	}
	return f
}

// showVariety shows one variety with its ancestors.
func (e *env) showVariety(r *registry.Registry, name string, asJSON bool) error {
	names := r.Names()
	known, ok := names.Known(name)
	if !ok {
		hint := "to record it, give a fact: " + proposal("variety", []string{name}, `--parents "A, B"`)
		if near, how := names.Near(name); how == registry.Alike {
			hint = "did you mean " + near.Name + "?"
		}
		return problem.Use(fmt.Sprintf("no variety %s is known", words.Shown(name)), hint)
	}
	row := varietyRow{known: known, variety: registry.Variety{Name: known.Name}}
	if known.Row >= 0 {
		row.variety = r.Varieties()[known.Row]
	}
	if asJSON {
		return e.SayJSON(row.json(r))
	}
	p := season.NewPedigree(r)
	plant, err := p.Named(known.Name)
	if err != nil {
		return err
	}
	e.Say("%s", known.Name)
	e.SayTable(row.table(r, &descent{pedigree: p, plant: plant}), "  ")
	return nil
}

// table returns all of a variety, one thing a line.
func (v varietyRow) table(r *registry.Registry, d *descent) *terminal.Table {
	t := &terminal.Table{}
	if v.known.Selection != (ids.ID{}) {
		t.Row("selection", v.known.Selection.String())
	}
	for _, f := range varietyFacts(v.variety) {
		if f.text != "" && f.what != "parents" {
			t.Row(f.what, f.text)
		}
	}
	switch {
	case d.plant.IsFounder():
		t.Row("parents", "not on record")
	default:
		t.Row("parents", fmt.Sprintf("♀ %s × ♂ %s", d.plant.Seed, d.plant.Pollen))
		if d.plant.Generations() > 1 {
			d.ancestorRows(t, 0)
			d.purdyRow(t)
		}
		t.Row("inbreeding", d.inbreeding())
	}
	if sports := sportsOf(r, v.known.Name); sports != nil {
		t.Row("sports", words.List(sports))
	}
	if uses := v.uses(); uses != "" {
		t.Row("parent in", uses)
	}
	return t
}

// sportsOf are the varieties on record as sports of one.
func sportsOf(r *registry.Registry, name string) []string {
	names := r.Names()
	var sports []string
	for _, v := range r.Varieties() {
		if of, ok := names.Known(v.SportOf); ok && of.Name == name {
			sports = append(sports, v.Name)
		}
	}
	return sports
}

// uses lists the crosses: "2026X001 (♀), 2026X003 (♂)".
func (v varietyRow) uses() string {
	var uses []string
	for _, id := range v.known.Seed {
		uses = append(uses, fmt.Sprintf("%s (%s)", id, season.SeedRole))
	}
	for _, id := range v.known.Pollen {
		uses = append(uses, fmt.Sprintf("%s (%s)", id, season.PollenRole))
	}
	slices.Sort(uses)
	return strings.Join(words.Few(uses, 12), ", ")
}
