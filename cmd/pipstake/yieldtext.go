package main

import (
	"encoding/csv"
	"fmt"
	"strconv"
	"strings"

	"pipstake/cmd/pipstake/terminal"
	"pipstake/ids/problem"
	"pipstake/ids/registry"
	"pipstake/ids/season"
	"pipstake/ids/words"
	"pipstake/layout/plot"
)

// nothingKnown stands where nobody counted.
const nothingKnown = "—"

func (e *env) yieldText(a *yieldAnswer) {
	if len(a.Groups) == 0 {
		e.Say("nothing is on record of it yet")
		return
	}
	var t terminal.Table
	t.Row(strings.ReplaceAll(a.by, "-", " "), "flowers", "fruit", "set %", "seeds", "a fruit", "undev. %", "sown", "up", "up %", "pricked", "alive", "selected", "")
	for _, y := range a.Groups {
		t.Row(a.row(a.name(y), y)...)
	}
	if len(a.Groups) > 1 || a.by == "place" || a.by == "cold" {
		t.Row(a.row("in all", a.Total)...)
	}
	e.SayTable(&t, "")
	if a.by == "cross" {
		e.Say("")
		var names terminal.Table
		for _, y := range a.Groups {
			cross, _ := a.r.Cross(y.IDs[0])
			names.Row(y.Name, parents(cross))
		}
		e.SayTable(&names, "")
	}
	if waits := soFarWords(a.Total); waits != "" {
		e.Notice("more may come: %s", waits)
	}
}

// row is a yield in the columns of the table.
func (a *yieldAnswer) row(name string, y season.Yield) []string {
	soFar := ""
	if y.SoFar() {
		soFar = "so far"
	}
	return []string{name, shownCount(y.Flowers), shownCount(y.Fruit), partWords(y.Set), shownCount(y.Seeds), ratioWords(y.PerFruit), partWords(y.Empty),
		shownCount(y.Sown), shownCount(y.Up), partWords(y.Germinated), shownCount(y.Pricked), shownCount(y.Alive), shownCount(y.Selected), soFar}
}

// name is a group's name, with its unit where it is no name.
func (a *yieldAnswer) name(y season.Yield) string { return groupName(a.by, y.Name) }

// groupName is the name of a group that was put together by something.
func groupName(by, name string) string {
	switch {
	case by == "cold" && name == "":
		return "no cold on record"
	case by == "cold":
		return name + " days"
	case name == "":
		return "no " + strings.ReplaceAll(by, "-", " ") + " on record"
	}
	return words.OneLine(name)
}

// shownCount shows a count; a dash where it is not known.
func shownCount(c registry.Count) string {
	if !c.Known {
		return nothingKnown
	}
	return c.String()
}

// partWords show a proportion in percent with its interval: "57 (39–73)".
func partWords(p season.Part) string {
	if !p.Known() {
		return nothingKnown
	}
	i := season.Wilson.Interval(p.N, p.Of)
	return fmt.Sprintf("%s (%s–%s)", percent(p.Rate()), percent(i.Low), percent(i.High))
}

// ratioWords show how many there are of each.
func ratioWords(p season.Part) string {
	if !p.Known() {
		return nothingKnown
	}
	return oneDecimal(p.Rate())
}

// soFarWords say where more may come.
func soFarWords(y season.Yield) string {
	var all []string
	if y.Unopened > 0 {
		all = append(all, words.Plural(y.Unopened, "lot", "lots")+" not opened yet")
	}
	if y.Waiting > 0 {
		all = append(all, words.Plural(y.Waiting, "pot", "pots")+" never counted")
	}
	if y.Going > 0 {
		all = append(all, words.Plural(y.Going, "pot", "pots")+" still looked at")
	}
	return words.List(all)
}

// yieldPlot draws the answer and returns the file.
func (e *env) yieldPlot(a *yieldAnswer, place target) ([]byte, error) {
	if n := len(a.Groups); n > plot.MostGroups || n == 0 {
		return nil, problem.Use(fmt.Sprintf("%d groups cannot be shown in one plot, 1 to %d can", n, plot.MostGroups), "put crosses together with --by, or name those to draw")
	}
	created, err := e.creation()
	if err != nil {
		return nil, err
	}
	var chart plot.Yield
	for i, name := range []string{"flowers", "fruit", "seeds", "of these undeveloped", "sown", "up", "pricked out", "alive now", "selected"} {
		chart.Stages = append(chart.Stages, plot.Stage{Name: name, Count: counts(a.Total)[i]})
	}
	for _, y := range a.Groups {
		label := a.name(y)
		if a.by == "cross" {
			cross, _ := a.r.Cross(y.IDs[0])
			label += "  " + parents(cross)
		}
		share := func(p season.Part) plot.Share {
			return plot.Share{Label: label, Part: p, Interval: season.Wilson.Interval(p.N, p.Of)}
		}
		chart.Set, chart.Up = append(chart.Set, share(y.Set)), append(chart.Up, share(y.Germinated))
	}
	return chart.Draw(plotForm(place.shown), created)
}

// yieldFacts is a yield in JSON. Parts are of one; what is not known is null.
type yieldFacts struct {
	Group    string     `json:"group"`
	Crosses  []string   `json:"crosses"`
	Flowers  *int       `json:"flowers,omitempty"`
	Fruit    *int       `json:"fruit,omitempty"`
	Seeds    *int       `json:"seeds,omitempty"`
	Empty    *int       `json:"undeveloped,omitempty"`
	Sown     *int       `json:"sown,omitempty"`
	Up       *int       `json:"up,omitempty"`
	Pricked  *int       `json:"pricked,omitempty"`
	Alive    *int       `json:"alive,omitempty"`
	Selected *int       `json:"selected,omitempty"`
	Set      *partFacts `json:"set,omitempty"`
	PerFruit *float64   `json:"seeds_per_fruit,omitempty"`
	Undev    *partFacts `json:"undeveloped_share,omitempty"`
	UpShare  *partFacts `json:"up_share,omitempty"`
	SoFar    bool       `json:"so_far"`
	Unopened int        `json:"lots_unopened"`
	Waiting  int        `json:"pots_without_count"`
	Going    int        `json:"pots_still_counted"`
}

// partFacts is a proportion with its 95 % interval (Wilson).
type partFacts struct {
	N        int        `json:"n"`
	Of       int        `json:"of"`
	Rate     float64    `json:"rate"`
	Interval [2]float64 `json:"interval"`
}

func shareOf(p season.Part) *partFacts {
	if !p.Known() {
		return nil
	}
	i := season.Wilson.Interval(p.N, p.Of)
	return &partFacts{p.N, p.Of, p.Rate(), [2]float64{i.Low, i.High}}
}

func numberOrNull(c registry.Count) *int {
	if !c.Known {
		return nil
	}
	return &c.N
}

// yieldOutcome is what became of crosses, in JSON.
type yieldOutcome struct {
	Registry string       `json:"registry"`
	By       string       `json:"by"`
	Groups   []yieldFacts `json:"groups"`
	Total    yieldFacts   `json:"total"`
}

// facts are the answer in JSON.
func (a *yieldAnswer) facts() yieldOutcome {
	all := yieldOutcome{a.r.Dir(), a.by, []yieldFacts{}, factsOfYield(a.Total)}
	for _, y := range a.Groups {
		all.Groups = append(all.Groups, factsOfYield(y))
	}
	return all
}

func factsOfYield(y season.Yield) yieldFacts {
	f := yieldFacts{Group: y.Name, Crosses: []string{}, Flowers: numberOrNull(y.Flowers), Fruit: numberOrNull(y.Fruit), Seeds: numberOrNull(y.Seeds),
		Empty: numberOrNull(y.Undeveloped), Sown: numberOrNull(y.Sown), Up: numberOrNull(y.Up), Pricked: numberOrNull(y.Pricked),
		Alive: numberOrNull(y.Alive), Selected: numberOrNull(y.Selected), Set: shareOf(y.Set), Undev: shareOf(y.Empty), UpShare: shareOf(y.Germinated),
		SoFar: y.SoFar(), Unopened: y.Unopened, Waiting: y.Waiting, Going: y.Going}
	if y.PerFruit.Known() {
		rate := y.PerFruit.Rate()
		f.PerFruit = &rate
	}
	for _, id := range y.IDs {
		f.Crosses = append(f.Crosses, id.String())
	}
	return f
}

// yieldCSV prints the groups as a table with CRLF after each record (RFC 4180).
// What is not known is an empty cell; proportions are in percent.
func (e *env) yieldCSV(a *yieldAnswer) error {
	var b strings.Builder
	w := csv.NewWriter(&b)
	w.UseCRLF = true
	header := []string{a.by, "flowers", "fruit", "seeds", "undeveloped", "sown", "up", "pricked", "alive", "selected"}
	for _, name := range []string{"set", "undeveloped", "up"} {
		header = append(header, name+"_percent", name+"_low", name+"_high")
	}
	rows := [][]string{append(header, "seeds_per_fruit", "so_far")}
	for _, y := range a.Groups {
		row := []string{registry.Guard(y.Name)}
		for _, c := range counts(y) {
			row = append(row, c.String())
		}
		for _, p := range percentages(y) {
			row = append(row, percentCells(p)...)
		}
		each, soFar := "", ""
		if y.PerFruit.Known() {
			each = strconv.FormatFloat(y.PerFruit.Rate(), 'f', 2, 64)
		}
		if y.SoFar() {
			soFar = "so far"
		}
		rows = append(rows, append(row, each, soFar))
	}
	if err := w.WriteAll(rows); err != nil {
		return err
	}
	_, err := e.Write([]byte(b.String()))
	return err
}

// percentCells are a proportion and its interval.
func percentCells(p season.Part) []string {
	if !p.Known() {
		return []string{"", "", ""}
	}
	i := season.Wilson.Interval(p.N, p.Of)
	var cells []string
	for _, part := range []float64{p.Rate(), i.Low, i.High} {
		cells = append(cells, strconv.FormatFloat(100*part, 'f', 1, 64))
	}
	return cells
}
