package label

import (
	"strconv"
	"strings"

	"pipstake/ids"
	"pipstake/label/symbol"
)

// Seedling is the label of one plant pricked out of a pot.
type Seedling struct {
	ID                       ids.ID
	SeedParent, PollenParent string
	Pricked                  string // ISO 8601, or empty
	Copy                     int    // of a grafted copy its number, from 1; 0 for the seedling itself
}

// Fit sets the seedling label in room r. The error is a *RoomError, a
// *GlyphError or a *ScriptError.
func (s Seedling) Fit(r Room) (*Drawing, error) {
	if err := printable(r, s.SeedParent, s.PollenParent); err != nil {
		return nil, err
	}
	face := simple{face: "seedling", words: strings.Join([]string{s.SeedParent, s.PollenParent, s.Pricked, strconv.Itoa(s.Copy)}, "\n"),
		payload: symbol.Payload{ID: s.ID, Copy: s.Copy},
		facts:   symbol.Facts{SeedParent: s.SeedParent, PollenParent: s.PollenParent},
		rows: func(r Room, h float64) []row {
			event, day := "pricked", s.Pricked
			if s.Copy > 0 {
				event, day = "graft", strconv.Itoa(s.Copy)
			}
			return dated([]row{identifier(s.ID, 0.45*h), parents(r, 0.24*h, s.SeedParent, s.PollenParent)}, 0.18*h, event, day)
		}}
	return fitOrAsk("seedling label", r, face.fit)
}

// BranchTag is tied to a pollinated branch until the fruit is picked.
type BranchTag struct {
	ID                       ids.ID // of the cross
	SeedParent, PollenParent string
	Pollinated               string // ISO 8601, or empty
}

// tieRoom is the width kept free for the hole and the tie, in millimetres.
const tieRoom = 12

// Fit sets the branch tag in room r, with room for a tie at the left. The
// error is a *RoomError, a *GlyphError or a *ScriptError.
func (b BranchTag) Fit(r Room) (*Drawing, error) {
	if err := printable(r, b.SeedParent, b.PollenParent); err != nil {
		return nil, err
	}
	face := simple{face: "branch", words: strings.Join([]string{b.SeedParent, b.PollenParent, b.Pollinated}, "\n"),
		payload: symbol.Payload{ID: b.ID}, tie: tieRoom,
		facts: symbol.Facts{SeedParent: b.SeedParent, PollenParent: b.PollenParent},
		rows: func(r Room, h float64) []row {
			return dated([]row{identifier(b.ID, 0.5*h), parents(r, 0.26*h, b.SeedParent, b.PollenParent)}, 0.2*h, "pollinated", b.Pollinated)
		}}
	return fitOrAsk("branch tag", r, face.fit)
}

// dated adds a row with what happened on a day, where the day is known.
func dated(rows []row, want float64, event, day string) []row {
	if day == "" {
		return rows
	}
	return append(rows, plain(max(want, leastText), leastText, run{Regular, event + " " + day, 1, false}))
}
