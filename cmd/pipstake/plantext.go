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
	rate, by := shownPercent(a.plan.Rate), "by protocol.toml"
	switch {
	case a.aim.Rate > 0:
		by = "as --rate says"
	case a.back.Germination.Own():
		rate, by = percent(a.plan.Rate), "as those of your own did"
	}
	e.Say("for at least %s with %s %% certainty, where %s %% of the seeds come up, %s:",
		words.Plural(a.aim.Seedlings, "seedling", "seedlings"), shownPercent(a.aim.Certainty), rate, by)
	var t terminal.Table
	t.Row("sow", words.Plural(a.plan.Seeds, "good seed", "good seeds"))
	each := fromTo(p.Fruit.LeastSeeds, p.Fruit.MostSeeds) + " seeds each, by protocol.toml"
	if own := a.plan.PerFruit; own.Own() {
		each = fmt.Sprintf("%s to %s seeds each, as your own crosses had", oneDecimal(own.Low), oneDecimal(own.High))
	}
	t.Row("fruit", fmt.Sprintf("%s, of %s", fromTo(a.plan.LeastFruit, a.plan.MostFruit), each))
	t.Row("pots", fmt.Sprintf("%d, of %d seeds each", a.plan.Pots, p.Sowing.SeedsPerPot))
	t.Row("stakes", fmt.Sprintf("%d on %s of %s", a.plan.Stakes, words.Plural(a.sheets, "sheet", "sheets"), defaultStock(registry.StakeFace)))
	e.SayTable(&t, "  ")
	e.backwardsText(a)
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

// backwardsText says what the aim takes from the flowers on, and what that rests
// on.
func (e *env) backwardsText(a planAnswer) {
	b := a.back
	e.Say("")
	e.Say("backwards, from the flowers on:")
	var t terminal.Table
	rate := b.Germination
	if a.aim.Rate > 0 {
		rate = season.Figure{Value: a.aim.Rate}
	}
	t.Row("flowers", fmt.Sprintf("%d to pollinate", b.Flowers), percent(b.Set.Value)+" % set fruit", figureWords(b.Set, percentSign, "flowers"))
	t.Row("fruit", fmt.Sprint(b.Fruit), oneDecimal(b.PerFruit.Value)+" seeds each", figureWords(b.PerFruit, oneDecimal, "fruit"))
	empty := "none undeveloped"
	if b.Empty.Value > 0 {
		empty = percent(b.Empty.Value) + " % undeveloped"
	}
	t.Row("seeds", fmt.Sprint(b.Seeds), empty, figureWords(b.Empty, percentSign, "seeds"))
	came := figureWords(rate, percentSign, "seeds sown")
	if a.aim.Rate > 0 {
		came = "as --rate says"
	}
	t.Row("sown", fmt.Sprint(b.Good), percent(rate.Value)+" % come up", came)
	e.SayTable(&t, "  ")
}

func percentSign(part float64) string { return percent(part) + " %" }

// figureWords say what a figure rests on.
func figureWords(f season.Figure, show func(float64) string, of string) string {
	if !f.Own() {
		if f.Value == 0 {
			return "nothing of your own to go by"
		}
		return "by protocol.toml"
	}
	return fmt.Sprintf("your own %d %s of %d crosses, %s to %s", f.Counted, of, f.Crosses, show(f.Low), show(f.High))
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

// verdictOn returns what a cross lacks.
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
	Backwards backFacts   `json:"backwards"`
	Registry  string      `json:"registry,omitempty"`
	Crosses   []handFacts `json:"crosses"`
}

// backFacts are what the aim takes from the flowers on.
type backFacts struct {
	Flowers     int         `json:"flowers"`
	Fruit       int         `json:"fruit"`
	Seeds       int         `json:"seeds"`
	Good        int         `json:"good_seeds"`
	Set         figureFacts `json:"set"`
	PerFruit    figureFacts `json:"seeds_per_fruit"`
	Empty       figureFacts `json:"undeveloped"`
	Germination figureFacts `json:"germination"`
}

// figureFacts is a figure; own where it rests on the grower's crosses.
type figureFacts struct {
	Value   float64 `json:"value"`
	Own     bool    `json:"own"`
	Low     float64 `json:"low"`
	High    float64 `json:"high"`
	Crosses int     `json:"crosses"`
	Counted int     `json:"counted"`
}

func factsOfFigure(f season.Figure) figureFacts {
	return figureFacts{f.Value, f.Own(), f.Low, f.High, f.Crosses, f.Counted}
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
		Backwards: backFacts{a.back.Flowers, a.back.Fruit, a.back.Seeds, a.back.Good, factsOfFigure(a.back.Set), factsOfFigure(a.back.PerFruit),
			factsOfFigure(a.back.Empty), factsOfFigure(a.back.Germination)},
		Registry: a.dir, Crosses: []handFacts{}}
	for _, h := range a.crosses {
		facts.Crosses = append(facts.Crosses, handFacts{h.Cross.ID.String(), h.Rate, h.Seeds, h.InBags, h.Open, h.Up, h.Needed,
			h.Short, h.Short > 0 && h.Waits(), h.Chance, h.Lots, h.Unopened, h.Going})
	}
	return e.SayJSON(facts)
}
