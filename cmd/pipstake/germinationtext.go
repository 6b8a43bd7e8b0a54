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
	cells := func(name, up, dead, rate, interval, all string, rest ...string) {
		row := []string{name, up}
		if died {
			row = append(row, dead)
		}
		row = append(row, rate, interval)
		if undeveloped {
			row = append(row, all)
		}
		t.Row(append(row, rest...)...)
	}
	cells(strings.ReplaceAll(a.by, "-", " "), "up", "died", "%", "95 %", "of all seed", "days", "mean", "T50 C", "T50 F", "")
	for _, g := range a.Groups {
		i := a.method.Interval(g.Up, g.Sown)
		days, mean, coolbear, farooq := "–", "–", "–", "–"
		if t := g.Timing; g.Timed {
			days, mean = fmt.Sprintf("%d–%d", t.First, t.Last), oneDecimal(t.Mean)
			coolbear, farooq = halfWords(t.HalfCoolbear), halfWords(t.HalfFarooq)
		}
		cells(a.label(g), fmt.Sprintf("%d of %d", g.Up, g.Sown), fmt.Sprint(g.Died), percent(g.Rate()),
			fmt.Sprintf("%.0f–%.0f", 100*i.Low, 100*i.High), percent(g.RateOfAll()), days, mean, coolbear, farooq, a.remark(g))
	}
	return t
}

// label names a group, a cross with its parents.
func (a *germinationAnswer) label(g season.Group) string {
	if a.by != "cross" {
		return a.name(g)
	}
	cross, _ := a.r.Cross(g.IDs[0])
	return g.Name + "  " + parents(cross)
}

// name is a group's name, with its unit where it is no name.
func (a *germinationAnswer) name(g season.Group) string { return groupName(a.by, g.Name) }

func percent(part float64) string    { return fmt.Sprintf("%.0f", 100*part) }
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
		below := fmt.Sprintf("below %.0f %%", 100*g.Over.Expected)
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
	if a.compared {
		word := "no more than chance explains"
		if a.p < 0.05 {
			word = "more than chance explains"
		}
		one, other := a.Groups[0], a.Groups[1]
		lines = append(lines, fmt.Sprintf("%s and %s differ %s: Fisher's exact test, two-sided, p %s", one.Name, other.Name, word, probability(a.p)))
	} else if len(a.Groups) > 1 {
		up, sown := 0, 0
		for _, g := range a.Groups {
			up, sown = up+g.Up, sown+g.Sown
		}
		i := a.method.Interval(up, sown)
		lines = append(lines, fmt.Sprintf("in all  %d of %d up, %s %%, 95 %% interval %.0f–%.0f %%", up, sown, percent(float64(up)/float64(sown)), 100*i.Low, 100*i.High))
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

// groupFacts is a group in JSON. Parts are of one; days count from sowing.
type groupFacts struct {
	Group       string       `json:"group"`
	Crosses     []string     `json:"crosses"`
	Pots        int          `json:"pots"`
	Sown        int          `json:"sown"`
	Up          int          `json:"up"`
	Died        int          `json:"died"`
	Undeveloped int          `json:"undeveloped"`
	Rate        float64      `json:"rate"`
	Interval    [2]float64   `json:"interval"`
	RateOfAll   float64      `json:"rate_of_all_seed"`
	IntervalAll [2]float64   `json:"interval_of_all_seed"`
	Expected    float64      `json:"expected"`
	Below       bool         `json:"below_expected"`
	FirstSown   string       `json:"first_sown"`
	LastCount   string       `json:"last_count"`
	Going       int          `json:"pots_still_counted"`
	BrokenOff   int          `json:"pots_lost_early"`
	Over        overFacts    `json:"counting_over"`
	Rises       []riseFacts  `json:"rises"`
	Timing      *timingFacts `json:"timing,omitempty"`
}

// overFacts are the pots of a group whose counting is over.
type overFacts struct {
	Pots int `json:"pots"`
	Sown int `json:"sown"`
	Up   int `json:"up"`
}

type riseFacts struct {
	Day int `json:"day"`
	New int `json:"new"`
}

// timingFacts are of the pots whose counting is over. A T50 that is only known
// to be at most a day stands as that.
type timingFacts struct {
	FirstDay       int      `json:"first_day"`
	LastDay        int      `json:"last_day"`
	Mean           float64  `json:"mean_days"`
	Coolbear       *float64 `json:"t50_coolbear,omitempty"`
	CoolbearAtMost *float64 `json:"t50_coolbear_at_most,omitempty"`
	Farooq         *float64 `json:"t50_farooq,omitempty"`
	FarooqAtMost   *float64 `json:"t50_farooq_at_most,omitempty"`
}

// timingOf puts a timing into JSON.
func timingOf(t season.Timing) *timingFacts {
	facts := &timingFacts{FirstDay: t.First, LastDay: t.Last, Mean: t.Mean}
	put := func(h season.Half, exact, atMost **float64) {
		if h.AtMost {
			exact = atMost
		}
		*exact = &h.Day
	}
	put(t.HalfCoolbear, &facts.Coolbear, &facts.CoolbearAtMost)
	put(t.HalfFarooq, &facts.Farooq, &facts.FarooqAtMost)
	return facts
}

func (e *env) germinationJSON(a *germinationAnswer) error {
	facts := struct {
		Registry  string       `json:"registry"`
		By        string       `json:"by"`
		Method    string       `json:"interval_method"`
		Groups    []groupFacts `json:"groups"`
		Fisher    *float64     `json:"fisher_two_sided,omitempty"`
		Uncounted []string     `json:"pots_without_count"`
		Unusable  []string     `json:"pots_contradicting"`
	}{Registry: a.r.Dir(), By: a.by, Method: a.methodName(), Groups: []groupFacts{},
		Uncounted: append([]string{}, a.names(a.Uncounted)...), Unusable: append([]string{}, a.names(a.Unusable)...)}
	if a.compared {
		facts.Fisher = &a.p
	}
	for _, g := range a.Groups {
		facts.Groups = append(facts.Groups, a.facts(g))
	}
	return e.SayJSON(facts)
}

func (a *germinationAnswer) facts(g season.Group) groupFacts {
	good, all := a.method.Interval(g.Up, g.Sown), a.method.Interval(g.Up, g.Sown+g.Undeveloped)
	f := groupFacts{Group: g.Name, Pots: g.Pots, Sown: g.Sown, Up: g.Up, Died: g.Died, Undeveloped: g.Undeveloped,
		Rate: g.Rate(), Interval: [2]float64{good.Low, good.High}, RateOfAll: g.RateOfAll(), IntervalAll: [2]float64{all.Low, all.High},
		Expected: g.Expected, Below: g.Below(a.method), FirstSown: g.From.String(), LastCount: g.Until.String(), Rises: []riseFacts{},
		Going: g.Going, BrokenOff: g.BrokenOff, Over: overFacts{g.Over.Pots, g.Over.Sown, g.Over.Up}}
	seen := map[ids.ID]bool{}
	for _, id := range g.IDs {
		if cross := id.At(ids.CrossLevel); !seen[cross] {
			seen[cross] = true
			f.Crosses = append(f.Crosses, cross.String())
		}
	}
	for _, r := range g.Rises {
		f.Rises = append(f.Rises, riseFacts(r))
	}
	if g.Timed {
		f.Timing = timingOf(g.Timing)
	}
	return f
}
