package label

import (
	"pipstake/ids"
	"pipstake/label/symbol"
)

// Seedling is the label of one plant pricked out of a pot. It lasts longest.
type Seedling struct {
	ID                       ids.ID
	SeedParent, PollenParent string
	Pricked                  string // ISO 8601, or empty
}

// Fit sets the seedling label by itself in room r; see the function Fit.
func (s Seedling) Fit(r Room) (*Drawing, error) { return fitOne(s, r) }

func (s Seedling) about() about {
	return about{kind: "seedling label", id: s.ID, names: []string{s.SeedParent, s.PollenParent},
		payload: symbol.Payload{ID: s.ID}, facts: symbol.Facts{SeedParent: s.SeedParent, PollenParent: s.PollenParent}}
}

func (s Seedling) rows(p part, r Room, h float64) []row {
	id := identifier(s.ID, 0.3*h, 0).twoLinesFirst()
	names := group(parents(r, 0.14*h, min(0.1*h, 1.8), s.SeedParent, s.PollenParent))
	day := dated(0.16*h, "pricked", s.Pricked)
	switch p {
	case headPart, barePart:
		id.want = max(0.5*h, leastIdentifier)
		if p == barePart {
			return []row{id}
		}
		return []row{id, dated(0.25*h, "pricked", s.Pricked)}
	case footPart:
		names = parents(r, 0.36*h, 1.5, s.SeedParent, s.PollenParent).onOwnLines()
		return []row{names}
	}
	return []row{id, names, day}
}

func (s Seedling) plan(b *batch) *plan { return card{fullText: 0.4, foot: true}.plan(b) }

// dated is a row with what happened on a day, empty where the day is not known.
func dated(want float64, event, day string) row {
	if day == "" {
		return row{}
	}
	return group(row{want: max(want, leastText), plain: leastText, least: leastText,
		shapes: []shape{{{{Regular, event + " " + day, 1, flowing}}}, {{{Regular, day, 1, flowing}}}}})
}
