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
	if end := a.stillCounting(); !end.IsZero() {
		e.Notice("seedlings are looked for until %s, and the last count is of %s: more may come up", end, a.lastCount())
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
		flag := ""
		if g.Below(a.method) {
			flag = fmt.Sprintf("below %.0f %%", 100*g.Expected)
		}
		days, mean, coolbear, farooq := "–", "–", "–", "–"
		if timing, ok := season.TimingOf(g.Rises); ok {
			days = fmt.Sprintf("%d–%d", timing.First, timing.Last)
			mean, coolbear, farooq = oneDecimal(timing.Mean), oneDecimal(timing.HalfCoolbear), oneDecimal(timing.HalfFarooq)
		}
		cells(a.label(g), fmt.Sprintf("%d of %d", g.Up, g.Sown), fmt.Sprint(g.Died), percent(g.Rate()),
			fmt.Sprintf("%.0f–%.0f", 100*i.Low, 100*i.High), percent(g.RateOfAll()), days, mean, coolbear, farooq, flag)
	}
	return t
}

// label names a group, a cross with its parents.
func (a *germinationAnswer) label(g season.Group) string {
	if a.by != "cross" {
		return words.OneLine(g.Name)
	}
	cross, _ := a.r.Cross(g.IDs[0])
	return g.Name + "  " + parents(cross)
}

func percent(part float64) string    { return fmt.Sprintf("%.0f", 100*part) }
func oneDecimal(days float64) string { return fmt.Sprintf("%.1f", days) }

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
			below = append(below, words.OneLine(g.Name))
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

// stillCounting is the end of the season of emergence where the last count was
// within it; zero otherwise.
func (a *germinationAnswer) stillCounting() registry.Date {
	last := a.lastCount()
	if last.IsZero() {
		return registry.Date{}
	}
	from, to := a.practice.Emergence.Season.After(last)
	if last.Before(from) || last == to {
		return registry.Date{}
	}
	return to
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
	Rises       []riseFacts  `json:"rises"`
	Timing      *timingFacts `json:"timing,omitempty"`
}

type riseFacts struct {
	Day int `json:"day"`
	New int `json:"new"`
}

type timingFacts struct {
	FirstDay int     `json:"first_day"`
	LastDay  int     `json:"last_day"`
	Mean     float64 `json:"mean_days"`
	Coolbear float64 `json:"t50_coolbear"`
	Farooq   float64 `json:"t50_farooq"`
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
		Expected: g.Expected, Below: g.Below(a.method), FirstSown: g.From.String(), LastCount: g.Until.String(), Rises: []riseFacts{}}
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
	if t, ok := season.TimingOf(g.Rises); ok {
		f.Timing = &timingFacts{t.First, t.Last, t.Mean, t.HalfCoolbear, t.HalfFarooq}
	}
	return f
}
