package main

import (
	"strings"

	"pipstake/ids"
	"pipstake/ids/practice"
	"pipstake/ids/problem"
	"pipstake/ids/registry"
	"pipstake/ids/season"
)

var yieldCommand = command{
	name:      "yield",
	summary:   "what became of your crosses, from flower to tree",
	arguments: "[YEAR|ID…]",
	options:   "[--by WHAT] [--csv] [--plot FILE]",
	help: `One row for each cross: flowers pollinated, fruit, seeds, undeveloped seeds,
seeds sown, seedlings up, pricked out, alive now, selected. In percent, with the
interval that holds the true figure 19 times out of 20 (Wilson): fruit of
flowers (set), undeveloped of seeds, up of sown. A percentage rests only on what
was counted on both sides; what nobody counted is a dash, and never 0. "So far"
marks rows in which more may come: pots still looked at or never counted, bags
not opened. What ended stays in the figures. YEAR names all crosses of a year,
ID crosses, lots or pots; all otherwise. By place and by cold only what was sown
is told apart.

  pipstake yield
  pipstake yield 2025 2026 --by pollen-parent
  pipstake yield 2026X012 2026X036
  pipstake yield --by combination --plot yield.png
  pipstake yield --csv > yield.csv`,
	define: func(f *flags) action {
		y := &yieldFlags{dir: f.registry()}
		y.on = f.day("on", "the `DATE` to look from, yyyy-mm-dd; today where left out")
		y.by = f.word("by", "put crosses together by `WHAT`: "+strings.Join(groupWords(yieldGroups), ", ")+"; cross where left out", groupWords(yieldGroups)...)
		y.csv = f.onOff("csv", "print a table for a spreadsheet")
		y.plot = f.text("plot", "draw the way from flower to tree, and the percentages with their intervals, to `FILE`: .png, .svg or .pdf")
		y.force = f.onOff("force", "replace a plot that exists")
		y.json = f.json()
		return y.run
	},
}

// yieldGroups are what crosses can be put together by.
var yieldGroups = []groupWord{{"cross", season.ByCross}, {"seed-parent", season.BySeedParent}, {"pollen-parent", season.ByPollenParent},
	{"combination", season.ByCombination}, {"year", season.ByYear}, {"cold", season.ByCold}, {"place", season.ByPlace}}

// yieldFlags are the flags of the command.
type yieldFlags struct {
	dir, plot        *string
	on               *dayFlag
	by               *wordFlag
	csv, force, json *bool
}

// yieldAnswer is what the command found.
type yieldAnswer struct {
	season.Yields
	r  *registry.Registry
	by string
}

func (f *yieldFlags) run(e *env, args []string) error {
	if *f.csv && *f.json {
		return problem.Use("--csv and --json are two ways to answer", "give one of them")
	}
	place, err := e.plotTarget(*f.plot, *f.force)
	if err != nil {
		return err
	}
	r, err := e.open(*f.dir)
	if err != nil {
		return err
	}
	own, err := practice.Of(r)
	if err != nil {
		return err
	}
	scope, err := e.scopeOf(r, args, ids.PotLevel)
	if err != nil {
		return err
	}
	scope.On = e.seenOn(f.on)
	a := &yieldAnswer{r: r, by: "cross"}
	if f.by.word != "" {
		a.by = f.by.word
	}
	a.Yields = season.YieldOf(r, own, groupedBy(yieldGroups, a.by), scope)
	if *f.plot != "" {
		data, err := e.yieldPlot(a, place)
		if err != nil {
			return err
		}
		if err := e.deliver(place, data); err != nil {
			return err
		}
	}
	switch {
	case *f.json:
		return e.SayJSON(a.facts())
	case *f.csv:
		return e.yieldCSV(a)
	}
	e.yieldText(a)
	if *f.plot != "" {
		e.Say("plot  %s", place.shown)
	}
	return nil
}

// percentages are the proportions of a yield, as the columns have them.
func percentages(y season.Yield) []season.Part {
	return []season.Part{y.Set, y.Empty, y.Germinated}
}

// counts are the numbers of a yield, from flower to tree.
func counts(y season.Yield) []registry.Count {
	return []registry.Count{y.Flowers, y.Fruit, y.Seeds, y.Undeveloped, y.Sown, y.Up, y.Pricked, y.Alive, y.Selected}
}
