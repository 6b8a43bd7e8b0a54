package fieldpage

import (
	"path/filepath"
	"slices"

	"pipstake/ids"
	"pipstake/ids/registry"
)

// Season is what a page knows: the registry on one day, without what only a
// printer asks for. Dates are ISO 8601, "" where they are not known; counts are
// absent where they are not known.
type Season struct {
	Registry  string     `json:"registry"` // the name of its folder
	Identity  string     `json:"identity"` // the registry's mark; "" where it has none
	Made      string     `json:"made"`     // the day
	Crosses   []Cross    `json:"crosses"`
	Lots      []Lot      `json:"lots"`
	Pots      []Pot      `json:"pots"`
	Seedlings []Seedling `json:"seedlings"`

	Fates map[string][]registry.Fate `json:"fates"` // how things of a level end, as gone --how takes it
}

// Cross is one pollination.
type Cross struct {
	ID         string `json:"id"`
	Seed       string `json:"seed"` // seed parent
	Pollen     string `json:"pollen"`
	Pollinated string `json:"pollinated,omitempty"`
	Flowers    *int   `json:"flowers,omitempty"`
	Void       bool   `json:"void,omitempty"`
	Notes      string `json:"notes,omitempty"`
	Life
}

// Lot is the seed of one bag.
type Lot struct {
	ID          string `json:"id"`
	Extracted   string `json:"extracted,omitempty"`
	Fruit       *int   `json:"fruit,omitempty"`
	Seeds       *int   `json:"seeds,omitempty"`
	Undeveloped *int   `json:"undeveloped,omitempty"`
	Chilled     string `json:"chilled,omitempty"`
	Void        bool   `json:"void,omitempty"` // itself, or its cross
	Notes       string `json:"notes,omitempty"`
	Life
}

// Pot is a container sown from a lot, with its counts by date.
type Pot struct {
	ID     string  `json:"id"`
	Seeds  *int    `json:"seeds,omitempty"`
	Sown   string  `json:"sown,omitempty"`
	Place  string  `json:"place,omitempty"`
	Void   bool    `json:"void,omitempty"`
	Notes  string  `json:"notes,omitempty"`
	Counts []Count `json:"counts,omitempty"`
	Life
}

// Life is what else is told of a row: how and when it ended, and remarks.
type Life struct {
	Fate    string   `json:"fate,omitempty"` // a registry.Fate
	Ended   string   `json:"ended,omitempty"`
	Remarks []Remark `json:"remarks,omitempty"`
}

// Remark is a dated note.
type Remark struct {
	On   string `json:"on"`
	Text string `json:"text"`
}

// Count is how many seedlings had come up by a day, and how many of them had
// died, both in all.
type Count struct {
	On   string `json:"on"`
	Up   *int   `json:"up,omitempty"`
	Died int    `json:"died"`
}

// Seedling is one plant pricked out of a pot.
type Seedling struct {
	ID      string `json:"id"`
	Pricked string `json:"pricked,omitempty"`
	Place   string `json:"place,omitempty"`
	Name    string `json:"name,omitempty"` // as a selection
	Void    bool   `json:"void,omitempty"`
	Notes   string `json:"notes,omitempty"`
	Life
}

// SeasonOf takes from a registry what a page shows, by identifier.
func SeasonOf(r *registry.Registry, made registry.Date) Season {
	s := Season{Registry: filepath.Base(r.Dir()), Identity: r.Mark(), Made: made.String(),
		Crosses: []Cross{}, Lots: []Lot{}, Pots: []Pot{}, Seedlings: []Seedling{}, Fates: map[string][]registry.Fate{}}
	for _, level := range []ids.Level{ids.CrossLevel, ids.LotLevel, ids.PotLevel, ids.SeedlingLevel} {
		s.Fates[level.String()] = registry.Fates(level)
	}
	void := func(id ids.ID) bool { return r.Status(id) == registry.Voided }
	for _, c := range sorted(r.Crosses(), func(c registry.Cross) ids.ID { return c.ID }) {
		s.Crosses = append(s.Crosses, Cross{ID: c.ID.String(), Seed: c.SeedParent, Pollen: c.PollenParent,
			Pollinated: c.Pollinated.String(), Flowers: known(c.Flowers), Void: void(c.ID), Notes: c.Notes, Life: lifeOf(r, c.ID)})
	}
	for _, l := range sorted(r.Lots(), func(l registry.Lot) ids.ID { return l.ID }) {
		s.Lots = append(s.Lots, Lot{ID: l.ID.String(), Extracted: l.Extracted.String(), Fruit: known(l.Fruit), Seeds: known(l.Seeds),
			Undeveloped: known(l.Undeveloped), Chilled: l.Chilled.String(), Void: void(l.ID), Notes: l.Notes, Life: lifeOf(r, l.ID)})
	}
	for _, p := range sorted(r.Pots(), func(p registry.Pot) ids.ID { return p.ID }) {
		s.Pots = append(s.Pots, Pot{ID: p.ID.String(), Seeds: known(p.Seeds), Sown: p.Sown.String(), Place: p.Place,
			Void: void(p.ID), Notes: p.Notes, Counts: countsOf(r, p.ID), Life: lifeOf(r, p.ID)})
	}
	for _, p := range sorted(r.Seedlings(), func(p registry.Seedling) ids.ID { return p.ID }) {
		s.Seedlings = append(s.Seedlings, Seedling{ID: p.ID.String(), Pricked: p.Pricked.String(), Place: p.Place, Name: p.Name, Void: void(p.ID), Notes: p.Notes, Life: lifeOf(r, p.ID)})
	}
	return s
}

func sorted[T any](rows []T, id func(T) ids.ID) []T {
	return slices.SortedStableFunc(slices.Values(rows), func(a, b T) int { return ids.Compare(id(a), id(b)) })
}

func known(c registry.Count) *int {
	if !c.Known {
		return nil
	}
	return &c.N
}

func countsOf(r *registry.Registry, pot ids.ID) []Count {
	var counts []Count
	for _, e := range r.EmergenceOf(pot) {
		counts = append(counts, Count{On: e.On.String(), Up: known(e.Up), Died: e.Died.N})
	}
	return counts
}

func lifeOf(r *registry.Registry, id ids.ID) Life {
	var l Life
	if end, ended := r.EndOf(id); ended {
		l.Fate, l.Ended = string(end.How), end.On.String()
	}
	for _, e := range r.DiaryOf(id) {
		if e.What == registry.Noted {
			l.Remarks = append(l.Remarks, Remark{e.On.String(), e.Text})
		}
	}
	return l
}
