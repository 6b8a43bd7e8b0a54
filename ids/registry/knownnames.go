package registry

import (
	"cmp"
	"slices"
	"strings"

	"pipstake/ids"
)

// KnownName is a name that a registry knows: from varieties.csv, of a selection,
// or as a parent of crosses.
type KnownName struct {
	Name      string   // as it is written: in varieties.csv, else by the selection, else by the first cross
	Row       int      // in Varieties; -1 where it has no row
	Selection ids.ID   // the own seedling of that name; zero for none
	Seed      []ids.ID // the crosses in use with it as the seed parent
	Pollen    []ids.ID // and as the pollen parent, mixtures among them
}

// Names are the names that a registry knows, as they were when it was asked.
type Names struct {
	all   []*KnownName
	byKey map[string]*KnownName
}

// Names looks through the registry for names.
func (r *Registry) Names() *Names {
	n := &Names{byKey: map[string]*KnownName{}}
	for i, v := range r.varieties.entries {
		known := n.meet(v.Name)
		if known == nil {
			continue
		}
		if known.Row < 0 {
			known.Row = i
		}
		for _, s := range v.Spellings() {
			if key := NameKey(s); n.byKey[key] == nil {
				n.byKey[key] = known
			}
		}
	}
	for _, s := range r.seedlings.entries {
		if s.State == Void || s.Name == "" {
			continue
		}
		if known := n.meet(s.Name); known != nil && known.Selection == (ids.ID{}) {
			known.Selection = s.ID
		}
	}
	for _, c := range r.crosses.entries {
		if c.State == Void {
			continue
		}
		for _, name := range plantNames(c.SeedParent) {
			known := n.meet(name)
			known.Seed = append(known.Seed, c.ID)
		}
		for _, name := range plantNames(c.PollenParent) {
			known := n.meet(name)
			known.Pollen = append(known.Pollen, c.ID)
		}
	}
	for _, v := range r.varieties.entries { // those that are parents only
		for _, parent := range []string{v.SeedParent, v.PollenParent, v.SportOf} {
			for _, name := range plantNames(parent) {
				n.meet(name)
			}
		}
	}
	return n
}

// plantNames are the names in the cell of a parent, without identifiers.
func plantNames(cell string) []string {
	if cell == "" {
		return nil
	}
	p := ReadParent(cell)
	return slices.DeleteFunc(slices.Clone(p.Names), func(name string) bool {
		_, err := ids.Parse(name)
		return err == nil
	})
}

// meet returns what is known of a name, and knows it from now on.
func (n *Names) meet(name string) *KnownName {
	key := NameKey(name)
	if key == "" {
		return nil
	}
	known := n.byKey[key]
	if known == nil {
		known = &KnownName{Name: name, Row: -1}
		n.byKey[key] = known
		n.all = append(n.all, known)
	}
	return known
}

// Known returns what is known of a name or another spelling; false for nothing.
func (n *Names) Known(name string) (KnownName, bool) {
	if known := n.byKey[NameKey(name)]; known != nil {
		return *known, true
	}
	return KnownName{}, false
}

// All returns the names by the alphabet.
func (n *Names) All() []KnownName {
	var all []KnownName
	for _, known := range n.all {
		all = append(all, *known)
	}
	slices.SortStableFunc(all, func(a, b KnownName) int {
		return cmp.Or(strings.Compare(bareName(a.Name), bareName(b.Name)), strings.Compare(a.Name, b.Name))
	})
	return all
}

// Nearness is how a name stands to those that are known.
type Nearness int

// The kinds of nearness.
const (
	NotNear      Nearness = iota // known letter by letter, or like no other
	OtherSpelled                 // on record as another spelling of a known name
	Alike                        // probably meant to be a known name
)

// Near returns the known name that a new one is another spelling of, or was
// probably meant to be: the one with the most crosses of those that are nearly
// alike.
func (n *Names) Near(name string) (KnownName, Nearness) {
	if known := n.byKey[NameKey(name)]; known != nil {
		switch {
		case known.Name == name:
			return *known, NotNear
		case NameKey(known.Name) == NameKey(name):
			return *known, Alike
		}
		return *known, OtherSpelled
	}
	var near *KnownName
	for _, known := range n.all {
		if NearlyAlike(name, known.Name) && (near == nil || known.crosses() > near.crosses()) {
			near = known
		}
	}
	if near == nil {
		return KnownName{}, NotNear
	}
	return *near, Alike
}

// crosses is how many crosses have the name as a parent.
func (k *KnownName) crosses() int { return len(k.Seed) + len(k.Pollen) }
