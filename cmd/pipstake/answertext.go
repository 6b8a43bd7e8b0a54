package main

import (
	"fmt"
	"strings"

	"pipstake/cmd/pipstake/terminal"
	"pipstake/ids"
	"pipstake/ids/registry"
	"pipstake/ids/words"
)

// sayAnswer prints an answer as a block: what it is, then a line for each thing
// known.
func (e *env) sayAnswer(a *answer) {
	var t terminal.Table
	switch {
	case a.code.ID == (ids.ID{}):
		e.Say("%s", words.Shown(a.read))
	case a.status == registry.Unknown:
		e.Say("%s", a.code.ID)
	default:
		e.Say("%s   %s", a.code.ID, a.title())
		a.rows(&t)
	}
	for _, p := range a.problems {
		t.Row("problem", p.What)
		if p.Hint != "" {
			t.Row("hint", p.Hint)
		}
	}
	if next := a.next(); next != "" && len(a.problems) == 0 {
		t.Row("next", next)
	}
	e.SayTable(&t, "  ")
	for _, n := range a.notices {
		e.Notice("%s read as %s: %s", words.Shown(a.read), a.code.ID, n)
	}
}

// title says what the identifier stands for.
func (a *answer) title() string {
	id := a.code.ID
	above, _ := id.Parent()
	switch id.Level() {
	case ids.CrossLevel:
		return fmt.Sprintf("cross %d of %d", id.Cross, id.Year)
	case ids.LotLevel:
		return fmt.Sprintf("seed lot %s of cross %s", ids.Letters(id.Lot), above)
	case ids.PotLevel:
		return fmt.Sprintf("pot %d of seed lot %s", id.Pot, above)
	}
	return fmt.Sprintf("seedling %s of pot %s", ids.Letters(id.Seedling), above)
}

// rows adds what is known.
func (a *answer) rows(t *terminal.Table) {
	if a.cross.SeedParent != "" {
		t.Row("parents", parents(a.cross))
	}
	switch a.code.ID.Level() {
	case ids.CrossLevel:
		a.crossRows(t)
	case ids.LotLevel:
		a.lotRows(t)
	case ids.PotLevel:
		a.potRows(t)
	case ids.SeedlingLevel:
		if !a.seedling.Pricked.IsZero() {
			t.Row("pricked out", a.ago(a.seedling.Pricked))
		}
		t.Row("pot", fmt.Sprintf("%s: %s", a.pot.ID, a.sown()))
		t.Row("lot", fmt.Sprintf("%s: %s", a.lot.ID, lotWords(a.lot)))
		t.Row("label", a.labelWords())
		a.note(t, a.seedling.Notes)
	}
	if a.descent != nil {
		a.descent.scanRows(t)
	}
}

func (a *answer) crossRows(t *terminal.Table) {
	text := "day not recorded"
	if !a.cross.Pollinated.IsZero() {
		text = a.ago(a.cross.Pollinated)
	}
	if a.cross.Flowers.Known {
		text += ", " + words.Plural(a.cross.Flowers.N, "flower", "flowers")
	}
	t.Row("pollinated", text)
	var lots []string
	for _, l := range a.lots {
		lots = append(lots, aside(l.ID, l.Seeds, l.State))
	}
	if lots == nil {
		lots = []string{"none yet"}
	}
	t.Row("lots", strings.Join(words.Few(lots, 12), ", "))
	if len(a.labels) > 0 {
		t.Row("tag", a.labelWords())
	}
	a.note(t, a.cross.Notes)
}

func (a *answer) lotRows(t *terminal.Table) {
	t.Row("found", foundAndGood(a.lot))
	if !a.lot.Chilled.IsZero() {
		t.Row("cold", "since "+a.ago(a.lot.Chilled))
	}
	var pots []string
	for _, p := range a.pots {
		pots = append(pots, aside(p.ID, p.Seeds, p.State))
	}
	if pots != nil {
		t.Row("pots", strings.Join(words.Few(pots, 12), ", "))
	}
	if a.left.Known {
		t.Row("left", words.Plural(a.left.N, "seed", "seeds")+" to sow")
	}
	t.Row("label", a.labelWords())
	a.note(t, a.lot.Notes)
}

func (a *answer) potRows(t *terminal.Table) {
	t.Row("sown", a.sown())
	if a.pot.Place != "" {
		t.Row("place", words.OneLine(a.pot.Place))
	}
	t.Row("lot", fmt.Sprintf("%s: %s", a.lot.ID, lotWords(a.lot)))
	var siblings []string
	for _, p := range a.pots {
		if p.ID != a.pot.ID {
			siblings = append(siblings, aside(p.ID, p.Seeds, p.State))
		}
	}
	if siblings == nil {
		siblings = []string{"none"}
	}
	t.Row("siblings", strings.Join(words.Few(siblings, 12), ", "))
	t.Row("labels", a.labelWords())
	if n := len(a.counts); n > 0 {
		last := a.counts[n-1]
		t.Row("up", fmt.Sprintf("%s on %s", upOf(last, a.pot), a.ago(last.On)))
	}
	if len(a.seedlings) > 0 {
		t.Row("pricked out", words.Plural(len(a.seedlings), "seedling", "seedlings"))
	}
	a.note(t, a.pot.Notes)
}

// sown says what was sown in the pot and when.
func (a *answer) sown() string {
	text := "an unknown number of seeds"
	if a.pot.Seeds.Known {
		text = words.Plural(a.pot.Seeds.N, "seed", "seeds")
	}
	if a.pot.Sown.IsZero() {
		return text + ", day not recorded"
	}
	return text + " on " + a.ago(a.pot.Sown)
}

// lotWords is a lot on one line.
func lotWords(l registry.Lot) string {
	text := found(l)
	if !l.Chilled.IsZero() {
		text += "; into the cold " + l.Chilled.String()
	}
	return text
}

// labelWords says which labels are live and when they were printed.
func (a *answer) labelWords() string {
	var parts []string
	var days []string
	for _, t := range tagsOf(a.code.ID) {
		name := ""
		if t.copy > 0 {
			name = fmt.Sprintf("copy %d ", t.copy)
		}
		said, day := a.printed(t)
		parts, days = append(parts, name+said), append(days, day)
	}
	if len(parts) == 2 && days[0] != "" && days[0] == days[1] {
		return "copy 1 and copy 2, printed " + days[0]
	}
	return strings.Join(parts, ", ")
}

// printed says when the live label of a tag was printed, or that there is none
// and what became of the last one. The day is empty where none is live.
func (a *answer) printed(t tag) (said, day string) {
	said = "missing"
	for _, l := range a.labels {
		switch {
		case tagFor(l) != t:
		case l.State == registry.LabelLive && l.Printed.IsZero():
			return "in use", "" // recovered, so nobody knows since when
		case l.State == registry.LabelLive:
			return "printed " + l.Printed.String(), l.Printed.String()
		default:
			said = fmt.Sprintf("missing (that of %s is %s)", l.Printed, l.State)
		}
	}
	return said, ""
}

// aside names a lot or pot with its seeds: "2026X012-B1 (6 seeds)".
func aside(id ids.ID, seeds registry.Count, state registry.State) string {
	switch {
	case state == registry.Void:
		return id.String() + " (void)"
	case seeds.Known:
		return fmt.Sprintf("%s (%s)", id, words.Plural(seeds.N, "seed", "seeds"))
	}
	return id.String()
}

func (a *answer) note(t *terminal.Table, text string) {
	if text != "" {
		t.Row("notes", words.OneLine(text))
	}
}

// ago is a day with its distance from today.
func (a *answer) ago(d registry.Date) string {
	days := a.today.DaysSince(d)
	switch {
	case days == 0:
		return d.String() + ", today"
	case days < 0:
		return fmt.Sprintf("%s, in %s", d, words.Plural(-days, "day", "days"))
	}
	return fmt.Sprintf("%s, %s ago", d, words.Plural(days, "day", "days"))
}

// next is what the season asks for, with the command for it where there is one.
func (a *answer) next() string {
	if a.status != registry.Issued {
		return ""
	}
	switch a.code.ID.Level() {
	case ids.CrossLevel:
		return a.nextOfCross()
	case ids.LotLevel:
		return a.nextOfLot()
	case ids.PotLevel:
		return a.nextOfPot()
	}
	return ""
}

func (a *answer) nextOfCross() string {
	for _, l := range a.lots {
		if l.State == registry.Live && !l.Seeds.Known {
			return fmt.Sprintf("open the fruit: pipstake extract %s --seeds N", l.ID)
		}
	}
	if len(a.lots) == 0 {
		return fmt.Sprintf("print bag labels: pipstake bags %s --lots 3", a.code.ID)
	}
	return ""
}

func (a *answer) nextOfLot() string {
	switch {
	case !a.lot.Seeds.Known:
		return fmt.Sprintf("open the fruit: pipstake extract %s --seeds N", a.lot.ID)
	case a.lot.Chilled.IsZero() && a.left.N > 0:
		return fmt.Sprintf("into the cold: pipstake chill %s", a.lot.ID)
	case a.left.N > 0:
		return fmt.Sprintf("sow when the first seeds sprout: pipstake sow %s --pots N", a.lot.ID)
	}
	return ""
}

func (a *answer) nextOfPot() string {
	if n := len(a.counts); n > 0 && a.pot.Seeds.Known && a.counts[n-1].Up.N >= a.pot.Seeds.N {
		return "all are up: prick them out once they have true leaves"
	}
	return fmt.Sprintf("count what is up: pipstake emerged %s N", a.pot.ID)
}
