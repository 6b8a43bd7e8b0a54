package main

import (
	"fmt"
	"strings"

	"pipstake/cmd/pipstake/terminal"
	"pipstake/ids"
	"pipstake/ids/registry"
	"pipstake/ids/season"
	"pipstake/ids/words"
)

func (e *env) germinationText(a *germinationAnswer) {
	if len(a.Groups) == 0 {
		e.Say("no pot has been counted yet")
	} else {
		e.SayTable(a.table(), "")
		e.Say("")
		for _, line := range a.findings() {
			e.Say("%s", line)
		}
	}
	if n := len(a.Uncounted); n > 0 {
		e.Notice("%s without a count left out: %s", words.Plural(n, "pot", "pots"), words.List(words.Few(a.names(a.Uncounted), 6)))
	}
	if n := len(a.Unusable); n > 0 {
		e.Notice("%s left out whose rows contradict themselves, see pipstake check: %s", words.Plural(n, "pot", "pots"), words.List(words.Few(a.names(a.Unusable), 6)))
	}
	if pots, until := a.stillGoing(); pots > 0 {
		e.Notice("more may come up in %s, looked at until %s: the figures are those so far", words.Plural(pots, "pot", "pots"), until)
	}
}

func (a *germinationAnswer) names(found []ids.ID) []string {
	var names []string
	for _, id := range found {
		names = append(names, id.String())
	}
	return names
}

// table has a row for each group. Columns in which nothing would stand are left
// out.
func (a *germinationAnswer) table() *terminal.Table {
	died, undeveloped := false, false
	for _, g := range a.Groups {
		died = died || g.Died > 0
		undeveloped = undeveloped || g.Undeveloped > 0
	}
	t := &terminal.Table{}
	cells := func(name, parents, up, dead, rate, interval, all string, rest ...string) {
		row := []string{name}
		if a.by == "cross" {
			row = append(row, parents)
		}
		row = append(row, up)
		if died {
			row = append(row, dead)
		}
		row = append(row, rate, interval)
		if undeveloped {
			row = append(row, all)
		}
		t.Row(append(row, rest...)...)
	}
	cells(strings.ReplaceAll(a.by, "-", " "), "", "up", "died", "%", "95 %", "of all seed", "days", "mean", "T50 C", "T50 F", "")
	for _, g := range a.Groups {
		i := a.method.Interval(g.Up, g.Sown)
		days, mean, coolbear, farooq := "–", "–", "–", "–"
		if t := g.Timing; g.Timed {
			days, mean = fmt.Sprintf("%d–%d", t.First, t.Last), oneDecimal(t.Mean)
			coolbear, farooq = halfWords(t.HalfCoolbear), halfWords(t.HalfFarooq)
		}
		cells(a.name(g), a.parents(g), fmt.Sprintf("%d of %d", g.Up, g.Sown), fmt.Sprint(g.Died), percent(g.Rate()),
			percent(i.Low)+"–"+percent(i.High), percent(g.RateOfAll()), days, mean, coolbear, farooq, a.remark(g))
	}
	return t
}

// label names a group, a cross with its parents.
func (a *germinationAnswer) label(g season.Group) string {
	return strings.TrimSpace(a.name(g) + "  " + a.parents(g))
}

// parents are those of a group that is a cross.
func (a *germinationAnswer) parents(g season.Group) string {
	if a.by != "cross" {
		return ""
	}
	cross, _ := a.r.Cross(g.IDs[0])
	return parents(cross)
}

// name is a group's name, with its unit where it is no name.
func (a *germinationAnswer) name(g season.Group) string { return groupName(a.by, g.Name) }

func percent(part float64) string    { return words.Percent(part) }
func oneDecimal(days float64) string { return fmt.Sprintf("%.1f", days) }

// halfWords show a T50: "45.5", or "≤ 74" where it is known to be no later.
func halfWords(h season.Half) string {
	if h.AtMost {
		return "≤ " + strings.TrimSuffix(oneDecimal(h.Day), ".0")
	}
	return oneDecimal(h.Day)
}

// remark says what is to be known of a group beside its figures.
func (a *germinationAnswer) remark(g season.Group) string {
	var remarks []string
	if g.Below(a.method) {
		below := fmt.Sprintf("below %s %%", percent(g.Over.Expected))
		if g.Over.Pots < g.Pots {
			below += fmt.Sprintf(" in %s", words.Plural(g.Over.Pots, "pot", "pots"))
		}
		remarks = append(remarks, below)
	}
	if soFar := g.Pots - g.Over.Pots - g.BrokenOff; soFar == g.Pots {
		remarks = append(remarks, "so far")
	} else if soFar > 0 {
		remarks = append(remarks, "so far in "+words.Plural(soFar, "pot", "pots"))
	}
	if g.BrokenOff > 0 {
		remarks = append(remarks, words.Plural(g.BrokenOff, "pot", "pots")+" lost early")
	}
	return strings.Join(remarks, ", ")
}

// findings are what the table comes to.
func (a *germinationAnswer) findings() []string {
	var lines []string
	if a.compared != nil {
		lines = append(lines, a.comparison()...)
	} else if len(a.Groups) > 1 {
		up, sown := 0, 0
		for _, g := range a.Groups {
			up, sown = up+g.Up, sown+g.Sown
		}
		i := a.method.Interval(up, sown)
		lines = append(lines, fmt.Sprintf("in all  %d of %d up, %s %%, 95 %% interval %s–%s %%", up, sown, percent(float64(up)/float64(sown)), percent(i.Low), percent(i.High)))
	}
	var below []string
	for _, g := range a.Groups {
		if g.Below(a.method) {
			below = append(below, a.name(g))
		}
	}
	if below != nil {
		lines = append(lines, "below   "+words.List(below)+": less came up than expected, and chance does not explain it")
	}
	return append(lines, fmt.Sprintf("counts  until %s; intervals by %s", a.lastCount(), a.methodName()))
}

// comparison says whether two groups differ, by which test.
func (a *germinationAnswer) comparison() []string {
	c := a.compared
	verdict := "no more than chance explains"
	if c.Differ() {
		verdict = "more than chance explains"
	}
	if c.Believe == season.Neither {
		verdict = "by an amount of which too few pots tell nothing"
	}
	soFar := ""
	if a.early {
		soFar = ", so far"
	}
	how := fmt.Sprintf("all %s", words.Plural(c.Ways, "way", "ways"))
	if !c.Exact {
		how = fmt.Sprintf("%d ways drawn", c.Ways)
	}
	lines := []string{
		fmt.Sprintf("%s and %s differ %s%s", a.name(a.Groups[0]), a.name(a.Groups[1]), verdict, soFar),
		fmt.Sprintf("  pots as units    permutation test, two-sided, %s to deal them out: p %s", how, probability(c.Permutation)),
		fmt.Sprintf("  seeds as units   Fisher's exact test, two-sided: p %s", probability(c.Fisher)),
	}
	if d := c.Dispersion; d.Enough() {
		lines = append(lines, fmt.Sprintf("  between pots     %.1f times what chance makes of seeds alone (%d degrees of freedom)", d.Factor, d.Freedom))
	}
	return append(lines, "  believe          "+map[season.Belief]string{
		season.ThePots:  "the test with pots as units: seeds of one pot are not independent",
		season.TheSeeds: "Fisher's, with care: pots are too few for the other, and seeds of one pot are not independent",
		season.Neither:  "neither: pots are too few for the one, and differ too much among themselves for the other",
	}[c.Believe])
}

// probability shows a p value, "= 0.0057".
func probability(p float64) string {
	if p < 0.0001 {
		return "< 0.0001"
	}
	return fmt.Sprintf("= %.4f", p)
}

// lastCount is the day of the last count of all.
func (a *germinationAnswer) lastCount() registry.Date {
	var last registry.Date
	for _, g := range a.Groups {
		if last.IsZero() || last.Before(g.Until) {
			last = g.Until
		}
	}
	return last
}

// stillGoing is how many pots are still looked at, and until when.
func (a *germinationAnswer) stillGoing() (pots int, until registry.Date) {
	for _, g := range a.Groups {
		pots += g.Going
		if until.IsZero() || until.Before(g.LookUntil) {
			until = g.LookUntil
		}
	}
	return pots, until
}
