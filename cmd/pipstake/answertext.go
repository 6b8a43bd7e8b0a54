package main

import (
	"fmt"
	"strings"

	"pipstake/cmd/pipstake/terminal"
	"pipstake/ids"
	"pipstake/ids/registry"
	"pipstake/ids/words"
	"pipstake/label/reading"
)

// sayAnswer prints an answer as a block: what it is, then a line for each thing
// known.
func (e *env) sayAnswer(a *answer) {
	var t terminal.Table
	switch {
	case a.Code.ID == (ids.ID{}):
		e.Say("%s", words.Shown(a.read))
	case a.Status == registry.Unknown:
		e.Say("%s", a.Code.ID)
	default:
		e.Say("%s   %s", a.Code.ID, titleOf(a.Code.ID))
		a.rows(&t)
	}
	for _, p := range a.problems {
		t.Row("problem", p.What)
		if p.Hint != "" {
			t.Row("hint", e.thereToo(p.Hint))
		}
	}
	if next := a.next(); next != "" && len(a.problems) == 0 {
		t.Row("next", e.thereToo(next))
	}
	e.SayTable(&t, "  ")
	for _, n := range a.notices {
		e.Notice("%s read as %s: %s", words.Shown(a.read), a.Code.ID, n)
	}
}

// rows adds what is known.
func (a *answer) rows(t *terminal.Table) {
	if a.Cross.SeedParent != "" {
		t.Row("parents", parents(a.Cross))
	}
	a.stateRow(t)
	switch a.Code.ID.Level() {
	case ids.CrossLevel:
		a.crossRows(t)
	case ids.LotLevel:
		a.lotRows(t)
	case ids.PotLevel:
		a.potRows(t)
	case ids.SeedlingLevel:
		if a.Seedling.Name != "" {
			t.Row("name", words.OneLine(a.Seedling.Name))
		}
		if !a.Seedling.Pricked.IsZero() {
			t.Row("pricked out", a.ago(a.Seedling.Pricked))
		}
		if a.Seedling.Place != "" {
			t.Row("place", words.OneLine(a.Seedling.Place))
		}
		t.Row("pot", fmt.Sprintf("%s: %s", a.Pot.ID, a.sown()))
		t.Row("lot", fmt.Sprintf("%s: %s", a.Lot.ID, lotWords(a.Lot)))
		t.Row("label", a.labelWords())
		a.note(t, a.Seedling.Notes)
	}
	a.diaryRows(t)
	if a.descent != nil {
		a.descent.scanRows(t)
	}
}

func (a *answer) pollinatedRow(t *terminal.Table) {
	text := "day not recorded"
	if !a.Cross.Pollinated.IsZero() {
		text = a.ago(a.Cross.Pollinated)
	}
	if a.Cross.Flowers.Known {
		text += ", " + words.Plural(a.Cross.Flowers.N, "flower", "flowers")
	}
	t.Row("pollinated", text)
}

func (a *answer) crossRows(t *terminal.Table) {
	if a.Cross.Source != "" {
		t.Row("source", words.OneLine(a.Cross.Source))
	} else {
		a.pollinatedRow(t)
	}
	if a.Cross.Fruit.Known {
		t.Row("picked", fmt.Sprintf("%d fruit on %s", a.Cross.Fruit.N, a.ago(a.Cross.Picked)))
	}
	var lots []string
	for _, l := range a.Lots {
		lots = append(lots, aside(l.ID, l.Seeds, l.State))
	}
	if lots == nil {
		lots = []string{"none yet"}
	}
	t.Row("lots", strings.Join(words.Few(lots, 12), ", "))
	if len(a.Labels) > 0 {
		t.Row("tag", a.labelWords())
	}
	a.note(t, a.Cross.Notes)
}

// coldWords tell since when a lot is in the cold, or how long it was.
func (a *answer) coldWords() string {
	since := "since " + a.ago(a.Lot.Chilled)
	if len(a.Cold) == 1 && a.Cold[0].To.IsZero() {
		return since
	}
	var spells []string
	for _, s := range a.Cold {
		if s.To.IsZero() {
			spells = append(spells, "since "+s.From.String())
		} else {
			spells = append(spells, fmt.Sprintf("%s to %s", s.From, s.To))
		}
	}
	return fmt.Sprintf("%s in all: %s", words.Plural(a.ColdDays, "day", "days"), words.List(spells))
}

func (a *answer) lotRows(t *terminal.Table) {
	t.Row("found", foundAndGood(a.Lot))
	if !a.Lot.Chilled.IsZero() {
		t.Row("cold", a.coldWords())
	}
	var pots []string
	for _, p := range a.Pots {
		pots = append(pots, aside(p.ID, p.Seeds, p.State))
	}
	if pots != nil {
		t.Row("pots", strings.Join(words.Few(pots, 12), ", "))
	}
	if a.Left.Known {
		left := words.Plural(a.Left.N, "seed", "seeds") + " to sow"
		if a.Lot.Kept > 0 {
			left += fmt.Sprintf(", kept until %d", a.Lot.Kept)
		}
		t.Row("left", left)
	}
	t.Row("label", a.labelWords())
	a.note(t, a.Lot.Notes)
}

func (a *answer) potRows(t *terminal.Table) {
	t.Row("sown", a.sown())
	if a.Pot.Place != "" {
		t.Row("place", words.OneLine(a.Pot.Place))
	}
	t.Row("lot", fmt.Sprintf("%s: %s", a.Lot.ID, lotWords(a.Lot)))
	var siblings []string
	for _, p := range a.Pots {
		if p.ID != a.Pot.ID {
			siblings = append(siblings, aside(p.ID, p.Seeds, p.State))
		}
	}
	if siblings == nil {
		siblings = []string{"none"}
	}
	t.Row("siblings", strings.Join(words.Few(siblings, 12), ", "))
	t.Row("labels", a.labelWords())
	if n := len(a.Counts); n > 0 {
		last := a.Counts[n-1]
		t.Row("up", fmt.Sprintf("%s on %s", upOf(last, a.Pot), a.ago(last.On)))
	}
	if len(a.Seedlings) > 0 {
		t.Row("pricked out", words.Plural(len(a.Seedlings), "seedling", "seedlings"))
	}
	if n := len(a.Counts); a.End == nil && n > 0 && a.Alive.N < a.Counts[n-1].Up.N {
		t.Row("alive", words.Plural(a.Alive.N, "seedling", "seedlings")+" in it")
	}
	a.note(t, a.Pot.Notes)
}

// sown says what was sown in the pot and when.
func (a *answer) sown() string {
	text := "an unknown number of seeds"
	if a.Pot.Seeds.Known {
		text = words.Plural(a.Pot.Seeds.N, "seed", "seeds")
	}
	if a.Pot.Sown.IsZero() {
		return text + ", day not recorded"
	}
	return text + " on " + a.ago(a.Pot.Sown)
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
	for _, t := range reading.KeysOf(a.Code.ID) {
		name := ""
		if t.Copy > 0 {
			name = fmt.Sprintf("copy %d ", t.Copy)
		}
		said, day := a.printed(t)
		parts, days = append(parts, name+said), append(days, day)
	}
	if len(parts) == 2 && days[0] != "" && days[0] == days[1] {
		return "copy 1 and copy 2, printed " + days[0]
	}
	return strings.Join(parts, ", ")
}

// printed says when the label in use of a tag was printed, or that there is none
// and what became of the last one. The day is empty where none is live.
func (a *answer) printed(t reading.Key) (said, day string) {
	said = "missing"
	for _, l := range a.Labels {
		switch {
		case reading.KeyOf(l) != t:
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
	days := a.Today.DaysSince(d)
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
	if a.Status != registry.Issued || a.End != nil || a.AllOut || a.Damaged {
		return ""
	}
	switch a.Code.ID.Level() {
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
	for _, l := range a.Lots {
		if l.State == registry.Live && !l.Seeds.Known {
			return fmt.Sprintf("open the fruit: pipstake extract %s --seeds N", l.ID)
		}
	}
	if len(a.Lots) == 0 {
		return fmt.Sprintf("print bag labels: pipstake bags %s --lots 3", a.Code.ID)
	}
	return ""
}

func (a *answer) nextOfLot() string {
	switch {
	case !a.Lot.Seeds.Known:
		return fmt.Sprintf("open the fruit: pipstake extract %s --seeds N", a.Lot.ID)
	case a.Lot.Chilled.IsZero() && a.Left.N > 0:
		return fmt.Sprintf("into the cold: pipstake chill %s", a.Lot.ID)
	case a.Left.N > 0:
		return fmt.Sprintf("sow when the first seeds sprout: pipstake sow %s --pots N", a.Lot.ID)
	}
	return ""
}

func (a *answer) nextOfPot() string {
	if n := len(a.Counts); n > 0 && a.Pot.Seeds.Known && a.Counts[n-1].Up.N >= a.Pot.Seeds.N {
		return "all are up: prick them out once they have true leaves"
	}
	return fmt.Sprintf("count what is up: pipstake emerged %s N", a.Pot.ID)
}
