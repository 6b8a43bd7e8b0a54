// Package registry keeps the crosses, seed lots, pots, seedlings and labels of
// a grower in a folder of CSV files that a person may open, read and edit in a
// spreadsheet. It reads hand-edited files, leaves what it does not change byte
// for byte as it was, and commits all of a command's changes or none. It knows
// nothing of label faces, pages or PDF.
package registry

import (
	"errors"
	"time"

	"pipstake/ids"
)

// MarkerFile is the file whose presence makes a folder a registry.
const MarkerFile = "crosses.csv"

var errLater = errors.New("not yet built")

func reason(err error) string { return err.Error() }

// Find gives the folder of the registry: flag where it is not empty, else env,
// else the nearest folder from cwd upward that holds a registry. The error is
// an *AccessError.
func Find(flag, env, cwd string) (dir string, err error) { return "", errLater }

// Init makes a new registry in dir, which is made where it does not exist. The
// error is a *Refusal where one of the files is there already, else an
// *AccessError.
func Init(dir string) error { return errLater }

// Registry holds the tables of a registry.
type Registry struct{ dir string }

// Open reads a registry. Where a command was interrupted while it saved, the
// state before it or after it is read, whole. The error is an *AccessError.
func Open(dir string) (*Registry, error) { return nil, errLater }

// Options of Change.
type Options struct {
	Wait time.Duration // for another command to finish; 0 for ten seconds
}

// Change locks the registry, reads it, lets work change it, and saves all of
// the changes or none. Where the files were changed by something else in the
// meantime, work is called again on what they hold now; it must be able to. An
// error of work comes back as it is, and nothing is saved. Otherwise the error
// is an *AccessError, or a *ChangedError.
func Change(dir string, opt Options, work func(r *Registry) error) error { return errLater }

// Dir is the registry's folder.
func (r *Registry) Dir() string { return r.dir }

// Crosses in the order of their file; rows with a damaged identifier are left
// out here and in the other tables.
func (r *Registry) Crosses() []Cross { return nil }

// Lots in the order of their file.
func (r *Registry) Lots() []Lot { return nil }

// Pots in the order of their file.
func (r *Registry) Pots() []Pot { return nil }

// Seedlings in the order of their file.
func (r *Registry) Seedlings() []Seedling { return nil }

// Emergences in the order of their file.
func (r *Registry) Emergences() []Emergence { return nil }

// Labels in the order of their file.
func (r *Registry) Labels() []Label { return nil }

// Cross finds a cross by its identifier.
func (r *Registry) Cross(id ids.ID) (Cross, bool) { return Cross{}, false }

// Lot finds a seed lot by its identifier.
func (r *Registry) Lot(id ids.ID) (Lot, bool) { return Lot{}, false }

// Pot finds a pot by its identifier.
func (r *Registry) Pot(id ids.ID) (Pot, bool) { return Pot{}, false }

// Seedling finds a seedling by its identifier.
func (r *Registry) Seedling(id ids.ID) (Seedling, bool) { return Seedling{}, false }

// LotsOf gives the seed lots of a cross in the order of their letters.
func (r *Registry) LotsOf(cross ids.ID) []Lot { return nil }

// PotsOf gives the pots of a seed lot in the order of their numbers.
func (r *Registry) PotsOf(lot ids.ID) []Pot { return nil }

// SeedlingsOf gives the seedlings of a pot in the order of their letters.
func (r *Registry) SeedlingsOf(pot ids.ID) []Seedling { return nil }

// LabelsOf gives the labels that were printed for an identifier, in the order
// of their file; those of its children are not among them.
func (r *Registry) LabelsOf(id ids.ID) []Label { return nil }

// EmergenceOf gives the counts of a pot by their dates.
func (r *Registry) EmergenceOf(pot ids.ID) []Emergence { return nil }

// Status tells what the registry knows of an identifier.
type Status int

// The statuses of an identifier.
const (
	Unknown Status = iota // no row of its own
	Issued                // and in use
	Voided                // itself, or one of those above it
)

// Status of an identifier.
func (r *Registry) Status(id ids.ID) Status { return Unknown }

// Damage gives the cells that cannot be read.
func (r *Registry) Damage() []Finding { return nil }

// LeftToSow is the number of seeds of a lot that may still be sown: seeds less
// undeveloped ones less those in pots that are not void. It is not known before
// extraction. The error is a *Refusal for a lot that does not exist, and a
// *DamageError where a cell that it needs cannot be read.
func (r *Registry) LeftToSow(lot ids.ID) (Count, error) { return Count{}, errLater }

// Check gives everything in the files that needs a person's eye, by file and
// row.
func (r *Registry) Check() []Finding { return nil }

// NewCross is a cross to be registered.
type NewCross struct {
	SeedParent, PollenParent string // a name, or an own seedling's identifier
	Pollinated               Date   // may be unknown
	Year                     int    // of the identifier; 0 for the year of pollination
	Flowers                  Count
	Notes                    string
}

// AddCross registers a cross and issues its identifier.
func (r *Registry) AddCross(c NewCross) (Cross, error) { return Cross{}, errLater }

// AddLots issues n seed lots of a cross.
func (r *Registry) AddLots(cross ids.ID, n int, issued Date) ([]Lot, error) { return nil, errLater }

// Extraction is what was found in the fruit of a seed lot. What is not known
// leaves what was recorded before.
type Extraction struct {
	Fruit, Seeds, Undeveloped Count
	On                        Date
	Correct                   bool // replaces what was recorded
}

// Extract records what was found in the fruit of a seed lot.
func (r *Registry) Extract(lot ids.ID, e Extraction) (Lot, error) { return Lot{}, errLater }

// Chilling says when a seed lot went into the cold.
type Chilling struct {
	On      Date
	Correct bool // replaces what was recorded
}

// Chill records that a seed lot went into the cold.
func (r *Registry) Chill(lot ids.ID, c Chilling) (Lot, error) { return Lot{}, errLater }

// Sowing is one day's sowing from a seed lot.
type Sowing struct {
	Seeds []int // in each pot
	On    Date
	Place string
}

// Sow issues the pots of a sowing.
func (r *Registry) Sow(lot ids.ID, s Sowing) ([]Pot, error) { return nil, errLater }

// AddEmergence records that up seedlings of a pot had come up by a day, in all.
func (r *Registry) AddEmergence(pot ids.ID, on Date, up int) (Emergence, error) {
	return Emergence{}, errLater
}

// AddSeedlings issues n seedlings pricked out of a pot.
func (r *Registry) AddSeedlings(pot ids.ID, n int, on Date) ([]Seedling, error) {
	return nil, errLater
}

// Void gives an identifier up; its number stays spent. The note, where there
// is one, is added to the row's notes. It is refused while anything below is
// live.
func (r *Registry) Void(id ids.ID, note string) error { return errLater }

// Print is a label that is to be printed.
type Print struct {
	Face    Face
	ID      ids.ID
	Copy    int // 1 or 2 of a pair of stakes, else 0
	Stock   string
	Sheet   int // of that stock, from 1
	Cell    int // on the sheet, from 1
	Payload string
}

// AddLabels records a printing and gives its batch number, which is never used
// again.
func (r *Registry) AddLabels(printed Date, prints []Print) (batch int, err error) {
	return 0, errLater
}

// RetireLabels gives the live labels that match another state, and counts them.
func (r *Registry) RetireLabels(match func(Label) bool, to LabelState) int { return 0 }

// LastSheet is the highest sheet number recorded for a stock, or 0.
func (r *Registry) LastSheet(stock string) int { return 0 }

// Missing gives the labels that should exist and do not: a bag label for every
// live seed lot that still holds seed, two stakes for every live pot, a label
// for every live seedling. Only Face, ID and Copy are filled in.
func (r *Registry) Missing() []Print { return nil }
