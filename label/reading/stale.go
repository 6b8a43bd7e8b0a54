package reading

import (
	"strconv"
	"strings"

	"pipstake/ids"
	"pipstake/ids/registry"
	"pipstake/label/symbol"
)

// Fact is one of the facts that the text of a label tells.
type Fact int

// The facts, in the order in which a label is compared.
const (
	SeedParent Fact = iota
	PollenParent
	Seeds
	Sown
	Text // all of it: the text is not one that pipstake writes
)

// Difference is a fact in which a label contradicts the registry.
type Difference struct {
	Fact     Fact
	Label    string // as the label has it: a folded name, a count, a day in ISO 8601
	Registry string // as the registry has it; "" for Text
}

// Differences returns the facts in which the text of a code contradicts the
// registry. A code without text contradicts nothing.
func Differences(r *registry.Registry, p symbol.Payload) []Difference {
	if p.Text == "" {
		return nil
	}
	read, ok := factsOf(p.Text)
	if !ok {
		return []Difference{{Fact: Text, Label: p.Text}}
	}
	cross, _ := r.Cross(p.ID.At(ids.CrossLevel))
	pot, _ := r.Pot(p.ID)
	return read.against(parentsOf(cross), pot)
}

// labelFacts are the facts of a text with the day as the registry keeps it.
type labelFacts struct {
	symbol.Facts
	sown registry.Date // zero for a day that there is not
}

func factsOf(text string) (labelFacts, bool) {
	facts, ok := symbol.ParseFacts(text)
	if !ok {
		return labelFacts{}, false
	}
	sown, _ := registry.ParseDate(facts.Sown)
	return labelFacts{facts, sown}, true
}

// folded are the parents of a cross, and how a code writes them; "" for a name
// that no code can hold.
type folded struct{ seed, pollen, seedCode, pollenCode string }

func parentsOf(c registry.Cross) folded {
	f := folded{seed: c.SeedParent, pollen: c.PollenParent}
	f.seedCode, _ = symbol.Fold(c.SeedParent)
	f.pollenCode, _ = symbol.Fold(c.PollenParent)
	return f
}

// asWritten is a parent of a label as labels have it now, by whatever word a label
// of earlier years says that it is no one plant.
func asWritten(folded string) string {
	p := registry.ReadParent(folded)
	if p.Kind == registry.OnePlant {
		return folded
	}
	said, _ := symbol.Fold(p.String()) // a word of the program's own
	return said
}

// against compares what a label says with the parents and the pot that it is
// of. What either side does not know contradicts nothing.
func (f labelFacts) against(p folded, pot registry.Pot) []Difference {
	var differ []Difference
	if p.seedCode != "" && p.seedCode != f.SeedParent && p.seedCode != asWritten(f.SeedParent) {
		differ = append(differ, Difference{SeedParent, f.SeedParent, p.seed})
	}
	if p.pollenCode != "" && p.pollenCode != f.PollenParent && p.pollenCode != asWritten(f.PollenParent) {
		differ = append(differ, Difference{PollenParent, f.PollenParent, p.pollen})
	}
	if pot.Seeds.Known && f.Seeds != 0 && f.Seeds != pot.Seeds.N {
		differ = append(differ, Difference{Seeds, strconv.Itoa(f.Seeds), pot.Seeds.String()})
	}
	if !pot.Sown.IsZero() && f.Sown != "" && f.sown != pot.Sown {
		differ = append(differ, Difference{Sown, f.Sown, pot.Sown.String()})
	}
	return differ
}

// Disagreement is what the code of a printed label says otherwise than the
// registry.
type Disagreement struct {
	Err         error // why it is no code of a label
	Row, Code   Key   // where the code is that of another label than its row
	Differences []Difference
}

// IsNone reports whether there is nothing in which they disagree.
func (d Disagreement) IsNone() bool {
	return d.Err == nil && d.Row == d.Code && len(d.Differences) == 0
}

// Compare returns what the recorded code of a label says otherwise than the
// registry.
func Compare(r *registry.Registry, l registry.Label) Disagreement {
	p, _, err := symbol.ParsePayload(l.Payload)
	if err != nil {
		return Disagreement{Err: err}
	}
	if p.ID != l.ID || p.Copy != l.Copy {
		return Disagreement{Row: KeyOf(l), Code: Key{l.Face, p.ID, p.Copy}}
	}
	return Disagreement{Differences: Differences(r, p)}
}

// StaleLabel is a live label that says otherwise than the registry.
type StaleLabel struct {
	Index int // of its row among the labels of the registry
	registry.Label
	Disagreement
}

// StaleLabels returns the labels in use that were printed with other facts than
// the registry now has, in the order of the registry.
func StaleLabels(r *registry.Registry) []StaleLabel {
	var found []StaleLabel
	c := comparison{cursor: r.Cursor(), facts: map[string]labelFacts{}, parents: map[ids.ID]folded{}}
	labels := r.Labels()
	for i := range labels {
		l := &labels[i]
		if l.State != registry.LabelLive || l.Payload == "" || c.agrees(l) || !InUse(r, *l) {
			continue
		}
		if d := Compare(r, *l); !d.IsNone() {
			found = append(found, StaleLabel{i, *l, d})
		}
	}
	return found
}

// comparison finds the labels that plainly agree, so that only the others need a
// closer look. It reads each text and each name once.
type comparison struct {
	cursor  *registry.Cursor
	facts   map[string]labelFacts // by text
	parents map[ids.ID]folded     // by cross
	own     []byte                // the compact payload of the label at hand
}

// agrees reports whether a label carries its own identifier and copy, as they are
// printed, and contradicts nothing.
func (c *comparison) agrees(l *registry.Label) bool {
	c.own = l.ID.AppendWithCheck(c.own[:0])
	if l.Copy > 0 {
		c.own = strconv.AppendInt(append(c.own, '/'), int64(l.Copy), 10)
	}
	rest, ok := strings.CutPrefix(l.Payload, string(c.own))
	if !ok || rest == "" {
		return ok
	}
	text, ok := strings.CutPrefix(rest, " ")
	if !ok {
		return false
	}
	read, known := c.facts[text]
	if !known {
		if read, ok = factsOf(text); !ok {
			return false
		}
		c.facts[text] = read
	}
	cross := l.ID.At(ids.CrossLevel)
	parents, known := c.parents[cross]
	if !known {
		parents = parentsOf(c.cursor.Cross(cross))
		c.parents[cross] = parents
	}
	var pot registry.Pot
	if l.ID.Level() == ids.PotLevel {
		pot = c.cursor.Pot(l.ID)
	}
	return len(read.against(parents, pot)) == 0
}
