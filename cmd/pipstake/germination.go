package main

import (
	"encoding/csv"
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"pipstake/ids"
	"pipstake/ids/practice"
	"pipstake/ids/problem"
	"pipstake/ids/registry"
	"pipstake/ids/season"
	"pipstake/ids/words"
	"pipstake/layout/plot"
)

var germinationCommand = command{
	name:      "germination",
	summary:   "how well and how fast the seed came up, with intervals and plots",
	arguments: "[YEAR|ID…]",
	options:   "[--by WHAT] [--compare A,B] [--plot FILE]",
	help: `Of the seeds sown in pots that were counted, how many came up: in percent, with
the interval that holds the true figure 19 times out of 20. "Of all seed" takes
undeveloped seed in. YEAR names all crosses of a year, ID crosses, lots or pots;
all otherwise.

Verdicts wait until nobody looks for more seedlings in a pot: until then its
figures are those so far. "Below" marks an interval of the others that lies
wholly below what protocol.toml expects. Days count from sowing. T50 is the day
by which half of those that came up were up, with half as (N+1)/2 (Coolbear et
al. 1984) or N/2 (Farooq et al. 2005), reckoned between the counts of each pot;
it is only known to be at most (≤) a day where half were up at the first count.
The mean and the first and last day are those of the counts.

  pipstake germination
  pipstake germination --by pollen-parent --plot season.png
  pipstake germination 2026X012 --by pot
  pipstake germination --compare 2026X012,2026X036
  pipstake germination --compare "Tarn Amber,Gwennol Goch" --by pollen-parent

--compare tells whether two crosses, lots, pots, years, or two of the groups of
--by differ: by Fisher's exact test of their pooled seeds, and by a permutation
test with pots as units, since seeds of one pot are not independent; and which
of the two to believe.`,
	define: func(f *flags) action {
		g := &germinationFlags{dir: f.registry()}
		g.on = f.day("on", "the `DATE` to look from, yyyy-mm-dd; today where left out")
		g.by = f.word("by", "put pots together by `WHAT`: "+strings.Join(groupWords(germinationGroups), ", ")+"; cross where left out", groupWords(germinationGroups)...)
		g.interval = f.word("interval", "the `METHOD` of intervals: wilson or clopper-pearson; wilson where left out", "wilson", "clopper-pearson")
		g.compare = f.texts("compare", "tell whether two `CROSSES` differ: 2026X012,2026X036; or two lots, pots or years, or two groups of --by; a name that holds a comma in quotes, or each with its own --compare")
		g.plot = f.text("plot", "draw the curves and intervals to `FILE`: .png, .svg or .pdf")
		g.force = f.onOff("force", "replace a plot that exists")
		g.json = f.json()
		return g.run
	},
}

// germinationFlags are the flags of the command.
type germinationFlags struct {
	on           *dayFlag
	dir, plot    *string
	compare      *[]string
	by, interval *wordFlag
	force, json  *bool
}

// germinationGroups are what pots can be put together by.
var germinationGroups = []groupWord{{"pot", season.ByPot}, {"lot", season.ByLot}, {"cross", season.ByCross},
	{"seed-parent", season.BySeedParent}, {"pollen-parent", season.ByPollenParent}, {"combination", season.ByCombination},
	{"year", season.ByYear}, {"sowing-year", season.BySowingYear}, {"place", season.ByPlace}, {"cold", season.ByCold}}

// germinationAnswer is what the command found.
type germinationAnswer struct {
	season.Outcome
	r        *registry.Registry
	practice season.Practice
	by       string
	method   season.Method
	sides    []string           // that are compared; nil for none
	compared *season.Comparison // of two groups
	early    bool               // the counting of one of them is not over
}

// methodName is the interval's name.
func (a *germinationAnswer) methodName() string {
	if a.method == season.ClopperPearson {
		return "Clopper–Pearson"
	}
	return "Wilson"
}

func (f *germinationFlags) run(e *env, args []string) error {
	place, err := f.check(e, args)
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
	a := &germinationAnswer{r: r, practice: own, by: "cross"}
	if f.by.word != "" {
		a.by = f.by.word
	}
	if f.interval.word == "clopper-pearson" {
		a.method = season.ClopperPearson
	}
	scope, err := f.scope(e, r, a, args)
	if err != nil {
		return err
	}
	a.Outcome = season.Germinate(r, own, groupedBy(germinationGroups, a.by), scope)
	if err := f.judge(a); err != nil {
		return err
	}
	if *f.plot != "" {
		data, err := e.germinationPlot(a, place)
		if err != nil {
			return err
		}
		if err := e.deliver(place, data); err != nil {
			return err
		}
	}
	if *f.json {
		return e.germinationJSON(a)
	}
	e.germinationText(a)
	if *f.plot != "" {
		e.Say("plot  %s", place.shown)
	}
	return nil
}

// check looks at the flags before the registry is read.
func (f *germinationFlags) check(e *env, args []string) (target, error) {
	if len(*f.compare) > 0 && len(args) > 0 {
		return target{}, problem.Use("--compare names the two itself", "leave other identifiers out")
	}
	return e.plotTarget(*f.plot, *f.force)
}

// plotTarget looks at the place for a plot, where one is asked for.
func (e *env) plotTarget(file string, force bool) (target, error) {
	if file == "" {
		if force {
			return target{}, problem.Use("--force goes with --plot", "leave it out, or name a file with --plot")
		}
		return target{}, nil
	}
	kind, ok := plotKinds[plotForm(file)]
	if !ok {
		return target{}, problem.Use(fmt.Sprintf("--plot %s: the ending says in which form to draw", quotedPath(file)), "end the name in .png, .svg or .pdf")
	}
	return e.targetOf(kind, "--plot", file, force)
}

// scope reads what the command is limited to; for a comparison, which looks at
// all, it also finds out what is compared.
func (f *germinationFlags) scope(e *env, r *registry.Registry, a *germinationAnswer, args []string) (season.Scope, error) {
	if len(*f.compare) == 0 {
		scope, err := e.scopeOf(r, args, ids.PotLevel)
		scope.On = e.seenOn(f.on)
		return scope, err
	}
	var err error
	if a.sides, err = sidesOf(*f.compare); err != nil {
		return season.Scope{}, err
	}
	scope := season.Scope{On: e.seenOn(f.on)}
	_, one := asYear(a.sides[0])
	_, other := asYear(a.sides[1])
	switch {
	case f.by.word != "":
		return scope, nil
	case one && other:
		a.by = "year"
		return scope, nil
	}
	return scope, e.sidesByID(r, a)
}

// sidesOf are the two that --compare names: between them a comma, or each with a
// flag of its own. A name that holds a comma may stand in quotes.
func sidesOf(given []string) ([]string, error) {
	sides := given
	if len(given) == 1 {
		list := csv.NewReader(strings.NewReader(given[0]))
		list.TrimLeadingSpace, list.LazyQuotes = true, true
		sides, _ = list.Read()
	}
	if len(sides) != 2 || strings.TrimSpace(sides[0]) == "" || strings.TrimSpace(sides[1]) == "" {
		return nil, problem.Use(fmt.Sprintf("--compare %s does not name two", words.Shown(strings.Join(given, " "))),
			"put one comma between them: 2026X012,2026X036; where a name holds one, give --compare twice")
	}
	return slices.Clone(sides), nil
}

// sidesByID reads the sides of a comparison as identifiers of one level.
func (e *env) sidesByID(r *registry.Registry, a *germinationAnswer) error {
	first, err := e.readID(strings.TrimSpace(a.sides[0]))
	if err != nil {
		return err
	}
	level := min(first.ID.Level(), ids.PotLevel)
	read, err := e.readIDs(a.sides, level)
	if err != nil {
		return err
	}
	for i, id := range read {
		if err := live(r, id); err != nil {
			return err
		}
		a.sides[i] = id.String()
	}
	a.by = map[ids.Level]string{ids.CrossLevel: "cross", ids.LotLevel: "lot", ids.PotLevel: "pot"}[level]
	return nil
}

// judge compares two groups, and refuses to answer about nothing.
func (f *germinationFlags) judge(a *germinationAnswer) error {
	if a.sides == nil {
		if len(a.Groups) == 0 && *f.plot != "" {
			return noCounts("the registry")
		}
		return nil
	}
	var two []season.Group
	for _, side := range a.sides {
		g, err := a.group(side)
		if err != nil {
			return err
		}
		two = append(two, g)
	}
	if two[0].Name == two[1].Name {
		return problem.Use(fmt.Sprintf("%s stands there twice", a.name(two[0])), "name two that differ")
	}
	a.Groups = two
	one, other := two[0].Judged, two[1].Judged
	if len(one) == 0 || len(other) == 0 {
		one, other, a.early = two[0].Each, two[1].Each, true
	}
	compared := season.Compare(one, other)
	a.compared = &compared
	return nil
}

// group finds a group by its name, however spaces, case and the sign of a cross
// or of a range are typed.
func (a *germinationAnswer) group(name string) (season.Group, error) {
	key := func(s string) string {
		s = strings.Join(strings.Fields(strings.ToLower(strings.NewReplacer("–", "-", "×", "x").Replace(s))), " ")
		return strings.TrimSuffix(s, " days")
	}
	var names []string
	meant := season.NewGrouper(a.r, groupedBy(germinationGroups, a.by)).Name(name)
	for _, g := range a.Groups {
		if key(a.name(g)) == key(name) || key(g.Name) == key(meant) {
			return g, nil
		}
		names = append(names, a.name(g))
	}
	if a.by == "cross" || a.by == "lot" || a.by == "pot" || a.by == "year" {
		return season.Group{}, noCounts(strings.TrimSpace(name))
	}
	return season.Group{}, problem.Use(fmt.Sprintf("--compare: there is no %s %s", strings.ReplaceAll(a.by, "-", " "), words.Shown(strings.TrimSpace(name))),
		"counted are "+words.List(words.Few(names, 12)))
}

func noCounts(where string) error {
	return problem.Data(fmt.Sprintf("no count of seedlings of %s is on record", where), "record one with: pipstake emerged POT N")
}

// plotKinds are the forms that a plot is written in, by the file's ending.
var plotKinds = map[string]fileKind{
	"png": {noun: "a PNG", binary: true, starts: []string{"\x89PNG"}},
	"svg": {noun: "an SVG", starts: []string{"<?xml", "<svg"}},
	"pdf": pdfFile,
}

// germinationPlot draws the groups and returns the file.
func (e *env) germinationPlot(a *germinationAnswer, place target) ([]byte, error) {
	if n := len(a.Groups); n > plot.MostGroups {
		return nil, problem.Use(fmt.Sprintf("%d groups cannot be told apart in one plot, %d can", n, plot.MostGroups), "put pots together with --by, or name the crosses to draw")
	}
	created, err := e.creation()
	if err != nil {
		return nil, err
	}
	return a.chart().Draw(plotForm(place.shown), created)
}

// chart is what the plot shows.
func (a *germinationAnswer) chart() plot.Germination {
	chart := plot.Germination{Method: a.methodName()}
	for _, g := range a.Groups {
		label := a.label(g)
		g.Name = a.name(g)
		chart.Groups = append(chart.Groups, plot.Group{Group: g, Interval: a.method.Interval(g.Up, g.Sown), Below: g.Below(a.method), Label: label})
	}
	return chart
}

// plotForm is the form that a file's name asks for.
func plotForm(name string) string {
	return strings.ToLower(strings.TrimPrefix(filepath.Ext(name), "."))
}
