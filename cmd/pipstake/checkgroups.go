package main

import (
	"fmt"
	"regexp"
	"slices"
	"strings"

	"pipstake/ids/registry"
	"pipstake/ids/words"
)

// severities are the kinds of findings, the gravest first.
var severities = []string{"identity", "figures", "labels", "tidiness"}

// severityOf returns what a finding is about; mendable are the places of the cells
// that check --fix would mend.
func severityOf(f registry.Finding, mendable map[string]bool) string {
	switch {
	case mendable[f.Where()], f.Row == 0:
		return "tidiness"
	case f.File == "labels.csv", strings.Contains(f.Remedy, "{missing labels}"):
		return "labels"
	case slices.Contains([]string{"stocks.csv", "adjustments.csv", "protocol.toml", "calendar.csv", "registry.csv"}, f.File):
		return "tidiness"
	case slices.Contains([]string{"id", "pot", "seed_parent", "pollen_parent", "name", "sport_of"}, f.Column):
		return "identity"
	}
	return "figures"
}

// mendable are the places of the cells that check --fix would mend.
func mendable(r *registry.Registry) map[string]bool {
	places := map[string]bool{}
	for _, f := range r.Fixes() {
		places[f.Finding.Where()] = true
	}
	return places
}

// ofSeverity keeps the findings of one kind; "" for all of them.
func ofSeverity(r *registry.Registry, found []registry.Finding, only string) []registry.Finding {
	if only == "" {
		return found
	}
	places := mendable(r)
	return slices.DeleteFunc(found, func(f registry.Finding) bool { return severityOf(f, places) != only })
}

// findingGroup is what has one cause and one remedy.
type findingGroup struct {
	severity string
	findings []registry.Finding
	remedy   string // as it is typed
}

// inSheet is where a label lies, at the end of what is found of it.
var inSheet = regexp.MustCompile(` \(batch \d+, sheet \d+, cell \d+\)$`)

// cause is what findings have in common that are mended together: the same cell's
// text in the same column, or labels that lack or say the same.
func cause(f registry.Finding) string {
	what := inSheet.ReplaceAllString(f.What, "")
	switch {
	case what != f.What:
		return "label: " + what
	case strings.Contains(f.Remedy, "{missing labels}"):
		return "missing: " + f.File + f.Column
	case f.Value == "" || f.Column == "id":
		return strings.Join([]string{f.File, f.Column, what, f.Remedy, fmt.Sprint(f.Row)}, "\x00")
	}
	return strings.Join([]string{f.File, f.Column, f.Value, what, f.Remedy}, "\x00")
}

// groupsOf puts findings of one cause together, the gravest first.
func groupsOf(r *registry.Registry, found []registry.Finding) []findingGroup {
	places := mendable(r)
	var groups []findingGroup
	at := map[string]int{}
	for _, f := range found {
		key := cause(f)
		i, there := at[key]
		if !there {
			i = len(groups)
			at[key] = i
			groups = append(groups, findingGroup{severity: severityOf(f, places), remedy: asTyped(f.Remedy)})
		}
		groups[i].findings = append(groups[i].findings, f)
	}
	for i, g := range groups {
		if len(g.findings) > 1 && g.findings[0].File == "labels.csv" && strings.Contains(g.remedy, "pipstake labels ") {
			groups[i].remedy = "where the registry is right, print them anew: pipstake labels --stale"
		}
	}
	slices.SortStableFunc(groups, func(a, b findingGroup) int {
		return slices.Index(severities, a.severity) - slices.Index(severities, b.severity)
	})
	return groups
}

// elsewhere says where else the same was found: "rows 5, 7–9"; "" for one finding.
func (g findingGroup) elsewhere() string {
	var rows []int
	for _, f := range g.findings[1:] {
		if f.File == g.findings[0].File {
			rows = append(rows, f.Row)
		}
	}
	if len(rows) == 0 {
		return ""
	}
	slices.Sort(rows)
	word := "rows"
	if len(rows) == 1 {
		word = "row"
	}
	return fmt.Sprintf("the same in %s %s: %d in all", word, ranges(slices.Compact(rows)), len(g.findings))
}

// checkText tells the findings, one a cause, and sums them up.
func (e *env) checkText(r *registry.Registry, found []registry.Finding) {
	groups := groupsOf(r, found)
	by := map[string]int{}
	for _, g := range groups {
		by[g.severity]++
		e.Say("%s", g.findings[0].Where())
		e.Say("  %s", words.OneLine(g.findings[0].What))
		if more := g.elsewhere(); more != "" {
			e.Say("  %s", more)
		}
		if g.remedy != "" {
			e.Say("  hint: %s", e.thereToo(words.OneLine(g.remedy)))
		}
	}
	if len(found) == 0 {
		e.Say("nothing to mend in %s", count(r))
		return
	}
	var kinds []string
	for _, kind := range severities {
		if by[kind] > 0 {
			kinds = append(kinds, fmt.Sprintf("%d of %s", by[kind], kind))
		}
	}
	e.Say("%s (%s) in %s", words.Plural(len(groups), "finding", "findings"), strings.Join(kinds, ", "), count(r))
}
