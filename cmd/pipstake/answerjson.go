package main

import (
	"pipstake/ids"
	"pipstake/ids/registry"
)

// answerFacts is an answer in JSON. What is not known is left out; days are
// ISO 8601.
type answerFacts struct {
	Read      string          `json:"read"`
	ID        string          `json:"id,omitempty"`
	Check     string          `json:"check,omitempty"` // the check character
	Level     string          `json:"level,omitempty"`
	Copy      int             `json:"copy,omitempty"`
	Status    string          `json:"status"` // issued, void, unknown or unreadable
	Cross     *crossFacts     `json:"cross,omitempty"`
	Lot       *lotFacts       `json:"lot,omitempty"`
	Pot       *potFacts       `json:"pot,omitempty"`
	Seedling  *seedlingFacts  `json:"seedling,omitempty"`
	Lots      []lotFacts      `json:"lots,omitempty"`     // of a cross
	Pots      []potFacts      `json:"pots,omitempty"`     // of a seed lot
	Siblings  []potFacts      `json:"siblings,omitempty"` // of a pot
	Seedlings []seedlingFacts `json:"seedlings,omitempty"`
	Counts    []countFacts    `json:"counts,omitempty"`
	Alive     *int            `json:"alive,omitempty"` // in a pot
	Ended     *endFacts       `json:"ended,omitempty"`
	Diary     []diaryFacts    `json:"diary,omitempty"`
	Labels    []labelFacts    `json:"labels,omitempty"`
	Lineage   *lineageFacts   `json:"lineage,omitempty"` // where it goes beyond the parents
	Next      string          `json:"next,omitempty"`
	Notices   []string        `json:"notices,omitempty"`
	Problems  []scanProblem   `json:"problems"`
}

type crossFacts struct {
	ID           string `json:"id"`
	SeedParent   string `json:"seed_parent"`
	PollenParent string `json:"pollen_parent"`
	Pollinated   string `json:"pollinated,omitempty"`
	Flowers      *int   `json:"flowers,omitempty"`
	Source       string `json:"source,omitempty"` // of seed from elsewhere
	State        string `json:"state,omitempty"`
	Notes        string `json:"notes,omitempty"`
}

type lotFacts struct {
	ID          string `json:"id"`
	Issued      string `json:"issued,omitempty"`
	Extracted   string `json:"extracted,omitempty"`
	Fruit       *int   `json:"fruit,omitempty"`
	Seeds       *int   `json:"seeds,omitempty"`
	Undeveloped *int   `json:"undeveloped,omitempty"`
	Left        *int   `json:"left_to_sow,omitempty"`
	Chilled     string `json:"chilled,omitempty"`
	State       string `json:"state,omitempty"`
	Notes       string `json:"notes,omitempty"`
}

type potFacts struct {
	ID        string `json:"id"`
	Seeds     *int   `json:"seeds,omitempty"`
	Sown      string `json:"sown,omitempty"`
	DaysSince *int   `json:"days_since_sowing,omitempty"`
	Place     string `json:"place,omitempty"`
	State     string `json:"state,omitempty"`
	Notes     string `json:"notes,omitempty"`
}

type seedlingFacts struct {
	ID      string `json:"id"`
	Pricked string `json:"pricked,omitempty"`
	Place   string `json:"place,omitempty"`
	Name    string `json:"name,omitempty"`
	State   string `json:"state,omitempty"`
	Notes   string `json:"notes,omitempty"`
}

type countFacts struct {
	On   string `json:"on"`
	Up   *int   `json:"up,omitempty"`
	Died *int   `json:"died,omitempty"`
}

type labelFacts struct {
	Face    string `json:"face"`
	Copy    int    `json:"copy,omitempty"`
	Batch   int    `json:"batch"`
	Printed string `json:"printed"`
	State   string `json:"state"` // live, spoilt or replaced
}

// number is a count in JSON.
func number(c registry.Count) *int {
	if !c.Known {
		return nil
	}
	return &c.N
}

// facts is the answer as JSON shows it.
func (a *answer) facts() answerFacts {
	f := answerFacts{Read: a.read, Status: "unreadable", Notices: a.notices, Problems: append([]scanProblem{}, a.problems...)}
	id := a.Code.ID
	if id == (ids.ID{}) {
		return f
	}
	f.ID, f.Check, f.Level, f.Copy = id.String(), string(rune(id.Check())), id.Level().String(), a.Code.Copy
	f.Status = map[registry.Status]string{registry.Unknown: "unknown", registry.Issued: "issued", registry.Voided: "void"}[a.Status]
	if a.Status == registry.Unknown {
		return f
	}
	f.Next = a.next()
	if a.Cross.ID != (ids.ID{}) {
		f.Cross = &crossFacts{ID: a.Cross.ID.String(), SeedParent: a.Cross.SeedParent, PollenParent: a.Cross.PollenParent,
			Pollinated: a.Cross.Pollinated.String(), Flowers: number(a.Cross.Flowers), Source: a.Cross.Source, State: string(a.Cross.State), Notes: a.Cross.Notes}
	}
	for _, l := range a.Lots {
		f.Lots = append(f.Lots, lotJSON(l))
	}
	if a.Lot.ID != (ids.ID{}) {
		lot := lotJSON(a.Lot)
		lot.Left = number(a.Left)
		f.Lot = &lot
	}
	a.potJSON(&f)
	a.lifeJSON(&f)
	if a.descent != nil && a.descent.beyondParents() {
		lineage := a.descent.facts(0)
		f.Lineage = &lineage
	}
	for _, l := range a.Labels {
		state := "live"
		if l.State != registry.LabelLive {
			state = string(l.State)
		}
		f.Labels = append(f.Labels, labelFacts{string(l.Face), l.Copy, l.Batch, l.Printed.String(), state})
	}
	return f
}

// toCopy is an answer whose commands name the registry where they have to.
func (e *env) toCopy(f answerFacts) answerFacts {
	f.Next = e.thereToo(f.Next)
	for i := range f.Problems {
		f.Problems[i].Hint = e.thereToo(f.Problems[i].Hint)
	}
	return f
}

// potJSON adds pots, seedlings and counts.
func (a *answer) potJSON(f *answerFacts) {
	for _, p := range a.Pots {
		facts := potFacts{ID: p.ID.String(), Seeds: number(p.Seeds), Sown: p.Sown.String(), Place: p.Place,
			State: string(p.State), Notes: p.Notes}
		if !p.Sown.IsZero() {
			days := a.Today.DaysSince(p.Sown)
			facts.DaysSince = &days
		}
		switch {
		case a.Code.ID.Level() == ids.LotLevel:
			f.Pots = append(f.Pots, facts)
		case p.ID == a.Pot.ID:
			f.Pot = &facts
		case a.Code.ID.Level() == ids.PotLevel:
			f.Siblings = append(f.Siblings, facts)
		}
	}
	for _, s := range a.Seedlings {
		facts := seedlingFacts{s.ID.String(), s.Pricked.String(), s.Place, s.Name, string(s.State), s.Notes}
		if s.ID == a.Seedling.ID {
			f.Seedling = &facts
		}
		if a.Code.ID.Level() == ids.PotLevel {
			f.Seedlings = append(f.Seedlings, facts)
		}
	}
	for _, c := range a.Counts {
		f.Counts = append(f.Counts, countFacts{c.On.String(), number(c.Up), number(c.Died)})
	}
}

func lotJSON(l registry.Lot) lotFacts {
	return lotFacts{ID: l.ID.String(), Issued: l.Issued.String(), Extracted: l.Extracted.String(),
		Fruit: number(l.Fruit), Seeds: number(l.Seeds), Undeveloped: number(l.Undeveloped),
		Chilled: l.Chilled.String(), State: string(l.State), Notes: l.Notes}
}
