package reading

import (
	"cmp"
	"fmt"
	"maps"
	"slices"
	"strings"

	"pipstake/ids"
	"pipstake/ids/problem"
	"pipstake/ids/registry"
	"pipstake/ids/words"
	"pipstake/label/symbol"
)

// recovery puts together what labels say.
type recovery struct {
	codes map[symbol.Payload]bool // each label once, however often it was read
	known map[ids.ID]string       // everything named, with the note for its row

	parents map[ids.ID]votes[[2]string] // of crosses, as folded on the labels
	seeds   map[ids.ID]votes[int]       // of pots
	sown    map[ids.ID]votes[registry.Date]

	conflicts []string
}

// MostSeeds is more than any lot, pot or apple holds.
const MostSeeds = 100_000

const (
	recoveredNote = "recovered from labels"
	unknownParent = "unknown"
	mostNote      = 480 // characters, short enough for a cell
)

// Recovered is what labels tell of a registry that is lost.
type Recovered struct {
	Rows      registry.Recovered
	Conflicts []string // what labels differ in, as the notes of the rows have it
	Open      int      // pots of which nothing but the identifier is known
}

// Recover works out the rows that labels tell of. Of the facts in which
// labels of one identifier differ it takes what most of them say, and nothing
// where as many say one thing as another.
func Recover(codes []symbol.Payload) Recovered {
	c := &recovery{codes: map[symbol.Payload]bool{}, known: map[ids.ID]string{}, parents: map[ids.ID]votes[[2]string]{},
		seeds: map[ids.ID]votes[int]{}, sown: map[ids.ID]votes[registry.Date]{}}
	for _, p := range codes {
		c.codes[p] = true
	}
	c.dropSpare()
	for p := range c.codes {
		c.name(p.ID, recoveredNote)
	}
	for _, p := range c.sorted() {
		c.addFacts(p)
	}
	rows := c.rows()
	return Recovered{rows, c.conflicts, openPots(rows)}
}

// openPots counts the pots of which nothing but the identifier was recovered.
func openPots(rows registry.Recovered) int {
	n := 0
	for _, p := range rows.Pots {
		if !p.Seeds.Known && p.Sown.IsZero() && p.Notes == recoveredNote {
			n++
		}
	}
	return n
}

// dropSpare leaves out the second code of a stake, which says less, and the
// check character alone, where more is known of the label.
func (c *recovery) dropSpare() {
	fuller := map[Key]bool{}
	for p := range c.codes {
		if p.Text != "" {
			fuller[Key{ID: p.ID, Copy: p.Copy}] = true
		}
	}
	maps.DeleteFunc(c.codes, func(p symbol.Payload, _ bool) bool {
		return p.Text == "" && fuller[Key{ID: p.ID, Copy: p.Copy}]
	})
}

// sorted returns the labels by identifier, copy and text.
func (c *recovery) sorted() []symbol.Payload {
	return slices.SortedFunc(maps.Keys(c.codes), func(a, b symbol.Payload) int {
		return cmp.Or(ids.Compare(a.ID, b.ID), cmp.Compare(a.Copy, b.Copy), cmp.Compare(a.Text, b.Text))
	})
}

// name takes note of an identifier and those above it.
func (c *recovery) name(id ids.ID, note string) {
	for ok := true; ok; id, ok = id.Parent() {
		if _, named := c.known[id]; !named {
			c.known[id] = note
		}
	}
}

// addFacts takes in what a label's text says.
func (c *recovery) addFacts(p symbol.Payload) {
	if p.Text == "" {
		return
	}
	f, ok := symbol.ParseFacts(p.Text)
	if !ok {
		c.conflicts = append(c.conflicts, fmt.Sprintf("%s: the label's text %s is not one that pipstake writes; only its identifier is taken", p.ID, words.Shown(p.Text)))
		return
	}
	cross := p.ID.At(ids.CrossLevel)
	c.parents[cross] = c.parents[cross].with([2]string{f.SeedParent, f.PollenParent})
	for _, parent := range []string{f.SeedParent, f.PollenParent} {
		// A plant of one's own was issued too, label or not.
		if read, err := ids.Parse(parent); err == nil && read.Exact && read.ID.Level() == ids.SeedlingLevel {
			c.name(read.ID, fmt.Sprintf("recovered as a parent of %s", cross))
		}
	}
	if p.ID.Level() != ids.PotLevel {
		return
	}
	switch {
	case f.Seeds > MostSeeds:
		c.conflicts = append(c.conflicts, fmt.Sprintf("%s: no pot holds %d seeds; left open", p.ID, f.Seeds))
	case f.Seeds > 0:
		c.seeds[p.ID] = c.seeds[p.ID].with(f.Seeds)
	}
	if f.Sown == "" {
		return
	}
	day, err := registry.ParseDate(f.Sown)
	if err != nil {
		c.conflicts = append(c.conflicts, fmt.Sprintf("%s: sown on %s; left open", p.ID, problem.First(err).What))
		return
	}
	c.sown[p.ID] = c.sown[p.ID].with(day)
}

// rows makes the rows of all that was named.
func (c *recovery) rows() registry.Recovered {
	var rows registry.Recovered
	for _, id := range slices.SortedFunc(maps.Keys(c.known), ids.Compare) {
		note := c.known[id]
		switch id.Level() {
		case ids.CrossLevel:
			row := registry.Cross{ID: id, SeedParent: unknownParent, PollenParent: unknownParent}
			both, ok := settle(c, id, "parents", c.parents[id], &note, func(v [2]string) string { return v[0] + " × " + v[1] })
			if ok {
				row.SeedParent, row.PollenParent = both[0], both[1]
			}
			row.Notes = note
			rows.Crosses = append(rows.Crosses, row)
		case ids.LotLevel:
			rows.Lots = append(rows.Lots, registry.Lot{ID: id, Notes: note})
		case ids.PotLevel:
			row := registry.Pot{ID: id}
			if n, ok := settle(c, id, "seeds sown", c.seeds[id], &note, func(n int) string { return fmt.Sprint(n) }); ok {
				row.Seeds = registry.Known(n)
			}
			row.Sown, _ = settle(c, id, "the day of sowing", c.sown[id], &note, registry.Date.String)
			row.Notes = note
			rows.Pots = append(rows.Pots, row)
		case ids.SeedlingLevel:
			rows.Seedlings = append(rows.Seedlings, registry.Seedling{ID: id, Notes: note})
		}
	}
	rows.Labels = c.labels(rows)
	return rows
}

// labels makes a row for each label. One that says otherwise than what was
// taken is an old one.
func (c *recovery) labels(rows registry.Recovered) []registry.Label {
	parents := map[ids.ID]registry.Cross{}
	for _, cross := range rows.Crosses {
		parents[cross.ID] = cross
	}
	pots := map[ids.ID]registry.Pot{}
	for _, pot := range rows.Pots {
		pots[pot.ID] = pot
	}
	var labels []registry.Label
	for _, p := range c.sorted() {
		t := KeysOf(p.ID)[0]
		if t.Face == registry.StakeFace && p.Copy == 0 {
			continue // read off a stake, and nobody knows which
		}
		l := registry.Label{Batch: 1, Face: t.Face, ID: p.ID, Copy: p.Copy, Sheet: 1, Cell: len(labels) + 1, Payload: p.String()}
		if f, ok := symbol.ParseFacts(p.Text); ok && outvoted(f, parents[p.ID.At(ids.CrossLevel)], pots[p.ID]) {
			l.State = registry.Replaced
		}
		labels = append(labels, l)
	}
	return labels
}

// outvoted reports whether a label says otherwise than what was taken.
func outvoted(f symbol.Facts, cross registry.Cross, pot registry.Pot) bool {
	return cross.SeedParent != unknownParent && (f.SeedParent != cross.SeedParent || f.PollenParent != cross.PollenParent) ||
		pot.Seeds.Known && f.Seeds != 0 && f.Seeds != pot.Seeds.N ||
		!pot.Sown.IsZero() && f.Sown != "" && f.Sown != pot.Sown.String()
}

// votes counts the labels that say the same, those that say it first first.
type votes[T comparable] []vote[T]

type vote[T comparable] struct {
	says   T
	labels int
}

func (v votes[T]) with(says T) votes[T] {
	for i := range v {
		if v[i].says == says {
			v[i].labels++
			return v
		}
	}
	return append(v, vote[T]{says, 1})
}

// settle returns what most labels say of an identifier; false where none says
// anything or as many say one thing as another. What they differ in is a
// conflict and goes into the note.
func settle[T comparable](c *recovery, id ids.ID, what string, v votes[T], note *string, write func(T) string) (T, bool) {
	var none T
	if len(v) == 0 {
		return none, false
	}
	slices.SortStableFunc(v, func(a, b vote[T]) int { return cmp.Compare(b.labels, a.labels) })
	if len(v) == 1 {
		return v[0].says, true
	}
	var said []string
	for _, w := range v {
		said = append(said, fmt.Sprintf("%s %s", words.Plural(w.labels, "label says", "labels say"), write(w.says)))
	}
	text := what + ": " + strings.Join(said, ", ")
	taken := v[0].labels > v[1].labels
	if taken {
		text += "; taken: " + write(v[0].says)
	} else {
		text += "; left open"
	}
	c.conflicts = append(c.conflicts, id.String()+", "+text)
	*note = words.Cut(*note+"; "+text, mostNote)
	if !taken {
		return none, false
	}
	return v[0].says, true
}
