package main

import (
	"fmt"
	"strconv"
	"strings"

	"pipstake/cmd/pipstake/terminal"
	"pipstake/ids/registry"
	"pipstake/ids/season"
	"pipstake/ids/words"
)

// parsePercent reads "85", "85.5" or "85%".
func parsePercent(s string) (float64, error) {
	return strconv.ParseFloat(strings.TrimSpace(strings.TrimSuffix(strings.TrimSpace(s), "%")), 64)
}

// shownPercent shows a part as a percentage with no more decimals than it
// needs, two at most.
func shownPercent(part float64) string { return words.Number(100*part, 2) }

func (e *env) planText(a planAnswer, p season.Protocol) {
	e.Say("for at least %s with %s %% certainty, where %s %% of the seeds come up:",
		words.Plural(a.aim.Seedlings, "seedling", "seedlings"), shownPercent(a.aim.Certainty), shownPercent(a.plan.Rate))
	var t terminal.Table
	t.Row("sow", words.Plural(a.plan.Seeds, "good seed", "good seeds"))
	t.Row("fruit", fmt.Sprintf("%s, of %s seeds each", fromTo(a.plan.LeastFruit, a.plan.MostFruit), fromTo(p.Fruit.LeastSeeds, p.Fruit.MostSeeds)))
	t.Row("pots", fmt.Sprintf("%d, of %d seeds each", a.plan.Pots, p.Sowing.SeedsPerPot))
	t.Row("stakes", fmt.Sprintf("%d on %s of %s", a.plan.Stakes, words.Plural(a.sheets, "sheet", "sheets"), defaultStock(registry.StakeFace)))
	e.SayTable(&t, "  ")
	if a.dir == "" {
		e.Notice("there is no registry here, so nothing is said of what is in hand")
		return
	}
	if len(a.crosses) == 0 {
		e.Say("no cross is registered yet")
		return
	}
	e.Say("")
	e.inHandText(a)
}

func fromTo(from, to int) string {
	if from == to {
		return strconv.Itoa(from)
	}
	return fmt.Sprintf("%d–%d", from, to)
}

func (e *env) inHandText(a planAnswer) {
	var t terminal.Table
	t.Row("cross", "", "seeds", "up", "open", "needed", "chance", "")
	for _, h := range a.crosses {
		t.Row(h.Cross.ID.String(), parents(h.Cross), strconv.Itoa(h.Seeds), strconv.Itoa(h.Up), strconv.Itoa(h.Open),
			strconv.Itoa(h.Needed), chanceOf(h), verdictOn(h))
	}
	e.SayTable(&t, "")
}

// chanceWords show a probability without claiming more than it says.
func chanceWords(chance float64) string {
	switch {
	case chance > 0.99 && chance < 1:
		return "over 99 %"
	case chance > 0 && chance < 0.01:
		return "under 1 %"
	}
	return fmt.Sprintf("%.0f %%", 100*chance)
}

// chanceOf shows the chance of a cross. What bags hold that nobody opened is not
// known, so with them it is a least value, or nothing.
func chanceOf(h season.InHand) string {
	switch {
	case h.Unopened == 0 || h.Needed == 0:
		return chanceWords(h.Chance)
	case h.Open == 0:
		return "—"
	}
	return "≥ " + chanceWords(h.Chance)
}

// verdictOn tells what a cross lacks.
func verdictOn(h season.InHand) string {
	switch {
	case h.Needed == 0:
		return "there"
	case h.Cross.Fate != registry.Growing:
		return string(h.Cross.Fate)
	case h.Short == 0:
		return "enough"
	case h.Lots == 0 && h.Open == 0:
		return "no seed lot yet"
	}
	short := fmt.Sprintf("%d short", h.Short)
	var waits []string
	if h.Going > 0 {
		waits = append(waits, "more may come up in "+words.Plural(h.Going, "pot", "pots"))
	}
	if h.Unopened > 0 {
		waits = append(waits, words.Plural(h.Unopened, "lot", "lots")+" not opened yet")
	}
	if h.Unopened > 0 && h.Open == 0 && h.Up == 0 {
		return words.List(waits) // nothing is known
	}
	if h.Waits() {
		short = "so far " + short + "; "
	}
	return short + words.List(waits)
}

// planFacts is a plan in JSON. Parts are of one.
type planFacts struct {
	Seedlings int         `json:"seedlings"`
	Certainty float64     `json:"certainty"`
	Rate      float64     `json:"rate"`
	Seeds     int         `json:"seeds"`
	Fruit     [2]int      `json:"fruit"`
	Pots      int         `json:"pots"`
	Stakes    int         `json:"stakes"`
	Sheets    int         `json:"sheets"`
	Registry  string      `json:"registry,omitempty"`
	Crosses   []handFacts `json:"crosses"`
}

// handFacts is what a cross has in hand.
type handFacts struct {
	Cross    string  `json:"cross"`
	Rate     float64 `json:"rate"`
	Seeds    int     `json:"seeds"`
	InBags   int     `json:"in_bags"`
	Open     int     `json:"open"`
	Up       int     `json:"up"`
	Needed   int     `json:"needed"`
	Short    int     `json:"short"`
	Waits    bool    `json:"short_so_far"`
	Chance   float64 `json:"chance"`
	Lots     int     `json:"lots"`
	Unopened int     `json:"lots_unopened"`
	Going    int     `json:"pots_still_counted"`
}

func (e *env) planJSON(a planAnswer) error {
	facts := planFacts{Seedlings: a.aim.Seedlings, Certainty: a.aim.Certainty, Rate: a.plan.Rate, Seeds: a.plan.Seeds,
		Fruit: [2]int{a.plan.LeastFruit, a.plan.MostFruit}, Pots: a.plan.Pots, Stakes: a.plan.Stakes, Sheets: a.sheets,
		Registry: a.dir, Crosses: []handFacts{}}
	for _, h := range a.crosses {
		facts.Crosses = append(facts.Crosses, handFacts{h.Cross.ID.String(), h.Rate, h.Seeds, h.InBags, h.Open, h.Up, h.Needed,
			h.Short, h.Short > 0 && h.Waits(), h.Chance, h.Lots, h.Unopened, h.Going})
	}
	return e.SayJSON(facts)
}
