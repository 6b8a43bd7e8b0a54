package main

import (
	"fmt"
	"strconv"
	"strings"

	"pipstake/ids"
	"pipstake/ids/registry"
	"pipstake/ids/words"
	"pipstake/label/symbol"
)

// stale tells in words where the text of a code contradicts the registry. A
// code without text contradicts nothing.
func stale(r *registry.Registry, p symbol.Payload) []string {
	if p.Text == "" {
		return nil
	}
	facts, ok := symbol.ParseFacts(p.Text)
	if !ok {
		return []string{fmt.Sprintf("the label's text %s is not one that pipstake writes", words.Shown(p.Text))}
	}
	var differ []string
	say := func(said, known string) {
		differ = append(differ, fmt.Sprintf("the label says %s, the registry says %s", said, known))
	}
	if cross, ok := r.Cross(p.ID.At(ids.CrossLevel)); ok {
		if otherName(facts.SeedParent, cross.SeedParent) {
			say("seed parent "+facts.SeedParent, words.OneLine(cross.SeedParent))
		}
		if otherName(facts.PollenParent, cross.PollenParent) {
			say("pollen parent "+facts.PollenParent, words.OneLine(cross.PollenParent))
		}
	}
	pot, ok := r.Pot(p.ID)
	if !ok || p.ID.Level() != ids.PotLevel {
		return differ
	}
	if pot.Seeds.Known && facts.Seeds != 0 && facts.Seeds != pot.Seeds.N {
		say(words.Plural(facts.Seeds, "seed", "seeds"), pot.Seeds.String())
	}
	if !pot.Sown.IsZero() && facts.Sown != "" && facts.Sown != pot.Sown.String() {
		say("sown "+facts.Sown, pot.Sown.String())
	}
	return differ
}

// otherName reports whether a folded name is not that of the registry.
func otherName(folded, known string) bool {
	want, err := symbol.Fold(known)
	return err == nil && want != folded
}

// staleLabels are findings for the live labels that were printed with other
// facts than the registry now has.
func staleLabels(r *registry.Registry) []registry.Finding {
	var found []registry.Finding
	a := agreement{walk: r.Walk(), facts: map[string]sayings{}, names: map[ids.ID]symbol.Facts{}}
	labels := r.Labels()
	for i := range labels {
		l := &labels[i]
		if l.State != registry.LabelLive || l.Payload == "" || a.holds(l) || r.Status(l.ID) != registry.Issued {
			continue
		}
		if what := contradiction(r, *l); what != "" {
			found = append(found, registry.Finding{File: "labels.csv", Row: r.LabelRow(i), Column: "payload", Value: l.Payload,
				What:   fmt.Sprintf("%s (batch %d, sheet %d, cell %d)", what, l.Batch, l.Sheet, l.Cell),
				Remedy: "where the registry is right, print the label anew: " + replaceCommand(*l)})
		}
	}
	return found
}

// agreement finds the labels that plainly say what the registry does, so that
// only the others need a closer look. It reads each text and each name once.
type agreement struct {
	walk  *registry.Walk
	facts map[string]sayings      // by text
	names map[ids.ID]symbol.Facts // by cross: its parents, folded
	own   []byte                  // the compact payload of the label at hand
}

// sayings are the facts of a text with the day as the registry keeps it.
type sayings struct {
	symbol.Facts
	sown registry.Date
}

// holds reports whether a label carries its own identifier and copy, and what
// the registry knows.
func (a *agreement) holds(l *registry.Label) bool {
	a.own = l.ID.AppendWithCheck(a.own[:0])
	if l.Copy > 0 {
		a.own = strconv.AppendInt(append(a.own, '/'), int64(l.Copy), 10)
	}
	rest, ok := strings.CutPrefix(l.Payload, string(a.own))
	if !ok || rest == "" {
		return ok
	}
	text, ok := strings.CutPrefix(rest, " ")
	facts, known := a.facts[text]
	if ok && !known {
		if facts.Facts, ok = symbol.ParseFacts(text); ok {
			facts.sown, _ = registry.ParseDate(facts.Sown) // a day that there is not stays zero
			a.facts[text] = facts
		}
	}
	if !ok {
		return false
	}
	cross := l.ID.At(ids.CrossLevel)
	names, known := a.names[cross]
	if !known {
		c := a.walk.Cross(cross)
		names.SeedParent, _ = symbol.Fold(c.SeedParent) // a name that cannot be folded agrees with none
		names.PollenParent, _ = symbol.Fold(c.PollenParent)
		a.names[cross] = names
	}
	if names.SeedParent != facts.SeedParent || names.PollenParent != facts.PollenParent {
		return false
	}
	if facts.Seeds == 0 && facts.Sown == "" {
		return true
	}
	if facts.sown.IsZero() && facts.Sown != "" {
		return false
	}
	pot := a.walk.Pot(l.ID)
	return facts.Seeds == pot.Seeds.N && facts.sown == pot.Sown
}

// contradiction tells what the recorded code of a label says otherwise than
// the registry; "" for nothing.
func contradiction(r *registry.Registry, l registry.Label) string {
	p, _, err := symbol.ParsePayload(l.Payload)
	if err != nil {
		return "it is no code text: " + firstProblem(err).What
	}
	if p.ID != l.ID || p.Copy != l.Copy {
		return fmt.Sprintf("the code is that of %s, the row is that of %s", tag{l.Face, p.ID, p.Copy}, tagFor(l))
	}
	return words.List(stale(r, p))
}

// replaceCommand prints a label anew.
func replaceCommand(l registry.Label) string {
	switch {
	case l.Copy > 0:
		return fmt.Sprintf("pipstake labels %s --copy %d --replace", l.ID, l.Copy)
	case l.ID.Level() == ids.CrossLevel:
		return fmt.Sprintf("pipstake labels %s --face branch --replace", l.ID)
	}
	return fmt.Sprintf("pipstake labels %s --replace", l.ID)
}
