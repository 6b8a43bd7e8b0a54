package main

import (
	"fmt"
	"strings"

	"pipstake/cmd/pipstake/terminal"
	"pipstake/ids"
	"pipstake/ids/season"
	"pipstake/ids/words"
	"pipstake/layout/plot"
)

// mostNames is how many names a pedigree in Purdy's notation has at most on
// the screen.
const mostNames = 32

// scanGenerations is how many generations of ancestors a scan shows.
const scanGenerations = 3

// lines returns all of a descent, one thing a line.
func (d *descent) lines(generations int) []string {
	var t terminal.Table
	if d.plant.IsFounder() {
		t.Row("parents", "not on record")
		return t.Lines("  ")
	}
	t.Row("parents", fmt.Sprintf("♀ %s × ♂ %s", d.plant.Seed, d.plant.Pollen))
	d.ancestorRows(&t, generations)
	d.purdyRow(&t)
	t.Row("founders", d.founders())
	t.Row("inbreeding", d.inbreeding())
	if uses := d.uses(); uses != "" {
		t.Row("parent in", uses)
	}
	return t.Lines("  ")
}

// scanRows adds to the answer to a scan what goes beyond the parents.
func (d *descent) scanRows(t *terminal.Table) {
	if d.plant.Generations() > 1 {
		d.ancestorRows(t, scanGenerations)
		d.purdyRow(t)
	}
	if !d.plant.IsFounder() && d.pedigree.Inbreeding(d.plant) > 0 {
		t.Row("inbreeding", d.inbreeding())
	}
	if uses := d.uses(); uses != "" {
		t.Row("parent in", uses)
	}
}

// beyondParents reports whether there is more to say than who the parents are.
func (d *descent) beyondParents() bool {
	return d.plant.Generations() > 1 || !d.plant.IsFounder() && d.pedigree.Inbreeding(d.plant) > 0 || d.uses() != ""
}

// ancestorRows adds the tree.
func (d *descent) ancestorRows(t *terminal.Table, generations int) {
	head := "ancestors"
	for _, line := range plot.TreeLines(d.pedigree.Tree(d.plant, generations), "") {
		t.Row(head, line)
		head = ""
	}
}

func (d *descent) purdyRow(t *terminal.Table) {
	text, whole := d.pedigree.Purdy(d.plant, mostNames)
	t.Row("Purdy", text)
	if !whole {
		t.Row("", "(the oldest generations are left out)")
	}
}

// founders lists the founders with their shares, those of one name together, and
// behind them the shares that come of no one plant.
func (d *descent) founders() string {
	var parts, unknown []string
	for _, s := range d.shares() {
		part := fmt.Sprintf("%s %s %%", s.Name, words.Number(100*s.Share, 1))
		if s.Unknown {
			unknown = append(unknown, part)
		} else {
			parts = append(parts, part)
		}
	}
	text := strings.Join(words.Few(parts, 12), ", ")
	if unknown != nil {
		text = strings.TrimPrefix(text+"; of no one plant: "+strings.Join(unknown, ", "), "; ")
	}
	return text
}

// shareFacts is a founder's share in JSON.
type shareFacts struct {
	Name  string  `json:"name"`
	Share float64 `json:"share"` // from 0 to 1

	Unknown bool `json:"no_one_plant,omitempty"` // open, a mixture, not known
}

// shares are those of the founders; parents that are not known count together.
func (d *descent) shares() []shareFacts {
	var shares []shareFacts
	at := map[string]int{}
	for _, s := range d.pedigree.Founders(d.plant) {
		name := s.Founder.String()
		i, ok := at[name]
		if !ok {
			i, at[name] = len(shares), len(shares)
			shares = append(shares, shareFacts{Name: name, Unknown: s.Founder.IsUnknown()})
		}
		shares[i].Share += s.Part
	}
	return shares
}

// uses lists the crosses with the seedling as a parent: "2031X004 (♀)".
func (d *descent) uses() string {
	var crosses []string
	for _, u := range d.pedigree.Uses(d.id) {
		crosses = append(crosses, fmt.Sprintf("%s (%s)", u.Cross, u.Role))
	}
	return strings.Join(words.Few(crosses, 12), ", ")
}

// lineageFacts is a descent in JSON.
type lineageFacts struct {
	ID         string        `json:"id"`
	Level      string        `json:"level"`
	Purdy      string        `json:"purdy"`
	PurdyWhole bool          `json:"purdy_whole"` // else the oldest generations are left out
	Inbreeding float64       `json:"inbreeding"`
	Least      bool          `json:"inbreeding_or_more,omitempty"` // not all ancestors are known
	Relation   string        `json:"parents_are"`
	Founders   []shareFacts  `json:"founders"`
	Ancestors  []branchFacts `json:"ancestors"`
	ParentIn   []useFacts    `json:"parent_in"`
}

// branchFacts is a plant of the tree in JSON.
type branchFacts struct {
	Plant   string        `json:"plant"`
	ID      string        `json:"id,omitempty"`       // of a selection that has a name
	SportOf string        `json:"sport_of,omitempty"` // the variety that it is one genotype with
	Founder bool          `json:"founder"`
	Role    string        `json:"role"` // seed, pollen or both
	Shown   bool          `json:"shown_above,omitempty"`
	Parents []branchFacts `json:"parents,omitempty"`
}

// useFacts is a cross with the plant as a parent in JSON.
type useFacts struct {
	Cross string `json:"cross"`
	Role  string `json:"role"`
}

var roleWords = map[season.Role]string{season.SeedRole: "seed", season.PollenRole: "pollen", season.BothRoles: "both"}

func (d *descent) facts(generations int) lineageFacts {
	f := lineageFacts{ID: d.id.String(), Level: d.id.Level().String(), Founders: d.shares(), Ancestors: []branchFacts{}, ParentIn: []useFacts{}}
	f.Purdy, f.PurdyWhole = d.pedigree.Purdy(d.plant, mostNames)
	if !d.plant.IsFounder() {
		f.Inbreeding, f.Least = d.pedigree.Inbreeding(d.plant), d.plant.PartlyUnknown()
		f.Relation = d.pedigree.Relation(d.plant.Seed, d.plant.Pollen).String()
		f.Ancestors = branchesJSON(d.pedigree.Tree(d.plant, generations).Parents)
	}
	for _, u := range d.pedigree.Uses(d.id) {
		f.ParentIn = append(f.ParentIn, useFacts{u.Cross.String(), roleWords[u.Role]})
	}
	return f
}

func branchesJSON(branches []*season.Branch) []branchFacts {
	var all []branchFacts
	for _, b := range branches {
		f := branchFacts{Plant: b.Plant.String(), Founder: b.Plant.IsFounder(), Role: roleWords[b.Role],
			Shown: b.Again, Parents: branchesJSON(b.Parents)}
		if b.Plant.Sport != nil {
			f.SportOf = b.Plant.Sport.String()
		}
		if b.Plant.Name != "" && b.Plant.ID != (ids.ID{}) {
			f.ID = b.Plant.ID.String()
		}
		all = append(all, f)
	}
	return all
}
