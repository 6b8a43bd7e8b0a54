package registry

import (
	"strconv"

	"pipstake/ids"
)

// Count is a number of fruit, seeds or seedlings that may not be known yet.
type Count struct {
	N     int
	Known bool
}

// Known is a count that is known to be n.
func Known(n int) Count { return Count{N: n, Known: true} }

// String is the number, or "" where it is not known.
func (c Count) String() string {
	if !c.Known {
		return ""
	}
	return strconv.Itoa(c.N)
}

// State tells whether a cross, seed lot, pot or seedling is still grown.
type State string

// The states of a cross, seed lot, pot or seedling.
const (
	Live State = ""
	Void State = "void" // given up; its number stays spent
)

// LabelState tells whether a printed label is in use.
type LabelState string

// The states of a label.
const (
	LabelLive LabelState = ""
	Spoilt    LabelState = "spoilt"   // ruined at printing
	Replaced  LabelState = "replaced" // another was printed in its place
)

// Face is a kind of label.
type Face string

// The faces.
const (
	BagFace      Face = "bag"      // on the bag of a seed lot
	StakeFace    Face = "stake"    // in a pot
	SeedlingFace Face = "seedling" // beside one plant
	BranchFace   Face = "branch"   // tied to a branch
)

// Cross is one pollination of a seed parent by a pollen parent in one year.
type Cross struct {
	ID                       ids.ID
	SeedParent, PollenParent string // a name, or an own seedling's identifier
	Pollinated               Date
	Flowers                  Count // pollinated
	State                    State
	Notes                    string
	Source                   string // of seed that was given or bought; "" for a cross of one's own
	Fruit                    Count  // harvested
	Picked                   Date
	Ended                    Date
	Fate                     Fate
}

// Lot is the seed of one cross kept together in one bag.
type Lot struct {
	ID                        ids.ID
	Issued, Extracted         Date
	Fruit, Seeds, Undeveloped Count // Undeveloped is the part of Seeds that is not worth sowing
	Chilled                   Date  // into the cold
	State                     State
	Notes                     string
	Kept                      int // the year until which its seed is kept on purpose; 0 for none
	Ended                     Date
	Fate                      Fate
}

// Pot is a container sown from one seed lot.
type Pot struct {
	ID    ids.ID
	Seeds Count // sown
	Sown  Date
	Place string
	State State
	Notes string
	Ended Date
	Fate  Fate
}

// Seedling is one plant pricked out of a pot.
type Seedling struct {
	ID      ids.ID
	Pricked Date
	State   State
	Notes   string
	Place   string
	Name    string // as a selection
	Ended   Date
	Fate    Fate
}

// Emergence is a count of the seedlings that had come up in a pot by a day.
type Emergence struct {
	Pot   ids.ID
	On    Date
	Up    Count // in all, not since the last count; those that died among them
	Died  Count // of those that came up, in all
	Notes string
}

// Label is a label that was printed.
type Label struct {
	Batch   int // the printing it came from
	Printed Date
	Face    Face
	ID      ids.ID
	Copy    int    // 1 or 2 of a pair of stakes; 0 where there is but one
	Stock   string // what it was printed on
	Sheet   int    // which sheet of that stock, from 1
	Cell    int    // where on the sheet, from 1
	Payload string // what its code carries
	State   LabelState
}
