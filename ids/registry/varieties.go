package registry

import (
	"fmt"
	"regexp"
	"slices"
	"strings"

	"pipstake/ids"
)

const varietiesFile = "varieties.csv"

// Variety is what is known of a named parent. Only its name must be known.
type Variety struct {
	Name                     string
	Also                     string // other spellings, with semicolons between them
	SeedParent, PollenParent string // as those of a cross; "" where not known
	SportOf                  string // the variety that it is a bud sport of: one genotype with it
	Ploidy                   int    // sets of chromosomes; 0 where not known
	SAlleles                 string // of the gene for self-incompatibility, as "S2 S3"
	Year                     int    // in which it was raised, or first recorded; 0 where not known
	Notes                    string
}

var varietyColumns = []column[Variety]{
	ownNameColumn("name", func(v *Variety) *string { return &v.Name }),
	late(nameColumn("also", optional, func(v *Variety) *string { return &v.Also })),
	late(parentColumn("seed_parent", optional, func(v *Variety) *string { return &v.SeedParent })),
	late(parentColumn("pollen_parent", optional, func(v *Variety) *string { return &v.PollenParent })),
	late(nameColumn("sport_of", optional, func(v *Variety) *string { return &v.SportOf })),
	late(ploidyColumn("ploidy", func(v *Variety) *int { return &v.Ploidy })),
	late(allelesColumn("s_alleles", func(v *Variety) *string { return &v.SAlleles })),
	late(numberColumn("year", optional, func(v *Variety) *int { return &v.Year })),
	late(textColumn("notes", func(v *Variety) *string { return &v.Notes })),
}

// Spellings are the other spellings, each as it is written.
func (v Variety) Spellings() []string {
	var all []string
	for s := range strings.SplitSeq(v.Also, ";") {
		if s = strings.TrimSpace(s); s != "" {
			all = append(all, s)
		}
	}
	return all
}

// Alleles are the S-alleles: "S2", "S3".
func (v Variety) Alleles() []string { return strings.Fields(v.SAlleles) }

// goesBy reports whether a name is that of the variety or one of its spellings.
func (v Variety) goesBy(name string) bool {
	key := NameKey(name)
	return key == NameKey(v.Name) || slices.ContainsFunc(v.Spellings(), func(s string) bool { return NameKey(s) == key })
}

// ownNameColumn holds the name that a row is about.
func ownNameColumn[T any](name string, field func(*T) *string) column[T] {
	c := nameColumn(name, required, field)
	read := c.read
	c.read = func(text string, e *T) *cellIssue {
		v := read(text, e)
		if *field(e) == "" {
			v.remedy = "write it in, or delete the row"
		}
		return v
	}
	return c
}

// Fewest and most sets of chromosomes that a parent is taken to have.
const (
	LeastPloidy = 2
	MostPloidy  = 8
)

// ploidyWords are what people write for the number of sets.
var ploidyWords = map[string]string{"diploid": "2", "triploid": "3", "tetraploid": "4", "2x": "2", "3x": "3", "4x": "4"}

// ploidyColumn holds a number of sets of chromosomes.
func ploidyColumn[T any](name string, field func(*T) *int) column[T] {
	c := numberColumn(name, optional, field)
	read := c.read
	c.read = func(text string, e *T) *cellIssue {
		if n, ok := ploidyWords[strings.ToLower(strings.TrimSpace(text))]; ok {
			text = n
		}
		v := read(text, e)
		if n := *field(e); !v.isDamage() && n != 0 && (n < LeastPloidy || n > MostPloidy) {
			*field(e) = 0
			return damaged("is no number of sets of chromosomes", fmt.Sprintf("write 2 for a diploid, 3 for a triploid; at most %d", MostPloidy))
		}
		return v
	}
	return c
}

// allelePattern is how S-alleles are named: S2, S16b, Sb.
var allelePattern = regexp.MustCompile(`^[Ss](?:[0-9]{1,3}[a-z]?|[a-z])$`)

// ReadAlleles reads the names of S-alleles in any of the usual forms, "S2,S3",
// "S2 S3", "S2/S3", "2, 3", and returns them as "S2 S3". The error is a
// *Refusal that names the word at fault.
func ReadAlleles(text string) (string, error) {
	var all []string
	for _, word := range strings.FieldsFunc(text, func(r rune) bool { return strings.ContainsRune(" ,;/+&", r) }) {
		if word[0] >= '0' && word[0] <= '9' {
			word = "S" + word
		}
		if !allelePattern.MatchString(word) {
			return "", &Refusal{fmt.Sprintf("%q is no S-allele", shorten(word)), "write them as S2,S3"}
		}
		if word = "S" + word[1:]; !slices.Contains(all, word) {
			all = append(all, word)
		}
	}
	return strings.Join(all, " "), nil
}

// allelesColumn holds S-alleles.
func allelesColumn[T any](name string, field func(*T) *string) column[T] {
	read := func(text string, e *T) *cellIssue {
		alleles, err := ReadAlleles(Unguard(text))
		if err != nil {
			what, remedy := whatAndRemedy(err)
			return damaged("holds a word that is no S-allele: "+what, remedy)
		}
		*field(e) = alleles
		return nil
	}
	return column[T]{name: name, read: read, write: func(e *T) string { return Guard(*field(e)) }}
}

// Varieties are in the order of their file. A cell that cannot be read counts
// as empty.
func (r *Registry) Varieties() []Variety { return slices.Clip(r.varieties.entries) }

// Variety finds a variety by its name or another spelling; false where it has
// no row.
func (r *Registry) Variety(name string) (Variety, bool) {
	if at := r.varietyAt(name); at >= 0 {
		return r.varieties.entries[at], true
	}
	return Variety{}, false
}

// varietyAt is the place of a variety in its file; -1 for none. A name goes
// before a spelling.
func (r *Registry) varietyAt(name string) int {
	key := NameKey(name)
	at := slices.IndexFunc(r.varieties.entries, func(v Variety) bool { return NameKey(v.Name) == key })
	if at < 0 {
		at = slices.IndexFunc(r.varieties.entries, func(v Variety) bool { return v.goesBy(name) })
	}
	return at
}

// VarietyFinding is something to say of a cell in a variety's row, which is
// counted from 0 as in Varieties.
func (r *Registry) VarietyFinding(row int, column, what, remedy string) Finding {
	f := Finding{File: varietiesFile, Row: r.varieties.number(row), Column: column, What: what, Remedy: remedy}
	for i, c := range r.varieties.columns {
		if c.name == column {
			f.Value = r.varieties.current(row, r.varieties.position[i])
		}
	}
	return f
}

// VarietyChange is what became of a variety's row.
type VarietyChange struct {
	Before, Now Variety // Before is without a name where the row is new
}

// SetVariety records what is given of a variety, which gets a row where it has
// none; what is empty stays as it was. Other spellings and notes are added to
// those that are there. The error is a *Refusal where a fact contradicts one on
// record, unless correct is set, or where it cannot be; and a *DamageError
// where a cell of the row cannot be read. Whether the variety would be its own
// ancestor is not looked at here.
func (r *Registry) SetVariety(v Variety, correct bool) (VarietyChange, error) {
	return r.setVariety(r.Names(), v, correct)
}

// setVariety is SetVariety with the names that are known.
func (r *Registry) setVariety(names *Names, v Variety, correct bool) (VarietyChange, error) {
	if err := r.fitVariety(&v); err != nil {
		return VarietyChange{}, err
	}
	for _, name := range []*string{&v.SeedParent, &v.PollenParent, &v.SportOf} {
		if known, ok := names.Known(*name); ok {
			*name = known.Name
		}
	}
	at := r.varietyAt(v.Name)
	var was Variety
	if at >= 0 {
		if found := r.varieties.unreadable(at); found != nil {
			return VarietyChange{}, &DamageError{found}
		}
		was = r.varieties.entries[at]
		v.Name = was.Name
	}
	now, err := was.with(v, correct)
	if err != nil {
		return VarietyChange{}, err
	}
	if err := r.freeSpellings(now, at); err != nil {
		return VarietyChange{}, err
	}
	if at < 0 {
		r.varieties.append(now)
	} else {
		r.varieties.replace(at, now)
	}
	return VarietyChange{was, now}, nil
}

// fitVariety looks at the facts alone, and writes them as the file has them.
func (r *Registry) fitVariety(v *Variety) error {
	for _, text := range []struct {
		what string
		of   *string
	}{{"name", &v.Name}, {"spelling", &v.Also}, {"variety that it is a sport of", &v.SportOf}, {"note", &v.Notes}} {
		var err error
		if *text.of, err = oneLine(text.what, *text.of); err != nil {
			return err
		}
	}
	for _, name := range append(v.Spellings(), v.Name, v.SportOf) {
		if err := fitName(name); name != "" && err != nil {
			return err
		}
	}
	for role, name := range map[string]*string{"seed parent": &v.SeedParent, "pollen parent": &v.PollenParent} {
		var err error
		if *name == "" {
			continue
		}
		if *name, err = r.parent(role, *name); err != nil {
			return err
		}
	}
	var err error
	if v.SAlleles, err = ReadAlleles(v.SAlleles); err != nil {
		return err
	}
	switch {
	case v.Name == "":
		return &Refusal{"the variety has no name", "give its name"}
	case v.Ploidy != 0 && (v.Ploidy < LeastPloidy || v.Ploidy > MostPloidy):
		return &Refusal{fmt.Sprintf("%d is no number of sets of chromosomes", v.Ploidy), "give 2 for a diploid, 3 for a triploid"}
	case v.SportOf != "" && NameKey(v.SportOf) == NameKey(v.Name):
		return &Refusal{fmt.Sprintf("%s would be a sport of itself", v.Name), "name the variety that it was found on"}
	case v.Year < 0 || v.Year > 9999:
		return &Refusal{fmt.Sprintf("%d is no year", v.Year), "give the year in up to four digits"}
	}
	return nil
}

// fitName refuses what cannot be the name of one variety.
func fitName(name string) error {
	if read, err := ids.Parse(name); err == nil {
		return &Refusal{fmt.Sprintf("%q is the identifier of a %s, not the name of a variety", name, read.ID.Level()), "give the name; a seedling gets one when it is selected"}
	}
	if p := ReadParent(name); p.Kind != OnePlant {
		return &Refusal{fmt.Sprintf("%q stands for %s, not for a variety", shorten(name), p), "give the name of one variety"}
	}
	return nil
}

// with adds facts to those on record.
func (v Variety) with(more Variety, correct bool) (Variety, error) {
	now := v
	now.Name = more.Name
	for _, s := range more.Spellings() {
		if !now.goesBy(s) || NameKey(s) == NameKey(now.Name) && s != now.Name && !slices.Contains(now.Spellings(), s) {
			now.Also = strings.Join(append(now.Spellings(), s), "; ")
		}
	}
	if more.Notes != "" && !strings.Contains(now.Notes, more.Notes) {
		now.Notes = addNote(now.Notes, more.Notes)
	}
	if more.SportOf != "" && correct {
		now.SeedParent, now.PollenParent = "", "" // those of what it is a sport of
	}
	if more.SeedParent+more.PollenParent != "" && correct {
		now.SportOf = ""
	}
	for _, f := range []struct {
		what      string
		was, more string
		set       func()
	}{
		{"seed parent", v.SeedParent, more.SeedParent, func() { now.SeedParent = more.SeedParent }},
		{"pollen parent", v.PollenParent, more.PollenParent, func() { now.PollenParent = more.PollenParent }},
		{"sport of", v.SportOf, more.SportOf, func() { now.SportOf = more.SportOf }},
		{"ploidy", digits(v.Ploidy), digits(more.Ploidy), func() { now.Ploidy = more.Ploidy }},
		{"S-alleles", v.SAlleles, more.SAlleles, func() { now.SAlleles = more.SAlleles }},
		{"year", digits(v.Year), digits(more.Year), func() { now.Year = more.Year }},
	} {
		if f.more == "" || NameKey(f.more) == NameKey(f.was) {
			continue
		}
		if f.was != "" && f.was != unknownWord && !correct {
			return v, &Refusal{fmt.Sprintf("%s has %s %s on record, not %s", now.Name, f.what, f.was, f.more), "use {correct} if that was wrong"}
		}
		f.set()
	}
	if now.SportOf != "" && now.SeedParent+now.PollenParent != "" {
		return v, &Refusal{fmt.Sprintf("%s has parents and is a sport as well", now.Name), "give one of the two: a sport has the parents of what it is a sport of"}
	}
	return now, nil
}

func digits(n int) string {
	if n == 0 {
		return ""
	}
	return fmt.Sprint(n)
}

// freeSpellings refuses names that another row has.
func (r *Registry) freeSpellings(v Variety, at int) error {
	for _, name := range append(v.Spellings(), v.Name) {
		for i, other := range r.varieties.entries {
			if i != at && other.goesBy(name) {
				return &Refusal{fmt.Sprintf("%s is a spelling of %s already, in %s row %d", name, other.Name, varietiesFile, r.varieties.number(i)),
					"take it out of that row first, or leave it out"}
			}
		}
	}
	return nil
}

// varietiesTwice reports names and spellings that two rows have: the first is
// used.
func (c *checker) varietiesTwice() {
	t := c.r.varieties
	first := map[string]int{}
	for i, v := range t.entries {
		own := map[string]bool{}
		for j, name := range append([]string{v.Name}, v.Spellings()...) {
			key := NameKey(name)
			if key == "" || own[key] {
				continue
			}
			own[key] = true
			column := "name"
			if j > 0 {
				column = "also"
			}
			c.twice(first, t.csvFile, i, column, name, key)
		}
	}
}
