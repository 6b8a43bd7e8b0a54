package main

import (
	"pipstake/ids"
	"pipstake/ids/season"
)

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

// comparisonFacts is a comparison in JSON.
type comparisonFacts struct {
	Permutation float64  `json:"permutation_two_sided"`
	Exact       bool     `json:"permutation_exact"`
	Ways        int      `json:"permutation_ways"`
	Dispersion  *float64 `json:"dispersion_between_pots,omitempty"`
	Freedom     int      `json:"degrees_of_freedom"`
	Believe     string   `json:"believe"` // pots, seeds or neither
	Differ      bool     `json:"differ"`
	SoFar       bool     `json:"so_far"`
}

func (a *germinationAnswer) comparisonFacts() *comparisonFacts {
	c := a.compared
	f := &comparisonFacts{Permutation: c.Permutation, Exact: c.Exact, Ways: c.Ways, Freedom: c.Dispersion.Freedom,
		Believe: map[season.Belief]string{season.ThePots: "pots", season.TheSeeds: "seeds", season.Neither: "neither"}[c.Believe],
		Differ:  c.Differ(), SoFar: a.early}
	if c.Dispersion.Enough() {
		f.Dispersion = &c.Dispersion.Factor
	}
	return f
}

// germinationFacts is how groups of pots came up, in JSON.
type germinationFacts struct {
	Registry  string           `json:"registry"`
	By        string           `json:"by"`
	Method    string           `json:"interval_method"`
	Groups    []groupFacts     `json:"groups"`
	Fisher    *float64         `json:"fisher_two_sided,omitempty"`
	Compared  *comparisonFacts `json:"comparison,omitempty"`
	Uncounted []string         `json:"pots_without_count"`
	Unusable  []string         `json:"pots_contradicting"`
}

func (e *env) germinationJSON(a *germinationAnswer) error {
	facts := germinationFacts{Registry: a.r.Dir(), By: a.by, Method: a.methodName(), Groups: []groupFacts{},
		Uncounted: append([]string{}, a.names(a.Uncounted)...), Unusable: append([]string{}, a.names(a.Unusable)...)}
	if a.compared != nil {
		facts.Compared = a.comparisonFacts()
		facts.Fisher = &a.compared.Fisher
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
