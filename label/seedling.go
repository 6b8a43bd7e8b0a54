package label

import (
	"strconv"

	"pipstake/ids"
	"pipstake/label/symbol"
)

// Seedling is the label of one plant pricked out of a pot. It lasts longest.
type Seedling struct {
	ID                       ids.ID
	SeedParent, PollenParent string
	Pricked                  string // ISO 8601, or empty
	Copy                     int    // of a grafted copy its number, from 1; 0 for the seedling itself
}

// Fit sets the seedling label by itself in room r; see the function Fit.
func (s Seedling) Fit(r Room) (*Drawing, error) { return fitOne(s, r) }

func (s Seedling) about() about {
	return about{kind: "seedling label", id: s.ID, names: []string{s.SeedParent, s.PollenParent},
		payload: symbol.Payload{ID: s.ID, Copy: s.Copy}, facts: symbol.Facts{SeedParent: s.SeedParent, PollenParent: s.PollenParent}}
}

func (s Seedling) rows(p part, font *Typeface, h float64) []row {
	id := identifier(s.ID, 0.3*h).twoLinesFirst()
	id.worth = 5.8 // the label is small, and lasts longest
	names := group(parents(font, 0.14*h, min(0.1*h, 1.8), s.SeedParent, s.PollenParent))
	switch p {
	case headPart, barePart:
		id.want = max(0.5*h, leastIdentifier)
		if p == barePart && s.Copy == 0 {
			return []row{id, {}}
		}
		return []row{id, s.event(0.25 * h)}
	case footPart:
		names = parents(font, 0.36*h, 1.8, s.SeedParent, s.PollenParent).onOwnLines()
		return []row{names}
	}
	return []row{id, names, s.event(0.16 * h)}
}

// event is the row with the day of pricking out, or the number of a grafted
// copy.
func (s Seedling) event(want float64) row {
	if s.Copy == 0 {
		return dated(want, "pricked", s.Pricked)
	}
	return group(row{want: max(want, leastText), plain: leastText, least: leastText,
		shapes: []shape{{{{Bold, "graft " + strconv.Itoa(s.Copy), 1, flowing}}}}})
}

func (s Seedling) plan(b *batch) *plan { return card{fullText: 0.4, foot: true}.plan(b) }

// dated is a row with what happened on a day, empty where the day is not known.
func dated(want float64, event, day string) row {
	if day == "" {
		return row{}
	}
	return group(row{want: max(want, leastText), plain: leastText, least: leastText, worth: 0.5,
		shapes: []shape{{{{Regular, event + " " + day, 1, flowing}}}, {{{Regular, day, 1, flowing}}}}})
}
