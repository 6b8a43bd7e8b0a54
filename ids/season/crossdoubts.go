package season

import (
	"slices"

	"pipstake/ids"
	"pipstake/ids/registry"
)

// DoubtKind is what is worth knowing of a cross before its labels are printed.
// None of it is a reason to refuse the cross.
type DoubtKind int

// The kinds of doubts. Of triploids it was published that of their seedlings
// 10.9 % (as the seed parent) and 49.5–65.8 % (as the pollen parent) fruited
// after ten years (J. Japan. Soc. Hort. Sci. 76(2), as quoted).
const (
	NearName       DoubtKind = iota // a parent's name is new, and nearly that of a known one
	SameCross                       // the same was made in that year already
	TriploidPollen                  // the pollen parent has three sets of chromosomes
	TriploidSeed                    // the seed parent has
	SharedAlleles                   // all S-alleles of the pollen are those of the seed parent
	InMixture                       // the seed parent is in the mixture of pollen too
)

// Doubt is one of them.
type Doubt struct {
	Kind    DoubtKind
	Name    string   // of the parent
	Of      string   // the known name; the seed parent that shares the alleles
	Crosses []ids.ID // made already
	Alleles []string
}

// CrossDoubts returns what is worth knowing of a cross that was just registered;
// before are the names that were known till then.
func CrossDoubts(r *registry.Registry, before *registry.Names, c registry.Cross) []Doubt {
	seed, pollen := registry.ReadParent(c.SeedParent), registry.ReadParent(c.PollenParent)
	if pollen.Kind == registry.OwnPollen {
		pollen = seed
	}
	var doubts []Doubt
	told := map[string]bool{}
	for _, name := range slices.Concat(seed.Names, pollen.Names) {
		if near, how := before.Near(name); how == registry.Alike && !told[name] {
			told[name] = true
			doubts = append(doubts, Doubt{Kind: NearName, Name: name, Of: near.Name})
		}
	}
	if same := sameCrosses(r, before, c); same != nil {
		doubts = append(doubts, Doubt{Kind: SameCross, Crosses: same})
	}
	for _, female := range seed.Names {
		if traits := TraitsOf(r, before, female); traits.Ploidy == 3 {
			doubts = append(doubts, Doubt{Kind: TriploidSeed, Name: female})
		}
	}
	for _, male := range pollen.Names {
		doubts = append(doubts, pollenDoubts(r, before, seed, male, pollen.Kind == registry.MixedPollen)...)
	}
	return doubts
}

// pollenDoubts are those on the pollen of one plant.
func pollenDoubts(r *registry.Registry, names *registry.Names, seed registry.Parent, male string, mixed bool) []Doubt {
	var doubts []Doubt
	traits := TraitsOf(r, names, male)
	if traits.Ploidy == 3 {
		doubts = append(doubts, Doubt{Kind: TriploidPollen, Name: male})
	}
	for _, female := range seed.Names {
		own := TraitsOf(r, names, female).Alleles
		shared := slices.DeleteFunc(slices.Clone(traits.Alleles), func(s string) bool { return !slices.Contains(own, s) })
		switch same := canonical(names, female) == canonical(names, male); {
		case same && mixed:
			doubts = append(doubts, Doubt{Kind: InMixture, Name: female})
		case len(shared) > 1 && len(shared) == len(traits.Alleles):
			doubts = append(doubts, Doubt{Kind: SharedAlleles, Name: male, Of: female, Alleles: shared})
		}
	}
	return doubts
}

// sameCrosses are the other crosses of the year that are in use and have the
// same parents in the same places.
func sameCrosses(r *registry.Registry, names *registry.Names, c registry.Cross) []ids.ID {
	var same []ids.ID
	key := parentsKey(names, c)
	for _, other := range r.Crosses() {
		if other.ID != c.ID && other.ID.Year == c.ID.Year && other.State != registry.Void && other.Source == "" && parentsKey(names, other) == key {
			same = append(same, other.ID)
		}
	}
	return same
}

// parentsKey is the same for crosses of the same parents, however spelled.
func parentsKey(names *registry.Names, c registry.Cross) [2]string {
	return [2]string{canonical(names, c.SeedParent), canonical(names, c.PollenParent)}
}

// canonical is the same for all spellings of what a parent's cell says.
func canonical(names *registry.Names, cell string) string {
	p := registry.ReadParent(cell)
	for i, name := range p.Names {
		if known, ok := names.Known(name); ok {
			name = known.Name
		}
		p.Names[i] = nameKey(name)
	}
	slices.Sort(p.Names)
	return p.String()
}

// Traits are what decides whether pollen can do anything.
type Traits struct {
	Ploidy  int      // sets of chromosomes; 0 where not known
	Alleles []string // S-alleles; none where not known
}

// TraitsOf returns the traits of a variety, and of what it is a sport of where
// its own row leaves them open.
func TraitsOf(r *registry.Registry, names *registry.Names, name string) Traits {
	const mostSports = 20 // of sports of sports; check reports rows that lead in a circle
	var traits Traits
	varieties := r.Varieties()
	for range mostSports {
		known, ok := names.Known(name)
		if !ok || known.Row < 0 {
			break
		}
		v := varieties[known.Row]
		if traits.Ploidy == 0 {
			traits.Ploidy = v.Ploidy
		}
		if len(traits.Alleles) == 0 {
			traits.Alleles = v.Alleles()
		}
		if name = v.SportOf; name == "" {
			break
		}
	}
	return traits
}
